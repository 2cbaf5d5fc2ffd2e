"""Every row of meetings.csv and disposal.csv is tripped by a text that does what it warns of.

The rows have their sources; here the two things are put into one bath, into a pot that has
not been cleaned, and carried into the bath on unrinsed fibre.
"""

from __future__ import annotations

from functools import cache

import pytest

import procedure
from procedure.findings import LEVELS
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.library import rows
from procedure.vocabulary.waste import kinds, together, ways

Row = dict[str, str]

HEAD = """procedure "Two things"
  by "Fellside Dye Circle"
  revised 2026-06-14
  place outdoors
  wearing gloves, eye protection, mask

fibre
  lot: {fibre}, 100 g, scoured, mordanted

equipment
  pot: {pot} pot, 20 L, lidded, for dyeing only
  kettle: stainless steel pot, 20 L, lidded, for dyeing only

materials
  one: {one}
  two: {two}

steps
"""
BATH = """  bath: prepare in kettle with water 5 L, one 100 g
  add two 100 g to bath
"""
POT = """  bath: prepare in kettle with water 5 L, one 100 g
  discard bath to "the waste point"
  other: prepare in kettle with water 5 L, two 100 g
"""
FIBRE = """  wet out lot in pot with water 5 L for 2 h
  bath: prepare in pot with water 5 L, one 100 g
  steep lot in bath at 20 °C for 10 min
  other: prepare in kettle with water 5 L, two 100 g
  steep lot in other at 20 °C for 10 min
"""
ALONE = "  bath: prepare in pot with water 5 L, one 100 g\n"
IN_BATH = ALONE + "  steep lot in bath at 20 °C for 10 min\n"
DRY = "  bath: prepare in pot with one 100 g, water 1 L\n"
HOT = "  bath: prepare in pot with water 5 L, one 100 g at 80 °C\n"
HEATED = ALONE + "  heat bath to 70 °C\n"


@cache
def _levels(text: str) -> tuple[tuple[str, str], ...]:
    return tuple((one.rule, one.level) for one in procedure.read(text, "example.dye").findings)


def told(text: str, least: str, *rules: str) -> bool:
    """Whether a rule speaks of the text at that level or above."""
    return any(
        rule in rules and LEVELS.index(level) <= LEVELS.index(least)
        for rule, level in _levels(text)
    )


def _first(column: str, value: str, *tables: str) -> str:
    known = vocabulary()
    for table in tables:
        for entry in known.tables[table].values():
            if value in (*entry.words(column), *entry.words("also")) and value != "":
                return entry.name
    raise AssertionError(value)


def material(row: Row, which: str) -> str:
    """A material that a side of a row is about."""
    kind, name = row[f"{which}_kind"], row[which]
    if kind == "material":
        return name
    if kind == "mordant metal":
        return _first("metal", name, "mordants")
    # Not the mildest: a role is about what the role does.
    chosen = {
        "acid": "oxalic acid",
        "alkali": "lye",
        "oxidiser": "hydrogen peroxide",
        "dyestuff": "weld",
    }
    return chosen.get(name) or _first("role", name, "assistants", "mordants")


def text(row: Row, steps: str, turned: bool = False) -> str:
    one, two = ("second", "first") if turned else ("first", "second")
    both = {}
    for name, which in (("one", one), ("two", two)):
        pair = row[f"{which}_kind"] in ("material", "role", "mordant metal")
        both[name] = material(row, which) if pair else "neutral soap"
    pot = row["second"] if row["second_kind"] == "pot" else "stainless steel"
    fibre = "wool yarn" if row["second"] == "protein" else "cotton cloth"
    return HEAD.format(fibre=fibre, pot=pot, **both) + steps


PAIRS = [
    row
    for row in rows("meetings")
    if {row["first_kind"], row["second_kind"]} <= {"material", "role", "mordant metal"}
]
OTHERS = [row for row in rows("meetings") if row not in PAIRS]


def silent(found: list[Row]) -> list[str]:
    return [f"{row['first']} and {row['second']}" for row in found]


def _of_strong_acid(row: Row) -> bool:
    """Whether a row counts where the acid is strong: BATH has it at 2 %, too thin for a label."""
    return row["what"].endswith("where the acid is strong") and row["kills"] != "yes"


