"""``--help`` in a dyer's words: each ends with two worked examples, and each example runs."""

from __future__ import annotations

import shlex
import shutil
from pathlib import Path

import pytest

from procedure.command.helping import EXAMPLES, as_typed
from procedure.command.main import COMMANDS, main

ROOT = Path(__file__).parents[2]
SHOWN = ROOT / "examples"
# The files that the examples name, and the examples of the project that stand in their place.
FILES = {
    "weld.dye": "weld-yellow-wool.dye",
    "weld-2024.dye": "weld-yellow-wool.dye",
    "madder.dye": "madder-red-wool.dye",
    "tansy.dye": "tansy-gold-and-moss.dye",
    "shades.dye": "shade-card-madder.dye",
    "done.batch": "records/weld-8-linden.batch",
    "recipes/weld.dye": "weld-yellow-wool.dye",
    "recipes/onion.dye": "first-onion-skins.dye",
}
LETTER = """Dear Hazel, I simmered 200 g of walnut hulls in 6 litres of water for an hour.
Then I strained it, put in 100 g of wetted wool and left it overnight. Rinse well.
"""


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with every file that the examples name; nothing is served or opened in it."""
    for name, there in FILES.items():
        (tmp_path / name).parent.mkdir(exist_ok=True)
        shutil.copy(SHOWN / there, tmp_path / name)
    shutil.copytree(SHOWN / "records", tmp_path / "records")
    (tmp_path / "letter.txt").write_text(LETTER, "utf-8")
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("http.server.ThreadingHTTPServer.serve_forever", lambda server: None)
    monkeypatch.setattr("webbrowser.open", lambda address: True)
    return tmp_path


def test_every_command_has_its_examples() -> None:
    assert EXAMPLES.keys() == COMMANDS.keys()
    typed = [one.typed for both in EXAMPLES.values() for one in both]
    assert len(set(typed)) == len(typed) == 2 * len(COMMANDS)


@pytest.mark.parametrize("name", COMMANDS)
def test_help_ends_with_the_examples_and_has_plain_headings(
    name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main([name, "--help"])
    assert ended.value.code == 0
    shown = capsys.readouterr().out
    assert "positional arguments" not in shown and "options:" not in shown
    end = shown.rpartition("\nfor example:\n")[2]
    for example in EXAMPLES[name]:
        assert example.typed.split()[:2] == ["vatwright", name]
        assert f"  {as_typed(example)}\n      " in end
    assert end.count("\n  vatwright") + end.startswith("  vatwright") == 2
    # What a dyer need not know is said in other words where it comes up.
    if "LEVEL" in shown:
        assert "error (cannot be followed as written, or somebody may be hurt)" in shown
    if "sarif" in shown:
        assert "what services that" in shown


# What cannot run here: it talks to an editor, or needs what takes long to make.
ELSEWHERE = ("vatwright language-server",)
_RUN = [one.typed for both in EXAMPLES.values() for one in both if one.typed not in ELSEWHERE]


@pytest.mark.parametrize("typed", _RUN)
def test_an_example_runs(typed: str, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    example = next(one for both in EXAMPLES.values() for one in both if one.typed == typed)
    words = shlex.split(as_typed(example))
    status = main(words[1:])
    said = capsys.readouterr()
    # A check of a made-up folder or a comparison may find something; nothing may fail to run.
    assert status in (0, 1), said.err
    if "-o" in words:
        assert (folder / words[words.index("-o") + 1]).exists()
    elif "write" not in words:
        assert said.out or said.err


def test_the_overview_ends_with_two_examples_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["help"]) == 0
    end = capsys.readouterr().out.rpartition("for example:\n")[2]
    assert end.count("\n") == 4 and end.count("  vatwright") == 2


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        (["check", "weld"], "Did you mean weld.dye?"),
        (["check", "Weld.dye"], "Did you mean weld.dye?"),
        (["handout", "recipes/onoin.dye"], "Did you mean recipes/onion.dye?"),
        (["weld.dye"], "“vatwright check weld.dye” reads a procedure"),
        (["chek", "weld.dye"], "Did you mean “check”?"),
        (["weigh", "weld.dye", "250g"], "“vatwright weigh --help” shows how."),
    ],
)
def test_what_a_beginner_types_is_answered_with_what_was_meant(
    words: list[str], wanted: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == 2
    said = capsys.readouterr().err
    assert wanted in said and said.count("\n") == 1


def test_help_of_a_command_can_be_asked_for_in_either_order(
    capsys: pytest.CaptureFixture[str],
) -> None:
    for words in (["help", "lots"], ["--help", "lots"], ["lots", "-h"]):
        with pytest.raises(SystemExit):
            main(words)
        assert "what each finished lot" in capsys.readouterr().out
