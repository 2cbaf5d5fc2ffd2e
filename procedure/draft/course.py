"""Where a recipe has come to: its fibre, its baths, its ingredients, and the steps so far."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.amount_writing import figure, written
from procedure.draft.doings import Doing
from procedure.draft.lexicon import meanings
from procedure.draft.lot_codes import Codes, Given
from procedure.draft.lot_mentions import LotMention
from procedure.draft.not_read import Span
from procedure.draft.relative import by_fibre, by_other, is_time
from procedure.draft.sentences import Part, Sentence
from procedure.draft.shares import FibreShare, Lot, Picked
from procedure.draft.stock import Measured, Stock, part_played, trade_role
from procedure.draft.things import Thing
from procedure.draft.told_apart import ToldApart
from procedure.draft.unsettled_steps import Bath, Brought, Line, Step, lines_of
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

LEAST_LOTS = 2
NO_POT = '"a pot that the prose does not name"'
NO_VESSEL = '"a vessel that the prose does not name"'


# "Simmer it 25 minutes before the wool goes in": while the fibre is out of it.
STILL_OUT = re.compile(r"\bbefore\s+(?:(?:the|your|my|any)\s+)?(?:[a-z]+\s+)?$", re.I)


def is_still_out(part: Part, fibre: Thing) -> bool:
    """True for the wool of what is done before it goes in."""
    return STILL_OUT.search(part.words[: fibre.start - part.start]) is not None


# "30 per cent of the total weight of fibre": what it is weighed against, and nothing done to it.
WEIGHED_BY = re.compile(
    r"\bweight\s+of\s+(?:all\s+)?(?:(?:the|your|my|our|dry)\s+)*(?:[a-z]+\s+)?$", re.I
)


def is_weighed_by(part: Part, fibre: Thing) -> bool:
    """True for fibre by whose weight something else is measured."""
    return WEIGHED_BY.search(part.words[: fibre.start - part.start]) is not None


# "Take fustic and sumach; boil them together": all of what is listed goes into one bath.
TOGETHER = re.compile(r"\b(?:them|these|both|all)\b[^.;,]{0,16}\btogether\b|\btogether\b", re.I)


SAME_WEIGHT = re.compile(r"(?:the\s+)?same\s+weight", re.I)


def plain_name(words: str) -> str:
    """A name of the language from the words for a thing."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-")[:60].strip("-") or "thing"


def called_in_draft(thing: Thing) -> str:
    """What a material is called: by the vocabulary, or by the prose where no list knows it."""
    return thing.name if vocabulary().material(thing.name) is not None else thing.words


def one_and_many(word: str) -> str:
    """A word without the s of more than one: cone, of cones."""
    return word.lower().removesuffix("s")


class LotWords(NamedTuple):
    """Words that say which of the fibre is meant; ``of_all`` where they mean all of it."""

    start: int
    end: int
    of_all: bool


