"""A lot that is dyed in a bath that other fibre had before is no equal of the first."""

from __future__ import annotations

from functools import cache

from procedure import read
from procedure.command.voice import voice_of
from procedure.handout import shade_card, short
from procedure.handout.book import entry, told_apart
from procedure.paper import in_text
from procedure.pipeline import Judged

TWO = """\
procedure "Two from one bath"
  makes "six ounces: rose and olive"
fibre
  {first}: wool yarn, 50 g, scoured, mordanted with alum 12 %
  {second}: wool yarn, 50 g, scoured, mordanted with alum 12 %
equipment
  pan: stainless steel pot, 5 L, lidded, for dyeing only
materials
  onion: onion skins, dried
steps
  onion-bath: prepare in pan with water 3 L, onion 50 g at 40 °C
  dye {first} in onion-bath from 40 °C to 85 °C over 45 min for 45 min
  lift {first}
  cool onion-bath to 40 °C
{between}  dye {second} in onion-bath from 40 °C to 85 °C over 45 min for 45 min
  lift {second}
"""


@cache
def two(first: str = "deep", second: str = "pale", between: str = "") -> Judged:
    return read(TWO.format(first=first, second=second, between=between), "two.dye")


def card_of(plan: Judged) -> str:
    return in_text.page(shade_card.paper(plan, voice_of(plan, None)))


def handout_of(plan: Judged) -> str:
    return " ".join(in_text.page(short.paper(plan, voice_of(plan, None))).split())


def test_the_card_tells_the_second_use_of_a_bath() -> None:
    card = card_of(two())
    # A row of its own and a tag of its own; the first has neither word.
    assert card.count("Onion skins 1½ hours in the bath used once already") == 2
    assert "onion in the bath used once already, 90 min" in card
    # Of what was weighed the second has not the same share, nor the same colour.
    assert card.count("(50 %)") == 1
    assert card.count("about yellow") == 1
    assert "yellow, usually paler than from the fresh bath" in card


def test_the_handout_has_a_swatch_for_the_first_only() -> None:
    said = handout_of(two())
    assert "deep: yellow, approximately" in said
    assert "Pale: yellow, usually paler than from the fresh bath." in said
    assert "pale: yellow, approx" not in said and "pale and deep" not in said


def test_what_is_fed_afterwards_is_fresh() -> None:
    assert "used once already" not in card_of(two(between="  add onion 50 g to onion-bath\n"))


def test_a_lot_of_unknown_colour_is_told_beside_the_others() -> None:
    iron = "  add iron 2 % of olive to onion-bath\n"
    text = TWO.format(first="rose", second="olive", between=iron)
    plan = read(text.replace("materials\n", "materials\n  iron: ferrous sulphate\n"), "two.dye")
    assert "Olive: colour not known beforehand." in handout_of(plan)


def test_the_name_of_a_lot_is_no_colour_where_its_own_is_known() -> None:
    made = entry(two("rose", "coral"), "two", voice_of(two(), None))
    assert made.makes == "six ounces: rose and olive"
    # Rose is expected yellow; olive is no lot here, and its writer says that it is made.
    assert made.colours == ("green", "yellow")


def test_two_of_one_title_are_told_apart_by_their_files() -> None:
    one = entry(two(), "two", voice_of(two(), None))
    other = one._replace(title="Another")
    told = told_apart([one, other, one], ["a.dye", "b.dye", "old/c.dye"])
    assert [each.title for each in told] == [
        "Two from one bath (a.dye)",
        "Another",
        "Two from one bath (old/c.dye)",
    ]
