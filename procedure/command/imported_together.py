"""The modules of a check, kept together in one file beside their own.

To look for two hundred modules and to open each takes a tenth of a check. So what ``check``
imports is kept in one file, as Python keeps the code of each in one of its own, and each is
taken from there as long as its source has the time and the size that it had. Where one has
changed, or where nothing may be written, Python's own way goes on as if this were not there.
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
    """Finds the modules that are kept; ``amiss`` where one has to be sought elsewhere."""

    def __init__(self) -> None:
        self.before = set(sys.modules)
        self.modules = _kept()
        self.amiss = not self.modules

    def find_spec(self, name: str, path: Sequence[str] | None, _: Any = None) -> ModuleSpec | None:
        """Where a module comes from, as Python asks its finders; None for those not kept."""
        kept = self.modules.get(name)
        if kept is None:
            return None
        file, time, size, cached, package, code = kept
        if (time, size) != _stamp(file):
            self.amiss = True
            return None
        spec = ModuleSpec(name, _Loader(name, file, code), origin=file, is_package=package)
        spec.has_location, spec.cached = True, cached
        if package:
            spec.submodule_search_locations = [os.path.dirname(file)]  # noqa: PTH120
        return spec

    def keep(self) -> None:
        """Keep the modules that were imported since this began, where those kept are amiss."""
        if not self.amiss or sys.dont_write_bytecode:
            return
        made: dict[str, Kept] = {}
        for name, module in sys.modules.items():
            spec = module.__spec__ if name.startswith("procedure.") else None
            if spec is None or name in self.before or not isinstance(spec.loader, SourceFileLoader):
                continue
            code, file = spec.loader.get_code(name), spec.origin
            if code is None or file is None or (stamp := _stamp(file)) is None:
                return
            package = spec.submodule_search_locations is not None
            made[name] = (file, *stamp, spec.cached or "", package, code)
        data = MAGIC_NUMBER + marshal.dumps((FORM, HOME, made))
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
