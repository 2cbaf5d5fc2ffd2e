"""Colour: mordants, tannin, amounts, heat and vats, against the handbook's figures."""

from __future__ import annotations

import pytest
from expecting import expect, findings, place, rules_of

LOTS = """
fibre
  yarn: wool yarn, 100 g, scoured
  cloth: cotton cloth, 100 g, scoured
  silk: silk yarn, 100 g, scoured
"""


def steps(text: str, *sections: str) -> str:
    """Steps with plain lots of wool, cotton and silk, none of them mordanted."""
    used = "\n".join(
        line
        for line in LOTS.split("\n")
        if ":" not in line or f"{line.split(':')[0].strip()} in" in text
    )
    body = "".join(f"  {line}\n" for line in text.strip("\n").split("\n"))
    return used.lstrip("\n") + "".join(sections) + "steps\n" + body


def mordanted(amount: str, lot: str = "yarn", heat: str = "from 30 °C to 80 °C over 1 h") -> str:
    return steps(
        f"""
wet out {lot} in tub with water 5 L for 1 h
bath: prepare in kettle with water 4 L, {amount}
mordant {lot} in bath {heat} for 1 h
wash {lot} in tub with water 5 L, soap 3 g
rinse {lot} in tub with water 5 L
discard bath to "the hazardous waste collection"
"""
    )


# ------------------------------------------------------------------ how much mordant


@pytest.mark.parametrize(
    ("amount", "rules"),
    [
        # Mairet 1916, ch. II: alum usually 25 % of the wool; excess makes wool sticky.
        ("alum 8 g", set()),
        ("alum 12 g", set()),
        ("alum 25 % of yarn", set()),
        ("alum 4 oz", {"too-much-mordant"}),
        ("alum 26 % of yarn", {"too-much-mordant"}),
        ("alum 120 g", {"too-much-mordant"}),
        ("alum 1.2 g", {"too-little-mordant"}),
        # ch. II: 5 to 8 % of ferrous sulphate; it hardens wool in excess.
        ("iron 5 to 8 % of yarn", set()),
        ("iron 2 % of yarn", set()),  # ch. VIII: 2 to 4 %
        ("iron 9 % of yarn", {"too-much-mordant"}),
        ("iron 50 g", {"too-much-mordant"}),
        # ch. II: 4 % of stannous chloride with 2 % of oxalic acid.
        ("tin 4 g, oxalic 2 g", set()),
        ("tin 4 g", set()),
        ("tin 5 g", {"tin-without-oxalic-acid"}),
        ("tin 6 g, oxalic 3 g", set()),
        ("tin 11 g, oxalic 5 g", {"too-much-mordant"}),
        ("copper 2 to 4 % of yarn", set()),  # ch. VIII
        ("copper 30 g", {"too-much-mordant"}),
    ],
)
def test_the_mordant_is_within_its_range_on_wool(amount: str, rules: set[str]) -> None:
    expect(mordanted(amount), *rules)


def test_alum_in_excess_is_said_to_make_wool_sticky() -> None:
    (found,) = expect(mordanted("alum 30 % of yarn"), "too-much-mordant")
    assert "makes wool sticky" in found.sentence
    assert "Mairet 1938, ch. II and VII" in found.source
    assert (found.line, found.column, found.to) == place(
        mordanted("alum 30 % of yarn"), "30 % of yarn"
    )


def test_alum_in_excess_is_not_said_to_make_silk_sticky() -> None:
    # Mairet says it of wool alone.
    silk = mordanted("alum 60 % of silk", "silk")
    (found,) = [one for one in findings(silk) if one.rule == "too-much-mordant"]
    assert "silk" in found.sentence and "in excess of" in found.sentence
    assert "sticky" not in found.sentence and "wool" not in found.sentence


@pytest.mark.parametrize(("percent", "too_much"), [(2, False), (3, False), (4, False), (5, True)])
def test_chrome_above_four_per_cent(percent: int, too_much: bool) -> None:
    # Mairet 1916, ch. II: 2 to 4 % of potassium dichromate, 3 % safe.
    found = rules_of(mordanted(f"chrome {percent} % of yarn"))
    assert ("too-much-mordant" in found) is too_much


