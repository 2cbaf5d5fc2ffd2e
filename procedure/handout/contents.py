"""The contents of a handout, in the order in which they are printed, as data."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from pathlib import PurePath

from procedure import __version__
from procedure.facts.handling import deadly_words
from procedure.findings import Finding
from procedure.handout.before import Before, before
from procedure.handout.cautions import Cautions, cautions
from procedure.handout.lot_stories import finished
from procedure.handout.needs import Needs, needs
from procedure.handout.numbered_steps import NumberedStep, tell
from procedure.handout.other_weights import fibre_of, grown
from procedure.handout.phrasebook import Telling
from procedure.handout.spoken_names import for_a_dyer
from procedure.handout.what_goes_wrong import table_of
from procedure.language.draft_comments import not_checked
from procedure.paper.blocks import Block
from procedure.paper.kitchen import HALF_OUNCE, small_ounces
from procedure.paper.measures import Voice, unit_of
from procedure.paper.pieces import Blank, Figure, Phrase, Words, joined, phrase, spaced
from procedure.pipeline import Judged
from procedure.quantity.number_words import in_words
from procedure.rules.judging import reader_of
from procedure.vocabulary import vocabulary
from procedure.weigh.weighing import weigh
from procedure.wording import for_reader

# The weights of fibre for which a handout says how much to gather: 50, 100, 250 and
# 500 g and a pound, or 1, 2, 4 and 8 oz and a pound (the project's choice).
OTHER_WEIGHTS = (Fraction(50), Fraction(100), Fraction(250), Fraction(500))
POUND = Fraction("453.59237")
# Of more lots that differ in weight it is not told at the head what each weighs.
MOST_LOTS = 6


@dataclass(frozen=True, slots=True)
class ChartSheet:
    """A sheet of the chart: a picture as SVG text, and what it shows."""

    svg: str
    says: str


@dataclass(frozen=True, slots=True)
class Pot:
    """A bath and its pot, for saying when more fibre no longer fits.

    ``litres`` is the liquor, fibre and plants at the fullest, ``holds`` what goes into the pot
    and ``works`` what it may hold for work (as much where nothing is worked in it). ``batch`` are
    the litres of one batch where the fibre is divided, nothing where that would not help.
    """

    bath: Phrase
    pot: Phrase
    litres: Figure
    holds: Fraction
    works: Fraction
    batch: Fraction


@dataclass(frozen=True, slots=True)
class WorkForWeight:
    """What depends on the weight of the fibre: what is needed, the table, and the steps.

    ``lots`` is what the finished lots weigh, where there are several: “six lots of 3 oz”.
    """

    fibre: Phrase
    needs: Needs
    totals: tuple[tuple[Phrase, Phrase], ...]
    steps: tuple[NumberedStep, ...]
    pots: tuple[Pot, ...]
    short: object = None
    lots: Phrase = ()


Make = Callable[[Judged, Voice, Needs], object]
"""What makes the short paper's part that grows with the fibre, a frozen dataclass."""


@dataclass(frozen=True, slots=True)
class Gathering:
    """Amounts for other weights of fibre: a row of amounts for each material.

    An amount is empty where it does not go with the fibre by a line.
    """

    weights: tuple[Fraction, ...]
    rows: tuple[tuple[Phrase, tuple[Phrase, ...]], ...]


@dataclass(frozen=True, slots=True)
class Contents:
    """A whole handout. ``fibre`` is the grams it is worked out for, None where not known."""

    file: str
    key: str
    title: str
    voice: Voice
    by: str
    revised: str
    version: str
    makes: str
    place: str
    audience: tuple[str, ...]
    remarks: tuple[str, ...]
    errors: tuple[Finding, ...]
    cautions: Cautions
    before: Before
    work: WorkForWeight
    fibre: Fraction | None
    gathering: Gathering | None
    findings: tuple[Finding, ...]
    source: str
    licence: str
    facts: tuple[str, ...]
    worked_out: str = ""
    deadly: tuple[str, ...] = ()
    unchecked: str = ""
    sheets: tuple[ChartSheet, ...] = field(default=())
    no_chart: str = ""
    troubles: tuple[Block, ...] = field(default=(), hash=False)

    @property
    def short(self) -> object:
        """The short paper's part that grows with the fibre, where one was made."""
        return self.work.short

    @property
    def draft(self) -> bool:
        """True where the procedure has errors."""
        return bool(self.errors)

    @property
    def stamped(self) -> bool:
        """True where nobody should work from it yet: it has errors, or is an unchecked draft."""
        return self.draft or bool(self.unchecked)


