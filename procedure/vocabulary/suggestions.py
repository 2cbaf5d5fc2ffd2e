"""What a misspelt material may have meant, and when nobody may guess.

A suggestion never leads from a word that may be harmless to a thing that harms, nor from
one metal to another: it is put as a question with the Latin name, or not made at all.
"""

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from functools import cache, lru_cache
from itertools import groupby

from procedure.quantity.kept_answers import remembered
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.data_files import kept_of_tables, rows
from procedure.vocabulary.entries import Entry
from procedure.vocabulary.library import MATERIAL_TABLES, Vocabulary, near, vocabulary
from procedure.vocabulary.plant_parts import parts_of_plants
from procedure.vocabulary.slips import LONG_ENOUGH, one_slip

# In so short a word any slip makes another word.
SHORTEST = 4
# Words that end the names of many plants, and name none.
_OF_MANY = frozenset(
    "tree plant bush glove gloves thimbles bells bell caps cap fingers rocket nut cane".split()
)


class Suggestion(NamedTuple):
    """What to say of an unknown word: ``meant`` may be offered as it is; ``ask`` are things
    that harm and that it comes near to, which are asked about and never offered."""

    meant: str | None
    ask: tuple[Entry, ...] = ()


def suggestion(word: str, *tables: str, words: Vocabulary | None = None) -> Suggestion:
    """What an unknown word may mean among the names of some tables and all materials.

    ``words`` is the vocabulary where a workshop has its own entries.
    """
    known = vocabulary() if words is None else words
    asked = near_harm(word, known)
    if asked:
        return Suggestion(None, asked)
    if not _harmless_alone().isdisjoint(word.lower().split()) or part_alone(word):
        return Suggestion(None)
    metal = metal_named(word, known)
    meant = near(word, _harmless(known, tables, metal))
    said = word.lower()
    if meant is not None and (_alike_in_the_tail_alone(said, meant) or not _likely(said, meant)):
        meant = None
    asked = _salts_meant(word, meant, metal, known)
    return Suggestion(None, asked) if asked else Suggestion(meant)


# The tails of plants' names: of two names with the same one the rest says which plant it is.
_TAILS = ("flower", "flowers", "berry", "berries", "wort", "weed", "wood", "leaf", "leaves")


def _alike_in_the_tail_alone(word: str, meant: str) -> bool:
    """Whether two names have the tail of a plant's name in common, and little before it.

    So are pasqueflower and sunflower; “sunflwer” and “sumflower” are slips of one name.
    """
    for tail in _TAILS:
        if word.endswith(tail) and meant.endswith(tail):
            said, other = (one.removesuffix(tail).strip(" -") for one in (word, meant))
            return bool(said and other) and said != other and not one_slip(said, other)
    return False


# Names are said with a letter or two wrong, and hardly ever begin with another letter: a ladder is
# no madder, ether no heather. A longer name is another plant's: a mayapple is no apple.
_SLIPS = 2
_LONG = 7


def _likely(word: str, meant: str) -> bool:
    """Whether a word in small letters may be a known name by a slip or two, or the half of it."""
    if meant.startswith(f"{word} "):
        return True
    said, name = _together(word), _together(meant)
    if name in said and len(said) - len(name) > 1:
        return False
    first, other = word.split(" ")[0], meant.split(" ")[0]
    if first[:1] != other[:1] and first[:2] != other[1::-1]:
        return len(first) >= _LONG and one_slip(first, other)
    if one_slip(word, meant) or said == name or _heard(word) == _heard(meant):
        return True
    return len(word) >= _LONG and _letters_apart(said, name) <= _SLIPS


def _together(name: str) -> str:
    return name.replace(" ", "").replace("-", "")


def _letters_apart(word: str, other: str) -> int:
    """How many letters must be put in, left out or changed to make one word of the other."""
    row = list(range(len(other) + 1))
    for at, letter in enumerate(word, start=1):
        above, row = row, [at]
        for column, wanted in enumerate(other, start=1):
            changed = above[column - 1] + (letter != wanted)
            row.append(min(changed, above[column] + 1, row[-1] + 1))
    return row[-1]


def _salts_meant(
    word: str, meant: str | None, metal: str | None, known: Vocabulary
) -> tuple[Entry, ...]:
    """The salt, acid or lye that harms and that a misspelt word is nearest to, if any is."""
    said = word.lower()
    names = _salts_that_harm(known, metal)
    nearest = near(said, [*names, *([meant] if meant else [])])
    if nearest in names:
        return (names[nearest],)
    return ()


