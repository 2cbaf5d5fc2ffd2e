"""What the changes come to: whether the colour or the safety may change, and by what."""

from __future__ import annotations

from procedure.compare.bearing import OF_COLOUR, OF_SAFETY
from procedure.compare.changes import Compared
from procedure.findings import Finding
from procedure.quantity.number_words import listed
from procedure.quantity.record import NamedTuple


class Verdict(NamedTuple):
    """The numbers of the changes (from 1) by which something may change, and findings on it."""

    changes: tuple[int, ...]
    findings: tuple[Finding, ...]

    @property
    def may_change(self) -> bool:
        """True where there is anything by which it may."""
        return bool(self.changes or self.findings)


def of_colour(made: Compared) -> Verdict:
    """By what the colour may come out otherwise."""
    numbers = tuple(n for n, change in enumerate(made.changes, 1) if change.colour)
    return Verdict(numbers, _of(made, OF_COLOUR))


def of_safety(made: Compared) -> Verdict:
    """By what the work may be safer or less safe than it was."""
    numbers = tuple(n for n, change in enumerate(made.changes, 1) if change.safety)
    return Verdict(numbers, _of(made, OF_SAFETY))


def _of(made: Compared, families: frozenset[str]) -> tuple[Finding, ...]:
    return tuple(one for one in (*made.gained, *made.lost) if one.family in families)


def in_words(what: str, verdict: Verdict, yes: str, no: str) -> str:
    """The verdict as a sentence: ``The colour may change, by 1, 3 and a finding.``"""
    if not verdict.may_change:
        return f"{what} {no}"
    by = [str(number) for number in verdict.changes]
    count = len(verdict.findings)
    if count:
        by.append("one finding below" if count == 1 else f"{count} findings below")
    return f"{what} {yes} (see {listed(by)})."


def sentences(made: Compared) -> tuple[str, str]:
    """Both verdicts in words."""
    return (
        in_words("The colour", of_colour(made), "may come out otherwise", "should be the same."),
        in_words(
            "Safety", of_safety(made), "may be another: look before you begin", "is as it was."
        ),
    )
