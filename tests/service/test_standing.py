"""The page as plain files: what is in it, and what is said where something is missing."""

from __future__ import annotations

import io
import zipfile
from pathlib import Path

import pytest

from procedure.page.standing import PARTS, NotStanding, libraries, program, write


@pytest.fixture
def parts(tmp_path: Path) -> Path:
    for part in PARTS:
        for name in part.files:
            file = tmp_path / "parts" / part.name / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text(name)
    return tmp_path / "parts"


def test_everything_that_the_page_fetches_is_there(tmp_path: Path, parts: Path) -> None:
    out = tmp_path / "out"
    made = write(out, parts)
    assert made.said.startswith("Node ")  # these parts are empty, so nothing can be compiled
    assert made.size == sum(file.stat().st_size for file in out.rglob("*") if file.is_file())
    offline = (out / "offline.js").read_text()
    assert "vatwright-BUILD" not in offline
    names = offline[offline.index("FILES = [") : offline.index("];")].split('"')[1::2]
    assert all((out / name).exists() for name in names)
    page = (out / "index.html").read_text()
    assert "script-src 'self' 'wasm-unsafe-eval'" in page and page.count("<script") == 1


def test_what_is_missing_is_said_in_a_sentence(
    tmp_path: Path, parts: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(NotStanding, match=r"holds neither pyodide nor pyodide-.*tgz\.$"):
        write(tmp_path / "out", tmp_path)
    (parts / "pyodide" / "pyodide.asm.wasm").unlink()
    with pytest.raises(NotStanding, match=r"holds no pyodide\.asm\.wasm\.$"):
        write(tmp_path / "out", parts)
    monkeypatch.setenv("PATH", "")
    with pytest.raises(NotStanding, match="npm is not installed"):
        write(tmp_path / "out")
    assert not (tmp_path / "out").exists()


def test_the_program_is_the_same_each_time_and_holds_its_data() -> None:
    made = program()
    assert made == program() and libraries() == libraries()
    names = set(zipfile.ZipFile(io.BytesIO(made)).namelist())
    wanted = {"procedure/vocabulary/data/verbs.csv", "procedure/grammar/table.json"}
    assert wanted <= names and "procedure/service/answers.py" in names
    assert not any("node_modules" in name or "/tests/" in name for name in names)
