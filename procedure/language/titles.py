"""What stands where a title, a heading or a note belongs, and how it is written there.

A first line such as “My onion dye from last summer” is the title of the procedure below it; a
heading of another name is known by what is below it; a sentence below the title is a note.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from procedure.findings import Says, Word, say
from procedure.language.tree import Fault, Token
from procedure.language.words import HEADER_WORDS, SECTIONS
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import near

# A longer first line, or one of two sentences, is no title.
_LONGEST_TITLE = 70
# What people write in front of a title, or in the place of “procedure”.
_IN_FRONT = pattern(
    r"^[#=*\s]*(?:procedure\b\s*:?\s*|(?:title|name|recipe|project|pattern)\s*[:–—-]+\s*)?",
    re.IGNORECASE,
)
_MARKS = pattern(r"[\"“”„«»]|(?<!\w)['‘’]|['’](?!\w)")
_SENTENCE = 3


def title_meant(raw: str) -> str:
    """The title that a line says in another way, with its quotation marks; empty for none."""
    said = _IN_FRONT.sub("", _without_comment(raw))
    said = " ".join(_MARKS.sub(" ", said).split()).strip("=*:. ")
    plain = said and len(said) <= _LONGEST_TITLE and not pattern(r"[.!?;] ").search(said)
    return f'procedure "{said}"' if plain and pattern(r"[^\W\d]").search(said) else ""


def no_title(raw: str, number: int) -> Fault | None:
    """The fault of a line that says the title of the procedure, but not as a title."""
    meant = title_meant(raw)
    if not meant:
        return None
    sentence = Says(_amiss(raw))
    remedy = say("Write: {title}.", title=Word(meant))
    return _of_the_line(raw, number, sentence, remedy, meant)


def _amiss(raw: str) -> str:
    """What is amiss with a title that can be understood."""
    if not raw.startswith("procedure "):
        return "The title comes after “procedure”, in quotation marks."
    if pattern(r"['‘]").search(raw) and not pattern(r"\w['’]\w").search(raw):
        return "The title is written in double quotation marks."
    return "The title is written in quotation marks."


def above_the_title(raw: str, number: int) -> Fault:
    """The fault of a line in prose that is above the title."""
    sentence = Says("This line is above the title, where only comments are.")
    meant = "# " + _without_comment(raw).strip()
    return _of_the_line(raw, number, sentence, Says("Put “#” in front of it."), meant)


def begins_a_procedure(below: Iterable[str]) -> bool:
    """True where one of these lines is the title of a procedure."""
    return any(re.match(r"procedure\b\s*:?\s*[\"“]", line, re.IGNORECASE) for line in below)


def has_sections(below: Iterable[str]) -> bool:
    """True where a line of these is the heading of a section, or several declare something."""
    lines = [line.strip() for line in below]
    headed = any(line.rstrip(":").lower() in SECTIONS for line in lines)
    return headed or sum(_DECLARES.match(line) is not None for line in lines) > 1


_DECLARES = pattern(r"[\w’'-]+: +[a-z][^,]*,")


def prose_above(first: Token) -> Fault:
    """The fault of a first line that is too much for a title."""
    sentence = Says("This is prose; a procedure begins with its title.")
    remedy = Says(
        'Put “#” in front of it, and above it a line such as: procedure "Golden onion skins".'
    )
    return Fault(first.line, first.column, first.to, sentence, remedy)


def heading_alone(raw: str, number: int, tokens: Sequence[Token], name: str) -> Fault:
    """The fault of a heading with more words after it."""
    if tokens[0].text.endswith(":") or not all(token.kind == "WORD" for token in tokens[1:]):
        return _with_what_belongs_to_it(number, tokens, name)
    sentence = Says("A heading is a word alone on its line.")
    return _of_the_line(raw, number, sentence, say("Write “{name}”.", name=name), name)


def _with_what_belongs_to_it(number: int, tokens: Sequence[Token], name: str) -> Fault:
    """The fault of “fibre: wool yarn 100 g” on one line."""
    return Fault(
        number,
        tokens[1].column,
        tokens[-1].to,
        say("What belongs to “{name}” comes below it, not on its line.", name=name),
        say(
            "Write “{name}” alone on its line, and below it each thing on a line of its own, "
            "with two blanks in front; and so with the other headings.",
            name=name,
        ),
    )


def heading_called(raw: str, number: int, name: str) -> Fault:
    """The fault of a heading of another name, known by what is below it."""
    sentence = say("The section of that kind is called “{meant}”.", meant=name)
    return _of_the_line(raw, number, sentence, say("Write “{meant}”.", meant=name), name)


# Words for what the header says in others, as people write them with a colon.
_OF_THE_HEADER = frozenset(
    "author writer date written updated where location wear ppe serves yield yields result".split()
)


def note_meant(raw: str, number: int, tokens: Sequence[Token]) -> Fault | None:
    """The fault of a sentence below the title, which is a note; None for anything else."""
    words = [token for token in tokens if token.kind == "WORD"]
    marked = any(token.kind in ("STRING", "OPEN_STRING", "LABEL") for token in tokens)
    if marked or len(words) < _SENTENCE or tokens[0].kind != "WORD":
        return None
    if tokens[0].text.endswith(":") and tokens[0].text.rstrip(": ").lower() in _OF_THE_HEADER:
        return None  # author: Fellside Dye Circle
    if near(tokens[0].text.lower(), ["procedure", *SECTIONS, *HEADER_WORDS]) is not None:
        return None
    said = " ".join(_without_comment(raw).split())
    sentence = Says("Words for the reader come after “note”, in quotation marks.")
    at_margin = "" if raw[:1].isspace() else "  "
    meant = f'{at_margin}note "{said}"'
    remedy = say("Write: {note}.", note=Word(meant.lstrip()))
    return _of_the_line(raw, number, sentence, remedy, meant)


def _of_the_line(raw: str, number: int, sentence: Says, remedy: Says, meant: str) -> Fault:
    """A fault of all that is written in a line, with what is to be there in its place."""
    said = _without_comment(raw).rstrip()
    column = len(said) - len(said.lstrip()) + 1
    return Fault(number, column, len(said) + 1, sentence, remedy, said.strip(), meant)


def _without_comment(raw: str) -> str:
    return raw if raw.lstrip().startswith("#") else raw.partition(" #")[0]
