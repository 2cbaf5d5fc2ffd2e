"""Clauses that a step has without their word: “put in bath, 80 °C, 1 h”.

What is written short (:mod:`procedure.language.shorthand`) is in few lines: a look at the words of
the whole line tells whether it may be in this one.
"""

from __future__ import annotations

from procedure.language.called import Called
from procedure.language.tree import Token
from procedure.quantity.kept_answers import remembered
from procedure.quantity.record import TYPE_CHECKING
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import kept_of_tables, parts, rows
from procedure.vocabulary.everyday import everyday, readings_of

if TYPE_CHECKING:
    from procedure.vocabulary.effects import Effect

SENTENCE_ENDS = frozenset((".", ";", "!"))
MOVING = frozenset(("turning", "stirring", "moving", "swishing", "agitating", "swirling"))
_CLAUSES = frozenset("IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH AS".split())
_BETWEEN = frozenset(("AND", "COMMA"))
# Words that are in most lines: a row of short forms is looked for by another word of it.
_PLAIN = frozenset("in with to the that water heat off".split())


@kept_of_tables
def _short() -> dict[str, tuple[str, ...]]:
    """What is written short, by one word of it without which it is not in a line."""
    return _by_a_word([row["written"] for row in rows("shorthand")])


@kept_of_tables
def _short_or_aside() -> dict[str, tuple[str, ...]]:
    """The same, with what asides to the end of the line begin with."""
    written = [row["written"] for row in rows("shorthand")]
    told = [row["begins"] for row in rows("asides") if "end" in parts(row["until"])]
    return _by_a_word(written + told)


def _by_a_word(written: list[str]) -> dict[str, tuple[str, ...]]:
    found: dict[str, tuple[str, ...]] = {}
    for one in written:
        word = max(one.split(), key=lambda word: (word not in _PLAIN, len(word)))
        found[word] = (*found.get(word, ()), " ".join(one.split()))
    return found


def _has_one_of(known: dict[str, tuple[str, ...]], tokens: list[Token]) -> bool:
    """True where the words of a row may be in a line."""
    line = " ".join([token.text for token in tokens]).lower()
    words = line.split()
    if known.keys().isdisjoint(words):
        return False
    return any(one in line for word in known.keys() & words for one in known[word])


def may_be_short(tokens: list[Token]) -> bool:
    """True where something in a step may be written short, by its words and marks."""
    return _has_a_mark(tokens) or _has_one_of(_short_or_aside(), tokens)


def _has_a_mark(tokens: list[Token]) -> bool:
    """True where a line has a mark of what people write short, such as a bracket or a full stop."""
    before = ""
    for kind, text, _, _, _ in tokens:
        if before == "LPAR" and kind != "NUMBER":
            return True  # a remark, and no second reading of an amount
        if kind == "LPAR" and before == "NAME":
            return True  # in dye-bath (80 °C, 1 h)
        if kind == "NAME":
            if not text.islower() or before in _NO_NAME_BEHIND or text[0] == "x":
                return True  # Rinse; hold 1 h cool; x3
            if text in MOVING or (before == "OF" and text.endswith("water")):
                return True
        elif kind == "MANNER":
            if before in ("", "LABEL") or text in MOVING:
                return True
        elif kind == "HEAT":
            if before in _NO_NAME_BEHIND:
                return True
        elif kind == "ODD" or (kind == "UNIT" and text in _TIMES):
            return True
        before = kind
    return False


_NO_NAME_BEHIND = frozenset(("UNIT", "LABEL"))
_TIMES = frozenset(("x", "X", "×"))


def short_in_declaration(tokens: list[Token]) -> bool:
    """True where something in a declaration may be written short."""
    return _has_one_of(_short(), tokens)


# What an amount is after that has its clause.
_OPENERS = frozenset(
    "FOR OVER UNTIL EVERY AFTER IN INTO TO FROM WITH AT LPAR RANGE BOUND LIMIT PER OF ABOUT "
    "AS_LONG ON THROUGH REPEAT".split()
)


def with_clauses(tokens: list[Token]) -> list[Token]:
    """“put in bath, 80 °C, 1 h” with “at” and “for”; a comma before water is “with”.

    Behind “to 80 °C” a time may be that of the heating or of what comes then: it is left.
    """
    at = 1 if tokens[0].kind == "LABEL" else 0
    if len(tokens) <= at + 1 or tokens[at].kind != "VERB":
        return tokens
    if _all_said(tokens):
        return tokens
    tokens = _one_with(_water_in_a_pot(tokens))
    made = list(tokens[: at + 1])
    index = at + 1
    while index < len(tokens):
        end, kind = _measure(tokens, index)
        asked = not kind or _in_a_list(made, tokens[end:])
        clause = "" if asked else _clause_for(kind, [*made, *tokens[index:]], made)
        if clause:
            if made[-1].kind in _BETWEEN:
                made.pop()
            first = tokens[index]
            made.append(Token(clause, "", first.line, first.column, clause.lower()))
        elif _brings_water(made, tokens, index):
            if made[-1].kind == "COMMA":
                made.pop()
            made.append(Token("WITH", "", tokens[index].line, tokens[index].column, "with"))
        end = max(end, index + 1)
        made += tokens[index:end]
        index = end
    return made


