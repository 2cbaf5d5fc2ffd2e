"""Two versions of a method held against each other: what differs in meaning, never in letters."""

from procedure.compare.changes import Change, ChangedLine, Compared
from procedure.compare.comparing import compare

__all__ = ["Change", "ChangedLine", "Compared", "compare"]
