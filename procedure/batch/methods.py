"""A method over many batches: how well it repeats, and what goes with what."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction

from procedure.batch.choices import choices
from procedure.batch.deviations import SMALL_DEGREES, SMALL_SHARE
from procedure.batch.folder import Batch, LotShade, by_day
from procedure.batch.over_and_over import rounds_of
from procedure.batch.spread import (
    FEWEST,
    Association,
    Spread,
    SpreadVerdict,
    differs,
    goes_with,
    spread,
    verdicts,
)
from procedure.batch.types import Record, StepDone, Value
from procedure.colour import Colour, adapted
from procedure.model.quantity import Quantity
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Verb, vocabulary

# What is said of a record that names a procedure of which it is not.
OF_ANOTHER = "other"


class Method(NamedTuple):
    """The batches of one method that gave the same lot, by day.

    ``batches`` and ``colours`` go together; batches without a colour are in ``without``.
    ``editions`` are the editions of the procedure that were used. ``looked_at`` says how many
    things were looked at together, and ``verdicts`` what may be said of each.
    """

    name: str
    lot: str
    batches: tuple[Batch, ...]
    colours: tuple[Colour, ...]
    without: tuple[Batch, ...]
    editions: tuple[str, ...]
    spread: Spread | None
    looked_at: int
    verdicts: tuple[SpreadVerdict, ...]


def methods(batches: Sequence[Batch]) -> tuple[Method, ...]:
    """Every method with its lots, by name; a record of another procedure belongs to none."""
    groups: dict[tuple[str, str], list[tuple[Batch, LotShade]]] = defaultdict(list)
    for batch in by_day(batches):
        if batch.of_its_procedure == OF_ANOTHER:
            continue
        for shade in batch.shades:
            groups[batch.method, shade.lot].append((batch, shade))
    return tuple(_method(name, lot, found) for (name, lot), found in sorted(groups.items()))


def _method(name: str, lot: str, found: Sequence[tuple[Batch, LotShade]]) -> Method:
    with_it = [(batch, shade.colour) for batch, shade in found if shade.colour is not None]
    colours = [colour for _, colour in with_it]
    editions = dict.fromkeys(batch.record.edition for batch, _ in found if batch.record.edition)
    dyed = [batch for batch, _ in with_it]
    pairs = list(_associations(dyed, colours)) if len(colours) >= FEWEST else []
    return Method(
        name,
        lot,
        tuple(dyed),
        tuple(colours),
        tuple(batch for batch, shade in found if shade.colour is None),
        tuple(editions),
        spread(colours) if colours else None,
        len(pairs),
        verdicts(pairs),
    )


def _associations(batches: Sequence[Batch], colours: Sequence[Colour]) -> Iterator[Association]:
    """What varies among batches, a number or a choice, against each way a colour differs."""
    light = colours[0].light
    alike = [adapted(colour, light) for colour in colours]
    ways = {
        "lightness": [one.lightness for one in alike],
        "strength of colour": [one.chroma for one in alike],
        "hue": [_from_mean(one.hue, alike[0].hue) for one in alike],
    }
    ways = {way: of_colour for way, of_colour in ways.items() if len(set(of_colour)) > 1}
    records = [batch.record for batch in batches]
    for what, values in numbers(records).items():
        for way, of_colour in ways.items():
            yield goes_with(f"{what} and {way}", values, of_colour)
    for what, sides in choices(records, [used(record) for record in records]).items():
        for way, of_colour in ways.items():
            with_it = [one for one, side in zip(of_colour, sides, strict=True) if side]
            without = [one for one, side in zip(of_colour, sides, strict=True) if not side]
            yield differs(f"{what} and {way}", with_it, without)


def _from_mean(hue: float, first: float) -> float:
    """A hue angle as a turn from the first, so that 359 and 1 are neighbours."""
    return (hue - first + 180) % 360 - 180


def numbers(records: Sequence[Record]) -> dict[str, list[float]]:
    """The numbers that every record has and that vary by more than a little.

    Amounts of materials are in percent of the fibre; heats in °C, times in minutes.
    """
    found = [dict(_numbers(record)) for record in records]
    shared = [what for what in found[0] if all(what in one for one in found)] if found else []
    made = {what: [one[what] for one in found] for what in shared}
    return {what: values for what, values in made.items() if _varies(what, values)}


def _varies(what: str, values: Sequence[float]) -> bool:
    """True where numbers differ by more than what is not worth a word at the pot."""
    apart = max(values) - min(values)
    if what.endswith((", at", ", from", ", to")):
        return apart > SMALL_DEGREES
    return apart > float(SMALL_SHARE) * max(map(abs, values))


def _numbers(record: Record) -> Iterator[tuple[str, float]]:
    for name, share in percent_of_fibre(record).items():
        yield f"{name}, percent of fibre", float(100 * share)
    for material in record.materials:
        if material.harvested is not None and record.begun is not None:
            days = (record.begun - material.harvested).days
            yield f"days since {material.name} was harvested", float(days)
    if record.water.hardness is not None:
        yield "hardness of the water", float(record.water.hardness)
    if record.water.acidity is not None:
        yield "pH of the water", float(record.water.acidity)
    for step in record.steps:
        for answer in step.answers:
            value = _middle(answer.done)
            # What a step was told to take is among the materials already.
            if value is not None and answer.word != "with":
                yield f"“{step.words}”, {answer.word}", float(value)


def percent_of_fibre(record: Record) -> dict[str, Fraction]:
    """Each material that was really used as a share of the fibre's weight, where both are known."""
    fibre = [_middle(lot.amount) for lot in record.lots if _kind(lot.amount) == "mass"]
    whole = sum((one for one in fibre if one is not None), Fraction(0))
    if not whole:
        return {}
    return {
        name: taken.amount / whole
        for name, taken in used(record).items()
        if taken is not None and taken.kind == "mass"
    }


