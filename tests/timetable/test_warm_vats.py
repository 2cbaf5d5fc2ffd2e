"""A vat in which lots are dipped by turns is warmed again as it cools, and that takes minutes."""

from __future__ import annotations

import csv
import io
import json
from datetime import datetime
from pathlib import Path

import pytest
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, times_of
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.timetable import Timetable, agenda, as_json, fitted, rows_by_start
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.taking import Taking, time_taken
from procedure.timetable.terms import Asked, Happened
from procedure.timetable.told_first import shortened
from procedure.timetable.warmed_between import WARMED

BEGINS = datetime(2099, 11, 28, 10)
EIGHT = ("elder", "hazel", "rowan", "birch", "alder", "thorn", "aspen", "maple")
HEAD = """procedure "Scarves in one vat"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, eye protection
fibre
{fibre}equipment
  kettle: stainless steel pot, {size} L, lidded, for dyeing only
  tub: plastic tub, 30 L, for dyeing only
  hob: hotplate, {watts} W
materials
  indigo: natural indigo, powder
  soda: soda ash
  fructose: fructose
steps
  wet out {all} in tub with water 20 L at 30 °C for 1 h
  vat: make in kettle with water {litres} L, soda 30 g, fructose 30 g, indigo 15 g at 55 °C
  stand vat for 1 h covered
  for each scarf in {all}
    repeat 3 times
      dip scarf in vat{heat} for 5 min
      air scarf for 10 min
    rinse scarf in tub with water 10 L at 30 °C until "the water runs clear"
    dry scarf
  discard vat to "foul drain, once it is blue and cold"
  clean kettle, tub
"""


def text(lots: tuple[str, ...] = EIGHT, heat: str = " at 45 to 50 °C", **changed: object) -> str:
    given: dict[str, object] = {"size": 20, "litres": 15, "watts": 2000} | changed
    fibre = "".join(f"  {lot}: wool yarn, 50 g, scoured\n" for lot in lots)
    return HEAD.format(fibre=fibre, all=", ".join(lots), heat=heat, **given)


def planned(
    written: str, hours: str = "10:00-16:00", **asked: tuple[str, ...]
) -> tuple[Judged, Timetable]:
    plan = procedure.read(written, "scarves.dye")
    given = Asked(BEGINS, Hours(times_of(hours)), hours, **asked)  # type: ignore[arg-type]
    made = fitted(work_of([plan], given).work, reasons=False).made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    assert wrongs_of_plan(plan, made.work, times) == []
    return plan, made


def warmings(made: Timetable) -> list[tuple[int, int]]:
    return sorted((each.start, each.end) for each in made.placed if each.key.endswith(WARMED))


def dips(made: Timetable) -> list[tuple[int, int]]:
    known = made.work.activity
    found = [each for each in made.placed if known[each.key].name.startswith("dip ")]
    return sorted((each.start, each.end) for each in found)


@pytest.mark.parametrize("hands", [{"participants": EIGHT}, {"hands": tuple("ABCDEFGH")}])
def test_eight_people_at_one_vat_are_done_in_a_day_with_the_vat_warm_to_the_end(
    hands: dict[str, tuple[str, ...]],
) -> None:
    _, made = planned(text(), "10:00-16:00", **hands)
    dipped, warmed = dips(made), warmings(made)
    assert len(dipped) == 24 and dipped[-1][1] <= 6 * 60
    # Spread between the turns: one before the first dip, and none long after the one before.
    assert 3 <= len(warmed) <= 5 and warmed[0][1] <= dipped[0][0]
    assert all(end - start <= 15 for start, end in warmed)
    for start, end in dipped:
        assert end - max(b for _, b in warmed if b <= start) <= 60
    # What lies in the vat and what warms it take turns.
    assert not any(a < d and c < b for a, b in dipped for c, d in warmed)


def test_a_dip_with_no_heat_written_asks_for_no_warming() -> None:
    _, made = planned(text(EIGHT[:2], heat=""))
    assert warmings(made) == [] and not made.work.vats


def test_two_lots_on_a_big_vat_that_keeps_its_heat_need_no_more_than_one() -> None:
    _, made = planned(text(EIGHT[:2], size=100, litres=90, watts=4000))
    assert len(warmings(made)) == 1


