"""Words that speak of some of the fibre where it can't be told of which: it is asked about.

Nothing is done to any fibre then: a deed that falls on the wrong skein spoils it, and one that is
asked about costs a look at the prose.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course, plain_name
from procedure.draft.lexicon import fibres, materials, meanings
from procedure.draft.lot_mentions import LotMention
from procedure.draft.lots_meant import (
    APART,
    MORDANTED,
    PLAIN,
    UNMORDANTED,
    all_of_it,
    is_lettered,
)
from procedure.draft.sentences import Part
from procedure.draft.turning import bath_of
from procedure.vocabulary import vocabulary

# What is done to fibre, or to the bath that it lies in.
DEEDS = frozenset(
    "enter dye mordant dip lift modify soak rinse wash dry air hold leave put boil simmer squeeze"
    " scour again".split()
)
DONE_TO_FIBRE = frozenset(
    "enter dye mordant dip lift modify rinse wash dry air squeeze scour".split()
)
KEPT = frozenset(("time", "temperature", "named heat", "named wait"))


def asks_which(course: Course, part: Part, one: LotMention) -> bool:
    """True where it can't be worked out which fibre a mention means that a deed is done to."""
    if not _is_deed(part) or _adds_stuff(part, one):
        return False
    if one.kind in ("vessel", "coded"):
        return True
    if one.kind == "labels" and _is_told_apart(course, one):
        return True
    if not course.steps:
        return False
    several = len(all_of_it(course).pieces) > 1 or len(course.all_lots()) > 1
    if one.kind in ("all", "fibre"):
        return False
    if one.kind == "some":
        return part.doing.act in MOVES | DONE_TO_FIBRE
    if one.kind == "state":
        compared = _compares(course, part, one) and part.doing.act in MOVES | DONE_TO_FIBRE
        return compared or (several and tells_apart(course, one.labels[0]))
    if one.kind in ("labels", "letters"):
        return several and is_lettered(course)
    if several:
        return True
    # Of one lot "each skein" is all of it, and "the rest" as often what is left of a plant.
    of_more = one.kind == "share" or (one.kind == "count" and OF.search(_words(course, one)))
    counted = of_more or one.kind == "ordinals" or (one.kind == "count" and one.many == 1)
    return part.doing.act in DONE_TO_FIBRE and counted and _names_lot(course, one)


OF = re.compile(r"\bof\b", re.I)
COMPARED = re.compile(r"[a-z]+(?:er|est)", re.I)
# "Put it in the big one" is of a vessel.
INTO_IT = re.compile(r"\b(?:in|into|to|from|of|use)\s*\Z", re.I)


def _compares(course: Course, part: Part, one: LotMention) -> bool:
    """True for "the smaller skeins", "the thick ones": of some that nothing else was said of."""
    word = one.labels[0]
    known = materials().get(word) or meanings("material").get(word)
    if known or word in PLAIN or INTO_IT.search(part.words[: one.start - part.start]):
        return False
    return COMPARED.fullmatch(word) is not None or _words(course, one).endswith("ones")


def _words(course: Course, one: LotMention) -> str:
    return course.text[one.start : one.end].lower()


# "Tie the chips in muslin", "strain it through an old silk scarf": a cloth that is used.
TIED_IN = re.compile(
    r"\b(?:in|into|through|with|of|by|like)\s+(?:an?\s+|some\s+|the\s+)?(?:\w+\s+)?$", re.I
)


def names_other_fibre(course: Course, part: Part) -> str:
    """The words for wool where all the fibre that is declared is linen; empty where there are none.

    Hair of one beast and another may be called wool; silk and what grows on a plant is not.
    """
    named = [
        one.words
        for one in part.things
        if one.kind == "fibre" and not TIED_IN.search(course.text[: one.start][-24:])
    ]
    kinds = {_class_of(word) for word in named}
    declared = {_class_of(lot.fibre) for lot in course.lots.values()}
    if not course.steps or not _is_deed(part) or not declared or "" in kinds | declared:
        return ""
    return named[0] if named and kinds.isdisjoint(declared) else ""


