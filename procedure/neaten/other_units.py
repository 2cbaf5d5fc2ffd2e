"""The amounts of a text in the units of another system, and what was rounded on the way.

Weights, volumes, heats and heights have two systems; times, shares, ratios, spoons and counts
have one, and stay. Where the writer gave a second reading in the system that is asked for,
the two readings change places: the writer's own number is better than a sum.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator
from fractions import Fraction

from procedure.language import Line, Node, Token, Tree, read
from procedure.model import Quantity, build
from procedure.model.to_quantities import quantity, tokens_of
from procedure.model.types import Workshop
from procedure.neaten.laying_out import neat
from procedure.neaten.meaning import meaning, much_the_same
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Unit, vocabulary

SYSTEMS = ("metric", "us", "imperial", "both")
# So many figures say an amount to half a part in a hundred, finer than a kitchen scale weighs.
FIGURES = 3
# The weights of lots must add up where a lot is divided, so they are written finer.
FIGURES_OF_FIBRE = 5
# “about” is widened by the last figure, so it keeps as few as the writer gave, but two.
_FEWEST = 2
# The units of each system by kind, the large one first, and from how many of the large one
# on it is used. Heat follows what is usual: Fahrenheit in the United States alone.
_QUARTER = Fraction(1, 4)
_WANTED: dict[str, dict[str, tuple[tuple[str, Fraction], ...]]] = {
    "metric": {
        "mass": (("kg", Fraction(1)), ("g", Fraction(0))),
        "volume": (("L", _QUARTER), ("mL", Fraction(0))),
        "temperature": (("°C", Fraction(-300)),),
        "length": (("m", Fraction(0)),),
    },
    "us": {
        "mass": (("lb", Fraction(1)), ("oz", Fraction(0))),
        "volume": (("US gal", _QUARTER), ("US fl oz", Fraction(0))),
        "temperature": (("°F", Fraction(-500)),),
        "length": (("ft", Fraction(0)),),
    },
    "imperial": {
        "mass": (("lb", Fraction(1)), ("oz", Fraction(0))),
        "volume": (("imp gal", _QUARTER), ("imp fl oz", Fraction(0))),
        "temperature": (("°C", Fraction(-300)),),
        "length": (("ft", Fraction(0)),),
    },
}
_METRIC = frozenset(("g", "kg", "mg", "L", "mL", "m", "cm", "mm"))
_CUSTOMARY = frozenset(("oz", "lb", "ft", "in", "yd"))


class Rounded(NamedTuple):
    """An amount that has no short number in the other units: as it was, as it is now, and
    how far the two are apart, as a share of the amount (in degrees for a heat)."""

    line: int
    was: str
    now: str
    off: Fraction


class NotConverted(NamedTuple):
    """An amount that could not be said in other units, and why."""

    line: int
    text: str
    why: str


class Rewritten(NamedTuple):
    """A text in other units, with what was rounded and what was left."""

    text: str
    rounded: tuple[Rounded, ...]
    left: tuple[NotConverted, ...]


class _Change(NamedTuple):
    """What stands between two columns of a line becomes something else."""

    line: int
    column: int
    to: int
    text: str


class _Found(NamedTuple):
    was: str
    changes: tuple[_Change, ...]
    rounded: tuple[Rounded, ...] = ()
    left: tuple[NotConverted, ...] = ()


def in_units(
    text: str, system: str, workshop: Workshop | None = None, is_neat: bool = False
) -> Rewritten:
    """Lay a text out with its amounts in the units of a system.

    ``system`` is metric, us or imperial; ``both`` keeps each amount and puts a second reading
    in brackets after it (US units after metric ones, metric after the others). A text
    that ``is_neat`` is not laid out first. Raises ``KeyError`` for another word.
    """
    if system != "both" and system not in _WANTED:
        raise KeyError(system)
    text = text if is_neat else neat(text, workshop).text
    tree = read(text)
    before = meaning(build(tree, "", workshop), loosely=True)

    def same(changed: str) -> bool:
        after = meaning(build(read(changed), "", workshop), loosely=True)
        return much_the_same(before, after)

    found = {line: changes for line, changes in _by_line(tree, system) if changes}
    taken = _that_will_do(
        list(found), [], lambda lines: same(_changed(text, [found[line] for line in lines]))
    )
    made = _changed(text, [found[line] for line in taken])
    refused: list[NotConverted] = []
    for line in found.keys() - set(taken):
        why = "it would not be read as the same amount"
        refused += [NotConverted(line, one.was, why) for one in found[line] if one.changes]
        found[line] = []
    every = [one for changes in found.values() for one in changes]
    rounded = sorted(one for change in every for one in change.rounded)
    left = sorted([*refused, *(one for change in every for one in change.left)])
    return Rewritten(neat(made, workshop).text, tuple(rounded), tuple(left))


def _that_will_do(
    lines: list[int], besides: list[int], same: Callable[[list[int]], bool]
) -> list[int]:
    """The lines that may be changed with those ``besides``, where not all may be.

    Halved again and again, so that a few of many are found without reading the text for each.
    """
    if same([*besides, *lines]):
        return lines
    if len(lines) < 2:
        return []
    half = len(lines) // 2
    first = _that_will_do(lines[:half], besides, same)
    return [*first, *_that_will_do(lines[half:], [*besides, *first], same)]


def _by_line(tree: Tree, system: str) -> Iterator[tuple[int, list[_Found]]]:
    """What becomes of the quantities of each line."""
    for section in tree.sections:
        for line in _all(section.lines):
            if line.node is None:
                continue
            fibre = section.name == "fibre"
            yield (
                line.first.line,
                [
                    one
                    for node, parted in _quantities(line.node)
                    for one in _turned(
                        node, system, FIGURES_OF_FIBRE if fibre or parted else FIGURES
                    )
                ],
            )


def _all(lines: list[Line]) -> Iterator[Line]:
    for line in lines:
        yield line
        yield from _all(line.block)


def _quantities(node: Node, parted: bool = False) -> Iterator[tuple[Node, bool]]:
    """The quantities of a line, and whether each may be that of a part of a divided lot."""
    for child in node.children:
        if isinstance(child, Node):
            if child.kind in ("quantity", "limit"):
                yield child, parted
            yield from _quantities(child, parted or child.kind == "into_clause")


def _changed(text: str, found: Iterable[list[_Found]]) -> str:
    # From the end to the beginning, so that the places still hold.
    changes = sorted((c for many in found for one in many for c in one.changes), reverse=True)
    starts = [1 if text.startswith("\ufeff") else 0]
    starts += [end.end() for end in re.finditer(r"\r\n|\r|\n", text)]
    for change in changes:
        start = starts[change.line - 1] - 1
        text = text[: start + change.column] + change.text + text[start + change.to :]
    return text


def _turned(node: Node, system: str, figures: int) -> Iterator[_Found]:
    """What becomes of one quantity."""
    parts = {child.kind: child for child in node.children if isinstance(child, Node)}
    each = parts.get("each_of")
    if each is not None and system != "both":
        yield from _amount(Node("measure", each.children), None, node, (system, figures))
    measure = parts.get("measure")
    if measure is not None and "per" not in parts:
        yield from _amount(measure, parts.get("reading"), node, (system, figures))


def _amount(
    measure: Node, reading: Node | None, whole: Node, asked: tuple[str, int]
) -> Iterator[_Found]:
    """What becomes of one amount; ``asked`` are the system and how many figures it is to have."""
    system, figures = asked
    tokens = [token for token in tokens_of(measure) if token.kind != "ABOUT"]
    about = len(tokens) < len(tokens_of(measure))
    said = quantity(Node("quantity", (Node("measure", tuple(tokens)),)))
    last = tokens_of(whole)[-1]
    if said.unit is None or said.kind not in _WANTED["metric"] or said.backwards:
        return
    if len({token.line for token in (*tokens, last)}) > 1:
        yield _Found(
            said.text, (), left=(NotConverted(tokens[0].line, said.text, "it runs over two lines"),)
        )
        return
    if said.unit.vague:
        why = f"a {said.unit.name} may be {' or '.join(said.unit.ask.split('; '))}"
        yield _Found(said.text, (), left=(NotConverted(tokens[0].line, said.text, why),))
        return
    if _is_of(said.unit, system) or (system == "both" and reading is not None):
        return
    here = _Change(tokens[0].line, tokens[0].column, tokens[-1].to, "")
    if reading is not None and (swapped := _swapped(here, said, reading, system)) is not None:
        yield swapped
        return
    wanted = system
    if system == "both":
        wanted = "us" if said.unit.name in _METRIC or said.unit.name == "°C" else "metric"
    now, off = _said_in(said, wanted, _of_about(tokens) if about else figures)
    rounded = (Rounded(here.line, said.text, now, off),) if off else ()
    if system == "both":
        yield _Found(
            said.text, (here._replace(column=last.to, to=last.to, text=f" ({now})"),), rounded
        )
    else:
        yield _Found(said.text, (here._replace(text=now),), rounded)


def _is_of(unit: Unit, system: str) -> bool:
    """True for a unit of the system."""
    if system == "both":
        return False
    if unit.kind == "temperature":
        return unit.name == _WANTED[system]["temperature"][0][0]
    if unit.name in _METRIC:
        return system == "metric"
    if unit.name in _CUSTOMARY:
        return system != "metric"
    return unit.name.startswith({"metric": "-", "us": "US ", "imperial": "imp "}[system])


def _swapped(here: _Change, said: Quantity, reading: Node, system: str) -> _Found | None:
    """The two readings in each other's place; None where the second is of no use."""
    inner = reading.children[0]
    tokens = tokens_of(inner) if isinstance(inner, Node) else []
    if not tokens or tokens[0].kind != "NUMBER" or tokens[0].line != here.line:
        return None
    second = quantity(Node("quantity", (Node("measure", tuple(tokens)),)))
    if second.unit is None or second.kind != said.kind or not _is_of(second.unit, system):
        return None
    there = _Change(here.line, tokens[0].column, tokens[-1].to, said.text)
    return _Found(said.text, (here._replace(text=second.text), there))


