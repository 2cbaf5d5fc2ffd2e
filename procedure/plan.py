"""The Python interface: a procedure that has been read, followed and judged."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from procedure import pipeline
from procedure.collection.files import NOTHING_UNSAVED
from procedure.pipeline import Judged, text_of

if TYPE_CHECKING:
    import networkx


class Plan(Judged):
    """A procedure that has been read, followed and judged, with what can be made of it."""

    __slots__ = ()

    @property
    def graph(self) -> networkx.MultiDiGraph[int]:
        """The flow graph as networkx has it; edges carry ``kind`` and ``thing``."""
        return self.study.flow.networkx()

    def chart(
        self,
        path: str | Path | None = None,
        lanes: str = "both",
        *,
        form: str = "",
        sheet: str = "a4",
        opened: bool = False,
        at_least: str = "warning",
        only: str = "",
        start: str = "",
        end: str = "",
        overview: bool = False,
        folded: bool = False,
    ) -> bytes | str:
        """Draw the plan as a flowchart; writes it to ``path`` where one is given.

        Gives SVG or DOT as text, PNG or PDF as bytes. ``form`` is svg, png, pdf or dot;
        left out, the suffix of ``path`` says it, and without a path it is SVG.
        ``lanes`` is both, lot, pot or none. ``sheet`` is a4, letter or roll (one long sheet for
        a screen). ``opened`` shows the steps of the procedures that it follows. Findings
        of level ``at_least`` and above mark their steps. ``only`` draws a lot and what it
        comes from, ``start`` and ``end`` a part of the steps (labels or lines), and
        ``overview`` the whole on one sheet; ``folded`` makes a repeat one symbol. Raises
        ``ValueError`` for any other word,
        :class:`procedure.chart.NoGraphviz` where nothing can draw,
        :class:`procedure.chart.NotDrawn` where Graphviz could not, and
        :class:`procedure.command.main.CannotRun` where the file cannot be written; it is
        written whole or not at all.
        """
        from procedure.chart import draw
        from procedure.collection.writing import write_whole

        suffix = Path(path).suffix.lower().removeprefix(".") if path is not None else ""
        drawn = draw(
            self, form or suffix or "svg", lanes=lanes, sheet=sheet, opened=opened,
            at_least=at_least, only=only, start=start, end=end, overview=overview, folded=folded,
        )  # fmt: skip
        if path is not None:
            write_whole(Path(path), drawn.encode() if isinstance(drawn, str) else drawn)
        return drawn


def read(
    text: str,
    file: str = "text",
    path: str | Path | None = None,
    unsaved: Mapping[Path, str] = NOTHING_UNSAVED,
) -> Plan:
    """Read a procedure from text; see :func:`procedure.pipeline.read`."""
    return Plan(*pipeline.read(text, file, path, unsaved))


def load(path: str | Path) -> Plan:
    """Read a procedure from a file.

    Raises ``OSError`` where the file cannot be opened and :class:`procedure.NotText`
    (a ``ValueError``) where it is not UTF-8 text.
    """
    here = Path(path)
    return read(text_of(here), str(path), here)
