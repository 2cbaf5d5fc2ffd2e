"""The whole program in one line: text, tree, model, flow graph, trace, findings."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from procedure import flow, language, model
from procedure.collection.files import Collection
from procedure.collection.workshop import house_of
from procedure.facts.study import Study
from procedure.findings import Finding
from procedure.flow import Flow
from procedure.model import Procedure
from procedure.rules import judge
from procedure.trace import Trace, trace

LARGEST = 20_000_000


class NotText(ValueError):
    """A file that is not text, or is too large to be a procedure."""


def study(text: str, file: str, path: Path | None = None) -> tuple[Study, list[Finding]]:
    """Read a procedure, follow it and judge it.

    ``file`` is the name that findings show. ``path`` is where the text comes from:
    what it follows is looked for from there, and nothing can be followed without it;
    so are the rules of its house. Raises
    :class:`procedure.collection.workshop.BadHouse` where those
    cannot be read.
    """
    trees: dict[str, language.Tree] = {}
    house = house_of(path)
    household = None if house is None else house.household

    def modelled(source: str, name: str) -> Procedure:
        trees[name] = language.read(source)
        return model.build(trees[name], name, household)

    def load(followed: Path) -> Procedure:
        return modelled(text_of(followed), os.path.relpath(followed))

    main = modelled(text, file)
    plan = flow.build(main, Collection(path, load))
    made = Study(trees, plan, trace(plan))
    return made, judge(made, {} if house is None else house.levels)


class Judged(NamedTuple):
    """A procedure that has been read, followed and judged, with all that was found out."""

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
    def trace(self) -> Trace:
        """The state of each lot, bath and pot, step by step."""
        return self.study.trace


def read(text: str, file: str = "text", path: str | Path | None = None) -> Judged:
    """Read a procedure from text.

    ``file`` is the name that findings show; ``path`` says where the text belongs,
    so that procedures beside it can be followed. Any text gives a plan: what is
    wrong with it is in the plan's findings.
    """
    made, findings = study(text, file, None if path is None else Path(path))
    return Judged(text, file, made, tuple(findings))


def text_of(path: Path) -> str:
    """The text of a file. Raises ``NotText`` where it is not text, ``OSError`` where unreadable."""
    if path.stat().st_size > LARGEST:
        raise NotText(f"{path} is larger than {LARGEST // 1_000_000} MB, which no procedure is.")
    return decoded(path.read_bytes(), str(path))


def decoded(data: bytes, name: str) -> str:
    """Bytes as text. Raises ``NotText`` with a plain sentence where they are not UTF-8 text."""
    if b"\0" in data:
        raise NotText(f"{name} is not a text file.")
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise NotText(
            f"{name} is not UTF-8 text: line {line} has a byte that cannot be read. "
            "Save the file as UTF-8."
        ) from None
