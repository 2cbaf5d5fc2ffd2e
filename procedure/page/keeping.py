"""Files of the page: read and written below one folder only, and nothing written is lost.

Each keystroke goes to a journal beside the file (``.NAME.journal``) until it is saved, and
what can be undone to another (``.NAME.undo``) whenever the writer pauses. Where two windows
have one file open, the journal keeps what each of them has not saved. A file is saved
whole or not at all, with the line ends that it had. Where it has been changed elsewhere
meanwhile, what is on the disk stays as it is, and what was written here is kept under a
name of its own.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from procedure.collection.bytes_of import bytes_of
from procedure.collection.files import NotText, decoded, text_of
from procedure.collection.writing import NotWritten, write_whole
from procedure.quantity.record import NamedTuple

SUFFIX = ".dye"
LARGEST = 2_000_000  # bytes of a text; a question of the page holds it and what is asked
LONGEST_HISTORY = 1_000_000
MOST_FILES = 1_000


class NotBelow(ValueError):
    """A name that is no procedure below the folder; its text is one plain sentence."""


class Opened(NamedTuple):
    """A file as the page gets it.

    ``stamp`` tells what is on the disk ('' for a new file). ``journal`` is text that was
    written and not saved, or None; ``history`` what the page needs to undo, or None, and
    ``past`` the text that it belongs to. ``aside`` are the files under which was kept what
    another window had not saved when the program ended. Lines end in a line feed.
    """

    text: str
    stamp: str
    journal: str | None
    history: Any
    past: str | None = None
    aside: tuple[str, ...] = ()


class Folder:
    """The folder that a page may use. ``root`` is resolved: links out of it are refused."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()
        # What each window of this session began with, by file and window.
        self._began: dict[tuple[Path, str], str] = {}

    def path(self, name: str) -> Path:
        """The file of a name as the page says it. Raises :class:`NotBelow`."""
        said = f"“{name[:80]}”"
        if not name or "\0" in name or "\\" in name or Path(name).is_absolute():
            raise NotBelow(f"{said} is no file of this folder.")
        try:
            found = (self.root / name).resolve()
            found.exists()  # a name that is too long for the system raises here
        except (OSError, ValueError, RuntimeError):
            raise NotBelow(f"{said} cannot be read.") from None
        if self.root not in found.parents:
            raise NotBelow(f"{said} is outside the folder that was opened.")
        if found.suffix != SUFFIX or found.name.startswith("."):
            raise NotBelow(f"The name of a procedure ends in {SUFFIX}; {said} does not.")
        return found

    def names(self) -> list[str]:
        """The procedures below the folder, by their names from there."""
        found: list[str] = []
        for file in sorted(self.root.rglob(f"*{SUFFIX}")):
            inside = self.root in file.resolve().parents
            if inside and file.is_file() and not file.name.startswith("."):
                found.append(file.relative_to(self.root).as_posix())
            if len(found) >= MOST_FILES:
                break
        return found

    def open(self, name: str, writer: str = "") -> Opened:
        """A file with what was written in it and not saved, for a window (``writer``).

        Raises :class:`NotBelow`, ``NotText`` or ``OSError``.
        """
        path = self.path(name)
        text, stamp = "", ""
        if path.exists():
            if path.stat().st_size > LARGEST:
                size = LARGEST // 1_000_000
                raise NotBelow(f"“{name[:80]}” is larger than {size} MB, too large for this page.")
            read = decoded(bytes_of(path, LARGEST), name)
            text, stamp = _plain(read), stamp_of(read)
        journal = _read(_journal(path)).get("text")
        unsaved = journal if isinstance(journal, str) and journal != text else None
        aside = self._aside(path, (text, unsaved)) if writer else ()
        if writer:
            self._began[path, writer] = text if unsaved is None else unsaved
        undo = _read(_undo(path))
        past = undo.get("past")
        if not isinstance(past, str):
            return Opened(text, stamp, unsaved, None, aside=aside)
        return Opened(text, stamp, unsaved, undo.get("history"), past, aside)

    def _aside(self, path: Path, known: tuple[str | None, ...]) -> tuple[str, ...]:
        """What windows of an earlier session had not saved gets files of its own."""
        kept = _read(_journal(path))
        others, made = _others(kept), []
        for writer in [one for one in others if (path, one) not in self._began]:
            text = others.pop(writer)
            if text not in known:
                file = _beside(path)
                write_whole(file, text.encode("utf-8", "replace"))
                made.append(file.relative_to(self.root).as_posix())
        if others != _others(kept):
            _write(_journal(path), {**kept, "others": others})
        return tuple(made)

    def stamp(self, name: str) -> str:
        """What tells whether a file has changed on the disk; '' where there is none."""
        path = self.path(name)
        try:
            return stamp_of(text_of(path))
        except FileNotFoundError:
            return ""
        except (OSError, NotText):
            return "unreadable"  # something is there, and it is never written over

    def note(self, name: str, text: str, stamp: str, writer: str = "") -> None:
        """Keep what a window has not saved. Raises :class:`NotBelow`, ``NotWritten``."""
        path = self.path(name)
        others = self._of_others(path, text, writer)
        kept = {"stamp": stamp, "text": text, "writer": writer, "others": others}
        _write(_journal(path), kept)
        self._began[path, writer] = text

    def _of_others(self, path: Path, text: str, writer: str) -> dict[str, str]:
        """What other windows have not saved and this one has not taken up."""
        kept = _read(_journal(path))
        others, last, theirs = _others(kept), kept.get("writer", ""), kept.get("text")
        known = (text, self._began.get((path, writer)))
        if isinstance(theirs, str) and last != writer and theirs not in known:
            others[str(last)] = theirs
        others.pop(writer, None)
        return others

    def _drop(self, path: Path, writer: str) -> None:
        """What a window had not saved is kept elsewhere now."""
        kept = _read(_journal(path))
        others = _others(kept)
        others.pop(writer, None)
        if kept.get("writer", "") != writer:
            _write(_journal(path), {**kept, "others": others})
        elif others:
            _write(_journal(path), {"others": others})
        else:
            _journal(path).unlink(missing_ok=True)

    def undo(self, name: str, past: str, history: Any) -> None:
        """Keep what can be undone; ``past`` is the text that it belongs to.

        Nothing is kept of a history that is too long. Raises as :meth:`note` does.
        """
        path = self.path(name)
        data = json.dumps({"past": past, "history": history}, ensure_ascii=False)
        if len(data) > LONGEST_HISTORY + len(past):
            _undo(path).unlink(missing_ok=True)
        else:
            write_whole(_undo(path), data.encode("utf-8", "surrogatepass"))

    def save(self, name: str, text: str, stamp: str, writer: str = "") -> tuple[str, str]:
        """Save a text; gives the name under which it is kept, and its stamp.

        The name is another where the file is not what it was when it was opened.
        Raises :class:`NotBelow` or ``NotWritten``.
        """
        path = self.path(name)
        whole = _with_ends_of(path, text)
        if self.stamp(name) not in (stamp, stamp_of(whole)):
            path = _beside(path)
        try:
            data = whole.encode()
        except UnicodeEncodeError:
            raise NotWritten("The text holds half a character, so it was not saved.") from None
        write_whole(path, data)
        kept = path.relative_to(self.root).as_posix()
        self.note(kept, text, stamp_of(whole), writer)
        if kept != name:
            self._drop(self.path(name), writer)
        return kept, stamp_of(whole)


