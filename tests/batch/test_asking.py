"""A session at the pot: every answer is saved at once, and nothing is lost on the way."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
from batch_forms import PLANNED, reply

from procedure.batch import read
from procedure.batch.asking import AnswerRefused, Question, filled, questions, session
from procedure.batch.form import form
from procedure.model.quantity import Quantity

# The blanks of the header and the water, one of each; those of a lot and its results besides.
HEADER = "day place by weather source hardness pH".split()


def test_a_form_can_be_read_at_once_and_asks_for_all_its_blanks() -> None:
    record, findings = read(form(PLANNED))
    assert findings == ()
    assert record.titled == "Weld yellow on wool" and record.content == PLANNED.content
    wanted = [blank for step in PLANNED.steps for blank in step.blanks]
    assert [(one.word, one.name) for one in record.open_answers] == [
        (blank.word, blank.name) for blank in wanted
    ]
    asked = questions(form(PLANNED))
    assert (
        len(asked)
        == form(PLANNED).count("____")
        == len(wanted) + len(PLANNED.steps) + len(HEADER) + 1 + 2 + 2 + 4
    )


def test_a_session_fills_every_blank(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    path.write_text(form(PLANNED), encoding="utf-8")
    said: list[str] = []
    left = session(path, lambda question, at, of: reply(question), said.append)
    assert (left, said) == (0, [])
    text = path.read_text("utf-8")
    record, findings = read(text)
    assert findings == () and "____" not in text
    reached = record.steps[1].answer("to")
    assert reached is not None and isinstance(reached.done, Quantity)
    assert reached.done.text == "92 °C"  # a bare number takes the unit of the plan
    assert record.steps[0].seen == ("a little ”froth”",)
    assert record.results[0].colours[0].text == "#d2bb3a"
    assert text.count("\n") == form(PLANNED).count("\n")


def test_what_is_left_for_later_is_asked_again_in_the_next_session(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    path.write_text(form(PLANNED), encoding="utf-8")
    left = session(path, lambda question, at, of: "", lambda said: None)
    assert left == len(questions(form(PLANNED)))
    assert path.read_text("utf-8") == form(PLANNED)
    assert session(path, lambda question, at, of: reply(question), lambda said: None) == 0


def test_an_answer_that_cannot_stand_is_refused_and_nothing_is_written(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    path.write_text(form(PLANNED), encoding="utf-8")
    replies = iter(["yesterday", None])
    said: list[str] = []
    session(path, lambda question, at, of: next(replies), said.append)
    assert len(said) == 1 and "no day" in said[0]
    assert path.read_text("utf-8") == form(PLANNED)


@pytest.mark.parametrize(
    ("planned", "unit"),
    [
        ("2 1/2 US gal", "US gal"),
        ("3 imp fl oz", "imp fl oz"),
        ("1 lb 9 oz", "oz"),
        ("0.24 oz (6.8 g)", "oz"),
        ("85 °C (185 °F)", "°C"),
        ("50 to 55 °C", "°C"),
        ("overnight", ""),
    ],
)
def test_a_bare_number_is_in_the_unit_of_the_plan(planned: str, unit: str) -> None:
    text = f'batch "x"\nsteps\n  step 1 "rinse"\n    with water ____ planned {planned}\n'
    (question,) = questions(text)
    assert question.unit == unit
    if unit:
        assert f"water 3 {unit} planned" in filled(text, question, "3")


@pytest.mark.parametrize(
    ("what", "wrong"),
    [
        ("to", "92 g"),
        ("to", "92,5"),
        ("to", "hot # stove"),
        ("to", "90 °C planned 95 °C"),
        ("with alum", "14 °C"),
        ("pH", "72"),
        ("times", "some"),
        ("day", "18 April"),
        ("colour", "#d2bb3"),
        ("colour", "Lab yellowish"),
        ("seen", " "),
    ],
)
def test_wrong_answers(what: str, wrong: str) -> None:
    text = form(PLANNED)
    question = next(one for one in questions(text) if one.what == what)
    with pytest.raises(AnswerRefused):
        filled(text, question, wrong)


@pytest.mark.parametrize("what", ["to", "with alum", "for", "times"])
def test_nobody_knows_any_more(what: str) -> None:
    text = form(PLANNED)
    question = next(one for one in questions(text) if one.what == what)
    record, findings = read(filled(text, question, "unstated"))
    assert findings == ()
    assert len(record.open_answers) == len(read(text)[0].open_answers) - 1


def test_names_are_told_apart() -> None:
    text = form(PLANNED)
    question = next(one for one in questions(text) if one.what == "by")
    assert read(filled(text, question, "Ash, Rowan"))[0].by == ("Ash", "Rowan")
    assert read(filled(text, question, ","))[0].by == (",",)


def test_comments_and_line_ends_stay(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    text = form(PLANNED).replace("\n", "  # by hand\r\n")
    path.write_bytes(text.encode("utf-8"))
    session(path, lambda question, at, of: reply(question), lambda said: None)
    after = path.read_bytes().decode("utf-8")
    assert after.count("# by hand\r\n") == text.count("# by hand\r\n")
    assert read(after)[1] == ()


def test_an_edit_during_the_session_is_kept(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    path.write_text(form(PLANNED), encoding="utf-8")

    def ask(question: Question, at: int, of: int) -> str | None:
        if question.what == "day":
            text = path.read_text("utf-8").replace("day ____", "day 2026-05-01")
            path.write_text(text.replace("  place", '  note "mine"\n  place'), encoding="utf-8")
        return reply(question) if question.what != "by" else None

    said: list[str] = []
    session(path, ask, said.append)
    record, _ = read(path.read_text("utf-8"))
    assert record.begun is not None and record.begun.isoformat() == "2026-05-01"
    assert record.notes == ("mine",) and record.location == "the wash-house"
    assert len(said) == 1 and "changed meanwhile" in said[0]


# A session in another process, which says how many answers it has saved and waits to be told
# to go on; so it can be killed at every step.
_CHILD = """
import sys
sys.path[:0] = {paths!r}
from pathlib import Path
from batch_forms import reply
from procedure.batch.asking import session
count = 0
def ask(question, at, of):
    global count
    print(count, flush=True)
    if {wait} and not sys.stdin.readline():
        return None
    count += 1
    return reply(question)
