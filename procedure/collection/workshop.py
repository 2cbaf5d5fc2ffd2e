"""The workshop of a collection: what its ``vatwright.toml`` says for all its procedures."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import NamedTuple

from procedure.collection.shop import Held, Price
from procedure.findings import Says
from procedure.model.types import Name, Place, Procedure, Workshop


class Fault(NamedTuple):
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


class WorkshopFile(NamedTuple):
    """A workshop file as read.

    ``procedure`` carries its name and its declarations; ``workshop`` is what procedures
    take from it, as far as it could be read; ``faults`` are in the order of the text;
    ``prices`` and ``stock`` are by the name of a material.
    """

    procedure: Procedure
    workshop: Workshop
    levels: tuple[LevelSaid, ...]
    faults: tuple[Fault, ...]
    prices: Mapping[str, Price] = MappingProxyType({})
    stock: Mapping[str, Held] = MappingProxyType({})
