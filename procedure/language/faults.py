"""What to say of a line that cannot be read, in the words of the trade."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import takewhile

from procedure.findings import Count, Says, listed, say
from procedure.language.everyday_order import heads
from procedure.language.numbers_in_full import NUMBERS, OLD_MEASURES
from procedure.language.parsing import Refusal, parse
from procedure.language.table import table
from procedure.language.tree import BATHS, UNNAMED, Fault, Line, Token, written_as
from procedure.language.words import MOST_DIGITS, SECTIONS, reserved
from procedure.quantity.number_words import IN_TURN
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import near, vocabulary
from procedure.vocabulary.everyday import everyday
from procedure.vocabulary.library import food_phrases
from procedure.vocabulary.slips import only_meant
from procedure.wording.samples import shown

# What a terminal is to the person who writes; clause words stand for themselves.
_SAID = {
    "STRING": 'free words in "quotation marks"',
    "DATE": "a date such as 2026-06-14",
    "NUMBER": "a number",
    "NAME": "a name",
    "WORD": "a word that describes it",
    "VERB": "a verb such as rinse or prepare",
    "UNIT": "a unit such as {weight} or {degrees}",
    "LABEL": "a name and a colon",
    "SECTION": "a section (fibre, equipment, materials or steps)",
    "PROCEDURE": "procedure",
    "TIMES": "times",
    "COLON": "a colon",
    "COMMA": "a comma",
    "EQUAL": "an equals sign",
    "RPAR": "a closing bracket",
    "$END": "the end of the line",
    "AS_LONG": "as long as",
    "OFTEN": "twice",
}
# Terminals too many to name one by one: a class of them is said instead.
_CLAUSES = frozenset(
    "IN INTO FROM WITH AT TO OVER FOR UNTIL AFTER ON THROUGH WEARING AS NOTE MANNER LIMIT".split()
)
_AMOUNTS = frozenset("NUMBER PH LOOSE UNSTATED HEAT WAIT ABOUT BOUND".split())
_AMOUNT_MARKS = frozenset("LPAR OF BASIS RANGE ALLOW AND OR BEYOND PER LIMIT AS_LONG EVERY".split())
_HEADS = frozenset("DO FOLLOW REPEAT IF FOR EITHER OR MEANWHILE".split())


def expected_words(expected: frozenset[str]) -> Says:
    """The terminals that could have been there, as a dyer would say them."""
    left = set(expected)
    said: list[str] = []
    if "VERB" in left:
        left -= _HEADS | {"LABEL"}
    if len(_AMOUNTS & left) > 2:
        said.append("an amount such as 12 % of yarn")
        left -= _AMOUNTS
    if len(_CLAUSES & left) > 3:
        said.append("a clause (in, with, at, to, for, until, ...)")
        left -= _CLAUSES
    if said or left - _AMOUNT_MARKS:
        left -= _AMOUNT_MARKS
    said = [_SAID.get(kind, kind.lower()) for kind in sorted(left)] + said
    if not said:
        return Says("nothing more")
    return say("{any}", any=listed([shown(words) for words in said], last=" or "))


_AGAIN = Says("Write the line again with what is missing, or remove the extra word.")
_HOW_MUCH = shown("Write how much it is, in figures and with a unit such as {weight}.")


def _like(word: str, expected: frozenset[str]) -> str | None:
    """The word that was expected and is spelt nearly so, or an everyday verb that is."""
    near_word = _nearest(word, expected)
    return _everyday_verb(word, expected) if near_word is None else near_word


def refused(
    refusal: Refusal, tokens: list[Token], start: str, raws: Sequence[tuple[int, str]] = ()
) -> Fault:
    """The fault of a line that the grammar refuses, with the nearest known word.

    ``raws`` are the lines of a step as written, with their numbers.
    """
    # What was supplied has no place of its own: it is the next written word that is refused.
    at = next((n for n in range(refusal.at, len(tokens)) if tokens[n].text), len(tokens))
    refusal = refusal._replace(at=at)
    end = refusal.at >= len(tokens)
    last = tokens[-1]
    token = last if end else tokens[refusal.at]
    meant = slip(refusal, tokens)
    # “or until” is no “for until”.
    if meant is not None and (token.word == "or" or not _reads(start, tokens, refusal.at, meant)):
        meant = None
    if meant is None and (before := _wrong_before(tokens[: refusal.at], end)) is not None:
        return before
    special = None if end or meant else _told_apart(token, tokens, refusal, start, raws)
    special = _UNENDED.get(last.kind) if end and not meant else special
    if special is not None:
        sentence, remedy = special
    elif not end and not meant and (amount := _amount_before(tokens[: refusal.at])) is not None:
        return amount
    else:
        here = Says("the line ends") if end else say("found “{word}”", word=_short(token.text))
        wanted = expected_words(refusal.expected)
        sentence = say("I expected {wanted}, but {found} here.", wanted=wanted, found=here)
        counts = not end and token.text in NUMBERS  # “two pails”: no slip for “to”
        remedy = _HOW_MUCH if counts else _AGAIN
        near_word = None if end or counts else _like(token.text, refusal.expected)
        if meant is not None:
            near_word = meant.text
        if "HEAT" in refusal.expected and near_word in vocabulary().heats:
            sentence = say("“{word}” is no heat that I know.", word=_short(token.text))
        if near_word is not None:
            remedy = say("Did you mean “{meant}”?", meant=near_word)
        elif not end and _unmarked_label(tokens, refusal.at):
            remedy = say(
                "Write a colon after the name: “{name}: {verb}”.",
                name=token.text,
                verb=tokens[refusal.at + 1].text,
            )
        elif not end and start == "step" and "VERB" in refusal.expected:
            remedy = _with_a_verb(tokens, refusal, raws) or remedy
    column, to = (last.to, last.to + 1) if end else (token.column, token.to)
    if meant is None:
        return Fault(token.line, column, to, sentence, remedy)
    return Fault(token.line, column, to, sentence, remedy, token.text, meant.text)


def _told_apart(
    token: Token, tokens: list[Token], refusal: Refusal, start: str, raws: Sequence[tuple[int, str]]
) -> tuple[Says, Says] | None:
    """A sentence of its own for a slip that people often make; None for others."""
    conditions = [one.word for one in tokens[max(refusal.at - 1, 1) : refusal.at + 1]]
    if start == "step" and refusal.at > 1 and ("if" in conditions or "unless" in conditions):
        return _CONDITION  # top up dye-bath if it boils dry
    special = _special(token, tokens, refusal, start)
    if special is None and start == "step" and refusal.at == 1:
        special = _unmade_bath(tokens, refusal.at, raws)
    if special is None and start == "step" and refusal.at == 0:
        special = _after_a_dash(tokens, raws)
    if special is not None:
        return special
    from procedure.language.mistakes import of_beginners

    behind_label = refusal.at == 1 and tokens[0].kind == "LABEL"
    if refusal.at and not behind_label and _nearest(token.text, refusal.expected):
        return None
    special = of_beginners(start, tokens, refusal.at, raws)
    if special is None and behind_label and _nearest(token.text, refusal.expected):
        return None
    if special is None and refusal.at > 1 and tokens[refusal.at - 1].word in _BEGIN_ASIDES:
        special = of_beginners(start, tokens, refusal.at - 1, raws)
    before = tokens[refusal.at - 1] if refusal.at else None
    if special is not None or before is None or start != "step":
        return special
    if not (before.kind == token.kind == "NAME" and before.line == token.line):
        return None
    return _behind_a_pause(tokens, refusal.at, raws) or _two_words(before, token)


# What is said of a line that ends behind a word that opens a block.
_UNENDED = {
    "REPEAT": (
        Says("It is not said how often, nor until when."),
        Says(
            "Write “repeat 2 times”, or “repeat until” and what to look for, and below it the "
            "steps that are done again, each two blanks deeper."
        ),
    ),
    "IF": (
        Says("It is not said under which condition."),
        Says('Write it so: “if "the colour is too light"”, and the step deeper below it.'),
    ),
}
# A longer line is not written out again in a remedy.
_SHORT_LINE = 80


def no_verb(slip: Token) -> Fault:
    """The fault of a misspelt verb after “leave ... to”, which is read as it is meant."""
    sentence = say("“{word}” is not a verb that I know.", word=slip.text)
    remedy = say("Did you mean “{meant}”?", meant=slip.meant)
    return Fault(slip.line, slip.column, slip.to, sentence, remedy, slip.text, slip.meant)


def of_which_verb(tokens: list[Token]) -> Fault:
    """The fault of “wash and rinse yarn in tub with soap 3 g”: is the soap in both waters?"""
    first, _, second = tokens[tokens[0].kind == "LABEL" :][:3]
    sentence = say(
        "“{first}” and “{second}” are two steps, and nobody knows to which what follows belongs.",
        first=first.word,
        second=second.word,
    )
    remedy = say(
        "Write each on a line of its own, with its water and all that goes into it: “{first} ...”, "
        "and below it “{second} ...”.",
        first=first.word,
        second=second.word,
    )
    return Fault(first.line, first.column, second.to, sentence, remedy)


def nothing_below(line: Line) -> Fault:
    """The fault of a block that nothing is in: its steps are not indented."""
    first = line.first
    sentence = say("There is nothing below this “{word}”.", word=line.opens)
    remedy = Says("Indent what belongs to it: the lines below it are deeper than it is.")
    if line.opens == "repeat":
        remedy = Says(
            "What is done again is written below it, each line two blanks deeper; the lines above "
            "it are done once."
        )
    return Fault(first.line, first.column, first.to, sentence, remedy)


def _with_a_verb(
    tokens: list[Token], refusal: Refusal, raws: Sequence[tuple[int, str]]
) -> Says | None:
    """What to write where a verb was to stand: before a thing, or in free words."""
    token = tokens[refusal.at]
    if (turned := _in_its_order(tokens, refusal.at, raws)) is not None:
        return turned
    if refusal.at == 0 and _is_a_thing(token.word, refusal.expected):
        return say(
            "Begin with what is done with it, as in “put {name} in dye-bath”.", name=token.text
        )
    return _in_free_words(written_as(tokens[refusal.at :], raws))


def _in_its_order(tokens: list[Token], at: int, raws: Sequence[tuple[int, str]]) -> Says | None:
    """The same line with a verb of the language in front; None where its words hold none.

    “In the kettle dissolve alum” has its verb behind, and “wetted out yarn” tells what was done.
    """
    if len(written := written_as(tokens[at:], raws)) > _SHORT_LINE or '"' in written:
        return None
    verb = next((n for n in range(at + 1, len(tokens)) if tokens[n].word in heads()), 0)
    ends = [one.word for one in tokens[at + 1 : at + 2]]
    if tokens[at].kind in _CLAUSES and verb and ends not in (["end"], ["start"], ["beginning"]):
        clause = written_as(tokens[at:verb], raws).rstrip(", ")
        said = f"{written_as(tokens[verb:], raws)} {clause}"
        return say("Begin with its verb: “{said}”.", said=said)
    if (is_done := _said_of_a_thing(tokens, at, raws)) is not None:
        return is_done
    for words in (2, 1):
        run = tokens[at : at + words]
        present = _as_is_done(" ".join(one.text.lower() for one in run))
        if present and len(tokens) > at + words:
            rest = written_as(tokens[at + words :], raws)
            return say("Say what is to be done: “{verb} {rest}”.", verb=present, rest=rest)
    return None


_BE = frozenset("is are gets get was were being be".split())
# Verbs whose past is no “-ed”.
_PASTS = {
    "left": "leave",
    "put": "put",
    "kept": "keep",
    "hung": "hang",
    "laid": "lay",
    "let": "let",
    "brought": "bring",
    "made": "make",
    "taken": "take",
    "held": "hold",
    "ground": "grind",
    "cut": "cut",
    "wrung": "wring",
    "drawn": "draw",
    "thrown": "throw",
}


def _said_of_a_thing(tokens: list[Token], at: int, raws: Sequence[tuple[int, str]]) -> Says | None:
    """How “yarn is dyed in weld-bath for 1 h” is written; None for any other line."""
    be = next((n for n in range(at + 1, len(tokens)) if tokens[n].word in _BE), 0)
    things = tokens[at:be]
    if not things or len(things) > _INVERTED or any(one.kind != "NAME" for one in things):
        return None
    behind = tokens[be + 1 :]
    for words in (2, 1):
        done = " ".join([one.text.lower() for one in behind[:words]])
        first, _, second = done.partition(" ")
        past = f"{_PASTS[first]} {second}".rstrip() if first in _PASTS else ""
        verb = _as_is_done(done) or (past if past in heads() else "")
        if len(behind) >= words and verb:
            thing = written_as(things, raws)
            rest = written_as(behind[words:], raws) if behind[words:] else ""
            said = f"{verb} {thing} {rest}".rstrip()
            return say("Say what is to be done: “{said}”.", said=said)
    return None


def _unmade_bath(
    tokens: list[Token], at: int, raws: Sequence[tuple[int, str]]
) -> tuple[Says, Says] | None:
    """What is said of “alum-bath: kettle with 4 L water”; None for any other line."""
    label = tokens[0].name if at == 1 and tokens[0].kind == "LABEL" else ""
    if label.rpartition("-")[2] not in BATHS:
        return None
    label = pattern(r"^(?:(?:make|prepare|mix)-)?(?:(?:the|an?)-)?").sub("", label)
    if len(written := written_as(tokens, raws)) > _SHORT_LINE or '"' in written:
        begun = tokens[1].kind in ("NUMBER", "LOOSE") or tokens[1].word in _MIXING
        return _made_of_what(label) if begun else None
    kinds = [one.kind for one in tokens]
    pot = kinds.index("IN") + 1 if "IN" in kinds else 0
    if tokens[1].word in _MIXING and (mixed := _mixed(label, tokens, pot, raws)) is not None:
        return mixed
    if kinds[pot : pot + 1] == ["NAME"]:
        if any(tokens[1].word in known for known in (heads(), everyday())):
            return None  # “mix” is to be done, and no thing
        parts = [run for run in (tokens[1 : pot - 1], tokens[pot + 1 :]) if run]
        things = _made_of(parts, raws)
    elif kinds[1:3] == ["NAME", "WITH"]:
        pot, things = 1, written_as(tokens[2:], raws)
    else:
        return None
    return Says("What a bath is made of comes after “prepare”."), say(
        "Write it so: “{label}: prepare in {pot} {things}”.",
        label=label,
        pot=tokens[pot].text,
        things=things,
    )


def _made_of(parts: list[list[Token]], raws: Sequence[tuple[int, str]]) -> str:
    """What a bath is made of as “prepare” has it: a heat in the list comes last, behind “at”."""
    clauses: list[list[Token]] = []
    for part in parts:
        clauses.append([])
        for token in part:
            if token.kind == "COMMA":
                clauses.append([])
            else:
                clauses[-1].append(token)
    said = [(clause, _is_heat(clause)) for clause in clauses if clause]
    things = ", ".join(written_as(clause, raws) for clause, heat in said if not heat)
    heats = [written_as(clause, raws).removeprefix("at ") for clause, heat in said if heat]
    with_them = things if things.startswith("with ") else f"with {things}"
    return with_them + "".join(f" at {heat}" for heat in heats)


def _is_heat(clause: list[Token]) -> bool:
    """Whether words are nothing but a heat: “hand hot”, “at 40 °C”."""
    said = [one for one in clause if one.kind != "AT"]
    if [one.kind for one in said] == ["NUMBER", "UNIT"]:
        known = vocabulary().units.get(said[1].word)
        return known is not None and known.kind == "temperature"
    return " ".join(one.word for one in said) in vocabulary().heats


_MIXING = frozenset(("mix", "combine", "blend"))


def _mixed(
    label: str, tokens: list[Token], pot: int, raws: Sequence[tuple[int, str]]
) -> tuple[Says, Says] | None:
    """What is said of “vat: mix 10 g indigo into 8 L water in pot”; None without a pot."""
    if not pot or pot >= len(tokens) or tokens[pot].kind != "NAME":
        return None
    into = next((at for at in range(2, pot) if tokens[at].kind in ("INTO", "WITH")), pot - 1)
    runs = (tokens[2:into], tokens[into + 1 : pot - 1], tokens[pot + 1 :])
    said = (written_as(run, raws).strip(", ").removeprefix("with ") for run in runs if run)
    things = ", ".join(said)
    return Says("What a bath is made of comes after “prepare”."), say(
        "Write it so: “{label}: prepare in {pot} with {things}”.",
        label=label,
        pot=tokens[pot].text,
        things=things,
    )


def _made_of_what(label: str) -> tuple[Says, Says]:
    """What is said of a bath whose label is followed by amounts alone, in many words."""
    return Says("What a bath is made of comes after “prepare”."), shown(
        "Write it so: “{label}: prepare in pot with water {much_water}, alum {some_alum}”.",
        label=label,
    )


def _after_a_dash(tokens: list[Token], raws: Sequence[tuple[int, str]]) -> tuple[Says, Says] | None:
    """What is said of “alum bath - 4 L water, 12 g alum, in pot”; None for any other line."""
    at = next((n for n, one in enumerate(tokens[:4]) if one.text in _FOR_A_COLON), 0)
    named = tokens[:at]
    if not named or any(one.kind != "NAME" for one in named) or at + 1 == len(tokens):
        return None
    label = "-".join(" ".join([one.text.lower() for one in named]).split())
    if label.rpartition("-")[2] not in BATHS:
        return None
    told = named[0]._replace(kind="LABEL", text=f"{label}:")
    return _unmade_bath([told, *tokens[at + 1 :]], 1, raws) or _made_of_what(label)


def _as_is_done(words: str) -> str:
    """The verb of a word that tells what was or is done: wet out, of “wetted out” and “wetting
    out”; empty for others."""
    first, _, second = words.partition(" ")
    ending = next((one for one in ("ed", "ing") if first.endswith(one)), "")
    if not ending:
        return ""
    stem = first.removesuffix(ending)
    for one in (stem, f"{stem}e", stem[:-1] if stem[-1:] == stem[-2:-1] else stem):
        verb = f"{one} {second}".rstrip()
        if verb in heads():
            return verb
    return ""


def _in_free_words(said: str) -> Says | None:
    """How a step is written that begins with no verb of the language; None for longer lines."""
    if '"' in said or "“" in said or len(said) > _SHORT_LINE:
        return None
    return say(
        "Begin with a verb of the language, or write in quotation marks what none says: "
        '“do "{said}"”.',
        said=said,
    )


def _unmarked_label(tokens: list[Token], at: int) -> bool:
    """True for a name and a verb at the head of a line: the bath's name lacks its colon."""
    named = at == 0 and len(tokens) > 1 and tokens[0].kind == "NAME"
    return named and tokens[1].word in vocabulary().verbs