# The lists of names are made once for a vocabulary: there is one, and one for each workshop.
@lru_cache(maxsize=64)
def _harmless(known: Vocabulary, tables: tuple[str, ...], metal: str | None) -> list[str]:
    return [
        name
        for name in known.names(*tables)
        if not harms(entry := known.find(name, *tables), known)
        and (metal is None or metal == _metal(entry))
    ]


@lru_cache(maxsize=64)
def _salts_that_harm(known: Vocabulary, metal: str | None) -> dict[str, Entry]:
    return {
        name: entry
        for name in known.names("mordants", "assistants")
        if harms(entry := known.find(name, "mordants", "assistants"), known)
        and entry is not None
        and (metal is None or metal == _metal(entry))
    }


class _PlantsThatHarm(NamedTuple):
    """The plants that harm with their places in the table, by all names and by the last word
    of a name of several; and those names by how they begin."""

    named: dict[str, dict[int, Entry]]
    stems: dict[str, dict[int, Entry]]
    beginnings: dict[str, list[str]]


@lru_cache(maxsize=8)
def _plants_that_harm(known: Vocabulary) -> _PlantsThatHarm:
    named: dict[str, dict[int, Entry]] = {}
    stems: dict[str, dict[int, Entry]] = {}
    for at, (name, plant) in enumerate(known.tables["plants_that_harm"].items()):
        for one in (name, *plant.words("shared_names")):
            named.setdefault(one, {})[at] = plant
        if " " in name:
            stems.setdefault(name.split()[-1], {})[at] = plant
    return _PlantsThatHarm(named, stems, _beginnings(named))


@lru_cache(maxsize=8)
def _all_harmless(known: Vocabulary) -> dict[str, list[str]]:
    """The names of all that harms nobody, by how they begin."""
    return _beginnings(_harmless(known, (*MATERIAL_TABLES, "state", "part"), None))


def _beginnings(names: Iterable[str]) -> dict[str, list[str]]:
    """Names by their first letter, written and heard, whole, and without their first letter.

    Whatever is like a name begins as it does, but for a slip in the first two letters.
    """
    found: dict[str, list[str]] = defaultdict(list)
    for name in names:
        first, heard = name[:1], _begins_as(name[:2])
        found[first].append(name)
        if heard != first:
            found[heard].append(name)
        found[name].append(name)
        found[name[1:]].append(name)
    return found


def _may_be_like(word: str, names: Mapping[str, Sequence[str]]) -> set[str]:
    """The few names that ``_likeness`` can find like a word; no other name is."""
    changed_about = word[1:2] + word[:1] + word[2:]
    shortest, longest = len(word) - 2, len(word) + 2
    return {
        name
        for key in {word[:1], _first_heard(word), word, word[1:], changed_about}
        for name in names.get(key, ())
        if shortest <= len(name) <= longest
    }


def part_alone(word: str) -> bool:
    """Whether a word names a part that any plant may have, and no plant: “leaves”, “bark”."""
    return word.lower() in parts_of_plants()


@cache
def _harmless_alone() -> frozenset[str]:
    """Words that alone name a harmless plant, though a poisonous one's name ends so."""
    return frozenset(row["name"] for row in rows("harmless_names"))


@cache
def _like_plants() -> frozenset[str]:
    return frozenset(row["word"] for row in rows("words_like_plants"))


def harms(entry: Entry | None, known: Vocabulary) -> bool:
    """True for a plant that harms and for a chemical that is sold with the word Danger."""
    if entry is None:
        return False
    if known.danger(entry) is not None:
        return True
    ghs = (known.find(code, "ghs") for code in entry.words("hazards"))
    return entry.table in MATERIAL_TABLES and (
        bool(entry.facts.get("restricted"))
        or any(one is not None and one.facts.get("signal") == "Danger" for one in ghs)
    )


@lru_cache(maxsize=1024)
def near_harm(word: str, known: Vocabulary) -> tuple[Entry, ...]:
    """The plants that harm whose name the words begin with, whole or misspelt.

    Where a harmless thing is as near, nothing is asked.
    """
    words = word.lower().replace("’", "'").split()
    said = [" ".join(words[: at + 1]) for at in range(min(len(words), 4))]
    found: dict[int, Entry] = {}
    plants = _plants_that_harm(known)
    nearest = 0.0
    for one in said:
        for name in _may_be_like(one, plants.beginnings):
            near_it = _likeness(one, name)
            if near_it > 0:
                found.update(plants.named[name])
                nearest = max(nearest, near_it)
    if len(words) == 1 and words[0] not in _OF_MANY | _harmless_alone():
        alone = plants.stems.get(words[0], {})
        found.update(alone)
        nearest = 1 if alone else nearest
    if found and nearest < 1 and _harmless_as_near(said, nearest, known):
        return ()
    # A plant is in the table by each of its names.
    in_order = (found[at] for at in sorted(found))
    return tuple({plant.name: plant for plant in in_order}.values())


