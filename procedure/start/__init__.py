"""A first file: a whole procedure from a fibre, a dyestuff and a mordant, or a blank form."""

from procedure.start.asked import Asked, NoMethod
from procedure.start.blank import blank
from procedure.start.making import made

__all__ = ["Asked", "NoMethod", "blank", "made"]
