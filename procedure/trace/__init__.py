"""Flow graph to trace: the state of each lot, bath and pot, carried through the plan once."""

from procedure.trace.moments import Moment, Trace
from procedure.trace.states import BathState, Carried, Content, LotState, PotState, Residue, TakenUp
from procedure.trace.walk import trace

__all__ = [
    "BathState",
    "Carried",
    "Content",
    "LotState",
    "Moment",
    "PotState",
    "Residue",
    "TakenUp",
    "Trace",
    "trace",
]
