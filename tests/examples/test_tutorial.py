"""The five lessons, done as a beginner does them: written, typed, and held against the page."""

from __future__ import annotations

import re
import shlex
import shutil
from pathlib import Path

import pytest

from procedure.command.main import main

PAGE = Path(__file__).parents[2] / "examples" / "tutorial" / "README.md"
_PART = re.compile(
    r"<!-- (?P<act>write|change|replace|copy): (?P<what>.*?) -->\n"
    r"|```dye\n(?P<text>.*?)```\n|```console\n(?P<typed>.*?)```\n",
    re.DOTALL,
)


class Beginner:
    """Somebody who goes through the page in a folder of their own."""

    def __init__(self, folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder = folder
        self.capsys = capsys
        self.next = ""

    def goes_on(self, part: re.Match[str]) -> str:
        """Do what a part of the page says; gives the part as it is when it is true."""
        if part["act"]:
            self.told(part["act"], part["what"])
        elif part["typed"]:
            lines = [one for one in part["typed"].split("\n") if one.startswith("$ ")]
            return "```console\n" + "".join(map(self.types, lines)) + "```\n"
        else:
            self.writes(part["text"])
        return part.group()

    def told(self, act: str, what: str) -> None:
        if act in ("write", "change"):
            self.next = f"{act} {what}"
            return
        first, _, new = what.partition(" -> ")
        if act == "copy":
            shutil.copy(self.folder / first, self.folder / new)
            return
        name, _, old = first.partition(": ")
        file = self.folder / name
        text = file.read_text("utf-8")
        assert text.count(old) == 1
        file.write_text(text.replace(old, new), "utf-8")

    def writes(self, text: str) -> None:
        """A whole file, or a first line that is put in its place before the lines below it."""
        act, name = self.next.split(" ")
        file = self.folder / name
        if act == "change":
            heading = text.split("\n")[0]
            whole = file.read_text("utf-8")
            assert whole.count(f"\n{heading}\n") == 1
            text = whole.replace(f"\n{heading}\n", f"\n{text}")
        file.write_text(text, "utf-8")

    def types(self, line: str) -> str:
        words = shlex.split(line.removeprefix("$ "))
        assert words[0] == "vatwright"
        assert main(words[1:]) in (0, 1)
        said = self.capsys.readouterr()
        return f"{line}\n{said.err}{said.out}"


def test_the_lessons_are_true(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    request: pytest.FixtureRequest,
) -> None:
    monkeypatch.chdir(tmp_path)
    page = PAGE.read_text("utf-8")
    real = _PART.sub(Beginner(tmp_path, capsys).goes_on, page)
    if request.config.getoption("--accept"):
        PAGE.write_text(real, "utf-8")
    else:
        assert page == real
    for made in ("two.svg", "two.html", "first-time.batch"):
        assert (tmp_path / made).is_file()


def test_there_are_five_lessons_and_each_is_run() -> None:
    lessons = re.split(r"\n## [0-9]\. ", PAGE.read_text("utf-8"))[1:]
    assert len(lessons) == 5
    for lesson in lessons:
        assert "```console\n$ vatwright " in lesson


def test_the_first_hour_is_true(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    readme = (PAGE.parents[2] / "README.md").read_text("utf-8")
    hour = readme.partition("## The first hour, from nothing")[2].partition("\n## ")[0]
    typed = [line.strip() for line in hour.split("\n") if line.startswith("    ")]
    assert [line.split()[:2] for line in typed] == [
        *(["mkdir", "recipes"], ["cd", "recipes"], ["vatwright", "new"]),
        *(["vatwright", "check"], ["vatwright", "handout"]),
    ]
    (tmp_path / "recipes").mkdir()
    monkeypatch.chdir(tmp_path / "recipes")
    monkeypatch.setattr("sys.stdin", (tmp_path / "nobody").open("w+"))
    for line in typed[2:]:
        assert main(shlex.split(line)[1:]) == 0, capsys.readouterr().err
    assert "Nothing to mend" in capsys.readouterr().out
    assert (tmp_path / "recipes" / "first.html").is_file()
