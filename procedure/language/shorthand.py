"""What people write short, or as they would on paper: “w/”, “2x”, “80C, 1 h”, “(wetted)”.

A row of ``vocabulary/data/shorthand.csv`` shows what is ``written``, words and marks with blanks
between them, in any letters, and the one token that it ``means``; ``asides.csv`` has the words
with which an aside to the reader begins that goes on to the end of the line. Each token keeps its
place in the line.
"""

from __future__ import annotations

from collections.abc import Container
from functools import cache
from itertools import pairwise

from procedure.language.asides import not_to_boil
from procedure.language.called import Called
from procedure.language.clauses_unsaid import MOVING, SENTENCE_ENDS, without_particle
from procedure.language.everyday_order import heads
from procedure.language.tree import Token
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import parts, rows

_CLAUSES = frozenset("IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH AS".split())
_BETWEEN = frozenset(("AND", "COMMA"))


@cache
def _short() -> dict[str, tuple[tuple[tuple[str, ...], str, str], ...]]:
    """The rows by the first word that is written, the longest first."""
    found: dict[str, tuple[tuple[tuple[str, ...], str, str], ...]] = {}
    for row in sorted(rows("shorthand"), key=lambda row: -len(row["written"].split())):
        words = tuple(row["written"].split())
        found[words[0]] = (*found.get(words[0], ()), (words, row["kind"], row["means"]))
    return found


@cache
def _asides() -> dict[str, tuple[tuple[tuple[str, ...], bool, bool], ...]]:
    """How asides begin, by the first word; whether a pause must be before, and if they deny."""
    found: dict[str, tuple[tuple[tuple[str, ...], bool, bool], ...]] = {}
    for row in rows("asides"):
        if "end" not in parts(row["until"]):
            continue
        words = tuple(row["begins"].split())
        how = words, row["pause"] == "yes", row["denies"] == "yes"
        found[words[0]] = (*found.get(words[0], ()), how)
    return found


@cache
def _manners() -> frozenset[str]:
    return frozenset(vocabulary().names("manner"))


def spelt_out(tokens: list[Token], names: Called) -> list[Token]:
    """The tokens of a step in which something is written short, in full."""
    from procedure.language.turns import manner_first

    tokens = without_particle(manner_first(_sentences(tokens)), names)
    if not _short().keys().isdisjoint([token.text.lower() for token in tokens]):
        tokens = _spelt(tokens, names)
    kinds = {token.kind for token in tokens}
    if "LPAR" in kinds:
        tokens = _remarks(tokens)
    if "UNIT" in kinds:
        tokens = _paused(tokens, names)
    if "OF" in kinds:
        tokens = _pot_of_water(tokens)
    if not kinds.isdisjoint(("NAME", "ODD", "REPEAT")):
        tokens = _moving(_rounds(tokens, names))
        tokens = _aside(tokens)
    return tokens


def in_whole_words(tokens: list[Token]) -> list[Token]:
    """The tokens of a step with what is written short in full, each in its place."""
    if not _short().keys().isdisjoint([token.text.lower() for token in tokens]):
        tokens = _spelt(tokens, frozenset())
    return _rounds(tokens, frozenset())


def described_in_full(tokens: list[Token]) -> list[Token]:
    """The tokens of a declaration in which something is written short in full, as words."""
    made = _spelt(tokens, frozenset(), describing=True)
    return [one._replace(kind="WORD") if one.kind in ("WITH", "AND") else one for one in made]


def _spelt(tokens: list[Token], names: Container[str], describing: bool = False) -> list[Token]:
    made: list[Token] = []
    at = 0
    while at < len(tokens):
        found = _row_at(tokens, at)
        if found is not None and tokens[at].text in names:
            found = None
        before = made[-1].kind if made else ""
        if found is not None and found[1] == "WORD" and not describing:
            found = None
        if found is None or before == "" or (before in ("LABEL", "STRING") and found[1] != "WORD"):
            made.append(tokens[at])
            at += 1
            continue
        end, kind, means = found
        made += _joined(tokens[at:end], kind, means)
        at = end
    return made


def _row_at(tokens: list[Token], at: int) -> tuple[int, str, str] | None:
    """Where a row that is written from a place on ends, and what it means; None for none."""
    for words, kind, means in _short().get(tokens[at].text.lower(), ()):
        end, said = at, ""
        while end < len(tokens) and len(said.split()) < len(words):
            said += f" {tokens[end].text.lower()}"
            end += 1
        changed = (tokens[at].kind, tokens[at].word) != (kind, means) or end > at + 1
        alike = said.split() == list(words) and tokens[at].line == tokens[end - 1].line
        if alike and changed and _may_be(kind, tokens, at):
            return end, kind, means
    return None


