"""Very long lists: a reader is told the first and how many more, a program gets them all."""

from __future__ import annotations

import json
from collections.abc import Iterable
from typing import Any

import pytest

import procedure
from procedure.findings import MOST_IN_A_FACT
from procedure.report.json_report import report as as_json
from procedure.report.text import report as as_text

MANY = 60


def _undyed_lots() -> str:
    lots = "".join(f"  lot{i}: wool yarn, 100 g, scoured\n" for i in range(MANY))
    names = ", ".join(f"lot{i}" for i in range(MANY))
    return (
        f'procedure "Many"\nfibre\n{lots}equipment\n  pot: stainless steel pot, 900 L, for dyeing '
        "only\nmaterials\n  onion: onion skins, dried\nsteps\n  bath: prepare in pot with water "
        f"600 L, onion 6 kg at 40 °C\n  dye {names} in bath at 40 °C for 1 h\n  dry {names}\n"
        '  discard bath to "foul drain"\n'
    )


def _one_lot_of_many_dyes() -> str:
    stuffs = "".join(f"  dye{i}: dyestuff, dried\n" for i in range(MANY))
    brought = ", ".join(f"dye{i} 1 g" for i in range(MANY))
    return (
        f'procedure "Many"\nfibre\n  yarn: wool yarn, 100 g, scoured\nequipment\n  pot: stainless '
        f"steel pot, 9 L, for dyeing only\nmaterials\n{stuffs}steps\n  bath: prepare in pot with "
        f"water 6 L, {brought} at 40 °C\n  dye yarn in bath at 40 °C for 1 h\n  dry yarn\n"
        '  discard bath to "foul drain"\n'
    )


def _never_used() -> str:
    stuffs = "".join(f"  stuff{i}: weld, dried\n" for i in range(MANY))
    return f'procedure "Many"\nmaterials\n{stuffs}'


@pytest.mark.parametrize(
    ("text", "name"),
    [(_undyed_lots(), "lot{}"), (_one_lot_of_many_dyes(), "dye{}")],
    ids=["lots gathered in one finding", "dyes that one lot carries"],
)
def test_the_first_are_told_and_all_are_in_json(text: str, name: str) -> None:
    findings = procedure.read(text, "many.dye").findings
    told = as_text(findings)
    assert "more" in told and name.format(MANY - 1) + " " not in told.partition("line")[0]
    longest = max((json.dumps(one["fact"]) for one in _facts(findings)), key=len)
    assert all(f'"{name.format(i)}"' in longest for i in range(MANY))
    assert max(len(one.sentence) for one in findings) < 600


def test_like_findings_at_many_lines_are_cut_in_text() -> None:
    findings = procedure.read(_never_used(), "many.dye").findings
    unused = [one for one in findings if one.rule == "never-used"]
    told = as_text(unused)
    assert len(_facts(unused)) == MANY
    assert f"and {MANY - 1 - 20} more." in " ".join(told.split())


def _facts(findings: Iterable[procedure.Finding]) -> list[dict[str, object]]:
    made: dict[str, list[dict[str, object]]] = json.loads(as_json(findings, ["many.dye"]))
    return made["findings"]


def test_a_list_of_very_many_is_cut_in_json_too_and_says_so() -> None:
    """Of each of many baths as many things would be more than any program reads."""
    many = MOST_IN_A_FACT + 7
    stuffs = "".join(f"  dye{i}: dyestuff, dried\n" for i in range(many))
    brought = ", ".join(f"dye{i} 1 g" for i in range(many))
    text = _one_lot_of_many_dyes()
    head, _, rest = text.partition("materials\n")
    steps = rest[rest.index("steps\n") :]
    old = ", ".join(f"dye{i} 1 g" for i in range(MANY))
    findings = procedure.read(f"{head}materials\n{stuffs}{steps.replace(old, brought)}").findings
    lists = [one for one in _lists(_facts(findings)) if "more" in one]
    assert lists
    assert all(len(one["values"]) == MOST_IN_A_FACT and one["more"] == 7 for one in lists)


def _lists(value: object) -> list[dict[str, Any]]:
    """Every list of a report, wherever it is."""
    if isinstance(value, dict):
        own = [value] if value.get("type") == "list" else []
        return own + [one for each in value.values() for one in _lists(each)]
    return [one for each in value for one in _lists(each)] if isinstance(value, list) else []
