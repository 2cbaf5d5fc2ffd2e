"""Words that have the verbs of deeds and tell the reader to do nothing: no step comes of them."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BEGUN = (
    "100 g of wool yarn, two skeins of 50 g. Simmer 100 g of dried weld in 4 litres of water for "
    "an hour and strain it. "
)
IN_THE_BATH = f"{BEGUN}Put the wool in the dye bath. "

MISHAPS = [
    "Last time I simmered it for two hours and it went like mud.",
    "The winter of the long frost I left the skeins in for a week and they rotted.",
    "When I was a lass we washed the fleeces in the trough and hung them on the wall.",
    "A hasty lad once left the iron in overnight and the yarn fell to pieces.",
    "My first attempt I simmered for three hours and it came out like brick.",
    "An earlier batch, boiled too hard, felted.",
    "Our cousin boiled hers for two hours and it shrank.",
    "We used to boil it with stale urine for two days.",
    "I remember the children tipping the whole jar of chalk in and boiling it.",
    "The jug went over and about half a litre of the dye was lost.",
    "Some of the liquor, perhaps 200 mL, leaked out of the cracked pan.",
]
FIGURES_OF_SPEECH = [
    "Mother used to say I dyed in my sleep.",
    "I strained my back carrying the pots.",
    "He let the matter rest for an hour.",
    "I boiled the kettle and had a sandwich.",
    "We were soaked to the skin picking the heather.",
    "I hung my head in shame.",
    "The juice stains your fingers for a fortnight.",
    "The smell hangs in the kitchen for a week.",
    "(our Wilf was left to dry the dishes)",
]
TAKEN_BACK = [
    "Then I added an ounce of tin... no, I tell a lie, that was the scarlet.",
    "Add 10 g of chalk. No, forget the chalk.",
    "Stir in two spoons of lime. Never mind that.",
    "Add half an ounce of tin - no, that is for the scarlet.",
    "Rinse it in lye. No! Forget the lye.",
]
NOT_TO_BE_DONE = [
    "\nObj.: compare a cold rinse with a hot rinse, both dried in the shade.",
    "\nAim: to see whether boiling dulls the yellow.",
    "\nResult: the boiled half was dull, the rinsed half bright.",
    "\nObs.: B paler than A after rinsing; nothing bled when dried.",
    "\nCombined extracts 1.1 L.",
    "\nTotal liquor 2.4 L.",
    "\nSample X: no addition (pH 7.4).",
    "\nThe pH was 6.8.",
    "\n- a 20-litre pot, a sieve, a thermometer",
    "\nEquipment: two pans, muslin for straining, a rack for drying.",
    "\nIn the cupboard: 200 g of alum, 50 g of chalk.",
    "\nThe guild's stock of iron liquor is 20 g in 1 litre.",
    "\nThe wool may be given a weak soda bath (5 g in 5 litres, cold, 10 minutes).",
    "\nThe skeins might be passed through weak ammonia for a redder tone.",
]


@pytest.mark.parametrize("words", [*MISHAPS, *FIGURES_OF_SPEECH, *TAKEN_BACK, *NOT_TO_BE_DONE])
def test_no_step_comes_of_words_that_tell_of_no_deed(words: str) -> None:
    assert _steps(IN_THE_BATH, words) == []


@pytest.mark.parametrize("words", [*MISHAPS, *TAKEN_BACK])
def test_what_is_left_out_is_told(words: str) -> None:
    draft = drafted(IN_THE_BATH + words)
    told = draft.text[draft.text.index(words.split()[0], draft.text.index("steps")) :]
    assert "# not followed:" in told or "# not placed:" in told


DONE = [
    ("I boiled it for an hour.", ["boil dye-bath for 1 h"]),
    ("Last of all I rinsed it in cold water.", ["rinse wool at cold"]),
    ("Last night I added 5 g of chalk.", ["add chalk 5 g to dye-bath"]),
    ("This time I boiled it for half an hour.", ["boil dye-bath for 1/2 h"]),
    (
        "Last time I boiled it, but this time I simmered it for an hour.",
        ["simmer dye-bath for 1 h"],
    ),
    ("A friend and I simmered it for an hour.", ["simmer dye-bath for 1 h"]),
    ("Simmer it for an hour while you wash up the pots.", ["simmer dye-bath for 1 h"]),
    ("Simmer it for an hour (poor Meg had to rinse at the pump).", ["simmer dye-bath for 1 h"]),
    ("Never mind the froth; simmer for an hour.", ["simmer dye-bath for 1 h"]),
    ("Leave the wool in the liquor for a week.", ["hold dye-bath for 1 wk"]),
    (
        "Add citric acid to pH 4.",
        ["add citric-acid unstated to dye-bath", "stand dye-bath until pH 4"],
    ),
    ("The yarn may now be rinsed and dried.", ["rinse wool", "dry wool"]),
    ("Rinse the wool in water with a drop of washing-up liquid.", ["rinse wool"]),
]


@pytest.mark.parametrize(("words", "steps"), DONE)
def test_what_is_done_stays(words: str, steps: list[str]) -> None:
    made = _steps(IN_THE_BATH, words)
    assert [one.partition(" with ")[0].partition(" in tub")[0] for one in made] == steps


def test_the_aim_tells_the_fibre_and_makes_no_bath() -> None:
    prose = (
        "Purpose. To obtain two shades from one bath upon 500 g of hand-spun Jacob wool.\n\n"
        "Dissolve 50 g of alum in 10 litres of water. Put in the wool and simmer for an hour."
    )
    text = drafted(prose).text
    assert "500 g" in text[text.index("fibre") : text.index("equipment")]
    assert text.count("prepare in") == 1


def test_a_copper_bath_that_goes_in_the_drum_is_discarded() -> None:
    prose = (
        "Simmer 100 g of cotton in 4 litres of water with 2 g of copper sulphate for an hour. "
        "Lift the cotton, rinse and dry it. "
    )
    waste = "The copper liquor goes in the marked drum, never down the sink."
    assert _steps(prose, waste) == ["discard mordant-bath"]


@pytest.mark.parametrize(
    "words",
    [
        "Iron liquor goes into the waste carboy.",
        "Alum water should go into the slop bucket, not into the pond.",
    ],
)
def test_waste_that_no_bath_is_of_goes_into_none(words: str) -> None:
    assert _steps(IN_THE_BATH, words) == []


def test_a_bath_with_fibre_in_it_is_not_waste() -> None:
    words = "The dye bath goes on the compost heap."
    assert _steps(IN_THE_BATH, words) == []
    [step] = _steps(f"{IN_THE_BATH}Lift the wool. ", words)
    assert step.startswith("discard dye-bath")


def test_what_has_been_aired_is_not_aired_again() -> None:
    before = f"{IN_THE_BATH}Lift the wool and air it for ten minutes. "
    assert _steps(before, "Once the last skein had aired, I rinsed the wool.") == ["rinse wool"]


def test_what_is_shaken_and_hung_up_goes_into_no_bath() -> None:
    steps = _steps(IN_THE_BATH, "You take it out, shake it, and hang it in the orchard.")
    assert steps == ["lift wool", "air wool"]


def test_what_is_hung_up_last_dries() -> None:
    lifted = f"{IN_THE_BATH}Lift the wool. "
    assert _steps(lifted, "Rinse it and hang it up.") == ["rinse wool", "dry wool"]
    assert _steps(lifted, "Rinse it and hang it up to dry.") == ["rinse wool", "dry wool"]
    assert _steps(lifted, "Rinse it and hang it up. Wash it in soap.")[:2] == [
        "rinse wool",
        "air wool",
    ]


def test_a_pan_through_a_sieve_is_strained() -> None:
    assert _steps(BEGUN, "Pass the liquor through a hair sieve.")[:1] == ["strain dye-bath"]


def _steps(before: str, words: str) -> list[str]:
    """The steps that come of some words behind others."""
    draft = drafted(before + words)
    begins = len(drafted(before).sentences)
    lines = draft.text.split("\n")
    made = [
        lines[line - 1].strip()
        for line, sentence in sorted(draft.origin.items())
        if sentence > begins
    ]
    return [one for one in made if not one.startswith("#")]