def _all_said(tokens: list[Token]) -> bool:
    """True where each time, heat and water is after its word, as in most lines."""
    units = vocabulary().units
    withs = ins = 0
    before = measured = ""
    for kind, text, _, _, meant in tokens:
        if kind == "UNIT":
            unit = units.get(meant or text)
            measure = unit.kind if unit is not None else ""
            bare = before not in _OPENERS or measured not in ("", measure)
            if bare and measure in _MAY_BE_BARE:
                return False
            measured = measure
        elif kind not in _AMOUNT:
            before, measured = kind, ""
            withs += kind == "WITH"
            ins += kind == "IN"
            if kind == "NAME" and not withs and (meant or text).endswith("water"):
                return False
    return withs < 2 and (ins < 2 or withs > 0)


_AMOUNT = frozenset(("ABOUT", "BOUND", "NUMBER", "RANGE", "UNIT"))
_MAY_BE_BARE = frozenset(("time", "temperature", "length"))


def _water_in_a_pot(tokens: list[Token]) -> list[Token]:
    """“steep skins in hot water in pot” is with hot water, in pot."""
    ins = [at for at, token in enumerate(tokens[:-1]) if token.kind == "IN"]
    if len(ins) < 2 or any(token.kind == "WITH" for token in tokens):
        return tokens
    for at in ins:
        if tokens[at + 1].kind == "NAME" and tokens[at + 1].word.split()[-1] == "water":
            return [*tokens[:at], tokens[at]._replace(kind="WITH", meant="with"), *tokens[at + 1 :]]
    return tokens


def _one_with(tokens: list[Token]) -> list[Token]:
    """“with water with a drop of soap” brings both."""
    begun = False
    for at, token in enumerate(tokens):
        if token.kind == "WITH" and begun:
            both = token._replace(kind="AND", meant="and")
            return _one_with([*tokens[:at], both, *tokens[at + 1 :]])
        if token.kind == "WITH":
            begun = True
        elif token.kind not in _BROUGHT:
            begun = False
    return tokens


_BROUGHT = frozenset("NAME NUMBER UNIT LOOSE COMMA AND OF RANGE ABOUT BASIS".split())


def _measure(tokens: list[Token], at: int) -> tuple[int, str]:
    """Where an amount of time or heat ends that begins at a place, and its kind; else nothing."""
    end = at + (tokens[at].kind in ("ABOUT", "BOUND"))
    begun = end
    kinds: set[str] = set()
    while end < len(tokens) and tokens[end].kind in ("NUMBER", "UNIT", "RANGE"):
        unit = vocabulary().units.get(tokens[end].word) if tokens[end].kind == "UNIT" else None
        if unit is not None and kinds and unit.kind not in kinds:
            end -= 1  # 50 °C 30 min: the number of another measure
            break
        kinds |= {unit.kind} if unit is not None else set()
        end += 1
    if end > begun + 2 and tokens[end - 1].kind == "NUMBER":
        end -= 1  # 1 h 2 x: how often
    if end == begun or tokens[begun].kind != "NUMBER" or tokens[end - 1].kind != "UNIT":
        return at, ""
    unit = vocabulary().units.get(tokens[end - 1].word)
    kind = unit.kind if unit is not None else ""
    if kind == "length" and tokens[end - 1].word == "m":
        kind = "time"  # 45m is asked about where a time belongs
    return (end, kind) if kind in ("time", "temperature") else (at, "")


def _in_a_list(made: list[Token], rest: list[Token]) -> bool:
    """True right after what is brought, in a list that goes on: soap 3 min, water 2 L."""
    if made[-1].kind != "NAME" or all(one.kind != "WITH" for one in made):
        return False
    return [one.kind for one in rest[:2]] in (["COMMA", "NAME"], ["AND", "NAME"])


def _clause_for(kind: str, tokens: list[Token], made: list[Token]) -> str:
    """The clause that a bare time or heat belongs to; empty where that cannot be said."""
    if made[-1].kind in _OPENERS:
        return ""
    kinds = {token.kind for token in tokens}
    if kind == "temperature":
        if made[-1].kind == "NAME" and "WITH" in kinds and not made[-1].word.endswith("water"):
            return ""  # with alum 2 c: cups?
        return "" if {"AT", "TO", "FROM"} & kinds else "AT"
    if "FOR" in kinds or (_to_a_heat(made) and "OVER" not in kinds):
        return ""
    return "FOR"


