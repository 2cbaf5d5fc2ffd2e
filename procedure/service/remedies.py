"""What can be done about a finding at once: its safe remedy, or an ``allow`` with a reason."""

from __future__ import annotations

from procedure.findings import Edit, Finding
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.service.spots import spots

REASON = "say why"
# What cannot be read cannot be allowed either, and the rules on allows speak of themselves.
NEVER_ALLOWED = frozenset(
    ("cannot-read", "no-such-rule", "allow-without-reason", "nothing-to-allow")
)


class Remedy(NamedTuple):
    """A change that somebody may choose: what it does, in words, and the change of the text.

    ``safe`` holds where the words can be read one way only; ``fill`` is the column range of
    what is still to be written on the edited line, or None.
    """

    says: str
    rule: str
    edits: tuple[Edit, ...]
    safe: bool
    fill: tuple[int, int, int] | None = None


def remedies(plan: Judged, line: int, last: int = 0) -> tuple[Remedy, ...]:
    """What can be done about the findings of some lines of the plan's own file."""
    found: list[Remedy] = []
    for one in plan.findings:
        if one.key != plan.model.key or not line <= one.line <= max(last, line):
            continue
        if one.edit is not None:
            said = f"Write “{one.edit.text}”" if one.edit.text else "Take it out"
            found.append(Remedy(said, one.rule, (one.edit,), True))
        allow = _allow(plan, one)
        if allow is not None:
            found.append(allow)
    return tuple(dict.fromkeys(found))


def every_safe(plan: Judged) -> tuple[Edit, ...]:
    """The safe edits of all findings of the plan's own file that do not touch one another."""
    taken: list[Edit] = []
    edits = {one.edit for one in plan.findings if one.edit and one.key == plan.model.key}
    for edit in sorted(edits):
        if not taken or taken[-1].line != edit.line or edit.column >= taken[-1].to:
            taken.append(edit)
    return tuple(taken)


def _allow(plan: Judged, one: Finding) -> Remedy | None:
    """An ``allow`` below the step or declaration that the finding is at."""
    if one.rule in NEVER_ALLOWED or one.allowed or one.family in ("safety", "the workshop file"):
        return None
    every = spots(plan.text)
    here = every[min(one.line, len(every)) - 1]
    if here.blank or here.heading or here.section == "procedure":
        return None
    whole = [s for s in every if s.head == here.head and not s.blank]
    if any(s.opens for s in whole):
        return None
    end = whole[-1]
    head = every[here.head - 1]
    margin = head.raw[: len(head.raw) - len(head.raw.lstrip())]
    start = f'{margin}  allow {one.rule} because "'
    column = len(end.raw) + 1
    edit = Edit(end.number, column, column, f'\n{start}{REASON}"')
    fill = (end.number + 1, len(start) + 1, len(start) + 1 + len(REASON))
    return Remedy(f"Allow “{one.rule}” here, with your reason", one.rule, (edit,), False, fill)
