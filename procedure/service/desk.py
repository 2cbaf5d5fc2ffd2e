"""The texts that somebody is writing, with what is known of each."""

from __future__ import annotations

import gc
import os
import threading
from pathlib import Path

from procedure.collection.files import WORKSHOP_FILE, root_of, text_of
from procedure.pipeline import Judged
from procedure.service.again import Again

SUFFIX = ".dye"
MOST_FILES = 2_000
# A plan is thousands of small records, and what is let go of it holds no circles: to look for
# circles at every seven hundred new records was an eighth of the time of a keystroke, and at
# twenty thousand it held up one key in ten.
BETWEEN_COLLECTIONS = (200_000, 20, 50)


class Desk:
    """The texts that are open, saved or not; each is known by its resolved path.

    What is asked of a text that is not open is answered from the disk. With ``limit``
    nothing outside that folder is read. Plans may be asked for from several threads: they are
    made one at a time, and what is made does not change.
    """

    def __init__(self, limit: Path | None = None) -> None:
        self.texts: dict[Path, str] = {}
        self.limit = None if limit is None else limit.resolve()
        self._again = Again(self.limit)
        self._reading = threading.Lock()
        self._settled = False

    def put(self, path: Path, text: str) -> None:
        """A text is opened or changed; it wins over the disk until it is closed."""
        here = path.resolve()
        if self.texts.get(here) != text:  # so that the same text again drops nothing
            self.texts[here] = text

    def close(self, path: Path) -> None:
        """A text is closed: what is on the disk counts again."""
        self.texts.pop(path.resolve(), None)
        with self._reading:
            self._again.forget(path)

    def text(self, path: Path) -> str:
        """The text as it stands. Raises ``OSError`` or ``NotText`` where there is none."""
        found = self.texts.get(path.resolve())
        return text_of(path) if found is None else found

    def plan(self, path: Path) -> Judged:
        """The plan of a text, read, followed and judged.

        Raises as :meth:`text` does, and ``Dropped`` where another thread puts a newer text
        meanwhile.
        """
        here = path.resolve()
        with self._reading:
            text = self.text(here)

            def stale() -> bool:
                return self.texts.get(here, text) is not text

            made = self._again.read(text, os.path.relpath(here), here, self.texts, stale)
            if not self._settled:
                self._settled = True
                gc.freeze()  # the vocabulary and all that was loaded for the first plan stay
                gc.set_threshold(*BETWEEN_COLLECTIONS)
            return made

    def collection(self, path: Path) -> list[Path]:
        """The procedures of the collection of a file, open ones among them, in order."""
        root = self._root(path)
        found = {p for p in self.texts if root in p.parents and p.suffix == SUFFIX}
        for file in root.rglob(f"*{SUFFIX}"):
            if len(found) >= MOST_FILES:
                break
            real = file.resolve()
            if root in real.parents and real.is_file():
                found.add(real)
        return sorted(found)

    def holds(self, path: Path, other: Path) -> bool:
        """True where another file, by its resolved path, is in the collection of this one."""
        root = self._root(path)
        return root in other.parents and (other in self.texts or other.is_file())

    def _root(self, path: Path) -> Path:
        root = root_of(path.resolve(), self.texts)
        outside = self.limit is not None and self.limit not in (root, *root.parents)
        return self.limit if outside and self.limit is not None else root

    def touched(self, path: Path) -> list[Path]:
        """The open procedures whose findings a change of this text may change."""
        here = path.resolve()
        if here.name == WORKSHOP_FILE:
            return [p for p in self.texts if p.suffix == SUFFIX]
        return [
            p for p in self.texts if p.suffix == SUFFIX and (p == here or self._follows(p, here))
        ]

    def _follows(self, path: Path, other: Path) -> bool:
        return any(p.key == str(other) for p in self.plan(path).study.procedures)
