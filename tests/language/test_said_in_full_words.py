"""What people say in more words than they need: “then rinse”, “thirty °C”, “or a bit longer”,
“1 teaspoon to the gallon”; and what is asked where a word is missing."""

from fractions import Fraction

import pytest

import procedure
from procedure.findings import Finding
from procedure.model.types import Step

HEAD = """procedure "In full words"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
materials
  weld: weld, dried
  alum: potassium alum
steps
"""
BATH = "weld-bath: prepare in pot with water 4 L, weld 100 g"


def read(*lines: str) -> procedure.Plan:
    return procedure.read(HEAD + "".join(f"  {line}\n" for line in lines), "x.dye")


def steps(*lines: str) -> list[Step]:
    return [one for one in read(*lines).model.body if isinstance(one, Step)]


def asked(*lines: str) -> Finding:
    (found,) = [one for one in read(*lines).findings if one.rule == "cannot-read"]
    return found


@pytest.mark.parametrize(
    "first",
    ["then ", "Then ", "then, ", "next ", "Finally, ", "lastly ", "afterwards ", "After that, "],
)
@pytest.mark.parametrize("verb", ["rinse yarn in tub with water 5 L", "wet out yarn in tub", "dry"])
def test_what_only_says_the_order_is_read_over(first: str, verb: str) -> None:
    rinse = "rinse yarn in tub with water 5 L"
    with_it, without = read(rinse, first + verb), read(rinse, verb)
    assert [one.rule for one in with_it.findings] == [one.rule for one in without.findings]
    made, plain = steps(rinse, first + verb), steps(rinse, verb)
    assert [one.verb and one.verb.name for one in made] == [
        one.verb and one.verb.name for one in plain
    ]


def test_then_is_a_label_where_a_colon_is_behind_it() -> None:
    (step,) = steps("then: rinse yarn in tub with water 5 L")
    assert step.label is not None
    assert step.label.text == "then"


@pytest.mark.parametrize("line", ["then nothing", "next morning rinse yarn in tub", "then"])
def test_what_follows_then_and_is_no_verb_is_asked_about(line: str) -> None:
    assert asked(line)


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("thirty °C", "30 °C"),
        ("eighty-five °C", "85 °C"),
        ("eighty five °C", "85 °C"),
        ("forty to fifty °C", "40 to 50 °C"),
        ("sixty C", "60 °C"),
    ],
)
def test_a_heat_in_words_has_a_unit_of_one_letter(said: str, plain: str) -> None:
    lines = (f"simmer weld-bath at {said} for 1 h", f"simmer weld-bath at {plain} for 1 h")
    heats = [steps(BATH, line)[1].at for line in lines]
    ends = [one.quantity.ends for one in heats if one is not None and one.quantity is not None]
    assert ends[0] == ends[1]


@pytest.mark.parametrize(
    ("said", "grams"),
    [("one hundred g", 100), ("a hundred grams", 100), ("twenty five g", 25), ("two kg", 2000)],
)
def test_a_weight_in_words(said: str, grams: int) -> None:
    plan = read(f"weld-bath: prepare in pot with water 4 L, weld {said}")
    (amount,) = [one for thing, _, one in plan.trace.moments[0].amounts if "weld" in thing]
    assert amount is not None
    assert amount.low == amount.high == grams


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("or a bit longer", "or longer"),
        (", or a bit longer", "or longer"),
        (", or more", "or more"),
        ("or a little less", "or less"),
        ("or slightly shorter", "or shorter"),
    ],
)
def test_a_bit_more_is_an_open_end(said: str, plain: str) -> None:
    times = [
        steps(f"rinse yarn in tub with water 5 L for 5 min {words}")[0].lasting
        for words in (said, plain)
    ]
    assert times[0] is not None
    assert times[1] is not None
    assert times[0].ends == times[1].ends


@pytest.mark.parametrize(
    ("line", "sentence", "remedy"),
    [
        ("repeat", "It is not said how often, nor until when.", "“repeat 2 times”"),
        ("repeat the rinse", "What is done again is written below “repeat”", "“repeat 2 times”"),
        ("repeat twice", "There is nothing below this “repeat”.", "two blanks deeper"),
        ("if", "It is not said under which condition.", '“if "the colour is too light"”'),
        ("rinse yarn at thirty", "“thirty” is a heat without its unit.", "“at 85 °C”"),
        ("rinse yarn at eighty degrees", "“eighty degrees”", "with °C or °F"),
        ("rinse yarn for twenty", "“twenty” is a time without its unit.", "“for 45 min”"),
    ],
)
def test_a_word_that_is_missing_is_asked_for(line: str, sentence: str, remedy: str) -> None:
    found = asked("rinse yarn in tub with water 5 L", line)
    assert sentence in found.sentence
    assert remedy in found.remedy