def telling_of(plan: Judged, voice: Voice) -> Telling:
    """A plan ready to be told."""
    telling = Telling(plan, voice, {}, {})
    for moment in plan.trace.moments:
        telling.moments.setdefault(moment.node.id, []).append(moment)
    return telling


def contents(
    plan: Judged,
    voice: Voice,
    worked_out: str = "",
    sheets: Sequence[ChartSheet] = (),
    no_chart: str = "",
    make: Make | None = None,
) -> Contents:
    """Everything that a handout of a plan says.

    ``worked_out`` is a sentence on what the plan was scaled to; ``no_chart`` why there
    are no ``sheets``. ``make`` makes what a short paper has in place of the long one's.
    """
    model = plan.model
    telling = telling_of(plan, voice)
    made = _work(plan, telling, make)
    told = findings_for(plan, voice)
    work, fibre = grown(plan, made, lambda other: work_of(other, voice, make))
    return Contents(
        file=PurePath(plan.file).name,
        key=plan.model.key,
        title=model.title.text if model.title else "Untitled procedure",
        voice=voice,
        by=model.by.text if model.by else "",
        revised=model.revised.text if model.revised else "",
        version=model.version.text if model.version else "",
        makes=model.makes.text if model.makes else "",
        place=model.setting.text if model.setting else "",
        audience=tuple(name.text for name in model.audience),
        remarks=tuple(dict.fromkeys(note.text for note in model.notes)),
        errors=tuple(f for f in told if f.level == "error"),
        cautions=cautions(plan),
        deadly=deadly_words(plan.study),
        unchecked=not_checked(plan.text),
        before=before(telling),
        work=work,
        fibre=fibre,
        gathering=_gathering(work, fibre, voice),
        findings=tuple(for_a_dyer(plan, f) for f in told if f.level != "error"),
        source=model.source.text if model.source else "",
        licence=model.licence.text if model.licence else "",
        facts=_facts(plan),
        worked_out=worked_out,
        sheets=tuple(sheets),
        no_chart=no_chart,
        troubles=tuple(table_of(plan)),
    )


def findings_for(plan: Judged, voice: Voice) -> tuple[Finding, ...]:
    """What the checker has to say, in the units of the file and the spelling of the paper."""
    if voice.spelling == "british":
        return tuple(plan.findings)
    own = reader_of(plan.model)._replace(spelling=voice.spelling)
    return tuple(for_reader(one, own) for one in plan.findings)


def work_of(plan: Judged, voice: Voice, make: Make | None = None) -> WorkForWeight:
    """What of a handout depends on how much fibre there is: what is needed, steps and pots."""
    return _work(plan, telling_of(plan, voice), make)


def _work(plan: Judged, telling: Telling, make: Make | None = None) -> WorkForWeight:
    steps = tell(telling)
    fibre = fibre_of(plan)
    weight: Phrase = (Figure("mass", fibre, fibre),) if fibre is not None else ()
    needed, totals = _amounts(plan, telling)
    short = make(plan, telling.voice, needed) if make is not None else None
    return WorkForWeight(weight, needed, totals, steps, _pots(plan, telling), short, _lots(plan))


def _lots(plan: Judged) -> Phrase:
    lots = finished(plan)
    weights = [plan.trace.final.lots[lot].weight for lot in lots]
    known = [weight for weight in weights if weight is not None]
    if len(lots) < 2 or len(known) < len(lots):
        return ()
    if len(set(known)) == 1:
        return phrase(f"{in_words(len(lots))} lots of ", Figure("mass", *known[0]))
    if len(lots) > MOST_LOTS:
        return ()
    return joined(
        phrase(Words(spaced(plan.flow.lots[lot].name)), " ", Figure("mass", *weight))
        for lot, weight in zip(lots, known, strict=True)
    )


