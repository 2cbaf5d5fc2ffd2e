"""What can kill stands at the head of every paper, before anything that is to be done."""

from __future__ import annotations

from pathlib import Path

import pytest

from procedure.command.main import main

TEXT = """procedure "A trial of a plant"
  by "Fellside Dye Circle"
  place outdoors
  audience experienced dyers
  wearing gloves, eye protection

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  greens: yew twigs, fresh, gathered 2026-06-12

steps
  bath: prepare in kettle with water 6 L, greens 300 g
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  dye yarn in bath at 60 °C for 1 h covered
  rinse yarn in tub with water 5 L at 30 °C for 10 min
  dry yarn
  discard bath to "the hazardous waste point"
"""
CAUTION = "DEADLY: yew (Taxus baccata) can kill who swallows a little of it."
START = ("--start", "2027-01-04 09:00")
PAPERS = {
    "the blanks alone": (["handout", "--record"], "paper.md", "bath"),
    "card": (["card"], "paper.md", "1 sample"),
    "chart": (["chart"], "chart.svg", "kettle"),
    "timetable": (["timetable", *START], "timetable.txt", "bath"),
    "timetable drawn": (["timetable", *START], "timetable.svg", "bath"),
    "calendar": (["timetable", *START], "timetable.ics", "BEGIN:VEVENT"),
    "record": (["record"], "trial.batch", "steps"),
    "lots": (["lots"], "", "went in"),
    "shop": (["weigh", "--shop"], "", "at hand"),
    "weigh": (["weigh"], "", "in the order"),
}


@pytest.mark.parametrize("paper", PAPERS)
def test_what_can_kill_stands_at_the_head(
    paper: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    command, name, later = PAPERS[paper]
    file = tmp_path / "trial.dye"
    file.write_text(TEXT, encoding="utf-8")
    out = ["-o", str(tmp_path / name)] if name else []
    main([command[0], str(file), *command[1:], *out])
    said = capsys.readouterr().out
    text = (tmp_path / name).read_text("utf-8") if name else said
    plain = " ".join(text.replace("\r\n ", "").replace("\n# ", " ").split())
    if name.endswith(".svg"):
        assert "DEADLY: yew (Taxus baccata)" in plain
        return
    assert CAUTION in plain
    assert plain.index("DEADLY") < plain.lower().index(later.lower())
