"""The order of everyday words: “let the bath cool”, “take the yarn out” as one verb in front."""

from __future__ import annotations

from collections.abc import Container
from functools import cache
from itertools import pairwise

from procedure.language.tree import Token
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import kept_of_tables
from procedure.vocabulary.everyday import everyday, particles
from procedure.vocabulary.slips import only_meant

# Behind these another verb says what is done: let it cool, leave it to stand.
LETTING = frozenset(("let", "leave", "hang", "put", "set", "allow", "spread", "lay", "place"))
# What may be between a verb and its second word: what it is done to.
_OBJECTS = frozenset(("NAME", "COMMA", "AND", "NUMBER", "UNIT", "OF", "RANGE", "LOOSE"))


def in_plain_order(tokens: list[Token]) -> list[Token]:
    """The line with its verb in one place, in front; each token keeps its own place."""
    at = 1 if tokens and tokens[0].kind == "LABEL" else 0
    kinds = [token.kind for token in tokens[at : at + 3]]
    if kinds == ["ALLOW", "NAME", "TO"]:  # allow the bath to cool
        tokens = [*tokens[:at], tokens[at]._replace(kind="VERB"), *tokens[at + 1 :]]
    if kinds[:2] == ["ALLOW", "TO"] and _to_a_verb(tokens[at + 1 :]):  # allow to cool
        tokens = _both_words(tokens, at + 2)
        return [*tokens[:at], tokens[at + 2]._replace(kind="VERB"), *tokens[at + 3 :]]
    if len(tokens) <= at or tokens[at].kind != "VERB":
        return tokens
    tokens = _stirred_in(tokens, at)
    if (alone := _let_alone(tokens, at)) is not None:
        return alone
    return _with_its_second_word(tokens, at)


def _with_its_second_word(tokens: list[Token], at: int) -> list[Token]:
    """The line with a verb of two words, or the verb after “let”, in one place."""
    end = at + 1
    while end < len(tokens) and tokens[end].kind in _OBJECTS:
        word = tokens[end].word
        if tokens[end].kind == "NAME" and end > at + 1 and tokens[end - 1].kind != "COMMA":
            if f"{tokens[at].word} {word}" in everyday() or (
                f"{tokens[at].word} {word}" in vocabulary().verbs
            ):
                verb = tokens[at]._replace(meant=f"{tokens[at].word} {word}")
                rest = tokens[end + 1 :]
                if tokens[at].word in LETTING and _to_a_verb(rest):
                    return _let(tokens, at, end, end + 2)
                if tokens[at].word in LETTING and (to := _to_what(tokens, end + 1)):
                    placed = tokens[end + 1 : to]  # hang it up in the shade to dry
                    let = _let([*tokens[: end + 1], *tokens[to:]], at, end, end + 2)
                    return [*let, *placed]
                return [*tokens[:at], verb, *tokens[at + 1 : end], *rest]
            if tokens[at].word in LETTING and word in _said():
                return _let(_both_words(tokens, end), at, end, end)
        end += 1
    if tokens[at].word.split()[0] in LETTING and (to := _to_what(tokens, end)):
        tokens = _both_words(tokens, to + 1)
        verb = tokens[to + 1]._replace(kind="VERB")
        return [*tokens[:at], verb, *tokens[at + 1 : to], *tokens[to + 2 :]]
    return _known_alone(tokens, at)


def _let_alone(tokens: list[Token], at: int) -> list[Token] | None:
    """“let cool to 40 °C” and “let it cool” as cool, which do not say what; None for others."""
    if tokens[at].word not in ("let", "leave", "allow"):
        return None
    simmers = _simmering(tokens, at)
    if simmers:
        return _let(tokens, at, simmers, simmers)
    it = len(tokens) > at + 2 and tokens[at + 1].word in ("it", "them")
    verb = at + 1 + it
    after = tokens[verb : verb + 2]
    if not after or after[0].kind not in ("NAME", "HEAT") or after[0].word not in _said():
        return None
    if _to_a_verb(tokens[verb + 1 :]):
        return None  # allow dye to cool
    if not (len(after) == 1 or after[1].kind in (*_ENDS, "NUMBER") or after[1].word in particles()):
        return None
    tokens = _both_words(tokens, verb)
    return [*tokens[:at], tokens[verb]._replace(kind="VERB"), *tokens[verb + 1 :]]


def _simmering(tokens: list[Token], at: int) -> int:
    """Where the verb of “let the bath simmer” is, which says a heat as well; 0 for none."""
    for place in range(at + 2, len(tokens)):
        if tokens[place].kind == "HEAT" and tokens[place].word in _said():
            named = tokens[place - 1].kind == "NAME" and tokens[place - 1].word not in (
                "it",
                "them",
            )
            return place if named else 0
        if tokens[place].kind not in _OBJECTS:
            break
    return 0


