"""The workshop of a collection: what its ``vatwright.toml`` says for all its procedures."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from procedure.collection.shop import Price, StockHeld
from procedure.findings import Says
from procedure.model.types import Name, Place, Procedure, Workshop
from procedure.quantity.record import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from datetime import date

    from procedure.collection.opening_hours import Hours


class WorkshopFault(NamedTuple):
    """Something in a workshop file that cannot be followed, at its place in that file."""

    place: Place
    sentence: Says | str
    remedy: Says | str


class LevelSaid(NamedTuple):
    """A level as written: the name of a rule, its level and the reason.

    Nothing is judged here. ``level`` is empty where what is written is not text.
    """

    rule: Name
    level: str
    because: str


class Opening(NamedTuple):
    """What a workshop states of its hours and its room.

    ``said`` is how the hours are put. ``people`` are names, or numbered; empty where nothing
    is said of them. ``rings`` is how many pots can be heated at once, ``power`` the watts
    that all plates may take together, ``line`` the grams of dry fibre that can hang at once;
    each is None where it is not said. ``zone`` is a time zone by its IANA name. ``pots`` says
    of which vessels there are several, ``sinks`` how many people can rinse under a tap or
    pour away at once.
    """

    hours: Hours | None = None
    said: str = ""
    people: tuple[str, ...] = ()
    rings: int | None = None
    power: int | None = None
    line: int | None = None
    zone: str = ""
    pots: tuple[tuple[str, int], ...] = ()
    sinks: int | None = None


class WorkshopFile(NamedTuple):
    """A workshop file as read.

    ``procedure`` carries its name and its declarations; ``workshop`` is what procedures
    take from it, as far as it could be read; ``faults`` are in the order of the text;
    ``prices`` and ``stock`` are by the name of a material; ``opening`` is what it states
    of hours, people and room; ``counted`` is the day on which the stock was counted, None
    where it is not said.
    """

    procedure: Procedure
    workshop: Workshop
    levels: tuple[LevelSaid, ...]
    faults: tuple[WorkshopFault, ...]
    prices: Mapping[str, Price] = MappingProxyType({})
    stock: Mapping[str, StockHeld] = MappingProxyType({})
    opening: Opening = Opening()
    counted: date | None = None
