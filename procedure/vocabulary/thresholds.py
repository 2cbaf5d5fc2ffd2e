"""Numbers that rules go by, and how words of the trade are related.

Both are data: ``data/thresholds.csv`` and ``data/relations.csv``, each row with
its source.
"""

from fractions import Fraction
from functools import cache

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import exact
from procedure.vocabulary.library import rows


class Threshold(NamedTuple):
    """A number that a rule goes by, in the unit that its row names, and its source."""

    value: Fraction
    unit: str
    source: str


class Relation(NamedTuple):
    """How one word is related to another; ``above`` in % of the fibre, where it begins there."""

    first: str
    second: str
    above: Fraction | None
    note: str
    source: str


@cache
def _thresholds() -> dict[str, Threshold]:
    return {
        row["name"]: Threshold(exact(row["value"]), row["unit"], row["source"])
        for row in rows("thresholds")
    }


@cache
def _relations() -> dict[str, tuple[Relation, ...]]:
    found: dict[str, list[Relation]] = {}
    for row in rows("relations"):
        above = exact(row["above"]) if row["above"] else None
        made = Relation(row["first"], row["second"], above, row["note"], row["source"])
        found.setdefault(row["relation"], []).append(made)
    return {relation: tuple(made) for relation, made in found.items()}


def threshold(name: str) -> Threshold:
    """The threshold of that name. Raises ``KeyError`` where the data has none."""
    return _thresholds()[name]


def related(relation: str, first: str) -> tuple[Relation, ...]:
    """What is in that relation to a word; ``relation`` is as the data file spells it."""
    return tuple(one for one in _relations().get(relation, ()) if one.first == first)


def in_relation(relation: str) -> tuple[str, ...]:
    """The words that are in that relation to any other."""
    return tuple(dict.fromkeys(one.first for one in _relations().get(relation, ())))
