"""What fibre and plants are is declared and not done: scoured, fresh, dried."""

from __future__ import annotations

import pytest

from procedure.draft import drafted

DYED = " Mordant with 10 g of alum in 3 L at 80 °C for 1 h."


@pytest.mark.parametrize(
    ("prose", "declared"),
    [
        (
            "I had two 100 g skeins of merino, already scoured." + DYED,
            "merino yarn, 2 skeins of 100 g, scoured",
        ),
        ("You need 100 g of wool (scoured)." + DYED, "wool, 100 g, scoured"),
        ("The silk, 50 g, scoured, waits in water." + DYED, "silk, 50 g, scoured"),
        ("Take 200 g of scoured wool." + DYED, "wool, 200 g, scoured"),
        (
            "I used 100 g of wool, already washed and scoured, and soap." + DYED,
            'wool, 100 g, scoured, "washed"',
        ),
        ("100 g cotton, pre-scoured." + DYED, "cotton, 100 g, scoured"),
        ("Wool 100 g. Simmer 200 g of fresh nettle tops in 4 L.", "nettle, fresh"),
        ("Wool 100 g. Simmer 200 g of freshly picked young nettles in 4 L.", "nettle, fresh"),
        ("Wool 100 g. Simmer 50 g of dried weld in 4 L.", "weld, dried"),
        ("Wool 100 g. Simmer 50 g madder, dried, in 4 L for 1 h.", "madder, dried"),
        ("Wool 100 g. Onion skins (dried) 50 g. Simmer them in 4 L.", "onion, dried"),
    ],
)
def test_how_a_thing_is_stands_in_its_declaration(prose: str, declared: str) -> None:
    lines = [line.strip() for line in drafted(prose, place_unsure=True).text.splitlines()]
    assert any(line.endswith(f": {declared}") for line in lines)
    assert not any(line.startswith(("scour ", "dry ")) for line in lines)


@pytest.mark.parametrize(
    ("prose", "never"),
    [
        ("I scoured the wool, 100 g, with 5 g of soap." + DYED, ", scoured"),
        ("Wool 100 g. Use fresh or dried marigolds, 100 g, in 3 L.", "marigold, "),
        ("Wool 100 g. Simmer 50 g of weld in 4 L. Dry it in the shade.", "weld, dried"),
        ("Wool 100 g. Boil 200 g fresh nettles, or 50 g dried nettles, in 4 L.", "nettle, "),
        ("Wool 100 g. Never use dried weld. Simmer 50 g of weld in 4 L.", "weld, dried"),
        (
            "Wool 100 g. Simmer 50 g of weld in 4 L. If fresh weld is to be had, the better.",
            "weld, fresh",
        ),
        (
            "Wool 100 g. Fresh weld leaves are better than dried ones. Simmer 50 g of weld in 4 L.",
            "weld, ",
        ),
    ],
)
def test_what_is_done_or_open_is_not_declared(prose: str, never: str) -> None:
    code = "\n".join(one.partition("#")[0] for one in drafted(prose).text.splitlines())
    assert never not in code


def test_words_that_are_declared_are_not_told_as_not_read() -> None:
    text = drafted("Wool 100 g, already scoured. Simmer 200 g of fresh nettles in 4 L.").text
    assert "not read" not in text


@pytest.mark.parametrize("greeting", ["Hi Jo,", "Dear all,", "Hello there!", "Good morning Fern,"])
def test_who_is_greeted_is_no_title(greeting: str) -> None:
    draft = drafted(f"{greeting}\n\nWeld on wool. Simmer 50 g of weld in 4 L.\n")
    assert draft.text.startswith('procedure "Weld on wool"')
