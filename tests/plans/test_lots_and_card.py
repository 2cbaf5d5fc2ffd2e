"""The stories of the lots, their sum, and the card, whatever the names are."""

from __future__ import annotations

from html.parser import HTMLParser
from pathlib import Path

import pytest
from expecting import plan_of

import procedure
from procedure.command.main import main
from procedure.handout.lot_stories import account, stories
from procedure.handout.lots_paper import report
from procedure.handout.shade_card import paper
from procedure.paper import in_html
from procedure.paper.measures import Voice

HOSTILE = "<script>alert(1)</script> & '\"><img src=x onerror=alert(2)>"
SPLIT = """wet out yarn in tub with water 5 L for 1 h
split yarn into gold 60 g, moss
dry gold, moss"""


class Tags(HTMLParser):
    """The tags of a page, and the text outside its style."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.bad: list[str] = []
        self.words: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        self.bad += [name for name, _ in attrs if name.startswith("on") or name in ("src", "href")]

    def handle_data(self, data: str) -> None:
        self.words.append(data)


def hostile_plan() -> procedure.Plan:
    """A plan whose free words would be markup where they are not escaped."""
    words = HOSTILE.replace('"', "”")
    text = f"""procedure "{words}"
  by "{words}"
  revised 2026-06-14
  source "x"
  makes "x"
  place outdoors
  wearing gloves
fibre
  ünïcode-łöt: wool yarn, 100 g, scoured
  {"very-" * 11}long: silk yarn, 100 g, scoured
materials
  madder-y-muerdago: dyestuff, "{words}"
equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
steps
  bath: prepare in kettle with water 5 L, madder-y-muerdago 50 g
  if "{words}"
    dye ünïcode-łöt in bath at 60 °C for 1 h
  do "{words}" with {"very-" * 11}long
  discard bath to "{words}"
"""
    return procedure.read(text, f"{words}.dye")


def test_what_was_written_stays_words_on_the_card() -> None:
    made = in_html.page(paper(hostile_plan(), Voice("metric")))
    tags = Tags(made)
    assert {"script", "img"}.isdisjoint(tags.seen) and not tags.bad
    assert any("<script>alert(1)</script>" in words for words in tags.words)
    assert "ünïcode łöt" in made


def test_the_card_needs_nothing_from_outside() -> None:
    made = in_html.page(paper(hostile_plan(), Voice("metric")))
    for mark in ("http:", "https:", "url(", "@import", "<link"):
        assert mark not in made


def test_a_procedure_without_fibre_has_a_card_without_samples() -> None:
    made = in_html.page(
        paper(procedure.read('procedure "x"\nsteps\n  do "stir"\n'), Voice("metric"))
    )
    assert "0 samples" in made


def test_what_remains_of_a_split_adds_up() -> None:
    """100 g less 60 g is 40 g."""
    plan = plan_of(SPLIT)
    sums = account(plan)
    assert sums.went_in == sums.finished == (100, 100)
    assert sums.adds_up
    assert {story.lot: story.weight for story in stories(plan)} == {
        "gold": (60, 60),
        "moss": (40, 40),
    }


def test_a_split_that_does_not_add_up_is_said() -> None:
    plan = plan_of(SPLIT.replace("moss\n", "moss 60 g\n"))
    assert account(plan).adds_up is False
    assert "do not add up" in report(plan)
    assert "come to 120 g, and it weighs 100 g" in report(plan)


def test_a_join_adds_up() -> None:
    plan = plan_of(SPLIT.replace("dry gold, moss", "join gold, moss as skein\ndry skein"))
    (story,) = stories(plan)
    assert story.lot == "skein" and story.weight == (100, 100)
    assert account(plan).adds_up


def test_what_has_no_weight_cannot_be_added_up() -> None:
    plan = plan_of("fibre\n  yarn: wool yarn, scoured\nsteps\n  dry yarn\n")
    assert account(plan).adds_up is None
    assert "cannot be added up: the weight of yarn is not known" in report(plan)


def test_the_share_of_a_bath_is_of_all_its_fibre() -> None:
    """12 g of alum on 100 g is 12 %, though each half is 50 g."""
    plan = plan_of("""wet out yarn in tub with water 5 L for 1 h
split yarn into gold 50 g, moss 50 g
alum-bath: prepare in kettle with water 5 L, alum 12 g
mordant gold, moss in alum-bath at 80 °C for 1 h
rinse gold, moss in tub with water 5 L
discard alum-bath to "foul drain"
""")
    assert all(
        "alum (12 %)" in event.said
        for story in stories(plan)
        for event in story.events
        if event.does.puts_fibre_in
    )


def test_a_step_of_a_followed_file_names_that_file() -> None:
    told = report(
        plan_of("""washing: follow "wash.dye" with yarn, tub
dry yarn

# saved as: wash.dye
steps
  rinse yarn in tub with water 5 L
""")
    )
    assert "(wash.dye, line" in told


def test_dips_that_may_be_more() -> None:
    plan = plan_of("""wet out yarn in tub with water 5 L for 1 h
vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
repeat 2 to 3 times
  dip yarn in vat at 50 °C for 5 min
  air yarn for 15 min
if "it is too pale"
  dip yarn in vat at 50 °C for 5 min
  air yarn for 15 min
