"""A dictionary that tells what it held before a change, so that a block costs what it changes."""

from __future__ import annotations

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TypeVar

    Thing = TypeVar("Thing")
else:
    Thing = object


class Watched(dict[str, Thing]):
    """Things by name. While somebody watches, the first change of each name is noted.

    A log holds what stood under a name before, or None where nothing did.
    """

    def __init__(self) -> None:
        super().__init__()
        self._logs: list[dict[str, Thing | None]] = []

    def __setitem__(self, name: str, thing: Thing) -> None:
        for log in self._logs:
            if name not in log:
                log[name] = self.get(name)
        dict.__setitem__(self, name, thing)  # without asking for super: a plan does it often

    def watch(self) -> dict[str, Thing | None]:
        """A log that is kept until :meth:`unwatch` is called with it."""
        log: dict[str, Thing | None] = {}
        self._logs.append(log)
        return log

    def unwatch(self, log: dict[str, Thing | None]) -> None:
        """Stop keeping a log."""
        self._logs[:] = [kept for kept in self._logs if kept is not log]
