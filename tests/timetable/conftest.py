"""What holds for every test of this folder."""

from verified_always import verified

__all__ = ["verified"]
