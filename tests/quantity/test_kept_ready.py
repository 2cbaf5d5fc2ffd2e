"""What a data file says is parsed once, and again as soon as the file has changed."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from procedure.quantity import kept_ready as under_test
from procedure.quantity.kept_ready import kept_ready


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


def test_what_was_kept_in_another_form_is_not_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld", "utf-8")
    assert words_of(path, parsed) == ("weld",)
    monkeypatch.setattr(under_test, "FORM", under_test.FORM + 1)
    assert words_of(path, parsed) == ("weld",)
    assert len(parsed) == 2


@pytest.mark.parametrize("spoilt", (b"", b"nonsense", b"\0" * 40))
def test_a_spoilt_copy_is_made_anew(tmp_path: Path, spoilt: bytes) -> None:
    path, parsed = tmp_path / "words.csv", list[bytes]()
    path.write_text("weld", "utf-8")
    words_of(path, parsed)
    (copy,) = (tmp_path / "__pycache__").iterdir()
    copy.write_bytes(spoilt)
    assert words_of(path, parsed) == ("weld",)
    assert len(parsed) == 2


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