def _to_a_heat(made: list[Token]) -> bool:
    """True after “to 80 °C” or “to the boil”."""
    for at, token in enumerate(made[:-1]):
        if token.kind == "TO":
            _, kind = _measure(made, at + 1)
            if kind == "temperature" or made[at + 1].kind == "HEAT":
                return True
    return False


def _brings_water(made: list[Token], tokens: list[Token], at: int) -> bool:
    """True after the comma of “soak yarn in tub, cold water”, and after a bare time."""
    if made[-1].kind not in ("COMMA", "UNIT") or any(one.kind in ("WITH", "TO") for one in made):
        return False
    paused = made[-1].kind == "COMMA" and not _takes_materials(made)
    if not paused and not any(one.kind in ("IN", "FOR") for one in made):
        return False
    if tokens[at].kind == "NUMBER" and at + 2 < len(tokens) and tokens[at + 1].kind == "UNIT":
        at += 2
        at += tokens[at].kind == "OF" and at + 1 < len(tokens)
    return tokens[at].kind == "NAME" and tokens[at].word.split()[-1] == "water"


def _takes_materials(made: list[Token]) -> bool:
    """True where what is behind a comma may be one more thing that the verb is done to."""
    head = next((one for one in made if one.kind == "VERB"), None)
    verb = vocabulary().verbs.get(head.word) if head is not None else None
    return verb is None or "material" in verb.objects


def without_particle(tokens: list[Token], names: Called) -> list[Token]:
    """“put wool in” and “lower in the wool”: an “in” that no place follows is the verb's."""
    at = 1 if tokens[0].kind == "LABEL" else 0
    if len(tokens) <= at + 1 or tokens[at].kind != "VERB":
        return tokens
    if not _may_have_fibre_in(tokens[at].word):
        return tokens
    kinds = [token.kind for token in tokens]
    if "IN" not in kinds:
        return tokens
    index = kinds.index("IN")
    after = tokens[index + 1] if index + 1 < len(tokens) else None
    own = tokens[at].word in vocabulary().verbs
    if own and (index != at + 1 or after is None):
        return tokens  # enter yarn in ..., where a name was lost
    verb = f"{tokens[at].word} in"
    head = tokens[at]._replace(meant=verb) if verb in everyday() else tokens[at]
    if after is None or after.kind in _CLAUSES or after.kind in (*_BETWEEN, "MANNER", "NOTE"):
        return [*tokens[:at], head, *tokens[at + 1 : index], *tokens[index + 1 :]]
    if index != at + 1 or not _puts(tokens[at].word) or not _is_thing(tokens, index + 1, names):
        return tokens
    return [*tokens[:at], head, *tokens[index + 1 :]]


@remembered(1024)
def _may_have_fibre_in(word: str) -> bool:
    """True for an everyday word that is done to what is in something, or puts it in."""
    return f"{word} in" in everyday() or any(one.puts_fibre_in or one.adds for one in _does(word))


@remembered(1024)
def _puts(word: str) -> bool:
    """True for an everyday word that only puts something in, such as put, pop and lower.

    What is boiled, soaked or left in vinegar is done in it, and the vinegar goes nowhere.
    """
    return f"{word} in" in everyday() or any(one.goes_in or one.adds for one in _does(word))


def _does(word: str) -> list[Effect]:
    """What the verbs do that an everyday word may mean; not those of a bath alone."""
    readings = [one for one in readings_of(word) if not one.of or not set(one.of) <= _OF_LIQUOR]
    return [vocabulary().verbs[one.verb].does for one in readings]


def _is_thing(tokens: list[Token], at: int, names: Called) -> bool:
    """True where what follows goes in, and is no place."""
    while at < len(tokens) and tokens[at].kind in ("NUMBER", "UNIT", "LOOSE", "ABOUT", "OF"):
        at += 1
    if at >= len(tokens) or tokens[at].kind != "NAME":
        return False
    while at + 1 < len(tokens) and tokens[at + 1].kind == "NAME":
        at += 1
    word = tokens[at].word
    last = word.split()[-1].split("-")[-1]
    if last in _PLACES or last == "water" or vocabulary().find(last, "vessel", "tool") is not None:
        return False
    return not names.is_place(word)


_OF_LIQUOR = frozenset(("bath", "pot"))
_PLACES = frozenset("bath baths vat vats liquor liquid pot dye mordant it them".split())
