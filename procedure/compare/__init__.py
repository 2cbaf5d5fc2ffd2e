"""Two versions of a method held against each other: what differs in meaning, never in letters."""

from procedure.compare.changes import Change, Compared, Spot
from procedure.compare.comparing import compare

__all__ = ["Change", "Compared", "Spot", "compare"]
