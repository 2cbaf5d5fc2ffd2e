"""Who a procedure is for: by its audience, and by what its title, notes and ``makes`` tell."""

from __future__ import annotations

import re

from procedure.facts.study import Study
from procedure.model import Name, Procedure
from procedure.model.harm import DENIED, clauses_of
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

# The words for children and their places, as free words have them.
CHILDREN = (
    r"child\w*|grandchild\w*|kids?|pupils?|toddlers?|bab(?:y|ies)|youngsters?|little ones|scouts?"
    r"|nursery|playroom"
)
# Whom a work is for that is for none of them: “not for children”, “out of reach of children”.
_KEPT_OUT = DENIED + (
    r"|\b(nothing for|un(safe|suitable|suited|fit)|keep|kept|out of reach|harm\w*|poison\w*|"
    r"danger\w*|adults only|grown\W?ups only|nobody|if you are|when they|once they|formerly)\b"
)
# A gift for a child is no work by one; “for the children's room” neither.
_CHILDREN_NEXT = (
    r"(?:for|with|by|to) (?:(?:the|our|a|some|all|young|small|group|class|of|local) ){0,4}(?:"
    + CHILDREN
    + r")\b(?!['’-]|s['’]| (?:clothes|room|blanket|shop|toys?|knits?))"
)
_FOR_CHILDREN = r"\b" + _CHILDREN_NEXT
_BY_CHILDREN = r"\b(?:dyed|made|stirred|done|worked|mixed|gathered) (?:up )?" + _CHILDREN_NEXT
_SCHOOL = (
    r"\b(?:our|for|with|by) (?:(?:the|our|a|local) )?(?:\w+ ){0,2}?"
    r"(?:year (?:one|two|three|four|five|six|seven|eight|nine|ten|\d{1,2})|"
    r"kindergarten|nursery school|school class|primary school)\b"
)
EXPECTING = (
    r"\b(?:expecting (?:mothers?|women|parents|a child|a baby)|expectant|pregnan\w+|antenatal|"
    r"mothers?[ -]to[ -]be)\b"
)


class ToldOf(NamedTuple):
    """Somebody whom a procedure is for: the words that tell of them, and who they are.

    ``who`` is children, beginners or expecting.
    """

    name: Name
    who: str


def for_whom(study: Study, procedure: Procedure) -> tuple[ToldOf, ...]:
    """The children, beginners and those who expect a child that a procedure is for.

    What its title, its notes and ``makes`` tell counts where the audience does not say it.
    """
    return study.once(_of_all)[procedure.key]


def _of_all(study: Study) -> dict[str, tuple[ToldOf, ...]]:
    return {one.key: _told_of(one) for one in study.procedures}


def for_children(procedure: Procedure) -> bool:
    """Whether a procedure is for children, by its audience or its other words."""
    return any(one.who == "children" for one in _told_of(procedure))


def _told_of(procedure: Procedure) -> tuple[ToldOf, ...]:
    found = [ToldOf(word, who) for word in procedure.audience if (who := _who(word.text))]
    known = {one.who for one in found}
    for text, patterns in (
        *((note, _OF_NOTES) for note in procedure.notes),
        *((title, _OF_NOTES) for title in (procedure.title,) if title is not None),
        *((made, _OF_MAKES) for made in (procedure.makes,) if made is not None),
    ):
        for who, pattern in patterns:
            if who not in known and _says(text.text, pattern):
                known.add(who)
                found.append(ToldOf(text, who))
    return tuple(found)


_OF_NOTES = (
    ("children", _FOR_CHILDREN + "|" + _SCHOOL),
    ("expecting", EXPECTING),
)
_OF_MAKES = (("children", _BY_CHILDREN + "|" + _SCHOOL), ("expecting", EXPECTING))
# To look for these first spares most texts the patterns.
_BEGUN = (
    *("child", "kid", "pupil", "toddler", "bab", "youngster", "little ones", "scout", "nursery"),
    *("playroom", "year ", "kindergarten", "school", "expect", "pregnan", "antenatal", "mother"),
)


def _says(text: str, pattern: str) -> bool:
    plain = text.lower()
    if not any(map(plain.__contains__, _BEGUN)):
        return False
    return any(
        re.search(pattern, clause) and not re.search(_KEPT_OUT, clause)
        for clause in clauses_of(plain)
    )


def _who(text: str) -> str:
    """The children or beginners of whom an audience speaks: “children from six” are children."""
    known = vocabulary()
    named = (known.find(word, "audience") for word in (text, *text.lower().split()))
    found = next((one.name for one in named if one is not None and one.name in _KEPT), "")
    return found or ("expecting" if _says(text, EXPECTING) else "")


_KEPT = ("children", "beginners")
