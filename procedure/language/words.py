"""Characters to tokens, a line at a time.

The grammar's terminals are told apart here, because whether a word is a verb, a
unit or a name depends on the vocabulary and on what comes before it: ``in`` is
an inch after a number and a clause before a pot.
"""

import re
from collections.abc import Callable, Iterable
from functools import cache
from itertools import pairwise

from procedure.language.everyday_order import heads
from procedure.language.spoken import (
    ABOUT,
    FIRST_WORDS,
    VULGAR,
    counted,
    number_in_words,
    number_of_vessels,
    range_of_measures,
    spoken,
)
from procedure.language.tree import Token
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import kept_of_tables

# An apostrophe is inside a word, as in dog's mercury, or after its s: dyers' broom.
_OWNED = r"(?:['’][^\W\d_]+)*"
_SHAPES = pattern(
    rf"""
    [ ]*(?:
    (?P<WORD>(?![{VULGAR}])[^\W\d_][^\W_]*{_OWNED}(?:-[^\W_]+{_OWNED})*
      (?:\.[^\W\d_][^\W_]*(?:-[^\W_]+)*)*(?:(?<=s)['’](?=[\s,:]|$))?)
  | (?P<SPACE>[ \t\u00a0\n]+)
  | (?P<COMMENT>\#.*)
  | (?P<STRING>"[^"]*"|“[^”]*”)
  | (?P<OPEN_STRING>["“].*)
  | (?P<DATE>[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}(?![0-9-]))
  | (?P<COMMA_NUMBER>[0-9]+,[0-9]+(?!\s*/))
  | (?P<NUMBER>[0-9]+-[0-9]+/[0-9]+ | [0-9]+\s+[0-9]+\s*/\s*[0-9]+ | [0-9]+/[0-9]+
      | [0-9]+(?:\.[0-9]+)?\s?[{VULGAR}]? | \.[0-9]+ | [{VULGAR}])
  | (?P<COMMA>,) | (?P<COLON>:) | (?P<LPAR>\() | (?P<RPAR>\)) | (?P<EQUAL>=)
  | (?P<DASH>-)
  | (?P<ODD>.))
    """,
    re.VERBOSE,
)

# These are told apart here: a set of far apart characters takes re longer to build than all else.
_ODD_SHAPES = {
    **dict.fromkeys("–—−", "DASH"),
    **dict.fromkeys("\u2009\u202f\u3000", "SPACE"),
}
# A thousand tons to the milligram. What is longer is a slip, and would only be slow to work with.
MOST_DIGITS = 12

_DIGITS = "0123456789" + VULGAR
_PLAIN_UNIT = r"[^\W\d_]+(?:/[^\W\d_]+)?"
# What may come before the word of a unit, and belongs to it.
_SORT = (
    "US|imp|imperial|UK|metric|Australian|level|small|good|deg|degree|degrees|fl|fluid|per"
    "|heaped|heaping|rounded|scant"
)
_UNIT = pattern(
    rf"(?:(?:{_SORT})\.?\ +)?"
    r"(?:(?:fl|fluid)\.?\ +(?:oz|ounces?)"
    r"|(?:gal|gallons?|qt|quarts?|pt|pints?)\ (?:imp|imperial|UK|US)(?![\w-])"
    r"|grams\ per\ litre|per\ cent|%|[Tt]-shirts?|(?:[°º]\ |[˚*])[CF](?![^\W\d_])"
    rf"|×(?!\s*[0-9])|[°µ]?{_PLAIN_UNIT}|℃(?:{_PLAIN_UNIT})?|℉(?:{_PLAIN_UNIT})?|°)"
    r"(?:\ \((?:imp|imperial|UK|US|metric)\))?"
)

