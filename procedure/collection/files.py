"""The files that a procedure may follow: those of its own collection."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

from procedure.model import Procedure

HOUSE_FILE = "vatwright.toml"


class Collection:
    """Finds and keeps the procedures of one collection.

    The collection is the nearest folder above the main file that holds a
    ``vatwright.toml``, else the main file's own folder. ``load`` turns a path into
    a model; each file is read once.
    """

    def __init__(self, main: Path | None, load: Callable[[Path], Procedure]) -> None:
        self.load = load
        self.kept: dict[Path, Procedure] = {}
        self.main = None if main is None else main.resolve()
        self.main = main
        self.called = ""
        self.root = None if main is None else root_of(main)

    def keep(self, procedure: Procedure) -> None:
        """The main procedure, so that what follows it is known to go in a circle."""
        self.called = procedure.file
        if self.main is not None:
            self.kept[self.main.resolve()] = procedure

    def find(self, said: str, caller: str) -> Procedure | str:
        """The procedure that ``caller`` names, or why there is none.

        The reason is ``missing``, ``outside`` (it leaves the collection), ``absolute``,
        ``unreadable`` or ``nowhere`` (the caller is not a file).
        """
        if self.root is None:
            return "nowhere"
        if Path(said).is_absolute() or "\\" in said or ":" in said:
            return "absolute"
        home = Path(caller)
        if self.main is not None and caller == self.called:
            home = self.main  # the main file may go by another name in findings
        path = (home.parent / said).resolve()
        if self.root != path and self.root not in path.parents:
            return "outside"
        if path not in self.kept:
            if not path.is_file():
                return "missing"
            try:
                self.kept[path] = self.load(path)
            except (OSError, ValueError):
                return "unreadable"
        return self.kept[path]


def root_of(main: Path) -> Path:
    """The root folder of the collection that a file belongs to."""
    home = main.resolve().parent
    for folder in (home, *home.parents):
        if (folder / HOUSE_FILE).is_file():
            return folder
    return home
