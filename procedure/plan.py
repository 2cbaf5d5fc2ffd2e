"""The Python interface: a procedure that has been read, followed and judged."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

from procedure.findings import Finding
from procedure.flow import Flow
from procedure.model import Procedure
from procedure.rules.frame import Study
from procedure.study import study, text_of
from procedure.trace import Trace

if TYPE_CHECKING:
    import networkx


class Plan(NamedTuple):
    """A procedure with all that the program found out about it."""

    text: str
    file: str
    study: Study
    findings: tuple[Finding, ...]

    @property
    def model(self) -> Procedure:
        """What the words mean: lots, equipment, materials, steps."""
        return self.study.procedure

    @property
    def flow(self) -> Flow:
        """The flow graph as Vatwright keeps it: nodes, edges, things."""
        return self.study.flow

    @property
    def graph(self) -> networkx.MultiDiGraph[int]:
        """The flow graph as networkx has it; edges carry ``kind`` and ``thing``."""
        return self.study.flow.networkx()

    @property
    def trace(self) -> Trace:
        """The state of each lot, bath and pot, step by step."""
        return self.study.trace


def read(text: str, file: str = "text", path: str | Path | None = None) -> Plan:
    """Read a procedure from text.

    ``file`` is the name that findings show; ``path`` says where the text belongs,
    so that procedures beside it can be followed. Any text gives a plan: what is
    wrong with it is in the plan's findings.
    """
    made, findings = study(text, file, None if path is None else Path(path))
    return Plan(text, file, made, tuple(findings))


def load(path: str | Path) -> Plan:
    """Read a procedure from a file.

    Raises ``OSError`` where the file cannot be opened and :class:`procedure.NotText`
    (a ``ValueError``) where it is not UTF-8 text.
    """
    here = Path(path)
    return read(text_of(here), str(path), here)
