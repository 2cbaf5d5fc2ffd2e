"""Headings of a recipe: what the lines below them are about, and what a list is for."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.course import Course
from procedure.draft.doings import Doing
from procedure.draft.fibres import declare_fibre
from procedure.draft.sentences import Part, Sentence
from procedure.quantity.number_words import IN_TURN

# Acts that need no bath of their own, so that a heading alone can say what a list is for.
HEADS = frozenset(("wash", "rinse", "scour", "soak", "dry"))
NUMBERED = re.compile(
    r"\W*(?:(?:step|stage|part|day)\s+(?:\d+|one|two|three|four|five|[ivx]+)\b\W*)?"
    r"(?:\(?(?:\d{1,2}|[a-h]|[ivx]+)[.):]+\s*)?",
    re.I,
)
SECTION = re.compile(
    r"(?:(?:next|now|then|first|firstly|second|third|last|and|so|right|ok)\b,?\s+"
    r"(?=(?:for\s+|comes\s+|start\s+with\s+|begin\s+with\s+|on\s+to\s+)?(?:the|your|my)\s))*"
    r"(?:(?:i\s+|we\s+|you\s+)?(?:start(?:ed)?|begin|began|on)\s+(?:with|to)\s+|comes\s+)?"
    r"(?:(?:for|to|the|how\s+to|making(?:\s+up)?|preparing|prepare|make)\s+)*"
    r"(?:(?P<mordant>(?:alum\s+|tannin\s+|pre-?)?mordant(?:ing)?|alum(?:ing)?|tannin|tannic\s+acid)"
    r"|(?P<drawing>(?:(?:dye|colou?r)\s+)?extract(?:ion|ing)?"
    r"|(?:dye|colou?r)[\s-]?(?:bath|pot|liquor)|dye|bath)"
    r"|(?P<dye>dye(?:ing)?(?:\s+process)?))"
    r"(?:\s+(?:(?:the|your|my)\s+)?(?:bath|liquor|pot|wool|yarn|cotton|silk|linen|cloth|fabric|fib(?:re|er)"
    r"|skeins?|colou?r|dye|step|stage|process|method))*"
    r"(?:\s+(?:\(?(?:the\s+)?(?:day|night|evening)\s+before\)?|first|\((?:day|step|stage|part)\s+\d+\)))?",
    re.I,
)


def announces(course: Course, sentence: Sentence) -> bool:
    """True for a heading, a question or a title: what they announce is noted, and nothing done."""
    announced = heading(sentence)
    if announced is not None:
        course.heading = announced
        course.not_followed.append((sentence.number, announced.words))
        return True
    kind = section(sentence)
    if kind is not None and not _is_done_now(course, sentence, kind):
        course.headings.add(sentence.number)
        turn_to_section(course, kind)
        return True
    if ANOTHER.match(sentence.words) and _leads(course, sentence):
        turn_to_section(course, "")
        return False
    if NEXT.fullmatch(sentence.words) and not any(part.doing.act for part in sentence.parts):
        turn_to_section(course, "")
        return False
    if sentence.number != 1 or not _is_title(course, sentence):
        return False
    for part in sentence.parts:
        weighs = any(one.kind == "mass" for one in part.amounts)
        counts = course.weighed and not weighs
        declare_fibre(course, _without_number(part) if counts else part)
    return True


def _is_done_now(course: Course, sentence: Sentence, kind: str) -> bool:
    """True for "Strain it. Dye the wool.": the bath waits for the fibre, and no more is said."""
    bath = course.bath
    if bath is None or bath.kind != kind or not (bath.begun or bath.stuff):
        return False
    if bath.fibre and len(course.lots) == 1:
        return False
    named = any(course.names_fibre(part) for part in sentence.parts)
    return (
        named and sentence.words.rstrip().endswith(".") and DEED.match(sentence.words) is not None
    )


DEED = re.compile(r"\W*(?:(?:then|now|next|and)\s+)?(?:dye|mordant)\b", re.I)


def _without_number(part: Part) -> Part:
    """The part of a title without how many fleeces it is on, where the recipe weighs its fibre."""
    return part._replace(
        things=tuple(one for one in part.things if not one.name.startswith("=")), amounts=()
    )


# "Next the tannin.": what comes now has a bath of its own.
NEXT = re.compile(
    r"\W*(?:next|then|now|secondly|lastly)\b,?\s+(?:comes?\s+|for\s+)?(?:the|an?|your)\s+"
    r"(?![\w -]*\b(?:part|bit|thing|trick|secret|point|fun|wait|waiting|question)\b)"
    r"[\w -]{3,30}[.:]?",
    re.I,
)
# "Second way, upon a blue ground.", "The vat.", "Method B.": what follows has baths of its own.
ANOTHER = re.compile(
    rf"\W*(?:(?:the\s+)?(?:{'|'.join(IN_TURN[:4])}|last|other|another)\s+"
    r"(?:way|method|manner|recipe|receipt|colou?r|shade|bath|vat)"
    r"|(?:method|recipe|receipt|way|vat|dye|colou?r|shade)\s+(?:no\.?\s*)?(?:[a-h]|\d|[ivx]+|one|two|three|four)"
    r"|(?:the\s+)?(?:(?:indigo|woad|blue|dye|hydros)\s+)?vat|(?:the\s+)?fixing|(?:the\s+)?saddening)"
    r"(?:\s*[.:]|\s*,(?=\s+(?:upon|on|for|with|called|known|which|the|a)\b)|\s+-+\s|\s*$)",
    re.I,
)


def _leads(course: Course, sentence: Sentence) -> bool:
    """True where a sentence is the first of its paragraph, and measures nothing."""
    measured = any(a.kind not in LOOSE for part in sentence.parts for a in part.amounts)
    before = course.text[: sentence.start].rstrip(" \t")
    return not measured and (not before or before.endswith("\n"))


LOOSE = frozenset(("figure", "number", "named heat", "verb heat", "loose", "odd"))


def _is_title(course: Course, sentence: Sentence) -> bool:
    """True for a first line that is a title: nothing in it is measured, and it has no full stop."""
    for part in sentence.parts:
        for amount in part.amounts:
            of = sentence.of.get(amount.start)
            if amount.kind not in LOOSE and (of is None or of.kind != "fibre"):
                return False
    ends_line = course.text[sentence.end - 1 : sentence.end + 1].lstrip(" ")[:1] in ("\n", "")
    title = not sentence.words.rstrip("\"')").endswith((".", ";", ":", ","))
    return title and ends_line


def heading(sentence: Sentence) -> Doing | None:
    """The act that a heading or a question announces: "Soaping.", "Does it wash?"."""
    doings = [part.doing for part in sentence.parts if part.doing.act]
    if len(doings) != 1 or doings[0].act not in HEADS:
        return None
    said = _plain(sentence)
    numbered = bool(STEP.match(sentence.words)) and not any(part.things for part in sentence.parts)
    alone = said == doings[0].words and (said.endswith("ing") or numbered)
    asked = sentence.words.rstrip().endswith("?") and not any(p.amounts for p in sentence.parts)
    return doings[0] if alone or asked else None


# "DYE (the teacher does this beforehand)".
ASIDE = re.compile(r"\s*\([^()]{1,60}\)?\Z")
STEP = re.compile(r"\W*(?:step|stage|part)\s+(?:\d+|one|two|three|four|five|[ivx]+)\b\W", re.I)


def _plain(sentence: Sentence) -> str:
    """The words of a sentence without its number and its marks."""
    said = sentence.words[NUMBERED.match(sentence.words).end() :]  # type: ignore[union-attr]
    return said.strip(" .:;-*#_=").lower()


def section(sentence: Sentence) -> str | None:
    """The kind of bath that a heading is about: ``mordant``, ``dye``; None for no heading."""
    if len(sentence.words) > limits.LONGEST_HEADING or sentence.words.rstrip().endswith("?"):
        return None
    number = NUMBERED.match(sentence.words)
    begins = sentence.start + (number.end() if number else 0)
    every = [a for part in sentence.parts for a in part.amounts if a.start >= begins]
    if any(a.kind != "figure" and not a.words.lower().endswith(" before") for a in every):
        return None
    said = _plain(sentence)
    found = SECTION.fullmatch(said) or SECTION.fullmatch(ASIDE.sub("", said))
    if found is None:
        return None
    return "mordant" if found["mordant"] else "dye"


def turn_to_section(course: Course, kind: str) -> None:
    """Leave the bath at hand, unless it is one of this kind that is still to be used."""
    course.section = kind
    bath = course.bath
    if bath is None or (bath.kind == kind and not bath.had_fibre and not bath.fibre):
        return
    if not bath.begun and not bath.kind:
        return
    course.begin()
    bath.had_fibre = bath.had_fibre or bath.fibre
    bath.fibre = False
    course.bath = None
