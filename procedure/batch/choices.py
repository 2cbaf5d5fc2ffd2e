"""What batches of a method did one way or another: a step left out, a way taken, a supplier.

Numbers that vary are looked at elsewhere; here is what has no number, each as two groups.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence

from procedure.batch.types import Record, StepDone

# A group of one batch says nothing of what it does (common practice).
SMALLEST = 2


def choices(
    records: Sequence[Record], used: Sequence[Mapping[str, object]]
) -> dict[str, list[bool]]:
    """For each thing done one way or another: of each record, whether it did it this way.

    ``used`` is what each record used, by material. Only what is known of every record, and
    was done this way and otherwise by at least two each; two choices that part the records
    alike are told once, as the first.
    """
    made: dict[str, list[bool]] = {}
    for what, sides in _all(records, used):
        count = sum(sides)
        if SMALLEST <= count <= len(sides) - SMALLEST and not _told(sides, made):
            made[what] = sides
    return made


def _told(sides: list[bool], made: Mapping[str, list[bool]]) -> bool:
    others = [not side for side in sides]
    return any(one in (sides, others) for one in made.values())


def _all(
    records: Sequence[Record], used: Sequence[Mapping[str, object]]
) -> Iterator[tuple[str, list[bool]]]:
    for name in dict.fromkeys(name for one in used for name in one):
        yield f"with {name}", [name in one for one in used]
    for words in dict.fromkeys(step.words for one in records for step in one.steps):
        yield from _of_step(words, [_step(one, words) for one in records])
    for what, values in _named(records).items():
        if all(values):
            for value in dict.fromkeys(values):
                yield f"{what} “{value}”", [one == value for one in values]


def _step(record: Record, words: str) -> StepDone | None:
    return next((step for step in record.steps if step.words == words), None)


def _of_step(words: str, steps: Sequence[StepDone | None]) -> Iterator[tuple[str, list[bool]]]:
    yield f"“{words}” left out", [one is not None and one.skipped is not None for one in steps]
    yield f"“{words}” added", [one is not None and one.added for one in steps]
    yield f"“{words}” done otherwise", [one is not None and bool(one.otherwise) for one in steps]
    ways = [_way(one) for one in steps]
    for way in dict.fromkeys(way for way in ways if way):
        if all(ways):
            yield f"“{words}”, the way “{way}”", [one == way for one in ways]


def _way(step: StepDone | None) -> str:
    answer = None if step is None else step.answer("way") or step.answer("taken")
    return answer.done if answer is not None and isinstance(answer.done, str) else ""


def _named(records: Sequence[Record]) -> dict[str, list[str]]:
    """What has a name in every record: the water, and where each material comes from."""
    made: dict[str, list[str]] = {"water": [one.water.source for one in records]}
    by_material: dict[str, list[str]] = defaultdict(list)
    for record in records:
        for one in (*record.lots, *record.materials):
            by_material[f"{one.name} from"].append(one.supplier or one.origin)
            by_material[f"{one.name} of the lot"].append(one.lot)
    made.update((what, values) for what, values in by_material.items())
    return {what: values for what, values in made.items() if len(values) == len(records)}