def _wrong_before(tokens: list[Token], end: bool) -> Fault | None:
    """The fault of the word before the refused one, where that is the one that is no word."""
    if not tokens or end:
        return None
    first, last = tokens[-2:-1], tokens[-1]
    column = last.column
    if last.kind == "UNIT" and last.word not in vocabulary().units:
        return _no_unit(last, first[0] if first else None)
    if first and first[0].kind == "OR" and last.word in vocabulary().verbs:
        column, last = first[0].column, first[0]
        said = Says("“or” in a line is between things, not between steps.")
        remedy = Says(
            "Write “either” on a line, the one way deeper below it, then “or” and the other way."
        )
    elif last.kind == "AND" and last.text == "&":
        said = Says("“&” is read as “and” here.")
        remedy = Says("Write “%” if a share is meant.")
    elif last.kind == "NAME" and (small := _small_word(last.word)):
        said = say("“{word}” is not a word that I know here.", word=_short(last.text))
        remedy = say("Did you mean “{meant}”?", meant=small)
    else:
        return None
    return Fault(last.line, column, last.to, said, remedy)


_HEAPS = frozenset(("heaped", "heaping", "rounded", "generous", "scant"))


def heaped(unit: str) -> tuple[Says, Says] | None:
    """What is said of a heaped spoon, which is no unit; None for any other."""
    how, _, spoon = unit.partition(" ")
    if how not in _HEAPS or (spoon and spoon not in vocabulary().units):
        return None
    level = vocabulary().units[spoon].name if spoon else "teaspoon"
    return (
        say(
            "How much is in a {word} {spoon} is anybody's guess.", word=how, spoon=spoon or "spoon"
        ),
        say("Weigh it once and write how much, or take a level one: “1 {level}”.", level=level),
    )


