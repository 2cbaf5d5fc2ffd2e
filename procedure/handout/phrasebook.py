"""What the prose needs to know besides the step: the plan, the voice, what happens when."""

from __future__ import annotations

import re
from dataclasses import dataclass, field, replace
from fractions import Fraction

from procedure.facts.handling import right_name
from procedure.facts.study import Study
from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.model import Item, Name, Quantity, Step
from procedure.paper.measures import NARROW, Voice, minutes
from procedure.paper.pieces import (
    Blank,
    Figure,
    Phrase,
    Words,
    is_plural,
    joined,
    phrase,
    spaced,
)
from procedure.pipeline import Judged
from procedure.quantity.number_words import SHARES, in_words
from procedure.trace import Moment
from procedure.trace.amounts import Amount, over_passes
from procedure.vocabulary import vocabulary
from procedure.vocabulary.effects import effects
from procedure.vocabulary.estimates import spoon_weights
from procedure.weigh import stock_solutions

# A bath that is called no more than this is named by what makes it.
BARE = "bath"
_NAMING = frozenset(("mordant", "tannin", "dyestuff", "acid", "alkali"))
# Heats that are verbs as well are said with “the”: at the boil, to the simmer.
_NAMED_HEATS = frozenset(effect.heat for effect in effects().values() if effect.heat)
_NOUNS_OF_HEAT = ("heat", "temperature")
# An amount of which the figures print nothing.
_NOUGHT = re.compile(r"0\b(?![.,])(?! to)")
# Loose measures that come before a noun without “of”.
_WITHOUT_OF = frozenset(("some", "any", "enough", "a few"))


# From so many on, the lots of a plan are not named one by one where a step takes them all.
MANY_LOTS = 5


# What the writer says of each of several lots: “it is cool”.
_OF_SEVERAL = re.compile(r"^it (is|has|was)\b")
_THEY = {"is": "they are", "has": "they have", "was": "they were"}


def _names_by_name_in_full(study: Study) -> dict[str, dict[str, set[str]]]:
    """What the writer calls materials, by their names in the trade and then by their states."""
    found: dict[str, dict[str, set[str]]] = {}
    for made, _ in study.flow.materials.values():
        found.setdefault(made.in_full, {}).setdefault(made.state, set()).add(made.name.text)
    return found


