"""Numbers, links, pipes and streams that once broke a command: a finding, or one sentence and 2."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from procedure.collection.bytes_of import bytes_of
from procedure.collection.writing import NotWritten, write_whole
from procedure.command.main import main
from procedure.model.types import Step
from procedure.pipeline import Judged, read
from procedure.vocabulary.library import MOST_GUESSED
from procedure.wording.visible import raw_characters

HEAD = """procedure "Hard"

fibre
  yarn: wool yarn, WEIGHT, scoured

equipment
  tub: plastic tub, 12 L, for dyeing only

materials
  alum: alum

steps
"""
ROOT = Path(__file__).parents[2]


def judged(steps: str, weight: str = "100 g") -> Judged:
    return read(HEAD.replace("WEIGHT", weight) + steps, "hard.dye")


def rules(plan: Judged) -> set[str]:
    return {finding.rule for finding in plan.findings}


# ------------------------------------------------------------ numbers


@pytest.mark.parametrize(
    "steps",
    [
        "  rinse yarn in tub with water 9999999998 L\n",
        "  rinse yarn in tub with water 999999999999 L at 30 °C\n",
        "  split yarn in tub with water 1 L\n",
        "  join yarn in tub with water 1 L as both\n",
        "  repeat 999999999999 times\n    rinse yarn in tub with water 4 L\n",
        "  repeat -3 times\n    rinse yarn in tub with water 4 L\n",
        "  mordant yarn in tub with water 4 L, alum -12 % of yarn\n",
    ],
)
@pytest.mark.parametrize("command", ["check", "weigh", "lots", "handout"])
def test_no_number_breaks_a_command(
    steps: str, command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + steps, "utf-8")
    assert main([command, "hard.dye"]) in (0, 1)


def test_no_weight_breaks_a_command() -> None:
    plan = judged("  rinse yarn in tub with water 30 : 1 of yarn\n", "1000000000 kg")
    said = [one.remedy for one in plan.findings]
    assert "Use a larger pot, or less liquor." in said


@pytest.mark.parametrize("number", ["9" * 310, "1." + "0" * 309 + "1", "-" + "9" * 310, "9" * 13])
def test_a_number_longer_than_any_is_a_finding(number: str) -> None:
    plan = judged(f"  rinse yarn in tub with water {number} L\n")
    (found,) = [one for one in plan.findings if one.rule == "cannot-read"]
    digits = sum(map(str.isdigit, number))
    assert found.sentence == f"This number has {digits} digits; a number may have 12 at the most."


def test_a_number_of_twelve_digits_is_read() -> None:
    assert "cannot-read" not in rules(judged("  rinse yarn in tub with water 999999999999 L\n"))


def test_batches_are_counted_and_none_is_made_up() -> None:
    plan = judged("  rinse yarn in tub with water 60 L\n")
    assert any("batches" in one.remedy for one in plan.findings)


def test_lines_that_cannot_be_read_are_told_up_to_a_thousand() -> None:
    plan = judged("  ) out\n" * 1200)
    told = [one for one in plan.findings if one.rule == "cannot-read"]
    assert len(told) == 1002
    assert "The rest of the text was not read." in told[-1].sentence


# ------------------------------------------------------------ long texts


def calls(text: str) -> int:
    """How many functions are called while a text is read and judged: the same on any machine."""
    count = 0

    def note(frame: object, event: str, argument: object) -> None:
        nonlocal count
        count += event == "call"

    sys.setprofile(note)
    try:
        read(text, "long.dye")
    finally:
        sys.setprofile(None)
    return count


@pytest.mark.parametrize(
    "long",
    [
        lambda n: "".join(f"  rinse thing-{i} in basin-{i} with water 4 L\n" for i in range(n)),
        lambda n: "  rinse yarn in tub with water 4 L at 30 °C\n  squeeze yarn\n" * n,
        lambda n: (
            "  bath: prepare in tub with water 4 L, "
            + ", ".join(f"plant-{i} 1 g" for i in range(n))
            + '\n  discard bath to "foul drain"\n'
        ),
    ],
    ids=["undeclared", "one lot", "one bath of many materials"],
)
def test_twice_the_text_is_twice_the_work(long: Callable[[int], str]) -> None:
    def text(n: int) -> str:
        plants = "".join(f"  plant-{i}: weld, dried\n" for i in range(n))
        head = HEAD.replace("WEIGHT", "100 g").replace("  alum: alum\n", "  alum: alum\n" + plants)
        return head + long(n)

    read(text(3), "long.dye")  # so that what is loaded once does not count
    few, some, many = (calls(text(n)) for n in (2, 40, 80))
    # Each name that is not declared is held against all that are, to offer the nearest: that
    # part grows with the square, and is a tenth of the work here.
    assert (many - few) / (some - few) < 2.45


@pytest.mark.parametrize(
    "words",
    [
        "hold 1 h", "(gently)", "w/ water", ", do not rub", ", then squeeze", "and hold 1 h",
        "x3", "Squeeze it. Dry it.", ",,,,", ", turning it often", "in tub of rain water", "twice",
        "keeping it below the surface", "it", "1 to 2 h", "@ 80C", "O/N", "don't rub", 'note "x"',
    ],
)  # fmt: skip
def test_a_step_that_goes_on_and_on_is_told_and_not_followed_to_its_end(words: str) -> None:
    for count in (60, 130):  # no more words than are read as everyday words, or a few more
        judged("  rinse yarn in tub with water 4 L" + f"\n    {words}" * count + "\n")
    plan = judged("  rinse yarn in tub with water 4 L" + f"\n    {words}" * 2000 + "\n")
    found = [one for one in plan.findings if one.line >= 13]
    assert found
    if found[0].rule == "cannot-read":
        assert "more than 400 are not read as everyday words" in found[0].sentence


def test_lines_that_are_all_indented_too_deep_are_each_told_of_and_read() -> None:
    deep = "".join(f"      plant-{i}: weld, dried\n" for i in range(600))
    head = HEAD.replace("WEIGHT", "100 g").replace("  alum: alum\n", "  alum: alum\n" + deep)
    plan = read(head + "  dry yarn\n", "hard.dye")
    assert len([one for one in plan.findings if one.rule == "cannot-read"]) == 600
    assert len(plan.model.materials) == 601
    worse = read(head.replace(deep, deep * 3) + "  dry yarn\n", "hard.dye")
    (told,) = [one for one in worse.findings if "was not read" in one.sentence]
    assert told.line == 10 + 1001


def test_what_goes_on_for_more_lines_than_anybody_writes_is_told_once_and_left() -> None:
    goes_on = "    alum 1 g,\n\n" * 5000
    text = HEAD.replace("WEIGHT", "100 g") + f"  add\n{goes_on}  dry yarn\n"
    plan = read(text, "hard.dye")
    told = [one for one in plan.findings if "more than 4,000 lines" in one.sentence]
    assert [one.line for one in told] == [13]
    read_on = [one.verb.name for one in plan.model.body if isinstance(one, Step) and one.verb]
    assert read_on == ["dry"]


def test_a_bath_of_two_hundred_materials_is_read() -> None:
    plants = "".join(f"  plant-{i}: weld, dried\n" for i in range(200))
    head = HEAD.replace("WEIGHT", "100 g").replace("  alum: alum\n", plants)
    goes_in = ", ".join(f"plant-{i} 1 g" for i in range(200)).replace(", ", ",\n    ")
    text = f'{head}  bath: prepare in tub with water 4 L, {goes_in}\n  discard bath to "drain"\n'
    assert "cannot-read" not in rules(read(text, "hard.dye"))


def test_many_baths_in_one_pot_are_so_much_more_work_and_no_more() -> None:
    def text(n: int) -> str:
        plants = "".join(f"  plant-{i}: weld, dried\n" for i in range(n))
        head = HEAD.replace("WEIGHT", "100 g").replace("  alum: alum\n", plants)
        return head + "".join(
            f"  bath-{i}: prepare in tub with water 4 L, plant-{i} 50 g\n"
            f"  dye yarn in bath-{i} at 40 °C for 1 h\n"
            f'  discard bath-{i} to "foul drain"\n'
            for i in range(n)
        )

    read(text(3), "long.dye")
    few, some, many = (calls(text(n)) for n in (2, 60, 240))
    assert (many - few) / (some - few) < 4.3


def test_unknown_words_are_guessed_at_no_further_than_anybody_reads(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    from procedure.model import describing

    guessed: list[object] = []
    guess = describing._unknown

    def noted(*word: Any) -> Any:
        guessed.append(word)
        return guess(*word)

    monkeypatch.setattr(describing, "_unknown", noted)
    unknown = "".join(f"  plant-{i}: wurzel{i} blatt{i}\n" for i in range(400))
    head = HEAD.replace("WEIGHT", "100 g").replace("  alum: alum\n", unknown)
    plan = read(head + "  dry yarn\n", "hard.dye")
    assert sum(one.rule == "unknown-word" for one in plan.findings) >= 400
    assert MOST_GUESSED <= len(guessed) <= MOST_GUESSED + 4


def test_what_is_known_of_a_lot_does_not_grow_with_its_steps() -> None:
    def size(n: int) -> int:
        step = "  rinse yarn in tub with water 4 L at 30 °C\n  squeeze yarn\n"
        return len(repr(judged(step * n).trace.final.lots["yarn"]._replace(last=0, soaked=None)))

    assert size(20) == size(40)


# ------------------------------------------------------------ files that are followed and read


def test_a_link_to_itself_is_a_finding_in_the_file_that_follows_it(tmp_path: Path) -> None:
    (tmp_path / "loop.dye").symlink_to("loop.dye")
    for name in ("loop", "a" * 260):
        text = HEAD.replace("WEIGHT", "100 g") + f'  follow "{name}.dye" with wool = yarn\n'
        plan = read(text, "hard.dye", tmp_path / "hard.dye")
        assert any(one.line == 13 and one.level == "error" for one in plan.findings)


def test_a_pipe_that_nobody_writes_to_is_not_waited_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    os.mkfifo(tmp_path / "pipe.dye")
    assert main(["check", str(tmp_path / "pipe.dye")]) == 2
    assert "nobody writes to this pipe" in capsys.readouterr().err


def test_a_pipe_that_is_written_to_is_read(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    held = os.open(pipe, os.O_RDWR)  # so that it has a writer before it is opened
    os.write(held, b"some words")
    made = bytes_of(pipe, 3)
    os.close(held)
    assert made == b"some"


def test_a_device_without_an_end_is_read_to_the_limit() -> None:
    assert main(["check", "/dev/zero"]) == 2
    assert len(bytes_of(Path("/dev/zero"), 1000)) == 1001


# ------------------------------------------------------------ folders


def test_a_link_to_nowhere_in_a_folder_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "gone.dye").symlink_to("nowhere.dye")
    (tmp_path / "here.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    assert main(["check", str(tmp_path)]) == 2
    assert "gone.dye cannot be read: it is a link that leads nowhere." in capsys.readouterr().err


def test_a_pipe_in_a_folder_is_told_and_not_waited_for(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    os.mkfifo(tmp_path / "pipe.dye")
    (tmp_path / "here.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    assert main(["check", str(tmp_path)]) == 2
    assert "pipe.dye cannot be read: it is a pipe or a device" in capsys.readouterr().err


def test_a_folder_that_cannot_be_looked_into_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "closed").mkdir()
    (tmp_path / "here.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    whole = os.scandir

    def scandir(path: str) -> object:  # root may look everywhere, so the refusal is played
        if str(path).endswith("closed"):
            raise PermissionError(13, "Permission denied", str(path))
        return whole(path)

    monkeypatch.setattr(os, "scandir", scandir)
    assert main(["check", str(tmp_path)]) == 2
    assert "closed cannot be looked into: permission denied." in capsys.readouterr().err


def test_a_folder_that_may_be_listed_and_not_searched_is_told(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "listed").mkdir()
    for name in ("listed/there.dye", "here.dye"):
        text = HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n"
        (tmp_path / name).write_text(text, "utf-8")
    whole = os.stat

    def stat(path: object, **how: bool) -> object:  # root may search everywhere
        if str(path).endswith("there.dye"):
            raise PermissionError(13, "Permission denied", str(path))
        return whole(path, **how)  # type: ignore[arg-type]

    monkeypatch.setattr(os, "stat", stat)
    monkeypatch.setattr(os, "lstat", stat)
    assert main(["check", str(tmp_path)]) == 2
    said = capsys.readouterr()
    assert "there.dye cannot be read: permission denied." in said.err and said.out


# ------------------------------------------------------------ writing


def test_a_file_that_was_saved_meanwhile_is_not_overwritten(tmp_path: Path) -> None:
    file = tmp_path / "plan.dye"
    file.write_text("new words")
    with pytest.raises(NotWritten, match="changed meanwhile"):
        write_whole(file, b"mended", before=b"old words")
    assert file.read_text() == "new words" and [one.name for one in tmp_path.iterdir()] == [
        "plan.dye"
    ]


def test_other_names_of_a_file_stay_names_of_it(tmp_path: Path) -> None:
    file, other, link = (tmp_path / name for name in ("one.dye", "two.dye", "link.dye"))
    file.write_text("old and longer")
    other.hardlink_to(file)
    link.symlink_to("one.dye")
    write_whole(link, b"new")
    assert other.read_text() == "new" and link.is_symlink() and file.samefile(other)
    assert len(list(tmp_path.iterdir())) == 3


def test_mending_keeps_owner_mode_and_other_names(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    one, two, alone = Path("one.dye"), Path("two.dye"), Path("alone.dye")
    faulty = HEAD.replace("WEIGHT", "100 g") + "  rinsse yarn in tub with water 4 L at 30 °C\n"
    one.write_text(faulty, "utf-8")
    alone.write_text(faulty, "utf-8")
    two.hardlink_to(one)
    alone.chmod(0o640)
    if os.geteuid() == 0:  # only root may give a file away
        os.chown(alone, 12345, 12345)
    before = alone.stat()
    main(["check", "--mend", "one.dye", "alone.dye"])
    assert "mended" in capsys.readouterr().err
    assert "rinsse" not in two.read_text("utf-8") and one.samefile(two)
    after = alone.stat()
    assert "rinsse" not in alone.read_text("utf-8")
    assert (after.st_uid, after.st_gid, after.st_mode) == (
        before.st_uid,
        before.st_gid,
        before.st_mode,
    )
    assert sorted(one.name for one in Path().iterdir()) == ["alone.dye", "one.dye", "two.dye"]


def test_a_name_as_long_as_names_may_be_is_written(tmp_path: Path) -> None:
    file = tmp_path / ("a" * 251 + ".dye")
    write_whole(file, b"words")
    assert file.read_bytes() == b"words"


def test_what_is_no_paper_of_ours_is_not_overwritten(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    for name in ("page.html", "page.md", "page.svg", "page.png"):
        Path(name).write_text("a letter of mine\n")
        command = "handout" if name.endswith(("html", "md")) else "chart"
        assert main([command, "hard.dye", "-o", name]) == 2
        assert Path(name).read_text() == "a letter of mine\n"
        assert "is no paper of this program" in capsys.readouterr().err
    for name in ("page.html", "page.md", "page.svg"):
        command = "chart" if name.endswith("svg") else "handout"
        assert main([command, "hard.dye", "-o", name, "--overwrite"]) in (0, 1)
        assert main([command, "hard.dye", "-o", name]) in (0, 1)  # now it is ours


def test_a_paper_is_not_written_over_what_it_is_made_from(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    text = HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n"
    Path("hard.md").write_text(text, "utf-8")
    assert main(["handout", "hard.md", "-o", "hard.md", "--overwrite"]) == 2
    assert Path("hard.md").read_text("utf-8") == text
    assert "is what it would be made from" in capsys.readouterr().err


@pytest.mark.parametrize("form", ["md", "txt", "html", "svg", "ics", "csv", "json"])
def test_what_only_begins_as_our_paper_is_not_overwritten(
    form: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    out = Path(f"page.{form}")
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    command = "handout" if form in ("md", "txt", "html") else "timetable"
    start = ["--start", "2090-06-14 09:00"] if command == "timetable" else []
    ask = [command, "hard.dye", *start, "-o", str(out)]
    assert main(ask) in (0, 1)
    ours = out.read_bytes()
    assert main(ask) in (0, 1)
    quoted = b"The paper that says Made by Vatwright was of help.\n" + b"My own words.\n" * 9
    begins_so = b"".join(ours.splitlines(keepends=True)[:2])
    foreign = {
        "csv": b"number;what\n" + b"1;my own\n",
        "json": b'{\n  "form": 1,\n  "mine": true\n}\n',
    }.get(form, begins_so + quoted)
    out.write_bytes(foreign)
    assert main(ask) == 2
    assert "is no paper of this program" in capsys.readouterr().err
    assert out.read_bytes() == foreign
    assert main([*ask, "--overwrite"]) in (0, 1)
    assert out.read_bytes()[:20] == ours[:20]
    assert len(out.read_bytes()) == len(ours)


def test_what_compare_writes_is_guarded_as_other_papers_are(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    text = HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n"
    for name in ("old.md", "new.md"):
        Path(name).write_text(text, "utf-8")
    assert main(["compare", "old.md", "new.md", "-o", "new.md", "--overwrite"]) == 2
    assert "is what it would be made from" in capsys.readouterr().err
    Path("page.md").write_text("a letter of mine\n")
    assert main(["compare", "old.md", "new.md", "-o", "page.md"]) == 2
    assert "say --overwrite" in capsys.readouterr().err
    for asked in (["--overwrite"], []):
        assert main(["compare", "old.md", "new.md", "-o", "page.md", *asked]) == 0


def test_pieces_without_number_of_several_lots_are_not_counted_out() -> None:
    text = """procedure "Pieces"