def _may_be(kind: str, tokens: list[Token], at: int) -> bool:
    """False for a “+” that is no “and”, and for a word that measures after a number."""
    before = tokens[at - 1].kind if at else ""
    if kind == "AND":
        return at + 1 < len(tokens) and before != "NUMBER"
    return before != "NUMBER"


def _joined(run: list[Token], kind: str, means: str) -> list[Token]:
    text = run[0].text + "".join(
        " " * (after.column - before.to) + after.text for before, after in pairwise(run)
    )
    first = Token(kind, text, run[0].line, run[0].column, means)
    if kind == "WITH" and " " in means:  # in cool water: with, and what is brought
        head = run[0]._replace(kind="WITH", meant="with")
        rest = text[len(run[0].text) :].lstrip()
        water = Token("NAME", rest, run[0].line, run[1].column, means.partition(" ")[2])
        return [head, water]
    return [first]


def _sentences(tokens: list[Token]) -> list[Token]:
    """“Place yarn in bath. Slowly heat to 80 °C.” as one line with a comma."""
    first = 1 if tokens[0].kind == "LABEL" else 0
    made: list[Token] = []
    for at, token in enumerate(tokens):
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        if token.text in SENTENCE_ENDS and at > first and token.kind in ("ODD", "NAME"):
            if after is None:
                continue
            if _begins(after):
                made.append(token._replace(kind="COMMA", meant=","))
                continue
        lower = token.text.lower()
        if token.kind == "NAME" and lower != token.text and _begins(token):
            before = made[-1] if made else None
            if at == first:
                kind = "MANNER" if lower in _manners() else "VERB"
                made.append(token._replace(kind=kind, meant=lower))
                continue
            assert before is not None
            if before.kind in ("UNIT", "HEAT", "MANNER", "STRING", "WAIT"):
                made.append(Token("COMMA", "", token.line, token.column, ","))
            if made[-1].kind == "COMMA":
                kind = "MANNER" if lower in _manners() else "NAME"
                made.append(token._replace(kind=kind, meant=lower))
                continue
        made.append(token)
    return made


def _begins(token: Token) -> bool:
    """True for a word that may begin a sentence: a verb, or how something is done."""
    lower = token.text.lower()
    if token.kind in ("NAME", "DO") and lower in _DENIALS:
        return True  # Do not boil.
    return token.kind in ("NAME", "MANNER", "VERB", "HEAT") and (
        lower in heads() or lower in _manners()
    )


_DENIALS = frozenset(("do", "don't", "don’t", "never"))


def _remarks(tokens: list[Token]) -> list[Token]:
    """“add yarn (wetted)” is add the wetted yarn; other words in brackets are a note."""
    for at, token in enumerate(tokens):
        if token.kind != "LPAR" or at < 2:
            continue
        if (end := _ends_clauses(tokens, at)) > 0:  # in dye-bath (80 °C, 1 h)
            pause = token._replace(kind="COMMA", meant=",")
            return _remarks([*tokens[:at], pause, *tokens[at + 1 : end], *tokens[end + 1 :]])
        end = at + 1
        while end < len(tokens) and tokens[end].kind not in ("RPAR", "LPAR", "NUMBER", "STRING"):
            end += 1
        if end >= len(tokens) or tokens[end].kind != "RPAR" or end == at + 1:
            continue
        inner = tokens[at + 1 : end]
        if any(one.kind in ("HEAT", "WAIT", "LOOSE", "PH", "BASIS") for one in inner):
            continue  # a second reading of an amount, or of what it is
        often = any(one.word in _OFTEN or one.word.lstrip("xX").isdigit() for one in inner)
        if often or any(one.word in _CEILING for one in inner):
            continue  # how often, and how hot at the most, is more than a remark
        said_of = len(inner) == 1 and tokens[at - 1].kind == "NAME"
        if said_of and inner[0].word in _states():
            return [*tokens[: at - 1], inner[0], tokens[at - 1], *tokens[end + 1 :]]
        return _remarks(_told(tokens[:at], inner, tokens[end + 1 :]))
    return tokens