def test_every_pair_is_found_in_one_bath() -> None:
    missed = [
        row
        for row in PAIRS
        if not told(
            text(row, BATH), "note" if _of_strong_acid(row) else row["level"], "must-not-meet"
        )
    ]
    assert silent(missed) == []


def test_strong_acid_is_told_of_in_earnest() -> None:
    strong = BATH.replace("one 100 g", "one 1 kg")
    rows_of_it = [row for row in PAIRS if _of_strong_acid(row)]
    assert len(rows_of_it) >= 9
    missed = [r for r in rows_of_it if not told(text(r, strong), r["level"], "must-not-meet")]
    assert silent(missed) == []


def test_every_pair_that_hurts_is_found_in_a_pot_not_cleaned() -> None:
    grave = [row for row in PAIRS if row["level"] == "error"]
    missed = [row for row in grave if not told(text(row, POT), "error", "must-not-meet")]
    assert silent(missed) == []


def _neutralise(row: Row) -> bool:
    parts = [set(_entry(material(row, which)).words("role")) for which in ("first", "second")]
    parts = [
        part | set(_entry(material(row, which)).words("also"))
        for part, which in zip(parts, ("first", "second"), strict=True)
    ]
    return any("acid" in a and "alkali" in b for a, b in (parts, parts[::-1]))


def _entry(name: str) -> Entry:
    entry = vocabulary().material(name)
    assert entry is not None
    return entry


def test_every_pair_that_hurts_is_found_on_unrinsed_fibre() -> None:
    """But for acid on fibre from an alkaline bath, which only takes the alkali out."""
    grave = [row for row in PAIRS if row["level"] == "error" and not _neutralise(row)]
    missed = [
        row
        for row in grave
        if not (
            told(text(row, FIBRE), "error", "must-not-meet")
            or told(text(row, FIBRE, turned=True), "error", "must-not-meet")
        )
    ]
    assert silent(missed) == []


def test_every_other_meeting_is_found() -> None:
    steps = {"pot": ALONE, "fibre class": IN_BATH, "heater": HEATED}
    rules = ("must-not-meet", "spirit-on-the-heat", "wrong-order-of-pouring")
    missed = []
    for row in OTHERS:
        done = steps.get(row["second_kind"], HOT if row["second"] == "hot water" else DRY)
        if not told(text(row, done), row["level"], *rules):
            missed.append(row)
    assert silent(missed) == []


WAY_WORDS = {
    "open water": "the river",
    "ground": "the garden",
    "compost": "the compost heap",
    "septic tank": "septic tank",
    "drain": "foul drain",
    "soakaway": "soakaway",
    "fodder": "the hay for the horses",
}


@cache
def _of_kind(what: str) -> str:
    known = vocabulary()
    for table in ("mordants", "assistants", "dyestuffs"):
        for entry in known.tables[table].values():
            own = kinds(entry)
            if what in own and known.material(entry.name) is entry and "'" not in entry.name:
                return entry.name
    raise AssertionError(what)


def _of_together(what: str) -> str:
    entries = vocabulary().tables["assistants"].values()
    return next(entry.name for entry in entries if what in together(entry))


@pytest.mark.parametrize("row", rows("disposal"), ids=lambda row: f"{row['what']}, {row['way']}")
def test_every_row_of_disposal_is_tripped(row: Row) -> None:
    assert row["way"] in ways()
    to = WAY_WORDS[row["way"]]
    first, _, second = row["what"].partition(" with ")
    if second:
        one, two = _of_together(first), _of_together(second)
        steps = (
            "  bath: prepare in pot with water 5 L, one 100 g\n"
            "  other: prepare in kettle with water 5 L, two 100 g\n"
            f'  discard bath to "{to}"\n  discard other to "{to}"\n'
        )
        made = HEAD.format(fibre="cotton cloth", pot="stainless steel", one=one, two=two) + steps
        assert told(made, row["level"], "meet-in-the-waste")
        return
    amount = "500 g" if row["what"] != "little spirit" else "50 g"
    steps = f'  bath: prepare in pot with water 5 L, one {amount}\n  discard bath to "{to}"\n'
    one = _of_kind(row["what"])
    made = HEAD.format(fibre="cotton cloth", pot="stainless steel", one=one, two="salt") + steps
    assert told(made, row["level"], "wrong-way-out")
