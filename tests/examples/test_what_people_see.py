"""What a person sees of every example, kept beside the tests: a change of words is read in a diff.

``pytest --accept tests/examples/test_what_people_see.py`` stores what is new; read the
diff before you commit it.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from stored import Snapshot

from procedure.command.main import main

ROOT = Path(__file__).parents[2]
EXAMPLES = sorted(file.relative_to(ROOT) for file in (ROOT / "examples").rglob("*.dye"))
SOUND = [file for file in EXAMPLES if "faulty" not in file.parts]


def name_of(file: Path) -> str:
    return "-".join(file.with_suffix("").parts[1:])


@pytest.fixture(autouse=True)
def at_the_root(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(ROOT)


def said(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    main(arguments)
    captured = capsys.readouterr()
    return captured.out + captured.err


@pytest.mark.parametrize("file", EXAMPLES, ids=name_of)
def test_what_check_says(
    file: Path, snapshot: Snapshot, capsys: pytest.CaptureFixture[str]
) -> None:
    made = said(capsys, "check", str(file), "--at-least", "note")
    snapshot(f"check/{name_of(file)}.txt", made)


@pytest.mark.parametrize("file", SOUND, ids=name_of)
@pytest.mark.parametrize("command", ["weigh", "lots"])
def test_what_the_sums_say(
    file: Path, command: str, snapshot: Snapshot, capsys: pytest.CaptureFixture[str]
) -> None:
    snapshot(f"{command}/{name_of(file)}.txt", said(capsys, command, str(file)))


@pytest.mark.parametrize("file", SOUND, ids=name_of)
def test_what_the_handout_says(file: Path, snapshot: Snapshot, tmp_path: Path) -> None:
    out = tmp_path / "handout.md"
    main(["handout", str(file), "-o", str(out)])
    snapshot(f"handout/{name_of(file)}.md", out.read_text(encoding="utf-8"))
