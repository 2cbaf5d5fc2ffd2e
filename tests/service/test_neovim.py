"""The language server under Neovim's own client, set up as DEVELOPERS.md says."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SCRIPT = """
vim.wait(60000, function() return #vim.diagnostic.get(0) > 0 end, 100)
local found = {}
for _, one in ipairs(vim.diagnostic.get(0)) do
  table.insert(found, {line = one.lnum + 1, code = one.code})
end
vim.fn.writefile({vim.fn.json_encode(found)}, vim.fn.getenv("FOUND"))
vim.cmd("qa!")
"""


def set_up() -> str:
    """The lines in DEVELOPERS.md for the Neovim that is installed, as somebody would copy them."""
    said = subprocess.run(["nvim", "--version"], capture_output=True, text=True, check=True)
    version = re.search(r"v(\d+)\.(\d+)", said.stdout)
    assert version is not None
    old = (int(version[1]), int(version[2])) < (0, 8)
    row = next(
        line
        for line in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("\n")
        if line.startswith("| Neovim 0.7 " if old else "| Neovim (0.8 ")
    )
    return "\n".join(re.findall(r"`([^`]+)`", row))


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("nvim") is None, reason="no Neovim on this machine")
def test_neovim_shows_the_findings(tmp_path: Path) -> None:
    script, begun, found = (tmp_path / name for name in ("check.lua", "init.lua", "found.json"))
    script.write_text(SCRIPT, encoding="utf-8")
    begun.write_text(set_up(), encoding="utf-8")
    shutil.copy(ROOT / "examples" / "faulty" / "soak.dye", tmp_path / "soak.dye")
    program = tmp_path / "bin" / "vatwright"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec "{sys.executable}" -m procedure "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    file = str(tmp_path / "soak.dye")
    command = ["nvim", "--headless", "-u", str(begun), file, "-c", f"luafile {script}"]
    env = {"FOUND": str(found), "PYTHONPATH": str(ROOT), "HOME": str(tmp_path)}
    env |= {"PATH": f"{program.parent}:/usr/bin:/bin"}
    subprocess.run(command, cwd=tmp_path, env=env, timeout=600, check=True, capture_output=True)
    codes = {one["code"] for one in json.loads(found.read_text())}
    assert "entered-dry" in codes