@dataclass(frozen=True, slots=True)
class Telling:
    """A plan about to be told: ``numbers`` are the steps' printed numbers by node.

    ``turn`` is the thing that is spoken of as this one, in a step told for each of several;
    ``known`` are those that were named just before, which are spoken of as it or them.
    ``brief`` leaves out what goes without saying; ``apart`` tells the steps of a ``for each``
    for each of its values, even where they are alike.
    """

    plan: Judged
    voice: Voice
    moments: dict[int, list[Moment]] = field(default_factory=dict)
    numbers: dict[int, str] = field(default_factory=dict)
    turn: str = ""
    known: tuple[str, ...] = ()
    brief: bool = False
    apart: bool = False

    # -------------------------------------------------------------- names

    def name(self, thing: str) -> Words:
        """A thing's name as words; what harms by its full name, with the nickname beside it."""
        own = self.own_name(thing)
        return Words(self.in_full(thing, own.text))

    def in_full(self, thing: str, own: str) -> str:
        """``caustic soda (lye in the list)``; ``own``, the writer's name, where that will do."""
        right = self.voice.spelt(right_name(self.plan.study, thing))
        return f"{right} ({own} in the list)" if right and right != own else own

    def own_name(self, thing: str) -> Words:
        """What the writer calls it; in a turn of several, without the name of the turn."""
        called = self.plan.study.called(thing)
        if self.turn:
            called = called.removeprefix(f"{self.plan.study.called(self.turn)}.")
        said = spaced(called)
        return Words(f"{self._what_in(thing)} {said}".strip() if said == BARE else said)

    def _what_in(self, bath: str) -> str:
        """The name of what makes a bath, for one that its writer called no more than bath."""
        made = self.plan.flow.baths.get(bath, -1)
        if made < 0:
            return ""
        things = [thing for thing, _ in self.plan.flow.nodes[made].materials if thing != WATER]
        named = [
            self.plan.flow.materials[one][0] for one in things if one in self.plan.flow.materials
        ]
        main = [one for one in named if _NAMING & set(one.roles)] or named
        return spaced(main[0].name.text) if main else ""

    def real_name(self, thing: str) -> Phrase:
        """A material as the trade calls it; the writer's name where that tells more.

        Where two materials of a plan have one name in the trade, the writer's own is added.
        """
        found = self.plan.flow.materials.get(thing)
        if found is None or found[0].entry is None:
            return (self.name(thing),)
        real = found[0].in_full
        alike = self.plan.study.once(_names_by_name_in_full)[real]
        own = {found[0].name.text}
        if any(names != own for state, names in alike.items() if state != found[0].state):
            return phrase(real, " (", self.own_name(thing), ")")
        if found[0].strength is not None:
            return phrase(real, " (", Words(found[0].strength.text.replace(" ", NARROW)), ")")
        return (real,)

    def the(self, thing: str) -> Phrase:
        """``the yarn``, ``the gold lot``, ``the alum bath``, ``pot 1``, ``water``."""
        if self.known == (thing,):
            return ("them" if self.many(self.known) else "it",)
        if thing and thing == self.turn:
            return (f"this {self._kind(thing)}",)
        lot = " lot" if self._needs_lot(thing) else ""
        called = self.plan.study.called(thing)
        bare = thing == WATER or (not lot and _numbered(called)) or _with_article(called)
        return phrase("" if bare else "the ", self.name(thing), lot)

    def _kind(self, thing: str) -> str:
        """What a thing is, in a word: lot, bath, pot, tub."""
        if thing in self.plan.flow.lots:
            return "lot"
        if thing in self.plan.flow.baths:
            return "bath"
        pot = self.plan.flow.pots.get(thing)
        return pot[0].kind.name if pot is not None and pot[0].kind is not None else "one"

    def _needs_lot(self, thing: str) -> bool:
        """True for a lot whose name alone does not tell that it is fibre: gold, deep."""
        if thing not in self.plan.flow.lots:
            return False
        words = spaced(self.plan.study.called(thing)).split(" ")
        last = words[-1]
        unit = vocabulary().units.get(last)
        counted = unit is not None and unit.kind == "count"
        known = counted or vocabulary().find(last, "fibres", "form") is not None
        return not known and not is_plural(last) and "lot" not in words

    def the_all(self, things: tuple[str, ...]) -> Phrase:
        """``the gold and the moss``."""
        if things and self.known == things:
            return ("them" if self.many(things) else "it",)
        if self.brief and self.is_every_lot(things):
            return (f"all {in_words(len(things))} lots",)
        return joined(self.the(thing) for thing in things)

    def the_fibre(self, node: FlowNode) -> Phrase:
        """What a step is done to: its lots, or what is written where no lot is there (any more)."""
        if node.lots:
            return self.the_all(node.lots)
        return self.as_written(node) or ("the fibre",)

    def as_written(self, node: FlowNode) -> Phrase:
        """The names that a step is done to, where they name nothing that is there: ``“yarn”``."""
        step = node.step
        if not isinstance(step, Step):
            return ()
        passes = self.moments.get(node.id)
        known = {*node.lots, *([thing for thing, _, _ in passes[0].amounts] if passes else ())}
        if step.verb is None or step.verb.group != "fibre":
            known |= self.plan.flow.baths.keys() | self.plan.flow.pots.keys()
            known |= self.plan.flow.lots.keys()
        said: list[Phrase] = []
        for item in step.objects:
            if item.name is None or node.names.get(item.name.text, item.name.text) in known:
                continue
            amount = f" ({item.quantity.text})" if item.quantity is not None else ""
            said.append((Words(f"“{item.name.text}”{amount}"),))
        return joined(said)

    def is_every_lot(self, things: tuple[str, ...]) -> bool:
        """True of many lots that are all there are in the end."""
        return len(things) >= MANY_LOTS and set(things) == self._last_lots()

    def _last_lots(self) -> set[str]:
        """The lots that are not divided or joined any more."""
        lots = self.plan.flow.lots
        return set(lots) - {part for origin in lots.values() for part in origin.parts}

    def many(self, things: tuple[str, ...]) -> bool:
        """True where several things, or one with a plural name, are spoken of."""
        if len(things) == 1 and things[0] == self.turn:
            return False
        if not things:
            return False  # what is not known is spoken of as it
        return len(things) > 1 or (
            is_plural(self.plan.study.called(things[0])) and not self._needs_lot(things[0])
        )

    def named(self, node: FlowNode, name: Name) -> Phrase:
        """What a name of the step's file means, with its article."""
        return self.the(node.names.get(name.text, name.text))

    def item(self, node: FlowNode, item: Item) -> Phrase:
        """A place or thing that a clause names, or the writer's free words for it."""
        if item.name is not None:
            return self.named(node, item.name)
        if item.words is not None:
            return (Words(item.words.text),)
        return (Words(item.quantity.text),) if item.quantity is not None else ()

    def number_after(self, node: FlowNode, label: str) -> str:
        """The printed number of the step that a node comes ``after`` by hand; empty if none."""
        for edge in self.plan.flow.edges:
            if edge.kind == "order" and edge.after == node.id and edge.thing == label:
                return self.numbers.get(edge.before, "")
        return ""

    # -------------------------------------------------------------- heats and times

    def heat(self, quantity: Quantity, preposition: str = "at") -> Phrase:
        """``at 30 °C (86 °F)``, ``at the boil (95 to 100 °C, 203 to 212 °F)``, ``at ____ °C``."""
        lead = f"{preposition} " if preposition else ""
        if quantity.kind == "unstated":
            return phrase(
                lead, Blank("heat", self.voice.heat_unit), " (the source does not say how hot)"
            )
        if quantity.kind == "acidity" and quantity.known:
            bound, _, number = quantity.text.partition("pH ")  # at pH at least 9, not at at least
            return (f"{lead}pH{NARROW}{bound}{number.replace(' ', NARROW)}",)
        if quantity.kind != "temperature" or quantity.low is None or quantity.high is None:
            return phrase(lead, Words(quantity.text))
        low, high = _said_ends(quantity)
        if quantity.bound:
            said = self.voice.heat(low, high, written=quantity.unit)
            return (f"{lead}{said}{ENDS_OF_BOUNDED[quantity.bound]}",)
        if not quantity.word:
            said = self.voice.heat(low, high, quantity.about, quantity.unit)
            return (f"{lead}{said}",)
        boiling = self.plan.trace.boiling
        low, high = min(low, boiling), min(high, boiling)
        said = self.voice.heat(low, high).replace(" (", ", ").removesuffix(")")
        if quantity.word in _NAMED_HEATS:
            return (f"{lead}the {quantity.word} ({said})",)
        if not quantity.word.endswith(_NOUNS_OF_HEAT):  # hand-hot, but at blood heat
            lead = "" if preposition == "at" else lead
        return (f"{lead}{quantity.word} ({said})",)

    def time(self, quantity: Quantity, preposition: str = "for") -> Phrase:
        """``for 1 hour``, ``overnight (8 to 16 hours)``, ``for ____``."""
        lead = f"{preposition} " if preposition else ""
        if quantity.kind == "unstated":
            return phrase(lead, Blank("time", "min"), " (the source does not say how long)")
        if quantity.kind != "time" or quantity.low is None or quantity.high is None:
            return phrase(lead, Words(quantity.text))
        low, high = _said_ends(quantity)
        lead += _BOUNDED[quantity.bound]
        if quantity.word and quantity.bound:
            return (f"{lead}{minutes(low, high)}",)
        if quantity.word:
            return (f"{lead if quantity.loosely else ''}{self.wait(quantity.word)}",)
        return (f"{lead}{minutes(low, high, quantity.about)}",)

    def wait(self, word: str) -> str:
        """``overnight (8 to 16 hours)``."""
        known = vocabulary().heats[word]
        said = "until the next day" if word == "until-next-day" else word
        return f"{said} ({minutes(known.low, known.high)})"

    def waits(self, step: Step) -> tuple[str, ...]:
        """The named waits among a step's manner words."""
        words = vocabulary().heats
        names = [name.text for name in step.manners if name.text in words]
        return tuple(self.wait(name) for name in names if words[name].kind == "wait")

    def lasting(self, step: Step) -> Phrase:
        """How long: ``for 1 hour``, ``overnight (…)``; empty where nothing is said."""
        said = [self.time(step.lasting)] if step.lasting is not None else []
        return joined([*said, *((wait,) for wait in self.waits(step))], "and")

    def until(self, step: Step) -> Phrase:
        """``until the water runs clear``, ``until it is at 40 °C``; empty where not said."""
        if step.until is None:
            return ()
        if step.until.words is not None:
            said = step.until.words.text
            if len(step.objects) > 1:  # several lots rest “until it is cool”: they are, then
                said = _OF_SEVERAL.sub(lambda found: _THEY[found[1]], said)
            return phrase("until ", Words(said))
        quantity = step.until.quantity
        if quantity is not None and quantity.kind == "time":
            return self.time(quantity, "until")
        if quantity is not None:
            return self.heat(quantity, "until it is at")
        return phrase("until ", Words(step.until.name.text)) if step.until.name else ()

    # -------------------------------------------------------------- amounts

    def figure(self, quantity: Quantity, amount: Amount) -> Figure:
        """An amount to print, as wide as the writer wrote it."""
        low, high = amount.low, amount.high
        if quantity.about and quantity.low is not None and quantity.high is not None:
            first, last = unwidened(quantity)
            if quantity.low > 0:
                low = low / quantity.low * first
            elif quantity.high > 0:
                low = high / quantity.high * first
            if quantity.high > 0:
                high = high / quantity.high * last
        return Figure(amount.kind, low, high, quantity.about)

    def share(self, quantity: Quantity) -> Phrase:
        """``a quarter``, ``two thirds``, ``1/5``; empty for what is no share."""
        if quantity.kind not in ("share", "percent") or quantity.low is None:
            return ()
        low, high = unwidened(quantity)
        if low == high and low in SHARES:
            return phrase("about " if quantity.about else "", SHARES[low])
        if low == high and low.denominator == 1 and low > 1:
            return (Words(f"{low} times"),)
        return (Words(quantity.text.partition(" of ")[0]),)

    def brought(self, node: FlowNode, at: int) -> Phrase:
        """One thing that a step brings, with its amount: ``28.8 g of alum``."""
        passes = self.moments.get(node.id, [])
        thing, item, _ = passes[0].amounts[at]
        amounts = [moment.amounts[at][2] for moment in passes]
        plain = f"{item.water_said} water" if item.water_said else "water"
        name: Phrase = self.real_name(thing) if thing != WATER else (plain,)
        own_heat = (thing == WATER and node.does.adds) or _liquors_of_several_heats(node)
        if item.heat is not None and own_heat:
            name = self._at_its_heat(name, item.heat)
        quantity = item.quantity
        if thing in self.plan.flow.baths:
            return self._of_bath(node, thing, quantity, amounts)
        if quantity is None:
            return self._unmeasured(node, thing, name, over_passes(amounts))
        if quantity.kind == "unstated":
            blank = self.blank_of(thing)
            return phrase(blank, " of ", name, " (the source does not say how much)")
        if quantity.kind == "loose":
            word = quantity.word
            bare = word in _WITHOUT_OF or word == "a little"
            return phrase(f"{word} " if bare else f"{word} of ", name)
        amount = over_passes(amounts)
        if amount is None:
            return phrase(name, " (", Words(quantity.text), ")")
        material = self.plan.flow.materials.get(thing)
        if material is not None:
            poured = stock_solutions.poured(material[0], quantity, amount)
            if poured is not None and poured.amount is None:
                return phrase(name, " (", Words(quantity.text), ")")
            amount = poured.amount if poured is not None and poured.amount else amount
        said = phrase(self.figure(quantity, amount), " of ", name)
        if quantity.kind.startswith("spoon"):
            return self._by_spoon(thing, quantity, amount, name)
        if quantity.kind == "share" and quantity.base:
            return phrase(said, " (", self._share_of(node, thing, quantity, amount.kind), ")")
        return said

    def _by_spoon(self, thing: str, quantity: Quantity, amount: Amount, name: Phrase) -> Phrase:
        """What is written by the spoon, cup or drop, and what that comes to.

        What is too little for the figures of this paper is told as it is written alone.
        """
        figure = self.figure(quantity, amount)
        pours = self.pours(thing)
        if pours and self.too_little(amount.kind, amount.low, amount.high):
            return phrase(Words(quantity.text), " of ", name)
        material = self.plan.flow.materials.get(thing)
        solution = material is not None and material[0].strength is not None
        if amount.kind == "volume" and not solution and not pours:
            # What a spoon of it weighs is not known.
            loose = (" (", figure, ", a loose measure)")
            return phrase(Words(quantity.text), " of ", name, *loose)
        return phrase(figure, " of ", name, " (", Words(quantity.text), ", a loose measure)")

    def _at_its_heat(self, name: Phrase, heat: Quantity) -> Phrase:
        """``water at 60 °C``, ``cold water (5 to 25 °C)``."""
        said = self.heat(heat)
        word, first = heat.word, said[0]
        if word and isinstance(first, str) and first.startswith(f"{word} ("):
            return phrase(f"{word} ", name, first.removeprefix(word), *said[1:])
        return phrase(name, " ", said)

    def too_little(self, kind: str, low: Fraction, high: Fraction) -> bool:
        """Whether the figures of this paper make nothing of an amount that is something."""
        return high > 0 and _NOUGHT.match(self.voice.amount(kind, low, high)) is not None

    def blank_of(self, thing: str) -> Blank:
        """A place to write how much of a thing is taken: of a liquid in a unit of volume."""
        if thing == WATER:
            return Blank("amount", self.voice.volume_unit)
        material = self.plan.flow.materials.get(thing)
        dissolved = material is not None and material[0].strength is not None
        unit = self.voice.mass_unit
        if dissolved or self.pours(thing):
            unit = self.voice.small_volume_unit
        return Blank("amount", unit)

    def _unmeasured(self, node: FlowNode, thing: str, name: Phrase, ready: Amount | None) -> Phrase:
        """What is taken with no amount: all that was made ready of it, or a blank to fill in."""
        if isinstance(node.step, Step) and _readies(node.step):
            return phrase("the ", name)
        if ready is not None and ready.again:
            figure = Figure(ready.kind, ready.low, ready.high, False)
            return phrase("the same ", figure, " of ", name, " again")
        if ready is not None:
            return phrase(Figure(ready.kind, ready.low, ready.high, False), " of ", name)
        return phrase(self.blank_of(thing), " of ", name, " (no amount is written)")

    def _share_of(self, node: FlowNode, thing: str, quantity: Quantity, kind: str) -> Phrase:
        """``the rest``, ``half of it``, ``half the weight of the yarn``."""
        share = self.share(quantity)
        if quantity.left:
            return ("the rest",) if quantity.low == 1 else phrase(share, " of the rest")
        if node.names.get(quantity.base) == thing:
            return phrase(share, " of it")
        of = " of " if kind != "mass" else " the weight of "
        return phrase(share, of, self._base(node, quantity))

    def pours(self, thing: str) -> bool:
        """True for a liquid, of which a spoon is a true measure."""
        material = self.plan.flow.materials.get(thing)
        weighs = spoon_weights().get(material[0].called) if material is not None else None
        return thing == WATER or (weighs is not None and weighs.liquid)

    def _of_bath(
        self, node: FlowNode, thing: str, quantity: Quantity | None, amounts: list[Amount | None]
    ) -> Phrase:
        """So much of another bath: a share of that bath itself, or of something else."""
        if quantity is None:
            return phrase("all of ", self.the(thing))
        if quantity.kind == "unstated":
            blank = Blank("amount", self.voice.volume_unit)
            return phrase(blank, " of ", self.the(thing), " (the source does not say how much)")
        amount = over_passes(amounts)
        other = quantity.kind in ("share", "percent", "ratio") and quantity.base
        if other and not quantity.left and node.names.get(quantity.base) != thing:
            if amount is None:
                return phrase(self.the(thing), " (", Words(quantity.text), ")")
            share = phrase(self.share(quantity), " of ", self._base(node, quantity))
            said = share if quantity.kind == "share" else (Words(quantity.text),)
            return phrase(self.figure(quantity, amount), " of ", self.the(thing), " (", said, ")")
        if amount is None:
            return phrase(self.share(quantity) or Words(quantity.text), " of ", self.the(thing))
        figure = self.figure(quantity, amount)
        if quantity.kind == "share":
            return phrase(self.share(quantity), " of ", self.the(thing), ", ", figure, ",")
        return phrase(figure, " of ", self.the(thing))

    def _base(self, node: FlowNode, quantity: Quantity) -> Phrase:
        """What a share is of, by its name: “it” would be the thing that is shared."""
        if self.known:
            return replace(self, known=())._base(node, quantity)
        named = [self.the(node.names.get(base, base)) for base in quantity.bases]
        return joined(named)

    def brings(self, node: FlowNode, water_first: bool = True) -> Phrase:
        """All that a step brings, as a list."""
        passes = self.moments.get(node.id)
        if not passes:
            return ()
        order = list(range(len(passes[0].amounts)))
        if water_first:
            order.sort(key=lambda i: passes[0].amounts[i][0] != WATER)
        # “put bag in pot with water 5 L”: the bag of plants is what the bath is made of.
        bag = [self.the(node.bag)] if node.bag and node.does.makes_bath else []
        return joined([*(self.brought(node, i) for i in order), *bag])

    def water_and_rest(self, node: FlowNode) -> tuple[Phrase, Phrase]:
        """The water that a step brings, and all else that it brings."""
        passes = self.moments.get(node.id)
        if not passes:
            return (), ()
        every = [(thing == WATER, i) for i, (thing, _, _) in enumerate(passes[0].amounts)]
        return (
            joined(self.brought(node, i) for water, i in every if water),
            joined(self.brought(node, i) for water, i in every if not water),
        )

    def part_of_bath(self, node: FlowNode, quantity: Quantity) -> Phrase:
        """So much of the step's own bath: ``a quarter of the grey bath, 4.5 L``."""
        moment = self.moments[node.id][0] if self.moments.get(node.id) else None
        bath = moment.bath_before if moment is not None else None
        of: Phrase = phrase(" of ", self.the(node.bath)) if node.bath else ()
        if not quantity.known:
            return phrase(Words(quantity.text), of)
        low, high = unwidened(quantity)
        if quantity.kind == "volume":
            return phrase(Figure("volume", low, high, quantity.about), of)
        share = self.share(quantity)
        if not share or bath is None or bath.volume is None:
            return phrase(share or Words(quantity.text), of)
        figure = Figure("volume", low * bath.volume[0], high * bath.volume[1], quantity.about)
        return phrase(share, of, ", ", figure)


