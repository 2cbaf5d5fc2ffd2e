"""A first file: a whole procedure from a fibre, a dyestuff and a mordant, or a blank form."""

from procedure.start.making import Asked, NoMethod, blank, made

__all__ = ["Asked", "NoMethod", "blank", "made"]
