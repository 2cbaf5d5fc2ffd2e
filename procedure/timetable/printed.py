"""What a step is known by on the other papers of its procedure: its number and its amounts."""

from __future__ import annotations

import re

from procedure.facts.handling import right_name
from procedure.flow.graph import WATER
from procedure.paper.measures import in_system
from procedure.pipeline import Judged
from procedure.timetable.written_out import Turn

NO_BREAK = "\N{NO-BREAK SPACE}"
_LETTERS = 26


def letter(number: int) -> str:
    """The letter before the numbers of one procedure of several, from 0: A, B, … Z, AA."""
    before, last = divmod(number, _LETTERS)
    return (letter(before - 1) if before else "") + chr(ord("A") + last)


def in_order(number: str) -> tuple[str, tuple[int, ...]]:
    """A key that puts printed numbers in the order of their texts: 7, 7.2, 12, A3, B1."""
    letters = re.match(r"[A-Z]*", number)
    ahead = letters.group() if letters is not None else ""
    return ahead, tuple(int(each) for each in re.findall(r"\d+", number))


def run_of_numbers(first: str, last: str) -> str:
    """The numbers of steps that are told at once: 7, or 7–9."""
    return first if first == last else f"{first}–{last}"


def amounts_of(plan: Judged, turn: Turn) -> tuple[str, ...]:
    """What a step takes: “water 4 L”; what goes by the fibre is worked out, “alum 12 g (12 %)”."""
    found = []
    for thing, item, amount in turn.moment.amounts:
        called = right_name(plan.study, thing) or plan.study.called(thing)
        called = "water" if thing == WATER else called
        if item.quantity is None:
            continue
        written = item.quantity.text
        if amount is not None and item.quantity.kind not in (amount.kind, "unstated", "loose"):
            worked = in_system("metric", amount.kind, amount.low, amount.high)
            written = f"{worked} ({written})".replace(NO_BREAK, " ")
        found.append(f"{called} {written}")
    return tuple(found)
