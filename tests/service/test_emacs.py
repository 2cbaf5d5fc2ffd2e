"""The language server under Emacs and its client Eglot, set up as DEVELOPERS.md says."""

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
(package-activate-all)
(require 'eglot)
(require 'json)
SET-UP
(find-file (getenv "TEXT"))
(dye-mode)
(apply #'eglot (eglot--guess-contact))
(flymake-mode 1)
(let ((tries 0))
  (while (and (null (flymake-diagnostics)) (< tries 300))
    (accept-process-output nil 0.2)
    (flymake-start)
    (setq tries (1+ tries))))
(let ((found (mapcar (lambda (one) (flymake-diagnostic-text one)) (flymake-diagnostics))))
  (with-temp-file (getenv "FOUND") (insert (json-encode (vconcat found)))))
(kill-emacs)
"""


def set_up() -> str:
    """The lines for Emacs in DEVELOPERS.md, as somebody would copy them."""
    row = next(
        line
        for line in (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8").split("\n")
        if line.startswith("| Emacs ")
    )
    return "\n".join(re.findall(r"`(\(.*?\))`", row))


def has_eglot() -> bool:
    """Whether there is an Emacs with Eglot on this machine."""
    if shutil.which("emacs") is None:
        return False
    asked = ["emacs", "--batch", "--eval", "(progn (package-activate-all) (require 'eglot))"]
    return subprocess.run(asked, capture_output=True, timeout=600).returncode == 0


@pytest.mark.slow
def test_eglot_shows_the_findings(tmp_path: Path) -> None:
    if not has_eglot():
        pytest.skip("no Emacs with Eglot on this machine")
    script, found = tmp_path / "check.el", tmp_path / "found.json"
    script.write_text(SCRIPT.replace("SET-UP", set_up()), encoding="utf-8")
    shutil.copy(ROOT / "examples" / "faulty" / "soak.dye", tmp_path / "soak.dye")
    program = tmp_path / "bin" / "vatwright"
    program.parent.mkdir()
    program.write_text(f'#!/bin/sh\nexec {sys.executable} -m procedure "$@"\n', encoding="utf-8")
    program.chmod(0o755)
    env = {"FOUND": str(found), "TEXT": str(tmp_path / "soak.dye"), "PYTHONPATH": str(ROOT)}
    env |= {"PATH": f"{program.parent}:/usr/bin:/bin", "HOME": str(tmp_path)}
    command = ["emacs", "--batch", "-l", str(script)]
    subprocess.run(command, cwd=tmp_path, env=env, timeout=600, check=True, capture_output=True)
    said = json.loads(found.read_text(encoding="utf-8"))
    assert any("dry" in words for words in said), said
