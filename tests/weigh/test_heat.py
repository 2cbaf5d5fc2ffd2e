"""Heat and steam: estimates whose spread holds what physics and practice say."""

# Exact fractions are held against whole numbers here, which are never quite the same type.
# mypy: disable-error-code="comparison-overlap"
from __future__ import annotations

import pytest
from bench import bath, plan_of

from procedure.weigh.heating import coolings, heatings, steam, steamings, surface

HEATED = """fibre
  yarn: wool yarn, 240 g, scoured
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  hob: hotplate, 2 kW
steps
  alum-bath: prepare in kettle with water 7.2 L, alum 10 g
  heat alum-bath from 20 °C to 85 °C
  mordant yarn in alum-bath at 85 °C for 1 h
  cool alum-bath to 30 °C
"""


def test_the_estimate_holds_the_heat_that_the_water_alone_takes() -> None:
    from iapws import IAPWS97  # brings scipy: the other tests here do without

    # By IAPWS-IF97: 7.2 L from 20 to 85 °C, lossless, is the least that can be; at half
    # the power, with a fifth more for wool and pot, is as slow as a plate gets.
    cold, hot = IAPWS97(T=293.15, P=0.101325), IAPWS97(T=358.15, P=0.101325)
    lossless = 7.2 * cold.rho / 1000 * (hot.h - cold.h)
    example = HEATED.replace("from 20 °C ", "").replace("alum 10 g", "alum 10 g at 20 °C")
    (one, *_) = heatings(plan_of(example))
    assert one.minutes is not None and one.energy is not None
    assert one.start == (20, 20) and one.end == (85, 85)
    assert lossless / 2 / 60 < one.minutes[0] < one.minutes[1] < 1.3 * lossless / 1 / 60
    assert lossless / 3600 < one.energy[0] < one.energy[1] < 1.3 * 2 * lossless / 3600


def test_minutes_and_energy_go_together() -> None:
    (one, *_) = heatings(plan_of(HEATED))
    assert one.minutes is not None and one.energy is not None
    for minutes, energy in zip(one.minutes, one.energy, strict=True):
        assert energy == pytest.approx(2 * minutes / 60)


def test_twice_the_water_takes_nearly_twice_as_long() -> None:
    (one, *_) = heatings(plan_of(HEATED))
    (two, *_) = heatings(plan_of(HEATED.replace("7.2 L", "14.4 L")))
    assert one.minutes is not None and two.minutes is not None
    assert 1.8 < two.minutes[0] / one.minutes[0] < 2


def test_without_watts_no_time_is_made_up() -> None:
    (one, *_) = heatings(plan_of(HEATED.replace("hotplate, 2 kW", "hotplate")))
    assert one.minutes is None and one.energy is None


def test_of_two_hotplates_the_step_names_one() -> None:
    two = HEATED.replace("2 kW", "2 kW\n  ring: hotplate, 1 kW")
    (neither, *_) = heatings(plan_of(two))
    assert neither.minutes is None
    (ring, *_) = heatings(plan_of(two.replace("to 85 °C\n", "to 85 °C on ring\n", 1)))
    assert ring.heater == "ring" and ring.watts == (1000, 1000)


def test_water_is_not_heated_above_the_local_boil() -> None:
    high = 'procedure "High"\n  by "x"\n  altitude 3000 m\n' + HEATED.replace("85 °C", "boil")
    (one, *_) = heatings(plan_of(high))
    assert one.end[1] == pytest.approx(90, abs=0.2)


def test_felting_wool_is_given_time_by_the_threshold() -> None:
    # 55 degrees down at no more than 3 a minute (common practice, thresholds.csv).
    (one,) = coolings(plan_of(HEATED))
    assert one.least == (pytest.approx(55 / 3), pytest.approx(55 / 3))
    assert coolings(plan_of(HEATED.replace("wool yarn", "cotton yarn"))) == []


def test_a_simmering_pot_loses_about_what_cooks_see() -> None:
    # A pot of 27 cm across loses half a litre to two litres an hour at a simmer without a
    # lid (common practice), and less than a third of that with one.
    area = surface((15, 15))
    assert area[0] < 0.057 < area[1]  # 27 cm across
    low, high = steam((90, 95), (60, 60), area, (2000, 2000))
    assert low < 0.6 and 0.6 < high < 2.5


def test_steam_never_outruns_the_plate() -> None:
    # 500 W boil no more than 0.8 × 500 W × 3600 s / 2257 kJ/kg = 0.64 kg in an hour.
    _, high = steam((100, 100), (60, 60), surface((60, 60)), (500, 500))
    assert high == pytest.approx(0.638, abs=0.002)


def test_steam_grows_with_time_and_heat() -> None:
    area = surface((15, 15))
    assert steam((80, 80), (120, 120), area, None)[1] == pytest.approx(
        2 * steam((80, 80), (60, 60), area, None)[1]
    )
    assert steam((95, 95), (60, 60), area, None)[0] > steam((80, 80), (60, 60), area, None)[0]


def test_a_lid_keeps_most_of_it_in() -> None:
    (one,) = [s for s in steamings(plan_of(HEATED)) if s.minutes == (60, 60)]
    assert one.lidded[1] < one.open[1] / 3 and not one.lid
    (shut,) = [
        s
        for s in steamings(plan_of(HEATED.replace("for 1 h", "for 1 h covered")))
        if s.minutes == (60, 60)
    ]
    assert shut.lid and shut.open == one.open


def test_a_bath_that_is_barely_warm_makes_no_steam_line() -> None:
    tepid = bath("wool yarn, 1 kg, scoured", "water 9 L").replace("80 °C", "35 °C")
    assert steamings(plan_of(tepid)) == []


def test_the_reading_of_the_text_is_kept_beside_the_estimate() -> None:
    quick = HEATED.replace("from 20 °C to 85 °C", "from 20 °C to 85 °C over 5 min")
    (one, *_) = heatings(plan_of(quick))
    assert one.said == (5, 5) and one.minutes is not None and one.minutes[0] > 5


def test_a_plastic_tub_stands_on_no_hotplate() -> None:
    scoured = """fibre
  fleece: wool fleece, 1 kg, unscoured
equipment
  tub: plastic tub, 60 L, for dyeing only
  kettle: stainless steel pot, 60 L, for dyeing only
  hob: hotplate, 2 kW
materials
  soap: neutral soap
steps
  scour fleece in tub with water 40 L, soap 50 g at 55 °C for 20 min
"""
    assert heatings(plan_of(scoured)) == []
    (one,) = heatings(plan_of(scoured.replace("in tub", "in kettle")))
    assert one.minutes is not None
