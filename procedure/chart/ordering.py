"""The order of lanes in which few lines cross the steps that stand across them."""

from __future__ import annotations

from procedure.quantity.record import NamedTuple

# A line that a step must reach over costs more than a lane with nothing in it there.
PASSED = 10
EMPTY = 1
ROUNDS = 8


class Crossing(NamedTuple):
    """A step: the lanes it stands in, and those of the lines that pass it by."""

    stands: frozenset[int]
    passes: frozenset[int]


def ordered(groups: list[list[int]], steps: list[Crossing]) -> list[int]:
    """The lanes in an order with few crossings; those of a group stay together.

    Begins with the order given and with one of narrow bandwidth (networkx: Cuthill and
    McKee's, reversed), and moves one group at a time while that helps.
    """
    if len(groups) < 3:
        return [lane for group in groups for lane in group]
    counted = _counted(groups, steps)
    sizes = [len(group) for group in groups]
    best: list[int] = []
    least = float("inf")
    for start in (list(range(len(groups))), _narrow(len(groups), counted)):
        found, cost = _improved(start, counted, sizes)
        if cost < least:
            best, least = found, cost
    return [lane for group in best for lane in groups[group]]


def crossings(sequence: list[int], steps: list[Crossing]) -> int:
    """How many lines the steps reach over where the lanes are in that order."""
    at = {lane: place for place, lane in enumerate(sequence)}
    found = 0
    for step in steps:
        places = [at[lane] for lane in step.stands]
        low, high = min(places), max(places)
        found += sum(low < at[lane] < high for lane in step.passes)
    return found


_Counted = dict[tuple[tuple[int, ...], tuple[int, ...]], int]


def _counted(groups: list[list[int]], steps: list[Crossing]) -> _Counted:
    """Each different step by the groups that it stands in and that pass it, and how often."""
    group_of = {lane: number for number, group in enumerate(groups) for lane in group}
    found: _Counted = {}
    for step in steps:
        stands = tuple(sorted({group_of[lane] for lane in step.stands}))
        passes = tuple(sorted({group_of[lane] for lane in step.passes} - set(stands)))
        if len(stands) > 1:
            found[stands, passes] = found.get((stands, passes), 0) + 1
    return found


def _cost(sequence: list[int], counted: _Counted, sizes: list[int]) -> int:
    at = [0] * len(sequence)
    for place, group in enumerate(sequence):
        at[group] = place
    cost = 0
    for (stands, passes), often in counted.items():
        places = [at[group] for group in stands]
        low, high = min(places), max(places)
        passed = sum(sizes[group] for group in passes if low < at[group] < high)
        cost += often * (PASSED * passed + EMPTY * (high - low + 1 - len(stands)))
    return cost


def _narrow(number: int, counted: _Counted) -> list[int]:
    import networkx
    from networkx.utils import reverse_cuthill_mckee_ordering

    together: networkx.Graph[int] = networkx.Graph()
    together.add_nodes_from(range(number))
    for stands, _ in counted:
        together.add_edges_from((one, two) for one in stands for two in stands if one < two)
    return list(reverse_cuthill_mckee_ordering(together))


def _improved(start: list[int], counted: _Counted, sizes: list[int]) -> tuple[list[int], int]:
    """An order in which no group would do better at another place."""
    best, least = start, _cost(start, counted, sizes)
    for _ in range(ROUNDS):
        before = least
        for group in start:
            rest = [other for other in best if other != group]
            for place in range(len(best)):
                tried = [*rest[:place], group, *rest[place:]]
                cost = _cost(tried, counted, sizes)
                if cost < least:
                    best, least = tried, cost
        if least == before:
            break
    return best, least