CLAUSE_WORDS = {
    word: word.upper()
    for word in (
        "in into from with at to over for until after on through wearing as note allow because and"
    ).split()
}
_STEP_WORDS = CLAUSE_WORDS | {"of": "OF", "times": "TIMES", "each": "EACH", "unstated": "UNSTATED"}
_STEP_WORDS |= {"every": "EVERY", "or": "OR", "out of": "FROM", "on top of": "ON", "onto": "ON"}
_STEP_WORDS |= {
    "pH": "PH",
    "wof": "BASIS",
    "owf": "BASIS",
    "WOF": "BASIS",
    "OWF": "BASIS",
    **dict.fromkeys(ABOUT, "ABOUT"),
}
BLOCK_WORDS = {
    word: word.upper() for word in "do follow repeat if either or allow for meanwhile".split()
} | dict.fromkeys(("in the meantime", "at the same time"), "MEANWHILE")
HEADER_WORDS = {
    word: word.upper()
    for word in (
        "by revised version source makes licence place water altitude wearing audience note "
        "allow because"
    ).split()
}
SECTIONS = ("fibre", "equipment", "materials", "steps")

# “3x:”, “three times:”, “x 3:” and “twice:” in front of what is done so often.
_FEW = ("two", "three", "four", "five", "six")
_BEHIND_THINGS = frozenset(CLAUSE_WORDS.values()) - {"AND"} | {"COMMA", "MANNER", "ODD"}
_ROUNDS_IN_FRONT = (
    r"(?P<indent>\s*)(?P<repeat>[Rr]epeat(?=\s))?\s*(?:"
    r"(?P<least>\d+|(?:[Tt]wo|[Tt]hree|[Ff]our|[Ff]ive|[Ss]ix)(?=\s))"
    r"(?:\s*(?P<to>to|or|-|–)\s*(?P<most>\d+))?\s*(?P<mark>[xX×]|times)"
    r"|(?P<ahead>[xX×])\s*(?P<behind>\d+)|(?P<rounds>[Tt]wice|[Tt]hrice))"
    r"(?:\s*(?P<colon>:)|(?=\s+[^\W\d_]))"
)

_LABEL_END = pattern(r"[ \t]*:")
# A name of two or three words is one with hyphens: “onion skins:” for “onion-skins:”.
_LONG_LABEL = r"(?:[ ][^\W\d_][\w'’-]*){1,2}[ \t]*:"
_INNER = frozenset("in into from with at to over for until after on through times every".split())
# Words before a verb that say no more than the order of the lines.
_IN_ORDER = tuple(
    form
    for word in ("then", "next", "finally", "lastly", "afterwards", "after that", "after this")
    for form in (word, word.capitalize())
)
_BEGINS_IN_ORDER = rf"\s*({'|'.join(_IN_ORDER)})(?:,\s*|\s+)([^\W\d_]+)(?![\w-])"
_GROUP = pattern(r" (?:hundred|thousand|dozen)(?= [^\W\d_])")
_CAPITAL = pattern(r"\s*([A-Z][a-z]+)")
_WAIT_AFTER = frozenset(("FOR", "OVER", "UNTIL", "RANGE", "LPAR", "BOUND", "LIMIT", "EVERY"))
_BEFORE_UNIT = frozenset(("NUMBER", "PER"))
_MAY_BE_UNITS = frozenset(("WORD", "ODD", "DASH"))
# In a description, a number in words opens its amount at the start of a clause only.
_OPENS_AMOUNT = frozenset(("LABEL", "COMMA"))
# The first words of units of two, which say something alone as well.
_HALVES = frozenset(("degrees", "deg", "degree"))
_RANGE_MARKS = frozenset(("to", "-", "–", "—", "−"))
_QUANTITY_WORDS = {**dict.fromkeys(ABOUT, "ABOUT"), "unstated": "UNSTATED", "pH": "PH"}


_Kinds = dict[str, str]
_Phrases = dict[str, tuple[str, ...]]


class _Lexicon(NamedTuple):
    """The words of steps: kinds by word, phrases by first word, and the same at a line's head."""

    kinds: _Kinds
    phrases: _Phrases
    heads: _Kinds
    head_phrases: _Phrases
    # The kinds of words that say the same wherever they are but at the head and after a number,
    # and nothing for those that must be looked at; any other word is a name.
    plain: _Kinds


@cache
def _lexicon() -> _Lexicon:
    return _Lexicon(*_words_of_steps())


