"""What is wrong with the arguments of a command, in our words, with what there is to choose."""

from __future__ import annotations

import argparse

import pytest

from procedure.command.main import main
from procedure.command.wrongly_asked import in_our_words


@pytest.mark.parametrize(
    ("given", "told"),
    [
        (["timetable", "x.dye", "--format", "docx"], "--format cannot be “docx”; it may be text, "),
        (
            ["timetable", "x.dye", "--paper", "a3"],
            "--paper cannot be “a3”; it may be a4 or ",
        ),
        (["timetable", "x.dye", "--hands"], "--hands has nothing after it"),
        (["timetable", "x.dye", "--hours-of", "3"], "“--hours-of 3” is not known here"),
        (["timetable"], "FILE is missing"),
        (["match", "#fff", "--most", "some"], "--most “some” is no number"),
        (["timetable", "x.dye", "--h", "1"], "“--h” may be --"),
        (["handout", "x.dye", "--long", "--bench"], "--bench and --long do not go together"),
    ],
)
def test_it_is_told_in_a_sentence(
    given: list[str], told: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(given) == 2
    said = capsys.readouterr().err
    assert told in said and "--help” shows how." in said
    assert "argument" not in said and "invalid" not in said


def test_what_the_library_says_is_known_and_anything_else_is_told_as_it_is() -> None:
    made = argparse.ArgumentParser(exit_on_error=False, add_help=False)
    made.add_argument("-o", "--out", choices=("a", "b"))
    with pytest.raises(argparse.ArgumentError) as caught:
        made.parse_args(["-o", "c"])
    assert in_our_words(str(caught.value)) == "--out cannot be “c”; it may be a or b."
    assert in_our_words("something new") == "something new."
