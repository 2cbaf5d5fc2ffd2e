"""Errors of ``check`` in what is to be planned: what makes a plan worthless, and what a draft."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from procedure.findings import Finding
from procedure.pipeline import Judged

_CANNOT_BE_FOLLOWED = frozenset(("names and order", "plans", "units"))
"""Families of rules whose errors say that the text cannot be followed or computed as it is."""


def hindrances(plans: Sequence[Judged]) -> tuple[str, ...]:
    """Errors by which the text itself is in doubt: a time would be one that nobody wrote."""
    return tuple(
        dict.fromkeys(
            f"{each.file}, line {each.line}: {each.sentence} {each.remedy}".strip()
            for each in _errors(plans)
            if each.family in _CANNOT_BE_FOLLOWED
        )
    )


def drafted(plans: Sequence[Judged]) -> tuple[str, ...]:
    """Errors in spite of which it can be planned, as a draft: a sentence each."""
    return tuple(
        dict.fromkeys(
            f"{each.file}, line {each.line}: {each.sentence}"
            for each in _errors(plans)
            if each.family not in _CANNOT_BE_FOLLOWED
        )
    )


def _errors(plans: Sequence[Judged]) -> Iterator[Finding]:
    for plan in plans:
        for each in plan.findings:
            if each.level == "error" and not each.allowed:
                yield each
