"""Sheets in the form of a table: kind, value, thing, act, and the words as they stand in the prose.

``NAME.expected.tsv`` beside ``NAME.txt`` has a line for each quantity, with blanks between its five
columns; things and acts are in plain words. They become what :mod:`prose_measure` reads.
"""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

from procedure.draft.lexicon import meanings
from procedure.vocabulary import vocabulary

# What an act of the table is called in the other sheets, the surest first.
ACTS = (
    (r"^weigh|^count", "fibre"),
    (r"basis", "base of the ratio"),
    (r"\(heating\)", "rise"),
    (r"rins|sour", "rinse"),
    (r"wash", "wash"),
    (r"^scour", "scour"),
    (r"soak|wet", "soak"),
    (r"\bair", "airing"),
    (r"^(?:rest|lay|age|dry)", "dry"),
    (r"make (?:the )?dye|extract|ferment", "drawing"),
    (r"cool", "cooling"),
    (r"enter", "entering"),
)
FIBRE = re.compile(
    r"wool|yarn|cotton|silk|linen|skein|lot|cloth|scarf|fleece|merino|fibre|goods|warp|bags?$|hank|bandana|napkin|alpaca|mohair|flannel"
)
VESSEL = re.compile(
    r"^(?:the |a )?(?:\w+ )?(?:pot|pan|kettle|copper|drum|bucket|pail|tub|jar|saucepan|vessel)$"
)
SIZED = re.compile(r"(?:pot|pan|kettle|bucket|tub|jar|vessel|bowl)s?$")
OTHER = re.compile(r"water|bath|grease|skins|flower|seed")
LOOSE = re.compile(r"enough|little|few|some|pinch|handful|piece|jar|jug|bucket|mug|bag|knob", re.I)


def sheet_of_table(path: Path) -> dict[str, Any]:
    """The amounts of a table, and what is none."""
    sheet: dict[str, Any] = {"amount": [], "not_amounts": []}
    for line in path.read_text(encoding="utf-8").splitlines():
        kind, value, thing, act, words = line.split("\t")
        if kind == "none":
            sheet["not_amounts"].append(words)
        else:
            sheet["amount"].append(_entry(kind, value, thing, act, words))
    return sheet


def _entry(kind: str, value: str, thing: str, act: str, words: str) -> dict[str, Any]:
    made: dict[str, Any] = {"words": words, "thing": thing, "step": act} | _value(kind, value)
    if act == "basis":
        return made | {"step": "base of the ratio"}
    if (
        (made["kind"] in ("weight", "count") or value.endswith(" each"))
        and made["unit"] != "times"
        and FIBRE.search(thing)
        and not OTHER.search(thing)
    ):
        return made | {"step": "fibre"}
    if kind == "amount" and VESSEL.search(thing):
        return made | {"step": "equipment"}
    for pattern, step in ACTS:
        if re.search(pattern, act, re.I):
            made["step"] = step
            break
    if made["step"] == "fibre" and not FIBRE.search(thing):
        # How much a pot holds; else fibre, or stuff of a list, which may go in anywhere.
        made["step"] = "equipment" if SIZED.search(thing) else "weighed"
    if kind in ("amount", "percent", "ratio") and re.match("drawing|dye", made["step"]):
        made["step"] = "dye bath"
    return made


def _value(kind: str, value: str) -> dict[str, Any]:
    said = re.sub(r"\s*\([^)]*\)", "", value).split(" = ")[0]
    said, bound = re.sub(r"^about |^from ", "", said), ""
    said = re.sub(r"(?<=\d) more (?=\w)", " ", said)  # "another hour" is as long as an hour
    acidity = re.match(r"pH\s*", said)
    said = said[acidity.end() :] if acidity else said
    found = re.match(r"(at least|at most|below|above)\s+", said)
    if found:
        bound, said = found[1], said[found.end() :]
    product = re.match(r"([\d.]+) x ([\d.]+) (\w+)$", said)
    if product and kind == "time":
        many = float(product[1]) * float(product[2])
        return {"kind": kind, "low": many, "high": many, "unit": product[3]}
    two = re.match(r"([\d.]+) (\w+) to ([\d.]+) (\w+)$", said)
    if two and kind == "time":
        units = vocabulary().units
        factor = float(units[two[2]].factor / units[two[4]].factor)
        return {"kind": kind, "low": float(two[1]) * factor, "high": float(two[3]), "unit": two[4]}
    figures = re.match(r"([\d./]+)(?:\s*(?:to|-)\s*([\d./]+))?(?:\s*(.*))?$", said)
    if figures is None:
        return {"kind": {"amount": "loose"}.get(kind, kind), "unit": "named"}
    low, high, unit = _number(figures[1]), _number(figures[2] or figures[1]), figures[3] or ""
    if acidity:
        return {"kind": "pH", "low": low, "high": high, "unit": "pH"}
    per = re.match(r"(\w+) per (?:([\d.]+) )?(\w+)", unit)
    if per and kind == "amount":
        share = _share(per[1], float(per[2] or 1), per[3])
        if share:
            return {"kind": "share", "low": low * share, "high": high * share, "unit": "% wof"}
        ratio = _ratio(per[1], float(per[2] or 1), per[3])
        if ratio:
            return {"kind": "ratio", "low": low * ratio, "high": high * ratio, "unit": ": 1"}
        return {"kind": "loose", "unit": "named"}
    ends = {"at least": {"low": low}, "above": {"low": low}, "at most": {"high": high}}.get(
        bound, {"high": high} if bound == "below" else {"low": low, "high": high}
    )
    return ends | _kind(kind, unit)


def _share(top: str, many: float, below: str) -> float:
    """What one of the upper unit for so many of the lower one is in per cent; 0 for no weights."""
    units, named = vocabulary().units, meanings("unit")
    one, two = (units.get(named.get(word.lower(), word)) for word in (top, below))
    if one is None or two is None or one.kind != "mass" or two.kind != "mass":
        return 0
    return float(one.factor / two.factor) / many * 100


def _ratio(top: str, many: float, below: str) -> float:
    """Litres to a kilogram for one of a volume to so many of a weight; 0 for other units."""
    units, named = vocabulary().units, meanings("unit")
    one, two = (units.get(named.get(word.lower(), word)) for word in (top, below))
    if one is None or two is None or (one.kind, two.kind) != ("volume", "mass"):
        return 0
    return float(one.factor / units["L"].factor / (two.factor / units["kg"].factor)) / many


def _number(text: str) -> float:
    top, _, below = text.partition("/")
    return float(top) / float(below or 1)


def _kind(kind: str, unit: str) -> dict[str, str]:
    if kind == "percent":
        return {"kind": "share", "unit": "% wof"}
    if kind == "time":
        return {"kind": "time", "unit": unit.split(" ")[0] or "h"}
    if kind == "heat":
        return {"kind": "rate" if "per" in unit else "heat", "unit": unit[:2] or "°C"}
    if kind in ("count", "ratio"):
        return {"kind": kind, "unit": "times" if "time" in unit else "pieces"}
    if unit in ("g/L", "mL/L"):
        return {"kind": "strength", "unit": unit}
    known = vocabulary().units.get(unit)
    if LOOSE.search(unit) or known is None or known.vague or known.kind == "spoon":
        return {"kind": "loose", "unit": "named"}
    kinds = {"mass": "weight", "volume": "volume", "length": "length"}
    return {"kind": kinds.get(known.kind, "loose"), "unit": known.name}
