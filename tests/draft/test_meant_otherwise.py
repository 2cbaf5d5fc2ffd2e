"""Words that a careful reader takes otherwise than they stand: purposes, shades, sizes, states."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

BEFORE = (
    "100 g of wool. Simmer 100 g of dried weld in 4 litres of water for an hour and strain it. "
)


def _steps(prose: str) -> list[str]:
    lines = drafted(prose).text.partition("\nsteps\n")[2].splitlines()
    return [line.partition("  #")[0].strip() for line in lines if not line.strip().startswith("#")]


@pytest.mark.parametrize(
    "prose",
    [
        "100 g wool. Simmer 60 g of birch bark in 5 L water for an hour and dye the wool in it.",
        "100 g silk. Boil 40 g of walnut hulls in 3 L for two hours and dye the silk in this.",
        "100 g cotton. Simmer 80 g of oak bark in 4 L for an hour, then dye the cotton in it.",
    ],
)
def test_fibre_is_dyed_in_what_was_simmered_before(prose: str) -> None:
    steps = _steps(prose)
    cooked = next(n for n, line in enumerate(steps) if line.startswith(("simmer", "boil")))
    assert [line.split()[0] for line in steps[cooked + 1 :] if line][:1] == ["dye"]
    assert not [line for line in steps if line.startswith("enter")]


@pytest.mark.parametrize(
    "said",
    [
        "Dip it ten minutes in an iron bath, 2 g of iron in 4 L, to sadden it.",
        "Then dip it in 4 L of water with 2 g of iron for five minutes to sadden it.",
    ],
)
def test_what_a_dip_is_for_is_no_second_deed(said: str) -> None:
    steps = _steps(f"{BEFORE}Put the wool in for an hour. {said}")
    assert not [line for line in steps if line.startswith("modify")]
    assert len([line for line in steps if line.endswith(("for 5 min", "for 10 min"))]) == 1


def test_sadden_is_a_deed_of_its_own_still() -> None:
    steps = _steps(f"{BEFORE}Put the wool in for an hour. Sadden it with 2 g of iron for 10 min.")
    assert [line for line in steps if line.startswith("modify wool")]


@pytest.mark.parametrize(
    ("said", "stuff"),
    [
        ("For a plum, add 2 g of iron.", "plum"),
        ("For a walnut brown add 2 g of iron.", "walnut"),
        ("Put in a lump of chalk the size of a walnut.", "walnut"),
        ("Add a crystal of alum the bigness of an oak apple.", "oak"),
    ],
)
def test_a_shade_and_a_size_bring_no_plant(said: str, stuff: str) -> None:
    assert not [line for line in _steps(f"{BEFORE}Put the wool in. {said}") if stuff in line]


def test_a_shortened_unit_goes_on_to_the_capital_behind_it() -> None:
    draft = drafted(
        "Wool\n8 oz. wool yarn\n6 oz. Osage orange sawdust\n1 oz. alum\nBoil the sawdust."
    )
    assert "8 oz" in draft.text.partition("equipment")[0]
    assert "6 oz" not in draft.text.partition("equipment")[0]
    assert "osage-orange 6 oz" in draft.text


def test_a_bath_for_a_plant_is_of_the_plant() -> None:
    assert any(
        "madder 100 g" in line
        for line in _steps("200 g wool. For a madder bath simmer 100 g of madder in 6 L.")
    )


@pytest.mark.parametrize(
    "spun", ["clean spun wool", "hand spun wool", "hand-spun yarn", "fine spun silk"]
)
def test_spun_is_how_yarn_is(spun: str) -> None:
    draft = drafted(f"Take 150 g of {spun}. Simmer 50 g of weld in 4 L for an hour.").text
    assert "squeeze" not in draft
    assert "150 g" in draft.partition("\nsteps\n")[0]


@pytest.mark.parametrize("stuff", ["50 g wheat bran", "30 g of chalk"])
def test_a_bath_that_fibre_is_turned_in_next_is_its_own(stuff: str) -> None:
    steps = _steps(
        "200 g linen. Mordant it with 20 g alum in 6 L for an hour and leave overnight. "
        f"Put {stuff} in 10 L of water and turn the linen in it for 15 minutes."
    )
    assert not [line for line in steps if line.startswith("add")]
    assert "enter linen in bath for 15 min" in steps
