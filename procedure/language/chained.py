"""Two things done in one line: “lift yarn from vat and rinse in tub” as two steps.

A verb after a comma, “and” or “then” begins a step of its own. Where it does not say to
what it is done it is done to the same things, and after the making of a bath to that bath.
"""

from __future__ import annotations

from collections.abc import Iterator

from procedure.language.called import Called
from procedure.language.everyday_order import LETTING, heads, in_plain_order
from procedure.language.tree import Token
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import vocabulary
from procedure.vocabulary.everyday import ANY_BATH, everyday, readings_of, verbs_of

if TYPE_CHECKING:
    from procedure.vocabulary.effects import Effect

_OBJECTS = frozenset(("NAME", "COMMA", "AND"))
_THEN = frozenset(("then", "afterwards", "finally", "next"))
_IT = frozenset(("it", "them"))
_OFTEN = frozenset(("twice", "thrice"))
_MAY_BE_VERBS = frozenset(("NAME", "HEAT", "MANNER", "VERB"))
# What may follow a verb whose thing was named before: a clause, or nothing more.
_PARTING = ("COMMA", "AND")
_FOLLOWS = frozenset(
    "IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH AS MANNER LIMIT AS_LONG NOTE".split()
)


def chained(tokens: list[Token], names: Called) -> Iterator[list[Token]]:
    """The steps that a line says, each with what it is done to; one as a rule.

    ``names`` are those of the text so far: what is a name is no verb here.
    """
    before: list[Token] = []
    for step in _parted(tokens, names):
        if before and (further := _so_long(before, step) or _heated_so(before, step)):
            before = [*before, *further]
            continue
        step = _left_in_its_pot(before, step) or step
        if before:
            yield from _one_by_one(before, names)
        before = step
    yield from _one_by_one(before, names)


def _one_by_one(step: list[Token], names: Called) -> Iterator[list[Token]]:
    """“discard dye-bath, alum-bath” as a step for each bath; any other step as it is."""
    named = _done_to(step) if step[0].kind == "VERB" else []
    several = len(named) > 2 and step[1 : 1 + len(named)] == named and _empties(_first_verb(step))
    if not several or not all(names.is_place(one.word) for one in named if one.kind == "NAME"):
        yield step
        return
    rest = step[1 + len(named) :]
    for one in named:
        if one.kind == "NAME":
            yield [step[0], one, *rest]


def _empties(word: str) -> bool:
    """True for a verb that throws a bath away; of “empty”, which is of bags, nobody knows yet."""
    own = vocabulary().verbs.get(word)
    return own.does.empties if own else any(one.does.empties for one in verbs_of(word))


def _so_long(before: list[Token], step: list[Token]) -> list[Token]:
    """The “for 1 h” of “soak yarn in tub with water and leave for 1 h”, which is the soak's own.

    Empty where the second step does anything but wait, or the first has a time.
    """
    soaks = any(_soaks(one.does) for one in verbs_of(_first_verb(before)))
    if not soaks or any(_says_so_long(one) for one in before):
        return []
    return _only_left(before, step)


def _left_in_its_pot(before: list[Token], step: list[Token]) -> list[Token]:
    """“leave pot for 3 d”, for “put hulls in pot with water and leave to soak for 3 d”.

    Empty where the first step makes no bath in a pot, or the second does anything but wait.
    """
    kinds = [token.kind for token in before]
    makes = "WITH" in kinds and any(one.does.prepares for one in verbs_of(_first_verb(before)))
    at = kinds.index("IN") + 1 if makes and "IN" in kinds else 0
    if not at or kinds[at : at + 1] != ["NAME"]:
        return []
    so_long = _only_left(before, step, before[at])
    return [step[0]._replace(meant="leave"), before[at], *so_long] if so_long else []


def _only_left(before: list[Token], step: list[Token], *pot: Token) -> list[Token]:
    """How long what was just put into water is left there; empty where more is done to it."""
    step = in_plain_order(step)
    left = _first_verb(step) in _LEFT
    done_to = [one.word for one in _done_to(step)]
    same = done_to in ([one.word for one in _done_to(before)], [one.word for one in pot])
    return _time_said(step) if left and (same or not done_to) else []