@pytest.mark.parametrize(("watts", "least", "most"), [(3000, 5, 10), (500, 40, 75)])
def test_how_long_it_takes_follows_the_plate(watts: int, least: int, most: int) -> None:
    _, made = planned(text(EIGHT[:4], watts=watts))
    later = [end - start for start, end in warmings(made)[1:]]
    assert later and all(least <= each <= most for each in later)


def test_a_vat_that_has_stood_over_a_night_is_warmed_for_longer() -> None:
    written = text(EIGHT[:4]).replace("stand vat for 1 h", "stand vat overnight")
    _, made = planned(written)
    (cold,) = (each for each in made.placed if each.key.endswith(" heated"))
    took = [end - start for start, end in warmings(made)]
    # 15 L by 30 to 40 °C with half to four fifths of 2 kW, once; after that it has cooled little.
    assert 30 <= cold.end - cold.start <= 45 and cold.end <= dips(made)[0][0]
    assert took and all(each <= 15 for each in took)


def test_what_it_costs_is_told_with_that_it_may_be_left_out() -> None:
    _, made = planned(text(EIGHT[:2]))
    said = " ".join(report(agenda(made)).split())
    assert "Warm vat again to 50 °C" in said
    assert "Measure it first; leave this out if it is warm enough." in said
    assert "It is within" in said or "that is proven" in said


def test_where_there_is_no_time_to_warm_it_that_is_told() -> None:
    written = text(EIGHT[:2])
    _, free = planned(written)
    plan = procedure.read(written, "scarves.dye")
    assert free.undried is not None
    # In time for all but the warming.
    until = datetime(2099, 11, 28, 10) + (datetime(2099, 1, 2) - datetime(2099, 1, 1)) * (
        free.undried.finish / 1440
    )
    asked = Asked(BEGINS, Hours(times_of("10:00-16:00")), "10-16", finish_by=until)
    made = fitted(work_of([plan], asked).work, reasons=False).made
    assert isinstance(made, Timetable) and warmings(made) == []
    told = [each for a in made.work.activities for each in a.cautions if "cooled down" in each]
    assert told and all("for which there is no time in this plan" in each for each in told)


def test_the_verifier_sees_a_vat_that_has_cooled() -> None:
    plan, made = planned(text(EIGHT[:4]))
    times = {each.key: (each.start, each.end) for each in made.placed}
    first = min(times[key][0] for key in times if key.endswith(WARMED))
    early = {
        key: (first, first + 5) if key.endswith(WARMED) else each for key, each in times.items()
    }
    assert any("is in a vat of" in wrong for wrong in wrongs_of_plan(plan, made.work, early))


def test_dips_that_have_happened_count_as_warm() -> None:
    plan = procedure.read(text(EIGHT[:2]), "scarves.dye")
    steps = {"1": (10, 0, 11, 0), "2": (10, 0, 10, 20), "3": (10, 20, 11, 20)}
    happened = tuple(
        Happened(step, BEGINS.replace(hour=c, minute=d), BEGINS.replace(hour=a, minute=b))
        for step, (a, b, c, d) in steps.items()
    )
    now = BEGINS.replace(hour=11, minute=20)
    asked = Asked(BEGINS, Hours(times_of("10:00-16:00")), "10-16", happened=happened, now=now)
    made = fitted(work_of([plan], asked).work, reasons=False).made
    assert isinstance(made, Timetable)
    assert warmings(made)[0][0] >= 80


def test_each_warming_ends_with_the_plate_off_however_short() -> None:
    _, made = planned(text(EIGHT[:4]))
    said = " ".join(report(agenda(made)).split())
    took = {made.at[key].end - made.at[key].start for key in made.at if key.endswith(WARMED)}
    count = len(warmings(made))
    assert count and said.count("Warm vat again") == count, took
    assert said.lower().count("turn the plate off") >= count


