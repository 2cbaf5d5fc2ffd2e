"""What ``check`` says of a night and what a timetable makes of it are the same."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest

import procedure
from procedure.collection.opening_hours import Hours, days_of, times_of
from procedure.timetable import Timetable, fitted
from procedure.timetable.from_plans import work_of
from procedure.timetable.terms import Asked
from procedure.timetable.told_first import shortened

TEXT = """procedure "A night"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 25 L, for dyeing only
materials
  iron: ferrous sulphate
  alum: potassium alum
steps
{}
  rinse yarn in tub with water 5 L
  dry yarn
"""
IN_WATER = "  wet out yarn in tub with water 5 L overnight"
FOR_HOURS = "  wet out yarn in tub with water 5 L for 10 to 12 h overnight"
IN_ALUM = (
    "  bath: prepare in pot with water 5 L, alum 12 g at 20 °C\n"
    "  mordant yarn in bath at 20 °C overnight covered"
)
IN_IRON = (
    "  bath: prepare in pot with water 5 L, iron 2 g at 20 °C\n"
    "  mordant yarn in bath at 20 °C overnight covered"
)


@pytest.mark.parametrize(
    ("steps", "hours", "remarked"),
    [
        (IN_WATER, "10:00-15:00", False),
        (IN_ALUM, "10:00-15:00", False),
        (FOR_HOURS, "10:00-15:00", True),
        (FOR_HOURS, "8:00-21:00", False),
        (IN_IRON, "10:00-15:00", True),
        (IN_IRON, "9:00-18:00", False),
    ],
)
def test_a_night_is_remarked_on_by_both_or_by_neither(
    tmp_path: Path, steps: str, hours: str, remarked: bool
) -> None:
    file = tmp_path / "night.dye"
    file.write_text(TEXT.format(steps), encoding="utf-8")
    (tmp_path / "vatwright.toml").write_text(f'[workshop]\nhours = "{hours}"\n', encoding="utf-8")
    plan = procedure.load(file)
    noted = {each.rule for each in plan.findings} & {"night-longer-than-written"}
    assert bool(noted) == remarked
    asked = Asked(datetime(2099, 11, 28, 8), Hours(times_of(hours), *days_of("daily")), hours)
    found = fitted(work_of([plan], asked).work)
    # That a night is as long as it is, where it does no harm, is told and no remark.
    no_remark = ("Goes on for longer", "“Overnight” is until")
    told = [each for each in shortened(found) if not each.startswith(no_remark)]
    said = " ".join(told) if isinstance(found.made, Timetable) else "no plan"
    assert bool(said) == remarked, said
