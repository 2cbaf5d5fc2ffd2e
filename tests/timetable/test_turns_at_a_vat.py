"""Several lots that are dipped in one vat again and again: one is dipped while another airs."""

from __future__ import annotations

from datetime import datetime
from itertools import pairwise
from pathlib import Path

import pytest
from blue_vat import AFTER, BEFORE, EACH, THRICE
from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours
from procedure.command.main import main
from procedure.pipeline import Judged
from procedure.timetable import Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.warmed_between import WARMED

PEOPLE = ("Elder", "Hazel", "Rowan")
BEGINS = datetime(2099, 11, 28, 9)
WRITTEN_OUT = "".join(
    f"  dip {lot} in vat at 50 °C for 5 min\n  air {lot} for 10 min\n" * 3
    for lot in ("elder", "hazel", "rowan")
)
BY_REPEATS = "".join(THRICE.format(lot) for lot in ("elder", "hazel", "rowan"))


def planned(folder: Path, turns: str, **asked: object) -> tuple[Judged, Timetable]:
    file = folder / "turns.dye"
    file.write_text(BEFORE + turns + AFTER, encoding="utf-8")
    plan = procedure.load(file)
    given = Asked(BEGINS, Hours(), "9:00-18:00", **asked)  # type: ignore[arg-type]
    made = fitted(work_of([plan], given).work).made
    assert isinstance(made, Timetable)
    assert wrongs(made.work, times_in(made)) == []
    assert wrongs_of_plan(plan, made.work, times_in(made)) == []
    return plan, made


def times_in(made: Timetable) -> dict[str, tuple[int, int]]:
    return {each.key: (each.start, each.end) for each in made.placed}


def dips(made: Timetable) -> list[tuple[str, int, int]]:
    """The lots dipped, from when to when, by the clock."""
    known = made.work.activity
    found = [
        (known[each.key].lots[0], each.start, each.end)
        for each in made.placed
        if known[each.key].name.startswith("dip ")
    ]
    return sorted(found, key=lambda each: each[1])


def warmings(made: Timetable) -> list[tuple[int, int]]:
    """When the vat is warmed again."""
    return sorted((each.start, each.end) for each in made.placed if each.key.endswith(WARMED))


@pytest.mark.parametrize("turns", [BY_REPEATS, EACH, WRITTEN_OUT])
def test_the_second_lot_is_dipped_while_the_first_airs(tmp_path: Path, turns: str) -> None:
    _, made = planned(tmp_path, turns)
    turns_taken = dips(made)
    assert len(turns_taken) == 9
    # One person has 5 minutes for each dip and 5 for each airing: nobody has to wait for air,
    # but the vat is warmed again.
    warmed = sum(end - start for start, end in warmings(made))
    assert warmed in (10, 15, 20)
    assert turns_taken[-1][2] - turns_taken[0][1] <= 9 * 10 - 5 + warmed
    first = list(dict.fromkeys(lot for lot, _, _ in turns_taken))
    assert first == ["elder", "hazel", "rowan"]


def test_two_lots_are_never_in_the_vat_at_once_however_many_hands(tmp_path: Path) -> None:
    _, made = planned(tmp_path, EACH, hands=("Ada", "Bo", "Cy", "Di"))
    turns_taken = dips(made)
    # The vat is never idle from the first dip to the last.
    assert turns_taken[-1][2] - turns_taken[0][1] == 9 * 5 + sum(b - a for a, b in warmings(made))


def test_lots_that_are_dipped_together_are_in_the_vat_together(tmp_path: Path) -> None:
    _, made = planned(tmp_path, THRICE.format("elder, hazel") + THRICE.format("rowan"))
    both = [each for each in made.work.activities if each.name == "dip elder and hazel in vat"]
    assert len(both) == 3
    assert len(dips(made)) == 6


def test_a_rest_of_the_vat_between_rounds_holds(tmp_path: Path) -> None:
    rest = "    stand vat at 50 °C for 30 min covered\n"
    turns = THRICE.format("elder") + rest + THRICE.format("hazel") + rest
    plan, made = planned(tmp_path, turns)
    known = made.work.activity
    rests = sorted(
        (each.start, each.end)
        for each in made.placed
        if known[each.key].name == "stand vat" and known[each.key].place.line > 19
    )
    assert len(rests) == 6 and all(end - start >= 30 for start, end in rests)
    for _, start, end in dips(made):
        assert not any(start < b and a < end for a, b in rests)
    assert len(plan.flow.lots) == 3


def test_the_verifier_sees_what_is_wrong_with_turns(tmp_path: Path) -> None:
    plan, made = planned(tmp_path, BY_REPEATS)
    good = times_in(made)
    known = made.work.activity
    hazel = next(key for key, each in known.items() if each.name == "dip hazel in vat")
    elder = [key for key, each in known.items() if each.name == "dip elder in vat"]
    aired = next(key for key, each in known.items() if each.name == "air elder")
    at_once = good | {hazel: good[elder[0]]}
    assert any("are in vat at once" in wrong for wrong in wrongs_of_plan(plan, made.work, at_once))
    assert any("over-used" in wrong for wrong in wrongs(made.work, at_once))
    swapped = good | {elder[0]: good[elder[1]], elder[1]: good[elder[0]]}
    assert any(
        wrong.startswith("elder: line") for wrong in wrongs_of_plan(plan, made.work, swapped)
    )
    short = good | {aired: (good[aired][0], good[aired][0] + 5)}
    assert any("airs for 5 min" in wrong for wrong in wrongs_of_plan(plan, made.work, short))


