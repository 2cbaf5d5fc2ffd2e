"""Products of the house in a dye pot, and tasting: both in the everyday words of a careless dyer.

What they do is told by poisons centres, which household_products.csv names; that nobody eats or
drinks at the work is P270 of Regulation (EC) No 1272/2008, Annex IV.
"""

from __future__ import annotations

import pytest

import procedure
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import parts
from procedure.vocabulary.library import rows

TEXT = """procedure "Brown"
  place outdoors
  wearing gloves, eye protection
  audience {audience}
equipment
  tub: plastic tub, 20 L, for dyeing only
materials
  stuff: {stuff}
steps
  b: prepare in tub with water 5 L, stuff 20 g
{step}"""
WORDS = [word for row in rows("household_products") for word in parts(row["words"])]


def told(stuff: str = "weld, dried", step: str = "", audience: str = "adults") -> dict[str, str]:
    text = TEXT.format(stuff=stuff, step=step, audience=audience)
    return {one.rule: one.level for one in procedure.read(text, "x.dye").findings}


@pytest.mark.parametrize("word", WORDS)
def test_a_product_is_an_error_whatever_part_it_is_said_to_play(word: str) -> None:
    assert told(f'assistant, "{word}"')["household-product"] == "error"
    assert told(f'weld, dried, "with {word}s"')["household-product"] == "error"
    assert told(step=f'  do "add a cup of {word}"\n')["household-product"] == "error"


@pytest.mark.parametrize(
    "step",
    [
        '  do "clean the sink, with no drain cleaner"\n',
        '  do "hang the yarn beside the petrol can, never near it"\n',
        '  stir b for 5 min note "the oven cleaner stays in the cupboard"\n',
    ],
)
def test_one_that_is_kept_out_is_none(step: str) -> None:
    assert "household-product" not in told(step=step)


def test_what_a_product_may_be_is_a_material_of_the_trade() -> None:
    known = vocabulary().tables["assistants"]
    named = {name for row in rows("household_products") for name in parts(row["may_be"])}
    assert named <= set(known)


@pytest.mark.parametrize("stuff", ['assistant, "glimmer crystals"', 'acid, "old Ned\'s sour"'])
def test_what_nobody_knows_is_nothing_for_children(stuff: str) -> None:
    assert told(stuff, audience="children")["harm-not-known"] == "warning"
    assert "harm-not-known" not in told(stuff)


@pytest.mark.parametrize(
    ("stuff", "step", "error"),
    [
        ("tansy tops, fresh", '  do "taste it: it should be bitter"\n', True),
        ("tansy tops, fresh", '  stir b for 5 min note "let them drink some of it"\n', True),
        ("tansy tops, fresh", '  stir b for 5 min note "never taste it"\n', False),
        ("tansy tops, fresh", '  stir b for 5 min note "the taste is bitter"\n', False),
        ("weld, dried", '  do "taste it"\n', False),
    ],
)
def test_nobody_tastes_what_harms(stuff: str, step: str, error: bool) -> None:
    assert (told(stuff, step).get("danger-in-free-words") == "error") is error
