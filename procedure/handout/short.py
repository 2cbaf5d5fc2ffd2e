"""The short handout: all that a stranger needs for a method, on two pages.

What it leaves out (blanks for everything, amounts for other weights, the chart) is in the
long one (:mod:`procedure.handout.as_paper`).
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from procedure.facts.handling import hazards
from procedure.handout import fixed_phrases as say
from procedure.handout.as_paper import draft_frame, recalculator, signs
from procedure.handout.before import Before
from procedure.handout.book_words import colours_named
from procedure.handout.cautions import CHILDREN, Danger, cautions, danger, met
from procedure.handout.contents import Contents, contents, telling_of
from procedure.handout.first_aid import SCALDS, scalds, whom_to_call
from procedure.handout.lot_stories import finished
from procedure.handout.needs import ListedNeed, Needs
from procedure.handout.nights import noted
from procedure.handout.numbered_steps import tell
from procedure.handout.short_steps import Short
from procedure.handout.spoken_names import SETTLE
from procedure.handout.stages import stages
from procedure.handout.swatches import paler, swatches, without_swatch
from procedure.handout.ways_out import ways_out
from procedure.handout.what_goes_wrong import table_of, troubles_of
from procedure.paper.blocks import (
    Block,
    Cell,
    Heading,
    Listing,
    Paper,
    PaperSection,
    Para,
    StepCards,
    Table,
    table,
)
from procedure.paper.measures import NARROW, Voice
from procedure.paper.pieces import AsWritten, Phrase, Words, joined, phrase, sentence, sentences
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.vocabulary.first_aid import first_aid

_CHAPTERS = ("I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X", "XI")
MOST_DANGERS = 5
SWATCHES_ACROSS = 3
# A danger is told in about so many letters; clauses that say less important things fall out.
LONGEST_DANGER = 230
_GRAVEST = ("GHS06", "GHS08", "GHS05", "GHS01", "GHS03", "GHS02", "GHS04", "GHS09", "GHS07")
FIRST = (
    "Your local rules and the suppliers' safety data sheets come before this paper; ask those who "
    "are licensed about disposal."
)
SCALDS_SOURCE = "Scalds: Kent Fire and Rescue Service."
IF_HURT = "If somebody feels ill, ask a poison centre or a doctor, and take the label with you."
POTS = "Never use dye pots and tools for food again; mark them, and label jars."
APPROXIMATE = "Colours are approximate; yours will differ."


@dataclass(frozen=True, slots=True)
class Body:
    """What of the paper holds amounts that go with the fibre."""

    needs: tuple[Block, ...]
    steps: tuple[Block, ...]


def paper(plan: Judged, voice: Voice, worked_out: str = "") -> Paper:
    """The short handout of a plan, ready for any printer."""
    made = contents(plan, voice, worked_out, make=body)
    assert isinstance(made.short, Body)
    found = list(dangers(plan))
    aid = ("help", "First aid", tuple(_first_aid(plan)))
    # What to do first is always right below what harms: who looks for it has no time to search.
    parts: tuple[tuple[str, str, tuple[Block, ...]], ...] = (
        aid,
        ("warned", say.NOTES, tuple(_warned(made))),
        ("needs", say.NEEDS, made.short.needs),
        ("steps", say.STEPS, (*_days(made.before), *_steps(made))),
        ("wrong", "If it goes wrong", tuple(table_of(plan))),
        ("away", "Getting rid of the baths", tuple(_away(plan))),
        ("sources", "Sources", tuple(_sources(plan, made, found))),
    )
    return Paper(
        title=(Words(made.title),),
        voice=voice,
        look="handout",
        head=(*_head(plan, made), *_dangers(plan, found)),
        sections=tuple(
            PaperSection(role, (title,), blocks) for role, title, blocks in parts if blocks
        ),
        stamp=say.DRAFT if made.stamped else "",
        size="short",
    )


# ------------------------------------------------------------ head and dangers


def _head(plan: Judged, made: Contents) -> Iterator[Block]:
    yield from (Para((line,), "warning") for line in made.deadly)
    if made.unchecked:
        yield Para((made.unchecked,), "warning")
    if made.makes:
        yield Para(say.made_of(made), "strong")
    if made.worked_out:
        yield Para((Words(made.worked_out),), "strong")
        if made.work.lots:
            yield Para(sentence("at this weight: ", made.work.lots))
    yield Para(sentences(*_makers(made), _time(made)), "quiet")
    yield from (Para((Words(remark),)) for remark in made.remarks)
    shown = swatches(plan)
    if shown:
        across = min(len(shown), SWATCHES_ACROSS)
        cells = [Cell((), swatch=one) for one in shown]
        cells += [Cell(())] * (-len(cells) % across)
        rows = tuple(tuple(cells[at : at + across]) for at in range(0, len(cells), across))
        yield Table((), (), rows, (1.0,) * across, "colours")
    bare = _without_swatch(plan, bool(shown))
    if bare:
        yield Para(bare, "quiet")
    if made.fibre is not None and not made.stamped:
        yield recalculator(made)
    if made.draft:
        yield draft_frame(made)


def _without_swatch(plan: Judged, shown: bool) -> Phrase:
    """What to expect of the lots without a swatch; where no lot has one, and its writer names a
    colour, that is enough."""
    bare = without_swatch(plan)
    if shown or any(paler(plan, lot) for lot in finished(plan)):
        return sentences(*(sentence(one) for one in bare))
    said_by = (one.text for one in (plan.model.title, plan.model.makes) if one is not None)
    if not bare or colours_named(" ".join(said_by)):
        return ()
    return ("What colour it will have is not known beforehand.",)


def _makers(made: Contents) -> Iterator[Phrase]:
    audience = joined((Words(word),) for word in made.audience)
    yield say.makers(made, phrase("for ", audience) if audience else ())


def _time(made: Contents) -> Phrase:
    """How long it takes, for whom and in which hours; the rest is on the long handout."""
    planned = made.before
    whose = (f"Planned for {planned.whose}.",) if planned.whose else ()
    return (AsWritten(made.voice.spelt(" ".join((*planned.said[:1], *whose)))),)


def _days(planned: Before) -> Iterator[Block]:
    """When to be there, at the head of the steps, where there are several days."""
    if len(planned.days) > 1:
        yield Listing(tuple((day.said,) for day in planned.days), role="days")
        yield from (Para((text,), "warning") for text in planned.nights)


def _steps(made: Contents) -> Iterator[Block]:
    """The steps, with what is said of the nights between them."""
    assert isinstance(made.short, Body)
    for block in made.short.steps:
        at_steps = made.before.at_steps
        yield StepCards(noted(block.cards, at_steps)) if isinstance(block, StepCards) else block


def dangers(plan: Judged) -> Iterator[Danger]:
    """What is used and harms, the gravest first, each trade name once."""
    found: dict[str, Danger] = {}
    for material in met(plan).values():
        one = danger(material, hazards(material))
        if one is not None:
            found.setdefault(one.called, one)
    yield from sorted(found.values(), key=_gravity)


def _gravity(one: Danger) -> tuple[int, int]:
    text = " ".join((*one.plain, *one.remarks)).lower()
    signal = 0 if one.signal == "Danger" or _kills(text) else 1 if one.signal else 2
    return signal, min((_GRAVEST.index(code) for code in one.pictograms), default=9)


def _kills(text: str) -> bool:
    return any(word in text for word in ("deadly", "poisonous", "kills", "fatal", "cancer"))


def _dangers(plan: Judged, found: list[Danger]) -> Iterator[Block]:
    all_of_it = cautions(plan)
    shown = found[:MOST_DANGERS] if len(found) <= MOST_DANGERS else found[: MOST_DANGERS - 1]
    alike: dict[tuple[tuple[str, ...], str], list[str]] = {}
    for one in shown:
        alike.setdefault((one.pictograms, briefly(one)), []).append(one.called)
    rows = [
        (Cell((joined((name,) for name in names),), signs(codes)), Cell(((said,),)))
        for (codes, said), names in alike.items()
    ]
    rest = found[len(shown) :]
    if rest:
        codes = dict.fromkeys(code for one in rest for code in one.pictograms)
        said = "; ".join(f"{one.called}: {_least(one)}" for one in rest)
        rows.append((Cell((("also",),), signs(tuple(codes))), Cell(((f"{said}.",),))))
    if rows:
        yield Table(("Dangers",), (), tuple(rows), (1, 3.6), "dangers")
    children = any(text == CHILDREN for one in all_of_it.general for text in one)
    apart = [one for one in all_of_it.general if "must never meet" in str(one)]
    yield Para(sentences(*apart, all_of_it.wear, (CHILDREN,) if children else ()), "strong")
    yield Para((f"{FIRST} {POTS}",), "quiet")


def briefly(one: Danger) -> str:
    """What a thing does in one or two lines: its plain words, then the gravest of the rest."""
    clauses = [clause for said in (*one.plain, *one.remarks) for clause in said.split("; ")]
    if any("poison" in clause for clause in one.plain):  # said already, and more plainly
        clauses = [clause for clause in clauses if not clause.endswith(", which is poisonous")]
    kept: list[str] = []
    grave = ("child", "cancer", "burn", "poison", "mistaken", "die", "kill", "fatal", "fire")
    for clause in sorted(clauses, key=lambda text: not any(word in text for word in grave)):
        if sum(map(len, kept)) + len(clause) <= LONGEST_DANGER or not kept:
            kept.append(clause)
    said = "; ".join(clause for clause in clauses if clause in kept)
    return f"{said[:1].upper()}{said[1:]}."


def _least(one: Danger) -> str:
    return next((said.split("; ")[0] for said in (*one.plain, *one.remarks)), "")


# ------------------------------------------------------------ what depends on the weight


def body(plan: Judged, voice: Voice, needs: Needs) -> Body:
    """What of the paper goes with the weight of the fibre."""
    telling = replace(telling_of(plan, voice), brief=True)
    told = tell(telling)
    short = Short(telling)
    blocks: list[Block] = []
    for stage in stages(telling, told):
        if stage.title:
            blocks.append(Heading(stage.title))
        if stage.remark:
            blocks.append(Para(stage.remark, "quiet", opens=True))
        blocks.append(StepCards(short.cards(stage.steps)))
    return Body(tuple(_needs(needs)), tuple(blocks))


def _needs(needs: Needs) -> Iterator[Block]:
    every = (*needs.fibre, *needs.materials)
    rows: list[tuple[Phrase, ...]] = [(_named(one), one.amount, _note(one)) for one in every]
    heads: tuple[Phrase, ...] = (("what",), ("how much",), ("what about it",))
    made = table((), heads, rows, (1.3, 1, 3), "needs")
    tools = (Cell((("pots and tools",),)), Cell(()), Cell(_tools(needs)))
    yield replace(made, rows=(*made.rows, tools))


def _tools(needs: Needs) -> tuple[Phrase, ...]:
    """Pots and tools, those that are alike together: in one line, or where they are many in a
    line for each sort."""
    alike: dict[Phrase, list[Phrase]] = {}
    for one in needs.equipment:
        alike.setdefault(_described(one), []).append(one.name)
    sorts = []
    for what, names in alike.items():
        each = "each: " if len(names) > 1 else ""
        sorts.append(phrase(joined(names), (" (", each, *what, ")") if what else ()))
    if len(needs.equipment) <= MOST_IN_A_LINE:
        said = joined(sorts, between="; ", word="and")
        return (phrase(said, ". " if said else "", needs.besides),)
    return (*(phrase(each, ".") for each in sorts), needs.besides)


def _named(one: ListedNeed) -> Phrase:
    """A thing by its real name; the writer's own is in the note beside it."""
    return one.real or one.name


