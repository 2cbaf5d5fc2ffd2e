"""What a data file says is parsed once, and again as soon as the file has changed."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from procedure.quantity import kept_ready as under_test
from procedure.quantity.kept_ready import kept_ready, kept_together


@pytest.fixture(autouse=True)
def _with_bytecode(monkeypatch: pytest.MonkeyPatch) -> None:
    """Python is told to keep no code where tests run in some places."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)


def words_of(path: Path, parsed: list[bytes]) -> tuple[str, ...]:
    """The words of a file; what had to be parsed for them is added to a list."""

    def made_of(data: bytes) -> tuple[str, ...]:
        parsed.append(data)
        return tuple(data.decode("utf-8").split())

    found: tuple[str, ...] = kept_ready(str(path), made_of)
    return found


def test_a_file_is_parsed_once_and_again_when_it_has_changed(tmp_path: Path) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld madder", "utf-8")
    assert words_of(path, parsed) == words_of(path, parsed) == ("weld", "madder")
    assert len(parsed) == 1
    path.write_text("weld madder woad", "utf-8")
    assert words_of(path, parsed) == ("weld", "madder", "woad")
    assert len(parsed) == 2


def test_a_change_that_keeps_time_and_size_is_seen(tmp_path: Path) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    for word in ("weld", "woad"):
        path.write_text(word, "utf-8")
        os.utime(path, ns=(10**18, 10**18))
        assert words_of(path, parsed) == words_of(path, parsed) == (word,)
    assert len(parsed) == 2


def test_names_that_change_places_are_seen(tmp_path: Path) -> None:
    for name in ("one.csv", "two.csv"):
        (tmp_path / name).write_text(name, "utf-8")
    folders = (str(tmp_path),)

    def made() -> str:
        return (tmp_path / "one.csv").read_text("utf-8")

    at = str(tmp_path / "made.kept")
    under_test._stamp.cache_clear()
    assert kept_together(at, made, folders) == "one.csv"
    (tmp_path / "one.csv").rename(tmp_path / "other")
    (tmp_path / "two.csv").rename(tmp_path / "one.csv")
    (tmp_path / "other").rename(tmp_path / "two.csv")
    under_test._stamp.cache_clear()
    assert kept_together(at, made, folders) == "two.csv"


def test_what_was_kept_in_another_form_is_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld", "utf-8")
    assert words_of(path, parsed) == ("weld",)
    monkeypatch.setattr(under_test, "FORM", under_test.FORM + 1)
    for _ in range(3):
        assert words_of(path, parsed) == ("weld",)
    assert len(parsed) == 3, "once without the copy, once to keep another, and then no more"


@pytest.mark.parametrize("spoilt", (b"", b"nonsense", b"\0" * 40))
def test_a_spoilt_copy_is_made_anew(tmp_path: Path, spoilt: bytes) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld", "utf-8")
    words_of(path, parsed)
    (copy,) = (tmp_path / "__pycache__").iterdir()
    copy.write_bytes(spoilt)
    assert words_of(path, parsed) == ("weld",)
    assert len(parsed) == 2


@pytest.mark.parametrize("part", (0, 8, 16, 17, 0.5, 0.9))
def test_a_copy_that_a_full_disk_cut_short_is_made_anew(tmp_path: Path, part: float) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld madder", "utf-8")
    words_of(path, parsed)
    (copy,) = (tmp_path / "__pycache__").iterdir()
    whole = copy.read_bytes()
    copy.write_bytes(whole[: int(part * len(whole)) if 0 < part < 1 else int(part)])
    for _ in range(3):
        assert words_of(path, parsed) == ("weld", "madder")
    assert copy.read_bytes() == whole and len(parsed) <= 3


def test_what_cannot_be_made_of_a_file_is_said_and_not_kept(tmp_path: Path) -> None:
    path = tmp_path / "words.csv"
    path.write_bytes(b"\xff")
    for _ in range(2):
        with pytest.raises(UnicodeDecodeError):
            words_of(path, [])


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_may_not_be_written_is_read_all_the_same(tmp_path: Path) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld", "utf-8")
    tmp_path.chmod(0o555)
    try:
        assert words_of(path, parsed) == words_of(path, parsed) == ("weld",)
    finally:
        tmp_path.chmod(0o755)
    assert len(parsed) == 2


def test_no_file_is_said(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        words_of(tmp_path / "none.csv", [])


def together(folder: Path, made: list[int]) -> tuple[str, ...]:
    """What is made of the names and sizes of all tables of a folder; each making is noted."""

    def made_of() -> tuple[str, ...]:
        made.append(1)
        return tuple(sorted(f"{one.name} {one.stat().st_size}" for one in folder.glob("*.csv")))

    under_test._stamp.cache_clear()
    found: tuple[str, ...] = kept_together(str(folder / "all.kept"), made_of, (str(folder),))
    return found


def test_what_is_made_of_many_files_is_made_again_when_one_has_changed(tmp_path: Path) -> None:
    made: list[int] = []
    (tmp_path / "a.csv").write_text("weld", "utf-8")
    (tmp_path / "b.csv").write_text("woad", "utf-8")
    assert together(tmp_path, made) == together(tmp_path, made) == ("a.csv 4", "b.csv 4")
    assert len(made) == 1
    (tmp_path / "b.csv").write_text("madder", "utf-8")
    assert together(tmp_path, made) == ("a.csv 4", "b.csv 6")
    (tmp_path / "c.csv").write_text("", "utf-8")
    assert together(tmp_path, made) == ("a.csv 4", "b.csv 6", "c.csv 0")
    (tmp_path / "a.csv").unlink()
    assert together(tmp_path, made) == together(tmp_path, made) == ("b.csv 6", "c.csv 0")
    assert len(made) == 4


def test_where_there_are_no_folders_it_is_made_each_time(tmp_path: Path) -> None:
    made: list[int] = []
    nowhere = tmp_path / "archive.zip"
    assert together(nowhere, made) == together(nowhere, made) == ()
    assert len(made) == 2