_ENDS = frozenset("IN INTO FROM WITH AT TO OVER FOR UNTIL ON AS MANNER LIMIT NOTE".split())


# What may be between the thing and the verb: leave yarn in dye-bath to cool.
_PLACED = frozenset(("IN", "ON", "NAME", "MANNER", "HEAT"))


def _to_what(tokens: list[Token], at: int) -> int:
    """Where the “to” of “leave yarn in dye-bath to cool” is, from a place on; 0 for none."""
    while at < len(tokens) and tokens[at].kind in _PLACED:
        at += 1
    return at if _to_a_verb(tokens[at:]) else 0


def _both_words(tokens: list[Token], at: int) -> list[Token]:
    """The “cool down” of “let it cool down” as one word."""
    both = " ".join(token.word for token in tokens[at : at + 2])
    if len(tokens) <= at + 1 or (both not in everyday() and both not in vocabulary().verbs):
        return tokens
    return [*tokens[:at], tokens[at]._replace(meant=both), *tokens[at + 2 :]]


def _to_a_verb(rest: list[Token]) -> bool:
    """True for the “to dry” of “hang it up to dry”."""
    return len(rest) > 1 and rest[0].kind == "TO" and rest[1].word in _said()


def slip_behind_to(tokens: list[Token], names: Container[str]) -> Token | None:
    """The misspelt verb of “leave vat to coll”, as it was meant; None where there is none."""
    at = 1 if tokens[0].kind == "LABEL" else 0
    if len(tokens) < at + 4 or tokens[at].word not in LETTING:
        return None
    for to, word in pairwise(tokens[at + 1 :]):
        if to.kind == "TO" and word.kind == "NAME" and word.line == tokens[at].line:
            if word.word in _said() or word.word in names:
                return None
            turned = [one for one in _said() if sorted(one) == sorted(word.word)]
            meant = turned[0] if len(turned) == 1 else only_meant(word.word, _said())
            return None if meant is None else word._replace(meant=meant)
    return None


def _known_alone(tokens: list[Token], at: int) -> list[Token]:
    """The line, its first word no verb where it is half of one only, as push of “push aside”."""
    word = tokens[at].word
    if word in vocabulary().verbs or word in everyday():
        return tokens
    return [*tokens[:at], tokens[at]._replace(kind="NAME"), *tokens[at + 1 :]]


def _stirred_in(tokens: list[Token], at: int) -> list[Token]:
    """“stir in alum to the bath”: the in belongs to the verb, for the bath comes after “to”."""
    if len(tokens) <= at + 1 or tokens[at + 1].kind != "IN":
        return tokens
    verb = f"{tokens[at].word} {tokens[at + 1].word}"
    if verb not in everyday():
        return tokens
    if not any(token.kind in ("TO", "INTO") for token in tokens[at + 2 :]):
        return tokens
    return [*tokens[:at], tokens[at]._replace(meant=verb), *tokens[at + 2 :]]


def _let(tokens: list[Token], at: int, end: int, verb: int) -> list[Token]:
    """``let BATH cool ...`` and ``leave BATH to cool ...`` as ``cool BATH ...``."""
    said = tokens[verb]._replace(kind="VERB")
    return [*tokens[:at], said, *tokens[at + 1 : end], *tokens[verb + 1 :]]


@kept_of_tables
def heads() -> frozenset[str]:
    """The words that may begin a step: verbs, and the first halves of those of two words."""
    verbs = (*vocabulary().verbs, *everyday())
    return frozenset((*verbs, *LETTING, *(verb.split(" ", 1)[0] for verb in verbs)))


def verbs_at_once(tokens: list[Token]) -> bool:
    """True for “wash and rinse yarn in tub”: two verbs, and clauses that either may have."""
    at = int(tokens[0].kind == "LABEL")
    run = tokens[at : at + 3]
    if [token.kind for token in run[:2]] != ["VERB", "AND"] or len(run) < 3:
        return False
    verbs = vocabulary().verbs
    first, second = verbs.get(run[0].word), verbs.get(run[2].word)
    if first is None or second is None:
        return False
    said = {token.kind.lower() for token in tokens[at + 3 :]} & _WHERE_AND_WITH
    either = [
        {one for part in (*verb.needs, *verb.may) for one in part.split("|")}
        for verb in (first, second)
    ]
    return bool(said & either[0] & either[1])


# A place and what is brought, which belong to one step and make another by themselves.
_WHERE_AND_WITH = frozenset(("in", "into", "with"))


@cache
def _said() -> frozenset[str]:
    return frozenset((*vocabulary().verbs, *everyday())) - particles()
