"""A text without a heading of its sections: which section a line belongs to by its words.

A heading that is missing is told of at the first line that it should be above, with the line to
write, and what follows is read as if it were there. Where the text has none at all, or is all at
the margin, that is told of once.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import takewhile

from procedure.findings import Says, say
from procedure.language.everyday_order import heads
from procedure.language.tree import Fault, Token
from procedure.language.words import BLOCK_WORDS, CLAUSE_WORDS, HEADER_WORDS, SECTIONS
from procedure.vocabulary import near, vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES

_EQUIPMENT = ("vessel", "tool", "heater")
_LONGEST_PHRASE = 3
_SMALL = frozenset(("a", "an", "the", "some", "of"))


def section_of(tokens: list[Token]) -> str:
    """The section that a line belongs to by its words; empty where they do not tell."""
    first = tokens[0]
    labelled = first.kind == "LABEL"
    said = [token.word.lower() for token in (tokens[1:] if labelled else tokens)]
    if not said:
        return ""
    two = " ".join(said[:2])
    if said[0] in heads() or two in heads() or (not labelled and said[0] in BLOCK_WORDS):
        return "steps"
    if not labelled:
        return _surely(said)
    return _declared_in(_called(said), any(_is_weight(token) for token in tokens))


def _surely(said: list[str]) -> str:
    """The one section that a line without a name and a colon can be of, by all that it says."""
    said = [word for word in said if word not in _SMALL and not word[:1].isdigit()]
    found = _speaks_for(said)
    return found[0] if len(found) == 1 or "fibre" in found[:1] else ""


def begins(tokens: list[Token], here: str, lacking: Iterable[str]) -> str:
    """The section without a heading that a line below another heading begins.

    Empty where the line can be one of the section that it is in (``here``), or where its words
    do not say for certain that it is one of those that are ``lacking``.
    """
    first = tokens[0]
    labelled = first.kind == "LABEL"
    if first.word == "allow" or (here == "procedure" and first.name.lower() in HEADER_WORDS):
        return ""
    if here != "steps" and _is_step(tokens, labelled):
        return "steps" if "steps" in lacking else ""
    if not labelled or (here == "steps" and _begins_with_verb(tokens[1:])):
        return ""
    speaks_for = _speaks_for([token.word.lower() for token in tokens[1:]])
    if here in speaks_for or (here == "materials" and not _surely_no_material(tokens)):
        return ""
    return next((one for one in speaks_for if one in lacking), "")


def _begins_with_verb(tokens: list[Token]) -> bool:
    said = [token.word.lower() for token in tokens[:2]]
    return bool(said) and (said[0] in heads() or " ".join(said) in heads())


def _is_step(tokens: list[Token], labelled: bool) -> bool:
    """True for a line that a verb begins; after a label it has a clause as well."""
    said = [token.word.lower() for token in tokens[labelled:]]
    begun = said[:1] and (said[0] in heads() or " ".join(said[:2]) in heads())
    if labelled:
        for_dyeing = "only" in said  # sieve: sieve, for dyeing only
        clause = not for_dyeing and not CLAUSE_WORDS.keys().isdisjoint(said[1:])
        return bool(begun) and clause
    return bool(begun) or said[0] in BLOCK_WORDS


def _surely_no_material(tokens: list[Token]) -> bool:
    """True where a line tells of a pot or of fibre by more than a word that plants have as well."""
    said = [token.word.lower() for token in tokens[1:]]
    words = vocabulary()
    a_metal = any(words.find(word, "metals") is not None for word in said)
    a_fibre = any(words.find(word, "fibres") is not None for word in said)
    return a_metal or "dyeing" in said or a_fibre


def _speaks_for(said: list[str]) -> list[str]:
    """The sections that the description of a thing may be in, the likeliest first."""
    words = vocabulary()
    called = _called(said)
    told = _phrases(called)
    a_vessel = any(words.find(one, *_EQUIPMENT) is not None for one in told)
    a_fibre = any(words.find(one, "fibres") is not None for one in told)
    known = words.material(" ".join(called)) is not None
    known |= any(" " in one and words.find(one, *MATERIAL_TABLES) is not None for one in told)
    a_material = known or any(words.find(one, *MATERIAL_TABLES, "part") for one in told)
    if a_vessel and (not a_fibre or "dyeing" in said):
        return ["equipment"] + ["materials"] * known
    if a_fibre:
        return ["fibre"] + ["materials"] * known  # a wool wash
    a_metal = called and all(words.find(one, "metals") is not None for one in called)
    return ["equipment", "materials"] if a_metal else ["materials"] * a_material


def _called(said: list[str]) -> list[str]:
    """The words before the first comma."""
    return list(takewhile(lambda word: word != ",", said))


def _phrases(said: list[str]) -> list[str]:
    """The words one by one and together, the longest first."""
    many = range(_LONGEST_PHRASE, 0, -1)
    return [" ".join(said[at : at + length]) for length in many for at in range(len(said))]


def _is_weight(token: Token) -> bool:
    unit = vocabulary().units.get(token.word) if token.kind == "UNIT" else None
    return unit is not None and unit.kind == "mass"


def _declared_in(said: list[str], weighs: bool) -> str:
    """The section in which a thing is declared that is described so, with a weight or without."""
    words = vocabulary()
    told = _phrases(said)
    a_fibre = any(words.find(one, "fibres") is not None for one in told)
    if a_fibre and weighs:
        return "fibre"  # linen cloth, 100 g; a linen cloth to strain through is not weighed
    if any(words.find(one, *_EQUIPMENT) is not None for one in told):
        return "equipment"
    if a_fibre:
        return "fibre"
    a_metal = any(words.find(one, "metals") is not None for one in told)
    return "equipment" if a_metal and words.material(" ".join(said)) is None else "materials"


def without(lines: Iterable[str]) -> tuple[str, ...]:
    """The sections for which no line of a text is a heading, not even a misspelt one."""
    from procedure.language.mistakes import HEADINGS

    alone = {line.rstrip(": \t").lower() for line in lines if line[:1].isalpha()}
    alone = {HEADINGS.get(one, one) for one in alone if one and " " not in one}
    meant = {near(one, list(SECTIONS)) for one in alone}
    return tuple([name for name in SECTIONS if name not in alone and name not in meant])


def no_heading(first: Token, section: str, lacking: int) -> Fault:
    """The fault of the first line whose heading is missing, of so many that are ``lacking``."""
    sentence = say(
        "“{word}” has no heading above it; it belongs to “{section}”.",
        word=first.text.rstrip(": "),
        section=section,
    )
    if lacking < len(SECTIONS):
        remedy = say(
            "Write “{section}” on a line of its own at the margin, above this line.",
            section=section,
        )
        return Fault(first.line, first.column, first.to, sentence, remedy, heading=section)
    remedy = Says(
        "Write “fibre”, “equipment”, “materials” and “steps” each on a line of its own at the "
        "margin, and below it what belongs to it, each line with two blanks in front."
    )
    return Fault(first.line, first.column, first.to, sentence, remedy)