@kept_of_tables
def _words_of_steps() -> tuple[_Kinds, _Phrases, _Kinds, _Phrases, _Kinds]:
    """What the lexicon of steps is made of, in the order of its fields."""
    words = vocabulary()
    kinds: dict[str, str] = dict(_STEP_WORDS)
    for name in words.names("manner"):
        kinds[name] = "MANNER"
    for name in words.names("loose"):
        kinds[name] = "LOOSE"
    for name, heat in words.heats.items():
        kinds[name] = "WAIT" if heat.kind.endswith("wait") else "HEAT"
    verbs = sorted(heads())
    phrases = _by_first_word(kinds)
    waits = [word for word, kind in kinds.items() if kind == "WAIT"]
    looked_at = (*FIRST_WORDS, *phrases, *_RANGE_MARKS, *waits, "down")
    return (
        kinds,
        phrases,
        {**dict.fromkeys(verbs, "VERB"), **BLOCK_WORDS},
        _by_first_word((*kinds, *BLOCK_WORDS, *[one for one in verbs if not one.endswith(" in")])),
        kinds | dict.fromkeys(looked_at, ""),
    )


def _by_first_word(names: Iterable[str]) -> dict[str, tuple[str, ...]]:
    """The names of several words, the longest first, by their first word."""
    phrases: dict[str, list[str]] = {}
    for name in names:
        if " " in name:
            phrases.setdefault(name.split(" ", 1)[0], []).append(name)
    return {first: tuple(sorted(all, key=len, reverse=True)) for first, all in phrases.items()}


@cache
def _below_nothing() -> re.Pattern[str]:
    """A number after a dash that makes it less than nothing; few lines need it."""
    return pattern(
        r"(?![0-9]{4}-[0-9]{2}-[0-9]{2})(?:[0-9]+,[0-9]+(?!\s*/)|[0-9]+\s+[0-9]+/[0-9]+"
        rf"|[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?\s?[{VULGAR}]?)"
    )


def reserved() -> frozenset[str]:
    """The words that cannot be names, because a step would read them as its own."""
    return frozenset(_lexicon().kinds)


def _phrase(word: str, text: str, at: int, phrases: dict[str, tuple[str, ...]]) -> str | None:
    """The longest phrase that begins at ``at``; the sun of “in sun-bath” is none."""
    for phrase in phrases.get(word, ()):
        end = at + len(phrase)
        if text.startswith(phrase, at) and not text[end : end + 2].replace("-", "")[:1].isalnum():
            return phrase
    return None


def _after_number(text: str, at: int) -> tuple[str, int] | None:
    """The unit that starts at ``at``, or None where a clause or a mark starts there."""
    found = _UNIT.match(text, at)
    if found is None:
        return None
    unit = found.group()
    first = unit.split(" ", 1)[0]
    if first in _STEP_WORDS:
        following = text[found.end() :].lstrip()[:1]
        if first != "in" or following.isalpha() or following in ('"', "“"):
            return None
        return first, at + len(first)
    if first not in vocabulary().units and vocabulary().find(first, "manner") is not None:
        return None  # over 1 covered: the unit is lost, and the lid is on
    alone = first in vocabulary().units or first in _HALVES
    if " " in unit and unit not in vocabulary().units and alone:
        unit = first
    return unit, at + len(unit)


def step_words(text: str, line: int, before: list[Token]) -> list[Token]:
    """The tokens of one line of steps; ``before`` holds those of the lines it continues."""
    if not before and (":" in text or text.lstrip()[:1].isdigit()):
        return _rounds_in_front(text, line) or _scan(text, line, before, _lexicon())
    return _scan(text, line, before, _lexicon())


def _rounds_in_front(text: str, line: int) -> list[Token]:
    """The tokens of “3x: rinse yarn in tub”, “twice:” and “3 x rinse yarn”, how often in front.

    They are those of “repeat” with what is repeated behind it; none for any other line.
    """
    found = pattern(_ROUNDS_IN_FRONT).match(text)
    if found is None:
        return []
    lexicon, end = _lexicon(), found.end()
    behind = _scan(" " * end + _uncapitalised(text[end:], lexicon), line, [], lexicon)
    rounds = _how_often(found, line)
    begun, colon = found["repeat"] or "", found.start("colon")
    if colon >= 0:
        repeat = Token("REPEAT", begun, line, found.end("indent") + 1, "repeat")
        return [repeat, *rounds, Token("COLON", ":", line, colon + 1), *behind]
    if begun or not behind or behind[0].kind != "VERB":
        return []
    things = 1
    for one, after in pairwise(behind[1:]):
        if one.kind in _BEHIND_THINGS or (one.kind == "AND" and after.word in lexicon.heads):
            break
        things += 1
    else:
        things = len(behind)
    return [*behind[:things], *rounds, *behind[things:]]  # rinse yarn 3 times in tub