def _class_of(word: str) -> str:
    """Silk, or protein or cellulose; empty for a blend, and for what says no fibre."""
    name = fibres().get(word.lower(), "")
    made = vocabulary().tables["fibres"].get(name)
    if made is None or made.facts["made_of"]:
        return ""
    return "silk" if "silk" in made.name else made.facts["class"]


def _is_told_apart(course: Course, one: LotMention) -> bool:
    """True for the "lot 2" of a recipe that has a "lot 1" too, and says of neither what it is."""
    return any(
        one.start <= each.start < one.end and each.kind == "number"
        for each in course.told_lots.mentions
    )


PARTS = frozenset(("ones", "half", "third", "quarter"))


def _names_lot(course: Course, one: LotMention) -> bool:
    """True for "the first skein", and not for "the first" alone, which may be a water."""
    words = course.text[one.start : one.end].lower().split()
    nouns = {**meanings("labelled lot"), **meanings("part of the fibre")}
    return any(word in nouns or word.rstrip("s") in nouns or word in PARTS for word in words)


def goes_on_unknown(course: Course, part: Part) -> bool:
    """True for what is done next to fibre of which it was just asked which it is."""
    number, _ = course.asked_last
    if not number or not _is_deed(part) or _adds_stuff(part, None):
        return False
    if number == course.number and course.asked_last[1].lower() in fibres():
        return True  # "the wool was soaked and then rinsed", where all that is known is linen
    if number == course.number:
        return part.doing.act not in ("rinse", "wash", "scour") or "it" in part.words.split()
    said = course.sentence.words if course.sentence is not None else ""
    return (
        course.number - number == 1 and IT.search(said) is not None and not course.names_fibre(part)
    )


IT = re.compile(r"\b(?:it|them|these)\b", re.I)


def _is_deed(part: Part) -> bool:
    if part.doing.act:
        return part.doing.act in DEEDS
    return any(one.kind in KEPT for one in part.amounts)


def _adds_stuff(part: Part, one: LotMention | None) -> bool:
    """True for "stir in the iron for the other", where it is stuff that is added."""
    first = next((each for each in part.things if each.start >= part.doing.end), None)
    stuff = first is not None and first.kind in ("material", "part")
    stuff = stuff and (one is None or (first is not None and first.end <= one.start))
    return part.doing.act == "put" and (stuff or not PUTS.match(part.doing.words))


PUTS = re.compile(r"(?:put|place|return|drop|lower|slip|pop|set|lay|move|transfer)", re.I)


def tells_apart(course: Course, word: str) -> bool:
    """True for a word that can tell some of the fibre from the rest: a colour, a salt, a state."""
    if word in APART or word in MORDANTED or word in UNMORDANTED or word in meanings("label"):
        return True
    name = materials().get(word) or meanings("material").get(word, "")
    return bool(name) and plain_name(name) in course.materials


def ask_which(course: Course, part: Part, words: str) -> None:
    """Tell that a deed is not followed, since it is not clear which fibre it is done to."""
    said = part.doing.words or words  # of a bare "two dips of a minute" whose they are
    course.asked_last = course.number, words
    course.which_lot[course.number, said] = words
    course.not_followed.append((course.number, said))
    if part.doing.act in MOVES:
        course.unclear.add(course.number)


MOVES = frozenset(("enter", "put", "lift", "dip", "dye", "mordant", "modify", "soak", "leave"))


MEASURES = frozenset(("mass", "share", "spoon"))


def goes_into_unknown(course: Course, part: Part) -> bool:
    """True for "cotton: tannin 8 % for two hours" where no list knows the tannin.

    It is a bath of its own, and not the one in which other fibre was last.
    """
    bath, share = course.bath, course.share
    if part.doing.act or bath is None or share is None or bath_of(course, share) is bath:
        return False
    if bath.kind != "mordant" or not any(one.kind == "time" for one in part.amounts):
        return False
    known = any(one.kind in ("material", "part", "water") for one in part.things)
    return not known and any(course.of(one) is None for one in course.free(part, *MEASURES))