def _note(one: ListedNeed) -> Phrase:
    """The writer's own name, what it is and how it is written; nothing that its name says."""
    own: Phrase = ()
    if one.real and _text(one.name) not in _text(one.real):
        own = phrase("called “", one.name, "”")
    about = () if f"({_text(one.about)})" in _text(one.real).replace(NARROW, " ") else one.about
    parts = [part for part in (own, about, one.remark) if part]
    return (
        phrase(parts[0], *(piece for part in parts[1:] for piece in ("; ", *part))) if parts else ()
    )


def _text(said: Phrase) -> str:
    return "".join(
        piece if isinstance(piece, str) else getattr(piece, "text", "") for piece in said
    )


def _described(one: ListedNeed) -> Phrase:
    """How large a pot is and what it is; nothing that its name says."""
    same = _text(one.what) == _text(one.name)
    inside = [part for part in (one.amount, () if same else one.what) if part]
    return phrase(inside[0], " " if len(inside) > 1 else "", *inside[1:]) if inside else ()


# ------------------------------------------------------------ afterwards


def _warned(made: Contents) -> Iterator[Block]:
    """What the checker warns of: each sentence once, however many steps it is said of."""
    every = [one for one in made.findings if one.level == "warning" and not one.allowed]
    warned = [one for one in every if one.rule not in FOR_THE_WRITER]
    said = dict.fromkeys((one.sentence, one.remedy) for one in warned)
    items = [sentences(*((Words(text),) for text in both if text)) for both in said]
    if len(warned) < len(every):
        items.append((OTHERS,))
    if items:
        yield Listing(tuple(items))
    if any(not remedy for _, remedy in said):
        yield Para((SETTLE,))


