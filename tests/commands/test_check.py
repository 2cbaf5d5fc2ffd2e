"""``vatwright check``: exit statuses, forms of report, colour, bad input."""

from __future__ import annotations

import errno
import json
import os
import pty
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import jsonschema
import pytest
from strategies import EXAMPLES

import procedure.report
from procedure.command.main import main

SOUND = EXAMPLES / "tansy-gold-and-moss.dye"
NOTES_ONLY = """procedure "Airing"
  by "Fellside Dye Circle"
  revised 2026-06-14
fibre
  yarn: wool yarn, 100 g, scoured
steps
  do "tie the skeins loosely" with yarn
"""
WARNED = NOTES_ONLY + "materials\n  alum: potassium alum\n"
WRONG = WARNED + "equipment\n  tub: plastic tub, 20 L, for dyeing only\n"
WRONG = WRONG.replace(
    "steps\n", "steps\n  wet out yarn in tub with water 2 gal for 1 h\n  dri yarn\n"
)


def vatwright(
    *arguments: str, stdin: bytes = b"", cwd: Path | None = None, timeout: float = 600
) -> subprocess.CompletedProcess[bytes]:
    """Run the command in a process of its own, as a person would."""
    return subprocess.run(
        [sys.executable, "-m", "procedure", *arguments],
        input=stdin,
        capture_output=True,
        timeout=timeout,
        cwd=cwd,
        check=False,
    )


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "plan.dye"


# ------------------------------------------------------------ exit statuses


