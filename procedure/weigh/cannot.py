"""What a sum says that cannot be done."""

from __future__ import annotations


class CannotWeigh(ValueError):
    """A sum that cannot be done as asked; its text is one plain sentence for the user."""