discard vat to "foul drain"
""")
    (story,) = stories(plan)
    assert story.short == "2 to 4 dips in indigo"


def test_one_lot_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = Path(__file__).parents[2] / "examples" / "plans" / "shade-card-24.dye"
    assert main(["lots", str(path), "--only", "leafed.long.sad"]) == 0
    out = capsys.readouterr().out
    assert "\nleafed.long.sad: 5 g of wool" in out and "alumed" not in out
    assert main(["lots", str(path), "--only", "leafed.long.sat"]) == 2
    assert "did you mean leafed.long.sad?" in capsys.readouterr().err


def said_of(text: str, lot: str = "yarn") -> str:
    """All that the story of a lot says, in one line."""
    (story,) = (one for one in stories(plan_of(text)) if one.lot == lot)
    return "; ".join(event.said for event in story.events)


def test_rounds_are_told_with_their_clock_and_what_ends_them() -> None:
    told = said_of("""repeat every 6 to 8 min until "the water runs clear"
  rinse yarn in tub with water 5 L at 30 °C
repeat at least 3 times until "it is deep enough"
  rinse yarn in tub with water 5 L at 30 °C until "no froth is left"
dry yarn
""")
    assert "again and again every 6 to 8 min until the water runs clear" in told
    assert "until no froth is left, 3 or more times, until it is deep enough" in told


def test_a_mordant_is_told_with_what_helps_it() -> None:
    """2 g of tartar on 20 g, beside 2 g of alum: a tenth each."""
    told = said_of(
        """
materials
  tartar: cream of tartar
fibre
  small: wool yarn, 20 g, scoured
steps
  wet out small in tub with water 5 L at 30 °C for 1 h
  alum-bath: prepare in kettle with water 1 L at 40 °C, alum 2 g, tartar 2 g
  mordant small in alum-bath from 40 °C to simmer over 45 min for 1 h
  lift small from alum-bath
""",
        "small",
    )
    assert "with alum (10 %) and tartar (10 %) from 40 °C to the simmer (80 to 95 °C)" in told


def test_a_stock_added_in_rounds_is_told_from_the_first_to_the_last() -> None:
    """A tenth of 50 g on 100 g is 5 % the first time and 15 % the third."""
    told = said_of("""wet out yarn in tub with water 5 L at 30 °C for 1 h
stock: dissolve weld 50 g in pan with water 1 L at 40 °C
weld-bath: prepare in kettle with water 5 L at 30 °C
repeat 3 times
  add 1/10 of stock to weld-bath
  dye yarn in weld-bath at 40 °C for 15 min
lift yarn from weld-bath
""")
    assert "dyed in weld-bath with weld (5 to 15 %) at 40 °C for 15 min, 3 times" in told


def test_what_goes_in_when_other_fibre_is_out_is_a_share_of_what_meets_it() -> None:
    """2 g of iron on the 100 g of silk that come after the wool: 2 %, not 1 %."""
    told = said_of(
        """wet out yarn in tub with water 5 L at 30 °C for 1 h
wet out silk in tub with water 5 L at 30 °C for 1 h
weld-bath: prepare in kettle with water 5 L, weld 100 g at 40 °C
dye yarn in weld-bath at 40 °C for 15 min
lift yarn from weld-bath
add iron 2 g to weld-bath
dye silk in weld-bath at 40 °C for 15 min
lift silk from weld-bath
""",
        "silk",
    )
    assert "ferrous sulphate (2 %) and weld (50 %)" in told


def test_what_a_lot_was_given_before_is_told() -> None:
    told = report(
        plan_of("""
fibre
  pale: wool yarn, 4 skeins of 25 g, scoured, mordanted with alum 10 %, dry
steps
  wet out pale in tub with water 5 L at 30 °C for 1 h
"""),
        only="pale",
    )
    assert "declared; before that, given potassium alum 10 %" in " ".join(told.split())


ONE_OR_THE_OTHER = """onion-bath: prepare in kettle with water 4 L at 40 °C
either "yellow"
  add weld 50 g to onion-bath
or "red"
  add madder 40 g to onion-bath
if "too pale"
  add weld 10 g to onion-bath
dye yarn in onion-bath from 40 °C to 70 °C over 30 min for 30 min
rinse yarn in tub with water 5 L"""


def test_what_is_met_on_one_way_is_told_with_it() -> None:
    (story,) = stories(plan_of(ONE_OR_THE_OTHER))
    dyed = story.events[0].said
    assert "madder (40 %) on the way “red”" in dyed
    # On 100 g of yarn: 50 and 10 g, or 10 g alone on the way without the 50.
    assert "weld (10 to 60 %)" in dyed


@pytest.mark.parametrize(
    ("lines", "said"),
    [
        ("wet out yarn in tub with water 5 L for 1 h", False),
        ("split yarn into a, b\nwet out a, b in tub with water 5 L for 1 h", True),
        ("wet out yarn, silk in tub with water 5 L for 1 h\njoin yarn, silk into all", True),
    ],
)
def test_only_where_lots_are_split_or_joined_it_is_said_whether_they_add_up(
    lines: str, said: bool
) -> None:
    text = report(plan_of(lines))
    assert text.count("Came out:") == 1
    assert ("plits and joins" in text or "added up" in text) is said, text