@pytest.mark.parametrize(
    ("text", "options", "status"),
    [
        (NOTES_ONLY, [], 0),
        (NOTES_ONLY, ["--at-least", "note"], 1),
        (WARNED, [], 1),
        (WARNED, ["--at-least", "error"], 0),
        (WRONG, ["--at-least", "error"], 1),
        (WRONG, [], 1),
    ],
)
def test_exit_status(
    file: Path, text: str, options: list[str], status: int, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(text, encoding="utf-8")
    assert main(["check", *options, str(file)]) == status
    assert capsys.readouterr().err == ""


def test_a_sound_procedure(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", str(SOUND)]) == 0
    assert capsys.readouterr().out.startswith("Nothing to mend")


def test_the_status_of_a_process() -> None:
    assert vatwright("check", str(SOUND)).returncode == 0
    assert vatwright("check", "nowhere.dye").returncode == 2
    assert vatwright("check", "-", stdin=WRONG.encode()).returncode == 1


def test_what_is_said_holds_for_the_chosen_level(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(WRONG, encoding="utf-8")
    main(["check", "--at-least", "error", str(file)])
    text = capsys.readouterr().out
    assert "Error." in text and "Warning." not in text and "Note." not in text
    assert "lighter finding" in text and "--at-least note" in text


# ------------------------------------------------------------ where the text comes from


def test_standard_input() -> None:
    done = vatwright("check", "--format", "gnu", "-", stdin=WRONG.encode())
    assert done.returncode == 1
    assert done.stdout.decode().startswith("standard input:")


def test_a_folder_means_every_procedure_below_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "a" / "b").mkdir(parents=True)
    for name in ("one.dye", "a/two.dye", "a/b/three.dye", "a/notes.txt"):
        (tmp_path / name).write_text(NOTES_ONLY, encoding="utf-8")
    assert main(["check", "--format", "json", str(tmp_path), str(tmp_path / "one.dye")]) == 0
    files = json.loads(capsys.readouterr().out)["files"]
    names = [str(Path(name).relative_to(tmp_path)) for name in files]
    assert sorted(names) == ["a/b/three.dye", "a/two.dye", "one.dye"]


def test_a_followed_file_is_reported_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "inner.dye").write_text('procedure "Inner"\nsteps\n  dri yarn\n', encoding="utf-8")
    (tmp_path / "outer.dye").write_text(
        'procedure "Outer"\nsteps\n  follow "inner.dye"\n', encoding="utf-8"
    )
    monkeypatch.chdir(tmp_path)
    assert main(["check", "--format", "gnu", "outer.dye", "inner.dye"]) == 1
    lines = capsys.readouterr().out.splitlines()
    assert len([line for line in lines if line.startswith("inner.dye:3.3-5: error")]) == 1


def test_one_bad_file_does_not_hide_the_others(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(WRONG, encoding="utf-8")
    assert main(["check", "nowhere.dye", str(file)]) == 2
    said = capsys.readouterr()
    assert "plan.dye" in said.out and said.err.count("\n") == 1


# ------------------------------------------------------------ forms of report

# GNU Coding Standards, 4.4: sourcefile:line1.column1-column2: message.
GNU = re.compile(
    r"^(?P<file>[^:\n]+):(?P<line>[1-9]\d*)\.(?P<column>[1-9]\d*)-(?P<to>[1-9]\d*): "
    r"(?P<level>error|warning|note): (?P<said>[^\n]+) \[(?P<rule>[a-z][a-z-]*)\]$"
)


@pytest.mark.parametrize(
    "path", sorted((EXAMPLES / "faulty").glob("*.dye")), ids=lambda path: path.stem
)
def test_gnu_form(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--format", "gnu", "--at-least", "note", str(path)]) == 1
    gnu = capsys.readouterr().out
    assert gnu.endswith("\n")
    lines = gnu.splitlines()
    main(["check", "--format", "json", "--at-least", "note", str(path)])
    report = json.loads(capsys.readouterr().out)
    data = report["findings"]
    # GNU Coding Standards, 4.4: a message that is of no file is “PROGRAM: MESSAGE”.
    if "caution" in report:
        assert lines.pop() == f"vatwright: {report['caution']}"
    found = [GNU.match(line) for line in lines]
    assert found and all(found)
    for match, finding in zip(found, data, strict=True):
        assert match is not None
        assert int(match["line"]) == finding["line"]
        assert int(match["column"]) == finding["column"]
        assert int(match["to"]) == finding["to"] - 1  # GNU names the last column of the place
        assert match["rule"] == finding["rule"]


@pytest.mark.parametrize(
    "path", sorted((EXAMPLES / "faulty").glob("*.dye")), ids=lambda path: path.stem
)
def test_json_form(path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    schema_file = Path(procedure.report.__file__).parent / "findings.schema.json"
    schema = json.loads(schema_file.read_text("utf-8"))
    jsonschema.Draft202012Validator.check_schema(schema)
    assert main(["check", "--format", "json", "--at-least", "note", str(path)]) == 1
    data = json.loads(capsys.readouterr().out)
    jsonschema.validate(data, schema)
    assert data["files"] == [str(path)]
    counts = dict.fromkeys(("error", "warning", "note"), 0)
    for finding in data["findings"]:
        counts[finding["level"]] += 1
    assert data["counts"] == counts


def test_json_of_a_sound_procedure_is_whole_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--format", "json", str(SOUND)]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["findings"] == [] and data["counts"] == {"error": 0, "warning": 0, "note": 0}


def test_places_in_the_report_are_places_in_the_file(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(WRONG, encoding="utf-8")
    main(["check", "--format", "json", str(file)])
    lines = WRONG.split("\n")
    said = {
        finding["rule"]: lines[finding["line"] - 1][finding["column"] - 1 : finding["to"] - 1]
        for finding in json.loads(capsys.readouterr().out)["findings"]
    }
    assert said["which-gallon"] == "2 gal"
    assert said["cannot-read"] == "dri"
    assert said["never-used"] == "alum"


# ------------------------------------------------------------ colour

ESCAPE = b"\x1b["


def on_a_terminal(*arguments: str, **environment: str) -> bytes:
    """What the command writes to a terminal."""
    mine, theirs = pty.openpty()
    variables = {k: v for k, v in os.environ.items() if k != "NO_COLOR"} | environment
    command = [sys.executable, "-m", "procedure", *arguments]
    with subprocess.Popen(command, stdout=theirs, stdin=theirs, env=variables) as process:
        os.close(theirs)
        written = b""
        for piece in _pieces(mine):
            written += piece
        process.wait(60)
    os.close(mine)
    return written


def _pieces(terminal: int) -> Iterator[bytes]:
    while True:
        try:
            piece = os.read(terminal, 65536)
        except OSError as error:  # the other end is closed
            assert error.errno == errno.EIO
            return
        if not piece:
            return
        yield piece


def test_colour_on_a_terminal_only_and_never_alone(file: Path) -> None:
    file.write_text(WRONG, encoding="utf-8")
    shown = on_a_terminal("check", str(file))
    assert ESCAPE in shown
    plain = re.sub(rb"\x1b\[[0-9;]*m", b"", shown).replace(b"\r\n", b"\n")
    assert plain == vatwright("check", str(file)).stdout  # the words are the same without it
    assert b"Error." in plain and b"Warning." in plain


def test_no_colour_where_it_is_not_wanted(file: Path) -> None:
    file.write_text(WRONG, encoding="utf-8")
    assert ESCAPE not in on_a_terminal("check", str(file), NO_COLOR="1")
    assert ESCAPE not in on_a_terminal("check", "--format", "gnu", str(file))
    assert ESCAPE not in on_a_terminal("check", "--format", "json", str(file))
    assert ESCAPE not in vatwright("check", str(file)).stdout


# ------------------------------------------------------------ bad input


def refused(done: subprocess.CompletedProcess[bytes], *words: str) -> None:
    """Status 2, nothing on standard output, one plain sentence with those words."""
    said = done.stderr.decode()
    assert done.returncode == 2, said
    assert done.stdout == b""
    assert said.startswith("vatwright: ") and said.count("\n") == 1 and said.endswith(".\n")
    assert "Traceback" not in said and "Errno" not in said
    for word in words:
        assert word in said


def one_error(done: subprocess.CompletedProcess[bytes], *words: str) -> None:
    """Status 1 and one error, in a plain sentence with those words."""
    said = done.stdout.decode()
    assert done.returncode == 1 and done.stderr == b""
    lines = [line for line in said.splitlines() if ": error: " in line]
    assert len(lines) == 1, said
    for word in words:
        assert word in lines[0]


def test_an_empty_file(file: Path) -> None:
    file.touch()
    done = vatwright("check", "--format", "gnu", str(file))
    one_error(done, "There is no procedure in this text.", "plan.dye:1.1-1")


def test_a_binary_file(file: Path) -> None:
    file.write_bytes(bytes(range(256)) * 100)
    refused(vatwright("check", str(file)), "plan.dye", "not a text file")


def test_a_file_in_another_encoding(file: Path) -> None:
    file.write_bytes('procedure "x"\n  by "Gr\u00fcn"\n'.encode("latin-1"))
    refused(vatwright("check", str(file)), "not UTF-8", "line 2", "Save")


def test_a_folder_without_procedures(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("x", encoding="utf-8")
    refused(vatwright("check", str(tmp_path)), "holds no procedures", ".dye")


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    refused(vatwright("check", str(tmp_path / "no.dye")), "no.dye", "cannot be read")


def test_a_link_to_nowhere(file: Path) -> None:
    file.symlink_to(file.parent / "gone.dye")
    refused(vatwright("check", str(file)), "plan.dye", "cannot be read")


def test_a_file_that_may_not_be_read(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(NOTES_ONLY, encoding="utf-8")

    def denied(_path: Path, _flags: int) -> int:  # root may read all, so the refusal is played
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr("procedure.collection.bytes_of.os.open", denied)
    assert main(["check", str(file)]) == 2
    said = capsys.readouterr().err
    assert "cannot be read: permission denied." in said and said.count("\n") == 1


def test_a_name_with_a_line_end_in_it(tmp_path: Path) -> None:
    done = vatwright("check", str(tmp_path / "a\nb.dye"))
    assert done.returncode == 2 and b"Traceback" not in done.stderr


@pytest.mark.parametrize(
    "line",
    ["  dry " + "yarn, " * 1_700_000, "x" * 10_000_000, " " * 10**7],
    ids=["names", "a word", "blanks"],
)
def test_a_line_of_ten_megabytes(file: Path, line: str) -> None:
    file.write_text(f'procedure "x"\nsteps\n  do "stir"\n{line}\n', encoding="utf-8")
    start = os.times().children_user
    done = vatwright("check", "--format", "gnu", "--at-least", "error", str(file))
    assert os.times().children_user - start < 60  # its own work, however busy the machine is
    assert b"Traceback" not in done.stderr
    if line.strip():
        one_error(done, "characters long", ":4.1-")
    else:
        assert done.returncode == 0


def test_a_file_too_large_to_be_a_procedure(file: Path) -> None:
    with file.open("wb") as large:
        large.truncate(30_000_000)
    refused(vatwright("check", str(file)), "larger than 20 MB")


def test_nesting_200_deep(file: Path) -> None:
    deep = "".join(f"{'  ' * (n + 1)}repeat 2 times\n" for n in range(200))
    text = f'procedure "x"\nsteps\n{deep}{"  " * 201}do "stir"\n'
    file.write_text(text, encoding="utf-8")
    done = vatwright("check", "--format", "gnu", "--at-least", "error", str(file))
    one_error(done, "20 deep", ":23.")


def test_a_name_10000_long(file: Path) -> None:
    name = "y" * 10_000
    file.write_text(f'procedure "x"\nsteps\n  do "stir"\n  dry {name}\n', encoding="utf-8")
    done = vatwright("check", "--format", "gnu", "--at-least", "error", str(file))
    one_error(done, ":4.")
    assert len(done.stdout) < 400  # the name is not printed in full
    short = "y" * 3_000
    file.write_text(f'procedure "x"\nsteps\n  do "stir"\n  dry {short}\n', encoding="utf-8")
    done = vatwright("check", "--format", "gnu", "--at-least", "error", str(file))
    one_error(done, "name is 3,000 characters long")


def test_a_file_name_10000_long() -> None:
    done = vatwright("check", "y" * 10_000)
    refused(done, "cannot be read")
    assert len(done.stderr) < 600


# ------------------------------------------------------------ the command line itself


@pytest.mark.parametrize(
    ("arguments", "words"),
    [
        (["chekc"], "Did you mean “check”?"),
        (["juggle"], "vatwright help"),
        (["check"], "vatwright check --help"),
        (["check", "--format", "xml", "x"], "vatwright check --help"),
        (["check", "--at-least", "grave", "x"], "vatwright check --help"),
        (["check", "--nothing", "x"], "vatwright check --help"),
    ],
)
def test_a_slip_on_the_command_line(
    arguments: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(arguments) == 2
    said = capsys.readouterr()
    assert words in said.err and said.err.count("\n") == 1 and said.out == ""


def test_help_and_version(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["--version"]) == 0
    assert re.fullmatch(r"vatwright \d+\.\d+\.\d+\n", capsys.readouterr().out)
    assert main(["help"]) == 0
    assert "check" in capsys.readouterr().out
    assert main([]) == 2


def test_output_that_nobody_reads_to_the_end_is_no_error(file: Path) -> None:
    file.write_text(WRONG, encoding="utf-8")
    command = f'"{sys.executable}" -m procedure check "{file}" | true'
    done = subprocess.run(["bash", "-c", command], capture_output=True, timeout=600, check=False)
    assert b"Traceback" not in done.stderr and b"BrokenPipe" not in done.stderr
