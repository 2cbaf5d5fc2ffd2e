"""One way to lay out a procedure: text to text, with the same meaning before and after."""

from procedure.neaten.laying_out import Neat, neat
from procedure.neaten.other_units import Left, Rewritten, Rounded, in_units

__all__ = ["Left", "Neat", "Rewritten", "Rounded", "in_units", "neat"]
