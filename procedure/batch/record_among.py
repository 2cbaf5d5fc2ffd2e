"""Records among others: which belong to their procedure still, which are one record twice, and
names that may be one."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from functools import lru_cache
from pathlib import Path

from procedure.batch.changed_since import match
from procedure.batch.folder import Batch
from procedure.batch.from_plan import planned_batch
from procedure.batch.methods import OF_ANOTHER
from procedure.batch.side_of_form import PlannedBatch, content_hash
from procedure.findings import Says, Several, listed, say
from procedure.pipeline import NotText, read, text_of
from procedure.quantity.kept_answers import remembered
from procedure.vocabulary.slips import one_slip

# So many records are named one by one; of more, the number is told.
_FEW = 6
# A shorter word is one slip away from many others.
_LONG_ENOUGH = 5
# Of so many names each is held against each.
_MOST = 200

SAME, CHANGED, MISSING, UNNAMED = "same", "changed", "missing", "unnamed"


def each_once(batches: Sequence[Batch]) -> tuple[list[Batch], list[Says]]:
    """The records without those that are another word for word, and a sentence for each such."""
    kept: dict[object, Batch] = {}
    says: list[Says] = []
    for batch in batches:
        first = kept.setdefault(batch.record._replace(file=""), batch)
        if first is not batch:
            says.append(
                say(
                    "{file} says what {other} says, and is counted once.",
                    file=str(batch.path),
                    other=str(first.path),
                )
            )
    return list(kept.values()), says


def with_procedure(batch: Batch) -> Batch:
    """A record that knows how it stands to the procedure that it names.

    The procedure's text is compared by its hash alone, and followed only where it is another
    text: whether the record can be of it at all is then told by its title, steps and materials.
    """
    named = batch.record.of
    if not named:
        return batch._replace(of_its_procedure=UNNAMED)
    path = batch.path.parent / named
    try:
        text = text_of(path)
    except (OSError, NotText):
        return batch._replace(of_its_procedure=MISSING)
    if not batch.record.content or batch.record.content == content_hash(text):
        return batch._replace(of_its_procedure=SAME)
    other = match(batch.record, _planned(text, path)).other
    return batch._replace(of_its_procedure=OF_ANOTHER if other else CHANGED)


@lru_cache(maxsize=16)  # each holds a whole plan
def _planned(text: str, path: Path) -> PlannedBatch:
    return planned_batch(read(text, str(path), path))


def remarks(batches: Sequence[Batch]) -> tuple[Says, ...]:
    """What is to be known of records before their means are believed."""
    by_state: dict[str, list[Batch]] = defaultdict(list)
    for batch in batches:
        by_state[batch.of_its_procedure].append(batch)
    return (
        *_of_others(by_state[OF_ANOTHER]),
        *_of_many(
            by_state[CHANGED],
            "{Records} of a procedure that has changed since: {names}.",
        ),
        *_of_many(
            by_state[MISSING],
            "{Records} of a procedure that is not where the record says: {names}.",
        ),
        *_of_many(
            by_state[UNNAMED], "{Records} of a procedure that the record does not name: {names}."
        ),
        *_spelt_alike("people", [name for one in batches for name in one.record.by]),
        *_spelt_alike("methods", [one.method for one in batches]),
        *_spelt_alike("lots", [shade.lot for one in batches for shade in one.shades]),
        *_spelt_alike("materials", _materials(batches)),
    )


def _of_others(batches: Sequence[Batch]) -> Iterator[Says]:
    for batch in batches:
        yield say(
            "{file} is of “{method}”, and the procedure that it names is another: it is in no "
            "mean. Put the right file after “of”.",
            file=batch.path.name,
            method=batch.method,
        )


def _of_many(batches: Sequence[Batch], template: str) -> Iterator[Says]:
    if not batches:
        return
    records = "1 record is" if len(batches) == 1 else f"{len(batches)} records are"
    yield say(template, records=records, names=_names(batches))


def _names(batches: Sequence[Batch]) -> Several:
    names = [batch.path.name for batch in batches]
    if len(names) > _FEW:
        names = [*names[: _FEW - 1], f"{len(names) - _FEW + 1} more"]
    return listed(names)


def _materials(batches: Sequence[Batch]) -> list[str]:
    return [one.name for batch in batches for one in batch.record.materials]


def _spelt_alike(what: str, names: Iterable[str]) -> Iterator[Says]:
    """Names that differ in capitals, spaces, hyphens, or by a slip of one letter."""
    known = [name for name in dict.fromkeys(names) if name][:_MOST]
    for at, name in enumerate(known):
        for other in known[:at]:
            if alike(name, other):
                yield say(
                    "“{one}” and “{other}” may be one name among the {what}, and are counted "
                    "apart: spell it in one way.",
                    one=other, other=name, what=what,
                )  # fmt: skip


def alike(one: str, other: str) -> bool:
    """True for two spellings of what may be one name.

    They differ in capitals, spaces or marks, or in one letter of one long word; numbers, and
    letters that stand alone, are meant as they are.
    """
    first, second = _parts(one), _parts(other)
    if "".join(first) == "".join(second):
        return True
    if len(first) != len(second):
        return False
    apart = [(a, b) for a, b in zip(first, second, strict=True) if a != b]
    return len(apart) == 1 and min(map(len, apart[0])) >= _LONG_ENOUGH and one_slip(*apart[0])


@remembered(1024)
def _parts(name: str) -> tuple[str, ...]:
    return tuple(re.findall(r"[^\W_]+", name.casefold()))