def _how_often(found: re.Match[str], line: int) -> list[Token]:
    """The tokens of “3 times” or “twice”, of what was found in front of a step."""
    if found["rounds"]:
        word = found["rounds"]
        return [Token("OFTEN", word, line, found.start("rounds") + 1, word.lower())]
    mark = "mark" if found["mark"] else "ahead"
    often = "least" if found["mark"] else "behind"
    in_words = found[often].lower()
    figures = str(_FEW.index(in_words) + 2) if in_words in _FEW else ""
    tokens = [Token("NUMBER", found[often], line, found.start(often) + 1, figures)]
    if found["most"]:
        column = found.start("most") + 1
        tokens += [Token("RANGE", found["to"], line, found.start("to") + 1)]
        tokens += [Token("NUMBER", found["most"], line, column)]
    return [*tokens, Token("TIMES", found[mark], line, found.start(mark) + 1, "times")]


def declaration_words(text: str, line: int, before: list[Token]) -> list[Token]:
    """The tokens of one line of declarations, where every word describes something."""
    return _scan(text, line, before, None)


def header_words(text: str, line: int, before: list[Token]) -> list[Token]:
    """The tokens of one header line: a keyword, then words."""
    tokens = _scan(text, line, before, None)
    if not before and tokens:
        first = tokens[0]
        kind = "WORD" if first.kind == "LABEL" else first.kind
        tokens[0] = first._replace(kind=HEADER_WORDS.get(first.text, kind))
    return tokens


def heading_words(text: str, line: int) -> list[Token]:
    """The tokens of a line at the margin: the title or the name of a section."""
    tokens = _scan(text, line, [], None)
    if tokens:
        first = tokens[0]
        if first.text == "procedure":
            tokens[0] = first._replace(kind="PROCEDURE")
        elif (name := first.text.rstrip(":").rstrip().lower()) in SECTIONS:
            meant = "" if first.text.startswith(name) else first.text.lower()
            tokens[0] = first._replace(kind="SECTION", meant=meant)
    return tokens


def _scan(text: str, line: int, before: list[Token], lexicon: _Lexicon | None) -> list[Token]:
    """The tokens of a line; without a lexicon every word describes something."""
    tokens: list[Token] = []
    add = tokens.append
    match = _SHAPES.match
    new = tuple.__new__  # a token without a call of its class: a text has many
    written = text
    text = text if lexicon is None or before else _begun_plainly(text, lexicon)
    plain = {} if lexicon is None else lexicon.plain
    at = 0
    previous = before[-1].kind if before else ""
    # The head is the place of the verb: the first word, or the first after a label, which may be
    # alone on the line above.
    head = not before or (previous == "LABEL" and len(before) == 1)
    while (found := match(text, at)) is not None:
        shape = found.lastgroup or "ODD"
        at, stop = found.span(shape)
        word = text[at:stop]
        if shape == "WORD" and plain and not head and previous not in _BEFORE_UNIT:
            kind = plain.get(word, "NAME")
            if kind and not text.startswith(" water", stop):
                add(new(Token, (kind, word, line, at + 1, "")))
                previous, at = kind, stop
                continue
        elif shape == "ODD":
            shape = _mark(text, at, previous, bool(tokens), lexicon is not None)
        if shape == "SPACE":
            at = stop
            continue
        if shape == "COMMENT":
            break
        spoken_here = lexicon is not None and not head
        said = _said(word, text, at, tokens, previous) if spoken_here else None
        if said is None and previous in _BEFORE_UNIT and shape in _MAY_BE_UNITS:
            said = _range_or_unit(text, at, word, tokens, lexicon is None)
        if said is not None:
            kind, stop = said
            head = head and kind == "SKIP"
        else:
            if shape == "WORD":
                kind, stop = _word(word, text, at, previous, head, lexicon)
            elif shape in ("NUMBER", "DASH"):
                kind, stop = _number(shape, text, at, stop)
            else:
                kind = shape
            head = kind in ("LABEL", "MEANWHILE")
        if kind != "SKIP":
            add(new(Token, (kind, text[at:stop], line, at + 1, "")))
            previous = kind
        at = stop
    return tokens if written is text else _as_written(tokens, written)