@lru_cache(maxsize=1024)
def asked_of(text: str, known: Vocabulary) -> tuple[Entry, ...]:
    """The plants that poison and that free words may name by a slip or a shared name.

    ``text`` is one clause in lower case, which names no plant outright; short words are left
    alone, since prose is full of words that are near to them.
    """
    words = [word for word in text.split() if word not in known.parts_of_plants]
    words = [f"{word[:-3]}y" if word.endswith("ies") else word for word in words]  # bryonies
    found: dict[str, Entry] = {}
    for at, word in enumerate(words):
        rest = " ".join(words[at : at + 4])
        near_it = near_harm(rest, known)
        if not near_it or known.material(word) is not None:
            continue
        for plant in near_it:
            shared = plant.words("shared_names")
            sure = len(word) >= LONG_ENOUGH or word in shared or _several_words_near(rest, plant)
            if plant.facts["level"] != "harmful" and sure:
                found.setdefault(plant.name, plant)
    return tuple(found.values())


def _several_words_near(text: str, plant: Entry) -> bool:
    """Whether words begin with a name of several words, misspelt: lily of the vallley."""
    words = text.split()
    every = (plant.name, *plant.words("aliases"), *plant.words("shared_names"))
    names = [one for one in every if " " in one]
    return any(_likeness(" ".join(words[: name.count(" ") + 1]), name) > 0 for name in names)


def _harmless_as_near(said: list[str], nearest: float, known: Vocabulary) -> bool:
    names = _all_harmless(known)
    return any(_likeness(one, name) >= nearest for one in said for name in _may_be_like(one, names))


def _likeness(word: str, name: str) -> float:
    """How near a word is to a name, 0 (another word) to 1 (the same)."""
    if word == name:
        return 1
    if len(word) < SHORTEST or abs(len(word) - len(name)) > 2:
        return 0
    if one_slip(word, name):
        return 0.95
    if " " in word and " " not in name:  # “boiled an” is no belladonna
        return 0
    heard = _heard(name)
    return 0.9 if len(heard) >= SHORTEST and _heard(word) == heard else 0


def _as_heard(word: str) -> str:
    return word.replace("ph", "f").replace("ck", "k").replace("c", "k")


def _first_heard(word: str) -> str:
    return _begins_as(word[:2])


@remembered(1024)
def _begins_as(letters: str) -> str:
    return _as_heard(letters)[:1]


_NOT_HEARD = dict.fromkeys(map(ord, "aeiouyhw' -"))


@remembered(1024)
def _heard(word: str) -> str:
    """The consonants of a word as they are heard: foxgluv is foxglove, labernum laburnum."""
    plain = _as_heard(word)
    heard = plain[:1] + plain[1:].translate(_NOT_HEARD)
    return "".join([letter for letter, _ in groupby(heard)])


@lru_cache(maxsize=8)
def _metals(known: Vocabulary) -> frozenset[str]:
    return frozenset(entry.facts["metal"] for entry in known.tables["mordants"].values()) - {""}


def metal_named(word: str, known: Vocabulary) -> str | None:
    """The metal that a word names, such as ``copper`` in ``copper powder``, or None."""
    metals = _metals(known)
    words = word.lower().split()
    run_together = (
        one for one in sorted(metals) if words and len(one) >= SHORTEST and words[0].startswith(one)
    )
    # Of a short word every slip is another word: leaf is not lead.
    misspelt = (m for one in words for m in sorted(metals) if len(m) > 4 and one_slip(one, m))
    outright = next((one for one in words if one in metals), None)
    return outright or next(run_together, None) or next(misspelt, None)


def _metal(entry: Entry | None) -> str:
    return "" if entry is None else entry.facts.get("metal", "")


# Prose is full of words that are near to short ones; so long a word is near to few others.
_LONG_IN_PROSE = 7
_HEARD_IN_PROSE = 5


@remembered(4096)
def misspelt_in_prose(text: str) -> tuple[Entry, ...]:
    """The plants that poison and that a clause of prose in lower case may name by a slip.

    A long word that is one slip from a name, or sounds as a long name does that begins so. It is
    to be asked: which words of a language are like such a name by chance, nobody knows.
    """
    words = text.split()
    found = {plant.name: plant for word in words for plant in _misspelt(word)}
    counts = _counts_of_parts()
    for at, word in enumerate(words):
        for count in counts.get(word[:1], ()):
            for plant in _misspelt_in_parts(tuple(words[at : at + count])):
                found.setdefault(plant.name, plant)
    return tuple(found.values())


