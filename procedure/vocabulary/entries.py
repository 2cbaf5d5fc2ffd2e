"""What the vocabulary holds: one small record for each row of the data files."""

from fractions import Fraction

from procedure.quantity.kept_answers import remembered
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import exact
from procedure.vocabulary.effects import Effect


class Unit(NamedTuple):
    """A unit of measure.

    ``factor`` turns one of it into the base unit of its kind (g, L, °C, min, m,
    g/L, W, piece); ``factor_high`` differs only where the word does not say which
    of two units is meant (a gallon).  ``offset`` is added before multiplying
    (°F).  ``source`` names where the factor comes from.
    """

    name: str
    kind: str
    factor: Fraction
    factor_high: Fraction
    offset: Fraction
    ask: str
    source: str

    @property
    def vague(self) -> bool:
        """True where the name fits two units and the writer must choose."""
        return self.factor is not self.factor_high and self.factor != self.factor_high

    @property
    def by_hand(self) -> bool:
        """True for what a hand holds: nobody can say which of several it is."""
        return self.vague and not self.ask


class Verb(NamedTuple):
    """A verb: what it acts on, what clauses it needs and may have, what it does.

    ``does`` is its effect with the traits of its own row; ``past`` is how one says that
    it was done, ``says`` how one tells somebody to do it and ``then`` the same after
    “put it into the bath and”, with ``{it}`` for what it is done to. ``wants`` are the
    parts of materials of which its bath must have one, ``lacks`` what is said otherwise.
    """

    name: str
    past: str
    group: str
    effect: str
    does: Effect
    objects: tuple[str, ...]
    needs: tuple[str, ...]
    may: frozenset[str]
    asks: tuple[str, ...]
    symbol: str
    says: str
    then: str
    wants: tuple[str, ...]
    lacks: str
    meaning: str


class HeatWord(NamedTuple):
    """A named heat or wait with its stated range in °C or minutes."""

    name: str
    kind: str
    low: Fraction
    high: Fraction
    source: str


@remembered(8192)
def _words(text: str) -> tuple[str, ...]:
    return tuple(map(str.strip, text.split(";")))


class Entry(NamedTuple):
    """A word of the trade: a fibre, material, metal, plant or hazard.

    ``table`` is the data file it is in (without its suffix) and ``facts``
    the row's cells by column; :meth:`number` and :meth:`words` read them.
    """

    name: str
    table: str
    facts: dict[str, str]

    def __hash__(self) -> int:
        return hash((self.table, self.name))

    def number(self, column: str) -> Fraction | None:
        """The cell as an exact number, or None where the cell is empty or missing."""
        text = self.facts.get(column, "")
        return exact(text) if text else None

    def words(self, column: str) -> tuple[str, ...]:
        """The cell as a list (``; `` between its words)."""
        text = self.facts.get(column, "")
        return _words(text) if text else ()

    def yes(self, column: str) -> bool:
        """True where the cell says yes."""
        return self.facts.get(column, "") == "yes"
