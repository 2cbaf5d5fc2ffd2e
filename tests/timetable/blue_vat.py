"""A blue vat for several lots, as the tests of turns and of classes have it."""

from __future__ import annotations


def at_the_vat(title: str, *lots: str) -> str:
    """A procedure for those lots in one vat, up to its steps."""
    fibre = "".join(f"  {lot}: wool yarn, 50 g, scoured\n" for lot in lots)
    return f"""procedure "{title}"
  place outdoors
  wearing gloves, eye protection, mask, apron
fibre
{fibre}equipment
  vat-pot: stainless steel pot, 20 L, lidded, for dyeing only
  tub: plastic tub, 25 L, for dyeing only
materials
  fructose: fructose
  lime: hydrated lime
  indigo: indigo powder
steps
"""


BEFORE = f"""{at_the_vat("Turns at the blue vat", "elder", "hazel", "rowan")}\
  vat: prepare in vat-pot with water 16 L, indigo 1 g/L, lime 2 g/L, fructose 3 g/L at 60 °C
  stand vat at 50 °C for 1 h covered
  wet out elder, hazel, rowan in tub with water 15 L at 30 °C for 30 min
"""
AFTER = """  rinse elder, hazel, rowan in tub with water 15 L at cold for 5 min
  keep vat as fructose-vat covered labelled
"""
THRICE = """  repeat 3 times
    dip {0} in vat at 50 °C for 5 min
    air {0} for 10 min
"""
EACH = """  for each skein in elder, hazel, rowan
    repeat 3 times
      dip skein in vat at 50 °C for 5 min
      air skein for 10 min
"""
