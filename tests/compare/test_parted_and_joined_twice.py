"""A lot that is parted and joined sixty times is compared by the lots that it comes of."""

from __future__ import annotations

from procedure.compare.comparing import compare
from procedure.pipeline import read

TIMES = 60


def _text(water: str) -> str:
    lots = ["yarn", *(f"c{at}" for at in range(TIMES))]
    parted = "".join(
        f"  split {lots[at]} into a{at}, b{at}\n  join a{at}, b{at} as {lots[at + 1]}\n"
        for at in range(TIMES)
    )
    return f"""procedure "Parted and joined"
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  tub: plastic tub, 12 L, for dyeing only
steps
{parted}  rinse {lots[-1]} in tub with water {water} at 30 °C
"""


def test_the_change_after_it_is_found() -> None:
    found = compare(read(_text("4 L")), read(_text("5 L")))
    assert len(found.changes) == 1
