"""What somebody tried who meant to hurt: words that hid a danger, and sound words beside them."""

from __future__ import annotations

import pytest
from expecting import findings

import procedure
from procedure import Finding
from procedure.model.harm import plants_named
from procedure.model.substances import put_in
from procedure.vocabulary import vocabulary
from procedure.vocabulary.suggestions import suggestion

HEAD = """procedure "{title}"
  by "Fellside Dye Circle"
  revised 2026-06-14
  {makes}
  place outdoors
  wearing gloves, eye protection
  note "{note}"

equipment
  pot:   stainless steel pot, 8 L, lidded, for dyeing only
  stick: {stick}

materials
  tops: {tops}

steps
  bath: prepare in pot with water 4 L, tops 50 g
  discard bath to "hazardous waste collection"
"""


def told(
    note: str = "It is a quiet day.",
    makes: str = 'makes "a skein"',
    title: str = "Gold",
    tops: str = "tansy tops, fresh",
    stick: str = "wooden stick, for dyeing only",
) -> list[Finding]:
    text = HEAD.format(note=note, makes=makes, title=title, tops=tops, stick=stick)
    return list(procedure.read(text, "example.dye").findings)


def of_rule(rule: str, found: list[Finding]) -> list[Finding]:
    return [one for one in found if one.rule == rule]


# A denial denies what it governs, and no more: the plant is in the pot.
THERE = (
    "do not forget to add the foxglove",
    "never fail to put in the yew",
    "do not let the foxglove boil over",
    "never touch the hot foxglove leaves, use tongs to put them in",
    "do not stir the oleander with a spoon for the kitchen",
    "do not skip the foxglove",
    "add lilies of the valley",
    "add muguet",
    "a few leaves of ladder to heaven",
    "squeeze the pokeberries",
)
NOT_THERE = (
    "look out for hemlock, which looks like this plant",
    "watch out for foxglove when you gather comfrey",
    "do not let the children into the yew",
    "never touch the foxglove by the gate",
    "never touch the foxglove by the gate, use the other path",
    "do not pick hemlock: throw it out if it has come with it",
)


@pytest.mark.parametrize("words", THERE)
def test_a_denial_denies_what_it_governs(words: str) -> None:
    assert plants_named(words)


@pytest.mark.parametrize("words", NOT_THERE)
def test_what_is_only_warned_of_is_not_there(words: str) -> None:
    assert not plants_named(words)


BLEACHED = (
    "mix bleach with vinegar and pour it in",
    "pour bleach onto the vinegar",
    "then bleach it in household bleach",
    "use bleach to clean the sour pot",
    "do not heat the bleach; pour it into the vinegar",
    "add chrome",
    "stir in chrome and simmer",
)
NOT_BLEACHED = (
    "bleach the yarn in the sun",
    "use the bleach bucket for the rain water",
    "polish the chrome",
    "hang it in the lime tree",
    "use lime green yarn",
    "do not use bleach, use soap",
    "add chrome nails",
)


@pytest.mark.parametrize("words", BLEACHED)
def test_a_bleach_or_salt_is_put_in_in_any_order_of_words(words: str) -> None:
    assert put_in(words)


@pytest.mark.parametrize("words", NOT_BLEACHED)
def test_what_is_no_bleach_is_left_alone(words: str) -> None:
    assert not put_in(words)


WAYS = (
    ("light the burner under the meths", "careless-way", "error"),
    ("use the same spoon for the soup", "careless-way", "warning"),
    ("let the children stir the mordant", "careless-way", "warning"),
    ("leave the pot on the gas all night", "heated-unattended", "error"),
    ("add chromic acid", "household-product", "error"),
    ("add picric acid", "household-product", "error"),
    ("add prussic acid", "household-product", "error"),
    ("add mercury", "household-product", "error"),
)


@pytest.mark.parametrize(("words", "rule", "level"), WAYS)
def test_what_free_words_have_done(words: str, rule: str, level: str) -> None:
    found = [one for one in findings(f'do "{words}"') if one.rule != "not-modelled"]
    assert [(one.rule, one.level) for one in found] == [(rule, level)]


HARMLESS = (
    "read the mercury thermometer",
    "use the same spoon for both baths",
    "light the candle in the kitchen",
    "let the children stir the soup",
    "leave the pot on the shelf all night",
)


@pytest.mark.parametrize("words", HARMLESS)
def test_what_harms_nobody_is_not_told(words: str) -> None:
    assert {one.rule for one in findings(f'do "{words}"')} <= {"not-modelled"}


def test_a_stick_of_a_plant_that_kills_needs_no_quotation_marks() -> None:
    for stick in ("oleander stick", "yew spoon", '"yew spoon"'):
        assert of_rule("deadly-plant", told(stick=stick)), stick
    assert of_rule("which-is-meant", told(stick="oleandr spoon"))


UNKNOWN = ("ladder to hell", "ether", "filings", "crabapple blossom", "our socks", "sulphur heap")


@pytest.mark.parametrize("words", UNKNOWN)
def test_no_plant_is_suggested_for_a_word_of_another_plant(words: str) -> None:
    remedies = [one.remedy for one in told(tops=words) if one.rule == "unknown-word"]
    assert remedies and not [one for one in remedies if one.startswith("Did you mean")]


