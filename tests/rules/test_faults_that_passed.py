"""Faults that once passed unseen: in vats, sums, order and rinsing, each with its finding."""

from __future__ import annotations

from fractions import Fraction

import pytest
from expecting import findings, plan_of, rules_of

BARE = "fibre\n  yarn: wool yarn, 100 g, scoured\nsteps\n"
SOAK = "  wet out yarn in tub with water 5 L for 1 h\n"
VAT = "  vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C\n"
STAND = "  stand vat for 2 h covered\n"
DIP = "  dip yarn in vat at 50 °C for 10 min\n  air yarn for 15 min\n"
AFTER = (
    "  rinse yarn in tub with water 5 L\n"
    "  rinse yarn in tub with water 5 L, vinegar 50 mL\n"
    '  discard vat to "foul drain"\n'
)
LIMES = "materials\n  lime: slaked lime\n  chalk: chalk\n  bicarb: baking soda\n"


def vat(old: str = "", new: str = "", stand: str = STAND) -> str:
    """Steps that dye in a vat, sound but for one change."""
    steps = SOAK + VAT + stand + DIP + AFTER
    assert old in steps
    return LIMES + "steps\n" + (steps.replace(old, new) if old else steps)


def test_a_sound_vat_brings_nothing() -> None:
    heavy = {one.rule for one in findings(vat(), "error", "warning")} - {"never-used"}
    assert heavy == set()
    assert "vat-time-unstated" not in rules_of(vat())


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [
        ("soda 20 g", "lime 20 g", "lime-vat-for-wool"),
        ("soda 20 g", "bicarb 20 g", "vat-without-alkali"),
        ("soda 20 g", "chalk 20 g", "vat-without-alkali"),
        ("soda 20 g", "soda 200 g", "vat-out-of-proportion"),
        ("soda 20 g", "soda 2 g", "vat-out-of-proportion"),
        ("reducer 15 g", "reducer 150 g", "vat-out-of-proportion"),
        ("reducer 15 g", "reducer 1.5 g", "vat-out-of-proportion"),
        ("indigo 5 g", "indigo 50 g", "vat-out-of-proportion"),
        ("dip yarn in vat at 50 °C", "dip yarn in vat at 85 °C", "vat-too-hot"),
        ("for 2 h covered", "overnight labelled", "vat-left-open"),
        ("for 10 min", "for 5 h", "unlikely-time"),
        (STAND, "", "vat-time-unstated"),
    ],
)
def test_a_vat_that_cannot_work(old: str, new: str, rule: str) -> None:
    assert rule in rules_of(vat(old, new))


def test_mild_alkali_beside_soda_is_no_fault() -> None:
    assert "vat-without-alkali" not in rules_of(vat("soda 20 g", "soda 20 g, chalk 5 g"))


ALUM = (
    "  alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C\n"
    "  mordant yarn in alum-bath at 40 °C for 1 h\n"
    "  rinse yarn in tub with water 5 L at 30 °C\n"
    '  discard alum-bath to "foul drain"\n'
)
WELD = (
    "  weld-bath: prepare in pan with water 3 L, weld 100 g at 40 °C\n"
    "  dye yarn in weld-bath at 40 °C for 1 h\n"
    "  rinse yarn in tub with water 5 L at 30 °C\n"
    '  discard weld-bath to "foul drain"\n'
)


def deeper(steps: str, condition: str) -> str:
    """Steps inside an ``if``."""
    return f'  if "{condition}"\n' + "".join(f"  {line}\n" for line in steps.splitlines())


def test_alum_belongs_before_the_dye() -> None:
    assert "mordanted-after" in rules_of(BARE + SOAK + WELD + ALUM)
    assert "mordanted-after" not in rules_of(BARE + SOAK + ALUM + WELD)
    again = ALUM.replace("alum-bath", "second-bath")
    assert "mordanted-after" not in rules_of(BARE + SOAK + ALUM + WELD + again)


def test_alum_after_the_dye_on_one_way_is_told_with_the_way() -> None:
    late = ALUM.replace("alum-bath", "late-bath")
    found = findings(BARE + SOAK + deeper(ALUM, "early") + WELD + deeper(late, "late"))
    told = [one.sentence for one in found if one.rule == "mordanted-after"]
    assert len(told) == 1
    assert "except when “early” holds" in told[0]


def test_alum_after_the_dye_on_one_of_two_ways_is_told() -> None:
    one, other = deeper(ALUM + WELD, "x"), deeper(WELD + ALUM, "x")
    ways = one.replace('if "x"', 'either "first"') + other.replace('if "x"', 'or "last"')
    assert "mordanted-after" in rules_of(BARE + SOAK + ways)
    apart = deeper(WELD, "x").replace('if "x"', 'either "pale"')
    apart += deeper(ALUM + WELD, "x").replace('if "x"', 'or "deep"')
    assert "mordanted-after" not in rules_of(BARE + SOAK + apart)


