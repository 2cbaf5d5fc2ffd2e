"""The comments of a draft from prose: what it was made from, and what of it has no place.

They are for whoever holds the draft against its prose, and no headings of the work. So they are
known again wherever comments are read, though they are comments like any other.
"""

from __future__ import annotations

from procedure.quantity.number_words import listed

# The two lines at the head; the first tells that nobody has checked the draft yet.
DRAFTED = "Drafted from prose."
HEAD = (
    f"{DRAFTED} Each comment in quotation marks is a sentence of it;",
    "what the prose does not say is unstated, or missing here.",
)
NOT_PLACED, NOT_READ, NOT_FOLLOWED = "not placed: ", "not read: ", "not followed: "
COUNTED = "Sentences understood: "
_QUOTED = '"'
_MARKED = tuple(f"{word}{_QUOTED}" for word in (NOT_PLACED, NOT_READ, NOT_FOLLOWED))


def is_of_a_draft(comment: str) -> bool:
    """True for a comment, without its #, that a draft has and no person writes as a heading."""
    said = comment.strip()
    if said in HEAD or said.startswith((*_MARKED, COUNTED)):
        return True
    return len(said) > 1 and said.startswith(_QUOTED) and said.endswith(_QUOTED)


def not_checked(text: str) -> str:
    """In a sentence, that a procedure is a draft which nobody has held against its prose yet.

    It says how many places of the prose have no line. Empty for a text without the first line of
    a draft's head, which whoever has checked it takes away.
    """
    comments = [line.strip()[1:].strip() for line in text.split("\n") if line.lstrip()[:1] == "#"]
    if not any(one.startswith(DRAFTED) for one in comments):
        return ""
    left = []
    for mark in _MARKED:
        places = sum(one.startswith(mark) for one in comments)
        if places:
            left.append(f"{mark.partition(':')[0]} in {places} place{'s' if places > 1 else ''}")
    said = "This is a draft from prose, and nobody has checked it against the prose yet"
    return f"{said}. Of the prose, words were {listed(left)}." if left else f"{said}."
