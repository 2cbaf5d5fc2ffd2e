"""The model: a procedure as a dyer understands it, with the places of its words."""

from fractions import Fraction

from procedure.model.quantity import Place, Quantity
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, Verb, Vocabulary
from procedure.vocabulary.effects import NOTHING, Effect

_NO_MANNER: frozenset[str] = frozenset()
# How long a bath stands for a night or more.
_BY_NIGHT = frozenset(("overnight", "until-next-day"))

__all__ = [
    "FIELD_OF",
    "Allow",
    "Block",
    "Equipment",
    "Item",
    "Lot",
    "Material",
    "Name",
    "Past",
    "Place",
    "Procedure",
    "Step",
    "UnknownWord",
    "Workshop",
    "Written",
]


class Name(NamedTuple):
    """A name or free words, and where they are."""

    text: str
    place: Place


class Item(NamedTuple):
    """What a clause or a verb takes: a name, an amount, free words, or a name and an amount.

    ``given`` is the name after ``=`` where a followed procedure is told what is what, and
    ``water`` the kind of water that is named (soft, hard), empty where none is said, and
    ``water_said`` the word for it (rain, tap);
    ``heat`` that of the “4 L warm water” which is brought.
    """

    name: Name | None
    quantity: Quantity | None
    words: Name | None
    given: Name | None
    place: Place
    water: str = ""
    heat: Quantity | None = None
    water_said: str = ""


class Allow(NamedTuple):
    """A finding that the writer accepts, with the reason."""

    rule: Name
    reason: str
    place: Place


class UnknownWord(NamedTuple):
    """A word that the vocabulary lacks, and the nearest one it has.

    ``ask`` are things that harm and that it comes near to: the writer is asked about
    them by their Latin names, and none of them is ever offered. ``behind`` are the words after
    it that it speaks for, such as the part of a plant, to column ``to`` (0 where there are none).
    """

    word: Name
    section: str
    nearest: str | None
    ask: tuple[Entry, ...] = ()
    behind: str = ""
    to: int = 0


class SaidBeside(NamedTuple):
    """What a declaration says beside its own thing, and so is not counted.

    ``kind`` is ``thing`` (another material or vessel), ``otherwise`` (a second value where one
    counts) or ``no place`` (an amount or a day that the section's things have not). ``first`` is
    what it stands behind; with ``no place`` the kind of what has none.
    """

    word: Name
    kind: str
    first: str
    section: str = ""


class Past(NamedTuple):
    """What was done to a lot before: ``done`` (mordanted, tannined, dyed), with what, how much."""

    done: str
    entry: Entry
    share: Quantity | None
    place: Place


class Lot(NamedTuple):
    """Fibre as declared. ``weight`` is the whole lot's dry weight.

    ``past`` is what was done to it before; ``damp`` holds where it is not dry yet. ``made_in``
    is the file of the procedure that it comes from. ``breeds`` are the writer's own words for its
    fibres, where the vocabulary has a wider one: Bluefaced Leicester, which is wool.
    """

    name: Name
    fibres: tuple[Entry, ...]
    weight: Quantity | None
    pieces: Quantity | None
    scoured: bool | None
    mordanted: bool
    words: tuple[str, ...]
    line: int
    allows: tuple[Allow, ...] = ()
    past: tuple[Past, ...] = ()
    damp: bool = False
    made_in: Name | None = None
    breeds: tuple[str, ...] = ()


class Equipment(NamedTuple):
    """A pot or tool as declared. ``use`` is dyeing, cooking, both, or empty where unstated.

    ``several`` is how many there are of it where that is said (“2 pots”).
    """

    name: Name
    metal: Entry | None
    kind: Entry | None
    capacity: Quantity | None
    power: Quantity | None
    lidded: bool
    use: str
    use_place: Place | None
    words: tuple[str, ...]
    line: int
    allows: tuple[Allow, ...] = ()
    several: Quantity | None = None

    @property
    def bag(self) -> bool:
        """True for what holds plants in a bath, and lets the liquor through."""
        return self.kind is not None and self.kind.facts.get("meaning") == "holds plants in a bath"

    @property
    def holds(self) -> bool:
        """True for what can hold a bath."""
        return self.kind is None or self.kind.table == "vessel"


_JOINING = frozenset(("and", "with", "plus"))


def joins(text: str) -> bool:
    """Whether words join two things: bran and lye, bran with potash."""
    return not _JOINING.isdisjoint(text.lower().split())