def _amounts(plan: Judged, telling: Telling) -> tuple[Needs, tuple[tuple[Phrase, Phrase], ...]]:
    weighing = weigh(plan)
    totals = []
    for total in weighing.totals:
        name = phrase(telling.name(total.thing))
        if total.condition:
            name = phrase(name, ", ", Words(total.condition))
        if total.kind:
            totals.append((name, phrase(Figure(total.kind, total.low, total.high))))
        else:
            totals.append((name, phrase(Blank("amount"))))
    return needs(telling, weighing), tuple(totals)


def other_weights(voice: Voice) -> tuple[Fraction, ...]:
    """Grams of fibre for the table of other weights: round ones in the reader's own system."""
    if voice.reader is None:
        return (*OTHER_WEIGHTS, POUND)
    if voice.reader.mass == "metric":
        return OTHER_WEIGHTS
    return tuple(POUND / parts for parts in (16, 8, 4, 2, 1))


def _gathering(work: WorkForWeight, fibre: Fraction | None, voice: Voice) -> Gathering | None:
    if fibre is None or not work.totals:
        return None
    weights = other_weights(voice)
    rows = []
    for name, amount in work.totals:
        figure = amount[0]
        cells: list[Phrase] = []
        for weight in weights:
            if isinstance(figure, Figure) and figure.grows is not None:
                cells.append((Figure(figure.kind, *figure.grows.at(weight)),))
            else:
                cells.append((Blank("amount"),) if isinstance(figure, Blank) else ())
        rows.append((name, _in_one_unit(voice, tuple(cells))))
    return Gathering(weights, tuple(rows))


def _in_one_unit(voice: Voice, cells: tuple[Phrase, ...]) -> tuple[Phrase, ...]:
    """A row of amounts; all in grams where its small ones are too small for ounces.

    Whoever reads along a row compares its amounts. A row that goes up to more than half an
    ounce keeps its ounces, with the grams of those that no scale in ounces tells.
    """
    figures = [cell[0] for cell in cells if cell and isinstance(cell[0], Figure)]
    masses = [one for one in figures if one.kind == "mass"]
    said = [voice.amount("mass", one.low, one.high) for one in masses]
    in_grams = [text for text in said if unit_of(text) == "g"]
    mixed = 0 < len(in_grams) < len(said) == len(cells)
    if voice.mass_unit == "g" or not mixed:
        return cells
    ounce = vocabulary().units["oz"].factor
    if max(one.high for one in masses) < ounce * HALF_OUNCE:
        metric = Voice("metric")
        return tuple((metric.amount("mass", one.low, one.high),) for one in masses)
    return tuple(
        (f"{small_ounces(one.low, one.high)} ({text})" if text in in_grams else text,)
        for one, text in zip(masses, said, strict=True)
    )


def _pots(plan: Judged, telling: Telling) -> tuple[Pot, ...]:
    from procedure.facts.pot_fit import fits

    return tuple(
        Pot(
            telling.the(fit.bath) if fit.bath else ("the water",),
            telling.the(fit.pot),
            Figure("volume", fit.full.low, fit.full.firm),
            fit.capacity.high,
            fit.capacity.high * (fit.fill if fit.worked else 1),
            fit.batch_room if fit.scales and fit.lots else Fraction(0),
        )
        for fit in fits(plan.study)
    )


def _facts(plan: Judged) -> tuple[str, ...]:
    from procedure.facts.handling import hazards
    from procedure.handout.cautions import used
    from procedure.vocabulary.library import rows

    titles = {row["key"]: row["title"] for row in rows("sources")}
    keys: dict[str, None] = {}
    for material in used(plan).values():
        for entry in hazards(material):
            for cited in entry.words("source"):
                keys.setdefault(next((key for key in titles if cited.startswith(key)), cited))
    said = [titles.get(key, key) for key in keys]
    followed = [made for made in plan.study.procedures if made is not plan.model]
    known = [title for title in said if "from memory" not in title]
    return (
        *(
            f"Source of “{made.title.text if made.title else made.file}”: {made.source.text}"
            for made in followed
            if made.source is not None
        ),
        *([f"Hazards: {'; '.join(known)}"] if known else ()),
        f"Made with Vatwright {__version__}",
    )