# What is amiss with the text alone, which whoever works from the paper cannot put right.
FOR_THE_WRITER = frozenset(
    ("never-used", "unknown-word", "part-unstated", "water-declared", "more-ready-than-used")
)
OTHERS = "The checker has more to say to whoever wrote this method."
# So many pots and tools, and no more, are told in one line.
MOST_IN_A_LINE = 6


def _away(plan: Judged) -> Iterator[Block]:
    lines = tuple(ways_out(plan))
    if lines:
        yield Listing(lines)
        yield Para((say.ASK_FIRST,), "quiet")


def _first_aid(plan: Judged) -> Iterator[Block]:
    codes = [entry.name for material in met(plan).values() for entry in hazards(material)]
    said = [f"{one.route}: {one.plain[:1].lower()}{one.plain[1:]}" for one in first_aid(codes)]
    lines = tuple((f"{line[:1].upper()}{line[1:]}",) for line in said)
    yield Listing((*lines, *(((SCALDS,),) if scalds(plan) else ()), (IF_HURT,), whom_to_call()))


def _sources(plan: Judged, made: Contents, found: list[Danger]) -> Iterator[Block]:
    said = [*say.sources(made)]
    cited = dict.fromkeys(one.source for one in troubles_of(plan))
    if cited:
        said.append((f"What goes wrong: {'; '.join(by_work(cited))}.",))
    if swatches(plan):
        said.append((APPROXIMATE,))
    codes = [entry.name for material in met(plan).values() for entry in hazards(material)]
    if any("1272/2008" in source for one in first_aid(codes) for source in one.sources):
        said.append(("First aid: statements of Regulation (EC) No 1272/2008, in plain words.",))
    if scalds(plan):
        said.append((SCALDS_SOURCE,))
    yield Para(sentences(*said), "quiet")


def by_work(cited: Iterable[str]) -> tuple[str, ...]:
    """Citations with those of one work together: ``Mairet 1938, ch. II and V``."""
    places: dict[str, dict[str, None]] = {}
    for one in (part for source in cited for part in source.split("; ")):
        work, _, place = re.sub(r" \(.*\)$", "", one).partition(", ch. ")
        places.setdefault(work, {}).update({place: None} if place else {})
    # Common practice is named last, where somebody looks for a book.
    ordered = sorted(places, key=lambda work: not places[work])
    return tuple(
        f"{work}, ch. {listed(sorted(places[work], key=_chapter))}" if places[work] else work
        for work in ordered
    )


def _chapter(roman: str) -> int:
    return _CHAPTERS.index(roman) if roman in _CHAPTERS else len(_CHAPTERS)