def _no_unit(word: Token, number: Token | None) -> Fault:
    """The fault of a word in the place of a unit that is none, after its number."""
    column = word.column
    glued = number is not None and number.kind == "NUMBER" and number.to == word.column
    if (heap := heaped(word.word)) is not None:
        said, remedy = heap
    elif word.word in ("part", "parts"):
        said = say("“{word}” are of a weight, which is not said.", word=word.word)
        remedy = Says("Write how much to how much: “weld 3 : 1 of yarn”, or “alum 1/4 of yarn”.")
    elif number is not None and glued and number.line == word.line:
        column = number.column
        said = say("“{number}” is no number.", number=_short(number.text + word.text))
        remedy = Says("Write the number in figures alone, then its unit.")
    else:
        said = say("“{word}” is not a unit that I know.", word=_short(word.text))
        old = word.word.removesuffix("s") in OLD_MEASURES
        meant = None if old else near(word.word, [*vocabulary().units, "imp", "US"])
        meant = vocabulary().units[meant].name if meant in vocabulary().units else meant
        remedy = say("Did you mean “{meant}”?", meant=meant or "")
        remedy = remedy if meant else shown("Write a unit such as {weight} or {degrees}.")
    return Fault(word.line, column, word.to, said, remedy)


def _amount_before(tokens: list[Token]) -> Fault | None:
    """The fault of an amount further before the refused word, where its number or unit is none.

    Reading goes on past “30o to 35 : 1” as if a heat or a place were said after the “to”, and
    stops only at what no heat is followed by; the slip is in the amount.
    """
    for at in range(len(tokens) - 1, 0, -1):
        before, token = tokens[at - 1], tokens[at]
        ranged = at > 1 and before.kind in ("TO", "RANGE") and tokens[at - 2].kind == "NUMBER"
        if ranged and token.kind == "NUMBER" and token.text[0] in "-−–":
            said = say("“{number}” is less than nothing.", number=_short(token.text))
            remedy = say("Write “{number}”, if that is meant.", number=_short(token.text[1:]))
            return Fault(token.line, token.column, token.to, said, remedy)
        if before.kind != "NUMBER" or token.kind != "UNIT" or token.word in vocabulary().units:
            continue
        fault = _no_unit(token, before)
        between = tokens[at + 1 : at + 2] and tokens[at + 1].kind == "NUMBER"
        if between and fault.column == token.column and (small := _small_word(token.word)):
            said = say("“{word}” is not a word that I know here.", word=_short(token.text))
            remedy = say("Did you mean “{meant}”?", meant=small)
            return Fault(token.line, token.column, token.to, said, remedy)
        return fault
    return None