def test_chrome_and_acetate_are_used_after_the_dye_by_rights() -> None:
    chromed = ALUM.replace("alum 12 g", "chrome 2 g")
    assert "mordanted-after" not in rules_of(BARE + SOAK + WELD + chromed)
    silk = "fibre\n  yarn: silk yarn, 100 g, scoured\nmaterials\n  alum: aluminium acetate\nsteps\n"
    assert "mordanted-after" not in rules_of(silk + SOAK + WELD + ALUM)


@pytest.mark.parametrize(
    ("steps", "rule"),
    [
        (
            "weld-bath: prepare in kettle with water 3 L, weld 100 g\n"
            "draw off 5 L of weld-bath into pan as second\n"
            'discard weld-bath to "foul drain"\ndiscard second to "foul drain"',
            "more-than-there-is",
        ),
        (
            "weld-bath: prepare in kettle with water 3 L, weld 100 g\n"
            'discard 3/2 of weld-bath to "foul drain"\ndiscard weld-bath to "foul drain"',
            "cannot-be",
        ),
        (
            "alum-bath: prepare in kettle with water 3 L, alum 12 mL\n"
            'discard alum-bath to "foul drain"',
            "solid-by-volume",
        ),
        (
            "grind madder 50 kg\nred-bath: prepare in kettle with water 3 L, madder 50 g\n"
            'discard red-bath to "foul drain"',
            "more-ready-than-used",
        ),
        (
            "weld-bath: prepare in kettle with water 3 L, weld 100 g\n"
            'draw off weld-bath to "foul drain"\ndiscard weld-bath to "foul drain"',
            "amount-unstated",
        ),
    ],
)
def test_amounts_that_cannot_be(steps: str, rule: str) -> None:
    assert rule in rules_of(steps)


def test_vinegar_and_solutions_are_measured_by_volume() -> None:
    dissolved = (
        "materials\n  alum: potassium alum, 10 %\nsteps\n"
        "  b: prepare in kettle with water 3 L, alum 12 mL\n"
        '  discard b to "foul drain"'
    )
    assert "solid-by-volume" not in rules_of(dissolved)
    sour = SOAK + "  rinse yarn in tub with water 5 L, vinegar 50 mL\n"
    assert "solid-by-volume" not in rules_of(sour)


def test_a_lost_sign_is_told_once() -> None:
    steps = SOAK + ALUM.replace("alum 12 g", "alum 12 of yarn")
    about = {
        one.rule for one in findings(steps, "error", "warning") if "12 of yarn" in one.sentence
    }
    assert about == {"cannot-be"}
    assert "too-much-mordant" not in rules_of(steps)


@pytest.mark.parametrize("share", ["120 % of yarn", "100 % of cloth"])
def test_ten_times_the_alum(share: str) -> None:
    lot = share.split()[-1]
    steps = (SOAK + ALUM.replace("alum 12 g", f"alum {share}")).replace("yarn", lot)
    assert "too-much-mordant" in {one.rule for one in findings(steps, "warning")}


@pytest.mark.parametrize("hair", ["alpaca", "mohair"])
def test_hair_felts_a_little_as_well(hair: str) -> None:
    head = f"fibre\n  yarn: {hair} yarn, 100 g, scoured, mordanted\nsteps\n"
    hot = ALUM.replace("at 40 °C for 1 h", "from 40 °C to 85 °C over 45 min for 1 h")
    assert "heat-shock" in rules_of(head + SOAK + hot.replace("at 30 °C", "at 10 °C"))


@pytest.mark.parametrize("verb", ["mordant", "steep"])
def test_tannin_wants_more_than_two_minutes(verb: str) -> None:
    steps = (
        "wet out cloth in tub with water 5 L for 1 h\n"
        "tannin-bath: prepare in kettle with water 3 L, tannin 5 g at 50 °C\n"
        f"{verb} cloth in tannin-bath at 50 °C for 2 min\n"
        "rinse cloth in tub with water 5 L\n"
        'discard tannin-bath to "foul drain"'
    )
    assert "unlikely-time" in rules_of(steps)


def test_bleach_is_no_soap() -> None:
    steps = "materials\n  soap: bleach\nsteps\n" + SOAK
    steps += "  wash yarn in tub with water 5 L, soap 5 g at 30 °C for 10 min\n"
    assert "must-not-meet" in rules_of(steps + "  rinse yarn in tub with water 5 L\n")


def test_plants_stay_in_with_the_fibre() -> None:
    loose = WELD.replace("  dye yarn", "  simmer weld-bath at 85 °C for 1 h\n  dye yarn")
    assert {"plants-left-loose", "plant-left-in"} & rules_of(SOAK + loose)


