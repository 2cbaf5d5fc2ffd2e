"""The files of one collection: the texts that procedures may follow, on the disk or unsaved."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from types import MappingProxyType

from procedure.collection.bytes_of import bytes_of
from procedure.model import Procedure
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:  # to import it takes a twentieth of a check, and most files follow none
    from pathlib import Path

WORKSHOP_FILE = "vatwright.toml"
LARGEST = 20_000_000
NOTHING_UNSAVED: Mapping[Path, str] = MappingProxyType({})

# A text, the name that findings show for it, and its key, to a model.
Modelled = Callable[[str, str, str], Procedure]


class NotText(ValueError):
    """A file that is not text, or is too large to be a procedure."""


class Collection:
    """Finds and keeps the procedures of one collection, each by its resolved path.

    The collection is the nearest folder above the main file that holds a
    ``vatwright.toml``, else the main file's own folder; text without a path belongs to
    no collection. ``unsaved`` are texts by path that win over the disk: what an editor
    shows and has not written yet. ``modelled`` turns a text into a model; each file is
    read once.
    """

    def __init__(
        self,
        main: Path | str | None,
        modelled: Modelled,
        unsaved: Mapping[Path, str] = NOTHING_UNSAVED,
    ) -> None:
        self.modelled = modelled
        self.unsaved = {path.resolve(): text for path, text in unsaved.items()}
        self.main = None if main is None else os.path.realpath(main)
        self.root = None if self.main is None else root_as_text(self.main, self.unsaved)
        self.kept: dict[str, Procedure] = {}
        # What was sought for a ``follow``: the path as it was put together, and the text that
        # was found there, None for none.
        self.sought: dict[Path, str | None] = {}
        self._texts: dict[str, str] = {}

    def start(self, text: str, file: str) -> Procedure:
        """The model of the main text; ``file`` is the name that findings show for it."""
        key = file if self.main is None else self.main
        self._texts[key] = text
        self.kept[key] = self.modelled(text, file, key)
        return self.kept[key]

    def find(self, said: str, caller: Procedure) -> Procedure | str:
        """The procedure that ``caller`` names, or why there is none.

        The reason is ``missing``, ``outside`` (it leaves the collection), ``absolute``,
        ``unreadable`` or ``nowhere`` (the caller is not a file).
        """
        if self.root is None:
            return "nowhere"
        from pathlib import Path

        root = Path(self.root)
        if Path(said).is_absolute() or "\\" in said or ":" in said:
            return "absolute"
        put = Path(caller.key).parent / said
        self.sought[put] = None
        try:
            path = put.resolve()
            if root != path and root not in path.parents:
                return "outside"
            found = self._kept(path)
            self.sought[put] = self._texts.get(str(path))
            return found or "missing"
        except (OSError, ValueError, RuntimeError):  # the last for links that lead to themselves
            return "unreadable"

    def _kept(self, path: Path) -> Procedure | None:
        """The procedure of a resolved path, read at its first use; None where no file is."""
        key = str(path)
        if key not in self.kept:
            text = self.unsaved.get(path)
            if text is None and not path.is_file():
                return None
            text = text_of(path) if text is None else text
            self._texts[key] = text
            self.kept[key] = self.modelled(text, os.path.relpath(path), key)
        return self.kept[key]


def root_of(main: Path, unsaved: Mapping[Path, str] = NOTHING_UNSAVED) -> Path:
    """The root folder of the collection that a file belongs to.

    The keys of ``unsaved`` are resolved paths; a workshop file among them counts.
    """
    from pathlib import Path

    return Path(root_as_text(main, unsaved))


def root_as_text(main: Path | str, unsaved: Mapping[Path, str] = NOTHING_UNSAVED) -> str:
    """The same as text, which spares the import of pathlib."""
    held = set(map(str, unsaved))
    folder = home = os.path.dirname(os.path.realpath(main))
    while True:
        file = os.path.join(folder, WORKSHOP_FILE)
        if file in held or os.path.isfile(file):
            return folder
        above = os.path.dirname(folder)
        if above == folder:
            return home
        folder = above


def text_of(path: Path | str) -> str:
    """The text of a file. Raises ``NotText`` where it is not text, ``OSError`` where unreadable."""
    return decoded(bytes_of(path, LARGEST), str(path))


def decoded(data: bytes, name: str) -> str:
    """Bytes as text. Raises ``NotText`` where they are not UTF-8 text, or too many."""
    if len(data) > LARGEST:
        raise NotText(f"{name} is larger than {LARGEST // 1_000_000} MB, which no procedure is.")
    if b"\0" in data:
        raise NotText(f"{name} is not a text file.")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise NotText(
            f"{name} is not UTF-8 text: line {line} has a byte that cannot be read. "
            "Save the file as UTF-8."
        ) from None
