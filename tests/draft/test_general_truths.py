"""What prose says of how things are wont to be, or has come of it, is no step of the draft."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BEGINS = (
    "100 g of wool yarn. Mordant it with 10 g of alum in 4 litres of water"
    " for 1 hour at 85 °C. Rinse. "
)


def steps(told: str) -> list[str]:
    """The steps of a draft."""
    lines = drafted(BEGINS + told).text.partition("\nsteps\n")[2].splitlines()
    return [one.strip() for one in lines if one.strip() and not one.strip().startswith("#")]


@pytest.mark.parametrize(
    "told",
    [
        "Streakiness usually means wool that was badly scoured.",
        "Felting means somebody has boiled it.",
        "A grown-up can boil the seeds for tea.",
        "Any child can rinse them and boil them.",
        "Silk hates to be boiled.",
        "Mohair loses its lustre above 80 °C.",
        "My sample in the window faded in 8 weeks.",
        "Don't bother straining, it rinses out.",
        "Wash your hands and the spoons.",
        "Check that the pan doesn't boil dry!",
        "Tip: red ones are stronger.",
        "Leave two thirds of each patch for the bees.",
        "Use old leaves, dry is fine.",
    ],
)
def test_what_is_only_said_makes_no_step(told: str) -> None:
    assert steps(told) == steps("")


def test_the_same_verbs_make_steps_where_they_are_deeds() -> None:
    told = (
        "Boil 50 g of madder in 3 litres of water for 1 hour, strain, and put"
        " the wool in. Rinse it, wash it and dry it."
    )
    made = " ".join(step.split()[0] for step in steps(told)[len(steps("")) :])
    assert {"strain", "rinse", "wash", "dry"} <= set(made.split())


def test_counting_to_sixty_is_no_heat() -> None:
    text = drafted(
        "100 g of wool. Pour boiling water over 50 g of madder, and count to sixty."
    ).text
    assert "60 °C" not in text
    assert 'not placed: "sixty"' in text


def test_an_hour_and_a_half_before_a_heat_is_a_time() -> None:
    told = (
        "Put the wool into 4 litres of water with 50 g of weld. Warm it over"
        " an hour and a half to 70 °C."
    )
    assert any("to 70 °C over 1 1/2 h" in step for step in steps(told))


def test_what_has_come_of_it_is_not_brought() -> None:
    told = (
        "Simmer 100 g of alder bark in 5 litres of water for 1 hour and"
        " strain. You should have 4 litres."
    )
    assert not any("4 L" in step for step in steps(told)[len(steps("")) :])


def test_a_total_in_brackets_is_no_second_lot() -> None:
    text = drafted(
        "I had two 40 g skeins of wool (so 80 g all together). Dye them with 80 g of weld."
    ).text
    assert "wool-2" not in text


def test_what_a_later_skein_would_weigh_is_not_the_lot() -> None:
    told = (
        "Wool. Simmer 500 g of marigolds in 6 litres for 1 hour, put the wool"
        " in and dye it. Rinse. Boil the flowers again for one 50 g skein."
    )
    assert "50 g" not in drafted(told).text.partition("steps")[0]


def test_the_size_of_a_kettle_is_not_water() -> None:
    text = drafted(
        "You need a 12-quart enamel or steel kettle. Simmer 1 lb of weld in 6"
        " quarts of water. Put 1 lb of wool in."
    ).text
    assert "water 12 qt" not in text


def test_dots_between_the_items_of_a_list_part_them() -> None:
    text = drafted(
        "In the box: 1 skein of wool, 50 g, already mordanted with alum · 30 g"
        " weld · 4 g chalk. Simmer the weld in 2 litres of water. Put the wool"
        " in for 1 hour."
    ).text
    assert "mordanted with potassium alum" in text
    assert "weld 30 g" in text
