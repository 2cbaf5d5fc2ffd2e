"""Where a recipe has come to: its baths, its lots, what is in them, and the words for amounts."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft.amounts import Amount
from procedure.draft.lexicon import meanings
from procedure.draft.lines import Line, figure, written
from procedure.draft.sentences import Part, Sentence, Thing
from procedure.quantity.record import NamedTuple
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

    def _of(self, amount: Amount) -> Thing | None:
        assert self.sentence is not None
        return self.sentence.of.get(amount.start)

    def _free(self, part: Part, *kinds: str) -> list[Amount]:
        return [a for a in part.amounts if a.kind in kinds and a.start not in self.used]

    def _stuff(self, part: Part) -> list[Measured]:  # noqa: C901
        """Materials and water of a part with their amounts; a volume of nothing is of water."""
        made: list[Measured] = []
        spoken: list[Thing] = [t for t in part.things if t.kind in ("material", "water", "part")]
        for thing in part.things:
            if thing.kind == "material" and trade_role(thing.name) == "dyestuff":
                self.plant = thing
        owned: dict[int, list[Amount]] = {}
        stray: list[Amount] = []
        for amount in part.amounts:
            if amount.start in self.used:
                continue
            of = self._of(amount)
            if amount.kind == "number" and self._bare_heat(amount):
                continue
            if of is not None and of.kind in ("material", "water", "part"):
                owned.setdefault(of.start, []).append(amount)
                if of not in spoken:
                    spoken.append(of)
            elif (
                (of is not None and of.kind == "bath" and amount.kind == "volume")
                or (amount.kind == "volume" and (of is None or of.kind == "fibre"))
                or (
                    amount.kind == "ratio"
                    and (not spoken or any(t.kind == "water" for t in spoken))
                )
                or (amount.kind == "full" and of is None)
            ):
                stray.append(amount)
        if self.base is not None:
            owned = {at: [self._by_base(a) for a in mine] for at, mine in owned.items()}
        for spoken_of in spoken:
            mine = tuple(owned.get(spoken_of.start, ()))
            named = self._plant_of(spoken_of)
            if named is not None and (mine or spoken_of.kind != "part"):
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
        parts = {
            "own weight": "1",
            "weight for": "1",
            "heavy": "1",
            "equal": "1",
            "same": "1",
            "double": "2",
            "twice": "2",
            "half": "1/2",
        }
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
            of = self._of(amount)
            skeins = amount.kind == "count" and amount.unit == "skein" and not self.lines
            if skeins or (amount.each and amount.kind == "mass" and of is None and self.lots):
                of = Thing("fibre", "=yarn", "skeins", amount.start, amount.end)
            if of is None or of.kind != "fibre" or amount.start in self.used:
                continue
            lot = self._lot_for(of)
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
        role = role_of(stuff)
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
        if role == "mordant" and bath.kind == "dye" and over and not re.search(r"\badd", said):  # noqa: SIM102
            if any(trade_role(t.name) == "mordant" and "iron" not in t.words for t in part.things):
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
        played = {part_played(p[0]) for p in self.pool}
        if not role and set(meanings("kind of bath")) <= played:
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
            role = next((one for one in meanings("kind of bath") if one in played), "")
        wanted = {"mordant": {"mordant", "assistant"}, "dye": {"dye"}}.get(
            role, {"assistant", "water"}
        )
        taking = [p for p in self.pool if part_played(p[0]) in wanted]
        waters = [p for p in self.pool if p[0].kind == "water"]
        if role and not any(part_played(p[0]) == role for p in taking):
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
        listed = any(part_played(p[0]) == "dye" for p in self.pool)
        over = bath is None or bath.had_fibre or bath.kind == "mordant"
        if listed and over and not self._names_fibre(part):
            self._new_bath("dye")
            self._draw_pool("dye")

    def _water_heat(self, part: Part) -> Amount | None:
        """A named heat that comes before water or a bath: cold water, a hot bath."""
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
        """A number that leaves out the unit of the time before it: "boil two hours, simmer three"."""  # noqa: E501
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
        ) and re.match(r"\s*(?:[.,;]|more|$|and\b|then\b)", behind):
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

    def _names_fibre(self, part: Part) -> bool:
        spans = [(a.start, a.end) for a in part.amounts if a.kind == "relative"]
        return any(
            t.kind == "fibre" and not any(low <= t.start < high for low, high in spans)
            for t in part.things
        )

    def _tub(self) -> str:
        self.pots.setdefault("tub", ('"a vessel that the prose does not name"', (), self.number))
        return "tub"


def _leading(said: str) -> Fraction | None:
    from procedure.draft.amounts import _number, number

    found = re.match(_number(), said, re.I)
    return number(found[0]) if found else None


def trade_role(name: str) -> str:
    """What a material is: dyestuff, mordant, tannin, or something else."""
    entry = vocabulary().material(name)
    if entry is None:
        return "dyestuff"
    if entry.table == "dyestuffs":
        return "dyestuff"
    return "mordant" if entry.table == "mordants" else "assistant"


def part_played(thing: Thing) -> str:
    """What a thing of the prose is in the work: water, dye, mordant or assistant."""
    if thing.kind == "water":
        return "water"
    role = trade_role(thing.name)
    return "dye" if role == "dyestuff" else role


def role_of(stuff: list[Measured]) -> str:
    """What materials make of a bath together: dye, mordant, or empty where neither is in it."""
    roles = [part_played(one.thing) for one in stuff]
    return "dye" if "dye" in roles else "mordant" if "mordant" in roles else ""