def _small_word(word: str) -> str:
    """The clause word, or second word of a verb, that a word of its length is a slip for."""
    from procedure.vocabulary.everyday import particles

    small = {kind.lower() for kind in _CLAUSES - {"MANNER", "LIMIT"}} | particles()
    if word in small or word == "it":
        return ""
    alike = [one for one in sorted(small) if len(one) == len(word) and sorted(one) == sorted(word)]
    if len(word) == 2:
        alike += [one for one in ("in", "to", "up", "at") if one[0] == word[0]]
    return alike[0] if alike else ""


def _short(text: str) -> str:
    return text if len(text) <= 40 else text[:37] + "..."


# “the dye bath strain”: a verb that stands last has no more before it than what it is done to.
_INVERTED = 4


def _special(
    token: Token, tokens: list[Token], refusal: Refusal, start: str
) -> tuple[Says, Says] | None:
    """Slips that people make often have a sentence of their own."""
    text = _short(token.text)
    if token.kind == "OPEN_STRING":
        return (
            Says("A quotation mark opens here and is never closed."),
            Says("Close it on the same line."),
        )
    if token.kind == "LONG_NUMBER":
        return (
            say(
                "This number has {digits} digits; a number may have {most} at the most.",
                digits=Count(Fraction(sum(map(str.isdigit, token.text)))),
                most=Count(Fraction(MOST_DIGITS)),
            ),
            Says("Round it, or write it in another unit."),
        )
    if token.kind == "COMMA_NUMBER":
        whole, part = token.text.split(",", 1)
        return (
            say(
                "The comma inside “{number}” can be read as a decimal mark or as thousands.",
                number=text,
            ),
            say(
                "Write {decimal} or {thousands}, whichever is meant.",
                decimal=f"{_short(whole)}.{_short(part)}",
                thousands=_short(whole + part),
            ),
        )
    if _begins(token, tokens, refusal.at):
        return (
            say(
                "“{word}” looks like the start of a new line, but its indentation makes it go on "
                "with the line above.",
                word=text,
            ),
            Says("Indent it like the line above."),
        )
    denied = tokens[0].word.lower() in _DENYING
    inverted = refusal.at == 0 and tokens[-1].word in vocabulary().verbs and not denied
    inverted = inverted and len(tokens) <= _INVERTED and tokens[0].word not in heads()
    if start == "step" and inverted and all(one.kind != "COMMA" for one in tokens):
        thing = " ".join(one.text for one in tokens[:-1])
        return (
            Says("A step begins with its verb."),
            say("Write “{verb} {thing}”.", verb=tokens[-1].text, thing=_short(thing)),
        )
    if start == "step" and tokens[0].kind == "LABEL" and tokens[0].name.startswith("label"):
        return (
            Says("That something gets a label is said after the step, with “labelled”."),
            Says("Write it so: “dry yarn labelled”."),
        )
    beginning = start == "declaration" and refusal.at == 0 and token.kind in ("WORD", "NUMBER")
    if beginning and (unnamed := _without_a_name(tokens)) is not None:
        return unnamed
    named = (
        start == "step" and "NAME" in refusal.expected and token.kind not in _CLAUSES - {"MANNER"}
    )
    if named and token.text in reserved() and token.text not in ("every", "each"):
        return (
            say("“{word}” is a word of the language, so it cannot be a name here.", word=text),
            Says("Choose another name, such as two words with a hyphen between them."),
        )
    if start == "step" and token.kind == "NAME" and refusal.at:
        before = tokens[refusal.at - 1]
        if before.kind == "UNIT" and "OF" in refusal.expected:
            return (
                say(
                    "“{word}” follows an amount, but a material comes before its amount.", word=text
                ),
                say("Write “{word}” first and then the amount.", word=text),
            )
    return None


