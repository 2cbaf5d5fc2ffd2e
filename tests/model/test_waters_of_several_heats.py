"""Cold and boiling water together make the bath as warm as their volumes have it."""

import pytest

import procedure
from procedure.model.types import Step

HEAD = """procedure "Waters"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  onion: onion skins, dried
steps
"""


def heat(line: str) -> tuple[int, int]:
    (step,) = procedure.read(HEAD + f"  {line}\n", "x.dye").model.body
    assert isinstance(step, Step)
    assert step.at is not None
    assert step.at.quantity is not None
    return tuple(map(int, step.at.quantity.ends))  # type: ignore[return-value]


@pytest.mark.parametrize(
    ("waters", "ends"),
    [
        # cold is 5 to 25 °C, the boil 95 to 100 °C, hand-hot 35 to 45 °C
        ("3 L cold water and 1 L boiling water", (27, 44)),  # (15 + 95) / 4, (75 + 100) / 4
        ("1 L boiling water, 3 L cold water", (27, 44)),
        ("water 3 L, boiling water 1 L", (27, 44)),
        ("2 L warm water and 2 L cold water", (20, 35)),
        ("4 L warm water", (35, 45)),
        ("hot water 30 : 1 of yarn, cold water 1 L", (5, 80)),  # by no volumes that are known yet
    ],
)
def test_it_is_as_warm_as_their_mixture(waters: str, ends: tuple[int, int]) -> None:
    assert heat(f"dye-bath: prepare in pot with {waters}, onion 50 g") == ends
