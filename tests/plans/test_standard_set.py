"""The standard set and the plans that use it: sound alone, sound together, weighed, told."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from pathlib import Path

import pytest

import procedure
from procedure.handout.lot_stories import account, finished, stories
from procedure.handout.lots_paper import report
from procedure.handout.shade_card import paper
from procedure.paper import in_html
from procedure.paper.measures import Voice
from procedure.trace import Content
from procedure.weigh.weighing import weigh

EXAMPLES = Path(__file__).parents[2] / "examples"
STANDARD = sorted((EXAMPLES / "standard").glob("*.dye"))
PLANS = sorted((EXAMPLES / "plans").glob("*.dye"))
# How many lots come out, as each plan says in what it makes.
LOTS = {
    "greens-and-teals": 4,
    "madder-walnut-iron": 7,
    "shade-card-24": 24,
    "six-lots-three-baths": 6,
    "workshop-day": 8,
}


def stem(path: Path) -> str:
    return path.stem


def heavy(plan: procedure.Plan) -> list[tuple[int, str]]:
    return [(one.line, one.rule) for one in plan.findings if one.level != "note"]


def test_the_set_has_what_plans_need() -> None:
    wanted = {
        "scour-wool",
        "scour-cotton-and-linen",
        "degum-silk",
        "alum-on-wool",
        "alum-on-silk",
        "tannin-and-alum",
        "aluminium-acetate",
        "iron-after-bath",
        "fructose-vat",
        "thiourea-vat",
        "lime-and-copperas-vat",
        "dip-in-vat",
        "neutral-last-wash",
        "clean-up",
    }
    assert wanted <= {path.stem for path in STANDARD}


@pytest.mark.parametrize("path", [*STANDARD, *PLANS], ids=stem)
def test_each_passes_alone(path: Path) -> None:
    assert heavy(procedure.load(path)) == []


@pytest.mark.parametrize("path", PLANS, ids=stem)
def test_a_plan_follows_the_set(path: Path) -> None:
    followed = {Path(one.file).parent.name for one in procedure.load(path).flow.procedures[1:]}
    assert followed == {"standard"}


@pytest.mark.parametrize("path", PLANS, ids=stem)
def test_a_plan_is_weighed_without_a_gap(path: Path) -> None:
    gaps = [(row.line, row.called) for row in weigh(procedure.load(path)).rows if row.gap]
    assert gaps == []


@pytest.mark.parametrize("path", PLANS, ids=stem)
def test_a_plan_says_what_comes_out(path: Path) -> None:
    plan = procedure.load(path)
    assert len(finished(plan)) == LOTS[path.stem]
    sums = account(plan)
    assert sums.adds_up
    assert sums.finished == sums.went_in
    assert "Splits and joins add up." in report(plan)


@pytest.mark.parametrize("path", PLANS, ids=stem)
def test_a_card_has_a_box_and_a_tag_for_every_lot(path: Path) -> None:
    made = in_html.page(paper(procedure.load(path), Voice("metric")))
    assert made.count('class="box"') == made.count('class="card tag"') == LOTS[path.stem]


def test_amounts_are_of_the_fibre_of_the_plan() -> None:
    """12 % and 6 % of 400 g, where the followed file itself is written for 200 g."""
    plan = procedure.load(EXAMPLES / "plans" / "greens-and-teals.dye")
    contents: Mapping[str, Content] = {}
    for moment in plan.trace.moments:
        if moment.node.effect == "prepare" and "alum.bath" in moment.node.makes:
            assert moment.bath_after is not None
            contents = moment.bath_after.contents
    assert contents["alum.alum"].grams == (48, 48)
    assert contents["alum.tartar"].grams == (24, 24)


def test_the_grid_is_written_in_under_fifteen_lines() -> None:
    text = (EXAMPLES / "plans" / "shade-card-24.dye").read_text("utf-8")
    grid = re.search(r"  iron-bath: prepare.*?dry plain[^\n]*", text, re.DOTALL)
    assert grid is not None
    assert grid.group(0).count("\n") + 1 < 15


def test_the_samples_of_the_card_are_every_ground_time_and_after_bath() -> None:
    told = stories(procedure.load(EXAMPLES / "plans" / "shade-card-24.dye"))
    grounds, times = ("bare", "alumed", "leafed"), ("short", "long")
    after = ("plain", "sad", "sour", "bright")
    wanted = [f"{g}.{t}.{a}" for g in grounds for t in times for a in after]
    assert [story.lot for story in told] == wanted
    assert all(story.weight == (Fraction(5), Fraction(5)) for story in told)


def test_dips_are_counted_over_all_rounds() -> None:
    told = {s.lot: s for s in stories(procedure.load(EXAMPLES / "plans" / "greens-and-teals.dye"))}
    assert told["lemon"].short.endswith("weld 90 min")
    assert told["leaf"].short.endswith("1 dip in woad")
    assert told["sea"].short.endswith("2 dips in woad")
    assert told["teal"].short.endswith("4 dips in woad")


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("to 85 °C over", "to 110 °C over", "hotter-than-boiling"),
        ("alum 12 % of wool", "alum 40 % of wool", "too-much-mordant"),
        ("  rinse: rinse wool in tub", "  rinse: wash wool in tub", ""),
        ("  wearing gloves\n", "", ""),
        (' to "foul drain, never the garden"', "", "no-disposal"),
    ],
)
def test_a_fault_in_a_followed_file_is_found_from_the_plan_and_named_in_both(
    tmp_path: Path, old: str, new: str, rule: str
) -> None:
    (tmp_path / "vatwright.toml").write_text("", encoding="utf-8")
    for folder in ("standard", "plans"):
        (tmp_path / folder).mkdir()
        for path in (EXAMPLES / folder).glob("*.dye"):
            text = path.read_text("utf-8")
            if path.stem == "alum-on-wool":
                assert old in text
                text = text.replace(old, new)
            (tmp_path / folder / path.name).write_text(text, encoding="utf-8")
    plan = procedure.load(tmp_path / "plans" / "greens-and-teals.dye")
    found = [one for one in plan.findings if one.rule == rule]
    if not rule:  # the plan wears gloves, and a wash for a rinse is as good: nothing is amiss
        assert heavy(plan) == []
        return
    assert found
    assert {Path(one.file).name for one in found} == {"alum-on-wool.dye"}
    for one in found:
        assert "greens-and-teals.dye" in {Path(related.file).name for related in one.related}