def test_tannin_on_cotton_by_the_handbook() -> None:
    # Mairet 1938, ch. X: 2 to 5 %, to 10 % for dark shades; 12 oz to 10 lb is 7.5 %.
    for percent in ("2 to 5 %", "7.5 %", "10 %"):
        expect(mordanted(f"tannin {percent} of cloth", "cloth", "at 55 °C"))
    expect(mordanted("tannin 50 % of cloth", "cloth", "at 55 °C"), "too-much-mordant")


@pytest.mark.parametrize(("heat", "rules"), [(50, set()), (60, set()), (70, {"tannin-too-hot"})])
def test_tannin_on_cotton_is_kept_at_60_degrees(heat: int, rules: set[str]) -> None:
    # Mairet 1938, ch. X: not above 60 °C.
    expect(mordanted("tannin 5 g", "cloth", f"at {heat} °C"), *rules)


def test_tannin_may_be_hot_on_wool() -> None:
    expect(mordanted("tannin 5 g", "yarn"))


def test_a_bath_for_two_lots_is_weighed_against_both() -> None:
    text = """
wet out yarn in tub with water 5 L for 1 h
wet out silk in tub with water 5 L for 1 h
bath: prepare in kettle with water 6 L, alum {}
mordant yarn in bath from 30 °C to 80 °C over 1 h for 1 h
cool bath to 30 °C
rinse yarn in tub with water 5 L
mordant silk in bath from 30 °C to 80 °C over 1 h for 1 h
rinse silk in tub with water 5 L
discard bath to "foul drain"
"""
    expect(steps(text.format("12 % wof")))
    expect(steps(text.format("40 g")))  # 20 % of the two together
    expect(steps(text.format("12 % of yarn")), "bath-worn-out")


def test_a_lot_that_comes_back_is_not_counted_twice() -> None:
    # Mairet 1916, ch. V, raven grey: back into the alum-and-copperas bath.
    text = """
wet out yarn in tub with water 5 L for 1 h
bath: prepare in kettle with water 6 L, alum 12 g
mordant yarn in bath at 30 °C for 1 h
lift yarn
mordant yarn in bath at 30 °C for 1 h
rinse yarn in tub with water 5 L
split yarn into left 50 g, right 50 g
mordant left in bath at 30 °C for 1 h
rinse left in tub with water 5 L
discard bath to "foul drain"
"""
    expect(steps(text))


def test_iron_in_a_vat_is_a_reducer_and_no_mordant() -> None:
    # Mairet 1938, ch. X: 2 oz indigo, 4 oz copperas, 5 oz quicklime in 5 imperial gallons.
    text = """
wet out cloth in tub with water 5 L for 1 h
vat: prepare in barrel with water 5 imp gal, indigo 2 oz, iron 4 oz, lime 5 oz at cold
stand vat until-next-day covered labelled
dip cloth in vat at cold for 20 min
air cloth for 20 min
rinse cloth in tub with water 5 L
rinse cloth in tub with water 5 L, vinegar 50 mL
discard vat to "the place that the local rules name"
"""
    barrel = "equipment\n  barrel: plastic barrel, 40 L, lidded, for dyeing only\n"
    lime = "materials\n  lime: quicklime\n"
    expect(steps(text, barrel, lime))


def test_a_solution_counts_by_its_strength() -> None:
    solution = "materials\n  stock: potassium alum, solution, 10 % by weight\n"
    text = mordanted("stock 120 g").replace("steps\n", solution + "steps\n")
    assert "too-much-mordant" not in rules_of(text)


