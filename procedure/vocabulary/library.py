"""The words of the trade, read from the data files beside this one.

Everything a dyer might correct is in ``data/*.csv``, each row with its source.
:func:`vocabulary` reads the files once and answers look-ups.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import cache, cached_property

from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.vocabulary.data_files import DATA, exact, parts, rows
from procedure.vocabulary.effects import Unfit, effects, with_traits
from procedure.vocabulary.entries import Entry, HeatWord, Unit, Verb
from procedure.vocabulary.slips import LONG_ENOUGH, one_slip

__all__ = [
    "DATA",
    "Entry",
    "HeatWord",
    "Unit",
    "Verb",
    "Vocabulary",
    "near",
    "rows",
    "vocabulary",
]

MATERIAL_TABLES = ("dyestuffs", "mordants", "assistants")


_FILES = ("fibres", *MATERIAL_TABLES, "metals", "hazards", "ghs", "plants_that_harm")


class Tables(Mapping[str, dict[str, Entry]]):
    """The words of declarations by table, each under its name and its aliases.

    A table that has a file of its own is read when it is first asked for.
    """

    def __init__(self) -> None:
        self._read: dict[str, dict[str, Entry]] = {}

    def __getitem__(self, table: str) -> dict[str, Entry]:
        if table in _FILES and table not in self._read:
            here = self._read[table] = {}
            for row in rows(table):
                name = next(iter(row.values()))
                entry = here[name] = Entry(name, table, row)
                here.update(dict.fromkeys(parts(row.get("aliases", "")), entry))
            if table == "dyestuffs":
                _enter_harmful_plants(self._read[table], self["plants_that_harm"])
        return self._read[table]

    def __iter__(self) -> Iterator[str]:
        return iter(dict.fromkeys((*self._read, *_FILES)))

    def __len__(self) -> int:
        return len(list(iter(self)))

    def enter(self, table: str, row: dict[str, str], names: tuple[str, ...]) -> None:
        """Enter a row under its names, the first of which is its own."""
        entry = Entry(names[0], table, row)
        here = self._read.setdefault(table, {})
        for name in names:
            here[name] = entry


class Vocabulary:
    """Every word the program knows.

    Units, verbs, heats and waits are kept by name; the words of declarations are
    kept by table, each under its name and its aliases.
    """

    def __init__(self) -> None:
        self.units: dict[str, Unit] = {}
        self.verbs: dict[str, Verb] = {}
        self.heats: dict[str, HeatWord] = {}
        self.tables: Mapping[str, dict[str, Entry]] = (tables := Tables())
        for row in rows("units"):
            factor = exact(row["factor"])
            unit = Unit(
                name=row["name"],
                kind=row["kind"],
                factor=factor,
                factor_high=exact(row["factor_high"]) if row["factor_high"] else factor,
                offset=exact(row["offset"] or "0"),
                ask=row["ask"],
                source=row["source"],
            )
            for name in (unit.name, *parts(row["aliases"])):
                self.units[name] = unit
        for row in rows("verbs"):
            self.verbs[row["verb"]] = _verb(row)
        for row in rows("words"):
            names = (row["name"], *parts(row["aliases"]))
            if row["low"] and row["kind"] != "sign":
                heat = HeatWord(
                    name=row["name"],
                    kind=row["kind"],
                    low=exact(row["low"]),
                    high=exact(row["high"]),
                    source=row["source"],
                )
                for name in names:
                    self.heats[name] = heat
            else:
                tables.enter(row["kind"], row, names)

    @cached_property
    def _dangers(self) -> dict[str, Entry]:
        """The plants that harm by their names and by the dyestuffs that they are."""
        harmful = self.tables["plants_that_harm"]
        found = {one.facts["dyestuff"]: one for one in reversed(harmful.values())}
        return found | harmful

    @cached_property
    def _latin(self) -> dict[str, Entry]:
        """The dyestuffs by Latin name; a deadly one by its genus alone, if that is its own."""
        found: dict[str, Entry] = {}
        of_genus: dict[str, set[str]] = {}
        # Each once, though it stands under all its names.
        for entry in {id(entry): entry for entry in self.tables["dyestuffs"].values()}.values():
            for latin in entry.facts["botanical"].lower().split(" and "):
                found.setdefault(latin, entry)
                of_genus.setdefault(latin.split(" ")[0], set()).add(entry.name)
        for entry in list(found.values()):
            danger = self._dangers.get(entry.name)
            if danger is None or danger.facts["level"] != "deadly":
                continue
            genus = entry.facts["botanical"].lower().split(" ")[0]
            if of_genus[genus] == {entry.name}:
                found.setdefault(genus, entry)
        found.pop("", None)
        return found

    def danger(self, entry: Entry) -> Entry | None:
        """The row of plants_that_harm that is about this material, or None.

        It says how dangerous the plant is (``level``: deadly, poisonous, harmful),
        whether to refuse it, what to use instead and the first aid.
        """
        if entry.table == "plants_that_harm":
            return entry
        return self._dangers.get(entry.name) if entry.table == "dyestuffs" else None

    def find(self, name: str, *tables: str) -> Entry | None:
        """The entry of that name or alias in the first of the tables that has it."""
        for table in tables:
            entry = self.tables.get(table, {}).get(name)
            if entry is not None:
                return entry
        return None

    def material(self, name: str) -> Entry | None:
        """The dyestuff, mordant or assistant of that name, its part word allowed.

        A plant may be called by its Latin name. How it is written counts for little: capitals,
        hyphens for blanks, either apostrophe, and the plural are one name (dyers’ broom, yews).
        """
        found = self._material(name)
        if found is None:
            plain = name.lower().replace("’", "'").replace("s' ", "'s ").replace("-", " ")
            found = self._material(plain) if plain != name else None
            if found is None and plain.endswith("s"):
                found = self._material(plain[:-1])
            if found is None and plain.endswith("ies"):  # blackberries
                found = self._material(f"{plain[:-3]}y")
            if found is None and "tree" in plain:  # yewtree bark
                found = self._material(pattern(r"^(\w{3,})tree\b").sub(r"\1", plain))
        return found

    def _material(self, name: str) -> Entry | None:
        found = self.find(name, *MATERIAL_TABLES) or self._latin.get(name)
        words = name.split(" ")
        # Both a name and a part may have several words: "dyer's rocket", "seed heads".
        for at in range(len(words) - 1, 0, -1):
            if found is not None:
                break
            said = " ".join(words[:at])
            stem = self.find(said, "dyestuffs") or self._latin.get(said)
            if stem is not None and " ".join(words[at:]) in stem.words("part"):
                found = stem
        return found

    @cached_property
    def parts_of_plants(self) -> frozenset[str]:
        """Every word for a part of a plant that is dyed with: leaves, bark, tops."""
        cells = {plant.facts.get("part", "") for plant in self.tables["dyestuffs"].values()}
        return frozenset().union(*[parts(cell) for cell in cells])

    def names(self, *tables: str) -> list[str]:
        """All names and aliases of those tables."""
        return [name for table in tables for name in self.tables.get(table, {})]


def _enter_harmful_plants(dyestuffs: dict[str, Entry], harmful: dict[str, Entry]) -> None:
    """Make each plant that harms a material that can be declared, as any dye plant.

    A plant with a row of its own in the dyestuffs keeps that row; the others get
    one with their names, parts and hazards, and nothing said of colour or amount.
    """
    columns = next(iter(dyestuffs.values())).facts
    for plant in {plant.name: plant for plant in harmful.values()}.values():
        if plant.facts["dyestuff"]:
            continue
        facts = dict.fromkeys(columns, "") | {
            "name": plant.name,
            "aliases": plant.facts["aliases"],
            "botanical": plant.facts["botanical"],
            "part": plant.facts["parts"],
            "dye_class": "mordant",
            "mordant": "helps",
            "iron_sensitive": "no",
            "hazards": plant.facts["hazards"],
            "cautions": plant.facts["care"],
            "source": plant.facts["source"],
        }
        entry = Entry(plant.name, "dyestuffs", facts)
        for name in (plant.name, *plant.words("aliases")):
            dyestuffs.setdefault(name, entry)


def _verb(row: dict[str, str]) -> Verb:
    """A row of ``verbs.csv``. Raises ``Unfit`` for an effect or a trait that there is not."""
    name, effect = row["verb"], effects().get(row["effect"])
    if effect is None:
        raise Unfit(f"verbs.csv, {name}: there is no effect “{row['effect']}” in effects.csv.")
    may = [word.replace("|", " ") for word in (row["may"], row["needs"])]
    says = row["says"] or f"{name} {{it}}"
    return Verb(
        name=name,
        past=row["past"],
        group=row["group"],
        effect=row["effect"],
        does=with_traits(effect, parts(row["traits"]), f"verbs.csv, {name}"),
        objects=parts(row["objects"]),
        needs=tuple(row["needs"].split()),
        may=frozenset(" ".join(may).split()),
        asks=parts(row["asks"]),
        symbol=row["symbol"],
        says=says,
        then=row["then"] or says,
        wants=parts(row["wants"]),
        lacks=row["lacks"],
        meaning=row["meaning"],
    )


@cache
def food_phrases() -> tuple[str, ...]:
    """The words for vessels and places of food, as ``food_words.csv`` has them."""
    return tuple(
        " ".join((before, words)).strip()
        for row in rows("food_words")
        for before in parts(row["before"]) or ("",)
        for words in parts(row["words"])
    )


@cache
def vocabulary() -> Vocabulary:
    """The vocabulary, read at first use."""
    return Vocabulary()


# After so many unknown words in one file nobody reads the guesses any more, and they take long.
MOST_GUESSED = 200

# How alike two words are at the least, of one, to be taken for each other (difflib's ratio).
LEAST_LIKE = 0.72


def near(word: str, known: list[str]) -> str | None:
    """The known word nearest to a misspelt one, or None where none is near."""
    import difflib

    if len(word) > 60:
        return None
    begun = [name for name in known if name.startswith(f"{word} ")]
    if len(begun) == 1:  # half of a name of two words: wet, for wet out
        return begun[0]
    likely = [name for name in known if _may_be_near(word, name) and _alike_before(word, name)]
    found = difflib.get_close_matches(word, likely, n=1, cutoff=LEAST_LIKE) if likely else None
    return found[0] if found else _in_another_order(word, known)


def _in_another_order(word: str, known: list[str]) -> str | None:
    """The one known word of the same letters that begins alike: vinegar for vinager."""
    if len(word) < LONG_ENOUGH:
        return None
    letters = sorted(word)
    same = [name for name in known if name[:2] == word[:2] and sorted(name) == letters]
    return same[0] if len(same) == 1 else None


def may_be_near(word: str, known: Iterable[str]) -> list[str]:
    """The known words that ``near`` may find for a misspelt one, where many are to be looked at."""
    begun = f"{word} "
    return [name for name in known if name.startswith(begun) or _may_be_near(word, name)]


def _alike_before(word: str, name: str) -> bool:
    """False where two names have only their last word in common: bay leaves, sumac leaves; and
    so have walnut-bath and alum-bath."""
    said, _, last = word.replace("-", " ").rpartition(" ")
    other, _, end = name.replace("-", " ").rpartition(" ")
    if not said or not other or last != end or said == other:
        return True
    if one_slip(said, other):
        return True
    import difflib

    return difflib.SequenceMatcher(None, said, other).ratio() >= LEAST_LIKE


def _may_be_near(word: str, name: str) -> bool:
    """False where so few letters are shared that ``difflib`` cannot find them near."""
    least = LEAST_LIKE * (len(word) + len(name)) / 2
    if len(word) < least or len(name) < least:
        return False
    ours, theirs = _letters(word), _letters(name)
    return (
        sum(map(theirs.__contains__, word)) >= least and sum(map(ours.__contains__, name)) >= least
    )


@remembered(16384)
def _letters(word: str) -> frozenset[str]:
    return frozenset(word)