def test_a_bath_may_be_preheated() -> None:
    _, step = steps(BATH, "preheat weld-bath to 60 °C")
    assert step.verb is not None
    assert step.verb.name == "heat"


@pytest.mark.parametrize(
    ("said", "litres"),
    [
        ("1 teaspoon to the gallon (imp)", Fraction(1, 1000)),
        ("2 teaspoons per litre", Fraction(9, 1000)),
        ("a teaspoon of alum per litre of water", Fraction(4, 1000)),
    ],
)
def test_spoons_to_the_gallon_grow_with_the_bath(said: str, litres: Fraction) -> None:
    amounts = []
    for water in (4, 8):
        plan = read(
            f"a-bath: prepare in pot with water {water} L, alum {said}".replace(
                "alum a teaspoon", "a teaspoon"
            )
        )
        amounts += [one for thing, _, one in plan.trace.moments[0].amounts if "alum" in thing]
        assert "loose-measure" in [one.rule for one in plan.findings]
        assert "unknown-unit" not in [one.rule for one in plan.findings]
    first, second = amounts
    assert first is not None
    assert second is not None
    assert first.kind == "mass"
    assert (second.low, second.high) == (first.low * 2, first.high * 2)
    assert first.high > litres * 4 * 500  # a mL of alum weighs more than half a gram


def test_a_teaspoon_to_the_gallon_asks_which_gallon() -> None:
    plan = read("a-bath: prepare in pot with water 4 L, alum 1 teaspoon to the gallon")
    (found,) = [one for one in plan.findings if one.rule == "which-gallon"]
    assert "1.1 mL/L or 1.32 mL/L" in found.sentence


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("put yarn in tub with 4 L water for 1 h", "wet out yarn in tub with water 4 L for 1 h"),
        (
            "put the yarn in tub with 4 L of water and leave it for 1 h",
            "wet out yarn in tub with water 4 L for 1 h",
        ),
        ("place yarn in tub with 4 L water for 1 h", "wet out yarn in tub with water 4 L for 1 h"),
    ],
)
def test_fibre_in_plain_water_is_wetted_out(said: str, plain: str) -> None:
    (one,), (other,) = steps(said), steps(plain)
    assert one.verb == other.verb
    assert one.lasting is not None
    assert other.lasting is not None
    assert one.lasting.ends == other.lasting.ends


@pytest.mark.parametrize(
    ("said", "plain"),
    [
        ("weld 100 g or 120 g", "weld 100 to 120 g"),
        ("weld 100 g, half as much alum", "weld 100 g, alum half of weld"),
        ("100 g of weld and twice as much alum", "weld 100 g, alum twice of weld"),
    ],
)
def test_two_amounts_and_half_as_much(said: str, plain: str) -> None:
    made = []
    for words in (said, plain):
        plan = read(f"weld-bath: prepare in pot with water 4 L, {words}")
        made.append([(thing, one) for thing, _, one in plan.trace.moments[0].amounts])
    assert [thing for thing, _ in made[0]] == [thing for thing, _ in made[1]]
    assert [one and one.grams for _, one in made[0]] == [one and one.grams for _, one in made[1]]


@pytest.mark.parametrize(
    ("said", "place"),
    [
        ("pour the weld bath down the loo", "the toilet"),
        ("discard weld-bath into the septic tank", "the septic tank"),
        ("tip weld-bath into the stream", "the stream"),
        ("pour weld-bath on the lawn", "the lawn"),
    ],
)
def test_where_waste_goes_is_kept_by_name(said: str, place: str) -> None:
    _, step = steps(BATH, said)
    assert step.to is not None
    assert step.to.words is not None
    assert step.to.words.text == place


def test_cream_of_tartar_may_follow_its_amount() -> None:
    plan = procedure.read(
        HEAD.replace("  alum: potassium alum", "  alum: potassium alum\n  tartar: cream of tartar")
        + "  alum-bath: prepare in pot with 4 L water, 12 g alum and 6 g of cream of tartar\n",
        "x.dye",
    )
    assert "not-declared" not in [one.rule for one in plan.findings]
    assert "tartar" in [thing for thing, _, _ in plan.trace.moments[0].amounts]


def test_a_litre_is_dripped_over_what_is_written() -> None:
    (step,) = steps("let yarn drip over the tub for 10 min")
    assert step.note == "over the tub"