class Material(NamedTuple):
    """A material as declared. ``roles`` are its parts in the work; ``state`` fresh, dried or ''.

    ``part`` is the part of a plant where its name says one (tops, roots), else ''.
    ``suspects`` are plants that harm which its own name or free words name, beside its entry.
    ``phrases`` are the known words by which it is declared, as written; ``free`` its free words.
    ``mixed`` are salts, acids and the like that harm, which those words name beside its entry.
    ``stock`` is how much there is of it in all, where its declaration says so.
    """

    name: Name
    entry: Entry | None
    roles: tuple[str, ...]
    state: str
    gathered: str
    strength: Quantity | None
    strength_by: str
    words: tuple[str, ...]
    line: int
    allows: tuple[Allow, ...] = ()
    part: str = ""
    gathered_place: Place | None = None
    suspects: tuple[Entry, ...] = ()
    phrases: tuple[str, ...] = ()
    free: tuple[str, ...] = ()
    mixed: tuple[Entry, ...] = ()
    stock: Quantity | None = None

    @property
    def called(self) -> str:
        """Its name in the vocabulary, or the writer's own where it has none."""
        return self.entry.name if self.entry else self.name.text

    @property
    def percent(self) -> Fraction | None:
        """Its strength in % at the most; None where it is not said so."""
        strength = self.strength
        if strength is None or strength.kind != "percent" or strength.high is None:
            return None
        return strength.high * 100

    @property
    def trade_name(self) -> str:
        """What papers and findings call it, so that nobody takes it for something else.

        What free words mix into it is named too: weld with foxglove.
        """
        from procedure.vocabulary.trade_names import trade_name

        own = trade_name(self.called) if self.entry else ""
        if not own and any(joins(text) for text in self.free):
            own = self.name.text  # bran and lye of ashes: the one that nobody knows is not left out
        named = (one.name for one in (*self.suspects, *self.mixed) if one.name != self.name.text)
        others = " and ".join(trade_name(one) for one in named)
        return " with ".join(one for one in (own, others) if one) or self.called

    @property
    def in_full(self) -> str:
        """Its full name with the part of the plant, as a buyer or gatherer must know it."""
        return f"{self.trade_name} {self.part}".rstrip()


# The word that opens a clause of a step, and the field of :class:`Step` that has what it says.
FIELD_OF = {
    "in": "within",
    "into": "into",
    "from": "source",
    "with": "using",
    "at": "at",
    "to": "to",
    "over": "over",
    "for": "lasting",
    "until": "until",
    "as": "named",
    "on": "on",
    "through": "through",
}


class Step(NamedTuple):
    """A step: a verb with its objects and clauses; ``do`` and ``follow`` have verb None.

    ``word`` is the verb as written, which may be an everyday one for ``verb``. ``beside``
    are the numbers of the first and the last of the steps that it is done beside (meanwhile).
    """

    number: int
    kind: str
    label: Name | None
    verb: Verb | None
    verb_place: Place
    objects: tuple[Item, ...] = ()
    words: Name | None = None
    within: Item | None = None
    into: tuple[Item, ...] = ()
    source: Item | None = None
    using: tuple[Item, ...] = ()
    at: Item | None = None
    to: Item | None = None
    over: Quantity | None = None
    lasting: Quantity | None = None
    until: Item | None = None
    after: tuple[Name, ...] = ()
    on: Name | None = None
    through: Name | None = None
    wearing: tuple[Name, ...] = ()
    named: Name | None = None
    note: str = ""
    manners: tuple[Name, ...] = ()
    allows: tuple[Allow, ...] = ()
    twice: tuple[Name, ...] = ()
    beside: tuple[int, int] | None = None
    place: Place = Place(1, 1, 1)
    ceiling: Quantity | None = None
    word: str = ""

    @property
    def manner(self) -> frozenset[str]:
        """Its manner words by name."""
        return frozenset([name.text for name in self.manners]) if self.manners else _NO_MANNER

    @property
    def effect(self) -> str:
        """What it does, as the vocabulary has it; empty for do and follow."""
        return self.verb.effect if self.verb else ""

    @property
    def does(self) -> Effect:
        """What it does, as traits; all of them are no for do and follow."""
        return self.verb.does if self.verb else NOTHING

    @property
    def left_to_cool(self) -> bool:
        """Whether fibre lies unheated in what cools meanwhile: “from hot to cold overnight”."""
        by_night = self.does.puts_fibre_in and not _BY_NIGHT.isdisjoint(self.manner)
        if not (self.does.unheated or (by_night and self.over is None)):
            return False
        high, low = (None if one is None else one.quantity for one in (self.source, self.to))
        if high is None or low is None or {high.kind, low.kind} != {"temperature"}:
            return False
        return high.low is not None and low.high is not None and low.high < high.low

    @property
    def left_unheated(self) -> bool:
        """Whether fibre lies in a bath that nothing heats, and no heat is written: “steep”."""
        said = (self.at, self.to, self.source, self.until_measured)
        return self.does.unheated and self.over is None and all(one is None for one in said)

    @property
    def poured_hot(self) -> bool:
        """Whether its heat is that of the water that is poured in, and nobody heats it on."""
        does = self.does
        if self.at is None or not self.using or does.changes_heat or does.poured_at_its_heat:
            return False
        if does.heats_own_water or self.to is not None or self.over is not None:
            return False
        at = self.at.quantity
        heats = [item.heat for item in self.using if item.heat is not None]
        return at is not None and any(heat.place == at.place for heat in heats)

    @property
    def has_sign(self) -> bool:
        """Whether it says until when, in whatever way."""
        return self.until is not None

    @property
    def until_measured(self) -> Item | None:
        """Until when, where that is a measure; None where it is a sign in words."""
        return self.until if self.until is not None and self.until.quantity is not None else None

    @property
    def labelled(self) -> bool:
        """Whether it says that what it leaves gets a label."""
        return "labelled" in self.manner or "label" in self.note.lower()


