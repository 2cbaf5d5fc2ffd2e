"""Files of the page: read and written below one folder only, and nothing written is lost.

Each keystroke goes to a journal beside the file (``.NAME.journal``) until it is saved, and
what can be undone to another (``.NAME.undo``) whenever the writer pauses. A file is saved
whole or not at all. Where it has been changed elsewhere meanwhile, what is on the disk
stays as it is, and what was written here is kept under a name of its own.
"""

from __future__ import annotations

import hashlib
import json
from pathlib import Path
from typing import Any

from procedure.collection.files import NotText, text_of
from procedure.collection.writing import NotWritten, write_whole
from procedure.quantity.record import NamedTuple

SUFFIX = ".dye"
LONGEST_HISTORY = 1_000_000
MOST_FILES = 1_000


class NotBelow(ValueError):
    """A name that is no procedure below the folder; its text is one plain sentence."""


class Opened(NamedTuple):
    """A file as the page gets it.

    ``stamp`` tells what is on the disk ('' for a new file). ``journal`` is text that was
    written and not saved, or None; ``history`` what the page needs to undo, or None, and
    ``past`` the text that it belongs to.
    """

    text: str
    stamp: str
    journal: str | None
    history: Any
    past: str | None = None


class Folder:
    """The folder that a page may use. ``root`` is resolved: links out of it are refused."""

    def __init__(self, root: Path) -> None:
        self.root = root.resolve()

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

    def open(self, name: str) -> Opened:
        """A file with what was written in it and not saved.

        Raises :class:`NotBelow`, ``NotText`` or ``OSError``.
        """
        path = self.path(name)
        text, stamp = "", ""
        if path.exists():
            text = text_of(path)
            stamp = stamp_of(text)
        kept = _read(_journal(path))
        journal = kept.get("text") if kept.get("stamp") is not None else None
        unsaved = journal if isinstance(journal, str) and journal != text else None
        undo = _read(_undo(path))
        past = undo.get("past")
        if not isinstance(past, str):
            return Opened(text, stamp, unsaved, None)
        return Opened(text, stamp, unsaved, undo.get("history"), past)

    def stamp(self, name: str) -> str:
        """What tells whether a file has changed on the disk; '' where there is none."""
        path = self.path(name)
        try:
            return stamp_of(text_of(path))
        except (OSError, NotText):
            return ""

    def note(self, name: str, text: str, stamp: str) -> None:
        """Keep what was written and not saved. Raises :class:`NotBelow`, ``NotWritten``."""
        data = json.dumps({"stamp": stamp, "text": text}, ensure_ascii=False)
        write_whole(_journal(self.path(name)), data.encode("utf-8", "surrogatepass"))

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

    def save(self, name: str, text: str, stamp: str) -> tuple[str, str]:
        """Save a text; gives the name under which it is kept, and its stamp.

        The name is another where the file is not what it was when it was opened.
        Raises :class:`NotBelow` or ``NotWritten``.
        """
        path = self.path(name)
        if self.stamp(name) not in (stamp, stamp_of(text)):
            path = _beside(path)
        try:
            data = text.encode()
        except UnicodeEncodeError:
            raise NotWritten("The text holds half a character, so it was not saved.") from None
        write_whole(path, data)
        kept = path.relative_to(self.root).as_posix()
        self.note(kept, text, stamp_of(text))
        if kept != name:
            _journal(self.path(name)).unlink(missing_ok=True)
        return kept, stamp_of(text)


def stamp_of(text: str) -> str:
    """What tells one text from another."""
    return hashlib.sha256(text.encode("utf-8", "surrogatepass")).hexdigest()[:24]


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
