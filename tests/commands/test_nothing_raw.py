"""Nothing raw in what any command writes, and an end to what it is answered."""

from __future__ import annotations

import io
import os
import re
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest

from procedure import read
from procedure.command.main import main
from procedure.handout.book import page_names
from procedure.neaten.other_units import in_units
from procedure.wording.visible import raw_characters

RECORD = Path(__file__).parents[2] / "examples" / "records" / "weld-8-linden.batch"
RAW = "\x1b[2J\x9b31m\u202e\u2028\u2029\u200b\x7f\U000e0041"
TEXT = f"""procedure "a{RAW}b"
  by "a{RAW}b"
  version "a{RAW}b"
  source "a{RAW}b"
  makes "a{RAW}b"
  note "a{RAW}b"
  place outdoors
  wearing gloves

fibre
  silk: silk yarn, 20 g, scoured, "a{RAW}b"

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only, "a{RAW}b"
  tub: plastic tub, 20 L, for dyeing only
  hob: hotplate, 2 kW

materials
  alum: potassium alum, "a{RAW}b"
  weld: weld tops, dried

steps
  wet out silk in tub with water 10 L at 30 °C for 1 h note "a{RAW}b"
  bath: prepare in kettle with water 3 L, alum 12 % of silk, weld 50 % of silk
  dye silk in bath from 40 °C to 75 °C over 45 min until "a{RAW}b"
  if "a{RAW}b"
    air silk for 10 min
  do "a{RAW}b" with silk for 5 min note "a{RAW}b"
  cool bath to 30 °C overnight covered labelled
  discard bath to "a{RAW}b"
  rinse silk in tub with water 4 L at 30 °C until "a{RAW}b"
  dry silk
"""
AT = ["--start", "2099-11-28 09:00"]
WRITTEN = {
    "handout": ["handout", "m.dye", "-o", "out.html"],
    "long": ["handout", "m.dye", "--long", "-o", "out.html"],
    "markdown": ["handout", "m.dye", "--long", "--no-chart", "-o", "out.md"],
    "text": ["handout", "m.dye", "-o", "out.txt"],
    "record sheet": ["handout", "m.dye", "--record", "-o", "out.html"],
    "bench": ["handout", "m.dye", "--bench", "-o", "out.html"],
    "labels": ["handout", "m.dye", "--labels", "-o", "out.html"],
    "card": ["card", "m.dye", "-o", "out.html"],
    "lots": ["lots", "m.dye", "-o", "out.md"],
    "compare": ["compare", "plain.dye", "m.dye", "-o", "out.html"],
    "compare in Markdown": ["compare", "plain.dye", "m.dye", "-o", "out.md"],
    "record": ["record", "m.dye", "-o", "out.batch"],
    "chart": ["chart", "m.dye", "-o", "out.svg"],
    "dot": ["chart", "m.dye", "-o", "out.dot"],
    "calendar": ["timetable", "m.dye", *AT, "-o", "out.ics"],
    "drawing": ["timetable", "m.dye", *AT, "-o", "out.svg"],
    "table": ["timetable", "m.dye", *AT, "-o", "out.csv"],
    "book": ["book", ".", "-o", "out"],
    "new": ["new", f"a{RAW}b", "--dye", "weld", "--by", f"a{RAW}b", "-o", "out.dye"],
    "draft": ["draft", "letter.txt", "-o", "out.dye"],
}