def stamp_of(text: str) -> str:
    """What tells one text from another."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:24]


def _plain(text: str) -> str:
    """A text with the line ends that the page has."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _with_ends_of(path: Path, text: str) -> str:
    """A text with the line ends that most lines of the file on the disk have."""
    try:
        there = text_of(path)
    except (OSError, NotText):
        return text
    return text.replace("\n", "\r\n") if there.count("\r\n") * 2 > there.count("\n") else text


def _others(kept: Mapping[str, Any]) -> dict[str, str]:
    """What a journal has of other windows than the last that wrote."""
    others = kept.get("others")
    found = others.items() if isinstance(others, dict) else ()
    return {writer: text for writer, text in found if isinstance(text, str)}


def _write(path: Path, kept: Mapping[str, Any]) -> None:
    data = json.dumps(kept, ensure_ascii=False)
    write_whole(path, data.encode("utf-8", "surrogatepass"))


def _journal(path: Path) -> Path:
    return path.with_name(f".{path.name}.journal")


def _undo(path: Path) -> Path:
    return path.with_name(f".{path.name}.undo")


def _read(path: Path) -> dict[str, Any]:
    """What was kept, or nothing where there is none that can be read."""
    try:
        if path.is_symlink():
            return {}
        kept = json.loads(path.read_text(encoding="utf-8", errors="surrogatepass"))
    except (OSError, ValueError):
        return {}
    return kept if isinstance(kept, dict) else {}


def _beside(path: Path) -> Path:
    """A name that no file has, for the text that was written here."""
    number = 1
    while True:
        ending = "" if number == 1 else f"-{number}"
        other = path.with_name(f"{path.stem}-written-here{ending}{path.suffix}")
        if not other.exists():
            return other
        number += 1
