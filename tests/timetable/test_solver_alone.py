"""The solver comes without pandas and numpy, and has all of them where somebody wants them."""

from __future__ import annotations

import subprocess
import sys

PROGRAMME = """
import sys
from procedure.timetable.solver_alone import without_pandas

without_pandas()
from ortools.sat.python import cp_model

assert not {"pandas", "numpy"} & sys.modules.keys()
model = cp_model.CpModel()
one = model.new_int_var(0, 5, "one")
model.maximize(one)
solver = cp_model.CpSolver()
model.add(one <= 4).only_enforce_if(model.new_bool_var("at most four"), True)
assert solver.status_name(solver.solve(model)) == "OPTIMAL" and solver.value(one) == 5
assert not {"pandas", "numpy"} & sys.modules.keys()

import numpy

true = numpy.bool_(True)
model.add(one <= numpy.int64(3)).only_enforce_if([true])
model.add(one <= 2).only_enforce_if([numpy.bool_(False)])
assert solver.status_name(solver.solve(model)) == "OPTIMAL" and solver.value(one) == 3

import pandas

several = model.new_int_var_series("several", pandas.Index(["a", "b"]), 0, 5)
assert isinstance(several, pandas.Series) and list(several.index) == ["a", "b"]
"""


WANTS_MORE = """
import sys
from procedure.timetable import solver_alone

solver_alone._KINDS_OF_NUMBER = ("int8",)
solver_alone.without_pandas()
from ortools.sat.python import cp_model, cp_model_numbers

import numpy, pandas

assert cp_model.np is numpy and cp_model_numbers.np is numpy and cp_model.pd is pandas
"""


def test_pandas_and_numpy_are_imported_only_for_whoever_wants_them() -> None:
    _run(PROGRAMME)


def test_a_solver_that_wants_more_of_them_has_all() -> None:
    _run(WANTS_MORE)


def _run(programme: str) -> None:
    ran = subprocess.run([sys.executable, "-c", programme], capture_output=True, text=True)
    assert ran.returncode == 0, ran.stderr
