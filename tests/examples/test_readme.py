"""The outputs in the README are the real ones: each command in it is run."""

from __future__ import annotations

import re
import shlex
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
README = ROOT / "README.md"
_CONSOLE = re.compile(r"```console\n(\$ [^\n]+)\n(.*?)```", re.DOTALL)
_FILE = re.compile(r"<!-- file: (\S+) -->\n```dye\n(.*?)```", re.DOTALL)


def printed(command: str, folder: Path) -> str:
    """What a command prints, run where the examples are; what it writes goes elsewhere."""
    words = shlex.split(command.removeprefix("$ "))
    assert words[0] == "vatwright"
    if "-o" in words:
        at = words.index("-o") + 1
        wanted = words[at]
        words[at] = str(folder / Path(wanted).name)
        made = run(words)
        return made.replace(words[at], wanted)
    return run(words)


def run(words: list[str]) -> str:
    """Run the command as a user would."""
    made = subprocess.run(
        [sys.executable, "-m", "procedure", *words[1:]],
        cwd=ROOT,
        capture_output=True,
        encoding="utf-8",
        check=False,
    )
    assert made.returncode in (0, 1), made.stderr
    assert not made.stderr
    return made.stdout


def test_outputs_are_real(request: pytest.FixtureRequest, tmp_path: Path) -> None:
    text = README.read_text("utf-8")
    assert len(_CONSOLE.findall(text)) >= 7

    def again(match: re.Match[str]) -> str:
        return f"```console\n{match.group(1)}\n{printed(match.group(1), tmp_path)}```"

    def file(match: re.Match[str]) -> str:
        shown = (ROOT / match.group(1)).read_text("utf-8")
        return f"<!-- file: {match.group(1)} -->\n```dye\n{shown}```"

    real = _FILE.sub(file, _CONSOLE.sub(again, text))
    if request.config.getoption("--accept"):
        README.write_text(real, encoding="utf-8")
    else:
        assert text == real


def test_python_example_runs(tmp_path: Path) -> None:
    blocks = re.findall(r"```python\n(.*?)```", README.read_text("utf-8"), re.DOTALL)
    assert blocks
    for block in blocks:
        moved = block.replace('"examples/', f'"{ROOT}/examples/')
        made = subprocess.run(
            [sys.executable, "-c", moved],
            cwd=tmp_path,
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        assert made.returncode == 0, made.stderr
    assert (tmp_path / "tansy.svg").read_text("utf-8").count("<svg") == 1


def test_the_chart_in_the_readme_is_the_chart(tmp_path: Path) -> None:
    shown = ROOT / "examples" / "tansy-gold-and-moss.svg"
    made = tmp_path / shown.name
    words = ["vatwright", "chart", "examples/tansy-gold-and-moss.dye", "-o", str(made)]
    run(words)
    # Text, not bytes: the placing of shapes may differ by a hair between machines.
    texts = [re.findall(r"<text[^>]*>([^<]*)", path.read_text("utf-8")) for path in (shown, made)]
    assert texts[0] == texts[1]


def test_the_first_hour_says_how_the_line_of_the_name_is_brought_to_life(tmp_path: Path) -> None:
    file = tmp_path / "first.dye"
    run(["vatwright", "new", "--fibre", "wool", "--dye", "onion", "-o", str(file)])
    second = file.read_text("utf-8").split("\n")[1]
    text = " ".join(README.read_text("utf-8").split())
    if second.startswith("  # by "):
        assert "In its second line take away the `# ` before `by`" in text
    else:
        assert second.startswith("  by ")
