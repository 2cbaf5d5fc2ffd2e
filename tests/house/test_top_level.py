"""The top level of the project holds what it is said to hold, and nothing left behind."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
HERE = {
    *("README.md", "DEVELOPERS.md", "LICENSE", "pyproject.toml"),
    *("procedure", "grammar", "examples", "tests"),
    *(".gitignore", ".ci", ".pre-commit-hooks.yaml"),
}


def test_nothing_else_is_at_the_top_level() -> None:
    if not (ROOT / ".git").exists():
        pytest.skip("this is no checkout")
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    ).stdout
    assert {name.partition("/")[0] for name in listed.splitlines()} == HERE