class Taken(NamedTuple):
    """So much of a material: grams or litres, by ``kind`` mass or volume."""

    kind: str
    amount: Fraction


def used(record: Record) -> dict[str, Taken | None]:
    """What was really used of each material; None where the record does not say it in grams
    or litres, or says some of it in the one and some in the other.

    What is beside a material is the whole of it; else what its steps say is added up, as
    often as each was done.
    """
    made: dict[str, Taken | None] = {}
    readied: dict[str, Taken | None] = {}
    left_out: set[str] = set()
    for step in record.steps:
        verb = verb_of(step.words)
        if verb is not None and verb.does.splits:
            continue  # what it is done with are the parts of a lot
        # What is gathered or chopped is used later; it counts where no other step says how much.
        sums = readied if verb is not None and verb.does.readies else made
        for answer in step.answers:
            if answer.word != "with" or answer.name == "water":
                continue
            if step.skipped is not None:
                left_out.add(answer.name)
                continue
            taken = _taken(answer.done)
            if taken is not None:
                taken = Taken(taken.kind, taken.amount * rounds_of(step, record.steps))
            if answer.name in sums:
                taken = _both(sums[answer.name], taken)
            sums[answer.name] = taken
    made = {**readied, **made}
    lots = {result.lot for result in record.results} | {lot.name for lot in record.lots}
    made = {name: taken for name, taken in made.items() if name not in lots}
    for material in record.materials:
        taken = _taken(material.amount)
        # Its only step was left out; the form's line of it may be gone with the other blanks.
        unused = taken is None and (
            material.name in left_out or _only_left_out(material.name, record.steps)
        )
        if taken is not None or (material.name not in made and not unused):
            made[material.name] = taken
    return made


def _only_left_out(name: str, steps: Iterable[StepDone]) -> bool:
    """True where steps speak of a material in their words, and all of them were left out."""
    named = [step for step in steps if name in step.words.replace(",", " ").split()]
    return bool(named) and all(step.skipped is not None for step in named)


def verb_of(words: str) -> Verb | None:
    """The verb of a recorded step, which may have a label before it: “bath: prepare in pot”."""
    return vocabulary().verbs.get(words.rpartition(": ")[2].split(" ", 1)[0])


def _taken(value: Value) -> Taken | None:
    middle, kind = _middle(value), _kind(value)
    return Taken(kind, middle) if middle is not None and kind in ("mass", "volume") else None


def _both(one: Taken | None, other: Taken | None) -> Taken | None:
    if one is None or other is None or one.kind != other.kind:
        return None
    return Taken(one.kind, one.amount + other.amount)


def _middle(value: Value) -> Fraction | None:
    if not isinstance(value, Quantity) or value.low is None or value.high is None:
        return None
    return (value.low + value.high) / 2


def _kind(value: Value) -> str:
    return value.kind if isinstance(value, Quantity) else ""


class Consumption(NamedTuple):
    """What was used of a material over the batches.

    ``amount`` is grams or litres by ``kind`` mass or volume; ``batches`` is how many records
    say it and ``unknown`` how many name the material without an amount of either kind.
    """

    name: str
    kind: str
    amount: Fraction
    batches: int
    unknown: int

    @property
    def unit(self) -> str:
        """Of the amount: g or L."""
        return "L" if self.kind == "volume" else "g"


def consumption(batches: Sequence[Batch]) -> tuple[Consumption, ...]:
    """What was really used of each material, by name.

    A material of which some batches say grams and some litres comes twice.
    """
    found: dict[tuple[str, str], list[Fraction]] = defaultdict(list)
    unknown: dict[str, int] = defaultdict(int)
    for batch in batches:
        for name, taken in used(batch.record).items():
            if taken is None:
                unknown[name] += 1
            else:
                found[name, taken.kind].append(taken.amount)
    for name in unknown:
        if not any(name == one for one, _ in found):
            found[name, "mass"] = []
    return tuple(
        Consumption(name, kind, sum(amounts, Fraction(0)), len(amounts), unknown.pop(name, 0))
        for (name, kind), amounts in sorted(found.items())
    )
