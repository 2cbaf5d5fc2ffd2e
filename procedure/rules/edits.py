"""Safe edits: where a finding's remedy can be written by the program, and where not.

An edit is safe where the words can only be read one way. It may mend the spelling
of a word from a closed list (a clause, a verb, a unit, a state, a name of this file)
where one slip of the pen makes it one such word and no other; see
:mod:`procedure.vocabulary.slips` for what a slip is.

Not safe, and so left to the writer:

- the name of a plant, fibre, mordant or other substance, since names that look alike
  belong to things that harm differently (a sulphite is no sulphate);
- any number, and the ends of a range that runs backwards: either may be the slip;
- what an amount is measured by, and whether a gallon is US or imperial;
- taking out what is not used or not needed: a step may be missing instead, and with
  an ``allow`` the writer's reason would be lost;
- the name of a rule in an ``allow``: nothing is silenced but by hand.
"""

from __future__ import annotations

from functools import lru_cache

from procedure.findings import Edit
from procedure.flow import Slip
from procedure.flow.scope import makers
from procedure.language import Fault
from procedure.model import Name, Place, Procedure, Quantity
from procedure.vocabulary import vocabulary
from procedure.vocabulary.slips import one_slip, only_meant

# The lists of words, each closed, in which a slip may be mended. Fibres, metals and
# materials are not among them.
CLOSED = (
    *("state", "form", "use", "vessel", "heater", "tool", "part"),
    *("place", "wearing", "audience"),
)


def at_place(place: Place, text: str) -> Edit:
    """The edit that puts other words at a place."""
    return Edit(place.line, place.column, place.to, text)


def of_fault(procedure: Procedure, fault: Fault) -> Edit | None:
    """A line that can be read once a misspelt word is put right, or a heading is above it."""
    if fault.heading:
        return Edit(fault.line, 1, 1, fault.heading + "\n")
    if not fault.meant or procedure.declared(fault.word) or fault.word in procedure.unread:
        return None
    return Edit(fault.line, fault.column, fault.to, fault.meant)


def meant_unit(word: str, nearest: str | None) -> str | None:
    """The spelling of the only unit that a word can mean."""
    units = vocabulary().units
    near = [name for name in units if one_slip(word, name) or _as_capitals(word, name)]
    if len({units[name].name for name in near}) != 1:
        return None
    safe = [name for name in near if only_meant(word, (name,)) or _as_capitals(word, name)]
    return nearest if nearest in safe else next(iter(safe), None)


def _as_capitals(word: str, unit: str) -> bool:
    """True where a unit differs in capitals only; in short ones they make another unit."""
    return word != unit and len(word) > 2 and word.casefold() == unit.casefold()


def of_unit(quantity: Quantity, nearest: str | None) -> Edit | None:
    """A unit that is misspelt and can only be one unit."""
    meant = meant_unit(quantity.word, nearest)
    if meant is None or quantity.unit_place is None:
        return None
    return at_place(quantity.unit_place, meant)


_SUBSTANCES = ("dyestuffs", "mordants", "assistants", "fibres", "metals")


def of_word(word: Name, tables: tuple[str, ...]) -> Edit | None:
    """A descriptive word that is misspelt; never the name of a substance."""
    words = vocabulary()
    # A word that could be a substance as well is not the only reading.
    meant = only_meant(word.text, words.names(*tables, *_SUBSTANCES))
    if meant is None or words.find(meant, *_SUBSTANCES) is not None:
        return None
    if words.find(meant, *(set(tables) & set(CLOSED))) is None:
        return None
    return at_place(word.place, meant)


@lru_cache(maxsize=2)
def _names_of(procedure: Procedure) -> frozenset[str]:
    workshop = procedure.workshop
    known = {*procedure.lots, *procedure.equipment, *procedure.materials}
    known |= {*makers(procedure.body), *procedure.unread}
    known |= {*workshop.equipment, *workshop.materials} if workshop else set()
    return frozenset(known)


def of_name(slip: Slip) -> Edit | None:
    """A name of this file that is misspelt where it is used."""
    procedure, name = slip.procedure, slip.name
    words = vocabulary()
    if words.material(name.text) or any(name.text in table for table in words.tables.values()):
        return None  # it may be what is meant, with its declaration forgotten
    meant = only_meant(name.text, _names_of(procedure))
    return None if meant is None else at_place(name.place, meant)
