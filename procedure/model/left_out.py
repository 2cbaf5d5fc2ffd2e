"""What a step leaves out because the step before it says it: “simmer for 1 h”, “put yarn back”.

People do not name the bath again that they have just spoken of, nor the fibre that they hold in
their hands. What is filled in is told in every paper; where the step before speaks of no bath and
no fibre nothing is filled in, and the writer is asked.
"""

from __future__ import annotations

from collections.abc import Callable

from procedure.language import Token
from procedure.model.quantity import Place
from procedure.model.types import Item, Name, Step
from procedure.vocabulary import Verb, vocabulary
from procedure.vocabulary.everyday import readings_of

# Fibre goes again into the bath that it came from.
_BACK = frozenset(("put back", "return", "re-enter"))
_IT = ("it", "them")
_WHERE = ("within", "into", "to", "source")


class LeftOut:
    """What the step before was about: a bath, or fibre; and the bath that each lot was in last."""

    def __init__(self) -> None:
        self.bath = ""
        self.lots: tuple[Item, ...] = ()
        self.was_in: dict[str, str] = {}

    def forget(self) -> None:
        """A line that could not be read was about something that nobody knows."""
        self.bath, self.lots = "", ()

    def note(self, step: Step, kind: Callable[[Item], str]) -> None:
        """Keep what a step is about; ``kind`` tells whether an item is a lot, a bath or a pot."""
        kinds = [kind(item) for item in step.objects]
        self.lots = step.objects if kinds and set(kinds) == {"lot"} else ()
        self.bath = self._about(step, kinds)
        if step.does.prepares:
            bags = (item for item in step.using if kind(item) == "bag")
            self.was_in |= dict.fromkeys(map(_named, bags), self.bath)
        if self.bath and (step.does.bag_in or (self.lots and step.does.puts_fibre_in)):
            self.was_in |= dict.fromkeys(map(_named, step.objects), self.bath)

    def _about(self, step: Step, kinds: list[str]) -> str:
        does = step.does
        if does.empties or does.stores:
            return ""
        if kinds == ["bag"]:  # its bath, though it comes out of it
            bath = _named(next(iter(step.into), None) or step.within or step.source)
            return bath or self.was_in.get(_named(step.objects[0]), "")
        if does.prepares:
            return step.label.text if step.label is not None else _named(step.within)
        if does.makes_bath and step.label is not None:
            return ""  # a material soaked or dissolved for later
        if does.adds:
            return _named(step.to)
        if len(kinds) == 1 and kinds[0] in ("bath", "pot") and step.objects[0].quantity is None:
            return _named(step.objects[0])
        if not self.lots or does.fibre_out_after or does.own_water or does.takes_out:
            return ""
        where = step.within or next(iter(step.into), None)
        if where is not None:
            return _named(where) if does.puts_fibre_in or does.meets_bath else ""
        known = {self.was_in.get(_named(lot), "") for lot in self.lots}
        stays = does.stays_in_its_bath and len(known) == 1
        return known.pop() if stays else ""

    def fill(self, first: Token, said: dict[str, object], kind: Callable[[Item], str]) -> None:
        """Enter what a step leaves out among its clauses."""
        place = Place(first.line, first.column, first.to)
        verbs = _may_be(first.word)
        if _unnamed(said.get("objects", ())):
            done_to = {one for verb, of in verbs for one in (of or verb.objects)}
            lots = "lot" in done_to and (not self.bath or bool(said.get("within")))
            if lots and self.lots and (self.bath or "bath" not in done_to):
                said["objects"] = tuple(_item(_named(lot), place) for lot in self.lots)
            elif self.bath and "bath" in done_to:
                said["objects"] = (_item(self.bath, place),)
        objects = said.get("objects", ())
        assert isinstance(objects, tuple)
        if not objects or any(said.get(clause) for clause in _WHERE):
            return
        if self.bath and any(verb.does.adds and not of for verb, of in verbs):
            said["to"] = _item(self.bath, place)
            return
        if any(kind(item) != "lot" for item in objects):
            return
        puts_in = any(
            verb.does.puts_fibre_in
            and not (verb.does.own_water or verb.does.stays_in_its_bath)
            and (not of or "lot" in of)
            for verb, of in verbs
        )
        if not puts_in:
            return
        before = {self.was_in.get(_named(item), "") for item in objects}
        known = before if first.word in _BACK else {self.bath}
        if len(known) == 1 and (bath := known.pop()):
            said["within"] = _item(bath, place)


def _unnamed(objects: object) -> bool:
    """True where a step does not say what it is done to, or says “it”."""
    assert isinstance(objects, tuple)
    return not objects or (len(objects) == 1 and _named(objects[0]) in _IT)


def _may_be(word: str) -> list[tuple[Verb, frozenset[str]]]:
    """The verbs that a word may be, each with what it is done to where that is not all."""
    known = vocabulary().verbs
    found = [(known[word], frozenset[str]())] if word in known else []
    return found + [(known[one.verb], one.of) for one in readings_of(word)]


def _named(item: Item | None) -> str:
    return item.name.text if item is not None and item.name is not None else ""


def _item(name: str, place: Place) -> Item:
    return Item(Name(name, place), None, None, None, place)
