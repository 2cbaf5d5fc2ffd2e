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
START = ("--start", "2099-01-05 09:00")
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
    "amounts for a spreadsheet": (["weigh", "--format", "csv"], "", "wet out"),
    "amounts for a program": (["weigh", "--format", "json"], "", '"rows"'),
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


def test_a_book_says_it_beside_the_title(tmp_path: Path) -> None:
    (tmp_path / "trial.dye").write_text(TEXT, encoding="utf-8")
    assert main(["book", str(tmp_path), "-o", str(tmp_path / "site")]) in (0, 1)
    index = " ".join((tmp_path / "site" / "index.html").read_text("utf-8").split())
    assert CAUTION in index


NICKNAMED = TEXT.replace(
    "greens: yew twigs, fresh, gathered 2026-06-12", "lye: caustic soda"
).replace("greens 300 g", "lye 5 g")


@pytest.mark.parametrize("asked", [[], ["--long"], ["--bench"], ["--labels"], ["--record"]])
def test_a_paper_calls_lye_by_its_full_name(asked: list[str], tmp_path: Path) -> None:
    """Sodium hydroxide, caustic soda: Regulation (EC) No 1272/2008, Annex VI, 011-002-00-6."""
    file = tmp_path / "trial.dye"
    file.write_text(NICKNAMED, encoding="utf-8")
    main(["handout", str(file), *asked, "-o", str(tmp_path / "paper.md")])
    assert "caustic soda" in (tmp_path / "paper.md").read_text("utf-8")


def test_amounts_and_findings_call_lye_by_its_full_name(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "trial.dye"
    file.write_text(NICKNAMED.replace("wearing gloves", "wearing apron"), encoding="utf-8")
    main(["weigh", str(file)])
    main(["check", str(file)])
    said = " ".join(capsys.readouterr().out.split())
    assert "5 g caustic soda (lye in the list)" in said
    assert "lye (caustic soda) calls for gloves" in said
