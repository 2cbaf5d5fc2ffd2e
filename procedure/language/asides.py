"""Asides: words after a step that tell how it is done, which its note tells the reader.

“..., keeping it below the surface” and “..., do not rinse” order nothing that is measured. What
holds a number, a heat or anything else that is followed stays in the line, so that it is read or
asked about. “Do not let it boil” is a bound of heat. How they begin is in ``asides.csv``; those
that go on to the end of the line are told by :mod:`procedure.language.shorthand`.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from procedure.language.everyday_order import heads
from procedure.language.tree import Token
from procedure.vocabulary.data_files import kept_of_tables, parts, rows


@kept_of_tables
def _beginnings() -> dict[str, tuple[tuple[tuple[str, ...], bool], ...]]:
    """How an aside up to the next clause begins, by its first word; true for what it denies."""
    found: dict[str, tuple[tuple[tuple[str, ...], bool], ...]] = {}
    for row in rows("asides"):
        if "clause" in parts(row["until"]):
            words = tuple(row["begins"].split())
            found[words[0]] = (*found.get(words[0], ()), (words, row["denies"] == "yes"))
    return found


ASIDE = frozenset(_beginnings())
# What else than moving is done now and then is told whole.
_OF_ITS_OWN = frozenset(("airing", "lifting", "opening", "checking", "watching", "spreading"))
_PARTING = frozenset(("COMMA", "AND"))
_ENDS = frozenset(("COMMA", "NOTE", "ALLOW", "WEARING"))
# What is followed, and so cannot be told in a note alone.
_FOLLOWED = frozenset(
    "NUMBER UNIT HEAT WAIT LOOSE STRING AT LIMIT BOUND PER BASIS COMMA_NUMBER OPEN_STRING "
    "AS".split()
)
_BOILS = frozenset(("boil", "boiling"))


def aside(tokens: list[Token]) -> list[Token]:
    """The line with its aside as a note; itself where it has none."""
    if any(token.kind == "NOTE" for token in tokens):
        return tokens
    for at in range(2, len(tokens)):
        if tokens[at].kind not in ("NAME", "VERB", "DO") or not _begins(tokens, at):
            continue
        stop = _end(tokens, at)
        run = tokens[at:stop]
        said = _said(run)
        if said is not None:
            begin = at - (tokens[at - 1].kind in _PARTING or tokens[at - 1].word == "but")
            return [*tokens[:begin], *said, *tokens[stop:]]
    return tokens


def _begins(tokens: Sequence[Token], at: int) -> bool:
    if tokens[at - 1].kind in ("IN", "INTO", "WITH", "FROM", "TO", "UNTIL", "VERB", "THROUGH"):
        return False
    if tokens[at].word == "airing":  # else it is the time of an airing, or the name of a step
        return tokens[at - 1].kind in _PARTING
    return _beginning(tokens[at:]) is not None


def _beginning(run: Sequence[Token]) -> bool | None:
    """Whether the aside that begins here denies something; None where none begins."""
    for words, denies in _beginnings().get(run[0].word.lower(), ()):
        if tuple([one.word.lower() for one in run[: len(words)]]) == words:
            return denies
    return None


def _end(tokens: Sequence[Token], at: int) -> int:
    stop = at + 1
    while stop < len(tokens) and tokens[stop].kind not in _ENDS:
        follows = tokens[stop + 1 : stop + 2]
        if tokens[stop].kind == "AND" and follows and follows[0].word in heads():
            break
        stop += 1
    return stop


def not_to_boil(tokens: Sequence[Token]) -> bool:
    """True for “do not let it boil”, up to the next clause: it denies no more than that."""
    return tokens[_end(tokens, 0) - 1].word in _BOILS


def _said(run: Sequence[Token]) -> list[Token] | None:
    """An aside as the clause that it is; None where it holds what must be followed."""
    last, first = run[-1], run[0]
    denied = _beginning(run)
    # Beside another heat an “at” was put before this one.
    before = run[:-2] if [one.kind for one in run[-2:-1]] == ["AT"] else run[:-1]
    if denied and last.word in _BOILS and all(one.kind not in _FOLLOWED for one in before):
        text = first.text + "".join(
            " " * (after.column - one.to) + after.text
            for one, after in pairwise(run[:-1])
            if after.text and after.line == one.line
        )
        below = first._replace(kind="LIMIT", text=text, meant="below")
        return [below, last._replace(kind="HEAT", meant="the boil")]
    manners = [one for one in run if one.kind == "MANNER"]
    kept = manners and not denied and first.word not in _OF_ITS_OWN
    if kept and len(run) <= len(manners) + 2:
        return manners  # keeping it covered
    if manners and {one.word for one in manners} & {"covered", "uncovered"}:
        return None
    if any(one.kind in _FOLLOWED for one in run):
        return None
    return [
        Token("NOTE", "", first.line, first.column, "note"),
        Token("STRING", first.text, first.line, first.column, f'"{_written(run)}"'),
    ]


def _written(run: Sequence[Token]) -> str:
    """The words as they stand; the article that is read over is where their gap is wider."""
    said, end = run[0].text, run[0].to
    for one in run[1:]:
        wide = one.line == run[0].line and one.column - end > len(" the")
        said += (" the " if wide else " ") + one.text
        end = one.to
    return said
