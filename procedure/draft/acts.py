"""What is done, sentence by sentence, to lines of a draft."""

from __future__ import annotations

import re
from collections.abc import Callable

from procedure.draft.amount import Amount
from procedure.draft.course import Bath, Course, Measured, part_played, plain_name, trade_role
from procedure.draft.lexicon import meanings
from procedure.draft.lines import written
from procedure.draft.sentences import Part, Sentence, Thing

SHOPPING = re.compile(r"(?:buy|to buy|shopping|shopping list)\b\s*:", re.I)
BEFORE = re.compile(r"\b(?:been|had|has|have|previously|already|was|were)\s+(?:\w+ly\s+)?$", re.I)


class Acts(Course):
    """Follows sentences, each act of the prose by a function of its name."""

    def follow(self, sentence: Sentence) -> None:
        """Follow one sentence."""
        self.sentence, self.number = sentence, sentence.number
        self.told.append(sentence)
        self._base_of_ratio(sentence)
        for part in sentence.parts:
            for thing in part.things:
                if thing.kind == "material" and trade_role(thing.name) == "dyestuff":
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
        if self.bath is not None and self.bath.fibre and named and not self._names_fibre(part):  # noqa: SIM102
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
        if verb in meanings("heat of its own"):
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

    def _work_in(self, part: Part, bath: Bath, verb: str = "") -> None:
        """Fibre into the bath, with the heats and times said there."""
        self._begin()
        verb = verb or {"mordant": "mordant", "dye": "dye"}.get(bath.kind, "enter")
        allowed = ("at", "for", "over") if verb == "enter" else ("at", "for", "over", "from", "to")
        text, placed = self._clauses(part, *allowed)
        if text or not bath.fibre:
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
            ) and plain_name(plant.name) not in inside:
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
            layered = part.doing.words.startswith("layer")
            if fibre and (self._times(part) or not brought or layered):
                self._work_in(part, self._ready(part))
                return
            if fibre and all(fibre.start < one.start for one in brought):
                self._bring_fibre(part)  # “add the wool and half an ounce of alum”
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
        heat_of_water = list(self._free(part, "named heat"))
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
            text = ""
            placed: list[Amount] = []
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
        return bool(self.lines) and self.lines[-1].text.startswith(
            tuple(meanings("readies for fibre"))
        )

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
        if not self._names_fibre(part) and not started and self.subject != "fibre":  # noqa: SIM102
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
        if not told and not any(part_played(p[0]) == "mordant" for p in self.pool):
            return  # spoken of, not done
        if not self._stuff(part):
            self._draw_pool("mordant")
        elif self.bath is None or self.bath.begun:  # noqa: SIM102
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


def _waited(text: str) -> str:
    """The named waits behind the other clauses, where the language has them."""
    for wait in (" overnight", " until-next-day"):
        if wait in text:
            text = text.replace(wait, "", 1) + wait
    return text


def stuff_of_materials(stuff: list[Measured]) -> list[Measured]:
    """What is brought besides water."""
    return [one for one in stuff if one.thing.kind != "water"]
