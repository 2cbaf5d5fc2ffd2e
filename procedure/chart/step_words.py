"""The words of a step: what is done, and every number that the work needs.

A step says what the writer wrote, and beside it what the program worked out: the
amounts, the numbers after a word (``overnight``), heats on the reader's own scale.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Mapping, Sequence
from fractions import Fraction
from types import MappingProxyType

from procedure.chart.lettering import clean
from procedure.facts.handling import right_name_of
from procedure.findings import Mass, Volume, say
from procedure.flow import FlowNode
from procedure.model import Block, Item, Material, Name, Procedure, Quantity, Step
from procedure.paper import kitchen
from procedure.quantity.day import A_DAY
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import by_weight, listed
from procedure.quantity.record import NamedTuple
from procedure.trace import Moment, Trace
from procedure.trace.amounts import Amount
from procedure.vocabulary import vocabulary
from procedure.wording import Reader
from procedure.wording import said as in_words
from procedure.wording.spelling import in_spelling

Materials = Mapping[str, tuple[Material, Procedure]]
NOTHING: Materials = MappingProxyType({})
HOUR = 60
# A few different amounts are listed; of more, only the least and the most are told.
MOST_AMOUNTS = 3
# Of more things that a step is done to, the first and the last are named.
MOST_NAMED = 5


class SymbolWords(NamedTuple):
    """What a symbol says: its heading, and the lines below it."""

    heading: str
    details: tuple[str, ...] = ()


def moments_of(trace: Trace) -> dict[int, Moment]:
    """The first moment of each flow node, by the node's id."""
    found: dict[int, Moment] = {}
    for moment in trace.moments:
        found.setdefault(moment.node.id, moment)
    return found


def words_of(
    nodes: Sequence[FlowNode],
    number: str,
    moments: Mapping[int, Moment],
    reader: Reader,
    materials: Materials = NOTHING,
) -> SymbolWords:
    """The words of a step or of the start of a block, its amounts in the reader's units.

    ``nodes`` are the places of the plan that the one symbol stands for: several where a
    ``for each`` is drawn once for all that it is done to. What harms stands under its full name,
    by ``materials`` of the plan, with the writer's own beside it.
    """
    step = nodes[0].step
    if isinstance(step, Block):
        heading, details = _block(step)
        label = step.label
    else:
        heading = heading_of(nodes[0])
        here = [moments[node.id] for node in nodes if node.id in moments]
        details = _details(step, here, reader, materials)
        label = None if step.does.prepares else step.label
    if label is not None:
        heading = f"{heading} ({label.text})"
    scale = reader.heat.removeprefix("°")
    told = (on_one_scale(clean(line), scale) for line in details if line)
    return SymbolWords(clean(f"{number}. {heading}"), tuple(told))


def heading_of(node: FlowNode) -> str:
    """What a step or a block is, without its number, its label and its details."""
    step = node.step
    if isinstance(step, Block):
        return _block(step)[0]
    title = node.inner[0].procedure.title if node.kind == "follow" and node.inner else None
    return title.text if title is not None else _heading(step)


def verb_of(nodes: Sequence[FlowNode]) -> str:
    """The one word of a step that is in its symbol; nothing for a followed procedure."""
    step = nodes[0].step
    if isinstance(step, Block):
        words = {"if": "", "either": "", "way": "way", "for": "each", "repeat": "repeat"}
        return words.get(step.kind, "")
    if step.verb is None:
        return "do" if step.kind == "do" else (step.label.text if step.label is not None else "")
    return step.verb.name


def end_words(node: FlowNode, number: str) -> SymbolWords:
    """The words at the end of a block."""
    step = node.step
    if not isinstance(step, Block):
        return SymbolWords(clean(f"end of {number}"))
    if step.kind in ("if", "either", "way"):
        return SymbolWords("")
    if step.kind == "for":
        again = f"back to {number} for the next {step.variable.text if step.variable else ''}"
    else:
        again = f"back to {number} until it is done {_times(step)}".rstrip()
    return SymbolWords(clean(f"end of {number}"), (clean(again),))


