"""The language server under a real editor's own client."""

from __future__ import annotations

import json
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SCRIPT = """
local out = vim.fn.getenv("FOUND")
local command = {vim.fn.getenv("PYTHON"), "-m", "procedure", "language-server"}
local id = vim.lsp.start_client({name = "vatwright", cmd = command})
vim.lsp.buf_attach_client(0, id)
vim.wait(60000, function() return #vim.diagnostic.get(0) > 0 end, 100)
local found = {}
for _, one in ipairs(vim.diagnostic.get(0)) do
  table.insert(found, {line = one.lnum + 1, code = one.code})
end
vim.fn.writefile({vim.fn.json_encode(found)}, out)
vim.cmd("qa!")
"""


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("nvim") is None, reason="no Neovim on this machine")
def test_neovim_shows_the_findings(tmp_path: Path) -> None:
    script, found = tmp_path / "check.lua", tmp_path / "found.json"
    script.write_text(SCRIPT)
    shutil.copy(ROOT / "examples" / "faulty" / "soak.dye", tmp_path / "soak.dye")
    command = [
        "nvim",
        "--headless",
        "-u",
        "NONE",
        str(tmp_path / "soak.dye"),
        "-c",
        f"luafile {script}",
    ]
    env = {"FOUND": str(found), "PYTHON": sys.executable, "PYTHONPATH": str(ROOT)}
    env |= {"PATH": "/usr/bin:/bin", "HOME": str(tmp_path)}
    subprocess.run(command, cwd=tmp_path, env=env, timeout=600, check=True, capture_output=True)
    codes = {one["code"] for one in json.loads(found.read_text())}
    assert "entered-dry" in codes
