"""Data goes one way: no file imports from a room above its own, and none goes in a circle.

Imports inside functions and those for types count as well.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import networkx
import pytest

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "procedure"

# From the ground up. A room knows the rooms before it, and itself. DEVELOPERS.md shows the
# same table; test_this_page.py holds the two together.
ORDER = (
    "quantity",
    "colour",
    "vocabulary",
    "findings",
    "wording",
    "paper",
    "language",
    "model",
    "neaten",
    "collection",
    "flow",
    "trace",
    "facts",
    "rules",
    "pipeline",
    "draft",
    "start",
    "weigh",
    "rework",
    "report",
    "chart",
    "timetable",
    "batch",
    "handout",
    "compare",
    "plan",
    "service",
    "page",
    "command",
)
# What stands at the door, and may open any room.
DOORS = ("procedure", "procedure.__main__")


def modules() -> dict[str, Path]:
    """Every module of the program by its dotted name."""
    found: dict[str, Path] = {}
    for file in HOUSE.rglob("*.py"):
        parts = file.relative_to(ROOT).with_suffix("").parts
        found[".".join(parts[:-1] if parts[-1] == "__init__" else parts)] = file
    return found


MODULES = modules()


def statements(body: list[ast.stmt]) -> Iterator[ast.stmt]:
    """Every statement at any depth, and nothing of what is in them, where no import can be."""
    for one in body:
        yield one
        for field in ("body", "orelse", "finalbody"):
            yield from statements(getattr(one, field, []))
        for part in (*getattr(one, "handlers", ()), *getattr(one, "cases", ())):
            yield from statements(part.body)


@cache
def imports(module: str) -> tuple[tuple[str, int], ...]:
    """The modules of the program that a module imports anywhere in it, with their lines."""
    found: list[tuple[str, int]] = []
    for node in statements(ast.parse(MODULES[module].read_text(encoding="utf-8")).body):
        if isinstance(node, ast.ImportFrom) and node.module:
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                found.append((inner if inner in MODULES else node.module, node.lineno))
        elif isinstance(node, ast.Import):
            found += [(alias.name, node.lineno) for alias in node.names]
    return tuple(found)


def room(module: str) -> str:
    """The room that a module belongs to; empty for the face of the whole."""
    return module.split(".")[1] if "." in module else ""


def inner() -> list[str]:
    return sorted(module for module in MODULES if module not in DOORS)


@pytest.mark.parametrize("module", inner())
def test_no_import_goes_up(module: str) -> None:
    floor = ORDER.index(room(module))
    wrong = [
        f"line {line} imports {name}"
        for name, line in imports(module)
        if name in MODULES and room(name) and ORDER.index(room(name)) > floor
    ]
    assert not wrong, f"{module}: {'; '.join(wrong)}"


def test_no_file_is_in_a_circle() -> None:
    graph: networkx.DiGraph[str] = networkx.DiGraph()
    for module in inner():
        for name, _ in imports(module):
            # A room's face hands on what its files hold, so it is not one of them.
            if name in MODULES and name not in DOORS and name != module:
                graph.add_edge(module, name)
    faces = [m for m in graph if MODULES[m].name == "__init__.py" and "." in m]
    for face in faces:
        if all(room(n) == room(face) for n in graph.successors(face)):
            graph.remove_node(face)
    circles = [sorted(part) for part in networkx.strongly_connected_components(graph)]
    assert not [part for part in circles if len(part) > 1]


def test_imports_are_found_wherever_they_are() -> None:
    text = """
import a
if a:
    try:
        from b import c
    except ImportError:
        import d
    else:
        import e
    finally:
        import f
else:
    while a:
        match a:
            case 1:
                import g
class K:
    def m(self):
        with a:
            async def n():
                import h
"""
    tree = ast.parse(text)
    every = [one for one in ast.walk(tree) if isinstance(one, ast.Import | ast.ImportFrom)]
    seen = [one for one in statements(tree.body) if isinstance(one, ast.Import | ast.ImportFrom)]
    assert len(every) == 7 and set(every) == set(seen)


def test_every_room_is_in_the_order() -> None:
    assert {room(module) for module in inner()} == set(ORDER)


def test_only_the_command_and_tests_import_commands() -> None:
    users = {m for m in inner() for name, _ in imports(m) if room(name) == "command"}
    assert {room(module) for module in users} == {"command"}
