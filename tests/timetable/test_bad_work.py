"""Work that makes no sense is refused in a sentence, and a long one too."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from procedure.command.main import main
from procedure.timetable import Activity, CannotPlan, Lag, Lasting, Resource, Window, Work, plan
from procedure.timetable.work import HANDS

EXAMPLES = Path(__file__).parents[2] / "examples"


def activity(key: str) -> Activity:
    return Activity(key, f"do {key}", Lasting(10, 10))


SOUND = Work(
    (activity("a"), activity("b")),
    (Lag("a", "b"),),
    resources=(Resource(HANDS, "pair of hands", "people"),),
    windows=(Window(0, 60),),
)


@pytest.mark.parametrize(
    ("work", "sentence"),
    [
        (replace(SOUND, windows=()), "never open"),
        (replace(SOUND, windows=(Window(60, 0),)), "closes before it opens"),
        (replace(SOUND, resources=(Resource(HANDS, "hands", "people", 0),)), "nobody is there"),
        (replace(SOUND, lags=(Lag("a", "b"), Lag("b", "a"))), "round in a circle"),
        (replace(SOUND, lags=(Lag("a", "a", 1),)), "before itself"),
        (
            replace(SOUND, activities=tuple(activity(str(i)) for i in range(1000)), lags=()),
            "1,000 steps are too many",
        ),
    ],
    ids=["no hours", "hours the wrong way", "no hands", "a circle", "itself", "1,000 steps"],
)
def test_such_work_is_refused_in_a_sentence(work: Work, sentence: str) -> None:
    with pytest.raises(CannotPlan, match=sentence) as refused:
        plan(work)
    assert "\n" not in str(refused.value)


def test_a_procedure_of_a_thousand_steps_is_refused_in_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    head = (EXAMPLES / "weld-yellow-wool.dye").read_text(encoding="utf-8").split("steps\n")[0]
    file = tmp_path / "long.dye"
    rinses = '  rinse yarn in tub with water 5 L at 30 °C until "clear"\n' * 1000
    file.write_text(f"{head}steps\n{rinses}", encoding="utf-8")
    assert main(["timetable", str(file), "--start", "2099-11-28 09:00"]) == 2
    assert "1,000 steps are too many for one timetable" in capsys.readouterr().err
