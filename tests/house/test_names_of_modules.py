"""Which names of modules may recur: those of one thing that several rooms deal with.

A file is found by its name, so a name stands once in a room, and in two rooms only where
both files are about the same thing: of it one room holds the facts, another the rules, a third the
papers. Each such name is listed here with what it is in every room. What two rooms would
mean something else by gets two names.
"""

from __future__ import annotations

from collections import defaultdict

from test_order_of_rooms import HOUSE

# Things of the trade and of a procedure: the same thing, as each room deals with it.
THINGS = frozenset("first_aid liquor types workshop_file".split())
# What a room does with what it is given; the room says with what.
DOING = frozenset("build walk".split())
# One form of what a room has, as several rooms have it.
FORMS = frozenset(("as_json", "as_paper"))
# The command that is named after what it gives, which a room makes, and the record of Python.
COMMANDS = frozenset(("book", "record"))


def test_a_name_recurs_only_for_the_same_thing_and_never_in_one_room() -> None:
    rooms: dict[str, list[str]] = defaultdict(list)
    for file in sorted(HOUSE.rglob("*.py")):
        parts = file.relative_to(HOUSE).parts
        if len(parts) > 1 and file.stem not in ("__init__", "__main__"):
            rooms[file.stem].append(parts[0])
    twice = {name: found for name, found in rooms.items() if len(found) != len(set(found))}
    assert twice == {}, "twice in a room"
    recur = {name for name, found in rooms.items() if len(found) > 1}
    settled = THINGS | DOING | FORMS | COMMANDS
    assert recur - settled == set(), "a name of another room: choose one that says what it holds"
    assert settled - recur == set(), "a name that recurs no more: take it off the list"
