"""Every public function says what it gives; a name without it is listed here by the failure."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

PROCEDURE = Path(__file__).parents[2] / "procedure"
Function = ast.FunctionDef | ast.AsyncFunctionDef


def public(body: list[ast.stmt], above: str = "") -> Iterator[tuple[str, Function]]:
    """The public functions of a module, and the public methods of its public classes."""
    for one in body:
        if isinstance(one, ast.ClassDef) and not one.name.startswith("_"):
            yield from public(one.body, f"{above}{one.name}.")
        elif isinstance(one, Function) and not one.name.startswith("_"):
            yield above + one.name, one


def test_every_public_function_has_a_docstring() -> None:
    every = [
        (f"{file.relative_to(PROCEDURE)}: {name}", function)
        for file in sorted(PROCEDURE.rglob("*.py"))
        for name, function in public(ast.parse(file.read_text("utf-8")).body)
    ]
    assert len(every) > 1000
    assert [name for name, function in every if not ast.get_docstring(function)] == []
