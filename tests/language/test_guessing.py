"""What is guessed of a line that cannot be read is never what the line is not."""

import pytest

import procedure

HEAD = """procedure "Guessed"
fibre
  yarn: wool yarn, 100 g
equipment
  tub: plastic tub, 10 L, for dyeing only
steps
"""


@pytest.mark.parametrize("below", ["", "    rinse yarn in tub with water 4 L\n"])
@pytest.mark.parametrize(
    "line",
    ["neither", "eihter", "repaet 3 times", "metanwhile", "fro each s in a, b", 'iff "it is pale"'],
)
def test_a_misspelt_block_is_one_finding_and_no_step(line: str, below: str) -> None:
    plan = procedure.read(f"{HEAD}  {line}\n{below}  dry yarn\n", "guessed.dye")
    found = [one for one in plan.findings if one.rule == "cannot-read"]
    assert [one.line for one in found] == [7]
    assert found[0].remedy
