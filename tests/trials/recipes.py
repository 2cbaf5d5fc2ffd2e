"""Recipes of the handbook: do they read, with true remarks only, and are the sums those by hand?

``python -m tests.trials.recipes`` prints the numbers of the open and of the kept-aside half;
``-v`` names what is missed among the open ones. What is kept aside is only counted.
"""

from __future__ import annotations

import re
import sys
import tomllib
from collections.abc import Callable
from fractions import Fraction
from functools import cache, partial
from pathlib import Path
from typing import Any

from procedure.findings import Finding
from procedure.pipeline import Judged, read
from procedure.quantity.interval import Interval
from procedure.rework.amounts_asked_for import amount
from procedure.rework.backwards import most
from procedure.rework.scaling import lot_weight, scale
from procedure.weigh.weighing import Weighing, weigh

HERE = Path(__file__).parent / "handbook"
CLOSE = 0.005


def recipes(half: str) -> list[Path]:
    """The recipes of a half, ``open`` or ``held_out``."""
    return sorted((HERE / half).glob("*.toml"))


@cache
def told(path: Path) -> dict[str, Any]:
    """The answers to a recipe."""
    return tomllib.loads(path.read_text(encoding="utf-8"))


@cache
def judged(path: Path) -> Judged:
    """A recipe, read."""
    return read(path.with_suffix(".dye").read_text(encoding="utf-8"), f"{path.stem}.dye")


def unread(path: Path) -> list[Finding]:
    """What says that a line or a word was not understood."""
    words = ("cannot-read", "unknown-word", "not-declared", "wrong-kind-of-thing", "unknown-unit")
    return [one for one in judged(path).findings if one.rule in words]


def false_alarms(path: Path) -> list[Finding]:
    """Warnings and errors that no remark of the answers allows."""
    remarks = [remark.partition(": ") for remark in told(path).get("remarks", [])]
    found = [one for one in judged(path).findings if one.level in ("error", "warning")]
    return [one for one in found if not any(_allows(lv, text, one) for lv, _, text in remarks)]


def _allows(level: str, text: str, finding: Finding) -> bool:
    said = f"{finding.sentence} {finding.remedy}".lower()
    words = [word for word in re.findall(r"[a-z]{4,}", text.lower()) if word not in _USUAL]
    return finding.level in level and any(word in said for word in words)


_USUAL = frozenset("book does much many with that says said what which little named other".split())


def _wanted(row: dict[str, Any], end: str, doubled: bool) -> float | None:
    value = row.get(f"double_{end}" if doubled else end)
    return None if value is None else float(value)


def wrong_sums(path: Path, doubled: bool = False) -> list[str]:
    """The materials whose sum is not that by hand."""
    plan = judged(path)
    if doubled:
        weights = {n: lot_weight(lot) for n, lot in plan.model.lots.items()}
        plan = scale(plan, {n: w * 2 for n, w in weights.items() if w is not None}).plan
    weighing = weigh(plan)
    return [
        row["name"] for row in told(path).get("material", []) if not _right(weighing, row, doubled)
    ]


def _right(weighing: Weighing, row: dict[str, Any], doubled: bool) -> bool:
    """True where the total of a material is that by hand; one by volume is compared in mL."""
    kind, factor = ("volume", 1000) if row["unit"] in ("mL", "L") else ("mass", 1)
    factor = 1 if row["unit"] == "L" else factor
    total = _total(weighing, row, kind)
    low, high = _wanted(row, "low", doubled), _wanted(row, "high", doubled)
    if total is None:
        return low is None
    if row.get("about"):
        middle = float(total.low + total.high) / 2 * factor
        return low is None or abs(middle - (low + (high or low)) / 2) <= 0.02 * middle
    close = low is None or abs(float(total.low) * factor - low) <= max(CLOSE * low, 0.02)
    if high is None or total.high > 10**9:
        return close
    return close and abs(float(total.high) * factor - high) <= max(CLOSE * high, 0.02)


def _total(weighing: Weighing, row: dict[str, Any], kind: str) -> Interval | None:
    if "way" not in row:
        return weighing.total(row["name"], kind)
    way = row["way"]
    rows = [
        one
        for one in weighing.rows
        if one.thing == row["name"] and one.kind == kind and one.counts and one.low is not None
        if way in one.condition or not one.condition
    ]
    low = sum((one.low for one in rows if one.low is not None), Fraction(0))
    return Interval(low, sum((one.high for one in rows if one.high is not None), Fraction(0)))


def wrong_backwards(path: Path) -> str:
    """Why the fibre that a material is enough for is not that by hand; empty where it is."""
    asked = told(path).get("backwards")
    if not asked:
        return ""
    plan = judged(path)
    had = amount(f"{asked['have']} {asked['unit']}", asked["material"])
    found = most(plan, {asked["material"]: had}, {})
    sure = float(sum(found.sure.values()))
    luck = float(sum(found.with_luck.values()))
    low, high = asked.get("fibre_low"), asked.get("fibre_high")
    for wanted, value in ((low, sure), (high, luck)):
        if wanted is not None and abs(value - float(wanted)) > max(CLOSE * float(wanted), 0.05):
            return f"{sure:g} to {luck:g} g, not {low} to {high}"
    return ""


def unless_refused(check: Any, path: Path) -> Any:
    """The answer of a check; a recipe with a restricted salt is rightly not worked out anew."""
    restricted = any("restricted" in remark for remark in told(path).get("remarks", []))
    try:
        return check(path)
    except ValueError as refusal:
        if restricted and "kept as history" in str(refusal):
            return []
        raise


def _tried(check: Any, path: Path) -> Any:
    try:
        return check(path)
    except Exception as trouble:  # a recipe that cannot be read cannot be weighed
        return f"{type(trouble).__name__}: {trouble}"


CHECKS: dict[str, Callable[[Path], object]] = {
    "read": unread,
    "true remarks only": false_alarms,
    "weighed as printed": wrong_sums,
    "weighed doubled": lambda path: unless_refused(partial(wrong_sums, doubled=True), path),
    "backwards": partial(unless_refused, wrong_backwards),
}


def counts(half: str) -> dict[str, int]:
    """How many recipes of a half pass each check."""
    return {
        name: sum(not _tried(check, path) for path in recipes(half))
        for name, check in CHECKS.items()
    }


def main(arguments: list[str]) -> None:
    """Print the numbers, and with ``-v`` what the open half misses."""
    for half in ("open", "held_out"):
        said = ", ".join(f"{name} {met}" for name, met in counts(half).items())
        print(f"{half}: {len(recipes(half))} recipes: {said}")
    if "-v" in arguments:
        for path in recipes("open"):
            for name, check in CHECKS.items():
                missed = _tried(check, path)
                if missed:
                    text = missed if isinstance(missed, str) else missed[:3]
                    print(f"{path.stem}, {name}: {str(text)[:230]}")


if __name__ == "__main__":
    main(sys.argv[1:])
