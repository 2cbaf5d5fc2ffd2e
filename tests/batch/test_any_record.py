"""Whatever a record says, every report and paper of it can be made."""

from __future__ import annotations

from pathlib import Path

from batch_texts import FULL, spoilt, texts
from hypothesis import given, settings
from hypothesis import strategies as st

from procedure.batch import read
from procedure.batch.as_done import as_done
from procedure.batch.asking import AnswerRefused, filled, questions
from procedure.batch.batch_reports import data, report, table
from procedure.batch.changed_since import match
from procedure.batch.folder import Batch, batch_of
from procedure.batch.from_plan import planned_batch
from procedure.batch.held_against_plan import AsJudged
from procedure.batch.nearest_batches import nearest
from procedure.batch.shade_book import paper, skein_cards
from procedure.batch.telling_check import check_report
from procedure.colour import Colour
from procedure.paper.in_text import page
from procedure.pipeline import Judged, text_of
from procedure.pipeline import read as read_plan

WELD = Path(__file__).parents[2] / "examples" / "weld-yellow-wool.dye"
PLAN: Judged = read_plan(text_of(WELD), str(WELD), WELD)
PLANNED = planned_batch(PLAN)

# Munsell notation is left out where many texts are tried: its library takes seconds to start.
QUICK = FULL.replace("    colour Munsell 5Y 7.5/9\n", "")


def batch_from(folder: Path, text: str) -> Batch:
    path = folder / "x.batch"
    # A lone half of a pair of signs cannot be saved by any editor.
    path.write_bytes(text.encode("utf-8", "replace"))
    return batch_of(path)


def test_every_report_of_any_record_can_be_made(tmp_path: Path) -> None:
    @given(st.one_of(spoilt(QUICK), texts))
    @settings(max_examples=80)
    def any_text(text: str) -> None:
        if "Munsell" in text:
            return
        batch = batch_from(tmp_path, text)
        assert report([batch]).startswith("1 batch.")
        assert table([batch]).startswith("file,")
        assert data([batch])
        assert check_report(batch, AsJudged((), (), "", batch), list(batch.findings), small=True)
        assert page(paper([batch])) and page(skein_cards(batch))
        nearest(Colour(50, 0, 0), [batch])

    any_text()


@given(spoilt(QUICK))
@settings(max_examples=60)
def test_any_record_can_be_put_into_its_procedure(text: str) -> None:
    record, _ = read(text)
    made = as_done(PLAN, record, match(record, PLANNED))
    assert made.text.count("\n") >= PLAN.text.rstrip("\n").count("\n")


@given(st.one_of(spoilt(QUICK), texts), st.text(max_size=30))
@settings(max_examples=80)
def test_any_reply_is_taken_or_refused_and_changes_no_other_line(text: str, reply: str) -> None:
    for question in questions(text)[:3]:
        try:
            changed = filled(text, question, reply)
        except AnswerRefused as reason:
            assert str(reason)
            continue
        before, after = (
            one.replace("\r\n", "\n").replace("\r", "\n").split("\n") for one in (text, changed)
        )
        assert len(before) == len(after)
        differing = [
            n for n, pair in enumerate(zip(before, after, strict=True), 1) if pair[0] != pair[1]
        ]
        assert differing == [question.line]
        assert len(questions(changed)) == len(questions(text)) - 1
