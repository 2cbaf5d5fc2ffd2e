"""What is done, sentence by sentence, to lines of a draft: which bath, which lot, what is in it."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from typing import NamedTuple

from procedure.draft.amounts import Amount
from procedure.draft.lines import Line, figure, written
from procedure.draft.sentences import Doing, Part, Sentence, Thing
from procedure.vocabulary import vocabulary


class Measured(NamedTuple):
    """A thing with the amounts that the prose gives for it."""

    thing: Thing
    amounts: tuple[Amount, ...]


class Bath:
    """A bath while the prose is followed. ``kind`` is mordant, dye, or empty."""

    def __init__(self, name: str, pot: str) -> None:
        self.name, self.pot, self.kind = name, pot, ""
        self.stuff: list[tuple[str, tuple[Amount, ...], int]] = []
        self.heat: Amount | None = None
        self.begun = False
        self.fibre = False
        self.had_fibre = False


class Lot:
    """A lot of fibre as the prose names it."""

    def __init__(self, name: str) -> None:
        self.name, self.fibre, self.form = name, "", ""
        self.weight: Amount | None = None
        self.pieces: Amount | None = None
        self.each: Amount | None = None


SHOPPING = re.compile(r"(?:buy|to buy|shopping|shopping list)\b\s*:", re.I)
BEFORE = re.compile(r"\b(?:been|had|has|have|previously|already|was|were)\s+(?:\w+ly\s+)?$", re.I)


def plain_name(words: str) -> str:
    """A name of the language from the words for a thing."""
    return re.sub(r"[^a-z0-9]+", "-", words.lower()).strip("-") or "thing"


class Course:
    """Follows sentences, and keeps the lines that they come to."""

    def __init__(self, text: str, scale: str) -> None:
        self.text, self.scale = text, scale
        self.lines: list[Line] = []
        self.not_followed: list[tuple[int, str]] = []
        self.told: list[Sentence] = []
        self.lots: dict[str, Lot] = {}
        self.pots: dict[str, tuple[str, tuple[Amount, ...], int]] = {}
        self.materials: dict[str, str] = {}
        self.pool: list[tuple[Thing, tuple[Amount, ...], int]] = []
        self.bath: Bath | None = None
        self.all_baths: list[Bath] = []
        self.baths = 0
        self.plant: Thing | None = None
        self.sentence: Sentence | None = None
        self.base: Amount | None = None
        self.unit_of_time = ""
        self.fresh_at = -1
        self.used: set[int] = set()
        self.number = 0
        self.last_on = ""
        self.subject = ""
        self.wet = False

    # What is said of one sentence.

    def follow(self, sentence: Sentence) -> None:
        """Follow one sentence."""
        self.sentence, self.number = sentence, sentence.number
        self.told.append(sentence)
        self._base_of_ratio(sentence)
        for part in sentence.parts:
            for thing in part.things:
                if thing.kind == "material" and _role(thing.name) == "dyestuff":
                    self.plant = (
                        self.plant if self.plant and self.plant.name == thing.name else thing
                    )
        for part in _in_order(sentence):
            before = (len(self.lines), len(self.used), self._held())
            self._follow_part(part)
            if part.doing.act and before == (len(self.lines), len(self.used), self._held()):
                self.not_followed.append((sentence.number, part.doing.words))

    def _held(self) -> int:
        return sum(len(bath.stuff) for bath in self.all_baths) + len(self.pool)

    def _base_of_ratio(self, sentence: Sentence) -> None:
        """Amounts "for each 100 g of yarn" are shares of the yarn."""
        self.base = None
        for part in sentence.parts:
            for amount in part.amounts:
                of = sentence.of.get(amount.start)
                before = self.text[max(0, amount.start - 12) : amount.start].lower()
                if (
                    of
                    and of.kind == "fibre"
                    and amount.kind == "mass"
                    and (
                        re.search(r"\b(?:each|every|per)\s+$", before)
                        or amount.words.lower().startswith(("every", "each"))
                    )
                ):
                    self.base = amount

    def _follow_part(self, part: Part) -> None:
        if SHOPPING.match(self.sentence.words if self.sentence else ""):
            return
        self._declare_fibre(part)
        if part.doing.act in ("enter", "dye", "boil", "simmer", "strain", "hold", "leave", "put"):
            amounts = [a for a in part.amounts if self._of(a) is not None]
            if not amounts:
                self._turn_to(part)
        act = part.doing.act or self._silent_act(part)
        for amount in part.amounts:
            if amount.kind == "time":
                self.unit_of_time = self.unit_of_time or amount.unit
        handler: Callable[[Part], None] | None = getattr(self, f"_{act}", None)
        if handler is not None:
            handler(part)
            self._more_time(part)

    def _more_time(self, part: Part) -> None:
        """A second time of the same bath, said in the same breath."""
        more = [a for a in self._free(part, "time") if not a.bound]
        bath = self.bath
        if len(more) != 1 or bath is None or not bath.begun or self.last_on != "bath":
            return
        before = self.text[max(0, more[0].start - 14) : more[0].start].lower()
        line = self.lines[-1].text if self.lines else ""
        if re.search(r"\b(?:for|then|another|stay|there|leave)\s*$", before) and bath.name in line:
            self.emit(f"hold {bath.name} for {self._write(more[0])}", more)

    def _silent_act(self, part: Part) -> str:
        """What a list without a verb stands for."""
        for amount in self._free(part, "times"):
            said = amount.words.lower()
            if "rins" in said or "dip" in said or "wash" in said:
                return "rinse" if "rins" in said else "dip" if "dip" in said else "wash"
        stuff = self._stuff(part)
        timed = any(a.kind in ("time", "named wait") for a in part.amounts)
        heated = any(a.kind in ("temperature",) or self._bare_heat(a) for a in part.amounts)
        if stuff and (timed or heated or self.lines):
            self._supply(part)
            if not (timed or heated):
                return ""
            return "hold"
        if stuff:
            self._gather(part)
            return ""
        return "hold" if (timed or heated) and self.bath is not None else ""

    def _gather(self, part: Part) -> None:
        """What is taken or listed before it is used."""
        for thing, amounts in self._stuff(part):
            if amounts:
                self.pool.append((thing, amounts, self.number))
                self.used.update(a.start for a in amounts)
                if thing.kind == "material":
                    self.subject = "material"
        heats, times = self._heats(part), self._times(part)
        if self.bath is not None and (times or heats):
            self._hold(part)

    # Things and amounts of a part.

    def _of(self, amount: Amount) -> Thing | None:
        assert self.sentence is not None
        return self.sentence.of.get(amount.start)

    def _free(self, part: Part, *kinds: str) -> list[Amount]:
        return [a for a in part.amounts if a.kind in kinds and a.start not in self.used]

    def _stuff(self, part: Part) -> list[Measured]:
        """Materials and water of a part with their amounts; a volume of nothing is of water."""
        made: list[Measured] = []
        spoken: list[Thing] = [t for t in part.things if t.kind in ("material", "water", "part")]
        for thing in part.things:
            if thing.kind == "material" and _role(thing.name) == "dyestuff":
                self.plant = thing
        owned: dict[int, list[Amount]] = {}
        stray: list[Amount] = []
        for amount in part.amounts:
            if amount.start in self.used:
                continue
            thing = self._of(amount)
            if amount.kind == "number" and self._bare_heat(amount):
                continue
            if thing is not None and thing.kind in ("material", "water", "part"):
                owned.setdefault(thing.start, []).append(amount)
                if thing not in spoken:
                    spoken.append(thing)
            elif (
                (thing is not None and thing.kind == "bath" and amount.kind == "volume")
                or (amount.kind == "volume" and (thing is None or thing.kind == "fibre"))
                or (
                    amount.kind == "ratio"
                    and (not spoken or any(t.kind == "water" for t in spoken))
                )
                or (amount.kind == "full" and thing is None)
            ):
                stray.append(amount)
        if self.base is not None:
            owned = {at: [self._by_base(a) for a in mine] for at, mine in owned.items()}
        for thing in spoken:
            mine = tuple(owned.get(thing.start, ()))
            named = self._plant_of(thing)
            if named is not None and (mine or thing.kind != "part"):
                made.append(Measured(named, mine))
        for amount in stray:
            water = next((m for m in made if m.thing.kind == "water" and not m.amounts), None)
            if water is not None:
                made.remove(water)
            made.append(
                Measured(Thing("water", "water", "water", amount.start, amount.end), (amount,))
            )
        return made

    def _by_base(self, amount: Amount) -> Amount:
        """A weight for so much fibre, as a ratio to the fibre."""
        base = self.base
        if base is None or amount.low is None or not base.low:
            return amount
        units = vocabulary().units
        if amount.kind == "volume" and not units[amount.unit].vague:
            litres = amount.low * units[amount.unit].factor
            kilograms = base.low * units[base.unit].factor / 1000
            return amount._replace(kind="ratio", low=litres / kilograms, high=None, unit=": 1")
        if amount.kind != "mass":
            return amount
        each = base.low * units[base.unit].factor / units[amount.unit].factor
        share = amount.low / each
        if share < 1:
            high = (amount.high or amount.low) / each * 100
            return amount._replace(kind="share", low=share * 100, high=high, unit="%")
        return amount._replace(kind="ratio", low=share, high=None, unit=": 1")

    def _plant_of(self, thing: Thing) -> Thing | None:
        """The plant whose part is named; None where none has been named."""
        if thing.kind != "part":
            return thing
        return self.plant._replace(start=thing.start) if self.plant else None

    def _write(self, amount: Amount) -> str | None:
        lot = self._lot_name()
        if amount.kind == "relative":
            amount = self._resolved(amount)
        if amount.kind == "full" and self.bath is not None and amount.low is not None:
            return f"{figure(amount.low)} of {self.bath.pot}"
        return written(amount, lot, self.scale)

    def _resolved(self, amount: Amount) -> Amount:
        """An amount by the weight of the fibre, where the words say so."""
        said = amount.words.lower()
        fibre = bool(self.lots)
        if (
            not re.search(r"weight|as of wool|of (?:wool|silk|yarn|cotton)", said)
            or "their" in said
        ):
            return amount
        if "again" in said or not fibre:
            return amount
        parts = {"equal": 1, "same": 1, "double": 2, "twice": 2, "half": Fraction(1, 2)}
        many = next((Fraction(n) for word, n in parts.items() if word in said), None)
        if many is None:
            many = _leading(said)
        if many is None:
            return amount
        if many < 1:
            return amount._replace(kind="share", low=many * 100, high=many * 100, unit="%")
        return amount._replace(kind="ratio", low=many, high=None, unit=": 1")

    def _lot_name(self) -> str:
        return next(iter(self.lots), "")

    # Fibre.

    def _declare_fibre(self, part: Part) -> None:
        for thing in part.things:
            if thing.kind == "fibre":
                self.subject = "fibre"
                self._lot_for(thing)
        for amount in part.amounts:
            thing = self._of(amount)
            skeins = amount.kind == "count" and amount.unit == "skein" and not self.lines
            if skeins or (amount.each and amount.kind == "mass" and thing is None and self.lots):
                thing = Thing("fibre", "=yarn", "skeins", amount.start, amount.end)
            if thing is None or thing.kind != "fibre" or amount.start in self.used:
                continue
            lot = self._lot_for(thing)
            if amount.kind == "mass" and not amount.bound and self._is_weight_of_lot(amount, part):
                if amount.each and lot.each is None:
                    lot.each = amount
                elif not amount.each and lot.weight is None:
                    lot.weight = amount
                else:
                    continue
                self.used.add(amount.start)
            elif amount.kind == "count" and amount.unit == "skein" and lot.pieces is None:
                lot.pieces = amount
                self.used.add(amount.start)

    def _is_weight_of_lot(self, amount: Amount, part: Part) -> bool:
        before = self.text[max(0, amount.start - 40) : amount.start].lower()
        of = self._of(amount)
        if of and re.search(r"\b(?:dyed|finished|clean|dyes)\b", self.text[amount.end : of.start]):
            return False
        if amount.words.lower().startswith(("every", "each", "the ", "another")):
            return False
        return not re.search(r"\b(?:each|every|per|another|paler,|do another)\s+$", before)

    def _lot_for(self, thing: Thing) -> Lot:
        name = thing.name.lstrip("=")
        kind = "" if thing.name.startswith("=") else thing.name
        for lot in self.lots.values():
            if not kind or not lot.fibre or lot.fibre == kind:
                lot.fibre = lot.fibre or kind
                if not kind and not lot.form and name != "fibre":
                    lot.form = name
                return lot
        if self.lots:
            return next(iter(self.lots.values()))
        lot = Lot(plain_name(name))
        lot.fibre, lot.form = kind, "" if kind else name
        self.lots[lot.name] = lot
        return lot

    def _a_lot(self) -> str:
        """The lot that is worked on; one is declared where the prose names none."""
        if not self.lots:
            lot = Lot("fibre-lot")
            lot.form = "fibre"
            self.lots[lot.name] = lot
        return next(iter(self.lots))

    # Baths.

    def _new_bath(self, kind: str = "") -> Bath:
        self._begin()
        self.baths += 1
        pot = f"pot-{self.baths}"
        bath = Bath(f"{kind}-bath" if kind else "bath", pot)
        names = {line.text.split(":")[0] for line in self.lines}
        if bath.name in names or any(bath.name == b for b in self._names()):
            bath.name = f"{bath.name}-{self.baths}"
        self.pots[pot] = ('"a pot that the prose does not name"', (), self.number)
        bath.kind = kind
        self.bath = bath
        self.all_baths.append(bath)
        return bath

    def _names(self) -> set[str]:
        return {self.bath.name} if self.bath else set()

    def _begin(self) -> None:
        """Write the line that makes the bath, at its first use."""
        bath = self.bath
        if bath is None or bath.begun:
            return
        bath.begun = True
        said: list[str] = []
        placed: list[Amount] = []
        for name, amounts, _ in bath.stuff:
            text, took = self._measure(name, amounts)
            said.append(text)
            placed += took
        if not any(name == "water" for name, _, _ in bath.stuff):
            said.insert(0, "water unstated")
        heat = f" at {bath.heat.unit}" if bath.heat else ""
        if bath.heat:
            placed.append(bath.heat)
        self.emit(f"{bath.name}: prepare in {bath.pot} with {', '.join(said)}{heat}", placed)

    def _measure(self, name: str, amounts: tuple[Amount, ...]) -> tuple[str, list[Amount]]:
        """A material with the first of its amounts that can be written."""
        for amount in sorted(
            amounts, key=lambda one: one.kind in ("spoon", "odd", "loose", "share")
        ):
            text = self._write(amount)
            if text is not None and amount.kind not in ("count", "time"):
                return f"{name} {text}", [amount]
        return f"{name} unstated", []

    def _material(self, thing: Thing) -> str:
        if thing.kind == "water":
            return "water"
        name = plain_name(thing.name)
        self.materials.setdefault(name, thing.name)
        return name

    def _supply(self, part: Part, *, add: bool = False) -> bool:
        """Bring the stuff of a part into a bath: the one at hand, or a new one."""
        stuff = self._stuff(part)
        if not stuff:
            return False
        role = _role_of(stuff)
        bath = self._bath_for(role, part)
        heat = self._water_heat(part)
        for thing, amounts in stuff:
            name = self._material(thing)
            self.used.update(a.start for a in amounts)
            pooled = self._from_pool(thing.name) if not amounts else None
            if pooled is not None:
                amounts = pooled
            if bath.begun:
                poured = part.doing.act in ("put", "dissolve")
                inside = {known for b in self.all_baths for known, _, _ in b.stuff}
                if not amounts and (name in inside or (name == "water" and not poured)):
                    continue  # named again, not added again
                bath.stuff.append((name, amounts, self.number))
                text, took = self._measure(name, amounts)
                at = f" at {heat.unit}" if heat and name == "water" else ""
                if at and heat:
                    took.append(heat)
                    heat = None
                self.emit(f"add {text} to {bath.name}{at}", took)
            elif not any(known == name and not amounts for known, _, _ in bath.stuff):
                bath.stuff = [s for s in bath.stuff if s[0] != name or s[1]]
                bath.stuff.append((name, amounts, self.number))
        if heat is not None and not bath.begun:
            bath.heat = bath.heat or heat
        self.subject = "bath"
        self.last_on = "bath"
        return True

    def _bath_for(self, role: str, part: Part) -> Bath:
        bath = self.bath
        said = part.words.lower()
        fresh = self.fresh_at != part.start and bool(
            re.search(
                r"\b(?:fresh|second pot|another pot|new bath|meanwhile|separate|clean pot)\b", said
            )
        )
        if bath is None or fresh:
            self.fresh_at = part.start
            return self._new_bath(role)
        adding = part.doing.act in ("put", "dissolve", "enter") and not re.search(
            r"\bprepare|\bmake|\bfill", said
        )
        measured = any(self._of(a) is not None for a in part.amounts)
        if bath.had_fibre and not bath.fibre and role and measured and not adding:
            return self._new_bath(role)
        if (
            role == "mordant"
            and bath.kind == "dye"
            and bath.begun
            and not bath.had_fibre
            and not adding
        ):
            return self._new_bath(role)
        if role and not bath.kind and not bath.begun:
            bath.kind = role
            bath.name = f"{role}-bath" if not self.baths > 1 else f"{role}-bath-{self.baths}"
            return bath
        over = bath.had_fibre and not bath.fibre
        if role == "dye" and bath.kind == "mordant" and (bath.had_fibre or bath.begun):
            return self._new_bath(role)
        if role == "mordant" and bath.kind == "dye" and over and not re.search(r"\badd", said):
            if any(_role(t.name) == "mordant" and "iron" not in t.words for t in part.things):
                return self._new_bath(role)
        return bath

    def _from_pool(self, name: str) -> tuple[Amount, ...] | None:
        for index, (thing, amounts, _) in enumerate(self.pool):
            if thing.name == name:
                del self.pool[index]
                return amounts
        return None

    def _draw_pool(self, role: str) -> None:
        """Take from the list of ingredients what a bath of this kind takes."""
        if not self.pool:
            return
        played = {_part_played(p[0]) for p in self.pool}
        if not role and {"mordant", "dye"} <= played:
            here = [p for p in self.pool if p[2] == self.number]
            if not here:
                return  # which of them is meant is not said
            rest = [p for p in self.pool if p[2] != self.number]
            self.pool, kept = here, rest
            if self.bath is None or self.bath.begun:
                self._new_bath("dye")
            assert self.bath is not None
            for thing, amounts, number in self.pool:
                self.bath.stuff.append((self._material(thing), amounts, number))
            self.pool = kept
            return
        if not role:
            role = next((one for one in ("dye", "mordant") if one in played), "")
        wanted = {"mordant": {"mordant", "assistant"}, "dye": {"dye"}}.get(
            role, {"assistant", "water"}
        )
        taking = [p for p in self.pool if _part_played(p[0]) in wanted]
        waters = [p for p in self.pool if p[0].kind == "water"]
        if role and not any(_part_played(p[0]) == role for p in taking):
            return
        if self.bath is None or self.bath.begun:
            self._new_bath(role)
        assert self.bath is not None
        for item in [*taking, *waters[:1]]:
            if item in self.pool:
                self.pool.remove(item)
                self.bath.stuff.append((self._material(item[0]), item[1], item[2]))

    def _open_pool(self, part: Part) -> None:
        """A new bath for the plant that was listed or gathered, before it is soaked or boiled."""
        bath = self.bath
        listed = any(_part_played(p[0]) == "dye" for p in self.pool)
        over = bath is None or bath.had_fibre or bath.kind == "mordant"
        if listed and over and not self._names_fibre(part):
            self._new_bath("dye")
            self._draw_pool("dye")

    def _water_heat(self, part: Part) -> Amount | None:
        """A named heat that stands before water or a bath: cold water, a hot bath."""
        for amount in self._free(part, "named heat"):
            behind = self.text[amount.end : amount.end + 40]
            if re.match(r"\s+(?:\w+\s+)?(?:\w*water|bath|liquor|solution)\b", behind):
                self.used.add(amount.start)
                return amount
        return None

    def _turn_to(self, part: Part) -> None:
        """Go back to a bath that was made before, where the part names what is in it."""
        said = part.words.lower()
        named = {plain_name(t.name) for t in part.things if t.kind == "material"}
        if self.plant and any(t.kind == "part" for t in part.things):
            named.add(plain_name(self.plant.name))
        kind = (
            "dye"
            if re.search(r"\bdye ?-?(?:bath|pot|liquor)?\b(?! for)|\w-water|bean water", said)
            else ""
        )
        for bath in reversed(self.all_baths):
            holds = {name for name, _, _ in bath.stuff} & named
            if bath is not self.bath and (holds or (kind and bath.kind == kind)):
                if self.bath is not None and self.bath.kind == bath.kind and not holds:
                    return
                if self.bath is not None and {n for n, _, _ in self.bath.stuff} & named:
                    return
                if self.bath is not None:
                    self._begin()
                    self.bath.fibre = False
                self.bath = bath
                return

    def _ready(self, part: Part | None = None) -> Bath:
        """The bath at hand, begun; one is made where the prose names none."""
        if self.bath is None:
            self._draw_pool("")
        if self.bath is None:
            self._new_bath()
        assert self.bath is not None
        self._begin()
        return self.bath

    # Heats and times.

    def _bare_heat(self, amount: Amount) -> bool:
        if amount.kind != "number" or amount.low is None or not 15 <= amount.low <= 212:
            return False
        before = self.text[max(0, amount.start - 14) : amount.start].lower()
        behind = self.text[amount.end : amount.end + 8].lower()
        if re.match(r"\s*(?:up\s+to\s+\d|-+>)", behind):
            return True
        return bool(
            self._of(amount) is None or self._of(amount).kind == "water"  # type: ignore[union-attr]
        ) and bool(re.search(r"(?:\bat|\bto|\bup to|\bfrom|around|until|temp|,)\s*$", before))

    def _heats(self, part: Part) -> dict[str, Amount]:
        """Heats of a part by clause: from, to, at."""
        found: dict[str, Amount] = {}
        for amount in part.amounts:
            if amount.start in self.used:
                continue
            if self._bare_heat(amount):
                amount = amount._replace(kind="temperature", unit="", scale=False)
            if amount.kind not in ("temperature", "named heat"):
                continue
            before = self.text[max(0, amount.start - 16) : amount.start].lower()
            behind = self.text[amount.end : amount.end + 8].lower()
            if re.match(r"\s*(?:up\s+to\b|to\s+\d|-+>)", behind) or re.search(
                r"(?:\bfrom|start at|starting at|begin at|start)\s*(?:at\s*)?$", before
            ):
                clause = "from"
            elif re.search(
                r"(?:\bto|until|till|up to|->|reaches|is at|gets to)\s*(?:about|around|a|the)?\s*$",
                before,
            ):
                clause = "to"
            else:
                clause = "at"
            if clause not in found:
                found[clause] = amount
        return found

    def _times(self, part: Part) -> dict[str, Amount]:
        """Times of a part by clause: over, for, until."""
        found: dict[str, Amount] = {}
        timely = [self._elliptic(a, part) for a in self._free(part, "time", "named wait", "number")]
        for amount in timely:
            if amount.kind == "number":
                continue
            before = self.text[max(0, amount.start - 14) : amount.start].lower()
            behind = self.text[amount.end : amount.end + 8].lower()
            rising = re.search(r"\b(?:in|over|within)\s*(?:about\s*)?$", before) or re.match(
                r"\s*up\s+to\b", behind
            )
            clause = "over" if rising else "for"
            if clause == "over" and not (
                set(self._heats(part)) & {"to", "at"}
                or part.doing.act in ("heat", "boil", "simmer", "hold", "")
            ):
                clause = "for"
            if clause not in found:
                found[clause] = amount
        return found

    def _elliptic(self, amount: Amount, part: Part) -> Amount:
        """A number that leaves out the unit of the time before it: "boil two hours, simmer three"."""
        if amount.kind != "number":
            self.unit_of_time = amount.unit if amount.kind == "time" else self.unit_of_time
            return amount
        before = self.text[max(0, amount.start - 16) : amount.start].lower()
        behind = self.text[amount.end : amount.end + 6].lower()
        verb = part.doing.words and before.rstrip().endswith(part.doing.words)
        more = re.search(r"\b(?:for|another|last)\s+$", before) and re.match(
            r"\s*(?:more\b|[.,;]|\Z)", behind
        )
        if (
            self.unit_of_time
            and (verb or more)
            and amount.low is not None
            and self._of(amount) is None
        ):
            if re.match(r"\s*(?:[.,;]|more|$|and\b|then\b)", behind):
                return amount._replace(kind="time", unit=self.unit_of_time)
        return amount

    def _clauses(self, part: Part, *allowed: str, at_word: str = "") -> tuple[str, list[Amount]]:
        """The heat and time clauses of a part as the language writes them, and their amounts."""
        said: list[str] = []
        placed: list[Amount] = []
        for clause, amount in {**self._heats(part), **self._times(part)}.items():
            if clause not in allowed:
                continue
            text = self._write(amount)
            if text is None:
                continue
            if amount.kind == "named wait":
                said.append(text)
            else:
                said.append(f"{clause} {text}")
            placed.append(amount)
            self.used.add(amount.start)
        return "".join(f" {one}" for one in said), placed

    def emit(self, text: str, placed: list[Amount] | None = None) -> None:
        """Write a line of the draft."""
        placed = placed or []
        remarks = tuple(
            f"scale not said: {one.words}"
            for one in placed
            if one.kind == "temperature" and not one.scale
        )
        self.used.update(one.start for one in placed)
        self.lines.append(Line(text, self.number, tuple(placed), remarks))

    # Acts.

    def _bring_fibre(self, part: Part) -> None:
        """Put the fibre into the bath where a part names it and it is not there yet."""
        bath = self._ready(part)
        if self._names_fibre(part) and not bath.fibre and bath.stuff:
            self.emit(f"enter {self._a_lot()} in {bath.name}")
            bath.fibre = bath.had_fibre = True

    def _heated(self, part: Part, verb: str) -> None:
        if not (self.bath is not None and self.bath.fibre) or any(
            t.kind in ("material", "part") for t in part.things
        ):
            self._open_pool(part)
        named = [t for t in part.things if t.kind in ("material", "part")]
        if self.bath is not None and self.bath.fibre and named and not self._names_fibre(part):
            if part.doing.end <= named[0].start or part.doing.words.endswith("ed"):
                self._new_bath("dye")
        self._supply(part)
        if self.bath is None or (
            self.bath.begun and self.pool and not self.bath.fibre and self.bath.had_fibre
        ):
            self._draw_pool("" if self.bath is None else "dye")
        self._bring_fibre(part)
        bath = self._ready(part)
        allowed = ("from", "over", "for", "to", "at")
        heats = self._heats(part)
        if verb in ("boil", "simmer"):
            text, placed = self._clauses(part, *allowed)
            self.emit(f"{verb} {bath.name}{text}", placed)
        elif "to" in heats or "at" in heats:
            text, placed = self._clauses(part, "from", "over", "to", "at", "for")
            self.emit(f"heat {bath.name}{text}", placed)
        elif self._times(part):
            self._hold(part)
        if verb == "heat" and not heats:
            self.not_followed.append((self.number, part.doing.words))
        self.last_on = "bath"

    def _boil(self, part: Part) -> None:
        self._heated(part, "boil")

    def _simmer(self, part: Part) -> None:
        self._heated(part, "simmer")

    def _heat(self, part: Part) -> None:
        self._heated(part, "heat")

    def _cool(self, part: Part) -> None:
        bath = self._ready(part)
        text, placed = self._clauses(part, "from", "over", "to", "for", "at")
        text = re.sub(r"\bat\b", "to", text, count=1) if " to " not in text else text
        if not re.search(r" to | for |overnight|until-next-day", text):
            text += ' until "it is cool"'
        self.emit(f"cool {bath.name}{_waited(text)}", placed)

    def _hold(self, part: Part) -> None:
        if self._stuff(part):
            self._supply(part)
        if self.bath is None or (self.pool and self.bath.begun and not self.bath.fibre):
            self._draw_pool("")
        bath = self._ready(part)
        fibre = self._names_fibre(part) and not bath.fibre
        ready = bath.kind == "mordant" or (bath.kind == "dye" and self._after_bath())
        fibre = fibre or (ready and not bath.had_fibre and bool(self.lots))
        heats, times = self._heats(part), self._times(part)
        if fibre or (
            "from" in heats and not bath.fibre and bath.kind and self.lots and "over" in times
        ):
            self._work_in(part, bath)
            return
        if "to" in heats or ("at" in heats and "over" in times):
            text, placed = self._clauses(part, "from", "over", "to", "at", "for")
            self.emit(f"heat {bath.name}{text}", placed)
            return
        text, placed = self._clauses(part, "at", "for")
        if re.search(r" for |overnight|until-next-day", text):
            self.emit(f"hold {bath.name}{_waited(text)}", placed)
        elif " at " in text:
            self.emit(f"heat {bath.name}{text}", placed)

    def _leave(self, part: Part) -> None:
        if re.search(r"\bleave\b(?:\s+\w+){1,4}\s+out\b", part.words) and not self._times(part):
            self._gather(part)
            return
        if self.last_on == "lot" and not (self.bath and self.bath.fibre):
            text, placed = self._clauses(part, "at", "for")
            if placed:
                self.emit(f"rest {self._a_lot()}{_waited(text)}", placed)
            return
        self._supply(part)
        bath = self._ready(part)
        if self._names_fibre(part) and not bath.fibre:
            self._work_in(part, bath)
            return
        text, placed = self._clauses(part, "at", "for")
        if re.search(r" for |overnight|until-next-day", text):
            verb = "hold" if bath.fibre else "stand"
            self.emit(f"{verb} {bath.name}{_waited(text)}", placed)

    def _names_fibre(self, part: Part) -> bool:
        spans = [(a.start, a.end) for a in part.amounts if a.kind == "relative"]
        return any(
            t.kind == "fibre" and not any(low <= t.start < high for low, high in spans)
            for t in part.things
        )

    def _work_in(self, part: Part, bath: Bath, verb: str = "") -> None:
        """Fibre into the bath, with the heats and times said there."""
        self._begin()
        verb = verb or {"mordant": "mordant", "dye": "dye"}.get(bath.kind, "enter")
        allowed = ("at", "for", "over") if verb == "enter" else ("at", "for", "over", "from", "to")
        text, placed = self._clauses(part, *allowed)
        self.emit(f"{verb} {self._a_lot()} in {bath.name}{_waited(text)}", placed)
        bath.fibre = bath.had_fibre = True
        self.last_on = "bath"
        self.subject = "fibre"

    def _enter(self, part: Part) -> None:
        materials = [m for m in self._stuff(part) if m.thing.kind == "material"]
        if materials and not self._names_fibre(part):
            self._put(part)
            return
        if self._stuff(part):
            self._supply(part)
        if self.bath is None or (self.pool and not self.bath.stuff):
            self._draw_pool("")
        bath = self._ready(part)
        self._work_in(part, bath)

    def _put(self, part: Part) -> None:
        stuff = self._stuff(part)
        if not stuff and self._names_fibre(part):
            added = re.match(r"(?:add|put|pop|place|drop|throw|layer|lay)", part.doing.words)
            if not (added or any(t.kind == "bath" for t in part.things) or self._times(part)):
                return
            self._work_in(part, self._ready(part))
            return
        plant = self.plant
        if (
            plant
            and self.bath is not None
            and self.bath.had_fibre
            and not stuff_of_materials(stuff)
        ):
            inside = {name for b in self.all_baths for name, _, _ in b.stuff}
            if (
                re.search(r"\b(?:them|these)\b", self.sentence.words if self.sentence else "")
                and stuff
            ):
                if plain_name(plant.name) not in inside:
                    self._new_bath("dye").stuff.append((self._material(plant), (), self.number))
        if self.pool and re.search(r"\b(?:it|them|this|these)\b", part.words) and self.bath is None:
            self._draw_pool("dye")
        self._supply(part)
        if self._names_fibre(part) and re.match(
            r"add|put|pop|place|drop|throw|layer", part.doing.words
        ):
            fibre = next(
                (t for t in part.things if t.kind == "fibre" and t.start > part.doing.end), None
            )
            brought = [t for t in part.things if t.kind == "material" and t.start > part.doing.end]
            if fibre and (self._times(part) or not brought):
                self._work_in(part, self._ready(part))
                return
        heats, times = self._heats(part), self._times(part)
        if times or {"to", "at", "from"} & set(heats):
            self._hold(part)
        until = self._free(part, "acidity")
        if until and self.bath is not None:
            bath = self._ready(part)
            for amount in until[:1]:
                self.emit(f"stand {bath.name} until {self._write(amount)}", [amount])

    def _dissolve(self, part: Part) -> None:
        """Something dissolved in water of its own: a liquor that goes into the bath."""
        heat_of_water = [a for a in self._free(part, "named heat")]
        water = [m for m in self._stuff(part) if m.thing.kind == "water"]
        last = self.lines[-1] if self.lines else None
        added = re.match(r"add (?P<what>.+) to (?P<bath>[\w-]+)$", last.text) if last else None
        if water and added and last and last.sentence == self.number:
            self.lines.pop()
            name = plain_name(added["what"].split()[0]) + "-liquor"
            self.pots.setdefault(
                "jar", ('"a vessel that the prose does not name"', (), self.number)
            )
            text, took = self._measure("water", water[0].amounts)
            heat = self._water_heat(part) if heat_of_water else None
            at = f" at {heat.unit}" if heat else ""
            took = [*last.placed, *took, *([heat] if heat else [])]
            self.emit(f"{name}: dissolve {added['what']} in jar with {text}{at}", took)
            self.emit(f"add {name} to {added['bath']}")
        else:
            self._supply(part)
        if self._times(part):
            self._hold(part)

    def _soak(self, part: Part) -> None:
        materials = [m for m in self._stuff(part) if m.thing.kind != "water"]
        fibre = self._names_fibre(part) or (self.subject == "fibre" and not materials)
        if self.subject == "material" and not self._names_fibre(part):
            fibre = False
            if self.bath is None:
                self._draw_pool("dye")
        bath = self.bath
        made = bath is not None and bath.begun and not bath.had_fibre and bool(bath.stuff)
        if fibre and made and not any(m.amounts for m in self._stuff(part)) and self._after_bath():
            self._work_in(part, self._ready(part), "steep")
            return
        into = any(t.kind == "bath" for t in part.things) and self.bath is not None
        if fibre and not materials and not into:
            tub = self._tub()
            water = [m for m in self._stuff(part) if m.thing.kind == "water" and m.amounts]
            text, placed = ("", [])
            if water:
                measured, placed = self._measure("water", water[0].amounts)
                text = f" with {measured}"
            more, took = self._clauses(part, "at", "for")
            self.emit(f"wet out {self._a_lot()} in {tub}{text}{_waited(more)}", placed + took)
            self.last_on = "lot"
            return
        if fibre and (self.bath is not None or materials):
            self._supply(part)
            self._work_in(part, self._ready(part), "steep")
            return
        self._open_pool(part)
        self._supply(part)
        bath = self._ready(part)
        text, placed = self._clauses(part, "at", "for")
        if re.search(r" for |overnight|until-next-day", text):
            self.emit(f"stand {bath.name}{_waited(text)}", placed)
        elif " at " in text:
            self.emit(f"heat {bath.name}{text}", placed)

    def _after_bath(self) -> bool:
        """True where the last line made a bath ready for fibre."""
        return bool(self.lines) and self.lines[-1].text.startswith(("strain", "cool"))

    def _tub(self) -> str:
        self.pots.setdefault("tub", ('"a vessel that the prose does not name"', (), self.number))
        return "tub"

    def _strain(self, part: Part) -> None:
        if self.bath is not None:
            self.emit(f"strain {self._ready(part).name}")
        self._tail(part)

    def _lift(self, part: Part) -> None:
        if self.bath is not None and self.bath.fibre:
            self.emit(f"lift {self._a_lot()}")
            self.bath.fibre = False
            self.last_on = "lot"
        self._tail(part)

    def _tail(self, part: Part) -> None:
        """What follows a short act in the same breath: "strain, 40 C, 10 minutes"."""
        if self._stuff(part):
            self._supply(part)

    def _washed(self, part: Part, verb: str) -> None:
        started = any(bath.had_fibre for bath in self.all_baths)
        if not self._names_fibre(part) and not started and self.subject != "fibre":
            if not self.lots or re.search(r"\bthem\b", part.words):
                self._supply(part)
                return
        lot = self._a_lot()
        self._begin()
        count = next(iter(self._free(part, "times")), None)
        brought: list[str] = []
        placed: list[Amount] = []
        for thing, amounts in self._stuff(part):
            name = self._material(thing)
            if name == "water" and not amounts:
                continue
            amounts = amounts or self._from_pool(thing.name) or ()
            text, took = self._measure(name, amounts)
            brought.append(text)
            placed += took
        if part.doing.words.startswith("soap") and not any("soap" in one for one in brought):
            strength = self._free(part, "strength", "mass", "spoon", "share")
            name = self._material(Thing("material", "neutral soap", "soap", 0, 0))
            text, took = self._measure(name, tuple(strength[:1]))
            brought.append(text)
            placed += took
        heats = self._water_heat(part)
        more, took = self._clauses(part, "at", "for")
        at = ""
        if heats and " at " not in more:
            at = f" at {heats.unit}"
            took.append(heats)
        inside = f" in {self._tub()} with {', '.join(brought)}" if brought else ""
        text = f"{verb} {lot}{inside}{at}{_waited(more)}"
        if count and not count.bound and count.low and count.low > 1:
            times = written(count._replace(kind="times", unit="times"), "", "")
            self.emit(f"repeat {times}", [count])
            text = f"  {text}"
        elif count and count.low == 1:
            placed.append(count)
        self.emit(text, placed + took)
        if self.bath is not None:
            self.bath.fibre = False
        self.last_on = "lot"

    def _rinse(self, part: Part) -> None:
        self._washed(part, "rinse")

    def _wash(self, part: Part) -> None:
        self._washed(part, "wash")

    def _scour(self, part: Part) -> None:
        lot = self._a_lot()
        self._begin()
        brought: list[str] = []
        placed: list[Amount] = []
        for thing, amounts in self._stuff(part):
            text, took = self._measure(self._material(thing), amounts)
            brought.append(text)
            placed += took
        more, took = self._clauses(part, "from", "to", "at", "over", "for")
        using = f" with {', '.join(brought)}" if brought else ""
        verb = "degum" if "degum" in part.doing.words or "boil" in part.doing.words else "scour"
        self.emit(f"{verb} {lot} in {self._tub()}{using}{_waited(more)}", placed + took)
        self.last_on = "lot"

    def _simple(self, part: Part, verb: str, *allowed: str) -> None:
        if self.bath is not None and self.bath.fibre:
            self.bath.fibre = False
        text, placed = self._clauses(part, *allowed)
        self.emit(f"{verb} {self._a_lot()}{_waited(text)}", placed)
        self.last_on = "lot"

    def _squeeze(self, part: Part) -> None:
        self._simple(part, "squeeze")

    def _dry(self, part: Part) -> None:
        self._simple(part, "dry", "for", "at")

    def _air(self, part: Part) -> None:
        self._simple(part, "air", "for")

    def _dip(self, part: Part) -> None:
        self._supply(part)
        bath = self._ready(part)
        count = next(iter(self._free(part, "times")), None)
        text, placed = self._clauses(part, "at", "for")
        line = f"dip {self._a_lot()} in {bath.name}{text}"
        if count and count.low and count.low > 1:
            self.emit(f"repeat {written(count, '', '')}", [count])
            line = f"  {line}"
        elif count:
            placed.append(count)
        self.emit(line, placed)
        bath.had_fibre = True
        self.last_on = "lot"

    def _mordant(self, part: Part) -> None:
        timed = self._times(part) or self._heats(part)
        plain = not re.match(
            r"\w+\s+(?:with|in|it|the|for|using)\b", part.words[part.doing.start - part.start :]
        )
        if not self.lines and not timed and self._stuff(part) and plain:
            self._gather(part)
            return
        before = self.text[max(0, part.start - 24) : part.start]
        earlier = self.bath if BEFORE.search(before) else None
        if earlier is not None:
            earlier_fibre = earlier.fibre
            self._mordant_now(part)
            if self.bath is not None and self.bath is not earlier:
                self.bath.fibre = False
            self.bath, earlier.fibre = earlier, earlier_fibre
            return
        self._mordant_now(part)

    def _mordant_now(self, part: Part) -> None:
        told = (
            self._stuff(part) or self._names_fibre(part) or self._times(part) or self._heats(part)
        )
        if not told and not any(_part_played(p[0]) == "mordant" for p in self.pool):
            return  # spoken of, not done
        if not self._stuff(part):
            self._draw_pool("mordant")
        elif self.bath is None or self.bath.begun:
            if self.bath is None or self.bath.had_fibre or self.bath.kind != "mordant":
                self._new_bath("mordant")
        self._supply(part)
        self._work_in(part, self._ready(part), "mordant")

    def _dye(self, part: Part) -> None:
        timed = self._times(part) or self._heats(part)
        if not self.lines and not timed and self._stuff(part):
            self._gather(part)
            return
        if not self._stuff(part):
            self._draw_pool("dye")
        self._supply(part)
        if self.bath is None and not self._times(part) and not self._heats(part):
            return
        bath = self._ready(part)
        if bath.fibre and not self._times(part) and not self._heats(part):
            return
        self._work_in(part, bath, "dye")

    def _modify(self, part: Part) -> None:
        self._supply(part)
        self._work_in(part, self._ready(part), "modify")

    def _discard(self, part: Part) -> None:
        if self.bath is not None and not part.amounts and not self.bath.fibre:
            self._begin()
            self.emit(f"discard {self.bath.name}")
            self.bath = None


def stuff_of_materials(stuff: list[Measured]) -> list[Measured]:
    """What is brought besides water."""
    return [one for one in stuff if one.thing.kind != "water"]


def _waited(text: str) -> str:
    """The named waits behind the other clauses, where the language has them."""
    for wait in (" overnight", " until-next-day"):
        if wait in text:
            text = text.replace(wait, "", 1) + wait
    return text


def _in_order(sentence: Sentence) -> list[Part]:
    """The parts in the order of what happens: what has been done before comes first."""
    parts = list(sentence.parts)
    swapped = False
    for index in range(1, len(parts)):
        if swapped:
            swapped = False
            continue
        before = parts[index - 1].words.lower()
        if re.search(r"\b(?:when|once|as soon as)\b[^,;.]*$", before) or re.search(
            r"\b(?:has been|have been|had been|previously|having been|already)\s+(?:\w+ly\s+)?$",
            before,
        ):
            parts[index - 1], parts[index] = parts[index], parts[index - 1]
            swapped = True
    return parts


def _leading(said: str) -> Fraction | None:
    from procedure.draft.amounts import _number, number

    found = re.match(_number(), said, re.I)
    return number(found[0]) if found else None


def _role(name: str) -> str:
    """What a material is: dyestuff, mordant, tannin, or something else."""
    entry = vocabulary().material(name)
    if entry is None:
        return "dyestuff"
    if entry.table == "dyestuffs":
        return "dyestuff"
    return "mordant" if entry.table == "mordants" else "assistant"


def _part_played(thing: Thing) -> str:
    if thing.kind == "water":
        return "water"
    role = _role(thing.name)
    return "dye" if role == "dyestuff" else role


def _role_of(stuff: list[Measured]) -> str:
    roles = [_part_played(one.thing) for one in stuff]
    return "dye" if "dye" in roles else "mordant" if "mordant" in roles else ""


__all__ = ["Course", "Doing", "plain_name"]
