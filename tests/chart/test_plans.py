"""Parts of long plans, and their overview on one sheet."""

from __future__ import annotations

import io
import re
from pathlib import Path

import measures
import pytest
from drawn import HEAD, Read, bare, dot_of, plan
from pypdf import PdfReader

from procedure import Plan, load
from procedure.chart import draw
from procedure.chart.choice import NotThere
from procedure.command.main import main

PLANS = Path(__file__).parents[2] / "examples" / "plans"
A4 = (595.28, 841.89)


def long_plan(baths: int = 25) -> Plan:
    """A plan in which each bath takes eight steps: 200 steps for 25 baths."""
    lots = "".join(f"  skein{n}: wool yarn, 100 g, scoured\n" for n in range(baths))
    steps = "".join(
        f"""  bath{n}: prepare in kettle with water 30 : 1 of skein{n}, weld 50 % of skein{n}
  heat bath{n} to 80 °C over 45 min
  cool bath{n} to 40 °C
  dye skein{n} in bath{n} from 40 °C to 80 °C over 45 min for 1 h
  lift skein{n}
  rinse skein{n} in tub with water 4 L
  discard bath{n} to "foul drain"
  clean kettle
"""
        for n in range(baths)
    )
    return plan(
        HEAD.format(title="A long summer")
        + f"""
fibre
{lots}
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  weld: weld, dried
steps
{steps}"""
    )


def edges(read: Read) -> set[str]:
    """What the steps at the edges of a part say of where a thing comes from or goes to."""
    told = " ; ".join(read.says(f"{n} details") for n in names(read) if read.has(f"{n} details"))
    return {part.strip() for part in told.split(";")}


def names(read: Read) -> list[str]:
    """The names of all steps drawn."""
    return [bare(n.name).removesuffix(" words") for n in read.nodes if n.symbol == "words"]


# ---------------------------------------------------------------- one lot


def test_only_a_lot_shows_its_steps_and_where_it_comes_from() -> None:
    read = dot_of(plan(), only="gold")
    said = " ".join(read.labels("words"))
    assert "mordant yarn" in said
    assert "split yarn" in said
    assert "wash gold" in said
    assert not read.has("step 9")  # repeat 3 times: dip moss
    assert "moss is finished" not in said
    assert "gold is finished" in said
    assert any(label == "yarn" for label in read.labels("words"))


def test_only_a_lot_has_no_lane_for_others() -> None:
    read = dot_of(plan(), only="gold")
    assert {line.carries for line in read.lines if line.kind == "lot"} - {""} == {"yarn", "gold"}
    assert "moss" not in " ".join(head for head, _ in read.lanes.values())


def test_only_a_lot_tells_where_its_baths_come_from() -> None:
    assert "alum-bath from step 2" in edges(dot_of(plan(), only="gold"))