@lru_cache(maxsize=8192)
def _misspelt_in_parts(words: tuple[str, ...]) -> tuple[Entry, ...]:
    """The plants that poison and whose name several words may be: fox glov, lilly of the vallie.

    A name of several words has a slip in each, or is written with none; one of a single word
    is written in two parts.
    """
    names = _names_in_parts().get((len(words), words[0][:1]), ()) if len(words) > 1 else ()
    if not names:
        return ()
    together = "".join(words)
    found: list[str] = []
    for name, parts in names:
        # Most are not even as long; the last word tells the sooner, as the first begins alike.
        last, its = words[-1], parts[-1]
        if len(parts) > 1 and not -1 <= len(last) - len(its) <= 1 and last[:2] != its[:2]:
            continue
        if together == "".join(parts):
            continue  # the name itself, which is found without
        if len(parts) == 1:
            near_it = len(together) >= _LONG_IN_PROSE and one_slip(together, parts[0])
        else:
            near_it = all(map(_slip_or_same, words, parts))
        if near_it:
            found.append(name)
    if not found or vocabulary().material(" ".join(words)) is not None:
        return ()
    plants = map(vocabulary().tables["plants_that_harm"].__getitem__, found)
    return tuple({plant.name: plant for plant in plants}.values())


def _slip_or_same(word: str, name: str) -> bool:
    """Whether a word of a name is there, or as near as a slip or its sound leaves it."""
    if word == name:
        return True
    if min(len(word), len(name)) < SHORTEST:
        return False
    return one_slip(word, name) or (word[:2] == name[:2] and _heard(word) == _heard(name))


@kept_of_tables
def _names_in_parts() -> dict[tuple[int, str], tuple[tuple[str, tuple[str, ...]], ...]]:
    """Names of plants that poison with their words, by how many words a slip of them has and
    how it begins."""
    found: dict[tuple[int, str], list[tuple[str, tuple[str, ...]]]] = {}
    for name, plant in vocabulary().tables["plants_that_harm"].items():
        if plant.facts["level"] == "harmful":
            continue
        parts = tuple(name.lower().replace("-", " ").split())
        counts = (2,) if len(parts) == 1 and len(name) >= _LONG_IN_PROSE else (len(parts),)
        for count in counts:
            if count > 1:
                found.setdefault((count, parts[0][:1]), []).append((name, parts))
    return {begun: tuple(names) for begun, names in found.items()}


@kept_of_tables
def _counts_of_parts() -> dict[str, tuple[int, ...]]:
    """By a first letter, how many words the slips of names have that begin with it."""
    found: dict[str, set[int]] = {}
    for count, letter in _names_in_parts():
        found.setdefault(letter, set()).add(count)
    return {letter: tuple(sorted(counts)) for letter, counts in found.items()}


@kept_of_tables
def _long_names() -> dict[str, tuple[str, ...]]:
    """The long names of one word of plants that poison, by how they begin."""
    named = _plants_that_harm(vocabulary()).named
    long = (
        name
        for name, plants in named.items()
        if len(name) >= _LONG_IN_PROSE
        and " " not in name
        and any(plant.facts["level"] != "harmful" for plant in plants.values())
    )
    return {begun: tuple(names) for begun, names in _beginnings(long).items()}


@remembered(16384)
def _misspelt(word: str) -> tuple[Entry, ...]:
    if len(word) < _LONG_IN_PROSE or word in _harmless_alone() or word in _like_plants():
        return ()
    near_it = [name for name in _may_be_like(word, _long_names()) if _near_in_prose(word, name)]
    known = vocabulary()
    # Most words are near to none, and the list of all names takes long to make.
    named = _plants_that_harm(known).named if near_it else {}
    if not near_it or word in named or known.material(word) is not None:
        return ()
    # Where a harmless word of the trade is as near, nothing is asked.
    if _harmless_as_near([word], 0.95, known):
        return ()
    found = {at: plant for name in near_it for at, plant in named[name].items()}
    grave = [found[at] for at in sorted(found) if found[at].facts["level"] != "harmful"]
    return tuple(dict.fromkeys(grave))


def _near_in_prose(word: str, name: str) -> bool:
    if one_slip(word, name):
        return True
    alike = word[:2] == name[:2] and abs(len(word) - len(name)) <= 1
    heard = _heard(name)
    return alike and len(heard) >= _HEARD_IN_PROSE and _heard(word) == heard
