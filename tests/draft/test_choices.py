"""One of two that are offered, an after-bath of its own, and what is had ready to be worn."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

DYED = (
    "100 g of wool yarn. Mordant it with 10 g of alum in 4 litres of water for 1 hour at 85 °C. "
    "Simmer 100 g of weld in 4 litres of water for 1 hour and strain. Put the wool in for 1 hour. "
)


def test_one_of_two_times_is_a_step_and_the_other_a_note_of_it() -> None:
    text = drafted(DYED.replace("for 1 hour. ", "for 3 hours, or overnight. ")).text
    assert 'dye wool in dye-bath for 3 h note "or overnight"' in text


def test_times_for_several_shades_are_asked_about() -> None:
    text = drafted(DYED + "Give it 20 min for lemon, 1 hr for gold, overnight for ochre.").text
    for words in ("20 min", "1 hr", "overnight"):
        assert f'not placed: "{words}"' in text


def test_one_of_two_weights_is_not_added_to_the_other() -> None:
    told = "100 g of wool. Simmer 30 g of dried marigold (or 150 g fresh) in 2 litres of water."
    text = drafted(told).text
    assert "marigold 30 g" in text
    assert "marigold 150 g" not in text


@pytest.mark.parametrize(
    "told",
    [
        "Then I put the skein in a litre of water with 1 g of iron for 5 minutes.",
        "Put it into 2 litres of warm water with 1 g of iron for 5 minutes.",
        "I gave the skein five minutes in a bowl of water with 1 g of iron.",
    ],
)
def test_water_with_iron_is_a_bath_of_its_own(told: str) -> None:
    steps = drafted(DYED + told).text.partition("\nsteps\n")[2].splitlines()
    prepared = [
        one for one in steps if "ferrous-sulphate 1 g" in one and not one.strip().startswith("#")
    ]
    assert [one.split()[1] for one in prepared] == ["prepare"]


@pytest.mark.parametrize(
    "told",
    [
        "Equipment: a large kettle, a scale, rubber gloves.",
        "You will need: a bucket, gloves, a spoon.",
        "You provide: rubber gloves.",
        "Gloves from start to finish, or your hands are brown.",
        "GOGGLES AND GLOVES whenever lime is about.",
    ],
)
def test_gloves_that_are_had_ready_are_worn(told: str) -> None:
    assert (
        "gloves" in drafted(f"{told}\n\n{DYED}").text.partition("\nfibre")[0].split("wearing")[-1]
    )


def test_an_open_window_is_kept_at_the_step() -> None:
    text = drafted(
        "100 g of wool. Simmer 100 g of weld in 3 L of water for 1 h, lid on, window open."
    ).text
    assert "covered ventilated" in text


def test_numbers_of_steps_are_no_amounts() -> None:
    told = "1 SOAK. Wet 50 g of wool.\n\n2 MAKE THE DYE. Simmer 50 g of weld in 2 L of water.\n"
    told += "2.1 Strain.\n2.2 Put the wool in."
    text = drafted(told).text
    for number in ("1", "2", "2.1", "2.2"):
        assert f'not placed: "{number}"' not in text
