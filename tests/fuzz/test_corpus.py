"""What once failed is tried again: every trial of the corpus, and a few hundred new ones."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest
from fuzzing import piece_of
from hostile_commands import command
from hostile_shapes import Shapes
from trials import Trial, amiss, trial_in

CORPUS = Path(__file__).parent / "corpus"


@pytest.mark.parametrize("path", sorted(CORPUS.glob("*.json")), ids=lambda path: path.stem)
def test_what_once_failed_ends_in_findings_or_one_sentence(path: Path) -> None:
    assert amiss(trial_in(path)) == ""


def test_new_hostile_texts_give_findings() -> None:
    shapes = Shapes(int(os.environ.get("FUZZ_SEED", "17")))
    for _ in range(40):
        trial = Trial({"main": shapes.text()})
        assert amiss(trial) == "", trial.stored()


def test_a_piece_of_a_text_is_short_and_below_its_heading() -> None:
    lines = ["steps", *(f"  step {at}" for at in range(40))]
    for seed in range(30):
        heading, *rest = piece_of("\n".join(lines), 10, Random(seed)).split("\n")
        assert heading == "steps"
        assert 2 <= len(rest) <= 9
        at = lines.index(rest[0])
        assert rest == lines[at : at + len(rest)]


def test_new_hostile_commands_end_in_a_status_and_a_sentence() -> None:
    shapes = Shapes(int(os.environ.get("FUZZ_SEED", "17")))
    for _ in range(15):
        trial = command(shapes, slow=0)
        assert amiss(trial) == "", trial.stored()


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("steps\n  wet yarn for 1 wibble\n", ""),
        ("", ""),
    ],
)
def test_a_trial_of_a_plain_text_is_well(text: str, sentence: str) -> None:
    assert amiss(Trial({"main": text})) == sentence


def test_a_trial_notices_what_it_is_there_to_notice(monkeypatch: pytest.MonkeyPatch) -> None:
    from procedure import pipeline

    def broken(text: str, name: str) -> None:
        raise KeyError(text)

    monkeypatch.setattr(pipeline, "read", broken)
    assert amiss(Trial({"main": "x"})).startswith("KeyError")

    def endless(text: str, name: str) -> None:
        while True:
            pass

    monkeypatch.setattr(pipeline, "read", endless)
    assert amiss(Trial({"main": "x"}), 0.2).startswith("longer than 0.2 s")
