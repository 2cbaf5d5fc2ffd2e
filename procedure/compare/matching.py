"""Which step of one plan is which of the other, by meaning: a matching on both flow graphs.

Two steps are alike by what they do, what takes part, what they say, and by how alike
their neighbours in the flow are (what comes just before and after on the same lot, bath or
pot). Of all ways to pair the steps the one is taken whose likenesses come to the most; so
it matters nowhere in which line a step is.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable

from procedure.compare.claims import clauses, values
from procedure.compare.paired_things import overlap
from procedure.compare.sides import ComparedPart, Side
from procedure.model import Step
from procedure.quantity.record import NamedTuple

# How much each likeness weighs: what is done, what takes part, what is said, the label,
# the neighbours in the flow, and, to tell equals apart, the place in the text.
SAME_EFFECT, LIKE_EFFECT = 1.0, 0.3
PARTIES, SAID, LABEL, NEIGHBOURS, ABOUT_THERE = 2.0, 1.0, 0.3, 1.5, 0.2
# Steps that are less alike than this by themselves are not the same step.
LEAST = 1.75
ROUNDS = 3
# So many pairs of steps that differ are held against each other: those of 500 and 500.
MOST_PAIRS = 250_000
# From so many on, steps that are told apart by who takes part in them are paired at once: to
# hold each of them against all others takes twice the steps four times as long.
MANY_PAIRS = 10_000


class TooDifferent(ValueError):
    """Two plans so long, and so different, that their steps are not held against each other."""


# The likeness of two steps that are the same in all.
SURE = SAME_EFFECT + PARTIES + SAID + LABEL


class _Looks(NamedTuple):
    """A part as it is compared: its kind, its verb, who takes part, what is said."""

    kind: str
    effect: str
    group: str
    word: str
    parties: Counter[str]
    said: frozenset[str]
    label: str


def _looks(side: Side, part: ComparedPart) -> _Looks:
    step = part.step
    effect, group, word = part.node.kind, "", ""
    if isinstance(step, Step) and step.verb is not None:
        effect, group, word = step.effect, step.verb.group, step.word or step.verb.name
    parties = Counter(clause.token for clause in clauses(side, part) if clause.token)
    label = step.label.text if step.label is not None else ""
    return _Looks(part.node.kind, effect, group, word, parties, values(side, part), label)


def _own(one: _Looks, two: _Looks) -> float:
    """How alike two parts are by themselves; 0 where they cannot be the same."""
    if one.kind != two.kind:
        return 0.0
    if one.effect == two.effect:
        score = SAME_EFFECT
    elif one.group and (one.group == two.group or one.word == two.word):
        score = LIKE_EFFECT
    else:
        return 0.0
    every = one.said | two.said
    said = len(one.said & two.said) / len(every) if every else 1.0
    score += PARTIES * overlap(one.parties, two.parties) + SAID * said
    score += LABEL * (one.label == two.label)
    return score if score >= LEAST else 0.0


def match(old: Side, new: Side) -> dict[int, int]:
    """The place of each old part in the new plan; parts that are gone are not among them.

    Raises :class:`TooDifferent`.
    """
    looks = [_looks(old, part) for part in old.parts], [_looks(new, part) for part in new.parts]
    sure = _sure(old, new, looks)
    own: dict[tuple[int, int], float] = dict.fromkeys(sure.items(), SURE)
    if (len(looks[0]) - len(sure)) * (len(looks[1]) - len(sure)) > MANY_PAIRS:
        told = _by_parties(looks, sure)
        own |= {(i, j): _own(looks[0][i], looks[1][j]) for i, j in told.items()}
        sure |= told
    taken = set(sure.values())
    free = [(j, two) for j, two in enumerate(looks[1]) if j not in taken]
    differing = len(looks[0]) - len(sure)
    if differing * len(free) > MOST_PAIRS:
        raise TooDifferent(
            f"They are too long and too different to be held against each other: {differing:,} "
            f"steps of the one and {len(free):,} of the other differ. Compare them in parts."
        )
    for i, one in enumerate(looks[0]):
        for j, two in free if i not in sure else ():
            score = _own(one, two)
            if score:
                own[i, j] = score
    scores = own
    # Steps without neighbours are alike in that, in every round.
    alone = _alone(old), _alone(new)
    for _ in range(ROUNDS):
        scores = {
            pair: score
            + NEIGHBOURS
            * (
                1.0
                if pair[0] in alone[0] and pair[1] in alone[1]
                else _around(old, new, pair, scores, own)
            )
            for pair, score in own.items()
        }
    sizes = max(len(old.parts), 1), max(len(new.parts), 1)
    for i, j in scores:
        scores[i, j] += ABOUT_THERE * (1 - abs(i / sizes[0] - j / sizes[1]))
    rest = {pair: score for pair, score in scores.items() if pair[0] not in sure}
    return sure | _best(rest)


def _alone(side: Side) -> frozenset[int]:
    """The parts before and after which nothing comes in the flow."""
    return frozenset(i for i in range(len(side.parts)) if not side.before[i] and not side.after[i])


def _around(
    old: Side,
    new: Side,
    pair: tuple[int, int],
    scores: dict[tuple[int, int], float],
    own: dict[tuple[int, int], float],
) -> float:
    """How alike the neighbours of two parts are, from 0 to 1."""
    shares = []
    for ours, theirs in ((old.before, new.before), (old.after, new.after)):
        one, two = ours[pair[0]], theirs[pair[1]]
        if not one and not two:
            shares.append(1.0)
            continue
        best = [max((scores.get((i, j), 0.0) for j in two), default=0.0) for i in one]
        most = SURE + NEIGHBOURS * (scores is not own)
        shares.append(min(sum(best) / most / max(len(one), len(two)), 1.0))
    return sum(shares) / 2


def _sure(old: Side, new: Side, looks: tuple[list[_Looks], list[_Looks]]) -> dict[int, int]:
    """Parts that are the same in all, neighbours and theirs too, and told apart by their turn.

    They are those at the beginning and at the end of both plans, and between them those of which
    there are as many on one side as on the other.
    """
    known: list[list[object]] = []
    for side, mine in zip((old, new), looks, strict=True):
        marks: list[object] = [
            (one.kind, one.effect, frozenset(one.parties.items()), one.said) for one in mine
        ]
        for _ in range(2):
            marks = [
                (mark, _marks(marks, side.before[i]), _marks(marks, side.after[i]))
                for i, mark in enumerate(marks)
            ]
        known.append(marks)
    ours, theirs = known
    least = min(len(ours), len(theirs))
    begins = next((i for i in range(least) if ours[i] != theirs[i]), least)
    rest = range(least - begins)
    ends = next((i for i in rest if ours[-1 - i] != theirs[-1 - i]), len(rest))
    found = {i: i for i in range(begins)}
    found |= {len(ours) - 1 - i: len(theirs) - 1 - i for i in range(ends)}
    between = [_places(marks, begins, len(marks) - ends) for marks in known]
    for mark, here in between[0].items():
        others = between[1].get(mark, [])
        if len(here) == len(others):
            found.update(zip(here, others, strict=True))
    return found


def _by_parties(looks: tuple[list[_Looks], list[_Looks]], sure: dict[int, int]) -> dict[int, int]:
    """Other parts that do the same with the same, where no second part of either plan does so."""
    places: list[dict[object, list[int]]] = []
    for mine, known in zip(looks, (sure.keys(), set(sure.values())), strict=True):
        by_mark: dict[object, list[int]] = defaultdict(list)
        for i, one in enumerate(mine):
            if i not in known and one.parties:
                who = frozenset(one.parties.items())
                by_mark[one.kind, one.effect, one.label, who].append(i)
        places.append(by_mark)
    found: dict[int, int] = {}
    for mark, here in places[0].items():
        there = places[1].get(mark, [])
        if len(here) == len(there) == 1 and _own(looks[0][here[0]], looks[1][there[0]]):
            found[here[0]] = there[0]
    return found


def _places(marks: list[object], begin: int, end: int) -> dict[object, list[int]]:
    """Where each mark is, from one place to another."""
    places: dict[object, list[int]] = defaultdict(list)
    for i in range(begin, end):
        places[marks[i]].append(i)
    return places


def _marks(marks: list[object], places: Iterable[int]) -> frozenset[tuple[object, int]]:
    return frozenset(Counter(hash(marks[one]) for one in places).items())


def _best(scores: dict[tuple[int, int], float]) -> dict[int, int]:
    """The pairing whose scores come to the most.

    What has to do with each other is a graph of its own, put together in the order of the pairs:
    a view of a part of one graph is slow to look into, and goes through sets, so that of pairings
    that are as good it would be chance which is taken. A new part is there as minus its place and
    one, to be told from the old one of the same place.
    """
    import networkx

    every: networkx.Graph[int] = networkx.Graph()
    every.add_edges_from((i, -1 - j) for i, j in scores)
    number = {
        one: at for at, part in enumerate(networkx.connected_components(every)) for one in part
    }
    graphs: dict[int, networkx.Graph[int]] = {}
    for (i, j), score in scores.items():
        graph = graphs.setdefault(number[i], networkx.Graph())
        graph.add_edge(i, -1 - j, weight=score)
    found: dict[int, int] = {}
    for graph in graphs.values():
        for pair in networkx.max_weight_matching(graph):
            found[max(pair)] = -1 - min(pair)
    return dict(sorted(found.items()))