def _ends_clauses(tokens: list[Token], at: int) -> int:
    """Where brackets behind a name end that hold a heat, a time or both; 0 for all others."""
    if tokens[at - 1].kind != "NAME" or tokens[at + 1 : at + 2] == []:
        return 0
    end = next((n for n in range(at, len(tokens)) if tokens[n].kind == "RPAR"), 0)
    inner = tokens[at + 1 : end]
    units = [vocabulary().units.get(one.word) for one in inner if one.kind == "UNIT"]
    fits = all(unit is not None and unit.kind in ("temperature", "time") for unit in units)
    amounts = {one.kind for one in inner} <= {"NUMBER", "UNIT", "RANGE", "ABOUT", "COMMA"}
    return end if units and fits and amounts else 0


def _told(before: list[Token], run: list[Token], behind: list[Token]) -> list[Token]:
    """A line with some of its words as a note, or joined to the note that it has."""
    noted = next((at for at, one in enumerate(behind[:-1]) if one.kind == "NOTE"), None)
    joined = behind
    if noted is None:
        noted = next((at for at, one in enumerate(before[:-1]) if one.kind == "NOTE"), None)
        joined = before
    if noted is None:
        return [*before, *_note(run), *behind]
    said, own = joined[noted + 1].word[1:-1], _note(run)[1].word[1:-1]
    parts = (said, own) if joined is before else (own, said)
    both = joined[noted + 1]._replace(meant=f'"{"; ".join(parts)}"')
    told = [*joined[: noted + 1], both, *joined[noted + 2 :]]
    return [*told, *behind] if joined is before else [*before, *told]


@cache
def _states() -> frozenset[str]:
    from procedure.language.turns import STATES

    return STATES | {row["word"] for row in rows("said_of_things")}


_OFTEN = frozenset("twice thrice once times x".split())
_CEILING = frozenset("above over exceed hotter higher boiling".split())


def _note(run: list[Token]) -> list[Token]:
    """A note with these words, at their place."""
    text = said = run[0].text
    for before, after in pairwise(run):
        wide = after.column - before.to
        text += " " * max(wide, 0) + after.text
        # An article that is read over is where the gap is wide enough for it.
        the = after.line == before.line and wide == len(" the ")
        said += (" the " if the else " " * min(max(wide, 0), 1)) + after.text
    words = " ".join(said.split())
    note = Token("NOTE", "", run[0].line, run[0].column, "note")
    return [note, Token("STRING", text, run[0].line, run[0].column, f'"{words}"')]


def _rounds(tokens: list[Token], names: Container[str]) -> list[Token]:
    """“rinse 2x”, “rinse x3” and “rinse × 3” are so many times."""
    for at, token in enumerate(tokens):
        after = tokens[at + 1] if at + 1 < len(tokens) else None
        unit = token.kind == "UNIT" and token.text.lower() in ("x", "×")
        if unit and after is not None and after.kind == "NAME" and _brings_materials(tokens):
            continue  # add 2x the alum: how much it is
        if unit and tokens[at - 1].kind == "NUMBER" and (after is None or after.kind != "NUMBER"):
            return [*tokens[:at], token._replace(kind="TIMES", meant="times"), *tokens[at + 1 :]]
        if token.text in ("x", "X", "×") and at > 1 and _ends_a_round(tokens, at + 1):
            often = token._replace(kind="TIMES", meant="times")
            return [*tokens[:at], tokens[at + 1], often, *tokens[at + 2 :]]
        bracketed = at > 0 and tokens[at - 1].kind == "LPAR"
        if (
            at
            and not bracketed
            and token.kind == "NAME"
            and token.text[0] in "xX"
            and token.text[1:].isdigit()
            and token.text not in names
        ):
            number = Token("NUMBER", token.text[1:], token.line, token.column + 1)
            times = Token("TIMES", token.text[0], token.line, token.column, "times")
            return [*tokens[:at], number, times, *tokens[at + 1 :]]
    return tokens


def _ends_a_round(tokens: list[Token], at: int) -> bool:
    """True where a number stands that measures nothing: the 3 of “rinse yarn × 3 in tub”."""
    behind = tokens[at + 1].kind if at + 1 < len(tokens) else "COMMA"
    number = at < len(tokens) and tokens[at].kind == "NUMBER" and tokens[at].text.isdigit()
    return number and (behind in _BETWEEN or behind in _CLAUSES or behind in ("NOTE", "MANNER"))