def _of_about(tokens: list[Token]) -> int:
    """How many figures an amount with “about” keeps."""
    digits = tokens[0].text.replace(".", "").strip("0") if tokens[0].text.isascii() else ""
    return min(FIGURES, max(_FEWEST, len(digits)))


def _said_in(said: Quantity, system: str, figures: int) -> tuple[str, Fraction]:
    """A quantity in the units of a system, and how far off it is by rounding."""
    units = vocabulary().units
    low, high = said.ends
    choices = [(units[name], least) for name, least in _WANTED[system][said.kind]]
    # By its size, since an amount below nothing can be written too.
    unit = next(u for u, least in choices if abs(low / u.factor - u.offset) >= least)
    ends = [low] if low == high else [low, high]
    numbers, off = [], Fraction(0)
    for end in ends:
        exact = end / unit.factor - unit.offset
        number = rounded_to(exact, figures)
        numbers.append(decimal(number))
        gap = abs(number - exact)
        if unit.kind == "temperature":
            off = max(off, gap)
        elif exact:
            off = max(off, gap / abs(exact))
    return f"{' to '.join(numbers)} {unit.name}", off


def rounded_to(value: Fraction, figures: int) -> Fraction:
    """A number to so many figures, halves up."""
    if not value:
        return value
    step = Fraction(1)
    while abs(value) / step >= 10**figures:
        step *= 10
    while abs(value) / step < 10 ** (figures - 1):
        step /= 10
    return ((value / step + Fraction(1, 2)).__floor__()) * step


def decimal(value: Fraction) -> str:
    """A number whose decimals end, written out."""
    places = 0
    while value * 10**places % 1:
        places += 1
    digits = str(abs(value) * 10**places).rjust(places + 1, "0")
    sign = "-" if value < 0 else ""
    return sign + (f"{digits[:-places]}.{digits[-places:]}" if places else digits)
