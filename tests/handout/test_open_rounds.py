"""Rounds that go on until something is seen: how often is told as open, in every short account."""

from __future__ import annotations

from expecting import plan_of

from procedure.handout.lot_stories import stories

VAT = """
    wet out cloth in tub with water 5 L for 1 h
    vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
    stand vat for 1 h covered
    {rounds}
      dip cloth in vat at 50 °C for 10 min
      air cloth for 15 min
    rinse cloth in tub with water 5 L
    discard vat to "foul drain"
"""


def short(rounds: str) -> str:
    plan = plan_of(VAT.format(rounds=rounds))
    (cloth,) = (story for story in stories(plan) if story.lot == "cloth")
    return cloth.short


def test_dips_until_a_sign_are_one_or_more() -> None:
    assert "1 or more dips in indigo" in short('repeat until "it is blue enough"')


def test_dips_of_a_number_are_counted() -> None:
    assert "3 dips in indigo" in short("repeat 3 times")
