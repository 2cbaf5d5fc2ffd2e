"""Names in their place: what a name of one file is in the whole plan."""

from __future__ import annotations

from procedure.flow.graph import Call
from procedure.model import Block, Name, Procedure, Step


class Scope:
    """One procedure in the plan: the main one, or one that is followed.

    ``names`` turns the file's names into the plan's; ``prefix`` keeps apart what
    followed procedures bring of their own; ``stem`` is what a reader sees of it, for
    the turns of ``for each`` blocks; ``root`` is the prefix of a followed procedure
    as a whole, outside its blocks, and empty for the main one.
    """

    __slots__ = ("calls", "makers", "names", "prefix", "procedure", "root", "stem")

    def __init__(
        self,
        procedure: Procedure,
        prefix: str,
        calls: tuple[Call, ...],
        names: dict[str, str] | None = None,
        makers: dict[str, Step] | None = None,
        stem: str = "",
        root: str = "",
    ) -> None:
        self.procedure = procedure
        self.prefix = prefix
        self.calls = calls
        self.names = {} if names is None else names
        self.makers = {} if makers is None else makers
        self.stem = stem
        self.root = root

    def inner(self, variable: str, value: str, stem: str) -> Scope:
        """The scope of one turn of a ``for each`` block: one more name, and its own things.

        What a turn makes is kept apart from what the other turns make by ``stem``.
        """
        names = {**self.names, variable: value}
        return Scope(
            self.procedure,
            self.prefix + stem,
            self.calls,
            names,
            self.makers,
            self.stem + stem,
            self.root,
        )


def makers(body: tuple[Step | Block, ...]) -> dict[str, Step]:
    """The steps that make baths and lots, by the name of what they make."""
    found: dict[str, Step] = {}
    for step in body:
        if isinstance(step, Block):
            for name, maker in makers(step.body).items():
                found.setdefault(name, maker)
        else:
            for made in _made_by(step):
                found.setdefault(made.text, step)
    return found


def _made_by(step: Step) -> list[Name]:
    """The names of what a step makes, as its effect has it."""
    does = step.does
    if does.makes_bath and step.label is not None:
        return [step.label]
    into = [item.name for item in step.into if item.name is not None]
    if does.splits:
        return into
    if does.joins:
        return [step.named] if step.named else into
    if does.names_bath and step.named is not None:
        return [step.named]
    return []
