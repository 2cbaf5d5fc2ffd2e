"""Two plans held against each other: what is new, gone, moved or changed in meaning."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from procedure.compare import bearing, of_things
from procedure.compare.changes import Change, ChangedLine, Compared, Pair
from procedure.compare.matching import match
from procedure.compare.of_steps import Both, differences, spot
from procedure.compare.order import moved
from procedure.compare.paired_things import Things, things
from procedure.compare.saying import brief
from procedure.compare.sides import ComparedPart, Side
from procedure.findings import Finding, Says, say
from procedure.pipeline import Judged
from procedure.wording.same_said import how_many

# Baths go by the steps that make them; so often is that tried anew with what was learnt.
ROUNDS = 3
# What tells a finding from another: its rule, its level, its place in both plans, if it is allowed.
Mark = tuple[str, str, str, bool]


def compare(old: Judged, new: Judged) -> Compared:
    """What differs in meaning between an old and a new version of a method.

    Works for any two plans, faulty ones too: what could not be read is in neither, and the
    findings say so. Raises :class:`~procedure.compare.matching.TooDifferent`.
    """
    sides = Side(old), Side(new)
    pairs = things(*sides)
    steps = _matched(*sides, pairs)
    gone_up = moved(*sides, steps)
    changes: list[Change] = []
    remarks: list[Change] = []
    told = (*of_things.head(*sides), *of_things.weights(*sides, pairs))
    for remark, change in told:
        (remarks if remark else changes).append(change)
    changes += of_things.declared(*sides, pairs)
    changes += _steps(*sides, steps, gone_up)
    causes = _of_fibre(sides[0], changes, remarks)
    if causes:
        changes += of_things.not_grown(*sides, steps, causes)
    remarks += of_things.gathered(*sides, pairs)
    gained, lost = _findings(*sides, pairs, steps)
    return Compared(
        old,
        new,
        _each_once(changes),
        _each_once(remarks),
        gained,
        lost,
        tuple(_rows(*sides, steps, gone_up, changes)),
    )


def _of_fibre(old: Side, changes: list[Change], remarks: list[Change]) -> list[Change]:
    """The changes by which a bath is for another weight of fibre, the plainest first.

    Other weights; other parts of a lot; lots that are new or gone; and a lot in one bath
    more or less.
    """
    splits = {spot(part) for part in old.parts if part.node.does.makes_lots}
    return [
        *(one for one in (*changes, *remarks) if one.kind == "weight"),
        *(one for one in changes if one.old in splits or one.section == "fibre"),
        *(one for one in changes if one.kind == "taking part"),
    ]


def _each_once(changes: Iterable[Change]) -> tuple[Change, ...]:
    """Changes in order; one that several turns of a block show is told once."""
    return tuple(sorted(dict.fromkeys(changes), key=lambda change: change.order))


# ------------------------------------------------------------------ steps


def _matched(old: Side, new: Side, pairs: Things) -> dict[int, int]:
    """Pair the steps; baths are then named by the steps that make them, and it is done again."""
    steps = match(old, new)
    for _ in range(ROUNDS):
        baths = {
            one: two
            for i, j in steps.items()
            for one, two in zip(old.parts[i].node.makes, new.parts[j].node.makes, strict=False)
        }
        if all(pairs.baths.get(one) == two for one, two in baths.items()):
            break
        taken = set(baths.values())
        rest = {a: b for a, b in pairs.baths.items() if a not in baths and b not in taken}
        pairs.baths.clear()
        pairs.baths.update(baths | rest)
        for side, names in ((old, pairs.baths.keys()), (new, pairs.baths.values())):
            for bath in side.flow.baths:
                side.shared.pop(bath, None)
            for number, bath in enumerate(names):
                side.shared[bath] = f"baths {number}"
        steps = match(old, new)
    return steps


def _steps(
    old: Side, new: Side, pairs: dict[int, int], gone_up: dict[int, int]
) -> Iterator[Change]:
    for part in old.parts:
        j = pairs.get(part.place)
        if j is None:
            yield _single("gone", old, part)
            continue
        both = Both(old, new, part, new.parts[j], pairs)
        yield from differences(both)
        if part.place in gone_up:
            other = new.parts[pairs[gone_up[part.place]]]
            earlier = other.place > j
            where = "before" if earlier else "after"
            yield both.change(
                "moved",
                say(f"moved {where} “{{other}}”", other=brief(other)),
                say(f"Do it {where} “{{other}}”.", other=brief(other)),
                colour=True,
                safety=both.harmful,
            )
        elif not _same_block(part, both.now, pairs):
            yield both.change("moved", _into(new, both.now), colour=True)
    taken = set(pairs.values())
    for part in new.parts:
        if part.place not in taken:
            yield _single("new", new, part)


def _same_block(old: ComparedPart, new: ComparedPart, pairs: dict[int, int]) -> bool:
    return pairs.get(old.within, -1) == new.within


def _into(side: Side, part: ComparedPart) -> Says:
    if part.within < 0:
        return say("moved out of its block")
    return say("moved into “{block}”", block=brief(side.parts[part.within]))


def _single(kind: str, side: Side, part: ComparedPart) -> Change:
    """A step that only one of the plans has."""
    says = say(f"“{{step}}” is {kind}", step=brief(part))
    do = "Do this as well: {step}." if kind == "new" else "Leave this out: {step}."
    where = spot(part)
    return Change(
        kind,
        "steps",
        where if kind == "gone" else None,
        where if kind == "new" else None,
        says,
        say(do, step=brief(part)),
        colour=bearing.coloured_in(side, part) or part.node.does.rinses,
        safety=bearing.keeps_safe(side, part),
    )


def _rows(
    old: Side,
    new: Side,
    pairs: dict[int, int],
    gone_up: dict[int, int],
    changes: list[Change],
) -> Iterator[Pair]:
    """The steps side by side, in the order of the new text; what is gone stands where it was."""
    changed = {(change.old, change.new) for change in changes}
    back = {j: i for i, j in pairs.items()}
    shown = 0
    for part in new.parts:
        i = back.get(part.place)
        if i is None:
            yield Pair(None, part.place, "new")
            continue
        while shown <= i:
            if shown not in pairs:
                yield Pair(shown, None, "gone")
            shown += 1
        spots = spot(old.parts[i]), spot(part)
        state = "moved" if i in gone_up else "changed" if spots in changed else "same"
        yield Pair(i, part.place, state)
    for i in range(shown, len(old.parts)):
        if i not in pairs:
            yield Pair(i, None, "gone")


# ------------------------------------------------------------------ findings


def _findings(
    old: Side, new: Side, pairs: Things, steps: dict[int, int]
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """The findings that only the new plan has, and those that only the old one had."""
    marks: tuple[dict[ChangedLine, str], dict[ChangedLine, str]] = ({}, {})
    for i, j in steps.items():
        marks[0][spot(old.parts[i])] = marks[1][spot(new.parts[j])] = f"step {i}"
    for kind, mine in pairs._asdict().items():
        for number, (one, two) in enumerate(mine.items()):
            for side, known, name in ((old, marks[0], one), (new, marks[1], two)):
                where = _declared_at(side, name)
                if where is not None:
                    known.setdefault(where, f"{kind} {number}")
    counted: tuple[Counter[Mark], Counter[Mark]] = (Counter(), Counter())
    for side, known, count in zip((old, new), marks, counted, strict=True):
        for finding in side.plan.findings:
            count[_mark(finding, known)] += how_many(finding)
    gained = _beyond(new.plan.findings, marks[1], counted[0])
    return gained, _beyond(old.plan.findings, marks[0], counted[1])


def _declared_at(side: Side, name: str) -> ChangedLine | None:
    origin = side.flow.lots.get(name)
    if origin is not None and origin.declared is not None:
        return ChangedLine(origin.procedure.file, origin.declared.line)
    found = side.flow.pots.get(name) or side.flow.materials.get(name)
    return ChangedLine(found[1].file, found[0].line) if found is not None else None


def _mark(finding: Finding, known: dict[ChangedLine, str]) -> Mark:
    """What tells a finding from another, wherever its line has gone."""
    where = known.get(ChangedLine(finding.file, finding.line), "")
    return finding.rule, finding.level, where, bool(finding.allowed)


def _beyond(
    findings: Iterable[Finding],
    known: dict[ChangedLine, str],
    others: Counter[Mark],
) -> tuple[Finding, ...]:
    left = Counter(others)
    found = []
    for finding in findings:
        mark = _mark(finding, known)
        if left[mark] >= how_many(finding):
            left[mark] -= how_many(finding)
        else:
            found.append(finding)
    return tuple(found)
