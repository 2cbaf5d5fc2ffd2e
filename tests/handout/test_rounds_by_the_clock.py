"""Rounds on the handout: how often, at what times, and until what, none of the three lost."""

from __future__ import annotations

import pytest
from papers import METRIC, in_words

import procedure
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell

VAT = """procedure "Blue in rounds"
fibre
  yarn: cotton yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 12 L, lidded, for dyeing only
materials
  indigo: indigo
  lime: slaked lime
  fructose: fructose
steps
  vat: prepare in pot with water 8 L, indigo 10 g, lime 20 g, fructose 30 g at 50 °C covered
  stand vat for 2 h covered
  {rounds}
    dip yarn in vat for 5 min
    air yarn for 5 min
"""
TOLD = {
    'repeat at least 3 times every 10 to 12 min until "it is blue"': (
        "Do steps 4 and 5 at least three times, every 10 to 12 minutes, until it is blue."
    ),
    "repeat 3 times every 12 min": "Do steps 4 and 5 three times, every 12 minutes.",
    'repeat 3 times until "it is blue"': "Do steps 4 and 5 three times, until it is blue.",
    'repeat every 12 min until "it is blue"': (
        "Do steps 4 and 5 again and again, every 12 minutes until it is blue."
    ),
    "repeat every 12 min": "Do steps 4 and 5 over and over, every 12 minutes.",
}


@pytest.mark.parametrize("rounds", TOLD)
def test_all_that_is_said_of_rounds_is_told(rounds: str) -> None:
    plan = procedure.read(VAT.format(rounds=rounds), "blue.dye")
    told = [in_words(one.text) for step in tell(telling_of(plan, METRIC)) for one in step.every()]
    assert TOLD[rounds] in told
