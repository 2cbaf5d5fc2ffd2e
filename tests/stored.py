"""The type of the ``snapshot`` fixture, for the tests that ask for it."""

from __future__ import annotations

from collections.abc import Callable

Snapshot = Callable[[str, str], None]
