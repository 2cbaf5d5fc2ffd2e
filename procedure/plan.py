"""The Python interface: a procedure that has been read, followed and judged."""

from __future__ import annotations

from collections.abc import Container, Mapping
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

    def _repr_html_(self) -> str:
        """The plan in a notebook: findings, the chart, amounts. No script, and all escaped."""
        from procedure.chart import NoGraphviz, NotDrawn
        from procedure.paper.pieces import in_markup

        try:
            drawn = self.chart(sheet="roll")
        except (NoGraphviz, NotDrawn) as reason:
            drawn = f"<p>{in_markup(str(reason))}</p>"
        assert isinstance(drawn, str)
        chart = drawn[max(drawn.find("<svg"), 0) :]
        return f"<div>{self._told()}{chart}{self._weighed()}</div>"

    def _repr_mimebundle_(
        self, include: Container[str] | None = None, exclude: Container[str] | None = None
    ) -> dict[str, str]:
        """The plan as HTML and as plain text, of which a notebook shows the best it can."""
        from procedure.wording.visible import one_line

        lines = [f"{one.line}: {one.level}: {one.sentence}" for one in self.findings]
        plain = "\n".join(map(one_line, [self._title(), *lines]))
        made = {"text/plain": plain, "text/html": self._repr_html_()}
        return {
            kind: text
            for kind, text in made.items()
            if (not include or kind in include) and not (exclude and kind in exclude)
        }

    def _title(self) -> str:
        return self.model.title.text if self.model.title else "A procedure without a title"

    def _told(self) -> str:
        from procedure.paper.pieces import in_markup

        lines = "".join(
            f"<li>Line {one.line}, {one.level}: {in_markup(f'{one.sentence} {one.remedy}')}</li>"
            for one in self.findings
        )
        return f"<h3>{in_markup(self._title())}</h3><ul>{lines}</ul>"

    def _weighed(self) -> str:
        from procedure.paper.measures import in_system
        from procedure.paper.pieces import in_markup
        from procedure.weigh.weighing import weigh

        rows = weigh(self).rows
        cells = "".join(
            f"<tr><td>{in_markup(row.called)}</td><td>{in_markup(amount)}</td>"
            f"<td>line {row.line}</td></tr>"
            for row in rows
            for amount in (
                row.without_figure or "as needed"
                if row.low is None or row.high is None
                else in_system("metric", row.kind, row.low, row.high),
            )
        )
        return f"<table><tr><th>what</th><th>how much</th><th>where</th></tr>{cells}</table>"


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
