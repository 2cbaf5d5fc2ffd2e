"""The modules of a check, kept together in one file beside their own.

To look for two hundred modules and to open each takes a tenth of a check. So what ``check``
imports is kept in one file, as Python keeps the code of each in one of its own, and each is
taken from there as long as its source has the time and the size that it had. Where one has
changed, is wanted for the first time, or where nothing may be written, Python's own way goes on
as if this were not there.
"""

from __future__ import annotations

import marshal
import os
import sys
from importlib._bootstrap_external import MAGIC_NUMBER, cache_from_source
from importlib.machinery import ModuleSpec, SourceFileLoader

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Sequence
    from types import CodeType
    from typing import Any

    # A module's file, the time and the size of that, its compiled file, whether it is a package.
    Kept = tuple[str, int, int, str, bool, CodeType]

HOME = os.path.dirname(os.path.dirname(__file__))  # noqa: PTH120
FILE = cache_from_source(f"{os.path.dirname(__file__)}/imports_of_check.py")  # noqa: PTH120
OURS = "procedure."
# Raised where what is kept takes another form than before.
FORM = 1


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
        self.modules = _kept()
        self.others = False

    def find_spec(self, name: str, path: Sequence[str] | None, _: Any = None) -> ModuleSpec | None:
        """Where a module comes from, as Python asks its finders; None for those not kept."""
        kept = self.modules.get(name)
        if kept is None or kept[1:3] != _stamp(kept[0]):
            self.modules.pop(name, None)
            self.others = self.others or name.startswith(OURS)
            return None
        file, _time, _size, cached, package, code = kept
        spec = ModuleSpec(name, _Loader(name, file, code), origin=file, is_package=package)
        spec.has_location, spec.cached = True, cached
        if package:
            spec.submodule_search_locations = [os.path.dirname(file)]  # noqa: PTH120
        return spec

    def keep(self) -> None:
        """Keep those that were imported from elsewhere since this began, beside those kept."""
        if not self.others or sys.dont_write_bytecode:
            return
        made: dict[str, Kept] = {}
        ours = {name for name in sys.modules if name.startswith(OURS)}
        for name in ours - self.before - self.modules.keys():
            spec = sys.modules[name].__spec__
            if spec is None or not isinstance(spec.loader, SourceFileLoader):
                continue
            file = spec.origin or ""
            # Before its code: what is changed between the two is read anew the next time.
            stamp = _stamp(file)
            code = spec.loader.get_code(name)
            if stamp is not None and code is not None:
                package = spec.submodule_search_locations is not None
                made[name] = (file, *stamp, spec.cached or "", package, code)
        if made:
            data = MAGIC_NUMBER + marshal.dumps((FORM, HOME, self.modules | made))
            SourceFileLoader("kept", FILE).set_data(FILE, data)


def _stamp(file: str) -> tuple[int, int] | None:
    try:
        found = os.stat(file)  # noqa: PTH116
    except OSError:
        return None
    return found.st_mtime_ns, found.st_size


def _kept() -> dict[str, Kept]:
    """The modules that are kept by their names; none where they are not of this program."""
    try:
        with open(FILE, "rb") as file:  # noqa: PTH123
            data = file.read()
        if not data.startswith(MAGIC_NUMBER):
            return {}
        form, home, modules = marshal.loads(memoryview(data)[len(MAGIC_NUMBER) :])
    except (OSError, EOFError, ValueError, TypeError):
        return {}
    return modules if (form, home) == (FORM, HOME) else {}
