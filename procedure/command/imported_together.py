"""The modules, tables and patterns of a check, kept together in one file beside their own.

To look for two hundred modules and sixty tables and to open each takes a tenth of a check. So
what ``check`` imports and loads is kept in one file, as Python keeps the code of each module in
one of its own, and each is taken from there as long as its source has the times and the size
that it had. Where one has changed, is wanted for the first time, or where nothing may be
written, Python's own way goes on as if this were not there. The modules are read at once, since
they share their words; where each table and pattern is, the head of the file says, so that those
which a check does without are not looked at.
"""

from __future__ import annotations

import marshal
import os
import sys
from _imp import source_hash
from importlib._bootstrap_external import MAGIC_NUMBER, cache_from_source
from importlib.machinery import ModuleSpec, SourceFileLoader

from procedure import __version__
from procedure.quantity import kept_ready, ready_patterns
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import CodeType
    from typing import Any

    Stamp = tuple[int, int, int]
    # A module's file, what tells of a change, its compiled file, whether it is a package.
    Kept = tuple[str, Stamp, str, bool, CodeType]
    Bytes = bytes | memoryview
    # Tables by their paths, each with what tells of a change; patterns with their flags.
    Tables = dict[str, tuple[kept_ready.Stamp, Bytes]]
    Patterns = dict[ready_patterns.Key, Bytes]

HOME = os.path.dirname(os.path.dirname(__file__))  # noqa: PTH120
FILE = cache_from_source(f"{os.path.dirname(__file__)}/imports_of_check.py")  # noqa: PTH120
OURS = "procedure."
# Raised where what is kept takes another form than before; with that of the tables, and of what
# program it is.
FORM = (3, kept_ready.FORM, __version__)
# What comes before the head: Python's number, a sum over all the rest (SipHash, 8 bytes), and
# the bytes that say how long the head is.
SEED = 0
BEFORE = len(MAGIC_NUMBER) + 8
LENGTH = 4


class _Loader(SourceFileLoader):
    """Python's own for a file, that has its code already."""

    def __init__(self, name: str, path: str, code: CodeType) -> None:
        super().__init__(name, path)
        self.code = code

    def get_code(self, fullname: str) -> CodeType:
        """The code of its module."""
        return self.code


class Together:
    """Finds the modules that are kept, and notes whether others of this program were sought."""

    def __init__(self) -> None:
        self.before = set(sys.modules)
        self.modules, tables, of_text = _kept()
        kept_ready.at_hand.update(tables)
        kept_ready.asked_for.append(True)
        ready_patterns.at_hand.update(of_text)
        self.others = False

    def find_spec(self, name: str, path: Sequence[str] | None, _: Any = None) -> ModuleSpec | None:
        """Where a module comes from, as Python asks its finders; None for those not kept."""
        kept = self.modules.get(name)
        if kept is None or kept[1] != _stamp(kept[0]):
            self.modules.pop(name, None)
            self.others = self.others or name.startswith(OURS)
            return None
        file, _, cached, package, code = kept
        spec = ModuleSpec(name, _Loader(name, file, code), origin=file, is_package=package)
        spec.has_location, spec.cached = True, cached
        if package:
            spec.submodule_search_locations = [os.path.dirname(file)]  # noqa: PTH120
        return spec

    def keep(self) -> None:
        """Keep those that came from elsewhere since this began, beside those kept."""
        new = self.others or kept_ready.loaded or ready_patterns.made
        if not new or sys.dont_write_bytecode:
            return
        tables = {
            path: (stamp, marshal.dumps(table))
            for path, (stamp, table) in kept_ready.loaded.items()
        }
        of_text: Patterns = {key: ready_patterns.kept(*key) for key in ready_patterns.made}
        _write(
            self.modules | self._imported(),
            kept_ready.at_hand | tables,
            ready_patterns.at_hand | of_text,
        )

    def _imported(self) -> dict[str, Kept]:
        """The modules of this program that were imported from files of their own."""
        made: dict[str, Kept] = {}
        ours = {name for name in sys.modules if name.startswith(OURS)}
        for name in ours - self.before - self.modules.keys():
            spec = sys.modules[name].__spec__
            if spec is None or not isinstance(spec.loader, SourceFileLoader):
                continue
            file = spec.origin or ""
            # Before its code: what is changed between the two is read anew the next time.
            stamp = _stamp(file)
            try:
                code = spec.loader.get_code(name)
            except (EOFError, ImportError, OSError, SyntaxError, TypeError, ValueError):
                continue  # spoilt meanwhile: a full disk cuts Python's own copy short, say
            if stamp is not None and code is not None:
                package = spec.submodule_search_locations is not None
                made[name] = (file, stamp, spec.cached or "", package, code)
        return made


def _stamp(file: str) -> Stamp | None:
    try:
        return kept_ready.stamp_of(file)
    except OSError:
        return None


def _write(modules: dict[str, Kept], tables: Tables, of_text: Patterns) -> None:
    """Write them all: a sum, how long the head is, the head, modules, tables and patterns."""
    body = bytearray(marshal.dumps(modules))
    places: list[dict[Any, tuple[Any, int, int]]] = [{}, {}]
    for path, (stamp, table) in tables.items():
        places[0][path] = (stamp, len(body), len(body) + len(table))
        body += table
    for key, code in of_text.items():
        places[1][key] = (None, len(body), len(body) + len(code))
        body += code
    head = marshal.dumps((FORM, HOME, ready_patterns.MADE_BY, places))
    rest = len(head).to_bytes(LENGTH, "little") + head + body
    SourceFileLoader("kept", FILE).set_data(FILE, MAGIC_NUMBER + source_hash(SEED, rest) + rest)


def _kept() -> tuple[dict[str, Kept], Tables, Patterns]:
    """The modules, tables and patterns that are kept; none where they are not of this program."""
    try:
        with open(FILE, "rb") as file:  # noqa: PTH123
            data = memoryview(file.read())
        # To load spoilt code would end the process: a disk was full, say, or lost its power.
        total, rest = data[len(MAGIC_NUMBER) : BEFORE], data[BEFORE:]
        if data[: len(MAGIC_NUMBER)] != MAGIC_NUMBER or total != source_hash(SEED, rest):
            return {}, {}, {}
        stop = LENGTH + int.from_bytes(rest[:LENGTH], "little")
        body = rest[stop:]
        *told, (tables, of_text) = marshal.loads(rest[LENGTH:stop])
        if told != [FORM, HOME, ready_patterns.MADE_BY]:
            return {}, {}, {}
        return (
            marshal.loads(body),
            {path: (stamp, body[one:end]) for path, (stamp, one, end) in tables.items()},
            {key: body[one:end] for key, (_, one, end) in of_text.items()},
        )
    except (OSError, EOFError, ValueError, TypeError):
        return {}, {}, {}
