"""Long plans go on from sheet to sheet."""

from __future__ import annotations

import io

import pytest
from drawn import HEAD, dot_of, plan
from pypdf import PdfReader

from procedure import Plan


def forty_steps() -> Plan:
    """Forty steps over four lots, with a vat, two loops and a choice."""
    lots = ("ash", "beech", "cedar", "dogwood")
    every = ", ".join(lots)
    lines = [
        f"wet out {every} in tub with water 15 L at 30 °C for 1 h",
        "alum-bath: prepare in kettle with water 12 L, alum 12 % of ash",
        f"mordant {every} in alum-bath from 40 °C to 85 °C over 45 min for 1 h",
        "cool alum-bath to 30 °C overnight covered",
        *[f'rinse {lot} in tub with water 8 L until "the water runs clear"' for lot in lots],
        'discard alum-bath to "foul drain, never the garden"',
        "clean kettle",
        "weld-bath: prepare in kettle with water 12 L, weld 50 % of ash",
        "heat weld-bath to 80 °C over 1 h",
        "hold weld-bath for 1 h",
        "strain weld-bath",
        "cool weld-bath to 40 °C",
        "dye ash, beech in weld-bath from 40 °C to 80 °C over 1 h for 1 h",
        "cool weld-bath to 35 °C",
        'rinse ash, beech in tub with water 8 L until "the water runs clear"',
        "dye cedar in weld-bath from 35 °C to 80 °C over 45 min for 45 min",
        "cool weld-bath to 35 °C overnight",
        'rinse cedar in tub with water 8 L until "the water runs clear"',
        "repeat 4 times",
        "  dip dogwood, cedar in vat at 50 °C for 10 min",
        "  air dogwood, cedar for 15 min",
        "repeat 2 times",
        "  dip beech in vat at 50 °C for 10 min",
        "  air beech for 15 min",
        'if "the ash is pale"',
        "  steep ash in weld-bath overnight",
        "  rinse ash in tub with water 8 L",
        'rinse beech, cedar, dogwood in tub with water 8 L until "the water runs clear"',
        "keep vat as old-vat",
        'discard weld-bath to "compost"',
        "clean kettle",
        *[f"wash {lot} in tub with water 8 L" for lot in lots[:2]],
        "wash cedar, dogwood in tub with water 8 L",
        f'rinse {every} in tub with water 12 L until "the water runs clear"',
        f"squeeze {every}",
        f"dry {every}",
    ]
    fibre = "".join(f"  {lot}: wool yarn, 100 g, 1 skein, scoured\n" for lot in lots)
    return plan(
        HEAD.format(title="Forty steps over four lots")
        + f"fibre\n{fibre}"
        + "equipment\n  kettle: stainless steel pot, 15 L, lidded, for dyeing only\n"
        + "  tub: plastic tub, 20 L, for dyeing only\n"
        + "materials\n  alum: potassium alum\n  weld: weld, dried\n  vat: bath\n"
        + "steps\n"
        + "".join(f"  {line}\n" for line in lines)
    )


def pages_of(made: Plan, **how: str) -> list[tuple[float, float]]:
    """The sizes of the pages of a PDF, in points."""
    drawn = made.chart(form="pdf", **how)  # type: ignore[arg-type]
    assert isinstance(drawn, bytes)
    pages = PdfReader(io.BytesIO(drawn)).pages
    return [(float(page.mediabox.width), float(page.mediabox.height)) for page in pages]


@pytest.mark.parametrize("lanes", ["both", "lot", "pot", "none"])
def test_forty_steps_on_a4(lanes: str) -> None:
    made = forty_steps()
    assert sum(node.kind != "end" for node in made.flow.nodes) == 40
    assert 1 <= len(pages_of(made, lanes=lanes)) <= 3


def test_a_roll_is_one_sheet() -> None:
    assert len(pages_of(forty_steps(), sheet="roll")) == 1


def two_sheets() -> Plan:
    """More steps than one sheet has room for."""
    text = forty_steps().text
    steps = text[text.index("steps\n") :]
    return plan(text + steps.split("\n", 1)[1])


def test_the_sheets_are_numbered() -> None:
    drawn = dot_of(two_sheets())
    said = drawn.labels("note")
    count = len(pages_of(two_sheets()))
    assert count > 1
    for number in range(1, count + 1):
        assert f"sheet {number} of {count}" in said


def test_a_line_goes_on_in_its_lane_on_the_next_sheet() -> None:
    drawn = dot_of(two_sheets())
    foot = {line.after: line for line in drawn.lines if line.after.endswith("foot")}
    head = {line.before: line for line in drawn.lines if line.before.endswith("head")}
    assert foot
    assert len(foot) == len(head)
    for name, line in foot.items():
        thread, sheet = name.removesuffix(" foot").rsplit(" sheet ", 1)
        other = head[f"{thread} sheet {int(sheet) + 1} head"]
        assert other.points[0][0] == pytest.approx(line.points[-1][0], abs=0.1)
        assert (other.kind, other.carries) == (line.kind, line.carries)


def test_no_letter_leads_from_sheet_to_sheet() -> None:
    assert not [node for node in dot_of(two_sheets()).nodes if "connector" in node.name]


def test_the_legend_is_at_the_foot_of_the_first_sheet_alone() -> None:
    drawn = dot_of(two_sheets())
    legend = [node for node in drawn.nodes if node.symbol == "legend"]
    assert legend
    assert {node.name.split(" legend")[0] for node in legend} == {"sheet 1"}
    rows = [n for n in drawn.nodes if n.symbol == "words" and n.name.startswith("sheet 1 ")]
    assert max(node.box[3] for node in legend) < min(node.box[1] for node in rows)


def test_the_same_plan_gives_the_same_chart() -> None:
    for form in ("dot", "svg", "png", "pdf"):
        assert two_sheets().chart(form=form) == two_sheets().chart(form=form)