def _heated_so(before: list[Token], step: list[Token]) -> list[Token]:
    """The heats and the times of “mordant yarn in pot ..., heat to 85 °C in 1 h, keep for 1 h”.

    They are the mordanting's own, where it has none so far: first to what heat, then how long.
    Empty where the second step does anything but heat that bath, or keep it as it is.
    """
    verb = vocabulary().verbs.get(_first_verb(before))
    if verb is None or not _treats_hot(verb.does) or not _TREATS.issubset(verb.may):
        return []
    said = {one.kind for one in before}
    step = in_plain_order(step)
    done = [one.does for one in verbs_of(_first_verb(step)) if "bath" in one.objects]
    if any(one.heat for one in done):
        return []  # to simmer is a heat of its own
    heats, keeps = any(one.warms for one in done), any(one.keeps_heat for one in done)
    if not (heats or keeps) or not _of_the_same(before, step):
        return []
    how = _how_it_is_done(step)
    kinds = {one.kind for one in how}
    if said & _LASTS or any(_says_so_long(one) for one in before):
        return []
    heated = said & _HEATED
    if heats and not heated and kinds & {"TO", "AT"} and not kinds & _ELSEWHERE:
        return how
    if keeps and heated and kinds & _LASTS and not kinds & (_ELSEWHERE | _HEATED):
        return how
    return []


def _treats_hot(does: Effect) -> bool:
    """True where fibre lies in a bath that is mostly heated."""
    return (does.puts_fibre_in or does.scours) and not (does.dips or does.unheated)


# What a verb may have that tells how fibre is treated from one heat to another.
_TREATS = frozenset(("to", "over", "for"))
_LASTS = frozenset(("FOR", "UNTIL", "AS_LONG"))
_HEATED = frozenset(("TO", "AT", "FROM", "OVER", "LIMIT", "HEAT"))
_ELSEWHERE = frozenset(("IN", "INTO", "WITH", "ON", "THROUGH", "AS", "AFTER", "NOTE", "STRING"))


def _of_the_same(before: list[Token], step: list[Token]) -> bool:
    """True where a step names nothing, or just what the one before it is done to."""
    same = [one.word for one in _done_to(before)]
    named = [one.word for one in _done_to(step)]
    return named in ([], same, *[[one.word] for one in _there(before)])


def _there(step: list[Token]) -> list[Token]:
    """The bath or the pot in which a step is done; empty where it is not said."""
    kinds = [token.kind for token in step]
    at = kinds.index("IN") + 1 if "IN" in kinds else len(kinds)
    return step[at : at + 1] if kinds[at : at + 1] == ["NAME"] else []


def _how_it_is_done(step: list[Token]) -> list[Token]:
    """The clauses of a step; “keep 1 h” is for so long, and “there” says nothing more."""
    at = 1
    while at < len(step) and step[at].kind in _OBJECTS:
        at += 1
    rest = step[at:]
    if not rest or rest[0].kind in _FOLLOWS or not _is_time(rest):
        return rest
    unit = next(one for one in rest if one.kind == "UNIT")
    clause = "FOR" if vocabulary().units[unit.word].kind == "time" else "AT"
    return [Token(clause, "", rest[0].line, rest[0].column, clause.lower()), *rest]


def _time_said(step: list[Token]) -> list[Token]:
    """The clause that says how long, where it is the only one; else empty."""
    at = 1
    while at < len(step) and step[at].kind in _OBJECTS:
        at += 1
    rest = step[at:]
    if not rest or not _CLAUSES.isdisjoint([one.kind for one in rest]):
        return []
    if _says_so_long(rest[0]):
        return rest
    first = rest[0]
    return [Token("FOR", "", first.line, first.column, "for"), *rest] if _is_time(rest) else []


_SO_LONG = frozenset(("FOR", "UNTIL"))
# What is said of things that stay in their water: what drains or cools does something else.
_LEFT = frozenset(
    ("leave", "let", "soak", "wet out", "steep", "stand", "lie", "sit", "stay", "rest")
)
_CLAUSES = _FOLLOWS - {"FOR", "UNTIL", "MANNER", "NOTE"}


def _says_so_long(token: Token) -> bool:
    """True for “for”, “until” and “overnight”."""
    return token.kind in _SO_LONG or (token.kind == "MANNER" and token.word in vocabulary().heats)


def _soaks(does: Effect) -> bool:
    """True where fibre or a material lies in water of its own."""
    return does.wets or does.in_water


