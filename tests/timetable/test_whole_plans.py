"""A plan has all in it that belongs in it: warming what has cooled, wherever there is time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from verifying import wrongs
from verifying_plans import wrongs_of_plan

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.pipeline import Judged
from procedure.quantity.day import A_DAY
from procedure.timetable import Fitted, NoPlan, Timetable, agenda, fitted
from procedure.timetable.by_day import report
from procedure.timetable.from_plans import work_of
from procedure.timetable.planned_words import how_good, moment_in_words
from procedure.timetable.planning import is_whole, shortest_with
from procedure.timetable.refused_words import refusal
from procedure.timetable.relief import reliefs
from procedure.timetable.terms import Asked
from procedure.timetable.told_first import shortened
from procedure.timetable.warming import told_cold

SATURDAY = datetime(2099, 11, 28, 9)
HEAD = """procedure "Gold, red and rust at the Fellside Dye Circle"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, mask
fibre
  yarn: wool yarn, 300 g, 3 skeins, scoured
equipment
  big:    stainless steel pot, 14 L, lidded, for dyeing only
  pot:    stainless steel pot, 8 L, lidded, for dyeing only
  second: stainless steel pot, 8 L, lidded, for dyeing only
  tub:    plastic tub, 15 L, for dyeing only
  hob:    hotplate, 2 kW
  net:    net bag, for dyeing only
materials
  alum:   potassium alum
  weld:   weld tops, dried
  madder: madder root, powder, dried
  soap:   neutral soap
steps
"""
WEEKEND = """wet out yarn in tub with water 9 L at 30 °C for 1 h
alum-bath: prepare in big with water 9 L, alum 12 % of yarn at 40 °C
mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h on hob
cool alum-bath to 30 °C overnight covered
rinse yarn in tub with water 9 L at 30 °C
discard alum-bath to "foul drain"
clean big
weld-bath: prepare in pot with water 5 L, weld 100 g
heat weld-bath to 80 °C over 45 min on hob
hold weld-bath at 80 °C for 45 min covered
cool weld-bath to 40 °C
strain weld-bath through net
split yarn into gold 100 g, red 100 g, rust 100 g
dye gold in weld-bath from 40 °C to 75 °C over 45 min for 30 min on hob
cool weld-bath to 35 °C
red-bath: prepare in second with water 6 L, madder 100 g at 30 °C
dye red, rust in red-bath from 30 °C to 70 °C over 1 h for 30 min on hob
cool red-bath to 35 °C
lift red from red-bath
dye rust in weld-bath from 35 °C to 75 °C over 45 min for 20 min on hob
cool weld-bath to 35 °C
wash gold, red, rust in tub with water 9 L, soap 6 g at 35 °C for 10 min
rinse gold, red, rust in tub with water 9 L at 35 °C until "the water runs clear"
dry gold, red, rust
discard weld-bath to "foul drain"
discard red-bath to "foul drain"
clean pot, second, tub, net
"""
ONE_DAY = """wet out yarn in tub with water 9 L at 30 °C for 1 h
alum-bath: prepare in big with water 9 L, alum 36 g at 40 °C
mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
cool alum-bath from 85 °C to 40 °C over 2 h
rinse yarn in tub with water 9 L at 40 °C for 5 min
weld-bath: prepare in pot with water 7 L, weld 300 g at 40 °C
heat weld-bath to 80 °C over 30 min
hold weld-bath at 80 °C for 30 min
cool weld-bath to 40 °C over 1 h 30 min
strain weld-bath
dye yarn in weld-bath from 40 °C to 75 °C over 30 min for 30 min
cool weld-bath to 40 °C over 1 h 30 min
rinse yarn in tub with water 9 L at 40 °C for 5 min
discard alum-bath to "foul drain"
discard weld-bath to "foul drain"
"""
LEFT_COLD = "for which there is no time in this plan"


def read(steps: str) -> Judged:
    return procedure.read(HEAD + "".join(f"  {line}\n" for line in steps.splitlines()), "day.dye")


def found(
    plan: Judged,
    hours: str = "9:00-18:00",
    days: str = "",
    at_once: Callable[[Timetable], None] | None = None,
    **asked: object,
) -> Fitted:
    open_on = days_of(days) if days else ()
    given = Asked(SATURDAY, Hours(times_of(hours), *open_on), hours, **asked)  # type: ignore[arg-type]
    return fitted(work_of([plan], given).work, at_once=at_once)


def left_cold(made: Timetable) -> Iterator[str]:
    for each in made.work.activities:
        yield from (each.key for said in each.cautions if LEFT_COLD in said)


def test_a_weekend_with_three_pots_has_a_plan() -> None:
    """To prove that there is none with the usual waits takes long; nobody waits for that."""
    plan = read(WEEKEND)
    made = found(plan, days="sat,sun").made
    assert isinstance(made, Timetable)
    times = {each.key: (each.start, each.end) for each in made.placed}
    assert wrongs(made.work, times) == []
    assert wrongs_of_plan(plan, made.work, times, loose=True) == []
    assert not [*left_cold(made)]


def test_what_has_cooled_is_warmed_though_steps_are_shorter_for_it() -> None:
    plan = read(ONE_DAY)
    free = found(plan).made
    assert isinstance(free, Timetable) and not [*left_cold(free)]
    end = free.finish - 10
    again = found(plan, finish_by=SATURDAY.replace(hour=9 + end // 60, minute=end % 60))
    made = again.made
    assert isinstance(made, Timetable) and made.finish <= end
    assert not [*left_cold(made)] and again.shortened
    assert made.work.cold == () and "that is proven" not in how_good(made)


def test_what_stays_cold_is_told_at_the_head_and_at_its_step() -> None:
    made = found(read(ONE_DAY)).made
    assert isinstance(made, Timetable) and not made.work.cold
    key = next(each.key for each in made.work.activities if each.name.startswith("dye yarn"))
    cold = told_cold(made, "bath", {key: 25})
    assert [*left_cold(cold)] == [key] and cold.work.cold == ((key, 25),)
    head = shortened(Fitted(cold))[0]
    assert "No plan was found with time to warm again what has cooled" in head
    assert made.work.activity[key].name in head and "25\u202fmin" in head
    assert told_cold(cold, "bath", {key: 25}) == cold, "it is told once"


def test_an_end_that_a_refusal_tells_is_that_of_a_plan() -> None:
    plan = read(ONE_DAY)
    free = found(plan).made
    refused = found(plan, finish_by=SATURDAY.replace(hour=14)).made
    assert isinstance(free, Timetable) and isinstance(refused, NoPlan)
    assert (refused.finish, refused.days) == (free.finish, free.days)
    assert "give it longer" not in refusal(refused)


CLASS = """procedure "A blue afternoon"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, eye protection
fibre
  elder: wool yarn, 50 g, scoured
  hazel: wool yarn, 50 g, scoured
  rowan: wool yarn, 50 g, scoured