def _behind_a_pause(
    tokens: list[Token], at: int, raws: Sequence[tuple[int, str]]
) -> tuple[Says, Says] | None:
    """What is said of words after a comma that begin with no verb: “, weigh down with a plate”."""
    before = tokens[at - 2].kind if at >= 2 else ""
    rest = tokens[at - 1 :]
    told = {"NUMBER", "STRING", "COLON", "OPEN_STRING"} & {one.kind for one in rest}
    known = {one.word for one in tokens[: at - 1]} | vocabulary().verbs.keys()
    if before not in ("COMMA", "AND") or told or tokens[at - 1].word in known:
        return None
    said = written_as(rest, raws)
    if len(said) > _SHORT_LINE or '"' in said or "“" in said:
        return None
    sentence = say("“{word}” is no verb that I know.", word=_short(tokens[at - 1].text))
    return sentence, say(
        'Begin with a verb, or tell it to the reader after the step before: “note "{said}"”.',
        said=said,
    )


# Short words of every day, which are near to one of the language and no slip of it.
_NO_SLIPS = frozenset(("or", "not", "no"))
_BEGIN_ASIDES = frozenset(("when", "once", "while", "before", "during", "using"))
_DENYING = frozenset(("never", "do", "don't", "don’t", "not", "no"))
_BATHS = BATHS | {"pot"}