@pytest.mark.parametrize(
    ("salt", "lot", "wrong"),
    [
        ("aluminium acetate", "yarn", True),
        ("aluminium acetate", "cloth", False),
        ("aluminium sulphate", "yarn", False),
        ("potassium dichromate", "cloth", True),
        ("potassium dichromate", "yarn", False),
    ],
)
def test_a_mordant_is_for_its_own_kind_of_fibre(salt: str, lot: str, wrong: bool) -> None:
    text = mordanted("salt 4 g", lot).replace("steps\n", f"materials\n  salt: {salt}\nsteps\n")
    assert ("mordant-for-other-fibre" in rules_of(text)) is wrong


# ------------------------------------------------------------------ mordant, tannin, dye

DYE = """
{first}
wet out {lot} in tub with water 5 L for 1 h
dye-bath: prepare in pan with water 4 L, {dye}
dye {lot} in dye-bath from 30 °C to {heat} over 1 h for {time}
rinse {lot} in tub with water 5 L
{last}
discard dye-bath to "foul drain"
"""
ALUM = """wet out {lot} in tub with water 5 L for 1 h
alum-bath: prepare in kettle with water 4 L, {alum}
mordant {lot} in alum-bath at 30 °C for 2 h
rinse {lot} in tub with water 5 L
discard alum-bath to "foul drain"
"""
TANNIN = """wet out {lot} in tub with water 5 L for 1 h
tannin-bath: prepare in kettle with water 4 L, tannin 5 g
mordant {lot} in tannin-bath at 55 °C for 3 h
rinse {lot} in tub with water 5 L
discard tannin-bath to "foul drain"
clean kettle
"""


def dyed(
    dye: str,
    lot: str = "yarn",
    first: str = "",
    last: str = "",
    heat: str = "60 °C",
    time: str = "30 min",
    alum: str = "alum 15 g",
) -> str:
    text = DYE.format(first=first, last=last, lot=lot, dye=dye, heat=heat, time=time)
    text = text.replace("{lot}", lot).replace("{alum}", alum)
    return steps("\n".join(line for line in text.split("\n") if line.strip()))


@pytest.mark.parametrize("dye", ["weld 100 g", "madder 50 g", "tansy 300 g"])
def test_most_plants_need_a_mordant(dye: str) -> None:
    found = findings(dyed(dye))
    (lacking,) = [f for f in found if f.rule == "no-mordant"]
    assert lacking.line == place(dyed(dye), "dye yarn in")[0]
    assert "no-mordant" not in rules_of(dyed(dye, first=ALUM))


def test_the_mordant_may_come_in_the_bath_or_after_it() -> None:
    expect(dyed("weld 100 g, alum 12 g"))
    after = """iron-bath: prepare in kettle with water 4 L, iron 4 g
modify yarn in iron-bath at 30 °C for 20 min
rinse yarn in tub with water 5 L
discard iron-bath to "foul drain\""""
    expect(dyed("weld 100 g", last=after))


@pytest.mark.parametrize("dye", ["onion 50 g", "turmeric 30 g"])
def test_some_dyes_hold_without(dye: str) -> None:
    expect(dyed(dye))


def test_turmeric_dyes_cotton_without_mordant() -> None:
    # Mairet 1916, ch. VII: needs no mordant; cotton 60 °C for about half an hour; not boiled.
    expect(dyed("turmeric 30 g", "cloth", heat="60 °C", time="30 min"))
    expect(dyed("turmeric 30 g", "cloth", heat="boil", time="30 min"), "dyestuff-too-hot")


def test_a_mordant_on_one_way_only_is_said() -> None:
    first = """wet out yarn in tub with water 5 L for 1 h
if "a stronger yellow is wanted"
  alum-bath: prepare in kettle with water 4 L, alum 12 g
  mordant yarn in alum-bath at 30 °C for 2 h
  rinse yarn in tub with water 5 L
  discard alum-bath to "foul drain\""""
    (found,) = [f for f in findings(dyed("weld 100 g", first=first)) if f.rule == "no-mordant"]
    assert "when “a stronger yellow is wanted” holds" in found.sentence


