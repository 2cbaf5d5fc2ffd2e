"""What is done between the rounds of a line: “dip yarn 3 times, airing 10 min between”."""

from __future__ import annotations

from collections.abc import Sequence

from procedure.language.tree import Token

_AIRING = frozenset(("airing", "air", "aired"))
# How often in a word, which the tables of turns know as well.
ROUNDS = frozenset(("twice", "thrice"))
_BETWEEN = frozenset(("between", "inbetween", "in-between"))
_CLAUSES = frozenset("IN INTO FROM WITH AT TO OVER FOR UNTIL ON".split())
_BEGINS = frozenset(("COMMA", "AND", "WITH"))
_MEASURES = frozenset(("NUMBER", "RANGE", "UNIT", "ABOUT", "BOUND"))
_AROUND = frozenset(
    ("for", "of", "in", "the", "them", "it", "each", "dip", "dips", "time", "times")
)


def each_time(tokens: list[Token]) -> list[Token]:
    """The line without the “each” of “3 times for 5 min each” and “twice, each time in tub”."""
    at = next((at for at, one in enumerate(tokens) if one.kind in ("EACH", "EVERY")), 0)
    said_often = any(one.kind == "TIMES" or one.word in ROUNDS for one in tokens)
    if not said_often or not at:
        return tokens
    rest = tokens[at + 1 :]
    time = bool(rest) and rest[0].word == "time"
    if not time and (tokens[at - 1].kind != "UNIT" or tokens[at].kind != "EACH"):
        return tokens
    rest = rest[1 if time else 0 :]
    clause = bool(rest) and rest[0].kind in _CLAUSES
    pause = tokens[at - 1].kind == "COMMA" and (clause or not rest)
    return [*tokens[: at - pause], *rest]


def in_between(tokens: list[Token]) -> tuple[list[Token], list[Token]] | None:
    """The step that a line repeats, and the airing between its rounds; None for other lines."""
    between = next((at for at, one in enumerate(tokens) if one.word in _BETWEEN), 0)
    if not between or not any(one.kind == "TIMES" for one in tokens):
        return None
    begin = between - 1
    while begin > 0 and tokens[begin].kind not in _BEGINS:
        begin -= 1
    run, behind = tokens[begin + 1 : between], tokens[between + 1 :]
    airing = next((one for one in run if one.word in _AIRING), None)
    time = [one for one in run if one.kind in _MEASURES]
    lots = _lots(tokens)
    others = [one for one in (*run, *behind) if one not in time and one is not airing]
    if airing is None or not time or not lots or any(one.word not in _AROUND for one in others):
        return None
    verb = airing._replace(kind="VERB", meant="air")
    long = Token("FOR", "", time[0].line, time[0].column, "for")
    begin -= tokens[begin - 1].kind == "COMMA"  # “, and air 10 min between”
    return tokens[:begin], [verb, *lots, long, *time]


def _lots(tokens: Sequence[Token]) -> list[Token]:
    """What the line is done to: the names after its verb."""
    at = next((at for at, one in enumerate(tokens) if one.kind == "VERB"), len(tokens)) + 1
    end = at
    while end < len(tokens) and tokens[end].kind in ("NAME", "COMMA", "AND"):
        end += 1
    return list(tokens[at:end])
