"""Where lots and baths are, and what was spoken of last, as the steps so far tell it."""

from __future__ import annotations

from procedure.language import Token
from procedure.model.types import Procedure, Step
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import vocabulary
from procedure.vocabulary.everyday import ANY_BATH, verbs_of

if TYPE_CHECKING:
    from collections.abc import Callable
    from typing import Any, TypeVar

    _Read = TypeVar("_Read")

# Where a lot is after a step that may not have been done; a bath that has no name.
SOMEWHERE = "?"


class Going:
    """Which lots and baths there are, and what was spoken of last, as the steps so far tell it."""

    def __init__(self, made: Procedure) -> None:
        self.made = made
        self._inside: dict[str, str] | None = None
        # The pot of each bath that there is, and the parts that its materials play.
        self.pot_of: dict[str, str] = {}
        self.roles: dict[str, set[str]] = {}
        # The names of what went into each bath, and the plants that were strained out last.
        self.holds: dict[str, set[str]] = {}
        self.strained: tuple[str, ...] = ()
        self.last_bath = ""
        self.last_lots: tuple[str, ...] = ()
        # The bath that the step before brought to a heat at which work is done, below the boil.
        self.heated = ""
        # Whether the step before was done to those lots, and the lots that anything was done to.
        self.handled = False
        self.begun: set[str] = set()
        # The materials that the step before made ready, or the bag that it handled.
        self.last_materials: tuple[str, ...] = ()
        self.bagged = False
        # What is kept in solution for later, and the bath that each lot and each bag was in last.
        self.stocks: set[str] = set()
        self.was_in: dict[str, str] = {}
        # What each lot is part of or joined of, and the declared lots that it comes from.
        self.made_of: dict[str, tuple[str, ...]] = {}
        self._comes_from: dict[str, set[str]] = {}
        # The lots that were ever put into each bath that there is.
        self._put_into: dict[str, list[str]] = {}
        # The baths that fibre was in, and whether a line that could not be read made another.
        self.used: set[str] = set()
        self.unread_bath = False
        # How many blocks deep that may not be done; and whether nobody knows what there is.
        self.perhaps = 0
        self.unknown = 0

    @property
    def inside(self) -> dict[str, str]:
        """The bath that each lot is in; empty for none."""
        if self._inside is None:
            self._inside = dict.fromkeys(self.made.lots, "")
            for name, material in self.made.materials.items():
                if "bath" in material.roles:
                    self.pot_of[name] = ""
                    self.roles[name] = {"bath", "dyestuff"}
        return self._inside

    def bath(self, name: str) -> str:
        """The bath that a name means: its own, or that of the pot which holds it; else empty."""
        if name in self.pot_of or not name:
            return name
        if name in ANY_BATH and len(self.pot_of) == 1:
            return next(iter(self.pot_of))
        held = [bath for bath, pot in self.pot_of.items() if pot == name]
        return held[0] if len(held) == 1 else ""

    def forget(self, first: Token) -> None:
        """A line that could not be read was about something that nobody knows.

        One that begins as the making of a bath does may have made another.
        """
        self._agree(("", (), ()))
        self.heated = ""  # “turn down the heat” may be what it says
        made = any(verb.does.makes_bath for verb in verbs_of(first.word))
        self.unread_bath = self.unread_bath or first.kind == "LABEL" or made

    def in_doubt(self, read: Callable[[], _Read], first: bool = False) -> _Read:
        """What is read of steps that may not be done; only what is so in any case stays meant.

        ``first`` is for the first of several ways of one step, of which one is done.
        """
        before = self._spoken_of()
        self.perhaps += 1
        made = read()
        self.perhaps -= 1
        if not first:
            self._agree(before)
        return made

    def _spoken_of(self) -> tuple[str, tuple[str, ...], tuple[str, ...]]:
        return self.last_bath, self.last_lots, self.last_materials

    def _agree(self, other: tuple[str, tuple[str, ...], tuple[str, ...]]) -> None:
        """Forget what was spoken of last, where it is something else in the other case."""
        bath, lots, materials = other
        self.last_bath = bath if self.last_bath == bath else ""
        self.last_lots = lots if self.last_lots == lots else ()
        self.last_materials = materials if self.last_materials == materials else ()
        self.handled = self.handled and bool(self.last_lots)

    def note(self, step: Step) -> None:
        """Keep where things are after a step."""
        if step.verb is None:
            self.unknown += step.kind == "follow"
            self.heated = ""  # “do "turn the heat off"”: what is done in free words nobody knows
            return
        does = step.does
        self.bagged = self.bagged or does.bags
        names = tuple([item.name.text for item in step.objects if item.name is not None])
        lots = tuple([name for name in names if name in self.inside])
        self.last_materials = names if does.readies or does.bags else ()
        if does.bags and (bags := self._bags_of(step)):
            self.last_materials = bags  # tie the skins in a bag, and hang it in the bath
        self.handled = bool(lots)
        self.heated = self._brought_to_heat(step, names)
        self.begun.update(lots)
        if does.lifts_matter or does.throws_matter_out:
            for held in self.holds.values():
                held.difference_update(names)
        if does.bags:
            self._bag(step, names)
        elif does.makes_bath:
            self._made(step)
        elif does.adds:
            self._added(step, names, lots)
        elif does.puts_fibre_in:
            self._put_in(step, lots)
        elif "lot" in step.verb.objects:
            self._out(step, lots)
        elif "bath" in step.verb.objects:
            self._of_a_bath(step, names)

    def _bags_of(self, step: Step) -> tuple[str, ...]:
        places = (step.within,) if step.within is not None else ()
        items = (*step.objects, *step.into, *places)
        names = [item.name.text for item in items if item.name is not None]
        return tuple([name for name in names if self._is_bag(name)])

    def _brought_to_heat(self, step: Step, names: tuple[str, ...]) -> str:
        """The bath that a step has brought to a heat that is said; empty where it is left to boil.

        What goes into it, a stir and a lid change nothing of that.
        """
        does = step.does
        if self.heated and (does.adds or does.moves_liquor or does.moves_lid):
            return self.heated
        place = step.within if does.puts_fibre_in and not (step.lasting or step.until) else None
        if place is not None and place.name is not None:
            names = (place.name.text,)  # heat yarn in the dye bath to 80 °C
        elif not does.brings_to_heat:
            return ""
        if step.to is None or len(names) != 1:
            return ""
        heat = step.to.quantity
        boil = vocabulary().heats["boil"].low
        boils = heat is not None and heat.low is not None and heat.low >= boil
        return "" if boils else self.bath(names[0])

    def declared_of(self, lot: str) -> set[str]:
        """The declared lots that a lot is of."""
        return self._comes_from.get(lot, {lot} & self.made.lots.keys())

    def works_in(self, bath: str) -> bool:
        """True where a bath has fibre in it, or plants that give it their colour; for no vat."""
        if "reducer" in self.roles.get(bath, ()):
            return False
        known = self.made.materials
        parts = {
            part for one in self.holds.get(bath, ()) if one in known for part in known[one].roles
        }
        return bath in self.inside.values() or not parts.isdisjoint(("dyestuff", "tannin"))

    def _bag(self, step: Step, bags: tuple[str, ...]) -> None:
        """A bag speaks of its bath, though it comes out of it."""
        where = (step.into[0] if step.into else None) or step.within or step.source
        bath = self.bath(where.name.text) if where is not None and where.name is not None else ""
        homes = {self.was_in.get(bag, "") for bag in bags}
        bath = bath or (homes.pop() if len(homes) == 1 else "")
        if step.does.bag_in:
            self.was_in |= dict.fromkeys(bags, bath)
        if bath:
            self.last_bath = bath

    def _made(self, step: Step) -> None:
        within = step.within.name if step.within is not None else None
        pot = within.text if within is not None else ""
        bath = step.label.text if step.label is not None else pot
        if not bath:
            self.last_bath, self.last_lots = SOMEWHERE, ()  # soaked in nobody knows what
            return
        self.pot_of[bath] = pot
        items = (*step.using, *step.objects)
        self.roles[bath] = self._parts(items)
        self.holds[bath] = {item.name.text for item in items if item.name is not None}
        self.last_bath, self.last_lots = bath, ()
        self.stocks.discard(bath)
        self.used.discard(bath)
        if step.does.prepares:
            brought = (item.name.text for item in step.using if item.name is not None)
            self.was_in |= {one: bath for one in brought if self._is_bag(one)}
        elif not {"dyestuff"} & self.roles[bath]:
            self.stocks.add(bath)

    def _is_bag(self, name: str) -> bool:
        thing = self.made.equipment.get(name)
        return thing is not None and thing.bag

    def _parts(self, items: Any) -> set[str]:
        found: set[str] = set()
        for item in items:
            name = item.name.text if item.name is not None else ""
            if name in self.made.materials:
                found |= set(self.made.materials[name].roles)
            elif name in self.roles:
                found |= self.roles[name]
        return found

    def _added(self, step: Step, names: tuple[str, ...], lots: tuple[str, ...]) -> None:
        to = step.to.name.text if step.to is not None and step.to.name is not None else ""
        bath = self.bath(to)
        if not bath and len(names) == 1 and (moved := self.bath(names[0])):
            self._poured(moved, to)
            return
        self.last_bath, self.last_lots = bath, lots
        if bath:
            self.roles.setdefault(bath, set()).update(self._parts(step.objects))
            self.holds.setdefault(bath, set()).update(set(names) - set(lots))
        for lot in lots:
            self._move(lot, bath)
        for item in step.objects:
            gone = self.bath(item.name.text) if item.name is not None else ""
            if gone and gone != bath and item.quantity is None:
                self._gone(gone)

    def _put_in(self, step: Step, lots: tuple[str, ...]) -> None:
        into = step.within or (step.into[0] if step.into else None) or step.to
        name = into.name.text if into is not None and into.name is not None else ""
        bath = self.bath(name)
        if name and not bath and step.using and name in self.made.equipment:
            bath = step.label.text if step.label is not None else name
            self.pot_of[bath] = name
            self.roles[bath] = self._parts(step.using)
        self.last_bath, self.last_lots = bath, lots
        if bath and lots:
            self.used.add(bath)
        for lot in lots:
            self._move(lot, "" if step.does.fibre_out_after else bath)

    def _out(self, step: Step, lots: tuple[str, ...]) -> None:
        self.last_bath, self.last_lots = "", lots
        inside = self.inside
        for lot in lots:
            if not (step.does.stays_in_its_bath and inside[lot]):
                self._move(lot, "")
        if step.does.splits:
            parts = [item.name.text for item in step.into if item.name is not None]
            self._instead(lots, parts)
        elif step.does.joins:
            joined = step.named or (step.into[0].name if step.into else None)
            self._instead(lots, [joined.text] if joined is not None else [])

    def _instead(self, gone: tuple[str, ...], made: list[str]) -> None:
        for lot in gone if not self.perhaps else ():
            self.inside.pop(lot, None)
        self.inside.update(dict.fromkeys(made, ""))
        roots = {root for lot in gone for root in self.declared_of(lot)}
        self.made_of |= dict.fromkeys(made, gone)
        self._comes_from |= dict.fromkeys(made, roots)
        self.last_lots = ()

    def _of_a_bath(self, step: Step, names: tuple[str, ...]) -> None:
        bath = self.bath(names[0]) if names else ""
        self.last_bath, self.last_lots = bath, ()
        whole = all(item.quantity is None for item in step.objects)
        does = step.does
        into = step.into[0].name.text if step.into and step.into[0].name is not None else ""
        if bath and (does.empties or does.stores) and whole:
            self._gone(bath)
        elif bath and does.strains:
            self._strained(bath, into)
        elif does.draws_off and (drawn := _drawn(step, into)):
            self.pot_of[drawn] = into
            self.roles[drawn] = set(self.roles.get(bath, ()))
            self.holds[drawn] = set()
            self.last_bath = SOMEWHERE  # that which is drawn off, or the rest of it?

    def _strained(self, bath: str, into: str) -> None:
        """The plants of a bath are in hand, and its liquor may go into another pot or bath."""
        known = self.made.materials
        plants = [one for one in self.holds.get(bath, ()) if one in known]
        self.strained = tuple([one for one in plants if "dyestuff" in known[one].roles])
        self.holds[bath] = self.holds.get(bath, set()) - set(self.strained)
        other = self.bath(into)
        if other and other != bath:
            self.roles.setdefault(other, set()).update(self.roles.get(bath, ()))
            self._gone(bath)
            self.last_bath = other
        elif into and not other:
            self._poured(bath, into)

    def _poured(self, bath: str, pot: str) -> None:
        """A whole bath is in another pot; one without a name is called by that pot from here on."""
        called = pot if self.pot_of.get(bath) == bath else bath
        self.pot_of.pop(bath, None)
        self.pot_of[called] = pot
        self.last_bath = called
        if called == bath:
            return
        self.roles[called] = self.roles.pop(bath, set())
        self.holds[called] = self.holds.pop(bath, set())
        self._put_into[called] = self._put_into.pop(bath, [])
        for names in (self.stocks, self.used):
            if bath in names:
                names.discard(bath)
                names.add(called)
        for homes in (self.inside, self.was_in):
            homes.update({thing: called for thing, home in homes.items() if home == bath})

    def _move(self, lot: str, bath: str) -> None:
        before = self.inside.get(lot, "")
        if bath:
            self.used.add(bath)
            self.was_in[lot] = bath if not self.perhaps else SOMEWHERE
            self._put_into.setdefault(bath, []).append(lot)
        self.inside[lot] = bath if not self.perhaps or before == bath else SOMEWHERE

    def _gone(self, bath: str) -> None:
        self.last_bath = "" if self.last_bath == bath else self.last_bath
        if self.perhaps:
            return
        self.pot_of.pop(bath, None)
        for lot in self._put_into.pop(bath, ()):
            if self.inside.get(lot) == bath:
                self.inside[lot] = ""


def _drawn(step: Step, into: str) -> str:
    """What that which is drawn off is called: by its name, its label, or the pot it goes into."""
    name = step.named or (step.label if into else None)
    return name.text if name is not None else into
