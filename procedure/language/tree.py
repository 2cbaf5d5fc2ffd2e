"""The tree: what was written, word for word, each token in its place."""

from collections.abc import Iterable, Sequence

from procedure.findings import Says
from procedure.quantity.record import NamedTuple


class Token(NamedTuple):
    """A word, number, string or mark. ``line`` and ``column`` count from 1, in characters.

    ``text`` is as it was written; ``meant`` is the word where it is read as another: without
    its capital, or with the second word that comes further on (“take ... out”).
    """

    kind: str
    text: str
    line: int
    column: int
    meant: str = ""

    @property
    def word(self) -> str:
        """The word that it is read as."""
        return self.meant or self.text

    @property
    def name(self) -> str:
        """The name that a label gives: without its colon, and with hyphens for blanks."""
        return "-".join(self.word.rstrip(": \t").split())

    @property
    def to(self) -> int:
        """The column just after the token."""
        return self.column + len(self.text)


def written_as(tokens: Sequence[Token], raws: Iterable[tuple[int, str]]) -> str:
    """The text from the first of some tokens to the last, whatever no token was made of in it.

    ``raws`` are the lines that they are on, with their numbers.
    """
    begins = min((one.line, one.column) for one in tokens)
    ends = max((one.line, one.to) for one in tokens)
    said = []
    for number, raw in raws:
        if begins[0] <= number <= ends[0]:
            stop = ends[1] - 1 if number == ends[0] else len(raw)
            said += raw[begins[1] - 1 if number == begins[0] else 0 : stop].split()
    return " ".join(said)


def words_of(tokens: list[Token]) -> set[str]:
    """The words that tokens are read as. Every line is asked for them, most of them in vain."""
    return {token.meant or token.text for token in tokens}


class Node(NamedTuple):
    """A piece of a line: a rule of the grammar and what stood in it."""

    kind: str
    children: "tuple[Node | Token, ...]"


# What is said of a declaration that begins with what it is.
# What the name of a bath ends with.
BATHS = frozenset(("bath", "vat", "liquor"))
UNNAMED = Says("What is declared has a name and a colon in front.")


class Fault(NamedTuple):
    """A place that could not be read: what was found, what could have been there.

    Where ``word``, which is written there, is a slip of the pen for one word only,
    ``meant`` is that word; the line can be read with it. ``heading`` is one that is missing
    above the line.
    """

    line: int
    column: int
    to: int
    sentence: Says
    remedy: Says
    word: str = ""
    meant: str = ""
    heading: str = ""


class SaidOf(NamedTuple):
    """A word that is said of a thing and orders nothing: the “rinsed” of “the rinsed yarn”."""

    word: Token
    thing: str


class Line:
    """A line with its continuation lines, and the block below it.

    ``node`` is None where the line could not be read; ``opens`` names the block
    that its first word opens (``repeat``, ``if``, ``for``), else it is empty. ``said``
    are the words of this step alone, in plain order, where its line says several. ``names``
    are what a line that could not be read names, and ``written`` is all of it.
    """

    __slots__ = ("block", "first", "names", "node", "opens", "said", "written")

    def __init__(
        self, node: Node | None, first: Token, opens: str = "", said: tuple[Token, ...] = ()
    ) -> None:
        self.node = node
        self.first = first
        self.opens = opens
        self.block: list[Line] = []
        self.said = said
        self.names: tuple[str, ...] = ()
        self.written = ""


class Section(NamedTuple):
    """A section: its heading (``procedure`` for the title and header lines) and lines."""

    name: str
    heading: Token
    title: Node | None
    lines: list[Line]


class Tree(NamedTuple):
    """A whole text: its sections as written and every place that could not be read.

    ``said_of`` is what is said of the things of steps, and read over.
    """

    sections: list[Section]
    faults: list[Fault]
    line_count: int
    said_of: list[SaidOf] = []  # noqa: RUF012