def _with_article(name: str) -> bool:
    """True for a name that has an article or an owner of its own: the old kettle, my pot."""
    return spaced(name).lower().startswith(("the ", "my ", "our ", "a ", "an "))


def _numbered(name: str) -> bool:
    """True for a name that is told apart by a number or a letter: pot 1, lot a."""
    word, _, number = spaced(name).rpartition(" ")
    return bool(word) and (number.isdigit() or len(number) == 1)


# How a heat ends that is only a bound; a time right behind it would read as bounded too.
ENDS_OF_BOUNDED = {"least": " at the least", "most": " at the most"}
_BOUNDED = {"": "", "least": "at least ", "most": "at most "}


def _said_ends(quantity: Quantity) -> tuple[Fraction, Fraction]:
    """The ends as written; of a bound, the one end that was written, twice."""
    low, high = unwidened(quantity)
    if quantity.bound == "least":
        return low, low
    return (high, high) if quantity.bound == "most" else (low, high)


def unwidened(quantity: Quantity) -> tuple[Fraction, Fraction]:
    """The ends as written: ``about`` widened each by its last digit."""
    low, high = quantity.ends
    if not quantity.about:
        return low, high
    return low + 2 * quantity.slack_low, high - 2 * quantity.slack_high


def _liquors_of_several_heats(node: FlowNode) -> bool:
    """True where a step brings “3 L cold water and 1 L boiling water”: which is which is told.

    So it is of boiling water and so much vinegar that the two together are not as hot.
    """
    waters = [item for thing, item in node.materials if thing == WATER]
    heats = [item.heat.ends for _, item in node.materials if item.heat is not None]
    step = node.step
    at = step.at.quantity if isinstance(step, Step) and step.at is not None else None
    if not heats or len(waters) > 1 or at is None:
        return bool(heats) and len(waters) > 1
    return not any(low <= at.ends.low and at.ends.high <= high for low, high in heats)


def _readies(step: Step) -> bool:
    """True where all of a plant or salt is meant by its name: made ready, or taken out again."""
    does = step.does
    taken_out = does.lifts_matter or does.throws_matter_out or does.presses_plants
    return taken_out or (step.verb is not None and step.verb.group == "material")
