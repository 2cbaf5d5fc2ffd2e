"""One way to lay out a procedure: text to text, with the same meaning before and after."""

from procedure.neaten.laying_out import Neat, neat

__all__ = ["Neat", "neat"]
