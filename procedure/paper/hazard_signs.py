"""The GHS hazard symbols as pictures, from the ghs-hazard-pictogram package (MIT)."""

from __future__ import annotations

import csv
from functools import cache
from pathlib import Path

from procedure.paper.blocks import Picture
from procedure.vocabulary import Entry

SVG = "http://www.w3.org/2000/svg"

_SKIN_OR_EYES = frozenset(("H315", "H319"))
_SKIN_ALLERGY = frozenset(("H315", "H317", "H319"))


@cache
def called() -> dict[str, str]:
    """What each symbol is called, by its code (GHS01 to GHS09)."""
    with (Path(__file__).parent / "pictograms.csv").open(encoding="utf-8", newline="") as lines:
        return {row["code"]: row["called"] for row in csv.DictReader(lines)}


@cache
def picture(code: str) -> str:
    """A symbol as SVG text; empty where the package is not there."""
    from importlib.util import find_spec
    from xml.etree import ElementTree

    found = find_spec("ghs_hazard_pictogram")
    if found is None or not found.submodule_search_locations:
        return ""
    file = Path(found.submodule_search_locations[0]) / "pictograms" / f"{code.lower()}.svg"
    if not file.is_file():
        return ""
    ElementTree.register_namespace("", SVG)
    return ElementTree.tostring(ElementTree.parse(file).getroot(), encoding="unicode")


def sign(code: str) -> Picture | None:
    """A symbol as a picture for a paper; None where the package is not there."""
    drawn = picture(code)
    return Picture(drawn, called()[code]) if drawn else None


def pictograms(ghs: list[Entry]) -> tuple[str, ...]:
    """The GHS symbols that go on a label.

    A skull or worse takes the place of the exclamation mark, and so on: Regulation (EC)
    No 1272/2008, Article 26.
    """
    codes = {entry.name: entry.facts.get("pictogram", "") for entry in ghs}
    shown = {picture for picture in codes.values() if picture}
    mild = {code for code, picture in codes.items() if picture == "GHS07"}
    if "GHS05" in shown:
        mild -= _SKIN_OR_EYES
    if codes.get("H334") == "GHS08":
        mild -= _SKIN_ALLERGY
    if "GHS06" in shown or not mild:
        shown.discard("GHS07")
    return tuple(sorted(shown))