@pytest.mark.parametrize("what", WRITTEN)
def test_nothing_raw_is_written(what: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(sys, "stdin", io.StringIO())
    Path("m.dye").write_text(TEXT, "utf-8", newline="")
    Path("plain.dye").write_text(TEXT.replace(RAW, ""), "utf-8")
    Path("letter.txt").write_text(f"Wet out 100 g of wool a{RAW}b in 4 L of water.\n", "utf-8")
    assert main(WRITTEN[what]) in (0, 1)
    made = [*tmp_path.glob("out*/*"), *(one for one in tmp_path.glob("out*") if one.is_file())]
    assert made
    for one in made:
        text = one.read_bytes().decode("utf-8").replace("\r\n", "\n")
        found = raw_characters().search(text)
        assert found is None, text[max(0, found.start() - 60) : found.start() + 20]
        if one.suffix == ".svg":
            ElementTree.fromstring(text)


def test_a_notebook_is_told_nothing_raw() -> None:
    said = read(TEXT)._repr_mimebundle_()
    for text in said.values():
        assert not raw_characters().search(text)


def test_the_form_of_a_record_has_the_title_that_its_plan_has(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("m.dye").write_text(TEXT, "utf-8", newline="")
    assert main(["record", "m.dye"]) == 0
    main(["record", "m.batch", "--check"])
    assert "could not be held against" not in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("name", ["a  b.dye", "a\x1bb.dye", "a\nb.dye", b"a\xffb.dye"])
def test_a_record_names_no_file_that_no_line_can_hold(
    name: str | bytes,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    called = name.decode("utf-8", "surrogateescape") if isinstance(name, bytes) else name
    try:
        Path(called).write_text(TEXT.replace(RAW, ""), "utf-8")
    except OSError:
        pytest.skip("no such names here")
    assert main(["record", called, "-o", "out.batch"]) == 2
    assert "Give the file another name." in capsys.readouterr().err
    assert not Path("out.batch").exists()


# ------------------------------------------------------------ answers


@pytest.mark.skipif(sys.platform == "win32", reason="a stream is closed otherwise there")
@pytest.mark.parametrize(
    "command", [["draft", "-"], ["record", "m.dye", "--ask"], ["language-server"], ["check", "-"]]
)
def test_a_closed_standard_input_is_told(command: list[str], tmp_path: Path) -> None:
    (tmp_path / "m.dye").write_text(TEXT.replace(RAW, ""), "utf-8")
    line = [sys.executable, "-c", _CLOSED, *command]
    done = subprocess.run(line, cwd=tmp_path, capture_output=True, text=True, check=False)
    assert done.returncode == 2
    assert done.stderr == "vatwright: standard input cannot be read: it is closed.\n"


_CLOSED = (
    "import os, sys; os.close(0); sys.stdin = None; "
    f"sys.path.insert(0, {str(Path(__file__).parents[2])!r}); "
    "from procedure.command.main import main; sys.exit(main())"
)


def test_new_asks_nobody_where_standard_input_is_closed(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    assert main(["new"]) == 0
    assert capsys.readouterr().out.startswith("procedure ")


@pytest.mark.parametrize(
    ("typed", "status", "said"),
    [
        ("?\n" * 3000, 0, "is saved"),
        ("\0" * 1_000_000, 2, "an answer has 4,096 characters at the most."),
        ("\n\udcff\n", 2, "the answer is not UTF-8 text, so it cannot be read."),
    ],
)
def test_answers_without_an_end_or_without_sense_end_the_questions(
    typed: str,
    status: int,
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("m.dye").write_text(TEXT.replace(RAW, ""), "utf-8")
    monkeypatch.setattr(sys, "stdin", io.StringIO(typed))
    assert main(["record", "m.dye", "--ask"]) == status
    printed = capsys.readouterr()
    assert said in printed.out + printed.err


# ------------------------------------------------------------ the pages of a book, and units


def test_no_page_of_a_book_takes_the_place_of_another() -> None:
    paths = [
        ("index",), ("a-b",), ("a", "b"), ("A-B",), ("x",), ("x-card",), ("p?q#r",), ("c%20d",),
        ("javascript:1",), (".x",), ("\u202ey",), ("é" * 200,), ("\udcff",), ("w" * 100,),
        ("w" * 100 + "z",),
    ]  # fmt: skip
    names = page_names(paths)
    files = [f"{one.casefold()}{end}.html" for one in names for end in ("", "-card")]
    assert len({*files, "index.html"}) == 2 * len(paths) + 1
    for name in names:
        assert not re.search(r"[^\w.-]", name) and len(f"{name}-card.html".encode()) <= 255
    assert names[1] == "a-b"


@pytest.mark.parametrize("system", ["us", "imperial", "metric", "both"])
@pytest.mark.parametrize("amount", ["-1/2 L", "-5 kg", "-5 to -1 L", "-999999 °C", "-3 oz"])
def test_an_amount_below_nothing_has_other_units_too(amount: str, system: str) -> None:
    where = "at" if amount.endswith("C") else "with water"
    text = TEXT.replace(RAW, "").replace("at 30 °C for 1 h", "for 1 h")
    line = f"  rinse silk in tub {where} {amount}\n"
    assert in_units(text.replace("  dry silk\n", f"{line}  dry silk\n"), system).text


# ------------------------------------------------------------ records in a folder


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes with names here")
@pytest.mark.parametrize("what", ["pipe", "folder", "device", "link"])
def test_what_is_no_record_though_it_has_the_name_of_one_is_told(
    what: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    shutil.copy(RECORD, "done.batch")
    assert main(["batches", "."]) == 0
    other = Path("other.batch")
    if what == "pipe":
        os.mkfifo(other)
    elif what == "folder":
        other.mkdir()
        shutil.copy(RECORD, other / "none.txt")
    else:
        other.symlink_to("/dev/zero" if what == "device" else "nowhere")
    capsys.readouterr()
    assert main(["batches", "."]) == (0 if what == "folder" else 1)
    said = capsys.readouterr().err
    assert said.startswith("" if what == "folder" else "other.batch cannot be read: ")


def test_a_text_that_is_laid_out_on_a_terminal_is_shown_and_to_a_pipe_kept(tmp_path: Path) -> None:
    pty = pytest.importorskip("pty", reason="only some systems have terminals of this kind")
    command = [sys.executable, "-m", "procedure", "neaten", "-"]
    plan = TEXT.encode("utf-8", "surrogatepass")
    piped = subprocess.run(command, input=plan, capture_output=True, check=True).stdout
    assert b"a\x1b[2J" in piped
    mine, its = pty.openpty()
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=its) as process:
        os.close(its)
        assert process.stdin is not None
        process.stdin.write(plan)
        process.stdin.close()
        shown = b""
        while True:
            try:
                shown += os.read(mine, 65536)
            except OSError:  # Linux says so that nobody has the other end any more
                break
    os.close(mine)
    assert "a<U+001B>[2J" in shown.decode("utf-8")
    assert not raw_characters().search(shown.decode("utf-8").replace("\r\n", "\n"))