def _as_written(tokens: list[Token], written: str) -> list[Token]:
    """The tokens of a line that was read without its capital, the first as it was written."""
    if tokens:
        first = tokens[0]
        as_written = written[first.column - 1 : first.to - 1]
        tokens[0] = first._replace(text=as_written, meant=first.text)
    return tokens


def _number(shape: str, text: str, at: int, stop: int) -> tuple[str, int]:
    """The kind of the number, or of the dash with or without one after it, and where it ends."""
    if shape == "DASH":
        below = _below_nothing().match(text, stop)
        if below is None:
            return "DASH", stop
        stop = below.end()
    word = text[at:stop].rstrip()
    if word[-1:].isdigit() and (group := _GROUP.match(text, at + len(word))) is not None:
        return "NUMBER", group.end()  # 2 or 3 hundred grams
    comma = shape == "DASH" and "," in word
    return "COMMA_NUMBER" if comma else _sort_of_number(word), at + len(word)


def _sort_of_number(word: str) -> str:
    """``LONG_NUMBER`` for one that nobody measures, which no line can hold; else ``NUMBER``."""
    if len(word) <= MOST_DIGITS or sum(map(str.isdigit, word)) <= MOST_DIGITS:
        return "NUMBER"
    return "LONG_NUMBER"


def _acidity(tokens: list[Token]) -> bool:
    """True after a pH, which has no unit."""
    at = len(tokens) - 1
    while at >= 0 and tokens[at].kind in ("NUMBER", "RANGE", "BOUND", "ABOUT"):
        at -= 1
    return at >= 0 and tokens[at].kind == "PH"


def _begun_plainly(text: str, lexicon: _Lexicon) -> str:
    """A line with blanks for the “then” before its verb, which the order of the lines says."""
    if text.lstrip().startswith(_IN_ORDER):
        found = pattern(_BEGINS_IN_ORDER).match(text)
        verb = found and found[2].lower()
        if found and verb in lexicon.heads and not _LABEL_END.match(text, found.end()):
            return " " * found.start(2) + _uncapitalised(text[found.start(2) :], lexicon)
    return _uncapitalised(text, lexicon)


def _uncapitalised(text: str, lexicon: _Lexicon) -> str:
    """A line that begins with a capital, as a sentence does, read as if it had none."""
    found = _CAPITAL.match(text)
    if found is None or _LABEL_END.match(text, found.end()):
        return text
    lower = found[1].lower()
    if lower not in lexicon.heads and lower not in lexicon.head_phrases:
        return text
    at = found.start(1)
    return text[:at] + text[at].lower() + text[at + 1 :]


def _mark(text: str, at: int, previous: str, begun: bool, steps: bool) -> str:
    """What a mark says: & is and, ~ is about; the full stop of “lb.” or “approx.” is a space,
    and that at the end of a line, like a comment, is no more than its end.
    """
    mark = text[at]
    if mark in _ODD_SHAPES:
        return _ODD_SHAPES[mark]
    if begun and _ends_sentence(text, at):
        return "COMMENT"
    if mark == "." and previous in ("UNIT", "ABOUT") and text[at + 1 : at + 2] in (" ", ","):
        return "SPACE"
    if mark == "~":
        return "ABOUT"
    return "AND" if mark == "&" and steps else "ODD"


def _ends_sentence(text: str, at: int) -> bool:
    """True for the full stop at the end of a line, which says nothing more."""
    return text[at] == "." and not text[at + 1 :].partition("#")[0].strip()


