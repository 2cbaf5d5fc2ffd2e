"""The record sheet: every blank that the record of a batch asks for, in its order and names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from procedure.batch.from_plan import planned_batch
from procedure.batch.side_of_form import PlannedBatch, PlannedUse
from procedure.facts.handling import deadly_words
from procedure.handout import fixed_phrases as say
from procedure.handout.contents import telling_of
from procedure.handout.first_aid import aid_section, what_to_do_first
from procedure.handout.numbered_steps import NumberedStep, gap_cards, tell
from procedure.handout.phrasebook import Telling
from procedure.handout.stages import stages
from procedure.handout.step_titles import in_short
from procedure.paper.blocks import (
    Block,
    Heading,
    Listing,
    Paper,
    PaperSection,
    Para,
    StepCard,
    StepCards,
)
from procedure.paper.measures import Voice, unit_of
from procedure.paper.pieces import Blank, Phrase, Words, phrase, spaced
from procedure.pipeline import Judged


def paper(plan: Judged, voice: Voice) -> Paper:
    """The record sheet of a plan."""
    telling = replace(telling_of(plan, voice), apart=True)
    blocks: list[Block] = []
    for stage in stages(telling, tell(telling)):
        if stage.title:
            blocks.append(Heading(stage.title))
        blocks.append(StepCards(tuple(_cards(plan, stage.steps))))
    title = plan.model.title.text if plan.model.title else "Untitled procedure"
    version = plan.model.version or plan.model.revised
    asked = planned_batch(plan)
    written = phrase("Method of ", Words(version.text), ".") if version is not None else ()
    head = tuple(Para(line) for line in _head())
    warnings = tuple(Para((line,), "warning") for line in deadly_words(plan.study))
    quiet = (Para(written, "quiet"),) if written else ()
    return Paper(
        title=phrase("Record: ", Words(title)),
        voice=voice,
        look="handout",
        head=(*warnings, *head, *quiet),
        sections=(
            *_used(telling, asked),
            PaperSection("steps", (say.STEPS,), tuple(blocks)),
            *_results(asked, voice),
            *aid_section(what_to_do_first(plan), numbers=False),
        ),
        stamp=say.DRAFT if any(found.level == "error" for found in plan.findings) else "",
        size="record",
    )


def _line(*blanks: Blank, name: str = "") -> Phrase:
    """Blanks on one line, each after its word, perhaps all of one thing."""
    made: Phrase = (Words(name), ": ") if name else ()
    for at, blank in enumerate(blanks):
        made = phrase(made, "  " if at else "", f"{blank.what} " if blank.what else "", blank)
    return made


def _head() -> Iterator[Phrase]:
    yield _line(Blank("batch"))
    yield _line(*(Blank(word) for word in ("day", "place", "by", "weather")))
    yield _line(*(Blank(word) for word in ("source", "hardness", "pH")), name="water")


def _used(telling: Telling, asked: PlannedBatch) -> Iterator[PaperSection]:
    lots = tuple(_line(_weight(telling.voice, lot), name=spaced(lot.name)) for lot in asked.lots)
    if lots:
        yield PaperSection("fibre", ("Fibre",), (Listing(lots),))
    materials = tuple(
        _line(
            *(
                Blank(word)
                for word in ("supplier", *(("harvested", "from") if material.grown else ()))
            ),
            name=telling.in_full(material.name, spaced(material.name)),
        )
        for material in asked.materials
    )
    if materials:
        yield PaperSection("materials", ("Materials",), (Listing(materials),))


def _weight(voice: Voice, lot: PlannedUse) -> Blank:
    """The blank of a lot's weight, with the weight that the procedure has."""
    if lot.low is None or lot.high is None:
        return Blank("", voice.mass_unit)
    planned = voice.amount("mass", lot.low, lot.high)
    return _with_plan(Blank("", unit_of(planned) or voice.mass_unit, planned=planned))


def _results(asked: PlannedBatch, voice: Voice) -> Iterator[PaperSection]:
    results = tuple(
        _line(
            Blank("colour"),
            Blank("weight", voice.mass_unit),
            Blank("evenness"),
            Blank("hand"),
            name=spaced(lot),
        )
        for lot in asked.results
    )
    if results:
        yield PaperSection("results", ("Results",), (Listing(results),))


def _cards(plan: Judged, steps: tuple[NumberedStep, ...]) -> Iterator[StepCard]:
    for told in steps:
        yield from gap_cards(told.before)
        yield _card(plan, told)
        yield from gap_cards(told.behind)


def _card(plan: Judged, told: NumberedStep) -> StepCard:
    return StepCard(
        number=told.number,
        text=_title(plan, told),
        blanks=tuple(_with_plan(one) for one in told.blanks),
        boxes=told.boxes,
        inner=tuple(_cards(plan, told.inner)),
    )


def _with_plan(blank: Blank) -> Blank:
    """A blank with what was planned after it, since no sentence beside it says so."""
    if not blank.planned:
        return blank
    return replace(blank, unit=f"{blank.unit} planned {blank.planned}".strip())


def _title(plan: Judged, told: NumberedStep) -> Phrase:
    """What the step is, in its first words."""
    node = plan.flow.nodes[told.node]
    return told.text if told.inner else in_short(telling_of(plan, Voice("metric")), node)
