"""Which lot, pot, material and bath of one plan is which of the other.

A thing is known by what it is and by what is done with it; its name counts as well, and is
not needed.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping

from procedure.compare.sides import Side
from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.quantity.record import NamedTuple

# How much each likeness weighs, and below which sum two things are not the same.
NAME, FACTS, USES = 3.0, 4.0, 3.0
LEAST = 3.5


class Seen(NamedTuple):
    """A thing as it can be known again: its name, what it is, what is done with it."""

    id: str
    called: str
    facts: Counter[str]
    uses: Counter[str]


def overlap(one: Mapping[str, int], two: Mapping[str, int]) -> float:
    """How much two bags of words have in common, from 0 to 1; two empty ones are alike."""
    words = one.keys() | two.keys()
    if not words:
        return 1.0
    if one.keys().isdisjoint(two):
        return 0.0
    both = sum(min(one.get(word, 0), two.get(word, 0)) for word in words)
    return both / sum(max(one.get(word, 0), two.get(word, 0)) for word in words)


def likeness(one: Seen, two: Seen) -> float:
    """How alike two things are."""
    return (
        NAME * (one.called == two.called)
        + FACTS * overlap(one.facts, two.facts)
        + USES * overlap(one.uses, two.uses)
    )


def _turns(things: list[Seen]) -> list[int]:
    """For each thing, how many before it are called the same."""
    counted: Counter[str] = Counter()
    found = []
    for thing in things:
        found.append(counted[thing.called])
        counted[thing.called] += 1
    return found


def paired(old: list[Seen], new: list[Seen], last: bool = False) -> dict[str, str]:
    """The new thing for each old one that is still there; the most alike first.

    With ``last``, where one is left on each side they are one that has become another.
    """
    # Of several that are alike (the soap of each method that is followed) the first is the
    # first, whatever else has come between them.
    turns = _turns(old), _turns(new)
    # Most are the very same on both sides: nothing is more like either of them.
    same = {_all_of(two, turn): j for j, (two, turn) in enumerate(zip(new, turns[1], strict=True))}
    found: dict[str, str] = {}
    taken: set[int] = set()
    for one, turn in zip(old, turns[0], strict=True):
        j = same.get(_all_of(one, turn))
        if j is not None:
            taken.add(j)
            found[one.id] = new[j].id
    free = [(j, two) for j, two in enumerate(new) if j not in taken]
    scored = sorted(
        (-score, abs(turns[0][i] - turns[1][j]), i, j)
        for i, one in enumerate(old)
        if one.id not in found
        for j, two in free
        if (score := likeness(one, two)) >= LEAST
    )
    for _, _, i, j in scored:
        if old[i].id not in found and j not in taken:
            taken.add(j)
            found[old[i].id] = new[j].id
    left = [one.id for one in old if one.id not in found]
    last_free = [two.id for j, two in free if j not in taken]
    if last and len(left) == len(last_free) == 1:
        found[left[0]] = last_free[0]
    return found


def _all_of(thing: Seen, turn: int) -> tuple[object, ...]:
    """All that a thing can be known by."""
    return thing.called, turn, frozenset(thing.facts.items()), frozenset(thing.uses.items())


class Things(NamedTuple):
    """The pairs of each kind, from the old plan's name to the new one's."""

    lots: dict[str, str]
    pots: dict[str, str]
    materials: dict[str, str]
    baths: dict[str, str]


def things(old: Side, new: Side) -> Things:
    """Pair what both plans have, and give both sides the names that they share."""
    uses = _uses(old), _uses(new)
    made = Things(
        paired(_lots(old, uses[0]), _lots(new, uses[1]), last=True),
        paired(_pots(old, uses[0]), _pots(new, uses[1])),
        paired(_materials(old, uses[0]), _materials(new, uses[1])),
        paired(_baths(old, uses[0]), _baths(new, uses[1])),
    )
    for kind, pairs in zip(Things._fields, made, strict=True):
        for number, (one, two) in enumerate(pairs.items()):
            old.shared[one] = new.shared[two] = f"{kind} {number}"
    return made


def _trade(side: Side, thing: str) -> str:
    found = side.flow.materials.get(thing)
    return found[0].called if found is not None else ""


def _contents(side: Side) -> dict[str, Counter[str]]:
    """What goes into each bath, by its names in the trade."""
    found: dict[str, Counter[str]] = {}
    for part in side.parts:
        node = part.node
        for bath in {*node.makes, node.bath} - {""}:
            brought = (*node.materials, *node.moved)
            names = (_trade(side, thing) for thing, _ in brought if thing != WATER)
            found.setdefault(bath, Counter()).update(name for name in names if name)
    return found


def _touched(node: FlowNode) -> set[str]:
    things = {*node.lots, *node.makes, node.bath, node.pot, node.to_pot, *node.cleaned, node.bag}
    brought = {thing for thing, _ in (*node.materials, *node.moved)}
    return (things | brought) - {"", WATER}


def _uses(side: Side) -> dict[str, Counter[str]]:
    """What is done with each thing: effects, with what the bath holds."""
    contents = _contents(side)
    found: dict[str, Counter[str]] = {}
    for part in side.parts:
        node = part.node
        baths = [*node.makes, node.bath]
        held = sorted({name for bath in baths for name in contents.get(bath, ())})
        word = " ".join([node.effect or node.kind, *held])
        for thing in _touched(node):
            found.setdefault(thing, Counter())[word] += 1
    return found


def _seen(side: Side, thing: str, facts: list[str], uses: dict[str, Counter[str]]) -> Seen:
    called = side.plan.study.called(thing)
    return Seen(thing, called, Counter(facts), uses.get(thing, Counter()))


def _lots(side: Side, uses: dict[str, Counter[str]]) -> list[Seen]:
    found = []
    for thing, origin in side.flow.lots.items():
        declared = origin.declared
        facts = ["made"] if declared is None else [fibre.name for fibre in declared.fibres]
        facts += declared.words if declared is not None else ()
        found.append(_seen(side, thing, facts, uses))
    return found


def _pots(side: Side, uses: dict[str, Counter[str]]) -> list[Seen]:
    found = []
    for thing, (pot, _) in side.flow.pots.items():
        facts = [one.name for one in (pot.metal, pot.kind) if one is not None]
        facts += [pot.use, pot.capacity.text if pot.capacity is not None else ""]
        found.append(_seen(side, thing, [one for one in facts if one], uses))
    return found


def _materials(side: Side, uses: dict[str, Counter[str]]) -> list[Seen]:
    found = []
    for thing, (made, _) in side.flow.materials.items():
        if thing != WATER:
            facts = [made.called, *made.roles, made.state, made.part]
            found.append(_seen(side, thing, [one for one in facts if one], uses))
    return found


def _baths(side: Side, uses: dict[str, Counter[str]]) -> list[Seen]:
    contents = _contents(side)
    return [
        _seen(side, bath, list(contents.get(bath, Counter()).elements()), uses)
        for bath in side.flow.baths
    ]
