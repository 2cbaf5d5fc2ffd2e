"""Fibre that is put into a bath at a heat and for a time is left there, whatever verb says so."""

from __future__ import annotations

from datetime import datetime

import pytest

import procedure
from procedure.collection.opening_hours import Hours
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.work import Activity, Attendance, Work
from procedure.vocabulary import vocabulary
from procedure.vocabulary.effects import effects

HEAD = """procedure "Left in a bath"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pan: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  ring: hotplate, 1500 W
materials
  weld: weld, dried
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  bath: prepare in pan with water 4 L, weld 50 g at 40 °C
"""
TAIL = """
  lift yarn from bath
  rinse yarn in tub with water 5 L at 30 °C
  dry yarn
  discard bath to "foul drain"
"""
LINE = HEAD.count("\n") + 1
WORDS = (
    "put the yarn in the bath, 80C, 45 mins",
    "put the yarn into the bath at 80 °C for 45 min",
    "leave the yarn in the bath at 80 °C for 45 min",
    "keep the yarn in the bath at 80 °C for 45 min",
    "lower the yarn into the bath at 80 °C for 45 min",
    "immerse the yarn in the bath at 80 °C for 45 min",
    "soak the yarn in the bath at 80 °C for 45 min",
    "lift yarn into bath\n  hold bath at 80 °C for 45 min",
)


def verbs() -> list[str]:
    """The verbs by which fibre comes to lie in a bath, and that may say how hot and how long."""
    found = []
    for name, verb in vocabulary().verbs.items():
        does = effects()[verb.effect]
        told = {*verb.may, *verb.needs}
        in_a_bath = does.puts_fibre_in and not does.dips and does.left_standing
        if verb.group == "fibre" and in_a_bath and {"at", "for"} <= told:
            found.append(name)
    return found


def work(step: str) -> Work:
    plan = procedure.read(f"{HEAD}  {step}{TAIL}", "left.dye")
    return work_of([plan], Asked(datetime(2099, 11, 28, 9), Hours(), "9:00-18:00")).work


def of_step(step: str) -> list[Activity]:
    """The activities of a step that fibre lies in its bath for."""
    lines = range(LINE, LINE + 1 + step.count("\n"))
    return [each for each in work(step).activities if each.place.line in lines]


def how(each: Activity) -> tuple[object, ...]:
    lasting, needs = each.lasting, {need.resource for need in each.needs}
    return lasting.least, lasting.most, each.attendance, each.at_start, each.at_end, needs


def test_there_are_verbs_to_try() -> None:
    assert {"enter", "steep", "dye", "mordant", "work"} <= {*verbs()}


@pytest.mark.parametrize(
    "step", [*(f"{v} yarn in bath at 80 °C for 45 min" for v in verbs()), *WORDS]
)
def test_it_holds_a_ring_for_its_time_and_a_person_only_now_and_then(step: str) -> None:
    *before, each = of_step(step)
    dyed = of_step("dye yarn in bath at 80 °C for 45 min")[-1]
    assert sum(one.lasting.most for one in before) <= 5
    assert each.attendance is Attendance.NOW_AND_THEN and 0 < each.every <= 15
    assert {"rings", "watch"} <= {need.resource for need in each.needs}
    assert (each.lasting.least, each.lasting.most) == (dyed.lasting.least, dyed.lasting.most)
    assert each.ending == "turn the plate off" and each.at_end == 5
    assert not each.night and not each.at_a_pinch


@pytest.mark.parametrize(
    "clauses",
    [
        "at 80 °C for 45 min",
        "at boil for 45 min",
        "at 35 °C for 45 min",
        "at 80 °C over 45 min",
        "at 80 °C for 45 min stirring",
        "for 45 min",
        "for 12 h",
        "at 40 °C overnight",
    ],
)
def test_putting_it_in_goes_as_steeping_it_does(clauses: str) -> None:
    (put,), (steeped,) = (
        of_step(f"enter yarn in bath {clauses}"),
        of_step(f"steep yarn in bath {clauses}"),
    )
    assert how(put) == how(steeped)


def test_what_is_only_put_in_takes_the_hands_that_put_it_in() -> None:
    (each,) = of_step("enter yarn in bath")
    assert each.attendance is Attendance.WHOLE and each.lasting.most <= 5


def test_nobody_stands_by_it_for_a_night() -> None:
    made = fitted(work("enter yarn in bath at 40 °C overnight"), reasons=False).made
    assert isinstance(made, Timetable)
    assert sum(piece.end - piece.start for piece in made.hands_on) < 120


KEPT = (
    "heat bath to 80 °C and leave for 45 min",
    "bring bath to 80 °C, leave 45 min",
    "bring bath to a simmer over 45 min and leave covered for 45 min",
    "raise bath to 80 °C\n  leave it for 45 min",
    "heat bath to 80 °C, stir bath, leave bath for 45 min",
    "leave bath at 80 °C for 45 min",
)
OFF = (
    "heat bath to 80 °C and leave for 45 min off the heat",
    "heat bath to 80 °C and leave for 45 min, heat off",
    "heat bath to 80 °C and leave for 45 min with the heat off",
    "heat bath to 80 °C, turn off the heat and leave for 45 min",
    "heat bath to 80 °C and leave to cool for 45 min",
    "heat bath to 80 °C and let stand for 45 min",
    "bring bath to the boil and leave for 45 min",
    "heat bath to 80 °C and leave overnight covered",
)


@pytest.mark.parametrize("fibre_in", [True, False], ids=["fibre in it", "plants in it"])
@pytest.mark.parametrize("words", KEPT)
def test_a_bath_that_is_brought_to_a_heat_and_left_with_fibre_or_plants_is_kept_at_it(
    words: str, fibre_in: bool
) -> None:
    step = f"enter yarn in bath\n  {words}" if fibre_in else words
    last = of_step(step)[-1]
    assert "rings" in {need.resource for need in last.needs}
    assert last.attendance is Attendance.NOW_AND_THEN
    assert last.lasting.least >= 45
    moment = procedure.read(f"{HEAD}  {step}{TAIL}", "left.dye").trace.moments[-5]
    assert moment.bath_after is not None and moment.bath_after.heat is not None
    assert moment.bath_after.heat.low >= 80


@pytest.mark.parametrize("words", OFF)
def test_but_not_where_the_words_take_it_off_the_heat(words: str) -> None:
    assert "rings" not in {need.resource for need in of_step(words)[-1].needs}


def test_nor_a_dye_bath_that_has_nothing_in_it_to_be_heated() -> None:
    words = "strain bath\n  heat bath to 80 °C and leave for 45 min"
    assert "rings" not in {need.resource for need in of_step(words)[-1].needs}
