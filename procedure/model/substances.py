"""Salts, acids, lyes and bleaches that free words name: which they are, and who says so of what.

The plants that harm are read by ``harm.py``; this is the same for all else that harms.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from procedure.model.harm import SPLIT, clauses_of, denies, used_all_the_same, words_in
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.data_files import kept_of_tables, parts, rows

# What takes a thing away, or is for use on it, is not the thing.
_OTHERWISE = (
    r"\b(remov\w*|neutralis\w*|neutraliz\w*|tak\w+ out|stops?|clears?|against|replac\w+|"
    r"for use with|free)\b"
)
# Words that are a vessel, a tree or a verb as often as a salt: in a sentence they say too little,
# unless it is a measure or a share of them that is spoken of.
_MEASURED = (
    r"(of|some|more|add|with|and|household|chlorine|green|blue|slaked|quick|strong|weak|half|"
    r"thick|thin|neat|diluted?|watered|liquid|laundry|kitchen|toilet|cheap|plain|ordinary|"
    r"\d+ ?(g|ml|%)?|(pour|add|tip|splash)\w*( in)? the)"
)
# “Mix bleach with vinegar”, “add chrome”: what is put in, and no word after that makes it another
# thing (a bleach bucket, lime green, chrome nails).
_SOME = r"( the| some| a little| a bit of| more)?$"
_PUT_IN = (
    r"\b((add|dissolve|sprinkle|shake in|weigh out|(put|stir|tip|drop|pour|throw|shake) in)"
    rf"{_SOME}|(use|using|with|give (it|them))( some| a little| a bit of| more)?$)"
)
# “Throw the copper in”: what is put somewhere by a verb that has “in” after it.
_THROWN = rf"\b(keep|store|put|stir|tip|drop|pour|throw|chuck|toss|shake){_SOME}"
_MIXED = (
    r"\b(add|mix|pour|stir|tip|use|using|splash|put|drip|squirt|dissolve|sprinkle)( in)?( the)?$"
)
# “The ammonia bottle stays shut on its shelf”: nothing of it goes in, unless the words go on.
_STAYS_SHUT = (
    r"\b(?:\w+ (?:bottle|jar|tin|can|canister|tub|drum|packet)s? "
    r"(?:stays?|must stay|remains?|is kept|are kept)|"
    r"keep (?:the|your) (?:\w+ (?:bottle|jar|tin|can)s?|(?:bottle|jar|tin|can)s? of \w+)) "
    r"(?:shut|closed|locked|unopened|sealed)\b"
    r"(?!.*\b(?:until|till|unless|then|except|but|open|pour\w*|add\w*|use\w*|tip\w*|put|it|some|"
    r"mix\w*|stir\w*|splash\w*|drip\w*|spoon\w*|drop\w*|take|fill\w*|when|while|after|before)\b)"
)
_GOES_ON = frozenset(
    ("", "to", "into", "onto", "on", "in", "with", "and", "over", "for", "before", "after", "then")
)
_OFTEN_ELSE = frozenset(("lime", "bleach", "spirit", "peroxide", "permanganate"))
_BATHS = frozenset(("bath", "liquor", "mordant", "solution", "salt", "salts", "crystals"))
_ADDING = (
    r"\b(add\w*|pour\w*|stir\w*|tip\w*|drop\w*|splash\w*|sprinkl\w*|mix\w*|dissolv\w*|put\w*|"
    r"us\w+|throw\w*|chuck\w*|toss\w*|shake|give|spray\w*|dip\w*|soak\w*|steep\w*|rins\w+|scrub\w*|clean\w*|wash\w*|spoon\w*|cup\w*|"
    r"bleach\w* (it|them|the|this|each)|forget|boil|simmer|(warm|heat|melt) (the|some|a)|bottle\w*|"
    r"glug|pinch|grams?|ml|litres?|with)\b"
)


def grave(entry: Entry) -> bool:
    """Whether a substance hurts badly: sold with the word Danger, a metal that harms, a poison."""
    words = entry.words("hazards")
    if entry.facts.get("restricted") or {"harmful metal", "poison if eaten"} & set(words):
        return True
    codes = vocabulary().tables["ghs"]
    return any(word in codes and codes[word].facts["signal"] == "Danger" for word in words)


def _may_stay_shut(text: str) -> bool:
    return "stay" in text or "kept" in text or "eep the" in text or "eep your" in text


@cache
def _names() -> tuple[int, dict[str, Entry]]:
    """Every name of a salt, acid, lye, bleach or spirit with hazards; the longest, in words.

    Beside them stand the names in several words of what has none, which may hold one of them:
    potassium aluminium sulphate is no aluminium sulphate.
    """
    known = vocabulary()
    found = {
        name.lower(): entry
        for table in ("mordants", "assistants")
        for name, entry in known.tables[table].items()
        if entry.facts.get("hazards") or " " in name
    }
    # “Add oxalic” is of the acid.
    found = {**{bare: found[f"{bare} acid"] for bare in _bare_acids()}, **found}
    # “Add copper” means a salt of it: the first that the list has. Mercury is a metal to pour.
    for entry in known.tables["mordants"].values():
        if entry.facts["metal"] not in ("", "mercury") and grave(entry):
            found.setdefault(entry.facts["metal"], entry)
    return max([len(name.split(" ")) for name in found]), found


def _without_valency(text: str) -> str:
    """“Lead(II) acetate” as lead acetate: the bracket is no aside."""
    return pattern(r"\((?:i{1,3}|iv|vi{0,3})\)").sub(" ", text) if "(" in text else text


@cache
def _bare_acids() -> frozenset[str]:
    """The first words of acids with hazards that are called by one word more: oxalic, formic."""
    found = (
        name.lower()
        for name, entry in vocabulary().tables["assistants"].items()
        if entry.facts.get("hazards")
    )
    bare = (name.removesuffix(" acid") for name in found if name.endswith(" acid"))
    return frozenset(one for one in bare if " " not in one)


@cache
def _bare_metals() -> frozenset[str]:
    """Names of metals, which are pots, nails and colours too: iron, tin, chrome; never arsenic."""
    known = vocabulary().tables
    metals = {entry.facts["metal"] for entry in known["mordants"].values()}
    return frozenset((metals | set(known["metals"]) | {"chrome"}) - {"", "arsenic"})


@remembered(16384)
def substances_named(text: str) -> tuple[tuple[Entry, bool], ...]:
    """The substances with hazards that words name, and whether the words are nothing but a name.

    A clause that denies or takes away (“never bleach”, “stops the bleach”) names none.
    """
    return tuple(_substances_named(text))


def _substances_named(text: str) -> Iterator[tuple[Entry, bool]]:
    harm = _first_words_of_harm()
    plain = used_all_the_same(_without_valency(text.lower()).replace("-", " "))
    said = words_in(plain)
    if harm.isdisjoint((*said, *[one[:-1] for one in said], *[one[:-2] for one in said])):
        return  # most words name none, and the names take long to make
    begun = _first_words()
    longest, known = _names()
    listed_out = False  # “no lead, chrome or arsenic”: what denies the first denies them all
    for clause, end in re.findall(rf"(.*?)({SPLIT}|$)", plain, re.DOTALL):
        words = words_in(clause)
        only_listed = listed_out and _is_a_list(words)
        listed_out = end == "," and (only_listed or _denies_what_ends_it(words))
        at = 0
        while at < len(words):
            one = words[at]
            if not {one, one.removesuffix("s"), one.removesuffix("es")} & begun:
                at += 1
                continue
            for count in range(min(longest, len(words) - at), 0, -1):
                name = " ".join(words[at : at + count])
                spelt = (name, name.removesuffix("s"), name.removesuffix("es"))
                entry = next((known[one] for one in spelt if one in known), None)
                if entry is None:
                    continue
                before, behind = " ".join(words[:at]), " ".join(words[at + count :])
                denied = only_listed or denies(before, behind)
                otherwise = denied or pattern(_OTHERWISE).search(before)
                if (
                    not otherwise
                    and entry.facts.get("hazards")
                    and _is_meant(entry, name, before, words, at)
                ):
                    yield entry, len(words) == count
                at += count - 1
                break
            at += 1


def restricted_named(text: str) -> Entry | None:
    """The first substance that nobody should use and that words name, if any."""
    named = (one for one, _ in substances_named(text))
    return next((one for one in named if one.facts.get("restricted")), None)


@kept_of_tables
def _first_words_of_harm() -> frozenset[str]:
    """The words with which a name of what harms begins; most words of prose begin none."""
    names = (name for name, entry in _names()[1].items() if entry.facts.get("hazards"))
    return frozenset(name.split(" ")[0] for name in names)


@cache
def _first_words() -> frozenset[str]:
    """The words with which any name begins."""
    return frozenset(name.split(" ")[0] for name in _names()[1])


def _denies_what_ends_it(words: list[str]) -> bool:
    """Whether a clause is a denial and the one word that it denies: “no lead”."""
    return len(words) > 1 and words[-2] in ("no", "never", "without", "nor")


def _is_a_list(words: list[str]) -> bool:
    """Whether a clause goes on with a list of names with “or” before the last."""
    _, known = _names()
    names = {word for name in known for word in name.split()} | _bare_metals()
    head = words[: words.index("or") + 2] if "or" in words else words
    return all(word in names or word in ("or", "nor", "and") for word in head)


@kept_of_tables
def _lyes_of_old() -> frozenset[str]:
    """What lyes were let from before caustic soda was sold: ashes, seaweed, the chamber pot."""
    return frozenset(word for row in rows("lyes") for word in parts(row["let_from"]))


def names_a_lye_of_old(text: str) -> bool:
    """Whether words name a lye only by what it is let from: burnt seaweed lye."""
    words = words_in(text.lower().replace("-", " "))
    lyes = [at for at, word in enumerate(words) if word == "lye"]
    return bool(lyes) and all(_is_a_lye_of_old(words, at) for at in lyes)


def _is_a_lye_of_old(words: list[str], at: int) -> bool:
    """Whether a lye is said to be let from something: seaweed lye, lye of oak ashes."""
    before, behind = words[max(at - 1, 0) : at], words[at + 1 :]
    if behind[:2] == ["made", "from"] or behind[:2] == ["made", "of"]:
        behind = behind[1:]
    of = behind[1:4] if behind[:1] in (["of"], ["from"]) else []
    return not _lyes_of_old().isdisjoint((*before, *of))


def _is_meant(entry: Entry, name: str, before: str, words: list[str], at: int) -> bool:
    """Whether a word that is other things too is a substance here."""
    if name == "lye" and _is_a_lye_of_old(words, at):
        return False
    bare = (_bare_metals() | _bare_acids()) - _OFTEN_ELSE
    if len(words) == 1 or name not in bare | _OFTEN_ELSE:
        return True
    if name in bare:
        behind = words[at + 1] if at + 1 < len(words) else ""
        if entry.facts.get("restricted") and behind in _BATHS:
            return True  # a chrome bath is of chrome, a chrome pot may be of steel
        measured = pattern(r"\b(of|grams?|g|spoons?|pinch|salts?)$").search(before) is not None
        put_in = pattern(_PUT_IN).search(before) is not None and behind in _GOES_ON
        thrown = behind in ("in", "into") and pattern(_THROWN).search(before) is not None
        return measured or put_in or thrown
    behind = words[at + 1] if at + 1 < len(words) else ""
    if pattern(_MIXED).search(before) and behind in _GOES_ON:
        return True
    return re.search(rf"(^|\b){_MEASURED}$", before) is not None or at == len(words) - 1 > 0


def bare_substance(texts: tuple[str, ...]) -> Entry | None:
    """The substance whose name the writer's own name or free words are, and no more than that."""
    for text in texts:
        for one, bare in substances_named(text.replace("_", " ")):
            if bare:
                return one
    return None


def substances_in(entry: Entry | None, texts: tuple[str, ...]) -> tuple[Entry, ...]:
    """The substances that harm and of which a declaration speaks beside its entry."""
    named = (one for text in texts for one, _ in substances_named(text.replace("_", " ")))
    found = {one.name: one for one in named if grave(one)}
    if entry is not None:
        found.pop(entry.name, None)
    return tuple(found.values())


@remembered(16384)
def put_in(text: str) -> tuple[Entry, ...]:
    """The substances that harm and that a sentence says are put somewhere; restricted ones at all.

    “Put the lid on” moves nothing; “add a cup of bleach” does.
    """
    if _may_stay_shut(text):
        text = pattern(_STAYS_SHUT).sub(" ", text.lower())
    meant = {one.name for one, _ in substances_named(text)}  # a list is denied with its first
    if not meant:
        return ()
    return tuple(
        one
        for clause in clauses_of(used_all_the_same(_without_valency(text.lower())))
        for one, _ in substances_named(clause)
        if one.name in meant
        and grave(one)
        and (one.facts.get("restricted") or pattern(_ADDING).search(clause.lower()))
    )
