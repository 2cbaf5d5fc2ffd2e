"""A bath that is kept hot is kept at a heat that is told, though its line names none."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from procedure.command.main import main

TEXT = """procedure "Weld"
  by "Fellside Dye Circle"
  place outdoors
  wearing gloves

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  pot: stainless steel pot, {pot}, lidded, for dyeing only
  tub: plastic tub, {tub}, for dyeing only
  hob: hotplate, 2 kW

materials
  weld: weld, dried

steps
  wet out yarn in tub with water {little} at {warm} for 1 h
  bath: prepare in pot with water {little}, weld {plants}
  simmer bath at {hot} for 1 h covered
  cool bath to {warm}
  strain bath
  put yarn in the bath
  {heats}
  cool bath to {warm}
  lift yarn from bath
  rinse yarn in tub with water {little} at {warm}
  dry yarn
  discard bath to "foul drain"
"""
METRIC = {
    "pot": "10 L",
    "tub": "20 L",
    "little": "5 L",
    "warm": "30 °C",
    "hot": "80 °C",
    "plants": "100 g",
}
US = {
    "pot": "3 US gal",
    "tub": "5 US gal",
    "little": "5 US qt",
    "warm": "86 °F",
    "hot": "175 °F",
    "plants": "4 oz",
}


@pytest.mark.parametrize(
    ("units", "heats", "kept"),
    [
        (METRIC, "bring the bath to 70 °C over 45 min and keep it there for 50 min", "at 70 °C"),
        (METRIC, "heat bath to 70 °C over 45 min\n  hold bath for 50 min", "at 70 °C"),
        (US, "heat bath to 160 °F over 45 min\n  hold bath for 50 min", "at 160 °F"),
        (METRIC, "hold bath for 50 min", ""),
    ],
)
def test_what_is_kept_hot_is_told_with_its_heat(
    units: dict[str, str], heats: str, kept: str, tmp_path: Path
) -> None:
    file, paper = tmp_path / "weld.dye", tmp_path / "weld.html"
    file.write_text(TEXT.format(heats=heats, **units), encoding="utf-8")
    assert main(["handout", str(file), "-o", str(paper)]) == 0
    page = re.sub(r"<[^>]+>", " ", paper.read_text(encoding="utf-8"))
    said = re.sub(r"\s+", " ", page.replace("\xa0", " ").replace("\u202f", " "))
    told = re.search(r"[Kk]eep [\w ]+? (?:(at [\d.]+ °[CF]) )?for 50 min", said)
    assert told is not None and (told[1] or "") == kept
