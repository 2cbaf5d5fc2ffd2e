"""A case in three lines: an example, and the rules that it trips.

An example is a few steps, or a procedure with whatever sections it needs; what it
lacks comes from the kit of the rules (``procedure.rules.example_kit``).
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path
from tempfile import TemporaryDirectory

import procedure
from procedure import Finding, Plan
from procedure.rules.example_kit import followed, whole


def plan_of(example: str) -> Plan:
    """The example as a whole procedure, read and judged, with what it follows beside it."""
    others = followed(example)
    if not others:
        return procedure.read(whole(example), "example.dye")
    with TemporaryDirectory() as folder:
        for name, text in others.items():
            (Path(folder) / name).write_text(text, encoding="utf-8")
        return procedure.read(whole(example), "example.dye", Path(folder) / "example.dye")


def findings(example: str, *levels: str) -> list[Finding]:
    """The findings on an example, of those levels or of all."""
    return [f for f in plan_of(example).findings if not levels or f.level in levels]


def rules_of(example: str) -> set[str]:
    """The names of the rules that an example trips."""
    return {finding.rule for finding in findings(example)}


def expect(example: str, *rules: str) -> list[Finding]:
    """Assert that an example trips just these rules of error or warning level.

    Notes may come besides; a note is looked for where its rule is named here. Gives
    the findings of the named rules.
    """
    found = findings(example)
    heavy = {finding.rule for finding in found if finding.level != "note"}
    named = {finding.rule for finding in found if finding.rule in rules}
    assert heavy | named == set(rules), [(f.line, f.rule, f.sentence) for f in found]
    return [finding for finding in found if finding.rule in rules]


def place(example: str, piece: str, nth: int = 1) -> tuple[int, int, int]:
    """Where a piece of text stands in the whole procedure of an example."""
    return place_in(whole(example), piece, nth)


def place_in(text: str, piece: str, nth: int = 1) -> tuple[int, int, int]:
    """Line, column and the column after, of the nth time that a piece stands in a text."""
    at = -1
    for _ in range(nth):
        at = text.index(piece, at + 1)
    line = text.count("\n", 0, at) + 1
    column = at - (text.rfind("\n", 0, at) + 1) + 1
    return line, column, column + len(piece)


def between(low: int | str, high: int | str | None = None) -> tuple[Fraction, Fraction]:
    """An exact interval; both ends are the same where one is given."""
    return Fraction(low), Fraction(low if high is None else high)