equipment
  kettle: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 30 L, for dyeing only
  hob: hotplate, 2 kW
materials
  indigo: natural indigo, powder
  soda: soda ash
  fructose: fructose
steps
  wet out elder, hazel, rowan in tub with water 20 L at 30 °C for 1 h
  vat: make in kettle with water 15 L, soda 30 g, fructose 30 g, indigo 15 g at 55 °C
  stand vat for 1 h covered
  for each scarf in elder, hazel, rowan
    repeat 3 times
      dip scarf in vat at 45 to 50 °C for 5 min
      air scarf for 10 min
    rinse scarf in tub with water 10 L at 30 °C until "the water runs clear"
  dry elder, hazel, rowan
  discard vat to "foul drain, once it is blue and cold"
  clean kettle, tub
"""


def test_savings_are_those_of_whole_plans() -> None:
    plan = procedure.read(CLASS, "class.dye")
    given = Asked(SATURDAY.replace(hour=10), Hours(times_of("10:00-16:00")), "10-16")
    made = fitted(work_of([plan], given).work).made
    assert isinstance(made, Timetable) and made.undried is not None
    told = [each for each in reliefs(made, whole=shortest_with) if each.least]
    assert told
    for each in told:
        more = {each.resource.key: each.more} | {
            need.resource: need.amount for need in each.resource.comes_with
        }
        work = made.undried.work
        lags = tuple(lag for lag in work.lags if lag.one_of not in more)
        wider = tuple(
            replace(one, capacity=one.capacity + more.get(one.key, 0)) for one in work.resources
        )
        other = shortest_with(replace(work, resources=wider, lags=lags))
        assert other is not None and is_whole(other)
        assert each.least == each.most == max(0, made.finish - other.finish)


def test_a_first_plan_that_is_told_is_no_better_than_the_best() -> None:
    plan = procedure.read(CLASS, "class.dye")
    given = Asked(SATURDAY.replace(hour=10), Hours(times_of("10:00-16:00")), "10-16")
    told: list[Timetable] = []
    made = fitted(work_of([plan], given).work, at_once=told.append).made
    assert isinstance(made, Timetable)
    whole: list[Timetable] = []
    day = found(read(ONE_DAY), at_once=whole.append).made
    assert isinstance(day, Timetable) and len(whole) == 1 and day.finish <= whole[0].finish
    assert all(is_whole(each) and made.finish <= each.finish for each in told)


def test_a_visit_for_minutes_a_week_later_is_told() -> None:
    """A tub is not cleaned before the place closes; a bound that says nothing is not told."""
    plan = read(ONE_DAY + "clean tub\n")
    free = found(plan, days="sat").made
    assert isinstance(free, Timetable) and free.days == 1
    last = max(free.hands_on, key=lambda each: each.end)
    closes = SATURDAY + timedelta(minutes=last.end - 5)
    again = found(plan, f"9:00-{closes:%H:%M}", "sat")
    made = again.made
    assert isinstance(made, Timetable) and made.days == 2
    said = " ".join(report(agenda(made)).split())
    assert "% of the shortest" not in said
    (told,) = [each for each in shortened(again) if each.startswith("All that is left for")]
    assert "Saturday 5 December" in told
    left = sum(piece.end - piece.start for piece in made.hands_on if piece.start > 5 * A_DAY)
    closed = max(window.closes for window in made.work.windows if window.opens < A_DAY)
    alone = max(each.end for each in made.placed if each.start < 5 * A_DAY)
    over = moment_in_words(made.work, max(alone, closed + left))
    assert f"all is over at {over} so" in told


WEEKDAYS = "mon,tue,wed,thu,fri"
EVENINGS = """procedure "Evenings"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves, mask
fibre
  gold: wool yarn, 100 g, scoured
  brown: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  hob: hotplate, 2 kW
