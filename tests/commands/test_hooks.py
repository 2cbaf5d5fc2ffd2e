"""The hooks for pre-commit: the commands that they run are ours, with options that exist."""

from __future__ import annotations

import re
import shlex
from pathlib import Path
from typing import Any

import pytest
import yaml

from procedure.command.main import COMMANDS, main

HOOKS: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parents[2] / ".pre-commit-hooks.yaml").read_text("utf-8")
)
TEXT = 'procedure "A trial"\nsteps\n  do "hang up the apron"\n'


def test_there_is_a_hook_that_checks() -> None:
    assert "vatwright-check" in {hook["id"] for hook in HOOKS}


@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_a_hook_has_what_pre_commit_asks_for(hook: dict[str, Any]) -> None:
    # pre-commit's documentation, "Creating new hooks": id, name, entry and language.
    assert {"id", "name", "entry", "language"} <= hook.keys()
    assert hook["language"] == "python"
    assert re.search(hook["files"], "plans/tansy.dye")
    assert not re.search(hook["files"], "plans/tansy.dye.txt")


@pytest.mark.parametrize("hook", HOOKS, ids=lambda hook: hook["id"])
def test_a_hook_s_command_runs_on_files(hook: dict[str, Any], tmp_path: Path) -> None:
    program, command, *options = shlex.split(hook["entry"])
    assert program == "vatwright" and command in COMMANDS
    files = [tmp_path / "a.dye", tmp_path / "b.dye"]
    for file in files:
        file.write_text(TEXT, encoding="utf-8")
    assert main([command, *options, "--at-least", "error", *map(str, files)]) == 0
    files[1].write_text(TEXT.replace("do", "rinse"), encoding="utf-8")
    assert main([command, *options, "--at-least", "error", *map(str, files)]) == 1
