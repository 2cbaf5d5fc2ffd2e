"""The page's script prints amounts as the sums do; no browser is needed to hold them together."""

from __future__ import annotations

import json
import random
import shutil
import subprocess
from fractions import Fraction
from pathlib import Path

import pytest

from procedure.handout.as_paper import sums_of
from procedure.paper import kitchen
from procedure.paper.measures import FINE, MASS, Voice
from procedure.wording.reader import of_system

SCRIPT = Path(kitchen.__file__).with_name("recalculate.js")
IN_NODE = Path(__file__).with_name("amounts_of_page.js")
OUNCE = Fraction("28.349523125")  # NIST SP 811, B.8
Amount = tuple[str, Fraction, Fraction]


def some_amounts(seed: int) -> list[Amount]:
    """Grams and litres of all sizes, from a thousandth of an ounce on; ranges, and round ones."""
    chance = random.Random(seed)
    made = []
    for _ in range(500):
        low = Fraction(chance.randint(0, 10**6), 10**6) * Fraction(10) ** chance.randint(-3, 4)
        if chance.random() < 0.4:
            low = Fraction(chance.randint(1, 400), chance.choice([2, 8, 10, 100, 1000])) * OUNCE
        wider = chance.choice([Fraction(1), Fraction(1), Fraction(chance.randint(100, 300), 100)])
        made.append((chance.choice([MASS, FINE, "volume"]), low, low * wider))
    return made


def printed_by_the_page(voice: Voice, amounts: list[Amount]) -> list[str]:
    """What the script prints of each amount, run by Node."""
    node = shutil.which("node")
    if node is None:
        pytest.skip("Node is not installed")
    given = {
        "script": str(SCRIPT),
        "sums": {**sums_of(voice), "pots": [], "lots": []},
        "amounts": [(kind, f"{low} 0 {high} 0") for kind, low, high in amounts],
    }
    done = subprocess.run(
        [node, str(IN_NODE)], input=json.dumps(given).encode(), capture_output=True, check=True
    )
    said = json.loads(done.stdout)
    assert isinstance(said, list)
    return said


@pytest.mark.parametrize("system", ["metric", "us", "imperial"])
def test_the_page_prints_what_the_sums_print(system: str) -> None:
    voice = Voice(system, "us", of_system(system, "us"))
    amounts = some_amounts(20)
    said = [voice.amount(kind, low, high) for kind, low, high in amounts]
    assert printed_by_the_page(voice, amounts) == said
