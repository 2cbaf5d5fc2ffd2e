"""Many files at once: remembered, or looked at by several processes, with the same report."""

from __future__ import annotations

import os
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest
from platformdirs import user_cache_path

from procedure.command.main import main
from procedure.command.on_all_cores import side_by_side
from procedure.pipeline import read, text_of
from procedure.report.stored import NotStored, Stored, findings_of, stored

WORKSHOP = '[equipment]\nbig-pot = "stainless steel pot, 60 L, lidded, for dyeing only"\n'
ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
FORMS: tuple[list[str], ...] = (
    [],
    ["--at-least", "note"],
    ["--format", "gnu"],
    ["--format", "json"],
    ["--format", "sarif", "--at-least", "note"],
    ["--units", "us", "--at-least", "note"],
)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder of faulty examples, which follow a file, and a workshop; and an empty cache."""
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    home = tmp_path / "work"
    home.mkdir()
    for file in sorted((EXAMPLES / "faulty").glob("*.dye"))[:1]:
        shutil.copy(file, home)
    (home / "part.dye").write_text(
        'procedure "Part"\nfibre\n  wool: wool yarn, 100 g\n'
        "equipment\n  tub: plastic tub, 12 L, for dyeing only\n"
        "steps\n  rinse wool in tub with water 4 L at 30 °C\n",
        "utf-8",
    )
    (home / "main.dye").write_text(
        'procedure "Main"\nfibre\n  yarn: wool yarn, 100 g\nsteps\n'
        '  follow "part.dye" with wool = yarn\n  dye yarn in nothing\n'
        "  rinse yarn in big-pot with water 30 L\n",
        "utf-8",
    )
    (home / "vatwright.toml").write_text(WORKSHOP, "utf-8")
    monkeypatch.chdir(home)
    return home


def checked(capsys: pytest.CaptureFixture[str], *more: str, where: str = ".") -> tuple[int, str]:
    status = main(["check", where, *more])
    made = capsys.readouterr()
    return status, made.out + made.err


def base() -> Path:
    return user_cache_path("vatwright", appauthor=False) / "findings-1.sqlite"


# ------------------------------------------------------------ findings as text


def test_findings_are_the_same_after_they_were_text() -> None:
    for file in [*(EXAMPLES / "faulty").glob("*.dye"), *EXAMPLES.glob("*.dye")][::2]:
        found = read(text_of(file), str(file), file).findings
        again = tuple(findings_of(stored(found)))
        assert again == found
        assert [*map(repr, again)] == [*map(repr, found)]  # the kinds of the values as well
        plain = findings_of(stored(found), facts=False)
        assert [one.sentence for one in plain] == [one.sentence for one in found]


def test_findings_of_every_sort_can_be_remembered() -> None:
    """Else their files are looked at again each time: all that people have tried, once."""
    tried = sorted((ROOT / "tests" / "trials").rglob("*.dye"))
    assert len(tried) > 100
    for file in tried:
        found = read(text_of(str(file)), file.name, file).findings
        assert findings_of(stored(found)) == [*found], file.name


@pytest.mark.parametrize("text", ["", "{}", "[[1]]", "[" * 5000, '[["a"]]', "null"])
def test_text_that_no_findings_were_made_to_is_refused(text: str) -> None:
    with pytest.raises(NotStored):
        findings_of(Stored((text, "[null]")))


# ------------------------------------------------------------ the cache


def test_a_report_is_the_same_with_the_cache_and_without(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    without = [checked(capsys, *form, "--no-cache") for form in FORMS]
    assert not base().exists()
    assert checked(capsys, *FORMS[-1]) == without[-1]
    assert base().is_file()
    assert [checked(capsys, *form) for form in FORMS] == without


def test_the_second_time_no_file_is_read_again(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = checked(capsys)

    def not_again(name: str) -> None:
        raise AssertionError(name)

    monkeypatch.setattr("procedure.command.examining.plan_of", not_again)
    assert checked(capsys) == before
    with pytest.raises(AssertionError):
        checked(capsys, "--no-cache")


@pytest.mark.parametrize("changed", ["main.dye", "part.dye", "vatwright.toml"])
def test_what_changes_is_looked_at_again(
    changed: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    checked(capsys)
    file = folder / changed
    about = file.stat()
    new = {
        "main.dye": file.read_text("utf-8").replace("nothing", "neither"),
        "part.dye": file.read_text("utf-8").replace("4 L", "9 kg"),
        "vatwright.toml": WORKSHOP.replace("60 L", "2 L"),
    }[changed]
    file.write_text(new, "utf-8")
    os.utime(file, ns=(about.st_atime_ns, about.st_mtime_ns))  # its time tells nothing
    without = checked(capsys, "--no-cache")
    assert checked(capsys) == without == checked(capsys)


def test_a_file_that_was_missing_is_found_when_it_is_there(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    part = (folder / "part.dye").read_text("utf-8")
    (folder / "part.dye").unlink()
    missing = checked(capsys)
    (folder / "part.dye").write_text(part, "utf-8")
    assert checked(capsys) == checked(capsys, "--no-cache") != missing


def test_another_vocabulary_or_version_knows_nothing_of_what_was_found(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    checked(capsys)
    monkeypatch.setattr("procedure.__version__", "0.0.0")
    asked: list[str] = []
    monkeypatch.setattr("procedure.command.examining.plan_of", asked.append)
    with pytest.raises(AttributeError):
        checked(capsys)
    assert asked


@pytest.mark.parametrize(
    "spoilt", ["rubbish", "empty", "half", "words", "facts", "table", "folder"]
)
def test_a_spoilt_cache_is_as_good_as_none(
    spoilt: str, folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    form = ["--format", "json"]
    before = checked(capsys, *form)
    data = base().read_bytes()
    if spoilt in ("words", "facts"):
        with sqlite3.connect(base()) as held:
            held.execute(f"update found set {spoilt} = replace({spoilt}, 'e', 'x')")
        held.close()
    elif spoilt == "table":
        with sqlite3.connect(base()) as held:
            held.execute("drop table found")
            held.execute("create table found (key)")
        held.close()
    elif spoilt == "folder":
        base().unlink()
        base().mkdir()
    else:
        new = {"rubbish": os.urandom(5000), "empty": b"", "half": data[: len(data) // 2]}[spoilt]
        base().write_bytes(new)
    assert [checked(capsys, *form) for _ in range(2)] == [before] * 2
    if spoilt != "folder":
        with sqlite3.connect(base()) as held:
            (count,) = held.execute("select count(*) from found").fetchone()
        held.close()
        assert count


def test_the_cache_is_never_inside_a_folder_that_is_checked(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder / "inside"))
    before = sorted(folder.rglob("*"))
    checked(capsys)
    checked(capsys, where=str(folder.parent))
    assert sorted(folder.rglob("*")) == before


def test_a_cache_that_may_not_be_written_is_done_without(
    folder: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    before = checked(capsys, "--no-cache")
    monkeypatch.setenv("XDG_CACHE_HOME", "/proc/no/such/folder")
    assert checked(capsys) == before
    (folder.parent / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(folder.parent / "file"))
    assert checked(capsys) == before


# ------------------------------------------------------------ several processes


def halved(name: str) -> str:
    """What a helper is asked for here: odd numbers are refused, and 13 ends the helper."""
    number = int(name)
    if number == 13 and os.getpid() != ASKER:
        os._exit(1)
    if number == 17 and os.getpid() != ASKER:
        raise ValueError
    return str(number / 2)


ASKER = os.getpid()


@pytest.mark.parametrize("helpers", [1, 2, 3])
def test_answers_come_in_order_even_where_a_helper_ends(helpers: int) -> None:
    names = [str(number) for number in range(40)]
    assert [*side_by_side(halved, names, helpers)] == [str(number / 2) for number in range(40)]


def test_a_large_folder_gives_the_same_on_one_core_and_on_all(tmp_path: Path) -> None:
    text = text_of(sorted((EXAMPLES / "faulty").glob("*.dye"))[0])
    for number in range(7):
        (tmp_path / f"{number:03}.dye").write_text(text.replace("wool", f"wool{number}"), "utf-8")
    (tmp_path / "005b.dye").write_bytes(b"\xff")
    made = []
    for how in ("s.helpers_for = lambda _: 0", "s.cores = lambda: 2; s.LEAST = 1000"):
        code = (
            f"import procedure.command.on_all_cores as s; {how}\n"
            "from procedure.command.main import main\n"
            "raise SystemExit(main(['check', '.', '--no-cache', '--format', 'json']))"
        )
        made.append(
            subprocess.run(
                [sys.executable, "-c", code],
                cwd=tmp_path,
                env={**os.environ, "PYTHONPATH": str(ROOT)},
                capture_output=True,
            )
        )
    one, all_ = made
    assert one.returncode == all_.returncode == 2 and b"005b.dye is not UTF-8" in one.stderr
    assert (one.stdout, one.stderr) == (all_.stdout, all_.stderr) and one.stdout
