"""Units from outside the trade: stored, so that a slip in a unit is answered at once."""

import subprocess
import sys

import pytest
from expecting import findings
from units_from_pint import FILE, text


def test_the_stored_units_are_those_of_pint() -> None:
    assert FILE.read_text("utf-8") == text()


@pytest.mark.parametrize(
    ("said", "remedy"),
    [
        ("1 stone", "One stone is 6350 g; write it so."),  # NIST Handbook 44, appendix C: 14 pounds
        ("2 stones", "One stone is 6350 g; write it so."),
        ("1 qqq", "Write a unit such as g, mL, L, min, h or °C."),
    ],
)
def test_what_one_comes_to_is_said(said: str, remedy: str) -> None:
    found = [
        one
        for one in findings(f"wet out yarn in tub with water 5 L for {said}")
        if one.rule == "unknown-unit"
    ]
    assert [one.remedy for one in found] == [remedy]


def test_nobody_waits_for_pint() -> None:
    lines = (
        "import sys, procedure",
        "procedure.read('''procedure \"x\"\\nsteps\\n  rest yarn for 3 stone\\n''')",
        "assert 'pint' not in sys.modules",
    )
    subprocess.run([sys.executable, "-c", "\n".join(lines)], check=True)
