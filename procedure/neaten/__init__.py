"""One way to lay out a procedure: text to text, with the same meaning before and after."""

from procedure.neaten.laying_out import Neat, neat
from procedure.neaten.other_units import NotConverted, Rewritten, Rounded, in_units

__all__ = ["Neat", "NotConverted", "Rewritten", "Rounded", "in_units", "neat"]
