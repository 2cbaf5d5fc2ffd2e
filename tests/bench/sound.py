"""A sound procedure, and how its text is changed: whole steps, clauses and single words.

Where a fault can be put is read off the model and the trace of the sound text. What
must then be found is said by each kind of fault from the trade, never from the program.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

import procedure
from procedure import Plan
from procedure.model import Block, Equipment, Item, Material, Name, Place, Procedure, Quantity, Step
from procedure.trace import LotState, Moment
from procedure.vocabulary import Entry, vocabulary

EXAMPLES = Path(__file__).parents[2] / "examples"
# Verbs by which fibre goes into the bath that they name.
GOES_IN = frozenset(("treat", "dip", "enter"))


@dataclass(frozen=True)
class Sound:
    """A procedure without error or warning, with what the program understands of it."""

    path: Path
    plan: Plan

    @property
    def text(self) -> str:
        """The text as it stands in its file."""
        return self.plan.text

    @property
    def model(self) -> Procedure:
        """What the words mean; only of this file, not of what it follows."""
        return self.plan.model

    @cached_property
    def lines(self) -> list[str]:
        """The lines of the text; line 1 is the first."""
        return self.text.split("\n")

    @cached_property
    def steps(self) -> list[Step]:
        """Every step in the order of the text, those in blocks too."""
        return list(_flat(self.model.body))

    @cached_property
    def moments(self) -> dict[int, Moment]:
        """What happens at each step of this file, by the line of the step; its first time."""
        found: dict[int, Moment] = {}
        for moment in self.plan.trace.moments:
            if moment.node.procedure is self.model and isinstance(moment.node.step, Step):
                found.setdefault(moment.step.place.line, moment)
        return found

    @cached_property
    def rounds(self) -> dict[int, list[Moment]]:
        """All that happens at each step of this file, once for each round, by its line."""
        found: dict[int, list[Moment]] = {}
        for moment in self.plan.trace.moments:
            if moment.node.procedure is self.model and isinstance(moment.node.step, Step):
                found.setdefault(moment.step.place.line, []).append(moment)
        return found

    @property
    def follows(self) -> bool:
        """Whether it follows other procedures."""
        return any(step.kind == "follow" for step in self.steps)

    # -------------------------------------------------------------- what stands in it

    def of(self, *effects: str) -> Iterator[tuple[Step, Moment]]:
        """The steps with those effects, with what happens there."""
        for step in self.steps:
            moment = self.moments.get(step.place.line)
            if step.effect in effects and moment is not None:
                yield step, moment

    def extent(self, line: int) -> list[int]:
        """The lines of what begins on a line: itself and the deeper lines below it."""
        depth = _depth(self.lines[line - 1])
        found = [line]
        for number in range(line + 1, len(self.lines) + 1):
            text = self.lines[number - 1]
            if not text.strip() or _depth(text) <= depth:
                break
            found.append(number)
        return found

    def after(self, step: Step) -> list[Step]:
        """The steps below a step."""
        return [other for other in self.steps if other.place.line > step.place.line]

    def names(self, step: Step) -> set[str]:
        """The names that the steps's own words use."""
        items = [*step.objects, *step.into, *step.using]
        items += [one for one in (step.within, step.source, step.at, step.to) if one is not None]
        found = {item.name.text for item in items if item.name is not None}
        return found | {name.text for name in (step.on, step.through) if name is not None}

    def using(self, name: str) -> list[Step]:
        """The steps that name a thing."""
        word = re.compile(rf"(?<![\w-]){re.escape(name)}(?![\w-])")
        return [
            step
            for step in self.steps
            if any(word.search(_bare(self.lines[n - 1])) for n in self.extent(step.place.line))
        ]

    def lines_of(self, steps: Iterable[Step]) -> set[int]:
        """Every line of those steps."""
        return {number for step in steps for number in self.extent(step.place.line)}

    def material(self, name: str) -> Material | None:
        """The declaration of a material."""
        return self.model.materials.get(name)

    def put_in(self, step: Step) -> list[tuple[Item, Material]]:
        """The materials that a step weighs out, with their declarations."""
        items = [item for item in (*step.using, *step.objects) if item.name is not None]
        found = []
        for item in items:
            made = self.material(item.name.text)  # type: ignore[union-attr]
            if made is not None:
                found.append((item, made))
        return found

    def fibres(self, moment: Moment) -> list[LotState]:
        """The lots of a step as they come to it."""
        lots = moment.node.present or moment.node.lots
        return [moment.before.lots[lot] for lot in lots if lot in moment.before.lots]

    def contents(self, moment: Moment) -> list[Material]:
        """What is in the bath of a step once it is done."""
        bath = moment.bath_after or moment.bath_before
        found = [self.plan.flow.materials.get(name) for name in (bath.contents if bath else ())]
        return [pair[0] for pair in found if pair is not None]

    def pots(self) -> Iterator[Equipment]:
        """The vessels of this file that hold a bath or water at some step."""
        for pot in self.model.equipment.values():
            if pot.holds and pot.capacity is not None and self.using(pot.name.text):
                yield pot

    # -------------------------------------------------------------- changes of the text

    def with_line(self, number: int, text: str) -> str:
        """The text with another line in the place of one."""
        lines = list(self.lines)
        lines[number - 1] = text
        return "\n".join(lines)

    def put(self, place: Place, words: str) -> str:
        """The text with other words at a place."""
        line = self.lines[place.line - 1]
        return self.with_line(place.line, line[: place.column - 1] + words + line[place.to - 1 :])

    def whole(self, quantity: Quantity) -> Place:
        """The place of a quantity with its second reading, closing bracket and all."""
        line, column, to = quantity.place
        closed = self.lines[line - 1][to - 1 : to] == ")"
        return Place(line, column, to + 1 if quantity.reading is not None and closed else to)

    def puts(self, changes: Iterable[tuple[Place, str]]) -> str:
        """The text with other words at several places."""
        lines = list(self.lines)
        for place, words in sorted(changes, reverse=True):
            line = lines[place.line - 1]
            lines[place.line - 1] = line[: place.column - 1] + words + line[place.to - 1 :]
        return "\n".join(lines)

    def without(self, *lines: int) -> str:
        """The text with what begins on those lines left out; other lines keep their numbers."""
        gone = {number for line in lines for number in self.extent(line)}
        return "\n".join("" if n in gone else text for n, text in enumerate(self.lines, 1))

    def with_before(self, number: int, *new: str) -> str:
        """The text with new lines before a line, at its depth."""
        lines = list(self.lines)
        margin = " " * _depth(lines[number - 1])
        lines[number - 1 : number - 1] = [margin + text for text in new]
        return "\n".join(lines)

    def swapped(self, first: int, second: int) -> tuple[str, int, int]:
        """The text with two neighbours swapped, and the lines where each begins then."""
        one, two = self.extent(first), self.extent(second)
        lines = list(self.lines)
        between = lines[one[-1] : second - 1]
        block = [lines[n - 1] for n in two] + between + [lines[n - 1] for n in one]
        lines[first - 1 : two[-1]] = block
        return "\n".join(lines), first + len(two) + len(between), first

    def without_words(self, names: tuple[Name, ...], word: str) -> list[tuple[Place, str]]:
        """The change that takes a word out of a list of words on one line."""
        changes = []
        for at, name in enumerate(names):
            if name.text != word:
                continue
            line, column, to = name.place
            row = self.lines[line - 1]
            before = re.search(r",\s*$", row[: column - 1])
            behind = re.match(r",\s*", row[to - 1 :])
            if before:
                column = before.start() + 1
            elif behind:
                to += behind.end()
            elif at == 0 and len(names) == 1:  # the last word goes with its keyword
                keyword = re.search(r"\s*wearing\s+$", row[: column - 1])
                column = keyword.start() + 1 if keyword else column
            changes.append((Place(line, column, to), ""))
        return changes

    def without_manner(self, step: Step, word: str) -> str:
        """The text with a manner word taken from a step."""
        name = next(name for name in step.manners if name.text == word)
        line, column, to = name.place
        return self.put(Place(line, column - 1, to), "")

    def header(self, word: str) -> int | None:
        """The line of the head that begins with a word."""
        for number, text in enumerate(self.lines, 1):
            if text.strip() in ("fibre", "equipment", "materials", "steps"):
                return None
            if text.startswith(f"  {word} "):
                return number
        return None