class Course:
    """What has been said up to a sentence: lots, baths, stock, and the steps that it came to."""

    def __init__(self, text: str, scale: str) -> None:
        self.text, self.scale = text, scale
        lines = [one for one in text.splitlines() if one.strip()]
        quoted = sum(one.startswith(">") for one in lines)
        self.answers = 0 < quoted * 2 <= len(lines)  # lines of another's letter, and the answers
        self.added_in: dict[str, int] = {}  # the last sentence that adds each material by name
        self.steps: list[Step] = []
        self.not_followed: list[tuple[int, str]] = []
        self.declared: set[tuple[int, str]] = set()  # deeds before the recipe that are declared
        self.of_no_bath: set[tuple[int, str]] = set()  # deeds not followed that move no fibre
        self.none_done: dict[int, list[Span]] = {}  # stretches that tell of no deed, by sentence
        self.aims: set[int] = set()  # sentences that tell what the recipe is for
        self.told: list[Sentence] = []
        self.contradicted: dict[int, str] = {}  # acts that tell where fibre is otherwise than steps
        self.unclear: set[int] = set()  # sentences that seem to move fibre, without a step of it
        self.lots: dict[str, Lot] = {}
        self.pots: dict[str, str] = {}
        self.materials: dict[str, str] = {}
        self.stock = Stock()
        self.bath: Bath | None = None
        self.baths: list[Bath] = []
        self.vessels = ToldApart(text, "labelled vessel")
        self.told_lots = ToldApart(text, "labelled lot")
        self.by_label: dict[str, Lot] = {}
        self.codes = Codes(text)
        self.of_code: dict[str, FibreShare] = {}  # the fibre that each code stands for
        self.unbound: list[Given] = []  # codes of which it is not known yet
        self.lots_apart = False  # whether each lot is one of its own, of whatever fibre
        if self.codes.codes:
            self.told_lots.mentions.clear()
        self.picked = Picked()  # which of the fibre has been spoken of
        self.picks: list[Amount] = []  # what says how much that is, until a line has it
        self.lots_told: list[LotWords] = []  # words that say which of the fibre is meant
        self.deed = 0, Doing("", "", 0, 0)  # what was done to a lot last, and its sentence
        self.share: FibreShare | None = None  # the fibre at hand; None for all of it
        self.lot_turned = 0  # the sentence that names it
        self.unknown: LotMention | None = None  # words of fibre that could not be worked out
        self.lifted_after: tuple[int, Amount] | None = None  # how long fibre was in that came out
        self.for_each: set[int] = set()  # amounts of which there is one for each lot or vessel
        self.asked_last = 0, ""  # the sentence that last had such words, and these
        self.which_lot: dict[tuple[int, str], str] = {}  # deeds done to such, and these words
        self.vessel: tuple[str, int] = ("", 0)  # the one turned to, and the sentence that does
        self.in_vessel: dict[str, Bath] = {}
        self.plant: Thing | None = None
        self.by_part: dict[str, dict[str, Thing]] = {}  # the plants named with each part of one
        self.sentence: Sentence | None = None
        self.number = 0
        self.used: set[int] = set()
        self.written: set[int] = set()
        self.lot_written = ""
        self.heading: Doing | None = None  # of a heading, for a list that names no act
        self.called: dict[str, set[str]] = {}  # the words of the prose for each material
        self.headings: set[int] = set()  # sentences that say what those below them are about
        self.liquor: tuple[int, str] = (0, "")  # one that waits to be poured, and its sentence
        self.section = ""  # the kind of bath that the heading above is about
        self.begins_at: tuple[int, Amount] | None = None  # a heat that the next one rises from
        self.part: Part | None = None  # the one that is followed
        self.next_part: Part | None = None  # the one behind it in its sentence
        self.asked_about: set[int] = set()  # amounts of which it is not said what they are for
        self.guessed: dict[int, str] = {}  # what is not sure, with what it may be for
        self.last_measured: tuple[int, Amount, Thing] | None = None  # with its sentence
        self.asked: Thing | None = None  # what a question asks the weight of
        self.spoken_of: Thing | None = None  # what the last sentence names, and does not measure
        self.spoken_together: tuple[Thing, ...] = ()  # a fibre and a stuff, unmeasured
        self.readied: tuple[int, Thing] | None = None  # a plant cut or ground, and its sentence
        self.last_on = ""  # what was worked on: lot, bath
        self.focus = ""  # what "it" and "them" mean: fibre, material, bath
        self.last_time: Amount | None = None
        self.base: Amount | None = None
        self.weighed = False  # whether the recipe says how much fibre it is for
        self.base_of_all: Amount | None = None  # for which every amount of the recipe is said
        self.bases: dict[int, Amount] = {}

    def is_quoted(self, sentence: Sentence) -> bool:
        """True for a line of another's letter that this one answers: "> how much weld?"."""
        line = self.text.rfind("\n", 0, sentence.start) + 1
        return self.answers and self.text[line : line + 1] == ">"

    # What belongs to what.

    def of(self, amount: Amount) -> Thing | None:
        """The thing that an amount of this sentence measures."""
        assert self.sentence is not None
        return self.sentence.of.get(amount.start)

    def free(self, part: Part, *kinds: str) -> list[Amount]:
        """The amounts of a part of these kinds that no step holds yet."""
        return [a for a in part.amounts if a.kind in kinds and a.start not in self.used]

    def names_fibre(self, part: Part) -> bool:
        """True where a part names fibre otherwise than as what something is weighed against."""
        spans = [(a.start, a.end) for a in part.amounts if a.kind in ("relative", "share", "ratio")]
        return any(
            t.kind == "fibre"
            and not any(low <= t.start < high for low, high in spans)
            and not is_still_out(part, t)
            and not is_weighed_by(part, t)
            for t in part.things
        )

    # Lots.

    def lot_name(self) -> str:
        """The lot that shares are of; empty where no fibre is named."""
        return next(iter(self.lots), "")

    def all_lots(self) -> list[Lot]:
        """The lots of a step that names none: all of them, where the prose tells them apart."""
        if len(self.by_label) >= LEAST_LOTS:
            return list(self.by_label.values())
        lots = list(self.lots.values())
        if self.lots_apart:
            return lots
        kinds = {one.fibre for one in lots}
        return lots if len(kinds) == len(lots) and all(kinds) else lots[:1]

    def a_lot(self) -> str:
        """The lot that is worked on; one is declared where the prose names none."""
        if not self.lots:
            lot = Lot("fibre-lot")
            lot.form = "fibre"
            self.lots[lot.name] = lot
        return next(iter(self.lots))

    # Baths.

    def listed_already(self, item: Measured) -> bool:
        """True where the list at hand has this material: which of the two is meant is not said."""
        return item.thing.kind == "material" and any(
            one.thing.name == item.thing.name and one.sentence != item.sentence
            for one in self.stock.items
        )

    def new_bath(self, kind: str = "") -> Bath:
        """A bath in a pot of its own, which becomes the one at hand."""
        self.begin()
        number = len(self.baths) + 1
        pot = f"pot-{number}"
        self.pots[pot] = NO_POT
        name = f"{kind}-bath" if kind else "bath"
        taken = {bath.name for bath in self.baths}
        bath = Bath(name if name not in taken else f"{name}-{number}", pot, kind)
        self.bath = bath
        self.baths.append(bath)
        label, sentence = self.vessel
        if label and (label not in self.in_vessel or sentence == self.number):
            self.in_vessel[label] = bath
        return bath

    def leave_what_is_done(self) -> None:
        """Turn from a mordant's bath that the fibre has left: what comes next is in another."""
        bath = self.bath
        if bath is not None and bath.kind == "mordant" and bath.had_fibre and not bath.fibre:
            self.begin()
            self.bath = None

    def begin(self) -> None:
        """The step that makes the bath at hand, at its first use."""
        bath = self.bath
        if bath is None or bath.prepared is not None:
            return
        step = Step("prepare", self.number, "prepare", bath)
        step.brought = [one for one in bath.stuff if not one.within]
        step.liquors = list(dict.fromkeys(one.within for one in bath.stuff if one.within))
        if not step.liquors and not bath.holds("water"):
            step.brought.insert(0, Brought("water", ()))
        bath.prepared = step
        self.add(step)

    def ready(self) -> Bath:
        """The bath at hand, begun; one is made where the prose names none."""
        if self.bath is None:
            self.draw("")
        if self.bath is None:
            self.new_bath()
        assert self.bath is not None
        self.begin()
        return self.bath

    def draw(self, role: str) -> None:
        """Make a bath of the ingredients that are for one of this kind."""
        if not self.stock:
            return
        role = role or (self.section if self.stock.has(self.section) else "")
        taken = self._taken_together() or self.stock.take(role, self.number)
        named = any(self._is_named_here(one) for one in taken)
        later = [one for one in taken if self._is_added_later(one, named)]
        waits = self.bath is not None and bool(self.bath.stuff)
        if later and (len(later) < len(taken) or waits):
            taken = [one for one in taken if one not in later]
            self.stock.items += later
        if not taken:
            return
        roles = [part_played(one.thing) for one in taken]
        kind = next((one for one in meanings("kind of bath") if one in roles), "")
        kind = kind or ("mordant" if self.section == "mordant" else "")
        bath = self.bath
        if bath is None or bath.begun or (bath.kind and kind and bath.kind != kind):
            bath = self.new_bath(kind)
        elif kind and not bath.kind:
            self.name_kind(bath, kind)
        for one in taken:
            bath.stuff.append(Brought(self.material(one.thing), one.amounts))

    def _is_named_here(self, item: Measured) -> bool:
        """True for what is named again since it was listed, up to this sentence."""
        since = [one for one in self.told if item.sentence < one.number <= self.number]
        return any(
            thing.name == item.thing.name
            for one in since
            for part in one.parts
            for thing in part.things
        )

    def _is_added_later(self, item: Measured, other_named: bool) -> bool:
        """True for the listed vinegar that a later sentence adds by its name.

        So is the listed alum, where the galls are named now (``other_named``): it is for a bath
        of its own.
        """
        role = part_played(item.thing)
        apart = role == "assistant" or (role == "mordant" and other_named)
        if not apart or item.sentence == self.number or self._is_named_here(item):
            return False
        words = set(item.thing.name.split())
        return any(
            number > self.number and words & set(name.split())
            for name, number in self.added_in.items()
        )

    def _taken_together(self) -> list[Measured]:
        """All that was just listed, where "boil them together" is said of it."""
        if self.part is None or not TOGETHER.search(self.part.words) or not self.stock:
            return []
        last = max(item.sentence for item in self.stock.items)
        here = [part_played(one.thing) for one in self.stock.items if one.sentence == last]
        both = {"dye", "mordant"} <= set(here)
        return self.stock.of_sentence(last) if both and last >= self.number - 1 else []

    def has_worked(self, bath: Bath) -> bool:
        """True where a step has kept the bath for a time, or fibre has been in it."""
        timed = any(one.bath is bath and "for" in one.clauses for one in self.steps)
        return timed or bath.had_fibre

    def name_kind(self, bath: Bath, kind: str) -> None:
        """Call a bath by what has turned out to be in it."""
        bath.kind = kind
        name = f"{kind}-bath"
        taken = {other.name for other in self.baths if other is not bath}
        bath.name = name if name not in taken else f"{name}-{len(self.baths)}"

    def material(self, thing: Thing) -> str:
        """The name of a material in the draft, declared at its first use."""
        if thing.kind == "water":
            return "water"
        called = called_in_draft(thing)
        self.called.setdefault(plain_name(called), set()).update(thing.words.lower().split())
        name = plain_name(called)
        self.materials.setdefault(name, called)
        return name

    def tub(self) -> str:
        """The vessel for what needs no pot."""
        self.pots.setdefault("tub", NO_VESSEL)
        return "tub"

    # Steps.

    def add(self, step: Step) -> Step:
        """Append a step, and mark its amounts as taken."""
        self.steps.append(step)
        step.part, step.focus, step.share = self.part, self.focus, self.share
        amounts = [*step.clauses.values(), *step.spoken]
        amounts += [a for one in step.brought for a in one.amounts]
        if step.repeat is not None:
            amounts.append(step.repeat)
        self.used.update(a.start for a in amounts)
        for amount in step.clauses.values():
            if amount.kind == "time":
                self.last_time = amount
        return step

    def on_lot(self, verb: str, clauses: dict[str, Amount] | None = None) -> Step:
        """A step on the fibre."""
        self.a_lot()
        step = Step(verb, self.number, "lot")
        step.clauses = dict(clauses or {})
        self.last_on = "lot"
        return self.add(step)

    def on_bath(self, verb: str, clauses: dict[str, Amount] | None = None) -> Step:
        """A step on the bath at hand."""
        step = Step(verb, self.number, "bath", self.ready())
        step.clauses = dict(clauses or {})
        begins, self.begins_at = self.begins_at, None
        here = begins is not None and self.number - begins[0] <= 1
        if begins and here and "to" in step.clauses and not step.clauses.keys() & {"from", "at"}:
            step.clauses["from"] = begins[1]
        self.last_on = "bath"
        return self.add(step)

    def lines(self) -> list[Line]:
        """The lines of the draft, in order."""
        made: list[Line] = []
        self.written = set()
        begun: Amount | None = None
        for step in _said_once(self.steps):
            self.lot_written = step.lot or names_of(self.all_lots())
            here = lines_of(step, self.lot_written, self.write)
            cycle = step.cycle
            if cycle is not None and here:
                if cycle is not begun:
                    made.append(Line(f"repeat {self.write(cycle, None)}", step.sentence, (cycle,)))
                here = [one._replace(text=f"  {one.text}") for one in here]
                begun = cycle
            made += here
        return [self._with_base(line) for line in made]

    def _with_base(self, line: Line) -> Line:
        """The line with the weight of fibre that its amounts are for, where it is the first."""
        for amount in line.placed:
            here = self.bases.get(self.sentence_at(amount.start), self.base_of_all)
            base = here if amount.per else None
            if base is not None and base.start not in self.used:
                self.used.add(base.start)
                return line._replace(placed=(*line.placed, base))
        return line

    def sentence_at(self, at: int) -> int:
        """The number of the sentence that a place of the text is in; 0 for none."""
        return next((one.number for one in self.told if one.start <= at < one.end), 0)

    def write(self, amount: Amount, bath: Bath | None) -> str | None:
        """An amount in the language; None where it has no form, or a line holds it already."""
        if amount.start in self.written:
            return None
        text = self._in_the_language(amount, bath)
        if text is not None:
            self.written.add(amount.start)
        return text

    def _in_the_language(self, amount: Amount, bath: Bath | None) -> str | None:
        if amount.kind == "relative":
            resolved = by_fibre(amount) if self.lots else None
            amount = resolved or amount
        if amount.kind == "full" and bath is not None and amount.low is not None:
            return f"{figure(amount.low)} of {bath.pot}"
        lot = self.lot_written or self.lot_name()
        several = " and " in lot  # the language has an amount of one lot, or of all that goes in
        return written(amount, "" if several else lot, self.scale)

    def resolved(self, amount: Amount, thing: Thing | None) -> Amount:
        """A relative amount by what was said before, where only one thing can be meant."""
        if amount.kind != "relative":
            return amount
        if is_time(amount):
            named = " as long as " in f" {amount.words.lower()} "  # as another step, not the last
            other = None if named else self.last_time
        elif thing is not None and (SAME_WEIGHT.fullmatch(amount.words) or not by_fibre(amount)):
            other = self._last_of(thing)  # "the same weight of madder", where madder was weighed
        else:
            other = None
        made = by_other(amount, other) if other is not None else None
        return made._replace(kind=made.kind) if made else amount

    def _last_of(self, thing: Thing) -> Amount | None:
        name = "water" if thing.kind == "water" else plain_name(thing.name)
        for bath in reversed(self.baths):
            for one in reversed(bath.stuff):
                if one.name == name and one.amounts:
                    return one.amounts[0]
        return None

    def plain_of(self, thing: Thing) -> str:
        """The name of a material in the draft, which is not declared by that."""
        return plain_name(called_in_draft(thing))

    def plant_of(self, thing: Thing) -> Thing | None:
        """The plant whose part is named; None where none has been named."""
        if thing.kind != "part":
            return thing
        if self.plant is not None:
            return self.plant._replace(start=thing.start)
        if GALL.fullmatch(thing.words):  # of the oak, where no other plant has been named
            return thing._replace(kind="material", name="oak galls")
        return None  # leaves of no plant that the prose has named: it is asked for

    def notice_plant(self, thing: Thing) -> None:
        """Keep the dyestuff that is spoken of, since its parts are named without it.

        "The cones" are those of the one plant that was named with cones, whatever came since.
        """
        if thing.kind == "part":
            plants = list(self.by_part.get(one_and_many(thing.words), {}).values())
            self.plant = plants[0] if len(plants) == 1 else self.plant
        if thing.kind == "material" and trade_role(thing.name) == "dyestuff":
            self.plant = self.plant if self.plant and self.plant.name == thing.name else thing
            part = one_and_many(thing.words.split()[-1])
            self.by_part.setdefault(part, {}).setdefault(thing.name, thing)


GALL = re.compile(r"galls?", re.I)


def names_of(lots: list[Lot]) -> str:
    """Lots by name, as the language joins them."""
    names = [one.name for one in lots]
    return " and ".join([", ".join(names[:-1]), names[-1]] if len(names) > 1 else names)


def _said_once(steps: list[Step]) -> list[Step]:
    """The steps, those said twice running ("boil, boil, and boil") once with all their words."""
    made: list[Step] = []
    for step in steps:
        last = made[-1] if made else None
        if last is not None and _is_bare(step) and _is_bare(last) and _same(step, last):
            last.spoken += step.spoken
            continue
        made.append(step)
    return made


def _is_bare(step: Step) -> bool:
    return step.on == "bath" and not (
        step.clauses or step.brought or step.repeat or step.sign or step.name
    )


def _same(step: Step, last: Step) -> bool:
    return (step.verb, step.bath, step.sentence) == (last.verb, last.bath, last.sentence)
