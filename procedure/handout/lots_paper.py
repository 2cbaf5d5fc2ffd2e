"""The stories of lots as blocks: the sum of all, a line a lot, then each lot's steps."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import deadly_words
from procedure.handout.lot_stories import METRIC, Account, Story, account, grams, stories, where
from procedure.paper import in_text
from procedure.paper.blocks import (
    Block,
    Heading,
    Paper,
    Para,
    StepCard,
    StepCards,
    table,
)
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed


def paper(plan: Judged, voice: Voice = METRIC, only: str = "") -> Paper:
    """All stories in the units and the spelling of a voice; what can kill comes first.

    ``only`` names one lot, whose story is told alone. Raises ``KeyError`` where no
    finished lot has that name.
    """
    told = stories(plan, voice)
    if only and only not in (story.lot for story in told):
        raise KeyError(only)
    head: list[Block] = [Para((line,), tone="warning") for line in deadly_words(plan.study)]
    if only:
        told = [story for story in told if story.lot == only]
    elif not told:
        head.append(Para(("No lot of fibre is left.",)))
    else:
        head += [Para(line) for line in _sums(account(plan, voice), voice)]
    if len(told) > 1:
        head.append(_table(told, voice))
    for story in told:
        head += _story(plan, story, voice)
    title: Phrase = (Words(plan.model.title.text),) if plan.model.title else ()
    return Paper(title, voice, "handout", tuple(head), ())


def report(plan: Judged, only: str = "", voice: Voice = METRIC) -> str:
    """The paper as text for a terminal. Raises ``KeyError`` as :func:`paper` does."""
    return in_text.page(paper(plan, voice, only))


def _sums(sums: Account, voice: Voice) -> Iterator[Phrase]:
    """What went in, what came out, and whether the two agree.

    Where no lot is split or joined there is nothing to agree, unless a weight is not known.
    """
    went_in: list[str | Words] = []
    for name, weight in sums.declared:
        said = f" {grams(weight, voice)}" if weight is not None else ", of no stated weight"
        went_in += [", " if went_in else "", Words(name), said]
    lots = f"{sums.lots} lot{'s' if sums.lots != 1 else ''}"
    weighing = f", {grams(sums.finished, voice)} together" if sums.finished is not None else ""
    yield ("Went in: ", *(went_in or ["no fibre"]), f". Came out: {lots}{weighing}.")
    if sums.adds_up and not sums.divided:
        return
    if sums.adds_up:
        yield ("Splits and joins add up.",)
    elif sums.adds_up is None:
        names = ", ".join(sums.unknown) or "what went in"
        yield ("They cannot be added up: the weight of ", Words(names), " is not known.")
    else:
        yield ("Splits and joins do not add up.",)
        yield from ((Words(line),) for line in sums.wrong)


def _table(told: list[Story], voice: Voice) -> Block:
    rows: list[tuple[Phrase, ...]] = [
        (
            (Words(story.lot),),
            (grams(story.weight, voice) if story.weight is not None else "?",),
            (Words(story.short),),
        )
        for story in told
    ]
    return table((), ((), (), ()), rows, (0.2, 0.2, 0.6))


def _story(plan: Judged, story: Story, voice: Voice) -> Iterator[Block]:
    weight = f"{grams(story.weight, voice)} of " if story.weight is not None else ""
    before = f"; before that, given {listed(story.before)}" if story.before else ""
    yield Heading((Words(story.lot), f": {weight}", story.fibre, f", {story.made}{before}"))
    yield StepCards(
        tuple(
            StepCard(str(at), (Words(one.said), f" ({where(plan, one.node, one.line)})"))
            for at, one in enumerate(story.events, 1)
        )
    )
