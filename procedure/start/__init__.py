"""A first file: a whole procedure from a fibre, a dyestuff and a mordant, or a blank form."""

from procedure.start.blank import blank
from procedure.start.making import made
from procedure.start.wish import NoMethod, Wish

__all__ = ["NoMethod", "Wish", "blank", "made"]
