"""Which steps have changed their place: only where it matters, by what flows between them."""

from __future__ import annotations

from bisect import bisect
from collections import Counter

from procedure.compare.claims import clauses
from procedure.compare.sides import Side


def _earlier(side: Side) -> list[int]:
    """For each part, as bits, all those that must be done before it."""
    found = [0] * len(side.parts)
    # Edges go down the text but for a circle, which is cut where it goes up.
    for place in range(len(side.parts)):
        for before in side.before[place]:
            if before < place:
                found[place] |= found[before] | 1 << before
    return found


def _in_hand(side: Side, place: int) -> set[str]:
    """The lots, baths and pots that a step is about, by the names that both plans share."""
    part = side.parts[place]
    node = part.node
    things = {*node.lots, *node.makes, node.bath, node.pot, node.to_pot, *node.cleaned} - {""}
    moment = side.moments.get(node.id)
    bath = None if moment is None else moment.bath_before or moment.bath_after
    if bath is not None and bath.pot:
        things.add(bath.pot)
    said = {clause.token for clause in clauses(side, part) if clause.field != "using"}
    return {side.token_of(thing) for thing in things} | said - {""}


def moved(old: Side, new: Side, pairs: dict[int, int]) -> dict[int, int]:
    """The fewest old parts whose change of place explains all changes of order.

    Each has the old part that it has passed. Two parts have changed order where one must
    be done before the other in the old plan, and after it in the new one; or where the new
    one, though both are still about the same thing, no longer makes sense of it.
    """
    first, second = _earlier(old), _earlier(new)
    hands = (
        {i: _in_hand(old, i) for i in pairs},
        {i: _in_hand(new, j) for i, j in pairs.items()},
    )
    against: dict[int, set[int]] = {}
    passed: list[tuple[int, int]] = []  # the new places so far, in order, with the old ones
    for later in sorted(pairs):
        at = bisect(passed, (pairs[later], later))
        for _, earlier in passed[at:]:  # mostly none: what is still behind has not turned
            if not first[later] >> earlier & 1:
                continue
            alike = [bool(mine[earlier] & mine[later]) for mine in hands]
            if all(alike) or second[pairs[earlier]] >> pairs[later] & 1:
                against.setdefault(later, set()).add(earlier)
                against.setdefault(earlier, set()).add(later)
        passed.insert(at, (pairs[later], later))
    found: dict[int, int] = {}
    while against:
        counted = Counter({one: len(others) for one, others in against.items()})
        # Of two that have changed places, the later one is said to have gone up.
        most = max(counted, key=lambda one: (counted[one], one))
        others = against.pop(most)
        found[most] = min(others) if min(others) < most else max(others)
        for other in others:
            against[other].discard(most)
            if not against[other]:
                del against[other]
    return found