def test_dry_fibre_is_not_rinsed_last() -> None:
    last = WELD.splitlines()
    rinse = last.pop(2)
    steps = "\n".join([*last[:2], "  lift yarn", "  dry yarn", *last[2:], rinse])
    assert "wet-again-at-the-end" in rules_of(SOAK + steps)
    assert "wet-again-at-the-end" not in rules_of(SOAK + WELD + "  dry yarn")


def test_iron_stays_in_the_tub() -> None:
    iron = (
        "wet out yarn, silk in tub with water 5 L for 1 h\n"
        "grey-bath: prepare in pan with water 6 L, iron 2 g\n"
        "modify silk in grey-bath at 60 °C for 20 min\n"
        "rinse silk in tub with water 5 L\n{between}rinse yarn in tub with water 5 L\n"
        'discard grey-bath to "foul drain"'
    )
    assert "iron-in-the-tub" in rules_of(iron.format(between=""))
    water = "water: prepare in tub with water 5 L\n"
    in_one = iron.replace("rinse silk in tub with water 5 L", f"{water}rinse silk in water")
    in_one = in_one.replace("water:", "last-water:").replace("in water", "in last-water")
    in_one = in_one.replace("rinse yarn in tub with water 5 L", "rinse yarn in last-water")
    assert "iron-in-the-tub" in rules_of(in_one.format(between=""))
    assert "iron-in-the-tub" not in rules_of(iron.format(between="clean tub\n"))


def test_a_vat_stands_no_hotter_than_hand_hot() -> None:
    assert "vat-overheated" in rules_of(vat(STAND, STAND.replace("2 h", "2 h at 85 °C")))


def test_skeins_weigh_what_the_lot_weighs() -> None:
    head = "fibre\n  yarn: wool yarn, {weight}, 3 skeins of 80 g, scoured\nsteps\n" + SOAK
    found = findings(head.format(weight="100 g"))
    assert "240 g" in next(f.sentence for f in found if f.rule == "pieces-do-not-add-up")
    assert "pieces-do-not-add-up" not in rules_of(head.format(weight="245 g"))


def test_a_tool_among_the_materials_is_told_once() -> None:
    text = "materials\n  net: net bag, for dyeing only\nsteps\n" + SOAK
    found = [one for one in findings(text) if "net" in one.sentence and one.rule == "unknown-word"]
    assert [one.level for one in found] == ["error"]
    assert "equipment" in found[0].remedy


def test_what_is_squeezed_into_must_be_there() -> None:
    steps = SOAK + "  squeeze yarn into bucket"
    told = [one for one in findings(steps) if one.rule == "not-declared"]
    assert ["bucket" in one.sentence for one in told] == [True]
    assert "not-declared" not in rules_of(SOAK + "  squeeze yarn into tub")


def test_the_last_water_is_not_the_end() -> None:
    assert "left-wet" in rules_of(SOAK + WELD)
    assert "left-wet" not in rules_of(SOAK + WELD + "  hang yarn to dry")


STOCK = (
    "materials\n  coch: cochineal\nsteps\n"
    "  stock: prepare in jar with water 1 L, coch 15 g\n"
    "  red-bath: prepare in kettle with water 5 L\n"
    "  repeat {rounds} times\n    add 1/10 of stock to red-bath\n"
    '  discard red-bath to "foul drain"\n  discard stock to "foul drain"\n'
)


@pytest.mark.parametrize("rounds", [3, 10])
def test_each_tenth_of_a_stock_is_a_tenth(rounds: int) -> None:
    plan = plan_of(STOCK.format(rounds=rounds))
    bath = [m for m in plan.trace.moments if m.step.effect == "add"][-1].bath_after
    assert bath is not None
    grams = bath.contents["coch"].grams
    assert grams is not None and grams.low == grams.high == Fraction(3, 2) * rounds
    assert bath.volume is not None and bath.volume.high == 5 + Fraction(rounds, 10)
    assert "more-than-there-is" not in {one.rule for one in plan.findings}


def test_twelve_tenths_of_a_stock_are_more_than_there_is() -> None:
    assert "more-than-there-is" in rules_of(STOCK.format(rounds=12))


def test_the_book_s_vat_of_tin_for_wool_is_only_noted() -> None:
    # Mairet 1938, ch. V, “Indigo vat (tin) for wool”: lime with stannous chloride and zinc.
    of_tin = vat("reducer 15 g", "tin 2 g").replace("soda 20 g", "lime 20 g")
    of_tin = of_tin.replace("materials\n", "materials\n  tin: stannous chloride\n")
    found = [one for one in findings(of_tin) if one.rule == "lime-vat-for-wool"]
    assert [one.level for one in found] == ["note"]
    plain = [one for one in findings(vat("soda 20 g", "lime 20 g")) if one.rule.startswith("lime")]
    assert [one.level for one in plain] == ["warning"]