def _first_verb(step: list[Token]) -> str:
    return next((token.word for token in step if token.kind == "VERB"), "")


def _parted(tokens: list[Token], names: Called) -> Iterator[list[Token]]:
    """The steps of a line, as :func:`chained` gives them, each for itself."""
    at = 1 if tokens[0].kind == "LABEL" else 0
    if not _may_go_on(tokens):
        yield tokens
        return
    tokens = _without_pauses(_how_behind(tokens))
    kinds = [token.kind for token in tokens[at : at + 3]]
    if kinds[:2] == ["ALLOW", "TO"] or kinds == ["ALLOW", "NAME", "TO"]:  # allow to cool, then ...
        tokens = [*tokens[:at], tokens[at]._replace(kind="VERB"), *tokens[at + 1 :]]
    if len(tokens) <= at or tokens[at].kind != "VERB":
        yield tokens
        return
    begin, index = 0, at + 1
    things: list[Token] = []
    baths: set[str] = set()
    lots: list[Token] = []  # what went into the bath that is spoken of now
    while index < len(tokens):
        mark = tokens[index]
        parts = mark.kind in _PARTING or (mark.kind == "NAME" and mark.word in _THEN)
        found = _another(tokens, index, names) if parts else None
        if found is None:
            index += 1
            continue
        verb, after = found
        step = tokens[begin:index]
        plain = in_plain_order(step)
        head = tokens[verb]._replace(kind="VERB", meant=_verb_at(tokens, verb, after))
        before = things
        bath, done_to = _bath_of(step, head.word), _done_to(plain)
        if bath:
            baths = {*baths, bath[0].word}
            lots = done_to if _may_put_fibre_in(step) else lots
        elif lots and _of_fibre_alone(head.word):
            done_to, lots = lots, []  # heat dye-bath to 60 °C, then lift yarn
        things = bath or done_to or things
        if _put_somewhere(plain) and _only_of_baths(head.word):
            things = []  # add yarn and simmer 1 h: it is the bath that simmers, and none is said
        said: list[Token] = []
        if things and after < len(tokens) and tokens[after].word in _IT:
            after += 1 + (tokens[after + 1 :][:1] != [] and tokens[after + 1].word == "there")
            said = things
        elif things and tokens[after : after + 1] and tokens[after].word == "there":
            after, said = after + 1, things
        tokens = [*tokens[:verb], head, *said, *tokens[after:]]
        if not things and _shares_what_follows(step, mark, head.word):
            things = _done_to(tokens[verb:])
        yield _completed(step, before or things, baths)
        begin, index = verb, verb + 1
    yield _completed(tokens[begin:], things, baths)


def _may_put_fibre_in(step: list[Token]) -> bool:
    return any(one.does.puts_fibre_in for one in verbs_of(_first_verb(step)))


def _of_fibre_alone(word: str) -> bool:
    """True for a verb that, by itself or by all it may mean, is of no bath and no pot."""
    own = vocabulary().verbs.get(word)
    done_to = set(own.objects) if own is not None else _kinds_of(word)
    return "lot" in done_to and done_to.isdisjoint(("bath", "pot"))


def _shares_what_follows(step: list[Token], mark: Token, word: str) -> bool:
    """True for the “wash” of “wash and rinse yarn”, which is done to what the next verb names.

    What says more than its verb (“simmer for 20 min, then lift silk”) is done to what was spoken
    of before, and so is what is done to a bath where fibre follows, or a bath behind a comma.
    """
    if len(step) > 1 + (step[0].kind == "LABEL") or mark.kind not in _PARTING:
        return False
    first = _first_verb(step)
    if mark.kind == "COMMA" and _of_baths(first):  # strain, discard the plants
        return False
    own = vocabulary().verbs.get(first)
    done_to = set(own.objects) if own is not None else _kinds_of(first)
    return not done_to.isdisjoint(_kinds_of(word))


def _kinds_of(word: str) -> set[str]:
    """The kinds of thing that a word may be done to."""
    read = {kind for one in readings_of(word) for kind in one.of}
    own = vocabulary().verbs.get(word)
    return read | set(own.objects if own is not None else ())


def _may_go_on(tokens: list[Token]) -> bool:
    """Whether another step may begin in a line: few lines have a comma, “and” or “then”."""
    for token in tokens:
        kind = token.kind
        if kind in _PARTING or (kind == "NAME" and (token.meant or token.text) in _THEN):
            return True
    return False


