"""The steps of a draft while they can still change, and the lines that they come to."""

from __future__ import annotations

from collections.abc import Callable

from procedure.draft.amount import Amount
from procedure.draft.plausible import may_measure
from procedure.draft.said_twice import agree, in_per_cent, share_beside
from procedure.draft.sentences import Part
from procedure.draft.shares import FibreShare
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

UNSTATED = "unstated"
ORDER = ("at", "from", "to", "over", "for")
# What a step may hold a heat or a time by; a ceiling and named waits have no clause word.
BARE = frozenset(("named wait",))


class Line(NamedTuple):
    """A line of the draft: its text, the sentence it comes from, the amounts that it holds.

    ``begins`` is where the words of its deed begin in the prose, 0 where none ask for it. ``note``
    are words of the prose that the step keeps as they stand, with the amounts in them.
    """

    text: str
    sentence: int
    placed: tuple[Amount, ...] = ()
    remarks: tuple[str, ...] = ()
    begins: int = 0
    note: tuple[str, tuple[Amount, ...]] = ("", ())


class Bath:
    """A bath while the prose is followed. ``kind`` is mordant, dye, or empty."""

    def __init__(self, name: str, pot: str, kind: str) -> None:
        self.name, self.pot, self.kind = name, pot, kind
        self.stuff: list[Brought] = []
        self.heat: Amount | None = None
        self.before: Bath | None = None  # the bath that is gone on with after this one
        self.prepared: Step | None = None
        self.fibre = False
        self.had_fibre = False
        self.clear = False  # strained, or cooled to be entered
        self.lifted = False  # fibre came out of it of which no words say that it went in
        self.plants_alone = False  # for plants that are drawn again: no fibre goes in
        self.stands_ready = False  # a vat of which the prose does not say what it is made of
        self.dissolved = 0  # the sentence by which its stuff was dissolved in the water that it has

    @property
    def begun(self) -> bool:
        """True once a step has made the bath."""
        return self.prepared is not None

    def holds(self, name: str) -> bool:
        """True where a material of this name has gone in."""
        return any(one.name == name for one in self.stuff)


class Brought:
    """A material or water that a step brings, with the amounts said for it."""

    def __init__(self, name: str, amounts: tuple[Amount, ...]) -> None:
        self.name, self.amounts = name, amounts
        self.again: tuple[Amount, ...] = ()  # the same amounts in another place of the prose
        self.within = ""  # the liquor that it went in with, where it was dissolved apart


class Step:
    """A step: a verb on a lot or on a bath, with what it brings and its clauses.

    ``on`` is ``lot``, ``bath``, ``prepare``, ``add``, ``dissolve``, ``split`` or ``stuff``.
    ``spoken`` are heats that the verb itself says. ``repeat`` is how often it is done.
    """

    def __init__(self, verb: str, sentence: int, on: str, bath: Bath | None = None) -> None:
        self.verb, self.sentence, self.on, self.bath = verb, sentence, on, bath
        self.brought: list[Brought] = []
        self.liquors: list[str] = []  # the names of those that go in with it
        self.clauses: dict[str, Amount] = {}
        self.spoken: list[Amount] = []
        self.repeat: Amount | None = None
        self.cycle: Amount | None = None  # how often it is done, with those beside it
        self.sign = ""
        self.part: Part | None = None  # of the prose, where its words ask for this step
        self.focus = ""  # what "it" meant there
        self.vessel = ""
        self.lot = ""  # the lots that it is about, where the prose tells its lots apart
        self.share: FibreShare | None = None  # what of the fibre it is about; None for all of it
        self.name = ""
        self.note: tuple[str, tuple[Amount, ...]] = ("", ())  # words that it keeps as they stand


Writes = Callable[[Amount, "Bath | None"], "str | None"]


# What comes behind a weight or a volume of the same thing, where both are said.
LATER = frozenset(("spoon", "odd", "loose", "share", "count", "relative"))