_CONDITION = (
    Says("A condition is written above the step, and the step deeper below it."),
    Says('Write it so: “if "the colour is too light"”, and the step on the next line.'),
)
_OTHERS = frozenset(("another", "other", "second", "separate", "different"))


def _when_or_if(before: Token, token: Token) -> tuple[Says, Says] | None:
    """What is said of a clause of time or condition that begins after a name."""
    if before.word in ("it", "they", "you"):  # as it leaves the vat
        return (
            Says("When and how it is done is told to the reader in a note."),
            Says('Write it after the step: “note "squeeze it as it comes out"”.'),
        )
    return _CONDITION if token.word in ("if", "unless") else None


def _two_words(before: Token, token: Token) -> tuple[Says, Says]:
    """What is said of a name after another name, which are no name together."""
    both = f"{before.text} {token.text}"
    words = vocabulary()
    if (told := _when_or_if(before, token)) is not None:
        return told
    sized = words.find(before.word, "state", "metals") is not None
    if before.word in _OTHERS and words.find(token.word, "vessel") is not None:
        return (
            say("It is not said which {name} is meant.", name=both),
            Says(
                "Declare it in the section “equipment”, and write its name: “strain dye-bath into "
                "kettle”."
            ),
        )
    if token.word in _BATHS and not (sized and words.find(token.word, "vessel")):
        return (
            say("Nothing is called “{name}” so far.", name=both),
            shown(
                "A bath gets its name where it is made: “{label}: prepare in pot with water "
                "{much_water}”.",
                label="-".join(both.split()),
            ),
        )
    if both in food_phrases():
        return (
            say("A {name} is for food or drink, and nothing that dyes may touch that.", name=both),
            Says("Use a vessel that is kept for dyeing only, and declare it so."),
        )
    if words.find(both, "vessel", "tool") is not None or words.find(token.word, "vessel", "tool"):
        return (
            say("Nothing is called “{name}” here.", name=both),
            say(
                "Write the name of one that is declared, or declare it in the section “equipment”: "
                "“{label}: {name}, for dyeing only”.",
                label=f"{before.text}-{token.text}" if sized else token.text,
                name=both,
            ),
        )
    if before.word in _ORDINALS:
        return (
            say("“{name}” is a part of the fibre, which goes on as a whole.", name=both),
            say(
                "Part it before, as in “split yarn into {first} 1 skein, remainder”, and write "
                "“{first}” here.",
                first=f"{before.word}-skein",
            ),
        )
    if token.word in _HOW or token.word.endswith("ly"):
        return (
            say("“{word}” is not a word that I know here.", word=_short(token.text)),
            say('Tell it to the reader in a note: “note "{word}"”.', word=_short(token.text)),
        )
    return (
        say(
            "“{word}” says nothing that I know in front of “{next}”.",
            word=_short(before.text),
            next=_short(token.text),
        ),
        say(
            "Leave it out where it only tells what “{next}” is like, put a comma between them "
            "where they are two things, or join the two with a hyphen where they are one name.",
            next=_short(token.text),
        ),
    )