def _without_pauses(tokens: list[Token]) -> list[Token]:
    """The line without a comma or “and” before a clause, where people draw breath."""
    following = (*tokens[1:], None)
    return [
        token
        for token, after in zip(tokens, following, strict=True)
        if token.kind not in ("COMMA", "AND") or after is None or after.kind not in _FOLLOWS
    ]


def _how_behind(tokens: list[Token]) -> list[Token]:
    """“..., gently squeeze yarn” with how it is done after it, as in “squeeze yarn gently”."""
    for at in range(1, len(tokens) - 1):
        parted = tokens[at - 1].kind in _PARTING or tokens[at - 1].word in _THEN
        if parted and tokens[at].kind == "MANNER" and tokens[at + 1].word in heads():
            end = at + 2
            while end < len(tokens) and tokens[end].kind not in _PARTING:
                end += 1
            rest = _how_behind(tokens[end:]) if end < len(tokens) else []
            return [*tokens[:at], *tokens[at + 1 : end], tokens[at], *rest]
    return tokens


def _completed(step: list[Token], things: list[Token], baths: set[str]) -> list[Token]:
    """A step with what it is done to, where that stands in the step before it.

    Where that is one of the ``baths`` of the line, “in the bath” says it once more.
    """
    alone = len(step) == 1 or step[1].kind in _FOLLOWS or _is_time(step[1:])
    alone = alone or step[1].word in _OFTEN or _so_often(step[1:])
    if not alone or step[0].kind != "VERB":
        return step
    rest = step[1:]
    there = _there(rest) if len(things) == 1 and things[0].word in baths else []
    if there and there[0].word in (things[0].word, *ANY_BATH):
        at = rest.index(there[0])
        rest = [*rest[: at - 1], *rest[at + 1 :]]
    return [step[0], *things, *rest]


def _done_to(step: list[Token]) -> list[Token]:
    """What a step is done to; the bath that it makes, where it has a label."""
    label = step[0] if step[0].kind == "LABEL" else None
    found: list[Token] = []
    for token in step[2 if label is not None else 1 :]:
        parted = not found and token.kind in _PARTING
        if (
            token.kind not in _OBJECTS
            or token.word in _OFTEN
            or parted
            or (found and found[-1].kind == token.kind == "NAME")
        ):
            break
        found.append(token)
    while found and found[-1].kind != "NAME":
        found.pop()
    if not found and label is not None:
        return [label._replace(kind="NAME", text=label.name)]
    return found


def _bath_of(step: list[Token], verb: str) -> list[Token]:
    """The bath that something was put into, where the next verb is one of baths alone."""
    kinds = [token.kind for token in step]
    first = _first_verb(step)
    added = any("to" in one.needs and "thing" in one.objects for one in verbs_of(first))
    others = {"material", "thing"} if added else {"material", "thing", "lot"}
    done_to = {kind for one in verbs_of(verb) for kind in one.objects}
    if (added and _of_baths(verb)) or _heats_what_fibre_is_in(step, verb):
        done_to = {"bath"}  # add alum to the bath and stir
    clause = next((kind for kind in _INTO if kind in kinds), "")
    if not clause or others & done_to or "bath" not in done_to:
        return []
    at = kinds.index(clause) + 1
    if first in LETTING and step[at : at + 1] and step[at].word in heads():
        return []  # leave to cool, then strain
    return step[at : at + 1] if kinds[at : at + 1] == ["NAME"] else []


_INTO = ("TO", "IN", "INTO")


def _heats_what_fibre_is_in(step: list[Token], verb: str) -> bool:
    """True for the “heat” and the “hold” of “steep yarn in dye-bath, heat to 60 °C, hold 1 h”.

    What is left may as well be the fibre.
    """
    before = [one.does for one in verbs_of(_first_verb(step))]
    treats = any(one.puts_fibre_in and not (one.own_water or one.dips) for one in before)
    done = [one.does for one in verbs_of(verb) if "bath" in one.objects]
    heats = any(one.warms or one.keeps_heat for one in done)
    heats = heats and not any(one.settles for one in done)
    return treats and heats and not any(one.heat for one in done)


