"""Turns of speech: what people say in more words, or in another order, than the grammar has.

A row of ``vocabulary/data/turns.csv`` shows what is ``said`` and what it ``means``. What is said
is a list of words (``a/b`` for either, ``?`` behind what may be left out, ``draw_off`` for a verb
of two words), of kinds of token in capitals, and of ``<time>``, an amount of it, ``<hour>``, a
unit of it, or ``<odd>``, a word in the place of a unit that is none; ``^`` is the
place of the verb and ``END`` that before a clause or the line's end. What it means is a list of
the places of what is said, as ``3``, or of a token in its stead:
``OF:of@2-4`` is an “of” made of the second to the fourth, ``NAME:-'s@2`` the
second without that end, and ``STRING:@1-2`` the first two as free words.
So ``twice as much madder as yarn`` becomes ``madder twice of yarn``, and each word keeps its place
in the line.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, lru_cache

from procedure.language.asides import ASIDE, aside
from procedure.language.numbers_in_full import NUMBERS, PARTS
from procedure.language.tree import BATHS, Token, words_of
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import kept_of_tables, rows

# What begins a clause, and so ends what stands before it.
_CLAUSES = frozenset(
    "IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH AS MANNER LIMIT NOTE WEARING COMMA "
    "AND ALLOW".split()
)
# Sizes and looks, of which no rule asks.
_NO_STATES = frozenset(("big", "small", "medium", "white"))
# Words too common to look for a turn by.
_COMMON = frozenset(("of", "on", "by", "in", "to", "as", "and", "water", "from", "a"))


class _Item(NamedTuple):
    """One thing that is said: the words or the kind that it may be."""

    words: frozenset[str]
    kind: str
    spare: bool


class _Made(NamedTuple):
    """One thing that is meant: tokens as they stand, or one token in their stead."""

    first: int
    last: int
    kind: str
    meant: str


class _Turn(NamedTuple):
    said: tuple[_Item, ...]
    means: tuple[_Made, ...]
    begins: bool
    kinds: frozenset[str]
    words: tuple[frozenset[str], ...]


def plainly(tokens: list[Token]) -> list[Token]:
    """The tokens of a step with each turn of speech in the words of the grammar."""
    if tokens[0].kind == "MANNER" or tokens[0].kind == "LABEL":
        tokens = manner_first(tokens)
    words = words_of(tokens)
    known = _turns_by_word().keys() & words
    kinds = frozenset([token.kind for token in tokens])
    if known:
        for turn in _turns_known_by(frozenset(known)):
            # All that it says must be there; most turns are known by words that others have too.
            if not kinds.issuperset(turn.kinds) or any(map(words.isdisjoint, turn.words)):
                continue
            before, tokens = tokens, _turned(tokens, turn)
            if tokens is not before:
                words, kinds = words_of(tokens), frozenset([token.kind for token in tokens])
    at = _next_change(kinds, 0)
    while at >= 0:
        _, change, asked = _CHANGES[at]
        if not asked or not words.isdisjoint(asked):
            before, tokens = tokens, change(tokens)
            if tokens is not before:
                words, kinds = words_of(tokens), frozenset([token.kind for token in tokens])
        at = _next_change(kinds, at + 1)
    return tokens


@lru_cache(maxsize=8192)
def _next_change(kinds: frozenset[str], at: int) -> int:
    """The first change from a place on that tokens of these kinds may need; -1 for none."""
    for place, (asked, _, _) in enumerate(_CHANGES[at:], at):
        if any(map(kinds.issuperset, asked)):
            return place
    return -1


@cache
def _rows() -> list[dict[str, str]]:
    """All turns as their file has them, in the order in which they are made."""
    return rows("turns")


@cache
def _turn_at(at: int) -> _Turn:
    """The turn in a row of the file; most texts need few, and each takes long to make."""
    row = _rows()[at]
    return _turn(row["said"], row["means"])


@kept_of_tables
def _turns_by_word() -> dict[str, tuple[int, ...]]:
    """By each word that a turn is known by the places of its turns."""
    by_word: dict[str, tuple[int, ...]] = {}
    for at, row in enumerate(_rows()):
        for word in _known_by(row["said"]):
            by_word[word] = (*by_word.get(word, ()), at)
    return by_word


def _known_by(said: str) -> Sequence[str]:
    """The words of the item by which a turn is looked for: none of them is a common word."""
    items = [one for one in said.removeprefix("^ ").split(" ") if one[-1] != "?"]
    choices = [
        one.replace("_", " ").split("/") for one in items if one[0] != "<" and not one.isupper()
    ]
    rare = [words for words in choices if _COMMON.isdisjoint(words)]
    if rare:
        return max(rare, key=lambda words: min(map(len, words)))
    return list(dict.fromkeys([word for words in choices for word in words]))


@lru_cache(maxsize=8192)
def _turns_known_by(words: frozenset[str]) -> tuple[_Turn, ...]:
    """The turns that may be in a line with these of the words that turns are known by."""
    by_word = _turns_by_word()
    return tuple([_turn_at(at) for at in sorted({at for word in words for at in by_word[word]})])


def _turn(said: str, means: str) -> _Turn:
    begins = said.startswith("^ ")
    items = tuple([_item(one) for one in said.removeprefix("^ ").split(" ")])
    said_by = tuple([one.words for one in items if not one.spare and one.words])
    kinds = frozenset([one.kind for one in items if one.kind.isupper() and not one.spare])
    made = tuple(_made(one) for one in _split(means) if one)
    return _Turn(items, made, begins, kinds - {"END"}, said_by)


def _item(said: str) -> _Item:
    spare = said.endswith("?")
    said = said.rstrip("?")
    if said.isupper() or said[0] == "<":
        return _Item(frozenset(), said, spare)
    return _Item(frozenset(said.replace("_", " ").split("/")), "", spare)


def _split(means: str) -> list[str]:
    """The parts of a meaning; a blank inside of “the same” parts nothing."""
    found: list[str] = []
    for piece in means.split(" "):
        open_part = found and ":" in found[-1] and "@" not in found[-1]
        found = [*found[:-1], f"{found[-1]} {piece}"] if open_part else [*found, piece]
    return found


def _made(means: str) -> _Made:
    kind, colon, rest = means.partition(":")
    kind, rest = (kind, rest) if colon else ("", means)
    meant, _, places = rest.rpartition("@")
    first, _, last = places.partition("-")
    return _Made(int(first), int(last or first), kind, meant)


def described(tokens: list[Token]) -> list[Token]:
    """A declaration with its number behind what is counted: “large pots 2” for “2 large pots”."""
    units = vocabulary().units
    tokens = _so_many_of(_numbered(_called_in_brackets(_without_brackets(tokens))))
    for at, token in enumerate(tokens):
        if token.kind != "UNIT" or token.word in units or tokens[at - 1].kind != "NUMBER":
            continue
        end = at
        while end < len(tokens) and tokens[end].kind in ("UNIT", "WORD"):
            unit = units.get(tokens[end].word)
            if unit is not None and unit.kind == "count":
                said = [one._replace(kind="WORD") for one in tokens[at:end]]
                counted = tokens[end]._replace(kind="UNIT")
                rest = _of_each(tokens[end + 1 :])
                return [*tokens[: at - 1], *said, tokens[at - 1], counted, *rest]
            if vocabulary().find(tokens[end].word, "vessel", "tool", "heater") is not None:
                said = [one._replace(kind="WORD") for one in tokens[at : end + 1]]
                pieces = Token("UNIT", "", token.line, tokens[at - 1].to, "pieces")
                return [*tokens[: at - 1], *said, tokens[at - 1], pieces, *tokens[end + 1 :]]
            end += 1
    return tokens


def _so_many_of(tokens: list[Token]) -> list[Token]:
    """“4 x 25 g” is 4 pieces of 25 g."""
    for at in range(1, len(tokens) - 2):
        x = tokens[at]
        if x.text not in ("x", "X", "×") or tokens[at - 1].kind != "NUMBER":
            continue
        if [one.kind for one in tokens[at + 1 : at + 3]] == ["NUMBER", "UNIT"]:
            pieces = x._replace(kind="UNIT", meant="pieces")
            of = Token("OF", "", x.line, tokens[at + 1].column, "of")
            return [*tokens[:at], pieces, of, *tokens[at + 1 :]]
    return tokens


def _without_brackets(tokens: list[Token]) -> list[Token]:
    """“wool yarn (100 g)” is wool yarn 100 g: there is no first reading."""
    kinds = [token.kind for token in tokens]
    for at in range(1, len(tokens) - 3):
        if kinds[at - 1 : at + 4] == ["WORD", "LPAR", "NUMBER", "UNIT", "RPAR"]:
            rest = _without_brackets(tokens[at + 4 :])
            return [*tokens[:at], *tokens[at + 1 : at + 3], *rest]
    return tokens


def _called_in_brackets(tokens: list[Token]) -> list[Token]:
    """“alum from the shop (potassium alum)”: the exact name, and what it is called as free words.

    What names nothing that is known is for the reader alone; what names a metal, a fibre or a
    state is read word for word, and what is not known of it is asked about.
    """
    kinds = [token.kind for token in tokens]
    if "LPAR" not in kinds or "RPAR" not in kinds:
        return tokens
    begin, end = kinds.index("LPAR"), kinds.index("RPAR")
    within = tokens[begin + 1 : end]
    if _shares_of_fibres(within):  # sock yarn (75 % wool, 25 % nylon)
        pause = Token("COMMA", "", within[0].line, within[0].column, ",")
        return [*tokens[:begin], pause, *within, *_called_in_brackets(tokens[end + 1 :])]
    if not within or {token.kind for token in within} != {"WORD"}:
        return tokens
    start = begin
    while start and kinds[start - 1] == "WORD":
        start -= 1
    before = tokens[start:begin]
    known, said = vocabulary(), " ".join(token.text for token in within)
    pause = Token("COMMA", "", within[0].line, within[0].column, ",")
    rest = _called_in_brackets(tokens[end + 1 :])
    if known.find(said, "metals", "fibres", "state", "form", "use") is not None:
        return [*tokens[:begin], pause, *within, *rest]
    is_thing = any(known.find(token.text, "fibres", "vessel", "tool") for token in before)
    exact = None if is_thing else known.material(said)
    loose = known.material(" ".join(token.text for token in before))
    if exact is None and _tells(within, material=loose is not None and not is_thing):
        return [*tokens[:begin], pause, *within, *rest]
    if exact is None or exact is loose or not before:
        spare, kept = within, before
    else:
        spare, kept = before, within
    return [*tokens[:start], *kept, pause, _joined(spare, "STRING", _marked(spare)), *rest]


def _tells(within: Sequence[Token], material: bool) -> bool:
    """True where a word says of what a thing is made, or in what state it is; of a material only
    its state."""
    tables = ("state",) if material else ("metals", "fibres", "state")
    entries = [vocabulary().find(token.text, *tables) for token in within]
    return any(one is not None and one.name not in _NO_STATES for one in entries)


def _shares_of_fibres(within: Sequence[Token]) -> bool:
    """True for “75 % wool, 25 % nylon”: so much of each of several fibres."""
    kinds = {token.kind for token in within}
    words = [token.text for token in within if token.kind == "WORD"]
    fibres = [word for word in words if vocabulary().find(word, "fibres") is not None]
    return {"NUMBER", "WORD", "COMMA"} <= kinds and len(fibres) > 1


def _marked(words: Sequence[Token]) -> str:
    """Words as free words: as they stand, in quotation marks."""
    return '"' + " ".join(token.text for token in words) + '"'


def _numbered(tokens: list[Token]) -> list[Token]:
    """“four skeins” with its number and its unit."""
    for at in range(1, len(tokens) - 1):
        one, after = tokens[at : at + 2]
        unit = vocabulary().units.get(after.text) if one.kind == after.kind == "WORD" else None
        if unit is not None and unit.kind in ("count", "mass") and one.text in NUMBERS:
            rest = _of_each(tokens[at + 2 :])
            said = [one._replace(kind="NUMBER"), after._replace(kind="UNIT")]
            return [*tokens[:at], *said, *rest]
    return tokens


def _of_each(tokens: list[Token]) -> list[Token]:
    """The “of 20 g” behind what is counted, which is the weight of each."""
    if [token.kind for token in tokens[:3]] != ["WORD", "NUMBER", "UNIT"] or tokens[0].text != "of":
        return tokens
    return [tokens[0]._replace(kind="OF"), *tokens[1:]]


# ------------------------------------------------------------------ finding and turning


def _turned(tokens: list[Token], turn: _Turn) -> list[Token]:
    """The tokens with the turn made, wherever it stands."""
    start = 1 if tokens[0].kind == "LABEL" else 0
    at = start
    # Most places in a line do not even have the first word, or one of the first kind.
    item = turn.said[0]
    first = item.words if not item.spare else frozenset()
    kind = item.kind if not item.spare and item.kind.isupper() and item.kind != "END" else ""
    while at < len(tokens):
        token = tokens[at]
        if (first and (token.meant or token.text) not in first) or (kind and token.kind != kind):
            at += 1
            continue
        here = not turn.begins or at == start or _begins_anew(tokens, at)
        runs = _found(tokens, at, turn.said) if here else None
        if runs is not None:
            end = max(run.stop for run in runs)
            made = [token for one in turn.means for token in _meaning(tokens, runs, one)]
            tokens = [*tokens[:at], *made, *tokens[end:]]
            at += max(len(made), 1) - 1
        at += 1
    return tokens


def _begins_anew(tokens: Sequence[Token], at: int) -> bool:
    """True where another step may begin in the line, behind “then”, “and”, a comma or how."""
    before = tokens[at - 1]
    return before.word == "then" or before.kind in ("COMMA", "AND", "MANNER")


def _found(tokens: Sequence[Token], at: int, said: Sequence[_Item]) -> list[range] | None:
    """Which tokens each item is, from a place on; None where they are not what is said."""
    runs: list[range] = []
    for item in said:
        length = _length(tokens, at, item)
        if length < 0 and not item.spare:
            return None
        runs.append(range(at, at + max(length, 0)))
        at += max(length, 0)
    return runs


def _length(tokens: Sequence[Token], at: int, item: _Item) -> int:
    """How many tokens an item takes here; -1 where it is not here."""
    token = tokens[at] if at < len(tokens) else None
    if item.kind == "END":
        return 0 if token is None or token.kind in _CLAUSES else -1
    if token is None:
        return -1
    if item.kind == "<time>":
        return _time(tokens, at)
    if item.kind == "<odd>":
        return 1 if token.kind == "UNIT" and token.word not in vocabulary().units else -1
    if item.kind == "<hour>":
        return 1 if _is_of(token, "time") else -1
    fits = token.word in item.words if item.words else token.kind == item.kind
    return 1 if fits else -1


def _meaning(tokens: Sequence[Token], runs: Sequence[range], made: _Made) -> list[Token]:
    run = [tokens[at] for one in runs[made.first - 1 : made.last] for at in one]
    if not made.kind or not run:
        return run
    meant = made.meant
    if made.kind == "STRING" and not meant:
        meant = _marked(run)
        if run[0].kind == "OVER":  # an article is read over
            meant = meant.replace(run[0].text, run[0].text + " the", 1)
    if meant.startswith("-"):
        meant = run[0].word.removesuffix(meant[1:]).removesuffix(meant[1:].replace("'", "’"))
    if len(run) == 1 and run[0].kind == made.kind and run[0].word == meant:
        return run  # it says that already
    return [_joined(run, made.kind, meant)]


def _joined(run: Sequence[Token], kind: str, meant: str) -> Token:
    """Several tokens as one that means something else; the words are as they stand."""
    here = [token for token in run if token.line == run[0].line]
    text = " ".join(token.text for token in here)
    gaps = here[-1].to - here[0].column - len(text)
    return Token(kind, text + " " * max(gaps, 0), run[0].line, run[0].column, meant)


def _time(tokens: Sequence[Token], at: int) -> int:
    """How many tokens a time takes at a place, such as ``about 1 to 2 h``; -1 for none."""
    begin = at
    at += at < len(tokens) and tokens[at].kind == "ABOUT"
    end = at
    while end < len(tokens) and tokens[end].kind in ("NUMBER", "RANGE"):
        end += 1
    if end == at or end >= len(tokens) or not _is_of(tokens[end], "time"):
        return -1
    further = _time(tokens, end + 1)
    return end + 1 - begin + max(further, 0)


def _is_of(token: Token, kind: str) -> bool:
    """True for a unit of that kind."""
    unit = vocabulary().units.get(token.word) if token.kind == "UNIT" else None
    return unit is not None and unit.kind == kind


# ------------------------------------------------------------------ changes of another sort


def _asks(*sorts: str) -> tuple[frozenset[str], ...]:
    return tuple(frozenset(kinds.split()) for kinds in sorts)


def manner_first(tokens: list[Token]) -> list[Token]:
    """“gently squeeze yarn, rinse it” is squeeze yarn gently, rinse it."""
    from procedure.language.everyday_order import heads

    at = 1 if tokens[0].kind == "LABEL" else 0
    both = " ".join(token.word for token in tokens[at + 1 : at + 3])
    if len(tokens) > at + 2 and tokens[at].kind == "MANNER" and both in heads():
        said = _joined(tokens[at + 1 : at + 3], "NAME", both)  # gently hand wash yarn
        tokens = [*tokens[: at + 1], said, *tokens[at + 3 :]]
    verb = tokens[at + 1] if len(tokens) > at + 1 else None
    if len(tokens) <= at or tokens[at].kind != "MANNER" or verb is None or verb.word not in heads():
        return tokens
    end = at + 2
    while end < len(tokens) and not _another_begins(tokens, end, heads()):
        end += 1
    step = [verb._replace(kind="VERB"), *tokens[at + 2 : end], tokens[at]]
    return [*tokens[:at], *step, *tokens[end:]]


def _another_begins(tokens: list[Token], at: int, heads: frozenset[str]) -> bool:
    """True where the next verb of a line follows: “, hold”, “and then rinse”."""
    if tokens[at].kind not in ("COMMA", "AND") and tokens[at].word != "then":
        return False
    ahead = (one for one in tokens[at + 1 : at + 4] if one.kind != "AND" and one.word != "then")
    following = next(ahead, None)
    if following is not None and following.kind == "MANNER":
        following = next(ahead, None)
    return following is not None and following.word in heads


def _as_it_is(tokens: list[Token]) -> list[Token]:
    """“put the wet yarn in the bath” is put the yarn in the bath: that it is wet is no order."""
    for at in range(1, len(tokens) - 1):
        kinds = [token.kind for token in tokens[at - 1 : at + 2]]
        if kinds == ["VERB", "NAME", "NAME"] and tokens[at].word in STATES:
            return _as_it_is([*tokens[:at], *tokens[at + 1 :]])
    return tokens


def _named_as_it_is_made(tokens: list[Token]) -> list[Token]:
    """“make dye-bath in pot with water 4 L” is dye-bath: make in pot with water 4 L."""
    verb, named, *rest = tokens
    if verb.kind != "VERB" or verb.word not in _MAKING or named.kind != "NAME":
        return tokens
    if rest and rest[0].kind == "NAME" and rest[0].word in _BATHS:  # make a dye bath in pot
        label = _joined([named, rest[0]], "LABEL", f"{named.word}-{rest[0].word}")
        clauses = rest[1:2] and rest[1].kind in ("IN", "WITH")
        in_a_pot = rest[1:2] and any(token.kind == "IN" for token in rest)
        return [label, verb, *rest[1:]] if clauses and in_a_pot else tokens
    if named.word.rpartition("-")[2] not in _BATHS or tokens[2].kind not in ("IN", "WITH"):
        return tokens
    return [named._replace(kind="LABEL"), verb, *tokens[2:]]


_MAKING = frozenset(("prepare", "make", "make up"))
_BATHS = BATHS | {"dyebath"}


def _onto(tokens: list[Token]) -> list[Token]:
    """“empty bag on "the compost"” is to the compost."""
    for at, token in enumerate(tokens[:-1]):
        if token.kind == "ON" and tokens[at + 1].kind == "STRING":
            return [*tokens[:at], token._replace(kind="TO", meant="to"), *tokens[at + 1 :]]
    return tokens


STATES = frozenset(("wet", "dry", "clean", "pre-wetted", "wetted-out", "ready"))
_HOLDS = frozenset(("VERB", "IN", "INTO", "TO", "FROM", "OF"))


def _as_hot_as_it_is(tokens: list[Token]) -> list[Token]:
    """“pour the boiling liquor into pan” is pour the liquor: how hot it is follows from before."""
    for at in range(1, len(tokens) - 1):
        before, heat, thing = tokens[at - 1 : at + 2]
        if heat.kind != "HEAT" or thing.kind != "NAME" or before.kind not in _HOLDS:
            continue
        if thing.word in _SAID_ALONE or thing.word.endswith("water"):
            continue
        return [*tokens[:at], *tokens[at + 1 :]]
    return tokens


# What comes behind a heat without being what is hot.
_SAID_ALONE = frozenset("it them once slowly again for then twice down up alone only".split())


def _water_of_two_words(tokens: list[Token]) -> list[Token]:
    """“in cold tap water” and “in cold clean water” name one water, by its heat and its kind."""
    for at in range(1, len(tokens) - 1):
        heat, name = tokens[at : at + 2]
        if heat.kind != "HEAT" or name.kind != "NAME":
            continue
        sort = name.word.removesuffix(" water")
        if sort != name.word and vocabulary().find(sort, "water") is not None:
            both = _joined([heat, name], "NAME", f"{heat.word} {name.word}")
            return [*tokens[:at], both, *tokens[at + 2 :]]
        clean = name.word in _AS_ANY_WATER and tokens[at + 2 : at + 3]
        if clean and tokens[at + 2].word == "water":
            said = _joined(tokens[at : at + 3], "NAME", f"{heat.word} water")
            return [*tokens[:at], said, *tokens[at + 3 :]]
    return tokens


_AS_ANY_WATER = frozenset(("clean", "fresh", "plain", "clear"))


def _hours_and_minutes(tokens: list[Token]) -> list[Token]:
    """“for 1h30” and “for 1:30 h” are for 1 h 30 min."""
    kinds = [token.kind for token in tokens]
    for at in range(1, len(tokens) - 1):
        if kinds[at] != "NUMBER" or not tokens[at].word.isdigit():
            continue
        after = kinds[at + 1 : at + 4]
        if after == ["COLON", "NUMBER", "UNIT"] and _minutes(tokens[at + 2]):
            hours = tokens[at + 3]
            if _is_of(hours, "time") and vocabulary().units[hours.word].name == "h":
                first = Token("UNIT", "", hours.line, tokens[at + 1].column, "h")
                second = hours._replace(meant="min")
                return [*tokens[: at + 1], first, tokens[at + 2], second, *tokens[at + 4 :]]
        if after[:2] != ["UNIT", "NUMBER"] or not _minutes(tokens[at + 2]):
            continue
        hours = tokens[at + 1]
        of_hours = _is_of(hours, "time") and vocabulary().units[hours.word].name == "h"
        if after[2:] != ["UNIT"] and of_hours:
            minutes = Token("UNIT", "", hours.line, tokens[at + 2].to, "min")
            return [*tokens[: at + 3], minutes, *tokens[at + 3 :]]
    return tokens


def _minutes(token: Token) -> bool:
    """True for two figures that can be the minutes of a clock."""
    return len(token.word) == 2 and token.word.isdigit() and int(token.word) < 60


def _in_a_time(tokens: list[Token]) -> list[Token]:
    """“heat ... to 80 °C in 45 min” is over 45 min."""
    for at, token in enumerate(tokens):
        if token.kind == "IN" and _time(tokens, at + 1) > 0:
            said = token._replace(kind="OVER", meant="over")
            return [*tokens[:at], said, *tokens[at + 1 :]]
    return tokens


def _inches_of_time(tokens: list[Token]) -> list[Token]:
    from procedure.language.parts_said import inches_of_time

    return inches_of_time(tokens)


def _of_each_part(tokens: list[Token]) -> list[Token]:
    from procedure.language.parts_said import of_each_part

    return of_each_part(tokens)


def _with_its_part(tokens: list[Token]) -> list[Token]:
    """“for an hour and a half” is for 1 1/2 h."""
    from procedure.language.amounts_in_two import with_its_part

    return with_its_part(tokens)


def _in_one(tokens: list[Token]) -> list[Token]:
    """“for 1 h and 30 min” is for 1 h 30 min."""
    kinds = [token.kind for token in tokens]
    if not any(
        kinds[at] in ("AND", "COMMA") and kinds[at - 1 : at + 3 : 3] == ["UNIT", "UNIT"]
        for at in range(1, len(kinds) - 2)
    ):
        return tokens
    from procedure.language.amounts_in_two import in_one

    return in_one(tokens)


def _half_and_half(tokens: list[Token]) -> list[Token]:
    """“with half hot and half cold water” in one piece, which is asked about."""
    from procedure.language.amounts_in_two import half_and_half

    return half_and_half(tokens)


def _shares_of_a_lot(tokens: list[Token]) -> list[Token]:
    from procedure.language.parts_said import shares_of_a_lot

    return shares_of_a_lot(tokens)


def _brought_once(tokens: list[Token]) -> list[Token]:
    """“mordant yarn with 20 g alum in pot with 6 L water” says with what in one place."""
    if [token.kind for token in tokens].count("WITH") != 2:
        return tokens
    from procedure.language.parts_said import brought_once

    return brought_once(tokens)


_CLAUSE_OF = {"temperature": "AT", "time": "FOR"}


def _between(tokens: list[Token]) -> list[Token]:
    """“between 5 and 10 g” and “from 5 to 10 g of alum” are 5 to 10 g."""
    kinds = [token.kind for token in tokens]
    for at, token in enumerate(tokens):
        run = kinds[at + 1 : at + 5]
        if token.word == "between" and run == ["NUMBER", "AND", "NUMBER", "UNIT"]:
            middle = tokens[at + 2]._replace(kind="RANGE", meant="to")
            unit = vocabulary().units.get(tokens[at + 4].word)
            clause = _CLAUSE_OF.get(unit.kind if unit is not None else "", "")
            if clause and kinds[at - 1] in ("NAME", "VERB"):
                head = [token._replace(kind=clause, meant=clause.lower())]
            else:
                head = []
            return [*tokens[:at], *head, tokens[at + 1], middle, *tokens[at + 3 :]]
        ranged = token.kind == "FROM" and run == ["NUMBER", "RANGE", "NUMBER", "UNIT"]
        if ranged and any(_is_of(tokens[at + 4], kind) for kind in ("mass", "volume")):
            return [*tokens[:at], *tokens[at + 1 :]]
    return tokens


def _second_heat(tokens: list[Token]) -> list[Token]:
    """“60 °C / 140 °F” is 60 °C (140 °F)."""
    kinds = [token.kind for token in tokens]
    for at, token in enumerate(tokens):
        if token.text not in ("/", "=", ","):
            continue
        if kinds[at - 1 : at] + kinds[at + 1 : at + 3] != ["UNIT", "NUMBER", "UNIT"]:
            continue
        first, second = tokens[at - 1], tokens[at + 2]
        both = _is_of(first, "temperature") and _is_of(second, "temperature")
        if both and first.word[-1:] != second.word[-1:]:
            close = Token("RPAR", "", second.line, second.to, ")")
            inner = token._replace(kind="LPAR", meant="(")
            return [*tokens[:at], inner, *tokens[at + 1 : at + 3], close, *tokens[at + 3 :]]
    return tokens


def _heat_alone(tokens: list[Token]) -> list[Token]:
    """“steep yarn in dye-bath cold for 2 d”: a heat word by itself is the heat of the step."""
    clause = ""
    for at, token in enumerate(tokens):
        after = tokens[at + 1].kind if at + 1 < len(tokens) else "COMMA"
        if token.kind == "HEAT" and clause in ("IN", "VERB") and at and after in _CLAUSES:
            before = tokens[at - 1]
            if before.kind == "COMMA":
                said = before._replace(kind="AT", meant="at")
                rest = tokens[at + 2 :] if after == "COMMA" else tokens[at + 1 :]
                return [*tokens[: at - 1], said, token, *rest]
            simmers = token.word in vocabulary().verbs and clause == "VERB"  # let it simmer
            if before.kind == "NAME" and before.word != "water" and not simmers:
                said = Token("AT", "", token.line, token.column, "at")
                return [*tokens[:at], said, *tokens[at:]]
        if token.kind in _CLAUSES - {"COMMA", "AND"} or token.kind == "VERB":
            clause = token.kind
    return tokens


def _heat_within_a_list(tokens: list[Token]) -> list[Token]:
    """“with 4 L of water at 40 °C, 50 g madder”: the heat goes behind the list."""
    kinds = [token.kind for token in tokens]
    if "WITH" not in kinds or kinds.count("AT") != 1:
        return tokens
    at = kinds.index("AT")
    end = at + 1
    while end < len(tokens) and kinds[end] in ("ABOUT", "NUMBER", "RANGE", "UNIT", "HEAT", "BOUND"):
        end += 1
    further = kinds[end : end + 1] in (["COMMA"], ["AND"])
    if kinds.index("WITH") > at or not further or _begins_with_verb(tokens[end + 1 :]):
        return tokens
    stop = end + 1
    while stop < len(tokens) and kinds[stop] not in _CLAUSES - {"COMMA", "AND"}:
        stop += 1
    if not any(kind in ("NUMBER", "LOOSE") for kind in kinds[end:stop]):
        return tokens
    return [*tokens[:at], *tokens[end:stop], *tokens[at:end], *tokens[stop:]]


def _begins_with_verb(tokens: list[Token]) -> bool:
    """True for the “add skins” behind a comma, which is no more of a list."""
    from procedure.language.everyday_order import heads

    return bool(tokens) and (tokens[0].kind == "VERB" or tokens[0].word in heads())


def _in_so_much_water(tokens: list[Token]) -> list[Token]:
    """“dissolve alum 12 g in 1 L of hot water” is with 1 L of hot water."""
    kinds = [token.kind for token in tokens]
    for at, kind in enumerate(kinds):
        if kind not in ("IN", "INTO") or "WITH" in kinds[:at]:
            continue
        end = at + 1
        while end < len(tokens) and kinds[end] in _WATERED:
            end += 1
        measured = any(_is_of(token, "volume") for token in tokens[at + 1 : end])
        loose = "LOOSE" in kinds[at + 1 : end]
        if (measured or loose) and tokens[end : end + 1] and tokens[end].word.endswith("water"):
            said = tokens[at]._replace(kind="WITH", meant="with")
            behind = tokens[end + 1 :]
            if behind and behind[0].kind == "WITH":  # in 5 L of water with a drop of soap
                behind = [behind[0]._replace(kind="AND", meant="and"), *behind[1:]]
            elif "WITH" in kinds:
                continue
            return [*tokens[:at], said, *tokens[at + 1 : end + 1], *behind]
    return tokens


_WATERED = frozenset(("ABOUT", "NUMBER", "RANGE", "UNIT", "LOOSE", "HEAT", "OF", "BOUND"))


def _times_the_weight(tokens: list[Token]) -> list[Token]:
    """“water 30 times the weight of yarn” is 30 parts to one, as 30 : 1 of yarn."""
    for at, token in enumerate(tokens):
        said = token.kind in ("OF", "BASIS") and token.text.startswith(("times", "x"))
        if said and tokens[at - 1].word.replace(".", "", 1).isdigit():
            colon = Token("COLON", "", token.line, token.column, ":")
            one = Token("NUMBER", "", token.line, token.column, "1")
            return [*tokens[:at], colon, one, *tokens[at:]]
    return tokens


def _amount_behind_a_name(tokens: list[Token]) -> list[Token]:
    """“4 oz alum per lb of yarn” is 4 oz of alum per lb of yarn; “alum, 10 g, to” is alum 10 g."""
    kinds = [token.kind for token in tokens]
    for at in range(2, len(tokens)):
        if kinds[at - 2 : at + 1] == ["UNIT", "NAME", "PER"]:
            of = Token("OF", "", tokens[at - 1].line, tokens[at - 1].column, "of")
            return [*tokens[: at - 1], of, *tokens[at - 1 :]]
        if kinds[at - 2 : at + 2] == ["NAME", "COMMA", "NUMBER", "UNIT"]:
            after = kinds[at + 2 : at + 4]
            if "TO" in after[:1] or after == ["COMMA", "TO"]:
                rest = tokens[at + 2 + (after[0] == "COMMA") :]
                return [*tokens[: at - 1], *tokens[at : at + 2], *rest]
    return tokens


def _range_of_heat(tokens: list[Token]) -> list[Token]:
    """“at 80 °C to 85 °C” is at 80 to 85 °C, where nothing is brought from heat to heat."""
    kinds = [token.kind for token in tokens]
    run = ["AT", "NUMBER", "UNIT", "TO", "NUMBER", "UNIT"]
    for at in range(len(tokens) - 5):
        if kinds[at : at + 6] == run and not {"OVER", "FROM"} & set(kinds):
            first, second = tokens[at + 2], tokens[at + 5]
            if first.word == second.word and _is_of(first, "temperature"):
                to = tokens[at + 3]._replace(kind="RANGE", meant="to")
                return [*tokens[: at + 2], to, *tokens[at + 4 :]]
    return tokens


def _what_a_split_leaves(tokens: list[Token]) -> list[Token]:
    """“into deep 60 g, pale the rest”: the part that has no weight of its own is the rest."""
    kinds = [token.kind for token in tokens]
    begin = kinds.index("INTO")
    for at in range(begin + 3, len(tokens)):
        if kinds[at] in _CLAUSES - {"COMMA", "AND"}:
            break
        if kinds[at - 2] not in ("COMMA", "AND") or kinds[at - 1] != "NAME":
            continue
        if tokens[at].word in _LEFT:
            return [*tokens[:at], *tokens[at + 1 :]]
        if tokens[at - 1].word in _LEFT and kinds[at] == "NAME":
            return [*tokens[: at - 1], *tokens[at:]]
        # A turn has made this of “the rest of the yarn”.
        turned = kinds[at : at + 4] == ["NAME", "NUMBER", "OF", "NAME"]
        if turned and tokens[at + 3].word == "the rest":
            of_it = tokens[at].word in (tokens[begin - 1].word, *_THE_LOT)
            # A name that is not the lot's own is kept, to be asked about.
            all_of = [tokens[at + 1]._replace(meant="1/1"), tokens[at + 2], tokens[at]]
            kept = [] if of_it else all_of
            return [*tokens[:at], *kept, *tokens[at + 4 :]]
    return tokens


_LEFT = frozenset(("rest", "remainder"))
_THE_LOT = frozenset(("it", "lot", "fibre", "fiber"))


def _either_in_line(tokens: list[Token]) -> list[Token]:
    """“add either tannin or galls” is add tannin or galls."""
    at = next((at for at, token in enumerate(tokens) if token.word == "either"), 0)
    if at and tokens[at - 1].kind == "VERB" and any(token.kind == "OR" for token in tokens):
        return [*tokens[:at], *tokens[at + 1 :]]
    return tokens


_ROUNDS = frozenset(("twice", "thrice", "once more", "twice more"))
_FRESH = frozenset(("waters", "changes"))
_OFTEN = _ROUNDS | _FRESH


def rounds(tokens: list[Token]) -> tuple[list[Token], list[Token]]:
    """How often a step is done, as the line that repeats it, and the step; nothing for once.

    So “rinse yarn three times” and “rinse yarn in two waters”.
    """
    head = 1 if tokens[0].kind == "LABEL" else 0
    if len(tokens) <= head or tokens[head].kind != "VERB":
        return [], tokens
    for token in tokens:
        if token.kind == "TIMES" or (token.meant or token.text) in _OFTEN:
            break
    else:
        return [], tokens
    for at in range(head + 1, len(tokens)):
        token = tokens[at]
        if token.kind == "NAME" and token.word in _ROUNDS and tokens[at - 1].kind != "COMMA":
            often = [token._replace(kind="OFTEN")]
            return _repeated(often), [*tokens[:at], *tokens[at + 1 :]]
        if token.kind == "OFTEN" and tokens[at - 1].kind == "BOUND":
            return _repeated(tokens[at - 1 : at + 1]), [*tokens[: at - 1], *tokens[at + 1 :]]
        if token.kind == "TIMES" or token.word in _FRESH:
            begin = at
            while tokens[begin - 1].kind in ("NUMBER", "RANGE", "BOUND"):
                begin -= 1
            if begin == at:
                continue
            often = [*tokens[begin:at], token._replace(kind="TIMES", meant="times")]
            begin, bound = _bounded(tokens, begin)
            often = [*bound, *often]
            spare = tokens[begin - 1].kind == "IN" and token.kind != "TIMES"
            spare = spare or tokens[begin - 1].kind == "COMMA"
            end = at + 1 + 2 * ([one.word for one in tokens[at + 1 : at + 3]] == ["of", "water"])
            if [one.kind for one in tokens[end : end + 1]] == ["BEYOND"]:  # three times or more
                often, end = [*often, tokens[end]], end + 1
            return _repeated(often), [*tokens[: begin - spare], *tokens[end:]]
    return [], tokens


def _bounded(tokens: list[Token], begin: int) -> tuple[int, list[Token]]:
    """Where “at least three times” and “up to three times” begin, and their bound.

    What stands before a number of times bounds that, and not the heat or the time before it.
    """
    if tokens[begin - 1].kind == "BEYOND":
        return begin - 1, [tokens[begin - 1]._replace(kind="BOUND")]
    if [one.word for one in tokens[begin - 2 : begin]] == ["up", "to"]:
        return begin - 2, [_joined(tokens[begin - 2 : begin], "BOUND", "up to")]
    return begin, []


_PUT = frozenset(("put", "place", "immerse", "soak", "wet out", "wet", "steep"))
_LEFT_ALONE = frozenset(
    ("VERB", "NAME", "FOR", "NUMBER", "UNIT", "RANGE", "ABOUT", "WAIT", "BOUND")
)


def left_so_long(steps: list[list[Token]]) -> list[list[Token]]:
    """“Put yarn in tub with water and leave it for 1 h” is one step, which lasts so long."""
    for at in range(1, len(steps)):
        before, left = steps[at - 1], steps[at]
        kinds = [token.kind for token in left]
        alone = left[0].word == "leave" and "FOR" in kinds and _LEFT_ALONE.issuperset(kinds)
        brings = {token.kind for token in before}
        if alone and _verb(before) in _PUT and "WITH" in brings and "FOR" not in brings:
            whole = [*before, *left[kinds.index("FOR") :]]
            return [*steps[: at - 1], whole, *left_so_long(steps[at + 1 :])]
    return steps


# What a round ends with, and what it then began with: fibre that is put back was lifted before.
_OUT = frozenset(("lift", "lift out", "take", "take out", "remove", "pull", "pull out"))
_IN = frozenset(("put", "put back", "return", "enter", "dip", "immerse", "lower", "dunk", "place"))
_AIR = frozenset(("air", "hang", "hang up", "squeeze"))
_ROUND_BEGINS = (
    (_IN - {"dip"}, _OUT),
    (_OUT, _IN),
    (_AIR, _IN | _OUT),
)


def round_of_several(
    steps: list[list[Token]],
) -> tuple[int, list[list[Token]], list[Token]]:
    """Where a round of several steps of a line begins, the steps, and the line that repeats it.

    “Lift it, air it and put it back three times” does all of it three times, and so does “dip it
    and air it, 3 times”; “lift it and rinse it twice” only rinses twice. -1 where only the last
    step of the line is done again, or none.
    """
    if len(steps) < 2:
        return -1, steps, []
    *before, last = steps
    often = _often_alone(last)
    if often:
        *before, last = before
        again, step = _repeated(often), last
    else:
        again, step = rounds(last)
    if not again:
        return -1, steps, []
    done = [*before, step]
    for ends, begins in _ROUND_BEGINS:
        places = [at for at, one in enumerate(before) if _verb(one) in begins]
        if places and _verb(last) in ends:
            return places[-1], done, again
    return (len(before), done, again) if often else (-1, steps, [])


def _often_alone(tokens: list[Token]) -> list[Token]:
    """The “3 times” that stands by itself at the end of a line; empty for anything else."""
    kinds = [token.kind for token in tokens]
    if kinds == ["NUMBER", "TIMES"]:
        return tokens
    return [tokens[0]._replace(kind="OFTEN")] if tokens[0].word in _ROUNDS else []


def _verb(tokens: list[Token]) -> str:
    head = tokens[1:2] if tokens[0].kind == "LABEL" else tokens[:1]
    return head[0].word if head else ""


def _repeated(often: list[Token]) -> list[Token]:
    first = often[0]
    return [Token("REPEAT", "", first.line, first.column, "repeat"), *often]


def _one_of_two_amounts(tokens: list[Token]) -> list[Token]:
    """“alum 12 g or 15 g” is alum 12 to 15 g."""
    kinds = [token.kind for token in tokens]
    run = ["NUMBER", "UNIT", "OR", "NUMBER", "UNIT"]
    for at in range(1, len(tokens) - 4):
        ends = at + 5 == len(tokens) or kinds[at + 5] in _CLAUSES
        if kinds[at : at + 5] == run and ends and tokens[at + 1].word == tokens[at + 4].word:
            to = tokens[at + 2]._replace(kind="RANGE", meant="to")
            return [*tokens[: at + 1], to, *tokens[at + 3 :]]
    return tokens


def _without_pause(tokens: list[Token]) -> list[Token]:
    """“for 5 min, or longer” is for 5 min or longer."""
    kept = [
        one
        for one, after in zip(tokens, [*tokens[1:], tokens[-1]], strict=True)
        if not (one.kind == "COMMA" and after.kind == "BEYOND")
    ]
    return kept if len(kept) < len(tokens) else tokens


_ANY: frozenset[str] = frozenset()
_PARTS_OF_ONE = frozenset(
    [*PARTS, *[f"{part}s" for part in PARTS]]
    + [word for word in NUMBERS if word.split()[-1].removesuffix("s") in PARTS]
)
# Each with the kinds of token, of one sort of line or of several, without which it changes nothing,
# and with the words of which there must be one, where it is told by words.
_CHANGES: tuple[
    tuple[tuple[frozenset[str], ...], Callable[[list[Token]], list[Token]], frozenset[str]], ...
] = (
    (_asks("MANNER NAME"), manner_first, _ANY),
    (_asks("NAME"), _half_and_half, frozenset(("half", "equal"))),
    (_asks("HEAT NAME"), _water_of_two_words, _ANY),
    (_asks("NUMBER UNIT"), _hours_and_minutes, _ANY),
    (_asks("VERB NAME"), _as_it_is, STATES),
    (_asks("INTO EACH"), _of_each_part, _ANY),
    (_asks("VERB NAME INTO", "VERB NAME IN"), _shares_of_a_lot, frozenset(("split", "divide"))),
    (_asks("WITH IN", "WITH AT", "WITH FOR"), _brought_once, _ANY),
    (_asks("TO UNIT", "AT UNIT"), _inches_of_time, frozenset(("in",))),
    (_asks("IN UNIT"), _in_a_time, _ANY),
    (_asks("NUMBER AND UNIT", "FROM NUMBER RANGE UNIT"), _between, _ANY),
    (_asks("NUMBER AND UNIT"), _with_its_part, _PARTS_OF_ONE),
    (_asks("NUMBER AND UNIT", "NUMBER COMMA UNIT"), _in_one, _ANY),
    (_asks("NUMBER UNIT COMMA", "NUMBER UNIT EQUAL", "NUMBER UNIT ODD"), _second_heat, _ANY),
    (_asks("VERB NAME IN", "VERB NAME WITH"), _named_as_it_is_made, _MAKING),
    (_asks("ON STRING"), _onto, _ANY),
    (_asks("HEAT NAME"), _as_hot_as_it_is, _ANY),
    (_asks("HEAT"), _heat_alone, _ANY),
    (_asks("WITH AT"), _heat_within_a_list, _ANY),
    (_asks("IN UNIT", "IN LOOSE", "INTO UNIT"), _in_so_much_water, _ANY),
    (_asks("COMMA BEYOND"), _without_pause, _ANY),
    (_asks("NUMBER UNIT OR"), _one_of_two_amounts, _ANY),
    (_asks("NUMBER OF", "NUMBER BASIS"), _times_the_weight, _ANY),
    (_asks("UNIT NAME PER", "NAME COMMA NUMBER UNIT TO"), _amount_behind_a_name, _ANY),
    (_asks("AT NUMBER UNIT TO"), _range_of_heat, _ANY),
    (_asks("INTO COMMA", "INTO AND"), _what_a_split_leaves, _ANY),
    (_asks("VERB OR"), _either_in_line, frozenset(("either",))),
    (_asks("VERB"), aside, ASIDE),
)