class Block(NamedTuple):
    """Steps that belong together: ``repeat``, ``if``, ``for``, ``either`` or a ``way``.

    The body of an ``either`` is its ways, which exclude each other; ``condition`` of a way
    is what it is called.

    ``times`` are the least and the most rounds; the most is ENDLESS for “at least 3 times”,
    and ``times`` is None where only a sign ends them. ``every`` is the time from one round's
    start to the next.
    """

    number: int
    kind: str
    label: Name | None
    condition: str
    times: tuple[Fraction, Fraction] | None
    variable: Name | None
    values: tuple[Item, ...]
    body: "tuple[Step | Block, ...]"
    place: Place
    every: Quantity | None = None


class Written(NamedTuple):
    """A quantity with the part it plays: ``role`` is heat, time, amount, weight, ...

    ``step`` is None in declarations and header lines; ``item`` the material or lot
    it measures, if any.
    """

    quantity: Quantity
    role: str
    item: Name | None
    step: Step | None


class Workshop(NamedTuple):
    """What a collection's workshop file declares for all its procedures.

    ``words`` is the vocabulary with the workshop's own entries. The places in its
    equipment and materials are places in the workshop file, ``file``.
    """

    file: str
    words: Vocabulary
    equipment: dict[str, Equipment]
    materials: dict[str, Material]


class UnreadStep(NamedTuple):
    """A line among the steps that could not be read, with the number that it has all the same.

    ``alone`` holds where no block that could be read is below it.
    """

    number: int
    line: int
    alone: bool


class Procedure:
    """A whole procedure, as one file says it.

    ``file`` is the name that findings show and ``key`` the one that never changes: the
    resolved path, or ``file`` where the text has no path. ``unread`` are the names that
    lines which could not be read would have declared or made; nothing more is said of them.
    ``unread_words`` are all the words of such lines below the header. ``said_of`` are words that
    are said of a thing and order nothing (“the rinsed yarn”), each with the thing's name.
    """

    def __init__(
        self,
        file: str,
        line_count: int = 0,
        workshop: Workshop | None = None,
        key: str = "",
    ) -> None:
        self.file = file
        self.key = key or file
        self.title: Name | None = None
        self.by: Name | None = None
        self.revised: Name | None = None
        self.version: Name | None = None
        self.source: Name | None = None
        self.makes: Name | None = None
        self.licence: Name | None = None
        self.setting: Name | None = None
        self.water: Name | None = None
        self.water_acidity: Quantity | None = None
        self.altitude: Quantity | None = None
        self.wearing: tuple[Name, ...] = ()
        self.audience: tuple[Name, ...] = ()
        self.notes: tuple[Name, ...] = ()
        self.lots: dict[str, Lot] = {}
        self.equipment: dict[str, Equipment] = {}
        self.materials: dict[str, Material] = {}
        self.body: tuple[Step | Block, ...] = ()
        self.allows: tuple[Allow, ...] = ()
        self.section_allows: dict[str, tuple[Allow, ...]] = {}
        self.section_lines: dict[str, tuple[int, int]] = {}
        self.declared_twice: list[tuple[Name, Name]] = []
        self.sections_twice: list[tuple[Name, int]] = []
        self.unknown: list[UnknownWord] = []
        self.beside: list[SaidBeside] = []
        self.stray_ors: list[Name] = []
        self.waters_declared: list[Name] = []
        self.stray_meanwhiles: list[Name] = []
        self.written: list[Written] = []
        self.line_count = line_count
        # The workshop that the file belongs to, and where it declares what the file takes
        # from it; such things are among its equipment and materials with the
        # place where the file first names them.
        self.workshop = workshop
        self.brought: dict[str, Place] = {}
        self.unread: set[str] = set()
        self.unread_steps: list[UnreadStep] = []
        self.unread_words: list[Name] = []
        self.said_of: list[tuple[Name, str]] = []

    def declared(self, name: str) -> Lot | Equipment | Material | None:
        """The declaration of that name, whatever its section."""
        return self.lots.get(name) or self.equipment.get(name) or self.materials.get(name)
