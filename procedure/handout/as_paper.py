"""The contents of a handout as a paper: which blocks it has, in which order."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.findings import Finding
from procedure.handout import fixed_phrases as say
from procedure.handout.cautions import Danger
from procedure.handout.contents import Contents
from procedure.handout.first_aid import whom_to_call
from procedure.handout.needs import ListedNeed
from procedure.handout.nights import noted
from procedure.handout.numbered_steps import NumberedStep, gap_cards
from procedure.handout.spoken_names import SETTLE
from procedure.paper.blocks import (
    Block,
    Cell,
    Frame,
    Heading,
    Listing,
    Paper,
    PaperSection,
    Para,
    Picture,
    Recalculator,
    StepCard,
    StepCards,
    Table,
    table,
)
from procedure.paper.hazard_signs import sign
from procedure.paper.kitchen import for_script
from procedure.paper.measures import Scale, Voice, scale_of
from procedure.paper.pieces import Figure, Phrase, Words, phrase, plain_text

# Weights that the box can be filled in by, with the system that offers each first.
_BOX_UNITS = {"metric": ("g", "kg"), "us": ("oz", "lb"), "imperial": ("oz", "lb")}
NEED_WIDTHS = (1.1, 2.2, 1.6, 1.3)


def paper(made: Contents) -> Paper:
    """The handout as a paper, ready for any printer."""
    parts: tuple[tuple[str, str, tuple[Block, ...]], ...] = (
        ("warned", say.NOTES, tuple(_noted(made))),
        ("cautions", say.CAUTIONS, tuple(_cautions(made))),
        ("needs", say.NEEDS, tuple(_needs(made))),
        ("before", say.BEFORE, tuple(_before(made))),
        ("steps", say.STEPS, (StepCards(noted(_cards(made.work.steps), made.before.at_steps)),)),
        ("chart", say.CHART, tuple(_chart(made))),
        ("gathering", say.GATHERING, tuple(_gathering(made))),
        ("wrong", say.WRONG, made.troubles),
        ("sources", say.SOURCES, (Listing(tuple(say.sources(made))),)),
    )
    sections = [
        PaperSection(role, (title,), blocks, on_new_page=role == "chart" and bool(made.sheets))
        for role, title, blocks in parts
        if blocks
    ]
    return Paper(
        title=(Words(made.title),),
        voice=made.voice,
        look="handout",
        head=tuple(_head(made)),
        sections=tuple(sections),
        stamp=say.DRAFT if made.stamped else "",
        index=True,
    )


def _head(made: Contents) -> Iterator[Block]:
    yield from (Para((line,), "warning") for line in made.deadly)
    if made.unchecked:
        yield Para((made.unchecked,), "warning")
    yield from (Para(line) for line in say.headlines(made))
    yield from (Para((Words(remark),), "quiet") for remark in made.remarks)
    if made.work.fibre:
        yield Para(("Worked out for ", *made.work.fibre, " of fibre."), "strong")
    if made.worked_out:
        yield Para((Words(made.worked_out),), "strong")
    if made.fibre is not None and not made.stamped:  # nobody should work from a draft
        yield recalculator(made)
    if made.draft:
        yield draft_frame(made)


def draft_frame(made: Contents) -> Frame:
    """What must be put right before anybody works from a draft."""
    items = tuple(_finding(made, error) for error in made.errors)
    return Frame(
        (say.errors_title(len(items)),),
        (Para((say.ERRORS,)), Listing(items, numbered=True)),
        "errors",
    )


def _finding(made: Contents, found: Finding) -> Phrase:
    file = "" if found.key == made.key else f"{found.file}, "
    said: list[str | Words] = [Words(file), "line" if file else "Line", Words(f" {found.line}: ")]
    said.append(Words(found.sentence))
    if found.remedy:
        said += [" ", Words(found.remedy)]
    if found.allowed:
        said += [" The writer's reason: ", Words(found.allowed)]
    return phrase(said)


def _cautions(made: Contents) -> Iterator[Block]:
    cautions = made.cautions
    yield Para((cautions.first,), "strong")
    if cautions.wear:
        yield Para(cautions.wear)
    if cautions.dangers:
        rows = tuple(_danger(one) for one in cautions.dangers)
        columns = tuple((column,) for column in say.DANGER_COLUMNS)
        yield Table((say.DANGERS,), columns, rows, (1, 3), "dangers")
    yield Listing((*cautions.general, whom_to_call()))


def _danger(one: Danger) -> tuple[Cell, ...]:
    name: list[Phrase] = [(one.called,)]
    if one.name != one.called:
        name.append(phrase("“", Words(one.name), "”"))
    said: list[Phrase] = [(say.plainly(one),)] if say.plainly(one) else []
    said += [(say.statements(one),)] if one.statements else []
    said += [(f"First aid. {' '.join(one.first_aid)}",)] if one.first_aid else []
    return Cell(tuple(name), signs(one.pictograms)), Cell(tuple(said))


def signs(codes: tuple[str, ...]) -> tuple[Picture, ...]:
    """GHS symbols as pictures; none where they are not to be had."""
    return tuple(made for code in codes if (made := sign(code)) is not None)


def _needs(made: Contents) -> Iterator[Block]:
    needs = made.work.needs
    for caption, lines, columns in (
        (say.FIBRE, needs.fibre, say.FIBRE_COLUMNS),
        (say.EQUIPMENT, needs.equipment, say.EQUIPMENT_COLUMNS),
        (say.MATERIALS, needs.materials, say.MATERIAL_COLUMNS),
    ):
        if lines:
            heads = tuple((column,) for column in columns)
            yield table((caption,), heads, [_need(one) for one in lines], NEED_WIDTHS, "needs")
    if needs.equipment:
        yield Para((say.MARK,))
    yield Para(needs.besides)


def _need(need: ListedNeed) -> tuple[Phrase, ...]:
    return need.name, need.what, need.amount, need.remark


def _before(made: Contents) -> Iterator[Block]:
    before = made.before
    yield from (Para(line) for line in before.sentences)
    if len(before.days) > 1:
        yield Listing(tuple((day.said,) for day in before.days), role="days")
        yield from (Para((text,), "warning") for text in before.nights)
    yield Heading((say.DAY_BEFORE,))
    yield from (Para(line) for line in before.day_before)


def _cards(steps: tuple[NumberedStep, ...], asked: bool = True) -> tuple[StepCard, ...]:
    """The cards of steps. What is told once for several lots is written down for each of them
    after it, so its own steps have no blanks."""
    return tuple(card for step in steps for card in _card_of(step, asked))


def _card_of(step: NumberedStep, asked: bool) -> Iterator[StepCard]:
    yield from gap_cards(step.before)
    yield StepCard(
        number=step.number,
        text=step.text,
        notes=(*((Words(note),) for note in step.notes), *((one,) for one in step.care)),
        blanks=step.blanks if asked else (),
        boxes=step.boxes,
        inner=(
            *_cards(step.inner, asked and not step.turns),
            *(_cards(step.turns) if asked else ()),
        ),
    )
    yield from gap_cards(step.behind)


def _chart(made: Contents) -> Iterator[Block]:
    if made.no_chart:
        yield Para((made.no_chart,))
        return
    count = len(made.sheets)
    for number, sheet in enumerate(made.sheets, 1):
        yield Picture(sheet.svg, sheet.says, "sheet", (say.sheet(number, count),))


def _gathering(made: Contents) -> Iterator[Block]:
    gathering = made.gathering
    if gathering is None:
        return
    weights = [(made.voice.amount("mass", weight, weight),) for weight in gathering.weights]
    columns: tuple[Phrase, ...] = ((say.GATHERING_FIRST,), *weights)
    rows = [(name, *cells) for name, cells in gathering.rows]
    widths = (1.2, *(1.0 for _ in weights))
    fixed = any(len(set(cells)) == 1 and len(cells) > 1 and cells[0] for _, cells in gathering.rows)
    yield Para((f"{say.GROWS} {say.FIXED}" if fixed else say.GROWS,), opens=True)
    yield table((say.GATHERING_CAPTION,), columns, rows, widths, "weights")


def _noted(made: Contents) -> Iterator[Block]:
    """What the checker says of it, before anything else: it may be a reason not to begin."""
    if made.findings:
        yield Listing(tuple(dict.fromkeys(_remark(made, found) for found in made.findings)))
        if any(not (found.remedy or found.allowed) for found in made.findings):
            yield Para((SETTLE,))


def _remark(made: Contents, found: Finding) -> Phrase:
    """A finding at its step, for a reader who has not the file."""
    every = (one for told in made.work.steps for one in told.every())
    number = next(
        (one.number for one in every if (one.key, one.line) == (found.key, found.line)), ""
    )
    reason = (" The writer's reason: ", Words(found.allowed)) if found.allowed else ()
    remedy = (" ", Words(found.remedy)) if found.remedy and not found.allowed else ()
    return phrase(f"Step {number}: " if number else "", Words(found.sentence), remedy, reason)


# ------------------------------------------------------------ the box that works amounts out


def recalculator(made: Contents) -> Recalculator:
    """The box that works the amounts out for another weight of fibre."""
    from procedure.vocabulary import vocabulary

    known = vocabulary().units
    offered = [unit for system, _ in _systems(made.voice) for unit in _BOX_UNITS[system]]
    units = tuple((unit, str(known[unit].factor)) for unit in dict.fromkeys(offered))
    sums: dict[str, object] = {
        **sums_of(made.voice),
        "pots": [
            {
                "bath": _text(made.voice, pot.bath),
                "pot": _text(made.voice, pot.pot),
                "grows": None
                if pot.litres.grows is None
                else [str(end) for end in pot.litres.grows.line],
                "holds": str(pot.holds),
                "works": str(pot.works),
                "batch": str(pot.batch),
            }
            for pot in made.work.pots
        ],
        "lots": _growing(made.voice, made.work.lots),
    }
    return Recalculator(str(made.fibre), units, sums)


def _growing(voice: Voice, said: Phrase) -> list[object]:
    """A phrase for the page's script: text, and amounts as their kind and how they grow."""
    pieces: list[object] = []
    for piece in said:
        if isinstance(piece, Figure):
            if piece.grows is None:
                return []
            pieces.append([piece.kind, " ".join(map(str, piece.grows.line))])
        else:
            pieces.append(_text(voice, (piece,)))
    return pieces


def sums_of(voice: Voice) -> dict[str, object]:
    """What the page's script needs to print amounts as this voice does."""
    reader = voice.reader
    return {
        "kitchen": None if reader is None else for_script(reader.mass != "metric", reader.volume),
        "systems": [
            {"mass": _scale(scale_of(mass, "mass")), "volume": _scale(scale_of(volume, "volume"))}
            for mass, volume in _systems(voice)
        ],
    }


def _systems(voice: Voice) -> tuple[tuple[str, str], ...]:
    """The systems of weights and volumes in which a voice speaks."""
    if voice.reader is None:
        return tuple((system, system) for system in voice.systems)
    return (("metric" if voice.reader.mass == "metric" else "us", voice.reader.volume),)


def _text(voice: Voice, said: Phrase) -> str:
    return plain_text(tuple(one for one in said if isinstance(one, (str, Words))), voice)


def _scale(scale: Scale) -> dict[str, object]:
    return {
        "unit": scale.unit,
        "holds": str(scale.holds),
        "steps": [[str(above), str(step)] for above, step in scale.steps],
        "large": scale.large,
        "inLarge": str(scale.in_large),
        "withRest": scale.with_rest,
        "few": str(scale.few),
        "small": None if scale.small is None else _scale(scale.small),
    }
