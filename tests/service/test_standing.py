"""The page as plain files: what is in it, and what is said where something is missing."""

from __future__ import annotations

import io
import json
import tarfile
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
            if name.endswith(".zip"):
                with zipfile.ZipFile(file, "w") as library:
                    library.writestr("json/__init__.py", "")
                    library.writestr("pydoc.py", "")
            else:
                file.write_text("{}" if name.endswith(".json") else name)
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
    with (
        tarfile.open(out / "program.packed") as packed,
        zipfile.ZipFile(io.BytesIO(program())) as plain,
    ):
        assert set(packed.getnames()) == set(plain.namelist())
        held = packed.extractfile("procedure/grammar/table.json")
        assert held is not None and held.read() == plain.read("procedure/grammar/table.json")
    with zipfile.ZipFile(out / "pyodide" / "python_stdlib.zip") as library:
        assert library.namelist() == ["json/__init__.py"]
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


def test_a_question_of_the_page_without_a_server() -> None:
    from procedure.service.in_browser import answered, warm

    assert warm() > 0  # the first text names nobody as its writer
    asked = {"ask": "findings", "file": "a.dye", "text": 'procedure "A"\nsteps\n  dyee yarn\n'}
    found = json.loads(answered(json.dumps(asked)))["findings"]
    assert any(one["line"] == 3 and one["level"] == "error" for one in found)
    assert "why" in json.loads(answered(json.dumps({"ask": "?", "file": "a.dye"})))


def test_the_program_is_the_same_each_time_and_holds_its_data() -> None:
    made = program()
    assert made == program() and libraries() == libraries()
    names = set(zipfile.ZipFile(io.BytesIO(made)).namelist())
    wanted = {"procedure/vocabulary/data/verbs.csv", "procedure/grammar/table.json"}
    assert wanted <= names and "procedure/service/answers.py" in names
    assert not any("node_modules" in name or "/tests/" in name for name in names)