# One piece of several, which nobody has parted off.
_ORDINALS = frozenset((*IN_TURN, "last", "next", "another"))
# Words that tell how a thing is done, and are no name.
_HOW = frozenset("back again together apart fine well once twice so off still even".split())


def _without_a_name(tokens: list[Token]) -> tuple[Says, Says] | None:
    """A declaration that begins with what it is, and not with a name and a colon.

    One that begins with its weight has it behind; None for what is no amount of a thing.
    """
    words = [token.text for token in tokens if token.kind == "WORD"]
    if tokens[0].kind == "NUMBER":
        return _weight_in_front(tokens)
    if words == ["water"]:
        return Says("Water is always there."), Says("Leave out “water”.")
    told = list(takewhile(lambda token: token.kind == "WORD", tokens))
    spoken = [token.text for token in told]
    rest = tokens[len(told) :]
    if rest and rest[0].text in _FOR_A_COLON:
        return _with_a_colon(spoken, rest[1:])
    if [one.text for one in (*rest[:1], *rest[-1:])] == ["(", ")"]:
        return _with_brackets(spoken, rest[1:-1])
    turned = " ".join((*spoken[1:], *spoken[:1]))  # alum (potassium)
    if not rest and len(spoken) > 1 and vocabulary().material(turned) is not None:
        return UNNAMED, say("Write it so: “{label}: {said}”.", label=spoken[0], said=turned)
    label, said = "-".join(spoken), tokens
    # Only the colon was forgotten: “yarn wool yarn”.
    if len(spoken) > 1 and not _known_thing(spoken) and _known_thing(spoken[1:]):
        label, said = spoken[0], tokens[1:]
    written = _all_of(said)
    if len(written) > _SHORT_LINE or '"' in written:
        written = " ".join(one.text for one in said if one in told)
    return (
        UNNAMED,
        say("Write it so: “{label}: {said}”.", label=label, said=written),
    )


# What people write for the colon behind a name.
_FOR_A_COLON = frozenset(("=", "-", "–", "—", "−"))


def _with_a_colon(spoken: list[str], rest: list[Token]) -> tuple[Says, Says]:
    """“yarn - wool, 100 g”, which is yarn: wool, 100 g; what is no thing has its name again."""
    name, written = "-".join(spoken), _all_of(rest)
    if rest and rest[0].kind != "WORD":
        written = f"{' '.join(spoken)}, {written}"
    if not rest or len(written) > _SHORT_LINE or '"' in written:
        remedy = shown("Write it so: “yarn: wool yarn, {some_yarn}”.")
    else:
        remedy = say("Write it so: “{label}: {said}”.", label=name, said=written)
    return Says("A name is followed by a colon."), remedy


def _with_brackets(spoken: list[str], inner: list[Token]) -> tuple[Says, Says]:
    """“scarf (60 g silk)”, which is scarf: 60 g silk, and “alum (potassium)” potassium alum."""
    words, name = [one.text for one in inner if one.kind == "WORD"], " ".join(spoken)
    written = _all_of(inner)
    both = " ".join((*words, name))
    if len(words) == len(inner) and vocabulary().material(both) is not None:
        written = both
    elif not any(_is_stuff(word) for word in words):
        written = f"{name}, {written}"
    if not inner or len(written) > _SHORT_LINE or '"' in written:
        return UNNAMED, shown("Write it so: “yarn: wool yarn, {some_yarn}”.")
    return UNNAMED, say("Write it so: “{label}: {said}”.", label="-".join(spoken), said=written)


