"""A plan shows itself in a notebook; the example notebook runs."""

from __future__ import annotations

import json
import os
from pathlib import Path

import procedure

ROOT = Path(__file__).parents[2]
NOTEBOOK = ROOT / "examples" / "notebooks" / "tansy.ipynb"


def test_a_plan_shows_chart_findings_and_amounts() -> None:
    plan = procedure.load(ROOT / "examples" / "faulty" / "soak.dye")
    made = plan._repr_mimebundle_()
    html = made["text/html"]
    assert "<svg" in html and "<table>" in html
    assert html.count("<li>") == len(plan.findings) > 0
    assert made["text/plain"].count("\n") >= 1
    assert list(procedure.read("")._repr_mimebundle_(include={"text/plain"})) == ["text/plain"]


def test_names_with_markup_are_escaped() -> None:
    text = 'procedure "<img src=x onerror=alert(1)>"\nsteps\n  do "<b>x</b>"\n'
    html = procedure.read(text)._repr_html_()
    assert "<img" not in html and "<b>x" not in html and "<script" not in html


def test_the_example_notebook_runs_cell_by_cell() -> None:
    """The cells are run as a kernel would run them; a last expression is what is shown."""
    cells = json.loads(NOTEBOOK.read_text(encoding="utf-8"))["cells"]
    names: dict[str, object] = {}
    shown: list[object] = []
    before = Path.cwd()
    os.chdir(NOTEBOOK.parent)
    try:
        for cell in cells:
            if cell["cell_type"] == "code":
                *rest, last = "".join(cell["source"]).split("\n")
                exec("\n".join(rest), names)
                shown.append(eval(last, names))
    finally:
        os.chdir(before)
    plan = shown[0]
    assert isinstance(plan, procedure.Plan) and "<svg" in plan._repr_html_()
    assert shown[1] == [("yarn", "240 g")]
