"""OR-Tools without pandas, whose import takes twice as long as that of the solver itself.

``ortools.sat.python.cp_model`` names two classes of pandas, for series of variables, which no
programme here has. While it is imported a module with these two names stands in for pandas;
afterwards one that imports pandas itself when anything of it is asked for, so that whoever else
uses OR-Tools in the same process finds all of it. Where pandas is there already, or another
version of OR-Tools wants more of it, it is imported as it always is.
"""

from __future__ import annotations

import importlib
import sys
from types import ModuleType
from typing import Any

_SOLVER = "ortools.sat.python.cp_model"
_PANDAS = "pandas"


class _Later(ModuleType):
    """Pandas, imported when something of it is asked for."""

    def __getattr__(self, name: str) -> Any:
        """What pandas has by that name; it is asked only for what is not here."""
        return getattr(importlib.import_module(_PANDAS), name)


def without_pandas() -> None:
    """Import the solver, so that importing it afterwards costs nothing.

    Raises ``ImportError`` where OR-Tools is missing.
    """
    if _SOLVER in sys.modules or _PANDAS in sys.modules:
        return
    names = ModuleType(_PANDAS)
    names.__dict__.update(Index=type("Index", (), {}), Series=type("Series", (), {}))
    sys.modules[_PANDAS] = names
    try:
        solver: Any = importlib.import_module(_SOLVER)
        solver.pd = _Later(_PANDAS)
    except AttributeError:
        pass  # it wants more of pandas: the import that follows brings all of it
    finally:
        del sys.modules[_PANDAS]
