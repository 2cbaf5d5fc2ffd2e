"""Findings: what a second person would get wrong, as facts. Reports turn them into words."""

from __future__ import annotations

from typing import NamedTuple

LEVELS = ("error", "warning", "note")


class Related(NamedTuple):
    """A place that belongs to a finding, with what it has to do with it."""

    file: str
    line: int
    column: int
    to: int
    sentence: str


class Edit(NamedTuple):
    """A change of text that is safe: columns ``column`` to ``to`` of a line become ``text``."""

    line: int
    column: int
    to: int
    text: str


class Finding(NamedTuple):
    """Something amiss, or missing.

    ``level`` is error (cannot be followed or computed as written, or someone may be
    hurt), warning (likely to spoil fibre or colour) or note (the reader must guess).
    Lines and columns count from 1, in characters; ``to`` is the column just after.
    ``source`` names where the fact comes from. ``allowed`` is the writer's reason
    where an ``allow`` turned the finding into a note.
    """

    rule: str
    level: str
    file: str
    line: int
    column: int
    to: int
    sentence: str
    remedy: str
    source: str
    related: tuple[Related, ...] = ()
    edit: Edit | None = None
    allowed: str = ""

    @property
    def order(self) -> tuple[str, int, int, int, str]:
        """Sorts findings by place, then by weight."""
        return self.file, self.line, self.column, LEVELS.index(self.level), self.rule


def at_least(level: str, least: str) -> bool:
    """True where a level weighs as much as another or more."""
    return LEVELS.index(level) <= LEVELS.index(least)
