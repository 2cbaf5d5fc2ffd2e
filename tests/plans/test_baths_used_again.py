"""Baths used again: how often, for how much fibre, and what is left in them."""

from __future__ import annotations

from expecting import between, expect, plan_of, rules_of

from procedure.trace import BathState

TWO = """wet out yarn, silk in tub with water 10 L for 1 h
alum-bath: prepare in kettle with water 6 L, alum {alum} g
mordant yarn in alum-bath at 80 °C for 1 h
rinse yarn in tub with water 5 L
{between}mordant silk in alum-bath at 50 °C for 1 h
rinse silk in tub with water 5 L
discard alum-bath to "foul drain"
clean kettle"""
VAT = """wet out yarn, silk in tub with water 10 L for 1 h
vat: prepare in kettle with water 8 L, indigo 8 g, soda 30 g, reducer 20 g at 50 °C
stand vat at 50 °C for 30 min covered
{dips}rinse yarn, silk in tub with water 10 L
rinse yarn, silk in tub with water 10 L, vinegar 50 mL
discard vat to "foul drain"
clean kettle"""


def bath(example: str, effect: str = "discard") -> BathState:
    """The bath as the last such step finds it."""
    moments = [m for m in plan_of(example).trace.moments if m.node.effect == effect]
    found = moments[-1].bath_before
    assert found is not None
    return found


def dips(count: int, lot: str = "yarn") -> str:
    return f"repeat {count} times\n  dip {lot} in vat at 50 °C for 5 min\n  air {lot} for 15 min\n"


def test_the_fibre_that_a_bath_has_treated() -> None:
    found = bath(TWO.format(alum=40, between=""))
    assert found.served == between(200)
    assert found.uses == 2
    assert found.treated == ("yarn", "silk")
    assert found.contents["alum"].spent == 2


def test_what_is_left_is_what_usual_amounts_leave() -> None:
    """Alum on wool and silk is usually 8 to 25 % (Mairet 1916, ch. II, for the 25 %): of 40 g,
    the first 100 g leave 15 to 32 g, and the next 100 g leave 0 to 24 g."""
    example = TWO.format(alum=40, between="")
    first = next(
        m
        for m in plan_of(example).trace.moments
        if m.node.lots == ("silk",) and m.node.effect == "treat"
    ).bath_before
    assert first is not None and first.contents["alum"].left == between(15, 32)
    assert bath(example).contents["alum"].left == between(0, 24)


def test_what_is_added_is_there_again() -> None:
    found = bath(TWO.format(alum=12, between="add alum 12 g to alum-bath\n"), "treat")
    content = found.contents["alum"]
    assert content.grams == between(24)
    assert content.left == between(12, 16)  # 0 to 4 of the first 12 g, and 12 g more
    assert content.spent == 0


def test_a_share_poured_away_takes_its_share_along() -> None:
    found = bath(TWO.format(alum=40, between='discard 1/4 of alum-bath to "foul drain"\n'))
    assert found.contents["alum"].grams == between(30)


def test_a_bath_poured_into_another_brings_what_it_holds() -> None:
    plan = plan_of("""one: prepare in kettle with water 4 L, alum 12 g
two: prepare in pan with water 4 L, alum 6 g
add one to two
discard two to "foul drain"
""")
    held = plan.trace.moments[-1].bath_before
    assert held is not None and held.contents["alum"].grams == between(18)


def test_a_lot_that_comes_back_is_no_new_fibre() -> None:
    found = bath(
        TWO.replace("silk", "yarn").replace("yarn, yarn", "yarn").format(alum=40, between="")
    )
    assert found.served == between(100)
    assert found.uses == 2
    assert found.contents["alum"].spent == 1


def test_an_exhausted_mordant_and_the_same_strengthened() -> None:
    expect(TWO.format(alum=10, between=""), "bath-worn-out")
    expect(TWO.format(alum=10, between="add alum 10 g to alum-bath\n"))


def test_dips_are_counted_through_a_repeat() -> None:
    text = VAT.format(dips=dips(12).replace("yarn", "yarn, silk"))
    assert bath(text).dips == 12


def test_a_vat_wants_a_rest_after_many_dips() -> None:
    rest = "stand vat for 1 h at 50 °C covered\n"
    expect(VAT.format(dips=dips(8) + dips(4, "silk")), "vat-needs-rest")
    expect(VAT.format(dips=dips(6) + rest + dips(6, "silk")))
    expect(VAT.format(dips=dips(6) + "add reducer 5 g to vat\n" + dips(6, "silk")))


def test_a_vat_is_told_only_once_that_it_wants_rest() -> None:
    found = expect(VAT.format(dips=dips(20) + dips(20, "silk")), "vat-needs-rest")
    assert len(found) == 1


def test_a_vat_that_stood_overnight_wants_reducer() -> None:
    night = "stand vat for 12 h covered labelled\nheat vat to 50 °C\n"
    tired = VAT.format(dips=dips(1) + night + dips(1, "silk"))
    assert "vat-needs-reducer" in rules_of(tired)
    fed = VAT.format(dips=dips(1) + night + "add reducer 5 g to vat\n" + dips(1, "silk"))
    assert "vat-needs-reducer" not in rules_of(fed)
    # A vat that nobody has dipped in yet only ripens as it stands.
    assert "vat-needs-reducer" not in rules_of(VAT.format(dips=night + dips(1) + dips(1, "silk")))


def test_a_vat_that_ferments_wakes_by_itself() -> None:
    night = "stand vat for 12 h covered labelled\nheat vat to 50 °C\n"
    text = VAT.format(dips=dips(1) + night + dips(1, "silk"))
    living = text.replace("reducer 20 g", "bran 80 g, madder 50 g")
    assert "vat-needs-reducer" not in rules_of(
        "materials\n  bran: bran\nsteps\n  " + living.replace("\n", "\n  ")
    )


def test_iron_that_got_in_spoils_what_comes_after() -> None:
    iron = """wet out yarn, silk in tub with water 10 L for 1 h
iron-bath: prepare in pan with water 3 L, iron 3 g
mordant silk in iron-bath at 50 °C for 30 min
{rinse}alum-bath: prepare in kettle with water 8 L, alum 24 g
mordant silk in alum-bath at 50 °C for 1 h
mordant yarn in alum-bath at 50 °C for 1 h
rinse yarn in tub with water 5 L
rinse silk in tub with water 5 L
discard iron-bath to "foul drain"
discard alum-bath to "foul drain"
clean pan, kettle"""
    expect(iron.format(rinse=""), "iron-got-in")
    expect(iron.format(rinse="rinse silk in tub with water 5 L\nclean tub\n"))
    # Iron does no harm to what has iron already.
    alike = iron.format(rinse="").replace("mordant yarn in alum", "modify silk in alum")
    assert "iron-got-in" not in rules_of(alike)


def test_an_exhaust_bath_is_a_note_and_no_more() -> None:
    expect(
        """wet out yarn, silk in tub with water 10 L for 1 h
orange-bath: prepare in kettle with water 5 L, onion 30 g
dye yarn in orange-bath from 30 °C to 80 °C over 45 min for 1 h
cool orange-bath to 40 °C
rinse yarn in tub with water 5 L at 40 °C
dye silk in orange-bath from 40 °C to 80 °C over 45 min for 1 h
rinse silk in tub with water 5 L
discard orange-bath to "foul drain"
clean kettle""",
        "dye-worn-out",
    )
