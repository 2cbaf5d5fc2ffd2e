"""OR-Tools without pandas and numpy, whose import takes longer than that of the solver itself.

``ortools.sat.python.cp_model`` names two classes of pandas, for series of variables, and the
numbers of numpy, of which no programme here has any. While it is imported modules with these names
stand in for the two; afterwards others that have all of pandas and numpy when anything of them is
asked for, so that whoever else uses OR-Tools in the same process finds all of it. Where pandas or
numpy is there already it is left as it is, and where another version of OR-Tools wants more of
them, they are imported as they always are.
"""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import Any

_SOLVER = "ortools.sat.python.cp_model"
_NUMBERS = "ortools.sat.python.cp_model_numbers"
_PANDAS, _NUMPY = "pandas", "numpy"
_SERIES = ("Index", "Series")
_KINDS_OF_NUMBER = (
    *("int8", "uint8", "int32", "uint32", "int64", "uint64"),
    *("double", "bool_"),
)


class _Later(ModuleType):
    """Pandas or numpy, imported when something of it is asked for."""

    def __getattr__(self, name: str) -> Any:
        """What it has by that name; it is asked only for what is not here."""
        return getattr(importlib.import_module(self.__name__), name)


class _Kind(type):
    """A kind of numbers of numpy, which are there for whoever has imported it."""

    def __instancecheck__(cls, instance: object) -> bool:
        """Whether something is such a number."""
        numpy = sys.modules.get(_NUMPY)
        return numpy is not None and isinstance(instance, getattr(numpy, cls.__name__))


def without_pandas() -> None:
    """Import the solver, so that importing it afterwards costs nothing.

    Raises ``ImportError`` where OR-Tools is missing.
    """
    if _SOLVER in sys.modules or _PANDAS in sys.modules:
        return
    standing_in = {_PANDAS: {kind: type(kind, (), {}) for kind in _SERIES}}
    if _NUMPY not in sys.modules:
        standing_in[_NUMPY] = {kind: _Kind(kind, (), {}) for kind in _KINDS_OF_NUMBER}
    for name, kinds in standing_in.items():
        sys.modules[name] = ModuleType(name)
        sys.modules[name].__dict__.update(kinds)
    try:
        solver: Any = importlib.import_module(_SOLVER)
        solver.pd = _Later(_PANDAS)
        if _NUMPY in standing_in:
            numbers: Any = sys.modules[_NUMBERS]
            solver.np = numbers.np = _Later(_NUMPY)
            numbers.np.__dict__.update(standing_in[_NUMPY])
            # It asks at each term of a sum: of one kind that has all of them, and not of seven.
            solver.IntegralTypes = (int, _Kind("integer", (), {}))
            solver.NumberTypes = (int, float, _Kind("number", (), {}))
    except (AttributeError, ImportError, KeyError):
        for name in (_SOLVER, _NUMBERS):
            _forget(name)
    finally:
        for name in standing_in:
            del sys.modules[name]
    importlib.import_module(_SOLVER)  # with all of them, where it wants more


def _forget(name: str) -> None:
    """Make it that a module is imported anew."""
    sys.modules.pop(name, None)
    package, _, own = name.rpartition(".")
    if package in sys.modules:
        vars(sys.modules[package]).pop(own, None)