def _block(block: Block) -> tuple[str, list[str]]:
    if block.kind == "if":
        return f"{block.condition.rstrip('?')}?", []
    if block.kind == "either":
        return "which way?", []
    if block.kind == "way":
        return f"way: {block.condition}", []
    if block.kind == "for":
        variable = block.variable.text if block.variable else ""
        return f"for each {variable} in {_objects(block.values)}", []
    every = [block.every.text] if block.every is not None else []
    every = [text if text.startswith("every ") else f"every {text}" for text in every]
    if block.times is None and block.condition:
        return f"repeat until “{block.condition}”", every
    until = [f"until “{block.condition}”"] if block.condition else []
    return f"repeat {_times(block)}".rstrip(), [*every, *until]


def _times(block: Block) -> str:
    if block.times is None:
        return f"and “{block.condition}”" if block.condition else ""
    if block.times[1] == ENDLESS:
        return f"{number(block.times[0])} times or more"
    low, high = (number(end) for end in block.times)
    if low != high:
        return f"{low} to {high} times"
    return "once" if low == "1" else f"{low} times"


def _heading(step: Step) -> str:
    if step.verb is None:
        words = step.words.text if step.words else ""
        if step.kind == "follow":
            return f"follow “{words.rsplit('/', 1)[-1].removesuffix('.dye')}”"
        return f"do: {words}"
    objects = _objects(step.objects)
    if step.does.prepares and step.label is not None:
        objects = step.label.text
    heading = f"{step.verb.name} {objects}".rstrip()
    if step.does.adds and step.to is not None:
        heading += f" to {_said(step.to)}"
    return heading


def _objects(items: Sequence[Item]) -> str:
    """What a step is done to: of many the first and the last, since their lanes show the rest."""
    words = [_said(item) for item in items]
    if len(words) <= MOST_NAMED:
        return listed(words)
    return f"{len(words)}: {words[0]} … {words[-1]}"


def _said(item: Item) -> str:
    """An item by its name; by what was written where it has none."""
    if item.name is not None:
        return item.name.text
    if item.quantity is not None:
        return item.quantity.text
    return f"“{item.words.text}”" if item.words else ""


def _details(step: Step, moments: list[Moment], reader: Reader, materials: Materials) -> list[str]:
    """Where it happens, with what, how hot and how long, then what else the writer said."""
    lots = {lot.rsplit(".", 1)[-1].rsplit(":", 1)[-1] for m in moments for lot in m.before.lots}
    lines = _where(step, lots)
    lines += _amounts(step, moments, reader, materials)
    lines.append(_heats(step, moments))
    lines.append(_times_of(step))
    return lines + _asides(step, reader.spelling)


def _where(step: Step, lots: Collection[str]) -> list[str]:
    """Where it happens; ``lots`` are those that are there, into which nothing is put but onto."""
    lines: list[str] = []
    if step.within is not None:
        lines.append(f"in {_item(step.within)}")
    if step.into:
        onto = not step.does.makes_lots and all(
            item.name is not None and item.name.text in lots for item in step.into
        )
        word = "onto" if onto else "into"
        lines.append(f"{word} {listed([_item(item) for item in step.into])}")
    if step.source is not None and not _is_heat(step.source):
        lines.append(f"from {_item(step.source)}")
    for word, thing in (("on", step.on), ("through", step.through)):
        if thing is not None:
            lines.append(f"{word} {thing.text}")
    if step.kind == "follow":  # what it follows is its heading: a title, and no name of a file
        lines += [_given(i.given.text, _said(i)) for i in step.using if i.given]
    return lines


def _given(here: str, there: str) -> str:
    """What a followed procedure is given, and what it is called there where that differs."""
    return f"with {here}" + (f" as its {there}" if there != here else "")


def _asides(step: Step, spelling: str) -> list[str]:
    lines: list[str] = []
    if step.ceiling is not None:
        lines.append(step.ceiling.text)
    if step.until is not None and not _is_heat(step.until):
        lines.append(f"until {_item(step.until)}")
    if step.to is not None and not _is_heat(step.to) and not step.does.adds:
        lines.append(f"to {_item(step.to)}")
    if step.named is not None:
        lines.append(f"as {step.named.text}")
    waits = vocabulary().heats
    manners = (name.text for name in step.manners if name.text not in waits)
    lines.append(in_spelling(", ".join(manners), spelling))
    if step.beside is not None:
        lines.append("meanwhile")
    for word, names in (("after", step.after), ("wear", step.wearing)):
        if names:
            lines.append(f"{word} {listed([name.text for name in names])}")
    if step.note:
        lines.append(f"note: {step.note}")
    return lines


