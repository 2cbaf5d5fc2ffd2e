"""The outline of a text, and the parts of it that can be folded away."""

from __future__ import annotations

from procedure.quantity.record import NamedTuple
from procedure.service.spots import Spot, head_of, spots


class OutlineEntry(NamedTuple):
    """An entry of the outline: ``kind`` is section, thing (declared), step or block.

    ``column`` to ``to`` is the name; ``last`` the last line that belongs to it.
    """

    name: str
    kind: str
    line: int
    column: int
    to: int
    last: int
    inside: tuple[OutlineEntry, ...] = ()


class Fold(NamedTuple):
    """Lines that can be folded away under the first of them; ``kind`` is block or comment."""

    first: int
    last: int
    kind: str


def outline(text: str) -> tuple[OutlineEntry, ...]:
    """Sections, and in them what is declared and done."""
    every = spots(text)
    found: list[OutlineEntry] = []
    headings = [one for one in every if one.heading]
    for here, following in zip(headings, [*headings[1:], None], strict=False):
        end = following.number - 1 if following else len(every)
        inside = [s for s in every[here.number : end] if not s.blank and s.head == s.number]
        last = max((s.number for s in every[here.number - 1 : end] if not s.blank), default=end)
        name = here.raw.strip()[:80]
        found.append(
            OutlineEntry(
                name, "section", here.number, 1, len(here.raw) + 1, last, _entries(inside, last)
            )
        )
    return tuple(found)


def _entries(lines: list[Spot], last: int) -> tuple[OutlineEntry, ...]:
    """The entries of one indentation, each with the deeper ones that follow it."""
    found: list[OutlineEntry] = []
    at = 0
    while at < len(lines):
        one = lines[at]
        deeper = at + 1
        while deeper < len(lines) and lines[deeper].indent > one.indent:
            deeper += 1
        end = lines[deeper].number - 1 if deeper < len(lines) else last
        found.append(_entry(one, max(end, one.number), _entries(lines[at + 1 : deeper], end)))
        at = deeper
    return tuple(found)


def _entry(one: Spot, last: int, inside: tuple[OutlineEntry, ...]) -> OutlineEntry:
    first = one.tokens[0]
    label = first.name if first.kind == "LABEL" else ""
    if one.section == "steps":
        verb = head_of(one.tokens)
        name = label or one.raw.strip()[:60]
        if label and verb is not None:
            name = f"{label}: {verb.text}"
        kind = "block" if one.opens else "step"
    else:
        name, kind = label or one.raw.strip()[:60], "thing"
    return OutlineEntry(name, kind, one.number, first.column, first.to, last, inside)


def folds(text: str) -> tuple[Fold, ...]:
    """Sections, blocks and steps of several lines, and runs of comments."""
    found: list[Fold] = []

    def gather(entries: tuple[OutlineEntry, ...]) -> None:
        for one in entries:
            if one.last > one.line:
                found.append(Fold(one.line, one.last, "block"))
            gather(one.inside)

    gather(outline(text))
    run: list[int] = []
    for one in (*spots(text), None):
        if one is not None and one.raw.lstrip().startswith("#"):
            run.append(one.number)
            continue
        if len(run) > 1:
            found.append(Fold(run[0], run[-1], "comment"))
        run = []
    return tuple(sorted(found))
