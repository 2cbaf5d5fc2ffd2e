"""What a misspelt material may have meant, and when nobody may guess.

A suggestion never leads from a word that may be harmless to a thing that harms, nor from
one metal to another: it is put as a question with the Latin name, or not made at all.
"""

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.entries import Entry
from procedure.vocabulary.library import MATERIAL_TABLES, Vocabulary, near, vocabulary
from procedure.vocabulary.slips import one_slip

# In so short a word any slip makes another word.
SHORTEST = 4


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
    asked = _near_harm(word, known)
    if asked:
        return Suggestion(None, asked)
    metal = metal_named(word, known)
    names = [
        name
        for name in known.names(*tables)
        if not harms(entry := known.find(name, *tables), known)
        and (metal is None or metal == _metal(entry))
    ]
    return Suggestion(near(word, names))


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


def _near_harm(word: str, known: Vocabulary) -> tuple[Entry, ...]:
    """The plants that harm whose name is in the words, whole or with one slip of the pen."""
    said = [word, *word.split()]
    found: dict[str, Entry] = {}
    for name, plant in known.tables["plants_that_harm"].items():
        stem = name.split()[-1] if " " in name else name
        for one in said:
            same = one == name or (len(one) >= SHORTEST and one_slip(one, name))
            shared = one in plant.words("shared_names")
            if same or shared or (one == word and one == stem):
                found.setdefault(plant.name, plant)
    return tuple(found.values())


def metal_named(word: str, known: Vocabulary) -> str | None:
    """The metal that a word names, such as ``copper`` in ``copper powder``, or None."""
    metals = {entry.facts["metal"] for entry in known.tables["mordants"].values()} - {""}
    return next((one for one in word.split() if one in metals), None)


def _metal(entry: Entry | None) -> str:
    return "" if entry is None else entry.facts.get("metal", "")