class _Writing:
    """The words of one step, with the amounts that got into them."""

    def __init__(self, step: Step, writes: Writes) -> None:
        self.step, self.writes = step, writes
        self.placed: list[Amount] = []
        self.remarks: list[str] = []
        self.said: set[str] = set()

    def say(self, amount: Amount) -> str | None:
        """The amount in the language, kept as placed where it has a form."""
        text = self.writes(amount, self.step.bath)
        if text is not None:
            self.placed.append(amount)
            self._remark(amount)
        return text

    def _remark(self, amount: Amount) -> None:
        if amount.kind == "temperature" and not amount.scale:
            self.remarks.append(f"scale not said: {amount.words}")
        if "(" in amount.words and not amount.reading and amount.kind in ("mass", "volume"):
            self.remarks.append(f"“{amount.words}”")
        if amount.kind in ("odd", "relative", "number", "full"):
            self.remarks.append(f"“{amount.words}”")

    def measured(self, one: Brought) -> str:
        """A material with the first of its amounts that can be written."""
        ranked = sorted(
            one.amounts,
            key=lambda a: a.kind in ("spoon", "odd", "loose", "share", "count", "relative"),
        )
        for at, amount in enumerate(ranked):
            if amount.kind in ("time", "temperature") or not may_measure(amount, one.name):
                continue
            text = self.say(amount)
            if text is not None:
                self.placed += one.again
                return f"{one.name} {text}{self._reading(amount, ranked[at + 1 :])}"
        return f"{one.name} {UNSTATED}"

    def _reading(self, first: Amount, others: list[Amount]) -> str:
        """A second reading of the same thing, which agrees with the first."""
        for other in others:
            if agree(first, other) or share_beside(first, other):
                text = self.say(in_per_cent(other))
                if text is not None and other.per:
                    self.remarks.append(f"“{other.words}”")
                if text is not None:
                    return f" ({text})"
        return ""

    def clauses(self) -> str:
        """The clauses that the verb may have, in the order of the language."""
        may = allowed(self.step.verb)
        said: list[str] = []
        waits: list[str] = []
        for clause in ORDER:
            amount = self.step.clauses.get(clause)
            if amount is None or clause not in may:
                continue
            text = self.say(amount)
            if text is None:
                continue
            self.said.add(clause)
            if amount.kind == "named wait" and not text.startswith(("a ", "some", "until")):
                waits.append(text)
            elif text.startswith("until") or amount.bound:
                said.append(text if clause in ("at", "for") else f"{clause} {text}")
            else:
                said.append(f"{clause} {text}")
        said += self._until(may)
        return "".join(f" {one}" for one in [*said, *waits])

    def _until(self, may: frozenset[str]) -> list[str]:
        made: list[str] = []
        until = self.step.clauses.get("until")
        if until is not None and "until" in may:
            text = self.say(until)
            made += [f"until {text}"] if text else []
        elif self.step.sign and "until" in may:
            made.append(f'until "{self.step.sign}"')
        if made:
            self.said.add("until")
        ceiling = self.step.clauses.get("ceiling")
        if ceiling is not None and self.step.on in ("lot", "bath"):
            text = self.writes(ceiling._replace(bound="", about=False), self.step.bath)
            if text:
                self.placed.append(ceiling)
                self._remark(ceiling)
                made.append(f"never above {text}")
        return made


def allowed(verb: str) -> frozenset[str]:
    """The clauses that a verb of the language may have."""
    known = vocabulary().verbs[verb]
    return known.may | {one for need in known.needs for one in need.split("|")}


def lacks(step: Step, said: set[str]) -> bool:
    """True where a step on a bath has none of the clauses that its verb cannot do without."""
    needs = vocabulary().verbs[step.verb].needs
    return step.on == "bath" and bool(needs) and not said & set(needs[0].split("|"))


def lines_of(step: Step, lot: str, writes: Writes) -> list[Line]:
    """The lines that a step comes to: one, or two where it is repeated."""
    writing = _Writing(step, writes)
    text = _text(step, lot, writing)
    if lacks(step, writing.said):
        return []
    lines: list[Line] = []
    if step.repeat is not None:
        times = writes(step.repeat, step.bath)
        if times:
            lines.append(Line(f"repeat {times}", step.sentence, (step.repeat,)))
            text = f"  {text}"
    placed = (*writing.placed, *step.spoken)
    begins = step.part.start if step.part is not None else 0
    remarks = tuple(writing.remarks)
    lines.append(Line(text, step.sentence, placed, remarks, begins, step.note))
    return lines


def _solids_and_water(step: Step, writing: _Writing) -> tuple[list[str], list[str]]:
    made: tuple[list[str], list[str]] = ([], [])
    for one in step.brought:
        made[one.name == "water"].append(writing.measured(one))
    return made


def _text(step: Step, lot: str, writing: _Writing) -> str:
    if step.on == "dissolve":
        solids, water = (", ".join(one) for one in _solids_and_water(step, writing))
        return f"{step.name}: dissolve {solids} in {step.vessel} with {water}{writing.clauses()}"
    brought = ", ".join([*step.liquors, *(writing.measured(one) for one in step.brought)])
    if step.on == "prepare":
        assert step.bath is not None
        heat = f" at {step.bath.heat.unit}" if step.bath.heat else ""
        if step.bath.heat:
            writing.placed.append(step.bath.heat)
        return f"{step.bath.name}: prepare in {step.bath.pot} with {brought}{heat}"
    if step.on == "split":
        return f"{step.verb} {lot} into {step.name}"
    if step.on == "stuff":
        return f"{step.verb} {step.name}"
    if step.on == "add":
        assert step.bath is not None
        return f"add {brought or step.name} to {step.bath.name}{writing.clauses()}"
    if step.on == "bath":
        assert step.bath is not None
        return f"{step.verb} {step.bath.name}{writing.clauses()}"
    place = f" in {step.bath.name}" if step.bath else f" in {step.vessel}" if step.vessel else ""
    using = f" with {brought}" if brought else ""
    return f"{step.verb} {lot}{place}{using}{writing.clauses()}"
