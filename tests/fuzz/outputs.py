"""``python tests/fuzz/outputs.py 100 json weigh`` prints a digest of all that is said of each text.

The texts are every example and so many mutants, and recipes in prose a tenth as many; of fewer
than a thousand, the faulty examples. Two processes that hash words in another way
(``PYTHONHASHSEED``) must print the same.
"""

from __future__ import annotations

import hashlib
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
sys.path.insert(0, str(Path(__file__).parents[2]))

from hostile_shapes import EXAMPLES, Shapes

from procedure.pipeline import Judged, read

FULL = 1000


def _forms() -> dict[str, Callable[[Judged], str]]:
    from procedure.batch.form import form
    from procedure.batch.from_plan import planned_batch
    from procedure.chart import draw
    from procedure.command.voice import voice_of
    from procedure.compare import TooDifferent, as_text, compare
    from procedure.handout import lots_paper, short
    from procedure.neaten import neat
    from procedure.paper.printers import printed
    from procedure.report import json_report, sarif, text, weigh_csv
    from procedure.rules.judging import reader_of
    from procedure.weigh.cannot import CannotWeigh
    from procedure.weigh.weighing import weigh

    before: list[Judged] = []

    def weighed(plan: Judged) -> str:
        try:
            return weigh_csv.report(weigh(plan), "metric", None)
        except CannotWeigh as reason:
            return str(reason)

    def compared(plan: Judged) -> str:
        """What differs from the text before: of mutants of one example often little."""
        last = before[-1] if before else plan
        before[:] = [plan]
        try:
            return as_text.report(compare(last, plan), reader_of(plan.model))
        except TooDifferent as reason:
            return str(reason)

    def drawn(plan: Judged) -> str:
        made = draw(plan, "svg")
        return made if isinstance(made, str) else made.decode()

    return {
        "text": lambda plan: text.report(plan.findings),
        "json": lambda plan: json_report.report(plan.findings, [plan.file]),
        "sarif": lambda plan: sarif.report(plan.findings, [plan.file], []),
        "weigh": weighed,
        "lots": lambda plan: lots_paper.report(plan),
        "handout": lambda plan: printed(
            short.paper(plan, voice_of(plan, None), ""), ".md", "a4"
        ).decode(),
        "neat": lambda plan: neat(plan.text).text,
        "record": lambda plan: form(planned_batch(plan)),
        "compare": compared,
        "chart": drawn,
    }


def _texts(mutants: int) -> Iterator[tuple[str, str, Path | None]]:
    # A sample takes the faulty examples, of which most is said.
    for path in sorted((EXAMPLES if mutants >= FULL else EXAMPLES / "faulty").rglob("*.dye")):
        yield path.relative_to(EXAMPLES).as_posix(), path.read_text("utf-8"), path
    shapes = Shapes(23)
    for number in range(mutants):
        yield f"mutant {number}", (shapes.program if number % 4 == 0 else shapes.mutant)(), None
        if number % 10 == 0:  # a draft of changed prose
            yield f"draft {number}", shapes.drafted(), None


def main(mutants: int, wanted: list[str]) -> None:
    """Print a line for each text and form (all of them unless some are named)."""
    forms = {name: form for name, form in _forms().items() if name in wanted or not wanted}
    for name, text, path in _texts(mutants):
        plan = read(text, name, path)
        for form, make in forms.items():
            # A chart is drawn for few, since it takes the longest.
            if form == "chart" and path is None and not name.endswith("7"):
                continue
            try:
                made = make(plan)
            except Exception as reason:  # the fuzzer's own affair; the same in both
                made = f"{type(reason).__name__}: {reason}"
            print(name, form, hashlib.sha256(made.encode("utf-8", "replace")).hexdigest()[:16])


if __name__ == "__main__":
    main(int(sys.argv[1]), sys.argv[2:])