fibre
  pale: wool yarn, 4 skeins of 25 g, scoured
  dark: wool yarn, 9999999998 skeins of 25 g, scoured
equipment
  tub: plastic tub, 20 L, for dyeing only
steps
  wet out pale and dark in tub with water 30 : 1 for 1 h
"""
    assert any("tub" in one.sentence for one in read(text).findings)


def test_a_plan_that_is_larger_than_a_paper_is_refused_in_a_sentence(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("procedure.command.handout.MOST_STEPS", 20)
    monkeypatch.setattr("procedure.chart.MOST_STEPS", 20)
    steps = "  rinse yarn in tub with water 4 L\n"
    for count, status in ((20, 0), (21, 2)):
        Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + steps * count, "utf-8")
        for command in (["handout", "hard.dye"], ["handout", "hard.dye", "--bench"]):
            assert main(command) == status
        assert main(["chart", "hard.dye"]) == status
        said = capsys.readouterr().err
        assert ("has 21 steps" in said and "more than 20" in said) == (status == 2)
    assert main(["chart", "hard.dye", "--overview"]) == 0
    assert main(["chart", "hard.dye", "--to", "15"]) == 0


def test_a_picture_that_nobody_could_open_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + "  dry yarn\n", "utf-8")
    assert main(["chart", "hard.dye", "-o", "hard.png"]) == 0
    monkeypatch.setattr("procedure.chart.MOST_DOTS_IN_ALL", 10_000)
    assert main(["chart", "hard.dye", "-o", "other.png"]) == 2
    assert "too large to open. Write .svg" in capsys.readouterr().err
    assert not Path("other.png").exists()


def test_a_word_of_three_thousand_letters_stays_on_the_page(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from pypdf import PdfReader

    monkeypatch.chdir(tmp_path)
    word = "a" * 3000
    steps = f'  do "{word}"\n  rinse yarn in tub with water 4 L\n'
    Path("hard.dye").write_text(HEAD.replace("WEIGHT", "100 g") + steps, "utf-8")
    for command in (["handout"], ["handout", "--bench"]):
        main([*command[:1], "hard.dye", *command[1:], "-o", "hard.pdf"])
        right = 0.0

        def seen(text: str, _: object, matrix: list[float], *more: object) -> None:
            nonlocal right
            if text.strip():
                right = max(right, matrix[4])

        made = PdfReader("hard.pdf")
        for page in made.pages:
            page.extract_text(visitor_text=seen)
            assert right < float(page.mediabox.width)
        letters = "".join(page.extract_text() for page in made.pages).count("a")
        assert letters >= 3000 and len(made.pages) < 8
    assert main(["handout", "hard.dye"]) in (0, 1)
    assert "overflow-wrap" in Path("hard.html").read_text("utf-8")


@pytest.mark.parametrize("command", ["handout", "card", "lots"])
def test_every_page_says_what_a_browser_may_load(
    command: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    plan = ROOT / "examples" / "shade-card-madder.dye"
    assert main([command, str(plan), "-o", "page.html"]) in (0, 1)
    page = Path("page.html").read_text("utf-8")
    assert 'http-equiv="Content-Security-Policy" content="default-src \'none\';' in page
    assert "script-src 'none'" in page or "script-src 'sha256-" in page


def test_no_cell_of_a_table_is_a_formula(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    import csv

    monkeypatch.chdir(tmp_path)
    name = "=1+2.dye"
    text = (ROOT / "examples" / "first-onion-skins.dye").read_text("utf-8")
    Path(name).write_text(text, "utf-8")
    for command in (["weigh", name, "--format", "csv"], ["timetable", name, "--format", "csv"]):
        assert main(command) == 0
        rows = [*csv.reader(capsys.readouterr().out.splitlines())]
        assert len(rows) > 3
        assert not [cell for row in rows for cell in row if cell.startswith(("=", "+", "@"))]


# ------------------------------------------------------------ what is printed


@pytest.mark.parametrize("raw", ["\x1b[2J", "\x1b]0;x\x07", "\x9b31m", "\u202e", "\u2028", "\x85"])
@pytest.mark.parametrize("form", ["text", "gnu", "json", "sarif"])
def test_nothing_raw_is_printed(
    raw: str,
    form: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    name = f"ha{raw}rd.dye"
    Path(name).write_text(f'procedure "x"\nsteps\n  do "a{raw}b" wi{raw}th\n', "utf-8")
    assert main(["check", name, "--format", form, "--at-least", "note"]) == 1
    main(["know", raw])
    main(["why", raw])
    main([raw])
    made = capsys.readouterr()
    assert not raw_characters().search(made.out) and not raw_characters().search(made.err)


def test_a_line_end_in_a_name_makes_no_line(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    name = "a\nsafe.dye:1.1-1: error: It is wrong. [x].dye"
    Path(name).write_text('procedure "x"\n', "utf-8")
    for form in ("gnu", "text"):
        main(["check", name, "--format", form])
        assert "\nsafe.dye" not in capsys.readouterr().out
    main(["check", f"{name}.not"])
    assert "\nsafe.dye" not in capsys.readouterr().err


# ------------------------------------------------------------ streams


def run(*arguments: str, **how: object) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ROOT), **how.pop("env", {})}  # type: ignore[dict-item]
    command = [sys.executable, "-m", "procedure", *arguments]
    return subprocess.run(command, env=environment, stderr=subprocess.PIPE, **how)  # type: ignore[call-overload, no-any-return]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full here")
def test_a_full_output_gives_2() -> None:
    with Path("/dev/full").open("wb") as full:
        made = run("why", stdout=full)
    assert made.returncode == 2
    assert (
        made.stderr == b"vatwright: standard output cannot be written: no space left on device.\n"
    )


def test_a_closed_output_gives_2() -> None:
    command = f"{sys.executable} -m procedure why >&-"
    made = subprocess.run(
        ["sh", "-c", command], env={**os.environ, "PYTHONPATH": str(ROOT)}, capture_output=True
    )
    assert made.returncode == 2 and b"Traceback" not in made.stderr and made.stderr


def test_json_is_utf8_and_text_is_readable_whatever_the_locale(tmp_path: Path) -> None:
    file = tmp_path / "hard.dye"
    file.write_text(HEAD.replace("WEIGHT", "100 g") + "  dye yarn at 30 °C in “x”\n", "utf-8")
    plain = {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C"}
    made = run("check", str(file), "--format", "json", env=plain, stdout=subprocess.PIPE)
    assert "“" in made.stdout.decode("utf-8")
    made = run("check", str(file), env=plain, stdout=subprocess.PIPE)
    assert made.returncode == 1 and made.stdout.decode("ascii")


@pytest.mark.parametrize(
    "words",
    [
        ("compare", "hard.dye", "other.dye", "--format", "json"),
        ("match", "#c8a232", ".", "--format", "json"),
        ("weigh", "hard.dye", "--format", "json"),
        ("draft", "prose.txt"),
        ("new", "Blåbær", "--sections", "blank"),
        ("neaten", "-"),
    ],
    ids=lambda words: words[0],
)
def test_what_programs_read_and_what_is_kept_is_the_same_in_any_locale(
    words: tuple[str, ...], tmp_path: Path
) -> None:
    text = (ROOT / "examples" / "first-onion-skins.dye").read_text("utf-8")
    text = text.replace('procedure "', 'procedure "Blåbær “½”, ', 1)
    (tmp_path / "hard.dye").write_text(text, "utf-8")
    (tmp_path / "other.dye").write_text(text.replace("100 g", "150 g"), "utf-8")
    (tmp_path / "prose.txt").write_text("Soak the blåbær wool at 40 °C for ½ hour.\n", "utf-8")
    plain = {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "LC_ALL": "C.UTF-8"}
    made = [
        run(*words, env=env, stdout=subprocess.PIPE, cwd=tmp_path, input=text.encode())
        for env in (plain, {"PYTHONIOENCODING": "utf-8"})
    ]
    assert made[0].stdout == made[1].stdout != b""
    assert made[0].stdout.decode("utf-8").encode("ascii", "ignore") != made[0].stdout


def test_what_is_not_installed_is_told_in_a_sentence(tmp_path: Path) -> None:
    code = (
        "import sys\nsys.modules['platformdirs'] = None\n"
        "from procedure.command.main import main\nraise SystemExit(main())"
    )
    made = subprocess.run(
        [sys.executable, "-c", code, "check", "."],
        cwd=_two_procedures(tmp_path),
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert made.returncode == 2
    assert made.stderr == (
        "vatwright: platformdirs is not installed for this Python; install Vatwright again.\n"
    )


def _two_procedures(folder: Path) -> Path:
    text = (ROOT / "examples" / "first-onion-skins.dye").read_text("utf-8")
    for name in ("one.dye", "two.dye"):
        (folder / name).write_text(text, "utf-8")
    return folder


@pytest.mark.parametrize("begun", ["['-m']", "['/usr/bin/vatwright', 'why']"])
def test_ctrl_c_is_quiet_while_the_command_starts(begun: str) -> None:
    code = (
        f"import sys; sys.argv = {begun}\n"
        "import procedure, os, signal\nos.kill(os.getpid(), signal.SIGINT)\nprint('went on')"
    )
    made = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
    )
    assert (made.returncode, made.stdout, made.stderr) == (-signal.SIGINT, b"", b"")


@pytest.mark.parametrize("begun", ["['-m']", "['here']"])
def test_what_a_shell_runs_in_the_background_goes_on_at_ctrl_c(begun: str) -> None:
    code = (
        "import os, signal, sys\nsignal.signal(signal.SIGINT, signal.SIG_IGN)\n"
        f"sys.argv = {begun}\nimport procedure\nfrom procedure.command.main import main\n"
        "sys.argv = ['vatwright', '--version']\nmain()\n"
        "os.kill(os.getpid(), signal.SIGINT)\nprint('went on')"
    )
    made = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
    )
    assert made.stdout.endswith(b"went on\n") and made.stderr == b""


def test_a_program_that_imports_it_keeps_its_own_ctrl_c() -> None:
    code = (
        "import procedure, os, signal\n"
        "try:\n    os.kill(os.getpid(), signal.SIGINT)\n"
        "except KeyboardInterrupt:\n    print('its own')"
    )
    made = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
    )
    assert made.stdout == b"its own\n"


def test_ctrl_c_is_not_lost_where_python_lets_go_of_something(tmp_path: Path) -> None:
    code = (
        "import os, signal, sys, weakref\n"
        "import procedure.pipeline as p\n"
        "class Held: pass\n"
        "def stop(*how):\n    os.kill(os.getpid(), signal.SIGINT)\n    sum(range(9))\n"
        "first = p.read\n"
        "def read(*how, **named):\n"
        "    held = Held()\n    kept = weakref.ref(held, stop)\n    del held\n"
        "    print('went on')\n    return first(*how, **named)\n"
        "p.read = read\n"
        "from procedure.command.main import main\n"
        "sys.argv = ['vatwright', 'lots', 'plan.dye']\nraise SystemExit(main())"
    )
    text = (ROOT / "examples" / "first-onion-skins.dye").read_text("utf-8")
    (tmp_path / "plan.dye").write_text(text, "utf-8")
    made = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
    )
    assert (made.returncode, made.stdout, made.stderr) == (-signal.SIGINT, b"", b"")


def test_ctrl_c_is_quiet_while_helpers_work(tmp_path: Path) -> None:
    text = (ROOT / "examples" / "first-onion-skins.dye").read_text("utf-8")
    for number in range(60):
        (tmp_path / f"{number}.dye").write_text(text, "utf-8")
    code = (
        "import os, signal\nimport procedure.command.on_all_cores as s\n"
        "s.cores = lambda: 2\ns.LEAST = 1\n"
        "import procedure.report.stored as e\n"
        "first = e.findings_of\n"
        "def stop(*how):\n    os.kill(os.getpid(), signal.SIGINT)\n    return first(*how)\n"
        "e.findings_of = stop\n"
        "from procedure.command.main import main\nimport sys\n"
        "sys.argv = ['vatwright', 'check', '.', '--no-cache']\nraise SystemExit(main())"
    )
    made = subprocess.run(
        [sys.executable, "-c", code],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
    )
    assert (made.returncode, made.stderr) == (130, b"")