def _put_somewhere(step: list[Token]) -> bool:
    """True where a step puts something into a bath and does not say into which."""
    first = _first_verb(step)
    kinds = {token.kind for token in step}
    return not kinds & set(_INTO) and any(
        ("thing" in one.objects and "to" in one.needs)
        or (one.does.puts_fibre_in and not one.does.own_water and not one.does.dips)
        for one in verbs_of(first)
    )


def _only_of_baths(word: str) -> bool:
    """True for a verb that by itself, or by all that it may mean, is of baths."""
    if word in vocabulary().verbs:
        return _of_baths(word)
    kinds = {kind for one in readings_of(word) for kind in one.of}
    return bool(kinds) and kinds <= {"bath", "pot"}


def _of_baths(word: str) -> bool:
    """True for a verb that, by itself, is of baths alone."""
    own = vocabulary().verbs.get(word)
    if own is not None:
        return tuple(own.objects) == ("bath",)
    return any("bath" in one.of and "lot" not in one.of for one in readings_of(word))


def _another(tokens: list[Token], at: int, names: Called) -> tuple[int, int] | None:
    """Where the verb of another step begins and ends, if a step ends at ``at``."""
    verb = at
    while verb < len(tokens) and tokens[verb].kind in _PARTING:
        verb += 1
    then = verb < len(tokens) and tokens[verb].kind == "NAME" and tokens[verb].word in _THEN
    verb += then
    if verb == at or verb >= len(tokens) or tokens[verb].kind not in _MAY_BE_VERBS:
        return None
    word = tokens[verb].word
    if word not in heads() or word in names or _is_the_rest(tokens, verb):
        return None
    after = verb + 1
    two = after < len(tokens) and _known(f"{word} {tokens[after].word}")
    after += two
    if not two and not _known(word) and word not in LETTING:
        return None
    known = tokens[verb].kind == "VERB"  # a turn of speech has made it one
    goes_on = known or after == len(tokens) or tokens[after].kind in (*_FOLLOWS, "NAME")
    if not goes_on and tokens[after].kind == "NUMBER":  # rinse 2 times
        goes_on = [one.kind for one in tokens[after + 1 : after + 2]] == ["TIMES"]
    paused = after < len(tokens) and tokens[after].kind == "COMMA"  # stir, 10 min
    goes_on = (
        goes_on
        or _is_time(tokens[after + paused :])
        or _adds_so_much(_words_of(tokens, verb, after), tokens[after])
    )
    if not goes_on and _another(tokens, after, names) is None:
        return None
    return verb, after


def _is_the_rest(tokens: list[Token], at: int) -> bool:
    """True for “the rest” of what is divided: “split yarn into deep 60 g and the rest”."""
    divided = tokens[tokens[0].kind == "LABEL"].word in ("split", "divide")
    return divided and tokens[at].word == "rest" and at + 1 == len(tokens)


def _adds_so_much(verb: str, token: Token) -> bool:
    """True for the “add 6 L water” or “stir in 5 g alum” that follows a comma."""
    adds = any(one.does.adds for one in verbs_of(verb))
    return token.kind in ("NUMBER", "LOOSE") and adds


def _so_often(tokens: list[Token]) -> bool:
    """True for the “3 times” of “rinse 3 times”."""
    return len(tokens) > 1 and tokens[0].kind == "NUMBER" and tokens[1].kind == "TIMES"


def _is_time(tokens: list[Token]) -> bool:
    """True for the “1 h” of “hold 1 h”, or its heat."""
    at = 0
    while at < len(tokens) and tokens[at].kind in ("ABOUT", "NUMBER", "RANGE", "BOUND"):
        at += 1
    unit = tokens[at] if 0 < at < len(tokens) and tokens[at].kind == "UNIT" else None
    found = vocabulary().units.get(unit.word) if unit is not None else None
    return found is not None and found.kind in ("time", "temperature")


def _words_of(tokens: list[Token], verb: int, after: int) -> str:
    """The words of a verb, of which there may be two."""
    return " ".join(token.word for token in tokens[verb:after])


def _known(verb: str) -> bool:
    return verb in vocabulary().verbs or verb in everyday()


def _verb_at(tokens: list[Token], verb: int, after: int) -> str:
    if after == verb + 1:
        return tokens[verb].meant  # a turn of speech may have made it another verb
    return _words_of(tokens, verb, after)