def _flat(body: tuple[Step | Block, ...]) -> Iterator[Step]:
    for part in body:
        if isinstance(part, Block):
            yield from _flat(part.body)
        else:
            yield part


def _depth(text: str) -> int:
    return len(text) - len(text.lstrip())


def _bare(text: str) -> str:
    """A line without its free words."""
    return re.sub(r"\"[^\"]*\"|“[^”]*”", '""', text)


def hazards_of(material: Material) -> list[Entry]:
    """What the data files warn of in a material."""
    tables = vocabulary().tables
    listed = material.entry.words("hazards") if material.entry is not None else ()
    found = [tables["hazards"].get(word) or tables["ghs"].get(word) for word in listed]
    return [entry for entry in found if entry is not None]


def warns(material: Material, column: str) -> bool:
    """Whether the data files call for something (gloves, eyes, air, ...) with a material."""
    return any(hazard.yes(column) for hazard in hazards_of(material))


def written_unit(quantity: Quantity) -> Place | None:
    """Where the unit of the first reading of a quantity stands, if it is one word at its end."""
    text = quantity.text.split("(")[0].rstrip()
    number = re.match(r"(.*[\d½¼¾⅓])(\s*)([^\d\s].*)$", text)
    if number is None or quantity.unit is None:
        return None
    words = re.split(r"\s+of\s+", number.group(3))[0]
    start = quantity.place.column + len(number.group(1)) + len(number.group(2))
    return Place(quantity.place.line, start, start + len(words))


def sound_ones() -> tuple[list[Sound], list[str]]:
    """Every sound example, and what was left out with the reason."""
    found, left_out = [], []
    for path in sorted(EXAMPLES.rglob("*.dye")):
        if "faulty" in path.parts:
            continue
        plan = procedure.load(path)
        heavy = [one for one in plan.findings if one.level != "note"]
        if heavy:
            name = path.relative_to(EXAMPLES).as_posix()
            left_out.append(f"{name} is not sound by itself: {heavy[0].rule}")
        else:
            found.append(Sound(path, plan))
    return found, left_out