def test_a_part_of_the_lot_that_is_left_without_mordant() -> None:
    text = """
wet out yarn in tub with water 5 L for 1 h
split yarn into gold 50 g, pale 50 g
bath: prepare in kettle with water 4 L, alum 6 g
mordant gold in bath at 30 °C for 2 h
rinse gold in tub with water 5 L
dye-bath: prepare in pan with water 4 L, weld 100 g
dye gold, pale in dye-bath from 30 °C to 60 °C over 1 h for 1 h
rinse gold, pale in tub with water 5 L
discard bath to "foul drain"
discard dye-bath to "foul drain"
"""
    (found,) = expect(steps(text), "no-mordant")
    assert found.sentence.startswith("pale")


def test_cotton_wants_tannin_before_its_alum() -> None:
    # Mairet 1938, ch. X: cotton is prepared with tannin.
    assert "no-tannin" in rules_of(dyed("weld 100 g", "cloth", first=ALUM))
    expect(dyed("weld 100 g", "cloth", first=TANNIN + ALUM))


def test_acetate_and_basic_alum_hold_on_cotton_without_tannin() -> None:
    expect(dyed("weld 100 g", "cloth", first=ALUM, alum="alum 20 g, soda 5 g"))
    text = dyed("weld 100 g", "cloth", first=ALUM, alum="acetate 8 g")
    expect(text.replace("steps\n", "materials\n  acetate: aluminium acetate\nsteps\n"))


def test_wool_wants_no_tannin() -> None:
    expect(dyed("weld 100 g", first=ALUM))


# ------------------------------------------------------------------ heat and amount of dye


@pytest.mark.parametrize(
    ("heat", "time", "rules"),
    [
        ("75 °C", "1 h", set()),
        ("boil", "10 min", set()),
        ("boil", "5 min", set()),
        ("boil", "1 h", {"dyestuff-too-hot"}),
        ("simmer", "1 h", {"dyestuff-too-hot"}),
    ],
)
def test_madder_is_boiled_for_ten_minutes_at_most(heat: str, time: str, rules: set[str]) -> None:
    # Mairet 1916, ch. VI: raise to the boil in 1 h, boil 10 min or less; long boiling dulls it.
    expect(dyed("madder 50 g", first=ALUM, heat=heat, time=time), *rules)


def test_boiling_the_madder_out_beforehand_dulls_it_too() -> None:
    text = dyed("madder 50 g", first=ALUM).replace(
        "  dye yarn in",
        "  boil dye-bath for 1 h\n  strain dye-bath\n  cool dye-bath to 30 °C\n  dye yarn in",
    )
    (found,) = expect(text, "dyestuff-too-hot")
    assert found.line == place(text, "boil dye-bath")[0]


@pytest.mark.parametrize(
    ("dye", "lot", "rules"),
    [
        ("madder 31 g", "yarn", set()),  # Mairet 1916, ch. VI: 5 to 8 oz to 1 lb
        ("madder 50 g", "yarn", set()),
        ("madder 100 g", "silk", set()),  # ch. XI: 80 to 100 % on silk
        ("madder 5 g", "yarn", {"too-little-dyestuff"}),
        ("madder 500 g", "yarn", {"too-much-dyestuff"}),
        ("weld 100 g", "yarn", set()),  # ch. VII: pound for pound
        ("weld 150 g", "silk", set()),  # ch. XI
        ("weld 10 g", "yarn", {"too-little-dyestuff"}),
        ("weld 1000 g", "yarn", {"too-much-dyestuff"}),
        ("tansy 300 g", "yarn", set()),
        ("tansy 30 g", "yarn", {"too-little-dyestuff"}),
    ],
)
def test_the_dyestuff_is_near_its_usual_amount(dye: str, lot: str, rules: set[str]) -> None:
    amount_rules = {"too-little-dyestuff", "too-much-dyestuff"}
    assert rules_of(dyed(dye, lot, first=ALUM)) & amount_rules == rules