def _is_stuff(word: str) -> bool:
    known = vocabulary()
    return known.find(word, "fibres") is not None or known.material(word) is not None


def _all_of(tokens: list[Token]) -> str:
    from procedure.language.mistakes import as_written

    return as_written(tokens)


def _weight_in_front(tokens: list[Token]) -> tuple[Says, Says] | None:
    """“100 g wool yarn”, which is yarn: wool yarn, 100 g."""
    amount = list(takewhile(lambda token: token.kind in ("NUMBER", "UNIT"), tokens))
    rest = tokens[len(amount) :]
    told = list(takewhile(lambda token: token.kind in ("WORD", "OF"), rest))
    spoken = [one.text for one in told if one.kind == "WORD"]
    spoken = spoken[1:] if spoken[:1] == ["of"] else spoken
    if not spoken or amount[-1].kind != "UNIT" or amount[-1].word not in vocabulary().units:
        return None
    return (
        UNNAMED,
        say(
            "Write it so: “{label}: {said}, {amount}”.",
            label=spoken[-1],
            said=" ".join(spoken),
            amount=" ".join(one.text for one in amount) + _all_of(rest[len(told) :]),
        ),
    )


def _known_thing(words: list[str]) -> bool:
    """True for a fibre with its form, or a material, that the vocabulary has; a state and a metal
    only tell of one."""
    known = vocabulary()
    if known.find(words[0], "state", "metals") is not None:
        return True
    return known.find(words[0], "fibres") is not None or known.material(" ".join(words)) is not None


def _begins(token: Token, tokens: list[Token], index: int) -> bool:
    """True for the first word of a continuation line that reads like a line of its own."""
    if not index or tokens[index - 1].line == token.line:
        return False
    labelled = index + 1 < len(tokens) and tokens[index + 1].kind == "COLON"
    verbs = vocabulary().verbs
    return labelled or token.word in verbs or any(v.startswith(f"{token.word} ") for v in verbs)


def _is_a_thing(word: str, expected: frozenset[str]) -> bool:
    """True for “wool in, 70 °C for 1 h”: a fibre or a material where a verb is to stand."""
    known = vocabulary()
    named = known.find(word, "fibres", "form") is not None or known.material(word) is not None
    return named and "VERB" in expected


def _nearest(word: str, expected: frozenset[str]) -> str | None:
    if word.endswith("water") or word in vocabulary().verbs or _is_a_thing(word, expected):
        return None  # it is no slip of the pen, but stands where nothing like it belongs
    if word in _NO_SLIPS:
        return None
    found = near(word.rstrip(": "), list(_known(expected)))
    return None if found == word else found


def _everyday_verb(word: str, expected: frozenset[str]) -> str | None:
    """The everyday word for a verb that a misspelt one is near to, where a verb could be."""
    if "VERB" not in expected or _is_a_thing(word, expected):
        return None
    from procedure.language.everyday_order import heads

    found = near(word.rstrip(": "), sorted(one for one in heads() if " " not in one))
    return None if found == word else found


def _known(expected: frozenset[str]) -> dict[str, str]:
    """The words that could be there, each with its terminal."""
    known = {
        kind.lower(): kind for kind in sorted(expected) if kind.isalpha() and kind not in _SAID
    }
    if "VERB" in expected:
        known |= dict.fromkeys(vocabulary().verbs, "VERB")
    if "SECTION" in expected:
        known |= dict.fromkeys(SECTIONS, "SECTION")
    if "PROCEDURE" in expected:
        known["procedure"] = "PROCEDURE"
    if "UNIT" in expected:
        known |= dict.fromkeys(vocabulary().units, "UNIT")
    if "MANNER" in expected:
        known |= dict.fromkeys(vocabulary().names("manner"), "MANNER")
    if "HEAT" in expected:
        heats = vocabulary().heats.items()
        known |= {name: "HEAT" for name, heat in heats if heat.kind == "heat"}
    if "TIMES" in expected:
        known["times"] = "TIMES"
    return known


def slip(refusal: Refusal, tokens: list[Token]) -> Token | None:
    """The refused word as it was meant, where it is a slip for one word that fits there."""
    if refusal.at >= len(tokens):
        return None
    token = tokens[refusal.at]
    if token.kind not in ("NAME", "WORD", "UNIT", "VERB", "MANNER"):
        return None
    known = _known(refusal.expected)
    meant = only_meant(token.word, known)
    return None if meant is None else token._replace(kind=known[meant], text=meant, meant="")


def _reads(start: str, tokens: list[Token], index: int, meant: Token) -> bool:
    """True where the line can be read with the word as it was meant, and other slips as well."""
    tried = list(tokens)
    token: Token | None = meant
    while token is not None:
        tried[index] = token
        start = "title" if token.kind == "PROCEDURE" else start
        found = parse(table(), start, tried)
        if not isinstance(found, Refusal):
            return True
        token = slip(found, tried) if found.at > index else None
        index = found.at
    return False
