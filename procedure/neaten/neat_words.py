"""The words of one line in their neat form: spelling, spacing, and clauses in their order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from procedure.language import Token
from procedure.language.numbers_in_full import number_said
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary
from procedure.vocabulary.everyday import Reading

# Units that have one short form; of what is counted or spooned the word is said as it comes.
_SHORT = frozenset(
    (
        *("mass", "volume", "temperature", "time", "length", "percent", "power"),
        *("concentration", "concentration by volume"),
    )
)
# The order of clauses in the reference (grammar/README.md, “The neat form”): where, with what,
# how hot, how long, after what and on what, how, in what clothes. PLACE is the “from” of a
# place, FROM that of a heat.
ORDER = (
    *("PLACE", "IN", "INTO", "WITH", "AT", "FROM", "TO", "OVER", "LIMIT", "FOR", "UNTIL"),
    *("AFTER", "ON", "THROUGH", "AS", "MANNER", "WEARING", "NOTE", "ALLOW"),
)
_RANK = {kind: rank for rank, kind in enumerate(ORDER)} | {"AS_LONG": ORDER.index("FOR")}
_KEYWORDS = frozenset(
    "IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH WEARING AS NOTE ALLOW".split()
)
_BLOCKS = frozenset(("REPEAT", "IF", "EITHER", "OR", "MEANWHILE"))


class Piece(NamedTuple):
    """Words that stay together: a clause with its keyword, or what comes before the clauses."""

    kind: str
    tokens: tuple[Token, ...]


def spelled(tokens: Sequence[Token]) -> list[Token]:
    """The tokens, each in its plain spelling: short units, straight quotation marks."""
    made: list[Token] = []
    for at, written in enumerate(tokens):
        token = written._replace(text=written.word, meant="")
        if token.kind == "UNIT":
            token = token._replace(text=_unit(token.text, tokens[:at]))
        elif token.kind == "STRING" and '"' not in token.text[1:-1]:
            token = token._replace(text=f'"{token.text[1:-1]}"')
        elif token.kind == "LABEL":
            token = token._replace(text=token.text.rstrip(": \t") + ":")
        elif token.kind == "SECTION":
            token = token._replace(text=token.text.rstrip(": \t"))
        elif token.kind in _KEYWORDS:
            token = token._replace(text=token.kind.lower())
        made.append(token)
    return made


def _unit(text: str, before: Sequence[Token]) -> str:
    """The short form of a unit after a figure; after a number in words it stays a word."""
    unit = vocabulary().units.get(text)
    if unit is None or unit.vague or unit.kind not in _SHORT or not before:
        return text
    last = before[-1]
    if last.kind == "PER":
        return unit.name if last.text == "per" else text
    return text if number_said(last.text) is not None else unit.name


def pieces(tokens: Sequence[Token]) -> list[Piece]:
    """A step in pieces: what comes before the clauses, then each clause.

    A line that opens a block is one piece.
    """
    body = [token for token in tokens[:2] if token.kind != "LABEL"]
    head = body[0].kind if body else ""
    each = [token.kind for token in body] == ["FOR", "EACH"] or head == "FOR"
    if head in _BLOCKS or each:
        return [Piece("", tuple(tokens))]
    found: list[list[Token]] = [[]]
    kinds = [""]
    for at, token in enumerate(tokens):
        another = token.kind == "MANNER" and at > 1 and tokens[at - 1].kind == "OR"
        if token.kind in _RANK and not another and at:
            found.append([])
            kinds.append(token.kind)
        found[-1].append(token)
    return [Piece(kind, tuple(one)) for kind, one in zip(kinds, found, strict=True)]


def in_order(tokens: Sequence[Token]) -> list[Token]:
    """A step with its clauses in the order of the reference."""
    first, *clauses = pieces(tokens)
    written = list(pairwise(clauses))
    clauses.sort(key=_rank)
    for at, (one, two) in enumerate(pairwise(clauses)):
        heats = (one.kind, two.kind) == ("AT", "TO")
        if heats and (one, two) not in written and two.tokens[1].kind not in ("NAME", "STRING"):
            # "at 50 °C to 60 °C" would be one heat, from the one to the other.
            clauses[at : at + 2] = [two, one]
            break
    return [*first.tokens, *(token for piece in clauses for token in piece.tokens)]


def _rank(piece: Piece) -> int:
    first = piece.tokens[0]
    if piece.kind == "MANNER" and first.text in vocabulary().heats:  # overnight says how long
        return _RANK["FOR"]
    place = piece.kind == "FROM" and piece.tokens[1].kind in ("NAME", "STRING")
    return _RANK["PLACE" if place else piece.kind]


def in_plain_words(tokens: Sequence[Token], reading: Reading) -> list[Token]:
    """A step with an everyday verb, said with the plain verb that it is read as."""
    first, *clauses = pieces(tokens)
    verb = next(token for token in first.tokens if token.kind == "VERB")
    head = [t._replace(text=reading.verb) if t is verb else t for t in first.tokens]
    kinds = {piece.kind for piece in clauses}
    for clause, other in reading.moves:
        here = next((piece for piece in clauses if piece.kind == clause.upper()), None)
        if here is None or not other or other.upper() in kinds:
            continue
        keyword = here.tokens[0]._replace(kind=other.upper(), text=other)
        moved = Piece(other.upper(), (keyword, *here.tokens[1:]))
        clauses[clauses.index(here)] = moved
        kinds = (kinds - {here.kind}) | {moved.kind}
    last = clauses[-1].tokens[-1] if clauses else head[-1]
    if reading.heat and not kinds & {"AT", "TO", "UNTIL", "FROM", "LIMIT"}:
        at = last._replace(kind="AT", text="at")
        clauses.append(Piece("AT", (at, last._replace(kind="HEAT", text=reading.heat))))
    for manner in reading.manners:
        clauses.append(Piece("MANNER", (last._replace(kind="MANNER", text=manner),)))
    return [*head, *(token for piece in clauses for token in piece.tokens)]


def joined(tokens: Sequence[Token]) -> str:
    """The words of a line with single spaces where a space belongs."""
    made = ""
    for before, token in zip((None, *tokens), tokens, strict=False):
        made += _gap(before, token) + token.text
    return made


def _gap(before: Token | None, token: Token) -> str:
    if before is None or token.kind in ("COMMA", "RPAR") or before.kind == "LPAR":
        return ""
    if token.kind == "COLON" and before.kind in ("TIMES", "OFTEN"):  # 3 times: rinse yarn
        return ""
    dashes = [one for one in (before, token) if one.kind in ("RANGE", "DASH")]
    return "" if any(not one.text.isalpha() for one in dashes) else " "


def breaths(tokens: Sequence[Token]) -> Iterator[tuple[Token, ...]]:
    """The parts between which a long line may break: before a clause and after a comma."""
    for piece in pieces(tokens):
        part: list[Token] = []
        for token in piece.tokens:
            part.append(token)
            if token.kind == "COMMA":
                yield tuple(part)
                part = []
        if part:
            yield tuple(part)


def filled(tokens: Sequence[Token], first: int, further: int) -> list[list[Token]]:
    """The tokens in lines of at most so many characters, the first and the further ones."""
    lines: list[list[Token]] = [[]]
    for part in breaths(tokens):
        most = first if len(lines) == 1 else further
        if lines[-1] and len(joined([*lines[-1], *part])) > most:
            lines.append([])
        lines[-1] += part
    return lines