def test_a_second_lot_in_a_spent_bath_is_paler_and_no_fault() -> None:
    text = """
wet out yarn in tub with water 5 L for 1 h
wet out silk in tub with water 5 L for 1 h
dye-bath: prepare in pan with water 4 L, onion 25 g
dye yarn in dye-bath from 30 °C to 60 °C over 1 h for 1 h
cool dye-bath to 30 °C
rinse yarn in tub with water 5 L
dye silk in dye-bath from 30 °C to 60 °C over 1 h for 1 h
rinse silk in tub with water 5 L
discard dye-bath to "foul drain"
"""
    expect(steps(text))


# ------------------------------------------------------------------ what is not there


def test_a_dye_bath_without_dye_and_a_mordant_bath_without_mordant() -> None:
    expect(dyed("soap 3 g"), "nothing-to-dye-with")
    expect(dyed("alum 12 g"), "nothing-to-dye-with")
    expect(mordanted("soda 3 g", heat="at 30 °C"), "nothing-to-dye-with")
    expect(mordanted("tannin 3 g", "cloth", heat="at 30 °C"))


def test_a_material_of_unknown_part_is_given_the_benefit_of_the_doubt() -> None:
    text = dyed("stuff 50 g").replace("steps\n", 'materials\n  stuff: "from the hedge"\nsteps\n')
    assert "nothing-to-dye-with" not in rules_of(text)


@pytest.mark.parametrize(
    ("fibre", "dye", "wrong"),
    [
        ("wool yarn", "indigo extract", False),
        ("cotton yarn", "indigo extract", True),
        ("linen yarn", "orchil", True),
        ("polyester cloth", "onion skins", True),
        ("nylon cloth", "onion skins", False),
    ],
)
def test_some_dyes_do_not_hold_on_some_fibres(fibre: str, dye: str, wrong: bool) -> None:
    text = f"""fibre
  lot: {fibre}, 100 g, scoured
materials
  stuff: {dye}
steps
  wet out lot in tub with water 5 L for 1 h
  bath: prepare in kettle with water 4 L, stuff 10 g
  dye lot in bath from 30 °C to 60 °C over 1 h for 30 min
  rinse lot in tub with water 5 L
  discard bath to "foul drain"
"""
    assert ("does-not-hold" in rules_of(text)) is wrong


@pytest.mark.parametrize(
    ("litres", "rules"), [(3, set()), (1.2, set()), (0.3, {"too-little-liquor"})]
)
def test_fibre_has_room_in_its_liquor(litres: float, rules: set[str]) -> None:
    expect(dyed("onion 50 g").replace("water 4 L", f"water {litres} L"), *rules)


def test_iron_mordanted_wool_beside_what_is_to_stay_bright() -> None:
    text = """
wet out yarn in tub with water 5 L for 1 h
wet out silk in tub with water 5 L for 1 h
iron-bath: prepare in kettle with water 4 L, iron 4 g
mordant silk in iron-bath at 30 °C for 1 h
rinse silk in tub with water 5 L
clean tub
dye-bath: prepare in pan with water 6 L, onion 100 g
dye yarn, silk in dye-bath from 30 °C to 60 °C over 1 h for 1 h
rinse yarn, silk in tub with water 5 L
discard iron-bath to "foul drain"
discard dye-bath to "foul drain"
"""
    expect(steps(text), "iron-beside-bright")


# ------------------------------------------------------------------ vats

VAT = """
wet out yarn in tub with water 5 L for 1 h
vat: prepare in kettle with water 5 L, {vat} at 50 °C
stand vat for 1 h covered
{dips}
rinse yarn in tub with water 5 L
rinse yarn in tub with water 5 L, vinegar 50 mL
discard vat to "foul drain"
"""
SOUND = "indigo 5 g, soda 20 g, reducer 15 g"
DIPS = "dip yarn in vat at 50 °C for 20 min\nair yarn for 20 min"


def vat(made: str = SOUND, dips: str = DIPS) -> str:
    return steps(VAT.format(vat=made, dips=dips))


def test_a_sound_vat_by_the_handbook() -> None:
    # Mairet 1916, ch. V: dips of 20 to 40 min with airing for as long as the dip.
    expect(vat())
    expect(vat(dips=f"{DIPS}\n{DIPS}"))
    expect(vat(dips="repeat 3 times\n  dip yarn in vat for 40 min\n  air yarn for 40 min"))