materials
  alum: potassium alum
  skins: onion skins, dried
steps
  wet out gold, brown in tub with water 4 L at 30 °C for 1 h
  alum-bath: prepare in pot with water 5 L, alum 24 g at 40 °C
  mordant gold, brown in alum-bath from 40 °C to 85 °C over 45 min for 45 min on hob
  cool alum-bath to 30 °C overnight covered
  rinse gold, brown in tub with water 4 L at 30 °C
  discard alum-bath to "foul drain"
  clean pot
  onion-bath: prepare in pot with water 5 L, skins 100 g
  simmer onion-bath at 85 °C for 1 h covered on hob
  cool onion-bath to 30 °C overnight covered
  strain onion-bath
  dye gold, brown in onion-bath from 35 °C to 80 °C over 45 min for 30 min on hob
  cool onion-bath to 30 °C overnight covered
  rinse gold, brown in tub with water 4 L at 30 °C
  dry gold, brown
  discard onion-bath to "foul drain"
  clean pot, tub
"""


def moved(made: Timetable, minutes: int, shorter: int = 1) -> Timetable:
    """The same sooner by so many minutes, or with steps and waits that are a part as long."""
    placed = tuple(
        replace(
            each,
            start=each.start // shorter - minutes,
            end=each.start // shorter - minutes + -((each.start - each.end) // shorter),
        )
        for each in made.placed
    )
    return replace(made, placed=placed)


def test_what_one_more_saves_is_not_saved_by_shorter_steps() -> None:
    made = found(procedure.read(EVENINGS, "evenings.dye"), "18:00-21:00", WEEKDAYS).made
    assert isinstance(made, Timetable)
    quick = reliefs(made)
    assert any(each.most for each in quick)
    # The plan dries fibre between, of which the quick search knows nothing: no saving is sure.
    assert made.undried is not None
    half = reliefs(made, whole=lambda _: moved(made, 0, shorter=2))
    assert [each.resource for each in half] == [each.resource for each in quick]
    assert not any(each.least for each in half)
    sooner = moved(made, 35)
    told = reliefs(made, whole=lambda _: sooner)
    saved = {each.resource.key: each.least for each in told}
    assert all(saved[each.resource.key] == 35 for each in quick if each.most and not each.unknown)


def test_nor_is_it_said_of_a_plan_with_drying_in_it_by_a_search_without() -> None:
    made = found(procedure.read(EVENINGS, "evenings.dye"), "18:00-21:00", WEEKDAYS).made
    assert isinstance(made, Timetable)
    with_drying = replace(made, undried=made)
    told = reliefs(with_drying, whole=lambda _: moved(made, 0, shorter=2))
    quick = {each.resource.key: each for each in reliefs(with_drying)}
    assert any(each.most for each in quick.values())
    for each in told:
        assert each.unknown or quick[each.resource.key].most == 0