def _item(item: Item) -> str:
    said = [item.name.text] if item.name else []
    if item.quantity is not None:
        said.append(_quantity(item.quantity))
    if item.words is not None:
        said.append(f"“{item.words.text}”")
    return " ".join(said)


def _is_heat(item: Item) -> bool:
    return item.quantity is not None and item.quantity.kind == "temperature"


# ---------------------------------------------------------------- amounts


def _amounts(step: Step, moments: list[Moment], reader: Reader, materials: Materials) -> list[str]:
    """A line for each thing that the step brings: as written, and what it comes to."""
    brought = [*step.using] if step.kind != "follow" else []
    if not (step.does.empties or step.does.draws_off):
        brought += [item for item in step.objects if item.quantity is not None and item.name]
    # Each item is itself here, not what is like it.
    of_items: dict[int, list[tuple[str, Amount | None]]] = {}
    for moment in moments:
        for thing, item, amount in moment.amounts:
            of_items.setdefault(id(item), []).append((thing, amount))
    lines: list[str] = []
    for item in brought:
        found: dict[tuple[Fraction, Fraction], Amount] = {}
        name, right = item.name.text if item.name else "", ""
        for thing, amount in of_items.get(id(item), ()):
            if amount is not None:
                found.setdefault((amount.low, amount.high), amount)
            if thing in materials:
                full = right_name_of(materials[thing][0], name)
                right = in_spelling(full, reader.spelling) or right
        name = f"{right} ({name})" if right else name
        lines.append(f"{_with_amount(name, item, list(found.values()), reader)}")
    return lines


def _with_amount(name: str, item: Item, amounts: list[Amount], reader: Reader) -> str:
    quantity = item.quantity
    if quantity is None:
        words = f": “{item.words.text}”" if item.words else ""
        return f"with {name}{words}"
    written = _quantity(quantity)
    if quantity.kind == "share" and quantity.base and amounts and amounts[0].kind == "mass":
        written = by_weight(written)
    said = f"{name}: {written}" if name else written
    if not amounts or (quantity.kind in ("mass", "volume") and _own(quantity, reader)):
        return said
    if len(amounts) <= MOST_AMOUNTS:
        come_to = " or ".join(amount_text(one, reader) for one in amounts)
    else:
        least = min(one.low for one in amounts)
        most = max(one.high for one in amounts)
        come_to = amount_text(Amount(amounts[0].kind, least, most), reader)
    return f"{said} = {come_to}"


def _own(quantity: Quantity, reader: Reader) -> bool:
    """True for a measure that the reader weighs and measures in."""
    metric = quantity.unit is not None and quantity.unit.source == "SI"
    return metric == (_system(quantity.kind, reader) == "metric")


def _system(kind: str, reader: Reader) -> str:
    return reader.mass if kind == "mass" else reader.volume


def amount_text(amount: Amount, reader: Reader) -> str:
    """An amount in the reader's units: customary ones as all papers print them, else to three
    figures."""
    if _system(amount.kind, reader) != "metric":
        said = _in_kitchen(amount, reader)
        if said:
            return said
        high = None if amount.high == amount.low else amount.high
        value = Mass(amount.low, high) if amount.kind == "mass" else Volume(amount.low, high)
        return in_words(say("{value}", value=value), reader)
    unit, factor = ("g", 1) if amount.kind == "mass" else ("mL", 1000)
    most = amount.low if amount.high == ENDLESS else amount.high
    if most * factor >= 1000:
        unit, factor = ("kg", Fraction(factor, 1000)) if unit == "g" else ("L", 1)  # type: ignore[assignment]
    return between(amount.low * factor, amount.high * factor, unit)


def _in_kitchen(amount: Amount, reader: Reader) -> str:
    if amount.kind == "mass":
        return kitchen.mass(amount.low, amount.high)
    if amount.high == ENDLESS:
        return ""
    return kitchen.volume(reader.volume, amount.low, amount.high)


def _quantity(quantity: Quantity) -> str:
    """A quantity as written; a heat on both scales, a named wait with its hours."""
    if quantity.kind == "temperature" and quantity.known:
        return heat_text(quantity)
    if quantity.word and quantity.kind == "time":
        return wait_text(quantity.word, *quantity.ends)
    return quantity.text


