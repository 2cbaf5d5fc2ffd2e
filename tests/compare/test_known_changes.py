"""Each known change is named, and nothing else: pairs made by the kinds of the fault bench."""

from __future__ import annotations

import pytest
from known_changes import KINDS, MEANS, SLIPS, Known, besides, compared, meant, named, pairs

from procedure.compare.changes import KINDS as CHANGES
from procedure.wording import said

# One kind of fault in so many is tried at every run; --exhaustive tries them all.
EVERY = 24


def _wrong(tried: list[Known]) -> list[str]:
    found = []
    for known in tried:
        made = compared(known)
        told = [said(change.says) for change in made.changes]
        where = f"{known.kind} in {known.sound.path.name} ({known.said}): {told}"
        if not named(known, made):
            found.append(f"not named: {where}")
        more = besides(known, made)
        if more:
            found.append(f"named besides: {[said(change.says) for change in more]} in {where}")
    return found


def test_a_sample_of_known_changes_is_named_and_nothing_else() -> None:
    tried = list(pairs(EVERY))
    assert len(tried) >= len(KINDS) // EVERY
    assert _wrong(tried) == []


@pytest.mark.exhaustive
def test_a_hundred_known_changes_are_named_and_nothing_else() -> None:
    tried = list(pairs())
    assert len(tried) >= 100
    assert _wrong(tried) == []


def test_every_kind_of_fault_has_a_meaning() -> None:
    assert [kind.name for kind in KINDS if not meant(kind.name) and kind.name not in SLIPS] == []
    assert set(MEANS) <= set(CHANGES)