@pytest.mark.parametrize(
    "dips",
    [
        "dip yarn in vat for 20 min\ndip yarn in vat for 20 min\nair yarn for 20 min",
        "dip yarn in vat for 20 min",
        "repeat 3 times\n  dip yarn in vat for 20 min",
        "dye yarn in vat for 20 min\nlift yarn\ndip yarn in vat for 5 min\nair yarn for 20 min",
    ],
)
def test_air_comes_between_dips_and_before_water(dips: str) -> None:
    expect(vat(dips=dips), "vat-not-aired")


def test_airing_lasts_about_as_long_as_the_dip() -> None:
    expect(vat(dips="dip yarn in vat for 20 min\nair yarn for 2 min"), "aired-too-briefly")
    expect(vat(dips="dip yarn in vat for 20 min\nair yarn for 15 min"))
    expect(vat(dips="dip yarn in vat for 1 min\nair yarn for 5 min"))


@pytest.mark.parametrize(
    ("made", "rules"),
    [
        ("indigo 5 g, soda 20 g", {"vat-without-reducer"}),
        ("indigo 5 g, reducer 15 g", {"vat-without-alkali"}),
        ("indigo 5 g", {"vat-without-alkali", "vat-without-reducer"}),
        ("indigo 5 g, soda 20 g, madder 20 g", set()),  # madder feeds a fermenting vat
    ],
)
def test_a_vat_has_an_alkali_and_a_reducer(made: str, rules: set[str]) -> None:
    found = rules_of(vat(made)) & {"vat-without-alkali", "vat-without-reducer"}
    assert found == rules


def test_fresh_leaves_dye_without_a_vat() -> None:
    leaves = "materials\n  leaves: japanese indigo leaves, fresh, gathered 2026-07-01\n"
    text = """
wet out silk in tub with water 5 L for 1 h
bath: prepare in kettle with water 4 L, leaves 400 g at cold
dye silk in bath at cold for 30 min
air silk for 30 min
rinse silk in tub with water 5 L
discard bath to "foul drain"
"""
    expect(steps(text, leaves))


def test_indigo_for_a_large_vat_is_not_too_much_for_a_small_lot() -> None:
    assert "too-much-dyestuff" not in rules_of(vat("indigo 28 g, soda 20 g, reducer 15 g"))
    assert "too-much-dyestuff" in rules_of(vat("indigo 150 g, soda 20 g, reducer 15 g"))


@pytest.mark.parametrize(
    ("step", "level"),
    [
        ("modify silk in bath for 10 min", "note"),
        ('modify silk in bath until "the grey is even"', "note"),
        ('modify silk in bath for 10 min note "a paler one"', "note"),
    ],
)
def test_a_bath_that_saddens_by_eye_is_not_called_worn_out(step: str, level: str) -> None:
    text = f"""
wet out yarn in tub with water 5 L for 1 h
wet out silk in tub with water 5 L for 1 h
alum-bath: prepare in kettle with water 6 L, alum 24 g
mordant yarn, silk in alum-bath from 30 °C to 80 °C over 1 h for 1 h
cool alum-bath to 30 °C overnight covered
rinse yarn, silk in tub with water 5 L
discard alum-bath to "foul drain"
clean kettle
weld-bath: prepare in kettle with water 6 L, onion 100 g
simmer weld-bath at 85 °C for 1 h
strain weld-bath
cool weld-bath to 40 °C
dye yarn, silk in weld-bath at 40 to 85 °C for 1 h
cool weld-bath to 30 °C overnight covered labelled
lift yarn, silk
discard weld-bath to "foul drain"
clean kettle
bath: prepare in kettle with water 6 L, iron 1.2 g
modify yarn in bath for 10 min
rinse yarn in tub with water 5 L
{step}
rinse silk in tub with water 5 L
discard bath to "foul drain"
"""
    found = [one for one in findings(steps(text)) if one.rule == "bath-worn-out"]
    assert [one.level for one in found] == [level]
