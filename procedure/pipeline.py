"""The whole program in one line: text, tree, model, flow graph, trace, findings."""

from __future__ import annotations

from collections.abc import Mapping

from procedure import flow, language, model
from procedure.collection.files import (
    NOTHING_UNSAVED,
    Collection,
    NotText,
    decoded,
    text_of,
)
from procedure.collection.nearest import workshop_of
from procedure.facts.study import Study
from procedure.findings import Finding
from procedure.flow import Flow
from procedure.model import Procedure
from procedure.quantity.record import TYPE_CHECKING, NamedTuple
from procedure.rules import judge
from procedure.trace import Trace, trace

if TYPE_CHECKING:
    from pathlib import Path

__all__ = ["Judged", "NotText", "decoded", "read", "study", "text_of"]


def study(
    text: str,
    file: str,
    path: str | Path | None = None,
    unsaved: Mapping[Path, str] = NOTHING_UNSAVED,
) -> tuple[Study, list[Finding]]:
    """Read a procedure, follow it and judge it; see :func:`read`."""
    trees: dict[str, language.Tree] = {}

    def modelled(source: str, name: str, key: str) -> Procedure:
        trees[key] = language.read(source)
        return model.build(trees[key], name, None if shared is None else shared.workshop, key)

    collection = Collection(path, modelled, unsaved)
    shared = workshop_of(collection.main, collection.unsaved)
    plan = flow.build(collection.start(text, file), collection.find)
    made = Study(trees, plan, trace(plan), shared, collection.sought)
    return made, judge(made)


class Judged(NamedTuple):
    """A procedure that has been read, followed and judged, with all that was found out.

    ``unsaved`` are the texts, by path, that were read in place of those on the disk.
    """

    text: str
    file: str
    study: Study
    findings: tuple[Finding, ...]
    unsaved: Mapping[Path, str] = NOTHING_UNSAVED

    @property
    def model(self) -> Procedure:
        """What the words mean: lots, equipment, materials, steps."""
        return self.study.procedure

    @property
    def flow(self) -> Flow:
        """The flow graph as Vatwright keeps it: nodes, edges, things."""
        return self.study.flow

    @property
    def trace(self) -> Trace:
        """The state of each lot, bath and pot, step by step."""
        return self.study.trace

    def own(self, node: int) -> bool:
        """Whether a step, by its number, is written in this file or in one that it follows."""
        return self.flow.nodes[node].procedure.key == self.model.key


def read(
    text: str,
    file: str = "text",
    path: str | Path | None = None,
    unsaved: Mapping[Path, str] = NOTHING_UNSAVED,
) -> Judged:
    """Read a procedure from text.

    ``file`` is the name that findings show; ``path`` says where the text belongs, so
    that procedures beside it can be followed and its workshop file is known. ``unsaved``
    are texts by path that win over the disk, as an editor has them; the workshop file
    may be among them. Any text gives a plan: what is wrong with it, or with the workshop
    file, is in the plan's findings.
    """
    made, findings = study(text, file, path, unsaved)
    return Judged(text, file, made, tuple(findings), unsaved)
