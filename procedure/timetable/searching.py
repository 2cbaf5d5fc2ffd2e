"""One search of the solver: its settings, its limits, and what it has come to.

One worker, one seed and a limit counted in the solver's own steps make the same programme give the
same plan on any machine, however busy. The clock has a limit too, two hundred times as generous, so
that nobody waits for ever; where it did stop a search, that is said. So a search that has been made
comes to the same again, and what it has come to is kept: waits that are tried in several ways are
often the same where nothing gives.
"""

from __future__ import annotations

from dataclasses import dataclass
from hashlib import sha256
from math import ceil
from typing import TYPE_CHECKING

from procedure.timetable.planned import Placed
from procedure.timetable.programme import Programme

if TYPE_CHECKING:
    from ortools.sat.python import cp_model

SEED = 20
VERY_MUCH = 100
"""Above so many activities each search is for a moment only."""
_CLOCK_A_SECOND = 200.0
_CLOCK_AT_LEAST = 20.0
"""The most seconds of the clock: for each second of the solver, and for any search besides."""
_MOST_KEPT = 256
"""How many searches are remembered; a plan in hard hours takes up to a hundred."""
_kept: dict[bytes, SearchResult] = {}


@dataclass(frozen=True, slots=True)
class SearchResult:
    """What one search has come to.

    ``status`` is optimal, feasible, impossible or unknown. ``bound`` is proven.
    ``cut_short`` says that the clock ended the search, which may go further another time.
    ``took`` are the solver's own seconds, which are the same on any machine.
    """

    status: str
    placed: tuple[Placed, ...] = ()
    bound: int = 0
    value: int = 0
    cut_short: bool = False
    took: float = 0.0


def search(
    programme: Programme,
    effort: float,
    linear: int = 0,
    from_below: bool = False,
    enough: int | None = None,
    prepared: bool = True,
    simplified: bool = True,
) -> SearchResult:
    """Run the solver on a programme.

    ``linear`` is how far it is relaxed to sums, 0 to 2; ``from_below`` raises the bound until
    there is a plan, instead of making plans shorter. A bound of ``enough`` ends the search.
    What is not ``prepared`` begins sooner, without trying each choice by itself beforehand; what
    is not ``simplified`` begins at once. Where waits and hours contradict each other that takes a
    hundredth of the time, for simplifying puts off one step after the other, day by day.
    """
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = SEED
    # Timetables are bound by order, nights and pots; relaxing them to sums takes time and
    # proves no more.
    solver.parameters.linearization_level = linear
    # The earliest and latest starts in a pot are worked out from the waits between all that is
    # done in it. Where no more than a length is asked for, that takes longer than what it spares,
    # and so it does of very much work.
    worth_it = (prepared or linear > 0) and len(programme.work.activities) <= VERY_MUCH
    solver.parameters.use_precedences_in_disjunctive_constraint = worth_it
    solver.parameters.optimize_with_core = from_below
    if not prepared:
        solver.parameters.cp_model_probing_level = 0
        solver.parameters.symmetry_level = 0
        if not linear:
            solver.parameters.max_presolve_iterations = 1
    solver.parameters.cp_model_presolve = simplified
    if enough is not None:

        def stop_at(bound: float) -> None:
            if bound >= enough:
                solver.stop_search()

        solver.best_bound_callback = stop_at
    solver.parameters.max_deterministic_time = effort
    longest = _CLOCK_A_SECOND * effort + _CLOCK_AT_LEAST
    solver.parameters.max_time_in_seconds = longest
    asked = _asked(programme, solver, enough)
    known = _kept.get(asked)
    if known is None:
        known = _come_to(programme, solver, longest)
        if not known.cut_short:
            _keep(asked, known)
    return known


def _asked(programme: Programme, solver: cp_model.CpSolver, enough: int | None) -> bytes:
    """What tells one search from any other: its programme, and all the settings of the solver."""
    said = sha256(whole_message(programme.model.proto))
    said.update(whole_message(solver.parameters))
    said.update(repr((enough, *programme.starts)).encode())
    return said.digest()


def whole_message(message: object) -> bytes:
    """All that a message of the solver holds, the same bytes each time.

    The messages of newer versions of the solver are written out as text alone.
    """
    write = getattr(message, "SerializeToString", None)
    return write(deterministic=True) if write is not None else str(message).encode()


def _keep(asked: bytes, found: SearchResult) -> None:
    """Remember what a search has come to; the oldest is forgotten for it."""
    while len(_kept) >= _MOST_KEPT:
        _kept.pop(next(iter(_kept)), None)
    _kept[asked] = found


def _come_to(programme: Programme, solver: cp_model.CpSolver, longest: float) -> SearchResult:
    """Run the solver, and say what it has come to."""
    status = solver.status_name(solver.solve(programme.model))
    cut_short = status not in ("INFEASIBLE", "OPTIMAL") and solver.wall_time >= longest
    took = solver.response_proto.deterministic_time
    if status == "INFEASIBLE":
        return SearchResult("impossible", took=took)
    if status == "MODEL_INVALID":
        raise ValueError(programme.model.validate())
    has_aim = programme.model.has_objective()
    bound = ceil(solver.best_objective_bound - 1e-6) if has_aim else 0
    if status == "UNKNOWN":
        return SearchResult("unknown", bound=max(0, bound), cut_short=cut_short, took=took)
    placed = tuple(
        Placed(key, solver.value(start), solver.value(programme.ends[key]))
        for key, start in programme.starts.items()
    )
    return SearchResult(
        "optimal" if status == "OPTIMAL" else "feasible",
        placed,
        bound,
        round(solver.objective_value) if has_aim else 0,
        cut_short,
        took,
    )


def hint(programme: Programme, placed: tuple[Placed, ...]) -> None:
    """Tell the solver of a plan that is known, to begin with."""
    for each in placed:
        if each.key in programme.starts and each.key not in programme.work.happened:
            programme.model.add_hint(programme.starts[each.key], each.start)
            programme.model.add_hint(programme.ends[each.key], each.end)
            if each.key in programme.cold:
                cold, minutes = programme.cold[each.key]
                usual = programme.work.activity[each.key].lasting.most
                programme.model.add_hint(cold, each.end - each.start >= usual + minutes)