def test_whose_turn_it_is_and_who_airs_is_told(tmp_path: Path) -> None:
    _, made = planned(tmp_path, BY_REPEATS)
    said = " ".join(report(agenda(made)).split())
    assert "Dip elder in vat (1 of 3), until" in said
    assert "Dip hazel in vat (1 of 3), until 10:35, while elder airs." in said
    assert "over by itself: air elder (1 of 3)" in said


def test_that_lots_take_turns_is_said_where_they_may(tmp_path: Path) -> None:
    turns = "Lots that are dipped more than once in vat take turns"
    once = "".join(
        f"  dip {lot} in vat at 50 °C for 5 min\n  air {lot} for 10 min\n"
        for lot in ("elder", "hazel", "rowan")
    )
    for text, told in ((BY_REPEATS, True), (once, False), (THRICE.format("elder, rowan"), False)):
        plan, _ = planned(tmp_path, text)
        supposed = work_of([plan], Asked(BEGINS, Hours())).supposed
        assert any(each.startswith(turns) for each in supposed) is told


def test_of_more_than_two_that_air_so_many_are_told(tmp_path: Path) -> None:
    long = EACH.replace("for 10 min", "for 40 min").replace("elder, hazel, rowan", "{0}")
    _, made = planned(tmp_path, long.format("elder, hazel, rowan"), participants=PEOPLE)
    said = " ".join(report(agenda(made)).split())
    assert "while elder and hazel air [you and Rowan]" in said
    four = BEFORE.replace("  rowan: wool", "  alder: wool yarn, 50 g, scoured\n  rowan: wool")
    file = tmp_path / "four.dye"
    file.write_text(four + long.format("elder, hazel, rowan, alder") + AFTER, encoding="utf-8")
    asked = Asked(BEGINS, Hours(), participants=(*PEOPLE, "Alder"))
    other = fitted(work_of([procedure.load(file)], asked).work).made
    assert isinstance(other, Timetable)
    assert "while three others air [you and Alder]" in " ".join(report(agenda(other)).split())


def test_one_teacher_stays_at_each_vat(tmp_path: Path) -> None:
    second = BEFORE.split("steps\n")[1].splitlines()[:2]
    other = "".join(f"{line.replace('vat', 'weak', 1)}\n" for line in second)
    other = other.replace("in vat-pot", "in weak-pot").replace("stand vat", "stand weak")
    before = BEFORE.replace("  tub:", "  weak-pot: stainless steel pot, 20 L, lidded\n  tub:")
    in_weak = EACH.replace("elder, hazel, rowan", "alder, birch").replace("in vat", "in weak")
    lots = "".join(f"  {each}: wool yarn, 50 g, scoured\n" for each in ("alder", "birch"))
    text = before.replace("equipment", lots + "equipment") + other
    text += "  wet out alder, birch in tub with water 10 L at 30 °C for 30 min\n" + EACH + in_weak
    file = tmp_path / "two.dye"
    file.write_text(text, encoding="utf-8")
    asked = Asked(BEGINS, Hours(), hands=("Ash", "Beech"), participants=(*PEOPLE, "Alder", "Birch"))
    made = fitted(work_of([procedure.load(file)], asked).work).made
    assert isinstance(made, Timetable)
    teachers = {
        vat: {
            entry.who[0]
            for day in agenda(made).days
            for entry in day.entries
            if entry.kind == "begin"
            and made.work.activity[entry.key].name.endswith(f" in {vat}")
            and "dip" in made.work.activity[entry.key].name
        }
        for vat in ("vat", "weak")
    }
    assert sorted(map(tuple, teachers.values())) == [("Ash",), ("Beech",)]


def test_rounds_by_the_clock_are_each_lots_own(tmp_path: Path) -> None:
    turns = EACH.replace("repeat 3 times", "repeat 3 times every 30 min")
    _, made = planned(tmp_path, turns)
    for lot in ("elder", "hazel", "rowan"):
        starts = [start for name, start, _ in dips(made) if name == lot]
        assert all(30 <= b - a <= 45 for a, b in pairwise(starts)), starts


def test_the_drawing_and_the_calendar_say_which_round_it_is(tmp_path: Path) -> None:
    planned(tmp_path, BY_REPEATS)
    file = str(tmp_path / "turns.dye")
    for name in ("turns.svg", "turns.ics"):
        given = ["--start", "2099-11-28 09:00", "-o", str(tmp_path / name)]
        assert main(["timetable", file, *given]) == 0
        said = (tmp_path / name).read_text(encoding="utf-8")
        assert "ip hazel in vat (2 of 3)" in said.replace("\r\n ", "").replace("\u00a0", " ")


@pytest.mark.parametrize(
    "turns",
    [
        "  dip elder in vat at 50 °C for 4 min\n"
        "  repeat 4 times\n    dip hazel in vat at 50 °C for 8 min\n    air hazel for 15 min\n"
        "  dip rowan in vat at 50 °C for 4 min\n",
        "".join(f"  dip {lot} in vat at 50 °C for 8 min\n" for lot in ("elder", "hazel", "rowan")),
        "  dip elder in vat at 50 °C for 4 min\n  dip hazel in vat at 50 °C for 4 min\n"
        "  repeat 3 times\n    dip rowan in vat at 50 °C for 8 min\n    air rowan for 10 min\n",
    ],
)
def test_what_airs_with_lots_dipped_after_it_waits_for_them_in_the_air(
    tmp_path: Path, turns: str
) -> None:
    _, made = planned(tmp_path, f"{turns}  air elder, hazel, rowan for 30 min\n")
    (together,) = (
        key
        for key, one in made.work.activity.items()
        if len(one.lots) == 3 and (one.name.startswith("air "))
    )
    assert made.at[together].start >= max(end for _, _, end in dips(made))
