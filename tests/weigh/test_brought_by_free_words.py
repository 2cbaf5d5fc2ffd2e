"""What free words bring is weighed and bought like what a verb brings."""

import procedure

TEXT = """procedure "In words"
fibre
  scarf: silk, 100 g, scoured
materials
  ice: assistant, "ice from the freezer"
  madder: madder extract, powder
steps
  do "heap ice on it, sift the madder over it" with scarf, ice 1 kg, madder 3 % of scarf
"""


def test_free_words_bring_their_amounts() -> None:
    (moment,) = procedure.read(TEXT, "x.dye").trace.moments
    grams = {thing: one.grams.low for thing, _, one in moment.amounts if one is not None}
    assert grams == {"ice": 1000, "madder": 3}
