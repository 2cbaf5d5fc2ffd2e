"""What two strangers found silent, untrue or a false alarm in their first files: each once more."""

import pytest

from procedure.pipeline import read

HEAD = """procedure "Found by strangers"
  place outdoors
  wearing gloves
fibre
  yarn: wool yarn, 4 skeins of 25 g, scoured
equipment
  pot: stainless steel pot, 20 L, lidded, for dyeing only
  pan: stainless steel pot, 10 L, lidded, for dyeing only
  kettle: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  skins: onion skins, dried
  woad: woad leaves, fresh
  indigo: natural indigo
  soda: soda ash
  reducer: fructose
{more}steps
"""


def rules(steps: str, more: str = "") -> dict[str, str]:
    """What is found, by rule."""
    text = HEAD.format(more=more) + "".join(f"  {line}\n" for line in steps.strip().split("\n"))
    return {one.rule: f"{one.sentence} {one.remedy}" for one in read(text, "x").findings}


STOCK = """stock: prepare in pot with water 6 L, skins 50 g
simmer stock for 1 h
strain stock
first-bath: prepare in pan with half of stock, water 2 L
{used}
discard first-bath to "foul drain"
{ends}
clean pot
"""


@pytest.mark.parametrize(
    ("used", "ends"),
    [
        (
            "second-bath: prepare in kettle with the rest of stock, water 1 L",
            'discard second-bath to "foul drain"',
        ),
        ("add the rest of stock to first-bath", "clean pan"),
    ],
)
def test_a_bath_of_which_the_rest_is_used_is_used_up(used: str, ends: str) -> None:
    found = rules(STOCK.format(used=used, ends=ends))
    assert not {"bath-left-over", "pot-not-free"} & found.keys()


def test_a_bath_of_which_half_is_used_is_left() -> None:
    assert "pot-not-free" in rules(STOCK.format(used="clean tub", ends="clean pan"))


SECOND = """first-bath: prepare in pot with water 6 L, skins 50 g
simmer first-bath for 1 h
strain first-bath
{second}
discard first-bath to "foul drain"
"""


def test_plants_taken_for_those_that_came_out_are_told() -> None:
    prepared = rules(SECOND.format(second="second-bath: prepare in pan with water 6 L, skins"))
    assert "the 50 g that came out of a bath before" in prepared["amount-unstated"]
    for again in ("boil skins again in pan with water 6 L", "clean tub"):
        assert "amount-unstated" not in rules(SECOND.format(second=again))


LEAVES = """leaf-bath: prepare in pot with water 10 L, woad 3 kg at 80 °C
stand leaf-bath at 80 °C for 10 min covered
cool leaf-bath to 55 °C
{between}
add soda 15 g, reducer 10 g to leaf-bath
stand leaf-bath at 50 °C for 1 h covered
wet out yarn in tub with water 5 L at 40 °C for 1 h
dip yarn in leaf-bath at 50 °C for 10 min
air yarn for 20 min
rinse yarn in tub with water 5 L
stand leaf-bath {how} labelled
discard leaf-bath to "foul drain"
"""


def test_leaves_are_no_indigo_and_are_scalded() -> None:
    found = rules(LEAVES.format(between="strain leaf-bath", how="overnight uncovered"))
    assert not {"vat-out-of-proportion", "vat-overheated", "plants-left-loose"} & found.keys()
    assert "vat-left-open" not in found  # spent, it is to take up air
    open_between = LEAVES.format(between="strain leaf-bath", how="overnight")
    assert "vat-left-open" in rules(open_between)


def test_leaves_that_were_never_strained_out_are_told_of_where_yarn_is_dipped() -> None:
    found = rules(LEAVES.format(between="stand leaf-bath for 5 min", how="overnight covered"))
    assert "woad is still loose" in found["plants-left-loose"]


def test_a_vat_that_is_made_up_is_still_told_to_be_too_hot() -> None:
    vat = """vat: prepare in pot with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
stand vat for 2 h at 85 °C covered
discard vat to "foul drain"
"""
    assert "vat-overheated" in rules(vat)


@pytest.mark.parametrize(
    ("said", "rule", "what"),
    [
        ("iron powder from the shop (ferrous sulphate)", "no-eye-protection", "ferrous sulphate"),
        ("yew bark (onion skins)", "deadly-plant", "yew"),
        ("onion skins (yew bark)", "deadly-plant", "yew"),
        ("potassium bichromate (alum)", "restricted-salt", "dichromate"),
        ("alum (potassium bichromate)", "restricted-salt", "dichromate"),
    ],
)
def test_what_is_in_brackets_hides_no_hazard(said: str, rule: str, what: str) -> None:
    steps = "bath: prepare in pot with water 3 L, stuff 2 g"
    found = rules(steps, more=f"  stuff: {said}\n")
    assert what in found[rule]


@pytest.mark.parametrize(
    "said", ["madder (Rubia tinctorum)", "alum (from the shed)", "weld (dried)"]
)
def test_what_is_in_brackets_is_read(said: str) -> None:
    found = rules("bath: prepare in pot with water 3 L, stuff 2 g", more=f"  stuff: {said}\n")
    assert not {"cannot-read", "unknown-word", "not-in-the-vocabulary"} & found.keys()


def test_pieces_of_a_plant_are_to_be_weighed_and_told_once() -> None:
    found = rules(
        "bath: prepare in pot with water 3 L, 6 stones", "  stones: 6 avocado stones, dried\n"
    )
    assert "stones 100 g" in found["unknown-unit"]
    assert "“6” counts stones" in found["loose-measure"]
    assert "wrong-kind-of-thing" not in found


def test_the_liquor_of_a_scour_is_told_how_it_becomes_a_bath() -> None:
    scour = "scour yarn in pot with water 5 L at 60 °C for 30 min\n{cool}\nrinse yarn in tub"
    found = rules(scour.format(cool="cool pot to 40 °C"))
    assert "“pot-bath: prepare in pot with water" in found["used-after-emptied"]
    mended = "pot-bath: prepare in pot with water 5 L\nscour yarn in pot-bath at 60 °C for 30 min\n"
    assert "used-after-emptied" not in rules(mended + "cool pot-bath to 40 °C\nrinse yarn in tub")
