"""Text reports as a dyer sees them, kept in tests/snapshots and reviewed as English."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from procedure.command.main import main

PLANS = {
    "no-wetting-out": """procedure "Alum on wool"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 240 g, scoured
equipment
  kettle: stainless steel pot, 15 L, lidded, for cooking
  tub: plastic tub, 20 L, for dyeing only
materials
  alum: potassium alum
steps
  alum-bath: prepare in kettle with water 30 : 1 of yarn, alum 12 %
  mordant yarn in alum-bath from 40 °C to 80 °C (155 °F) over 45 min for 1 h
  rinse yarn in tub with water 2 gal
  discard alum-bath to "foul drain, never the garden"
""",
    "faulty-lines": """procedure "Onion skins on wool
  bye "Fellside Dye Circle"
fibre
  yarn wool yarn, 100 g
stpes
  wett out yarn in tub with water 5,5 L for 1 h
  gold-bath: prepare in kettel with water 3 L, onion 50 g
  repeat 3 tmes
    dip yarn in gold-bath
""",
    "an-if": """procedure "Iron, if at all"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  kettle: stainless steel pot, 15 L, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  iron: ferrous sulphate
  onion: onion skins, dried
steps
  wet out yarn in tub with water 5 L for 1 h
  gold-bath: prepare in kettle with water 3 L, onion 50 g
  dye yarn in gold-bath at 85 °C for 1 h
  if "a darker shade is wanted"
    add iron 3 g to gold-bath
    discard gold-bath to "foul drain"
  lift yarn
  dry yarn
""",
    "empty": "",
}


@pytest.mark.parametrize("name", PLANS)
def test_text_report(
    name: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    snapshot: Callable[[str, str], None],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("plan.dye").write_text(PLANS[name], encoding="utf-8")
    assert main(["check", "--at-least", "note", "plan.dye"]) == 1
    snapshot(f"check-{name}.txt", capsys.readouterr().out)