def test_a_slip_is_still_put_right() -> None:
    for word, meant in (("maddar", "madder"), ("wled", "weld"), ("marigolld", "marigold")):
        assert suggestion(word, "dyestuffs").meant == meant


NEWLY_KNOWN = {
    "mayapple": "Podophyllum peltatum",
    "may apple": "Podophyllum peltatum",
    "hemp-agrimony": "Eupatorium cannabinum",
    "hemp agrimony": "Eupatorium cannabinum",
    "sulphur tuft": "Hypholoma fasciculare",
    "muguet": "Convallaria majalis",
    "our lady's tears": "Convallaria majalis",
    "may lily": "Convallaria majalis",
}


@pytest.mark.parametrize("name", NEWLY_KNOWN)
def test_plants_are_known_by_their_names(name: str) -> None:
    found = vocabulary().material(name)
    assert found is not None
    danger = vocabulary().danger(found)
    assert danger is not None and danger.facts["botanical"] == NEWLY_KNOWN[name]


SALTS = {
    "prussiate of potash": "potassium ferrocyanide",
    "potash lye": "caustic potash",
    "iron alum": "iron alum",
    "iron filings": "metallic iron",
    "iron nails": "metallic iron",
    "potash": "potash",
    "iron": "ferrous sulphate",
}


@pytest.mark.parametrize("name", SALTS)
def test_a_salt_is_read_as_what_its_name_says(name: str) -> None:
    """By the names in Webster 1913 (prussiate) and Cooley's Cyclopaedia (iron alum)."""
    found = vocabulary().material(name)
    assert found is not None and found.name == SALTS[name]


FOR_WHOM = (
    {"title": "An afternoon for expecting mothers"},
    {"note": "For our antenatal group: everyone is due in the summer."},
    {"note": "open to expectant mothers"},
    {"note": "for the pupils of year four"},
    {"makes": 'makes "a nursery blanket dyed by the toddlers"'},
)
FOR_OTHERS = (
    {"note": "Not for children, and not while expecting a child."},
    {"note": "Keep it away from children."},
    {"makes": 'makes "a blanket for the baby"'},
    {"makes": 'makes "yarn for a child\'s coat"'},
    {"note": "Nobody who is pregnant takes part."},
    {"note": "We have done so for a year."},
)


@pytest.mark.parametrize("said", FOR_WHOM)
def test_a_note_or_a_title_tells_whom_it_is_for(said: dict[str, str]) -> None:
    """Tansy and rue are kept from those who expect a child (plants_that_harm.csv)."""
    found = of_rule("children-near-hazard", told(**said))
    assert [one.level for one in found] == ["error"]


@pytest.mark.parametrize("said", FOR_OTHERS)
def test_whom_a_note_keeps_out_it_is_not_for(said: dict[str, str]) -> None:
    assert not of_rule("children-near-hazard", told(**said))


def test_weld_is_for_everybody() -> None:
    found = told(note="for expectant mothers and the children", tops="weld tops, dried")
    assert not of_rule("children-near-hazard", found)


LOOKS = """  gather tops 50 g from "the wood"
"""


@pytest.mark.parametrize(
    ("tops", "like", "unlike"),
    [
        ("hemlock leaves, fresh, gathered 2026-06-01", "", "elder"),
        ("foxglove leaves, fresh, gathered 2026-06-01", "", "comfrey"),
        ("cherry laurel leaves, fresh, gathered 2026-06-01", "", "bay"),
        ("mullein leaves, fresh, gathered 2026-06-01", "foxglove", "comfrey"),
        ("elderberry berries, fresh, gathered 2026-06-01", "danewort", "privet"),
    ],
)
def test_nobody_is_warned_of_the_harmless_plant_while_gathering_the_other(
    tops: str, like: str, unlike: str
) -> None:
    said = " ".join(one.sentence for one in of_rule("easily-confused", told(tops=tops)))
    assert (like in said) and (unlike not in said)
    assert bool(said) == bool(like)


def test_an_unknown_plant_is_warned_of_once_and_a_latin_name_makes_it_known() -> None:
    unknown = told(tops='dyestuff, fresh, "frostberry tops"')
    assert [one.level for one in of_rule("harm-not-known", unknown)] == ["warning"]
    known = told(tops='dyestuff, dried, "Reseda luteola"')
    assert not of_rule("harm-not-known", known)
    deadly = told(tops='dyestuff, fresh, "Convallaria majalis"')
    assert of_rule("deadly-plant", deadly)
    assert of_rule("harm-not-known", told(tops='dyestuff, fresh, "not Reseda luteola"'))


@pytest.mark.parametrize("tops", ["mercury", "picric acid", "prussic acid", "antifreeze"])
def test_a_poison_of_the_house_is_told_without_quotation_marks(tops: str) -> None:
    assert of_rule("household-product", told(tops=tops))


def test_dogs_mercury_is_no_metal() -> None:
    assert not of_rule("household-product", told(tops="dog's mercury leaves"))
