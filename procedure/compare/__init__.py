"""Two versions of a method held against each other: what differs in meaning, never in letters."""

from procedure.compare.changes import Change, ChangedLine, Compared
from procedure.compare.comparing import compare
from procedure.compare.matching import TooDifferent

__all__ = ["Change", "ChangedLine", "Compared", "TooDifferent", "compare"]