session(Path(sys.argv[1]), ask, print)
print("done", flush=True)
"""


def _child(path: Path, wait: bool) -> subprocess.Popen[str]:
    paths = [str(Path(__file__).parent), str(Path(__file__).parents[2])]
    return subprocess.Popen(
        [sys.executable, "-c", _CHILD.format(paths=paths, wait=wait), str(path)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
    )


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
def test_a_kill_at_every_question_loses_no_answer(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    path.write_text(form(PLANNED), encoding="utf-8")
    total = len(questions(form(PLANNED)))
    for answered in range(total):
        with _child(path, wait=True) as child:
            assert child.stdin is not None and child.stdout is not None
            child.stdout.readline()  # the first question is asked
            child.stdin.write("\n")
            child.stdin.flush()
            child.stdout.readline()  # the next one is asked, so the answer is saved
            os.kill(child.pid, signal.SIGKILL)
        text = path.read_text("utf-8")
        assert len(questions(text)) == total - answered - 1
        assert read(text)[1] == ()
    assert "____" not in path.read_text("utf-8")


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="this system has no kill -9")
def test_a_kill_at_any_moment_leaves_a_whole_file(tmp_path: Path) -> None:
    path = tmp_path / "gold.batch"
    start = form(PLANNED)
    total = len(questions(start))
    for moment in range(10):
        path.write_text(start, encoding="utf-8")
        with _child(path, wait=False) as child:
            assert child.stdout is not None
            child.stdout.readline()
            time.sleep(moment * 0.004)  # answers are being saved meanwhile
            os.kill(child.pid, signal.SIGKILL)
            seen = [line for line in child.stdout.read().split("\n") if line.isdigit()]
        text = path.read_text("utf-8")
        saved = total - len(questions(text))
        asked = int(seen[-1]) if seen else 0
        assert saved in (asked, asked + 1), "more than the unanswered question is lost"
        assert read(text)[1] == ()
        assert text.count("\n") == start.count("\n")
