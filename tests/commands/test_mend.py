"""``check --mend``: only what can be read one way, and nothing else in the file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from procedure import read
from procedure.command.main import main
from procedure.findings import Edit, Finding
from procedure.rework.mend import _apart, edited, mend
from procedure.rules import RULES
from procedure.rules.example_kit import whole
from procedure.vocabulary.slips import one_slip, only_meant

SLIPS = """procedure "A trial"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a sample"
  place outdors
fibre
  lamb-yarn: wool yarn, 100 g, scuored
equipmnet
  tub: plastic tub, 20 litters, for dyeing only
steps
  wet out lamb-yran in tub wiht water 5 litters at 30 °C for 1 hour   # 5 litters
  dry lamb-yarn
"""
MENDED = (
    SLIPS.replace("outdors", "outdoors")
    .replace("scuored", "scoured")
    .replace("equipmnet", "equipment")
    .replace("yran", "yarn")
    .replace("wiht", "with")
    .replace("litters", "liters")
    .replace("# 5 liters", "# 5 litters")  # a comment is not ours
)


def made(example: str) -> tuple[str, str]:
    """An example as a whole procedure, before and after mending."""
    text = whole(example)
    return text, mend(read(text, "a.dye")).text


def test_slips_of_the_pen_are_mended_and_comments_left() -> None:
    assert mend(read(SLIPS, "a.dye")).text == MENDED


def test_a_file_is_mended_in_place_and_what_is_left_is_reported(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "a.dye"
    file.write_text(SLIPS.replace("dry lamb-yarn", "dry goose"), encoding="utf-8")
    assert main(["check", "--mend", str(file)]) == 1
    assert file.read_text("utf-8") == MENDED.replace("dry lamb-yarn", "dry goose")
    said = capsys.readouterr()
    assert "“goose”" in said.out and "litters" not in said.out
    assert "mended" in said.err


def test_a_sound_file_is_not_written_to(tmp_path: Path) -> None:
    file = tmp_path / "a.dye"
    file.write_text(MENDED, encoding="utf-8")
    before = file.stat()
    main(["check", "--mend", str(file)])
    after = file.stat()
    assert (before.st_ino, before.st_mtime_ns) == (after.st_ino, after.st_mtime_ns)


def test_a_preview_shows_a_unified_diff_and_writes_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "a.dye"
    file.write_text(SLIPS, encoding="utf-8")
    assert main(["check", "--mend", "--preview", str(file)]) == 1
    said = capsys.readouterr().out
    assert file.read_text("utf-8") == SLIPS
    lines = said.split("\n")
    assert lines[0] == f"--- {file}" and lines[1] == f"+++ {file} (mended)"
    assert "-  place outdors" in lines and "+  place outdoors" in lines


def test_a_preview_has_no_place_in_a_form_for_programs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--preview", "--format", "json", "a.dye"]) == 2
    assert capsys.readouterr().err.count("\n") == 1


def test_standard_input_cannot_be_mended(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--mend", "-"]) == 2
    assert "standard input" in capsys.readouterr().err


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", ["", "\ufeff"])
@pytest.mark.parametrize("last", ["", "\n\n   "])
def test_line_ends_byte_order_mark_and_the_end_stay(
    end: str, mark: str, last: str, tmp_path: Path
) -> None:
    file = tmp_path / "a.dye"
    before = mark + (SLIPS.rstrip("\n") + last).replace("\n", end)
    wanted = mark + (MENDED.rstrip("\n") + last).replace("\n", end)
    file.write_bytes(before.encode("utf-8"))
    main(["check", "--mend", str(file)])
    assert file.read_bytes() == wanted.encode("utf-8")


def test_tabs_and_odd_spaces_stay() -> None:
    text = SLIPS.replace("  wet out", "\t wet\u00a0out".replace("\u00a0", " ")).replace(
        "in tub wiht", "in  tub\t wiht"
    )
    assert mend(read(text, "a.dye")).text == MENDED.replace("  wet out", "\t wet out").replace(
        "in tub with", "in  tub\t with"
    )


def test_a_link_stays_a_link_and_the_mode_is_kept(tmp_path: Path) -> None:
    file, link = tmp_path / "a.dye", tmp_path / "b.dye"
    file.write_text(SLIPS, encoding="utf-8")
    file.chmod(0o640)
    link.symlink_to(file)
    main(["check", "--mend", str(link)])
    assert link.is_symlink()
    assert file.read_text("utf-8") == MENDED
    assert file.stat().st_mode & 0o777 == 0o640


def test_a_file_that_may_not_be_written_is_left_with_a_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "access", lambda path, mode: False)  # root may write anywhere
    file = tmp_path / "a.dye"
    file.write_text(SLIPS, encoding="utf-8")
    file.chmod(0o440)
    assert main(["check", "--mend", str(file)]) == 2
    assert "may not be written to" in capsys.readouterr().err
    assert file.read_text("utf-8") == SLIPS


def test_a_write_that_fails_leaves_the_file_whole_and_nothing_beside_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "a.dye"
    file.write_text(SLIPS, encoding="utf-8")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", full)
    assert main(["check", "--mend", str(file)]) == 2
    assert "no space left on device" in capsys.readouterr().err
    assert file.read_text("utf-8") == SLIPS
    assert [one.name for one in tmp_path.iterdir()] == ["a.dye"]


def test_only_what_the_report_shows_is_mended(tmp_path: Path) -> None:
    file = tmp_path / "a.dye"
    file.write_text(SLIPS, encoding="utf-8")
    main(["check", "--mend", "--at-least", "error", str(file)])
    text = file.read_text("utf-8")
    assert "5 liters" in text and "outdors" in text  # an unknown word is a warning


def test_a_followed_file_is_mended_only_when_it_is_named(tmp_path: Path) -> None:
    inner = tmp_path / "inner.dye"
    inner.write_text(SLIPS, encoding="utf-8")
    outer = tmp_path / "outer.dye"
    outer.write_text(
        MENDED.replace("  dry lamb-yarn", '  follow "inner.dye" with lamb-yarn'), encoding="utf-8"
    )
    main(["check", "--mend", str(outer)])
    assert inner.read_text("utf-8") == SLIPS


@pytest.mark.parametrize(
    "example",
    [
        "wet out yarn in tub with water 8 to 3 L for 1 h\ndry yarn",  # which number slipped?
        "wet out yarn in tub with water 2 gal for 1 h\ndry yarn",  # US or imperial?
        "wet out yarn in tub with water 5 L fro 1 h\ndry yarn",  # for, or from?
        "dey yarn",  # dry, or dye?
        "cook yarn in tub with water 5 L for 1 h",  # a word of its own, and not cool
        "wet out yarn in tub with water 5 ML for 1 h\ndry yarn",  # mL, or a million litres?
        "wet out yarn in tub with water 5 miligrams for 1 h",  # one slip, two units near
        'bath-1: prepare in kettle with water 3 L\ndiscard bath-2 to "drain"',
        "materials\n  alum: potassium alumn\nsteps\n  dry yarn",  # never a substance
        "materials\n  sulphite: sodium sulphaet\nsteps\n  dry yarn",
        "fibre\n  yarn: wol yarn, 100 g, scoured\nsteps\n  dry yarn",
        'dry yarn allow bath-left-ovr because "it is a trial"',  # nothing is silenced for you
        'dry yarn allow bath-left-over because "it is a trial"',  # the reason would be lost
    ],
)
def test_what_takes_a_person_to_say_is_left(example: str) -> None:
    before, after = made(example)
    if "miligrams" in example:  # milligrams is the only unit that is one slip away
        assert after == before.replace("miligrams", "milligrams")
    else:
        assert after == before


def test_a_name_that_may_be_a_forgotten_declaration_is_left() -> None:
    before, after = made(
        "materials\n  madders: madder, dried\nsteps\n  chop madder\n  chop madders"
    )
    assert before == after


@pytest.mark.parametrize("rule", RULES, ids=lambda rule: rule.name)
def test_mending_is_done_in_one_go_and_never_adds_a_fault_to_a_line(rule: object) -> None:
    text = whole(rule.trips)  # type: ignore[attr-defined]
    once = mend(read(text, "a.dye"))
    assert mend(once.plan).text == once.text
    assert not any(f.edit for f in once.plan.findings if not f.allowed)
    assert once.text.count("\n") == text.count("\n")
    unread = sum(f.rule == "cannot-read" for f in read(text, "a.dye").findings)
    assert sum(f.rule == "cannot-read" for f in once.plan.findings) <= unread


def _finding(line: int, column: int, to: int, text: str) -> Finding:
    place = (line, column, to)
    return Finding("not-declared", "error", "a", *place, "x", "y", "z", (), Edit(*place, text))


def test_of_edits_that_overlap_the_first_is_made() -> None:
    one, two, three = _finding(1, 1, 5, "a"), _finding(1, 4, 8, "b"), _finding(1, 8, 9, "c")
    assert _apart([three, two, one]) == [one, three]
    assert _apart([one, one]) == [one]
    insert = _finding(1, 3, 3, "d")
    assert _apart([insert, insert]) == [insert]


@settings(deadline=None)
@given(st.text(st.sampled_from("ab\r\n\u2028\x0b\ufeff \U0001f9f6"), max_size=30), st.data())
def test_an_edit_changes_its_columns_and_nothing_else(text: str, data: st.DataObject) -> None:
    body = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n")
    lines = body.split("\n")
    line = data.draw(st.integers(1, len(lines)))
    column = data.draw(st.integers(1, len(lines[line - 1]) + 1))
    to = data.draw(st.integers(column, len(lines[line - 1]) + 1))
    after = edited(text, [Edit(line, column, to, "XY")])
    start = after.index("XY")
    cut = lines[line - 1][column - 1 : to - 1]
    assert after[:start] + cut + after[start + 2 :] == text


@pytest.mark.parametrize(
    ("word", "other", "one"),
    [
        ("wiht", "with", True),  # two letters changed about
        ("litters", "liters", True),  # one too many
        ("linen", "linnen", True),
        ("skein", "skin", True),
        ("rinze", "rinse", True),
        ("litters", "litres", False),
        ("with", "with", False),
        ("bath-1", "bath-2", False),
        ("ab", "ba", True),
        ("abcd", "dbca", False),
    ],
)
def test_one_slip_of_the_pen(word: str, other: str, one: bool) -> None:
    assert one_slip(word, other) is one
    assert one_slip(other, word) is one


def test_two_words_that_are_near_leave_it_open() -> None:
    assert only_meant("covvered", ["covered", "coverred"]) == "covered"
    assert only_meant("coverd", ["covered", "covers"]) is None
    assert only_meant("covered", ["covered", "coverd"]) is None


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_mending_a_spoilt_text_ends_and_is_done_at_once(data: st.DataObject) -> None:
    letters = list(SLIPS)
    for _ in range(data.draw(st.integers(1, 6))):
        at = data.draw(st.integers(0, len(letters) - 2))
        letters[at], letters[at + 1] = letters[at + 1], letters[at]
    text = "".join(letters)
    once = mend(read(text, "a.dye"))
    assert mend(once.plan).text == once.text
    assert once.text.count("\n") == text.count("\n")
