"""Numbers, links, pipes and streams that once broke a command: a finding, or one sentence and 2."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from procedure.collection.bytes_of import bytes_of
from procedure.collection.writing import NotWritten, write_whole
from procedure.command.main import main
from procedure.pipeline import Judged, read
from procedure.wording.visible import raw_characters

HEAD = """procedure "Hard"

fibre
  yarn: wool yarn, WEIGHT, scoured

equipment
  tub: plastic tub, 12 L, for dyeing only

materials
  alum: alum

steps
"""
ROOT = Path(__file__).parents[2]


def judged(steps: str, weight: str = "100 g") -> Judged:
    return read(HEAD.replace("WEIGHT", weight) + steps, "hard.dye")


def rules(plan: Judged) -> set[str]:
    return {finding.rule for finding in plan.findings}


# ------------------------------------------------------------ numbers


@pytest.mark.parametrize(
    "steps",
    [
        "  rinse yarn in tub with water 9999999998 L\n",
        "  rinse yarn in tub with water 999999999999 L at 30 °C\n",
        "  split yarn in tub with water 1 L\n",
        "  join yarn in tub with water 1 L as both\n",
        "  repeat 999999999999 times\n    rinse yarn in tub with water 4 L\n",
        "  repeat -3 times\n    rinse yarn in tub with water 4 L\n",
        "  mordant yarn in tub with water 4 L, alum -12 % of yarn\n",
    ],
)
@pytest.mark.parametrize("command", ["check", "weigh", "lots", "handout"])
def test_no_number_breaks_a_command(
    steps: str, command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + steps, "utf-8")
    assert main([command, "hard.dye"]) in (0, 1)


def test_no_weight_breaks_a_command() -> None:
    plan = judged("  rinse yarn in tub with water 30 : 1 of yarn\n", "1000000000 kg")
    said = [one.remedy for one in plan.findings]
    assert "Use a larger pot, or less liquor." in said


@pytest.mark.parametrize("number", ["9" * 310, "1." + "0" * 309 + "1", "-" + "9" * 310, "9" * 13])
def test_a_number_longer_than_any_is_a_finding(number: str) -> None:
    plan = judged(f"  rinse yarn in tub with water {number} L\n")
    (found,) = [one for one in plan.findings if one.rule == "cannot-read"]
    digits = sum(map(str.isdigit, number))
    assert found.sentence == f"This number has {digits} digits; a number may have 12 at the most."


def test_a_number_of_twelve_digits_is_read() -> None:
    assert "cannot-read" not in rules(judged("  rinse yarn in tub with water 999999999999 L\n"))


def test_batches_are_counted_and_none_is_made_up() -> None:
    plan = judged("  rinse yarn in tub with water 60 L\n")
    assert any("batches" in one.remedy for one in plan.findings)


def test_lines_that_cannot_be_read_are_told_up_to_a_thousand() -> None:
    plan = judged("  ) out\n" * 1200)
    told = [one for one in plan.findings if one.rule == "cannot-read"]
    assert len(told) == 1002
    assert "The rest of the text was not read." in told[-1].sentence


# ------------------------------------------------------------ files that are followed and read


def test_a_link_to_itself_is_a_finding_in_the_file_that_follows_it(tmp_path: Path) -> None:
    (tmp_path / "loop.dye").symlink_to("loop.dye")
    for name in ("loop", "a" * 260):
        text = HEAD.replace("WEIGHT", "100 g") + f'  follow "{name}.dye" with wool = yarn\n'
        plan = read(text, "hard.dye", tmp_path / "hard.dye")
        assert any(one.line == 13 and one.level == "error" for one in plan.findings)


def test_a_pipe_that_nobody_writes_to_is_not_waited_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    os.mkfifo(tmp_path / "pipe.dye")
    assert main(["check", str(tmp_path / "pipe.dye")]) == 2
    assert "nobody writes to this pipe" in capsys.readouterr().err


def test_a_pipe_that_is_written_to_is_read(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    held = os.open(pipe, os.O_RDWR)  # so that it has a writer before it is opened
    os.write(held, b"some words")
    made = bytes_of(pipe, 3)
    os.close(held)
    assert made == b"some"


def test_a_device_without_an_end_is_read_to_the_limit() -> None:
    assert main(["check", "/dev/zero"]) == 2
    assert len(bytes_of(Path("/dev/zero"), 1000)) == 1001


# ------------------------------------------------------------ folders


def test_a_link_to_nowhere_in_a_folder_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "gone.dye").symlink_to("nowhere.dye")
    (tmp_path / "here.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    assert main(["check", str(tmp_path)]) == 2
    assert "gone.dye cannot be read: it is a link that leads nowhere." in capsys.readouterr().err


def test_a_folder_that_cannot_be_looked_into_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "closed").mkdir()
    (tmp_path / "here.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    whole = os.scandir

    def scandir(path: str) -> object:  # root may look everywhere, so the refusal is played
        if str(path).endswith("closed"):
            raise PermissionError(13, "Permission denied", str(path))
        return whole(path)

    monkeypatch.setattr(os, "scandir", scandir)
    assert main(["check", str(tmp_path)]) == 2
    assert "closed cannot be looked into: permission denied." in capsys.readouterr().err


# ------------------------------------------------------------ writing


def test_a_file_that_was_saved_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    file = tmp_path / "plan.dye"
    file.write_text("new words")
    with pytest.raises(NotWritten, match="changed meanwhile"):
        write_whole(file, b"mended", before=b"old words")
    assert file.read_text() == "new words" and [one.name for one in tmp_path.iterdir()] == [
        "plan.dye"
    ]


def test_other_names_of_a_file_stay_names_of_it(tmp_path: Path) -> None:
    file, other, link = (tmp_path / name for name in ("one.dye", "two.dye", "link.dye"))
    file.write_text("old and longer")
    other.hardlink_to(file)
    link.symlink_to("one.dye")
    write_whole(link, b"new")
    assert other.read_text() == "new" and link.is_symlink() and file.samefile(other)
    assert len(list(tmp_path.iterdir())) == 3


def test_a_name_as_long_as_names_may_be_is_written(tmp_path: Path) -> None:
    file = tmp_path / ("a" * 251 + ".dye")
    write_whole(file, b"words")
    assert file.read_bytes() == b"words"


def test_what_is_no_paper_of_ours_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    for name in ("page.html", "page.md", "page.svg", "page.png"):
        Path(name).write_text("a letter of mine\n")
        command = "handout" if name.endswith(("html", "md")) else "chart"
        assert main([command, "hard.dye", "-o", name]) == 2
        assert Path(name).read_text() == "a letter of mine\n"
        assert "is no paper of this program" in capsys.readouterr().err
    for name in ("page.html", "page.md", "page.svg"):
        command = "chart" if name.endswith("svg") else "handout"
        assert main([command, "hard.dye", "-o", name, "--overwrite"]) in (0, 1)
        assert main([command, "hard.dye", "-o", name]) in (0, 1)  # now it is ours


def test_a_paper_is_not_written_over_what_it_is_made_from(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    text = HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n"
    Path("hard.md").write_text(text, "utf-8")
    assert main(["handout", "hard.md", "-o", "hard.md", "--overwrite"]) == 2
    assert Path("hard.md").read_text("utf-8") == text
    assert "is what it would be made from" in capsys.readouterr().err


# ------------------------------------------------------------ what is printed


@pytest.mark.parametrize("raw", ["\x1b[2J", "\x1b]0;x\x07", "\x9b31m", "\u202e", "\u2028", "\x85"])
@pytest.mark.parametrize("form", ["text", "gnu", "json", "sarif"])
def test_nothing_raw_is_printed(
    raw: str,
    form: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    name = f"ha{raw}rd.dye"
    Path(name).write_text(f'procedure "x"\nsteps\n  do "a{raw}b" wi{raw}th\n', "utf-8")
    assert main(["check", name, "--format", form, "--at-least", "note"]) == 1
    main(["know", raw])
    main(["why", raw])
    main([raw])
    made = capsys.readouterr()
    assert not raw_characters().search(made.out) and not raw_characters().search(made.err)


def test_a_line_end_in_a_name_makes_no_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    name = "a\nsafe.dye:1.1-1: error: It is wrong. [x].dye"
    Path(name).write_text('procedure "x"\n', "utf-8")
    for form in ("gnu", "text"):
        main(["check", name, "--format", form])
        assert "\nsafe.dye" not in capsys.readouterr().out
    main(["check", f"{name}.not"])
    assert "\nsafe.dye" not in capsys.readouterr().err


# ------------------------------------------------------------ streams


def run(*arguments: str, **how: object) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **how.pop("env", {})}  # type: ignore[dict-item]
    command = [sys.executable, "-m", "procedure", *arguments]
    return subprocess.run(command, env=environment, stderr=subprocess.PIPE, **how)  # type: ignore[call-overload, no-any-return]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
def test_a_full_output_gives_2() -> None:
    with Path("/dev/full").open("wb") as full:
        made = run("why", stdout=full)
    assert made.returncode == 2
    assert (
        made.stderr == b"vatwright: standard output cannot be written: no space left on device.\n"
    )


def test_a_closed_output_gives_2() -> None:
    command = f"{sys.executable} -m procedure why >&-"
    made = subprocess.run(
        ["sh", "-c", command], env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True
    )
    assert made.returncode == 2 and b"Traceback" not in made.stderr and made.stderr


def test_json_is_utf8_and_text_is_readable_whatever_the_locale(tmp_path: Path) -> None:
    file = tmp_path / "hard.dye"
    file.write_text(HEAD.replace("WEIGHT", "100 g") + "  dye yarn at 30 °C in “x”\n", "utf-8")
    plain = {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"}
    made = run("check", str(file), "--format", "json", env=plain, stdout=subprocess.PIPE)
    assert "“" in made.stdout.decode("utf-8")
    made = run("check", str(file), env=plain, stdout=subprocess.PIPE)
    assert made.returncode == 1 and made.stdout.decode("ascii")
