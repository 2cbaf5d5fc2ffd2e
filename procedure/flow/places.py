"""Where each lot and bath is at one point of the walk, and whether it is still there."""

from procedure.flow.undo_log import Watched
from procedure.quantity.record import NamedTuple

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


class Outcome(NamedTuple):
    """What one way of a choice leaves: the things and lots that it changed, as they are then."""

    way: str
    live: dict[str, Live]
    bath_of: dict[str, str]


def on_the_way(ways: list[str]) -> str:
    """Some of the ways of a choice in words, as findings tell where something holds."""
    from procedure.quantity.number_words import listed

    return f"on the way {listed([f'“{way}”' for way in ways], 'or')}"


class Places:
    """Lots in baths and baths in pots, as the steps so far have left them.

    ``bath_of`` is the bath that a lot is in, or empty, and ``bag_in`` the same of a bag;
    ``branches`` counts the ``if``
    blocks that the walk is inside of.
    """

    def __init__(self) -> None:
        self.live: Watched[Live] = Watched()
        self.bath_of: Watched[str] = Watched()
        self.bag_in: dict[str, str] = {}
        # The ways of a choice that are left, by the words for the others.
        self.other_ways: dict[str, str] = {}
        self.branches = 0
        # The lots that are in one bath or another, by which way was taken.
        self.either_bath: set[str] = set()
        self._lots_in: dict[str, dict[str, None]] = {}
        self._put_into: dict[str, list[str]] = {}  # pot -> baths that were put into it
        # Pots that a step has asked for with nothing in them: that is told once.
        self.found_empty: set[str] = set()

    def put(self, lot: str, bath: str) -> None:
        """The lot is in that bath from here on, or in none."""
        earlier = self.bath_of.get(lot, "")
        if earlier:
            self._lots_in[earlier].pop(lot, None)
        if bath:
            self._lots_in.setdefault(bath, {})[lot] = None
        self.bath_of[lot] = bath
        self.either_bath.discard(lot)

    def lots_in(self, bath: str) -> tuple[str, ...]:
        """The lots in a bath, in the order in which they came."""
        return tuple(self._lots_in.get(bath, ()))

    def pour(self, bath: str, live: Live) -> None:
        """Give a bath its present version, and note the pot that it is in."""
        self.live[bath] = live
        if live.home:
            self._put_into.setdefault(live.home, []).append(bath)
            self.found_empty.discard(live.home)

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

    def outcome(
        self, way: str, live: dict[str, Live | None], bath_of: dict[str, str | None]
    ) -> Outcome:
        """What one way of a choice leaves, of all that the logs say it changed."""
        return Outcome(
            way,
            {thing: self.live[thing] for thing in live},
            {lot: self.bath_of[lot] for lot in bath_of},
        )

    def back_to(
        self, live: dict[str, Live | None], bath_of: dict[str, str | None], node: int
    ) -> None:
        """Undo what one way did, since the next begins where that one did."""
        for thing, before in live.items():
            # What this way made is not there on the others.
            self.live[thing] = before or Live(GONE, node, "", "")
        for lot, bath in bath_of.items():
            self.put(lot, bath or "")

    def join(self, outcomes: list[Outcome]) -> None:
        """Everything as it is after a choice, on whichever way."""
        for thing in dict.fromkeys(thing for one in outcomes for thing in one.live):
            self._join_thing(thing, outcomes)
        for lot in dict.fromkeys(lot for one in outcomes for lot in one.bath_of):
            now = self.bath_of.get(lot, "")
            found = [one.bath_of.get(lot, now) for one in outcomes]
            self.put(lot, next((bath for bath in found if bath), ""))
            if len({bath for bath in found if bath}) > 1:
                self.either_bath.add(lot)

    def _join_thing(self, thing: str, outcomes: list[Outcome]) -> None:
        before = self.live[thing]
        found = [one.live.get(thing, before) for one in outcomes]
        there = [one for one in found if one.status == IN_USE]
        kept = [one for one in found if one.status != IN_USE]
        if not kept or not there:
            one = found[0]
            homes = {live.home for live in found}
            path = next((live.path for live in found if live.path), "")
            other = next((live for live in found if live.home), one)
            self.live[thing] = other._replace(path=path) if len(homes) > 1 else one
            return
        if before.status == GONE and not before.home and before.node not in (-1,):
            # Made on some of the ways only.
            ways = [one.way for one, live in zip(outcomes, found, strict=True) if live in there]
            self.live[thing] = there[0]._replace(path=there[0].path or on_the_way(ways))
            return
        ways = [one.way for one, live in zip(outcomes, found, strict=True) if live in kept]
        rest = [one.way for one, live in zip(outcomes, found, strict=True) if live in there]
        path = on_the_way(ways)
        self.other_ways[path] = on_the_way(rest)
        self.live[thing] = kept[0]._replace(path=kept[0].path or path)

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
            if before is None and now.status == IN_USE:
                self.live[thing] = now._replace(path=now.path or taken)
            elif before is None:
                continue  # made and gone within the block
            elif now.status != before.status:
                gone, path = (now, taken) if now.status != IN_USE else (before, passed)
                self.live[thing] = gone._replace(path=gone.path or path)
            elif now.home != before.home and before.home:
                self.live[thing] = now._replace(path=now.path or taken)
        for lot, bath in bath_of.items():
            now_in = self.bath_of.get(lot)
            if bath and not now_in:
                self.put(lot, bath)
            elif bath and now_in != bath:
                self.either_bath.add(lot)