def test_a_lot_that_is_not_there_is_reported_with_the_nearest(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    assert main(["chart", str(PLANS / "greens-and-teals.dye"), "--only", "teel"]) == 2
    told = capsys.readouterr().err
    assert "no lot “teel”; the nearest is “teal”" in told
    assert told.count("\n") == 1
    assert not list(tmp_path.iterdir())


def test_an_unlike_name_is_answered_with_those_that_there_are() -> None:
    with pytest.raises(NotThere, match="there are “yarn”, “gold” and “moss”"):
        plan().chart(form="dot", only="zzz")


# ---------------------------------------------------------------- from a step to another


def test_from_a_step_to_another_has_those_between_in_order() -> None:
    read = dot_of(plan(), start="alum-bath", end="alum-bath", lanes="none")
    assert read.has("step 2")
    assert not read.has("step 1")
    assert not read.has("step 3")
    assert "alum-bath to step 3" in edges(read)


def test_lines_stand_for_steps_too() -> None:
    made = plan()
    line = next(
        number for number, text in enumerate(made.text.splitlines(), 1) if "mordant yarn" in text
    )
    read = dot_of(made, start=str(line), end=str(line + 1), lanes="none")
    assert [n for n in range(1, 10) if read.has(f"step {n}")] == [3, 4]
    told = edges(read)
    assert {"yarn from step 1", "alum-bath from step 2"} <= told
    assert any(label.endswith("to step 5") for label in told)


def test_part_of_a_block_is_drawn_within_its_limits() -> None:
    made = plan()
    lines = made.text.splitlines()
    line = next(number for number, text in enumerate(lines, 1) if "air moss" in text)
    read = dot_of(made, start=str(line), end=str(line), lanes="none")
    assert {"step 9", "step 11", "end of 9"} <= {bare(node.name) for node in read.nodes}
    assert not read.has("step 10")
    assert "moss from step 8" in edges(read)


@pytest.mark.parametrize(
    ("start", "end", "said"),
    [
        ("soke", "", "no step “soke”; the nearest is “soak”"),
        ("1", "", "no step of the plan begins at line 1; the nearest begins at line"),
        ("alum-bath", "soak", "step “soak” comes before step “alum-bath”"),
    ],
)
def test_a_step_that_is_not_there_is_reported(start: str, end: str, said: str) -> None:
    with pytest.raises(NotThere, match=said):
        plan().chart(form="dot", start=start, end=end)


def test_labels_are_seen_from_outside() -> None:
    made = load(PLANS / "greens-and-teals.dye")
    read = dot_of(made, start="scour.rinse", end="alum", opened=True)
    assert any("rinse wool" in label for label in read.labels("words"))
    assert not read.has("step 3")
    folded = dot_of(made, start="scour.rinse", end="alum")
    assert folded.has("step 1")
    assert not folded.has("step 3")


# ---------------------------------------------------------------- the overview


def pages(made: Plan, **how: str | bool) -> PdfReader:
    """The chart as pages."""
    drawn = made.chart(form="pdf", **how)  # type: ignore[arg-type]
    assert isinstance(drawn, bytes)
    return PdfReader(io.BytesIO(drawn))


@pytest.mark.parametrize("lanes", ["both", "none", "lot", "pot"])
def test_two_hundred_steps_fit_one_page(lanes: str) -> None:
    made = long_plan()
    assert len([node for node in made.flow.nodes if node.kind == "step"]) == 200
    read = pages(made, overview=True, lanes=lanes)
    assert len(read.pages) == 1
    box = read.pages[0].mediabox
    assert sorted((float(box.width), float(box.height))) == pytest.approx(sorted(A4), abs=2)


@pytest.mark.parametrize("name", sorted(path.name for path in PLANS.glob("*.dye")))
@pytest.mark.parametrize("lanes", ["none", "both"])
def test_every_example_has_an_overview_of_one_page(name: str, lanes: str) -> None:
    assert len(pages(load(PLANS / name), overview=True, lanes=lanes).pages) == 1


@pytest.mark.parametrize("name", sorted(path.name for path in PLANS.glob("*.dye")))
@pytest.mark.parametrize("sheet", ["a4", "roll"])
def test_the_steps_of_an_overview_add_up(name: str, sheet: str) -> None:
    made = load(PLANS / name)
    read = dot_of(made, overview=True, lanes="none", sheet=sheet)
    counted = 0
    for name in names(read):
        said = read.says(f"{name} details") if read.has(f"{name} details") else ""
        if name.startswith("terminator"):
            continue
        found = re.search(r"(\d+) steps?$", said)
        counted += int(found[1]) if found else 1
    every = [node for node in made.flow.nodes if node.kind in ("step", "do")]
    assert counted == len(every)


@pytest.mark.parametrize("lanes", ["both", "none"])
def test_an_overview_is_sound(lanes: str) -> None:
    for made in (long_plan(), load(PLANS / "workshop-day.dye")):
        read = dot_of(made, overview=True, lanes=lanes)
        assert measures.smallest(read) >= 7
        assert measures.overlaps(read) == []
        assert measures.lines_through(read) == []
        assert measures.outside(read) == []


def test_a_short_overview_folds_a_repeat_and_a_run() -> None:
    read = dot_of(plan(), overview=True, lanes="none")
    said = " ".join(node.says for node in read.nodes)
    assert "repeat 3 times: dip" in said
    assert "mordant yarn" in said
    assert "split yarn" in said
    assert not read.labels("loop-begin")
    assert not read.labels("decision")


def test_an_overview_and_a_part_are_two_things(capsys: pytest.CaptureFixture[str]) -> None:
    file = str(PLANS / "greens-and-teals.dye")
    assert main(["chart", file, "--overview", "--only", "teal"]) == 2
    assert "leave out the other choice" in capsys.readouterr().err


def test_lots_that_live_within_one_symbol_are_named_in_it() -> None:
    read = dot_of(long_plan(90), overview=True, lanes="none")
    said = " ".join(node.says for node in read.nodes)
    for number in (0, 12, 24):
        assert f"skein{number}" in said
    assert "come in and are finished here" in said


@pytest.mark.parametrize("text", ["", "steps\n", 'procedure "x"\nsteps\n  rince\n', "\x01"])
def test_any_text_has_an_overview(text: str) -> None:
    assert "<svg" in str(plan(text).chart(overview=True))
    with pytest.raises(NotThere, match="no lot is named"):
        plan(text).chart(only="yarn")


def test_a_part_keeps_the_numbers_of_the_findings_and_says_how_many_are_elsewhere() -> None:
    made = long_plan(3)
    whole = dot_of(made, lanes="none").labels("note")
    part = dot_of(made, lanes="none", only="skein1").labels("note")
    told = [note for note in part if note[0].isdigit() and ". " in note[:4]]
    assert told
    assert set(told) < set(whole)
    assert any("not told here" in note for note in part)


def test_a_repeat_is_folded_into_one_symbol_that_names_its_steps() -> None:
    here = Path(__file__).parents[2] / "examples" / "tansy-gold-and-moss.dye"
    whole = draw(load(here), "svg")
    folded = draw(load(here), "svg", folded=True)
    assert isinstance(whole, str) and isinstance(folded, str)
    assert "back to 22 until it is done 3 times" in whole
    assert "back to 22" not in folded
    assert "repeat 3 times" in folded
    assert "dip moss" in folded and "air moss" in folded