def number(value: Fraction, digits: int = 3) -> str:
    """A number to a few figures, without an exponent."""
    if value == 0:
        return "0"
    size = len(str(abs(int(value)))) if abs(value) >= 1 else 0
    text = f"{float(value):.{max(0, digits - size) if size else digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def between(low: Fraction, high: Fraction, unit: str) -> str:
    """One number, or the two ends of a range, with a unit."""
    if high == ENDLESS:
        return f"at least {number(low)} {unit}"
    least, most = number(low), number(high)
    return f"{least} {unit}" if least == most else f"{least} to {most} {unit}"


# ---------------------------------------------------------------- heats


def degrees(low: Fraction, high: Fraction) -> str:
    """Heats in °C with the °F beside them (°F = 1.8 °C + 32, NIST SP 811)."""
    fahrenheit = [Fraction(round(end * Fraction(9, 5) + 32)) for end in (low, high)]
    return f"{between(low, high, '°C')} ({between(fahrenheit[0], fahrenheit[1], '°F')})"


_BOTH = re.compile(r"([\d.]+(?: to [\d.]+)? °C) \(([\d.]+(?: to [\d.]+)? °F)\)")


def own_scale(text: str) -> str:
    """The scale that a procedure's text is written in: F where it says nothing in °C."""
    return "F" if "°F" in text and "°C" not in text else "C"


def on_one_scale(line: str, scale: str) -> str:
    """A line of :func:`words_of` with its heats on that scale alone."""
    return _BOTH.sub(r"\1" if scale == "C" else r"\2", line)


def heat_text(quantity: Quantity, boiling: Fraction | None = None) -> str:
    """A heat in both scales; of a word (simmer), the word with its numbers; of a bound, its end."""
    low, high = quantity.ends
    if quantity.bound:
        end = high if quantity.bound == "most" else low
        return f"at {'most' if quantity.bound == 'most' else 'least'} {degrees(end, end)}"
    if quantity.word:
        if boiling is not None:
            low, high = min(low, boiling), min(high, boiling)
        return f"{quantity.word}, {degrees(low, high)}"
    if quantity.about:
        middle = (low + high) / 2
        return f"about {degrees(middle, middle)}" if not _ranges(quantity) else degrees(low, high)
    return degrees(low, high)


def _ranges(quantity: Quantity) -> bool:
    low, high = quantity.ends
    return high - low > 2 * (quantity.slack_low + quantity.slack_high)


def _heats(step: Step, moments: list[Moment]) -> str:
    said: list[str] = []
    places = (("from", step.source), ("at", step.at), ("to", step.to), ("until", step.until))
    for word, item in places:
        if item is None or (item is step.to and step.does.adds):
            continue
        if _is_heat(item) and item.quantity is not None and item.quantity.known:
            told = heat_text(item.quantity)
            said.append(told if word == "at" and item.quantity.bound else f"{word} {told}")
        elif word == "at" and item.quantity is not None and item.quantity.kind == "unstated":
            said.append("heat unstated")
        elif word == "at":
            said.append(f"at {_item(item)}")
    if not said and step.does.heat and moments:
        heat = moments[0].heat
        if heat is not None:
            said.append(f"at {degrees(*heat)}")
    return " ".join(said)


# ---------------------------------------------------------------- times


def wait_text(word: str, low: Fraction, high: Fraction) -> str:
    """A named wait with its range: overnight (8 to 16 h)."""
    return f"{word.replace('-', ' ')} ({duration(low, high)})"


def duration(low: Fraction, high: Fraction) -> str:
    """Minutes as hours where they are whole hours, as days from two days on."""
    if low >= 2 * A_DAY and low % A_DAY == 0 and high % A_DAY == 0:
        return between(low / A_DAY, high / A_DAY, "days")
    if low >= HOUR and low % HOUR == 0 and high % HOUR == 0:
        return between(low / HOUR, high / HOUR, "h")
    return between(low, high, "min")


def _times_of(step: Step) -> str:
    said: list[str] = []
    if step.over is not None:
        said.append(_time("over", step.over))
    if step.lasting is not None:
        said.append(_time("for", step.lasting))
    waits = vocabulary().heats
    for name in step.manners:
        wait = waits.get(name.text)
        if wait is not None and wait.kind == "wait":
            said.append(wait_text(wait.name, wait.low, wait.high))
    return ", ".join(said)


def _time(word: str, quantity: Quantity) -> str:
    return "time unstated" if quantity.kind == "unstated" else f"{word} {_quantity(quantity)}"


def name_text(name: Name | None) -> str:
    """A name or words that may be missing."""
    return clean(name.text) if name is not None else ""