def _said(
    word: str, text: str, at: int, tokens: list[Token], previous: str
) -> tuple[str, int] | None:
    """A phrase of spoken amounts at ``at``, or the mark of a range between two measures."""
    measured = previous == "UNIT" and word in _RANGE_MARKS and tokens
    if measured and range_of_measures(text, at, tokens[-1].text):
        return "RANGE", at + len(word)
    return spoken(word, text, at, previous) if word in FIRST_WORDS else None


def _range_or_unit(
    text: str, at: int, word: str, tokens: list[Token], describing: bool
) -> tuple[str, int] | None:
    """After a number: the mark of a range before another number, or a unit."""
    if word not in _RANGE_MARKS and _acidity(tokens):
        return None
    if word in _RANGE_MARKS or (word == "or" and not describing):
        rest = text[at + len(word) :].lstrip()
        if rest and (rest[0] in _DIGITS or counted(rest)):
            return "RANGE", at + len(word)
        if not describing or word != "to":
            return None
    unit = _after_number(text, at)
    return None if unit is None else ("UNIT", unit[1])


def _word(
    word: str, text: str, at: int, previous: str, head: bool, lexicon: _Lexicon | None
) -> tuple[str, int]:
    """The kind of the word at ``at``, and where it ends: a phrase is longer than its word."""
    stop = at + len(word)
    if head and previous != "LABEL":
        label = _LABEL_END.match(text, stop)
        if label is None and ":" in text:
            label = _long_label(text, stop)
        if label is not None and not (_INNER & set(text[stop : label.end()].rstrip(": ").split())):
            return "LABEL", label.end()
    if lexicon is None:
        return _describing(word, text, at, previous)
    kind_of_water = _water(word, text, stop) if text.startswith(" water", stop) else 0
    if kind_of_water and not head:
        return "NAME", kind_of_water
    phrases = lexicon.head_phrases if head else lexicon.phrases
    phrase = _phrase(word, text, at, phrases) if word in phrases else None
    if word == "down" and text[stop:].lstrip()[:1] in ('"', "“"):
        return "TO", stop  # down the drain
    if phrase is not None:
        word, stop = phrase, at + len(phrase)
    if head and word in lexicon.heads:
        return lexicon.heads[word], stop
    kind = lexicon.kinds.get(word, "NAME")
    if kind == "WAIT" and previous not in _WAIT_AFTER:
        kind = "MANNER"
    return kind, stop


def _long_label(text: str, stop: int) -> re.Match[str] | None:
    """The rest of a label whose first word ends at a place; few lines have so early a colon."""
    before, colon, _ = text[stop:].partition(":")
    late = not colon or len(before.split()) > 2
    return None if late else pattern(_LONG_LABEL).match(text, stop)


def _water(word: str, text: str, stop: int) -> int:
    """Where “rain water” ends, if a word says what kind of water is meant; 0 if none does."""
    if not text[stop:].lstrip(" ").startswith("water"):
        return 0
    words = vocabulary()
    if word not in words.tables["water"] and word not in words.heats:
        return 0
    found = pattern(r"[ ]+water(?![\w-])").match(text, stop)
    return found.end() if found is not None else 0


def _describing(word: str, text: str, at: int, previous: str) -> tuple[str, int]:
    """The kind of a word that describes a thing, and where it ends."""
    stop = at + len(word)
    if word == "pH" and not text[stop:].lstrip()[:1].isdigit():
        return "WORD", stop  # pH paper is a tool, not an acidity
    ends = 0
    if previous in _OPENS_AMOUNT:
        ends = number_in_words(word, text, at) or number_of_vessels(word, text, at)
    elif text.endswith(" with ", 0, at):
        ends = number_of_vessels(word, text, at)
    if ends:
        return "NUMBER", ends
    measures = previous == "UNIT" and text[stop:].lstrip()[:1] in _DIGITS
    return "WORD" if word == "of" and not measures else _describing_kind(word, previous), stop


def _describing_kind(word: str, previous: str) -> str:
    if word == "allow":
        return "ALLOW"
    if word == "because":
        return "BECAUSE"
    if previous == "ALLOW":
        return "NAME"
    if word == "of" and previous == "UNIT":
        return "OF"
    return _QUANTITY_WORDS.get(word, "WORD")


Scanner = Callable[[str, int, list[Token]], list[Token]]