def _brings_materials(tokens: list[Token]) -> bool:
    """True where the verb of a step may be done to materials: add, chop."""
    head = next((one for one in tokens if one.kind == "VERB"), None)
    verb = vocabulary().verbs.get(head.word) if head is not None else None
    return verb is not None and "material" in verb.objects


def _moving(tokens: list[Token]) -> list[Token]:
    """“, turning it often” is often; “, turning the yarn” is stirring, as the language has it."""
    for at in range(2, len(tokens)):
        if tokens[at].word not in MOVING or tokens[at].kind not in ("NAME", "MANNER"):
            continue
        end = at + 1
        if end < len(tokens) and tokens[end].word in _EACH_TIME:
            continue  # stirring daily
        end += end < len(tokens) and tokens[end].kind == "NAME"
        begin = at - (tokens[at - 1].kind in _BETWEEN)
        if end < len(tokens) and tokens[end].word in _AT_INTERVALS:
            return [*tokens[:begin], *tokens[end:]]
        ends = end == len(tokens) or tokens[end].kind in (*_BETWEEN, *_CLAUSES, "MANNER", "NOTE")
        if ends and (begin < at or end > at + 1):
            said = tokens[at]._replace(kind="MANNER", meant="stirring")
            return [*tokens[:begin], said, *tokens[end:]]
    return tokens


_EACH_TIME = frozenset(("daily", "hourly", "every", "each", "once", "twice"))
_AT_INTERVALS = frozenset(
    ("now and then", "occasionally", "regularly", "often", "frequently", "from time to time")
) | {"every so often", "every now and then"}


def _paused(tokens: list[Token], names: Container[str]) -> list[Token]:
    """“heat to 80 °C hold 1 h”: a verb after a heat or a time begins another step."""
    for at in range(2, len(tokens)):
        unit = (
            vocabulary().units.get(tokens[at - 1].word) if tokens[at - 1].kind == "UNIT" else None
        )
        word = tokens[at].word
        measured = unit is not None and unit.kind in ("temperature", "time")
        verb = tokens[at].kind in ("NAME", "HEAT") and word in vocabulary().verbs
        if measured and verb and word not in names:
            pause = Token("COMMA", "", tokens[at].line, tokens[at].column, ",")
            return [*tokens[:at], pause, *_paused(tokens[at:], names)]
    return tokens


def _pot_of_water(tokens: list[Token]) -> list[Token]:
    """“in tub of rain water” is in tub with rain water."""
    for at in range(2, len(tokens) - 1):
        water = tokens[at + 1].kind == "NAME" and tokens[at + 1].word.split()[-1] == "water"
        run = [one.kind for one in tokens[at - 2 : at + 1]]
        if water and run in (["IN", "NAME", "OF"], ["INTO", "NAME", "OF"]):
            said = tokens[at]._replace(kind="WITH", meant="with")
            return [*tokens[:at], said, *tokens[at + 1 :]]
    return tokens


def _aside(tokens: list[Token]) -> list[Token]:
    """“squeeze yarn, don't rinse” with what is only told to the reader as a note."""
    for at in range(1, len(tokens)):
        for words, paused, denies in _asides().get(tokens[at].word, ()):
            run = tokens[at : at + len(words)]
            if tuple(one.word for one in run) != words:
                continue
            rest = tokens[at:]
            before = tokens[at - 1]
            if denies and not_to_boil(rest):
                continue  # a bound of heat
            if paused and before.kind not in _BETWEEN:
                continue
            if before.kind in ("VERB", "LABEL") and len(words) > 1 and words[0] == "to":
                continue
            noted = next((i for i, one in enumerate(rest) if one.kind == "NOTE"), len(rest))
            if not _only_told(rest[len(words) : noted]):
                continue
            end = at - 1 if before.kind in (*_BETWEEN, "LPAR") and at > 1 else at
            return _told(tokens[:end], rest[:noted], rest[noted:])
    return tokens


def _only_told(rest: list[Token]) -> bool:
    """True for words that hold no amount, no other step and no words in marks."""
    if any(one.kind in ("NUMBER", "STRING", "COLON", "LOOSE", "LIMIT", "BOUND") for one in rest):
        return False
    if any(one.word in _CEILING for one in rest):
        return False
    parted = [at for at, one in enumerate(rest) if one.kind in _BETWEEN]
    return not any(at + 1 < len(rest) and rest[at + 1].word in heads() for at in parted)