@pytest.mark.parametrize("lasting", [5, 8, 10, 15])
def test_a_step_on_the_plate_ends_with_the_plate_off_in_its_own_line_where_it_is_short(
    lasting: int,
) -> None:
    brief = f"""equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  hob: hotplate, 1500 W
materials
  skins: onion skins, dried
steps
  bath: prepare in pot with water 4 L at 80 °C, skins 50 g
  hold bath at 80 °C for {lasting} min
  cool bath to 30 °C
  discard bath to "foul drain"
"""
    asked = Asked(BEGINS, Hours(times_of("9-18")), "9-18")
    made = fitted(work_of([procedure.read(brief, "brief.dye")], asked).work).made
    assert isinstance(made, Timetable)
    said = " ".join(report(agenda(made)).split())
    assert said.lower().count("turn the plate off") == 1, said


KEPT = """procedure "Last month's vat"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, eye protection
fibre
  scarf: silk, 120 g, scoured
equipment
  kettle: stainless steel pot, 25 L, lidded, for dyeing only
  tub: plastic tub, 15 L, for dyeing only
  hob: hotplate, 1.5 kW
materials
  old-vat: kept bath, 18 L
  fructose: fructose
steps
{made}  wet out scarf in tub with water 8 L at 30 °C for 30 min
  repeat 8 times
    dip scarf in {vat} at 45 to 50 °C for 3 min
    air scarf for 15 min
  rinse scarf in tub with water 8 L at 30 °C
  dry scarf
  keep {vat} as winter-vat covered labelled
"""
BY_POT = "  add old-vat to kettle\n  add fructose 20 g to kettle stirring\n  heat kettle to 50 °C\n"
BY_NAME = (
    "  vat: prepare in kettle with old-vat 18 L\n  add fructose 20 g to vat stirring\n"
    "  heat vat to 50 °C\n"
)


@pytest.mark.parametrize(("made", "vat"), [(BY_POT, "kettle"), (BY_NAME, "vat")])
def test_a_kept_vat_cools_too_whatever_it_is_called(made: str, vat: str) -> None:
    _, found = planned(KEPT.format(made=made, vat=vat), "9:00-18:00")
    assert warmings(found), "eight dips take two hours and a half"
    lags = [lag for lag in found.work.lags if "loses its reducer" in lag.why]
    assert lags and all(lag.most == 480 for lag in lags)


def test_what_is_dipped_cold_for_want_of_time_is_told_at_the_head() -> None:
    plan = procedure.read(KEPT.format(made=BY_POT, vat="kettle"), "scarves.dye")
    given = Asked(BEGINS, Hours(times_of("10:00-13:30")), "10:00-13:30")
    found = fitted(work_of([plan], given).work, reasons=False)
    assert isinstance(found.made, Timetable)
    known = found.made.work.activities
    cold = [each for each in known if "no time in this plan" in str(each.cautions)]
    assert cold and "No plan was found with time to warm again" in shortened(found)[0]
    table = list(csv.DictReader(io.StringIO(rows_by_start.report(agenda(found.made)))))
    minutes = {each["line"]: each["cold_minutes"] for each in table if each["cold_minutes"]}
    at = found.made.work.activity
    assert minutes == {f"{at[key].place.line}": f"{most}" for key, most in found.made.work.cold}
    steps = json.loads(as_json.report(agenda(found.made)))["steps"]
    assert {s["key"]: s["cold_minutes"] for s in steps if s["cold_minutes"]} == dict(
        found.made.work.cold
    )


def test_what_is_dipped_cold_is_told_on_the_days_of_the_handout(tmp_path: Path) -> None:
    """The paper at the pot says it, as the timetable does."""
    written = tmp_path / "scarves.dye"
    written.write_text(KEPT.format(made=BY_POT, vat="kettle"), encoding="utf-8")
    (tmp_path / "vatwright.toml").write_text('[workshop]\nhours = "10:00-13:30"\n', "utf-8")
    plan = procedure.load(written)
    taken = time_taken(plan)
    assert isinstance(taken, Taking)
    (cold,) = [each for day in taken.days for each in day.cold]
    node, minutes = cold
    assert minutes > 0 and plan.flow.nodes[node].does.dips
    assert main(["handout", str(written), "-o", str(tmp_path / "paper.md")]) == 0
    paper = " ".join((tmp_path / "paper.md").read_text("utf-8").split())
    assert "what it is done in has cooled: warm it again first, about " in paper
