"""Where each lot and bath is at one point of the walk, and whether it is still there."""

from typing import NamedTuple

from procedure.flow.undo_log import Watched

IN_USE, GONE, KEPT = "in use", "gone", "kept"


class Live(NamedTuple):
    """The present version of a lot or a bath: in use, gone (by which node), or kept.

    ``path`` says on which way through an ``if`` it is so, and is empty where always.
    ``home`` is the pot of a bath, empty for lots and for a bath in no pot.
    """

    status: str
    node: int
    path: str
    home: str

    @property
    def partly_there(self) -> bool:
        """True where it is there, on one way through an ``if`` at least."""
        return self.status != GONE or bool(self.path)


class Places:
    """Lots in baths and baths in pots, as the steps so far have left them.

    ``bath_of`` is the bath that a lot is in, or empty; ``branches`` counts the ``if``
    blocks that the walk is inside of.
    """

    def __init__(self) -> None:
        self.live: Watched[Live] = Watched()
        self.bath_of: Watched[str] = Watched()
        self.branches = 0
        self._lots_in: dict[str, dict[str, None]] = {}
        self._put_into: dict[str, list[str]] = {}  # pot -> baths that were put into it

    def put(self, lot: str, bath: str) -> None:
        """The lot is in that bath from here on, or in none."""
        earlier = self.bath_of.get(lot, "")
        if earlier:
            self._lots_in[earlier].pop(lot, None)
        if bath:
            self._lots_in.setdefault(bath, {})[lot] = None
        self.bath_of[lot] = bath

    def lots_in(self, bath: str) -> tuple[str, ...]:
        """The lots in a bath, in the order in which they came."""
        return tuple(self._lots_in.get(bath, ()))

    def pour(self, bath: str, live: Live) -> None:
        """Give a bath its present version, and note the pot that it is in."""
        self.live[bath] = live
        if live.home:
            self._put_into.setdefault(live.home, []).append(bath)

    def occupant(self, pot: str) -> str:
        """The bath in a pot, or an empty text."""
        baths = self._put_into.get(pot)
        while baths:
            if self._is_in(baths[-1], pot):
                return baths[-1]
            if self.branches:  # on the other way through an if it may still be there
                break
            baths.pop()
        return next((bath for bath in reversed(baths or ()) if self._is_in(bath, pot)), "")

    def _is_in(self, bath: str, pot: str) -> bool:
        live = self.live.get(bath)
        return live is not None and live.home == pot and live.partly_there

    def merge(
        self,
        live: dict[str, Live | None],
        bath_of: dict[str, str | None],
        taken: str,
        passed: str,
    ) -> None:
        """Join the two ways through an ``if``: what changed on it holds on that way only.

        The logs hold what was before the block; ``taken`` and ``passed`` say in words
        when its steps are done and when not.
        """
        for thing, before in live.items():
            now = self.live[thing]
            if before is None:
                self.live[thing] = now._replace(path=now.path or taken)
            elif now.status != before.status:
                gone, path = (now, taken) if now.status != IN_USE else (before, passed)
                self.live[thing] = gone._replace(path=gone.path or path)
            elif now.home != before.home and before.home:
                self.live[thing] = now._replace(path=now.path or taken)
        for lot, bath in bath_of.items():
            if bath and not self.bath_of.get(lot):
                self.put(lot, bath)
