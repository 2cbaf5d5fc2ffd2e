"""The solver comes without pandas, and has it all the same where somebody wants it."""

from __future__ import annotations

import subprocess
import sys

PROGRAMME = """
import sys
from procedure.timetable.solver_alone import without_pandas

without_pandas()
from ortools.sat.python import cp_model

assert "pandas" not in sys.modules
model = cp_model.CpModel()
one = model.new_int_var(0, 5, "one")
model.maximize(one)
solver = cp_model.CpSolver()
assert solver.status_name(solver.solve(model)) == "OPTIMAL" and solver.value(one) == 5
assert "pandas" not in sys.modules

import pandas

several = model.new_int_var_series("several", pandas.Index(["a", "b"]), 0, 5)
assert isinstance(several, pandas.Series) and list(several.index) == ["a", "b"]
"""


def test_pandas_is_imported_only_for_whoever_wants_series() -> None:
    ran = subprocess.run([sys.executable, "-c", PROGRAMME], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
