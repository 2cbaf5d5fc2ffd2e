"""Command lines on hostile files, every command with its options, from the seed of the shapes."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

from hostile_shapes import NAMES, NUMBERS, WORDS, Shapes
from trials import NEAT_AGAIN, TYPED, Trial

MOMENTS = (
    "2026-11-28 09:00",
    "2026-11-28T09:00+02:00",
    "9:40",
    "25:00",
    "9999-12-31 23:59",
    "2020-02-30",
    "tomorrow 9:00",
)
HOURS = ("9:00-18:00", "22:00-2:00", "9-5", "9:00-9:01", "9:00-12:00,13:00-18:00", "always")
DAYS = ("sat,sun", "weekdays", "2026-12-05", "sat,2026-12-08", "nevers")
UNIT_SYSTEMS = ("metric", "us", "imperial", "both")
FIBRES = ("4 silk scarves of 20 g", "cotton 1 lb", "wool yarn 100 g")
DYES = ("weld", "onion", "indigo", "madder", "walnut")
SALTS = ("iron", "copper", "none")
COLOURS = ("#c8a232", "Lab 70 5 60", "Munsell 5Y 7/8", "Lab nan 1 1", "#")
SLOW = 0.03  # of the command runs: those that set PDFs or solve


class _Drawn(NamedTuple):
    """What the command lines of one trial are made of; ``one`` chooses."""

    shapes: Shapes
    name: str
    number: str
    word: str
    weight: str

    def one(self, *choices: str) -> str:
        return self.shapes.random.choice(choices)

    def of(self, choices: tuple[str, ...]) -> str:
        """One of a list, or a hostile word."""
        return self.word if self.shapes.random.random() < 0.3 else self.one(*choices)


def command(shapes: Shapes, slow: float = SLOW) -> Trial:
    """A command on hostile files; ``slow`` is the share of those that set PDFs or solve."""
    draw = shapes.random
    name = draw.choice(("main.dye",) * 8 + ("ma\x1bin.dye", "a\nb.dye: error.dye", "=x.dye"))
    text = shapes.text()
    other = shapes.version(text) if draw.random() < 0.6 else shapes.mutant()
    files = {name: text, "other.dye": other}
    if draw.random() < 0.15:
        files["vatwright.toml"] = shapes.mutant(shapes.workshops)
    drawn = _Drawn(shapes, name, draw.choice(NUMBERS), draw.choice(NAMES + WORDS), shapes.amount())
    lines: Callable[[_Drawn], list[list[str]]] = draw.choice(
        (_of_records, _of_prose, _of_neat_and_compared, _of_papers, _of_papers)
    )
    if draw.random() < slow:
        lines = draw.choice((_of_timetables, _of_timetables, _of_timetables, _of_books))
    if lines is _of_records or (lines is _of_timetables and draw.random() < 0.2):
        # The records of the examples are of one method: mostly that is what stands beside them.
        if draw.random() < 0.6:
            files["main.dye"] = shapes.mutant([one for one in shapes.examples if "weld" in one])
        files = {"main.batch": shapes.record(), "second.batch": shapes.record(), **files}
    if lines is _of_prose:
        files = {"prose.txt": shapes.prose(), **files}
    return Trial(files, draw.choice(lines(drawn)))


def _of_records(drawn: _Drawn) -> list[list[str]]:
    return [
        ["record", "main.batch", "--check", "--all"],
        ["record", "main.batch", "--check", "--at-least", "note"],
        ["record", "main.batch", "--curve", drawn.one(drawn.number, "1", "3", "14", "dye")],
        ["record", "main.batch", "--card"],
        ["record", "main.batch", "--card", "-o", "out.html"],
        ["record", "main.batch", "--ask"],
        ["record", drawn.name],
        ["record", "main.dye", "-o", "form.batch", "--ask"],
        ["batches", "."],
        ["batches", ".", "--format", drawn.one("csv", "json")],
        ["batches", ".", "--used"],
        ["batches", ".", "--book", drawn.one("out.html", "out.md", "out.txt")],
        ["match", drawn.of(COLOURS), "."],
        ["match", f"Lab {drawn.number} 1 1", "."],
        ["timetable", "main.dye", "--record", "main.batch", "--now", drawn.of(MOMENTS)],
        ["handout", "main.dye", "--record"],
    ]


def _of_prose(drawn: _Drawn) -> list[list[str]]:
    word = drawn.word
    return [
        ["draft", "prose.txt"],
        ["draft", "prose.txt", "--side-by-side"],
        ["draft", "prose.txt", "--fill", "-o", "out.dye"],
        ["draft", "prose.txt", "--place-unsure", "--fill"],
        ["draft", "prose.txt", "--place-unsure", "--side-by-side"],
        ["draft", "-"],
        ["know", word],
        ["why", word],
        ["new", word, "--fibre", f"wool yarn {drawn.number} g", "--dye", word],
        ["new", word, "--mordant", word, "-o", "out.dye"],
        ["new", word, f"--fibre={drawn.of(FIBRES)}", f"--dye={drawn.of(DYES)}"],
        ["new", word, f"--dye={drawn.of(DYES)}", "--mordant", drawn.of(("alum", "none"))],
        ["new", word, f"--after={drawn.of(SALTS)}", f"--over={drawn.of(('woad', 'none'))}"],
        ["new", word, "--pots", drawn.of(("steel pot 10 L", "a, b, c", "")), "--units", "us"],
        ["new", "--sections", "blank", "--by", word],
        ["new", "-o", "out.dye"],
        [word, word],
    ]


def _of_neat_and_compared(drawn: _Drawn) -> list[list[str]]:
    name = drawn.name
    return [
        ["neaten", name],
        ["neaten", "--preview", "--units", drawn.one(*UNIT_SYSTEMS), name],
        ["neaten", "--units", drawn.one(*UNIT_SYSTEMS), name],
        ["neaten", "--verify", "."],
        ["neaten", "-"],
        [NEAT_AGAIN, name],
        [NEAT_AGAIN, name],
        [TYPED, name, "other.dye"],
        ["compare", name, "other.dye", "--units", drawn.one("own", *UNIT_SYSTEMS[:3])],
        ["compare", name, "other.dye"],
        ["compare", "other.dye", name, "--format", "json"],
        ["compare", name, "-"],
        ["compare", name, "other.dye", "-o", drawn.one("out.html", "out.md", "out.txt")],
    ]


def _of_papers(drawn: _Drawn) -> list[list[str]]:
    name, number, word, weight = drawn.name, drawn.number, drawn.word, drawn.weight
    return [
        ["check", "."],
        ["check", "-"],
        ["check", name, "--at-least", "note", "--format", drawn.one("json", "sarif")],
        ["check", name, "--at-least", "note", "--format", "gnu", "--units", "us"],
        ["check", name, "--mend", "--at-least", "note"],
        ["check", name, "--preview"],
        ["lots", name],
        ["lots", name, "--only", word],
        ["lots", name, "-o", drawn.one("out.html", "out.md", "out.txt")],
        ["weigh", name, "--explain"],
        ["weigh", name, "--format", drawn.one("csv", "json")],
        ["weigh", name, f"--fibre={weight}", "--shop"],
        ["weigh", name, f"--skeins={number}"],
        ["weigh", name, f"--have=alum={weight}", "--units", "both"],
        ["weigh", name, f"--swap=alum={word}", f"--scale-step={weight}"],
        ["card", name],
        ["handout", name],
        ["handout", name, f"--fibre={weight}", "--units", "us", "-o", "out.md"],
        ["handout", name, f"--skeins={number}", "-o", "out.txt"],
        ["handout", name, "--long", "--no-chart"],
        ["handout", name, drawn.one("--bench", "--labels", "--record")],
        ["chart", name, "--sheet", drawn.one("a4", "roll")],
        ["chart", name, drawn.one("--open", "--fold", "--overview")],
        ["chart", name, "--only", word, "--from", number],
    ]


def _of_timetables(drawn: _Drawn) -> list[list[str]]:
    name, number, word, weight = drawn.name, drawn.number, drawn.word, drawn.weight
    moment, later = drawn.of(MOMENTS), drawn.of(MOMENTS)
    return [
        ["timetable", name],
        ["timetable", name, "other.dye", "--hands", drawn.of(("2", "Ada,Bo", "0"))],
        ["timetable", name, "--format", drawn.one("json", "csv", "ics", "svg")],
        ["timetable", name, "--hours", drawn.of(HOURS), "--days", drawn.of(DAYS)],
        ["timetable", name, "--hours", word, "--days", number],
        ["timetable", name, "--start", moment, "--finish-by", later],
        ["timetable", name, f"--done=1={moment}", f"--line={weight}", "--now", later],
        ["timetable", name, f"--zone={drawn.of(('Europe/London', 'UTC'))}", "--start", moment],
        ["timetable", name, f"--done={word}={moment}"],
        ["timetable", name, f"--pots={word}={number}", f"--participants={word},{word}"],
        ["timetable", name, "--rings", drawn.one(number, "1"), "--sinks", drawn.one(number, "1")],
        ["timetable", name, "--hands", "Ada,Bo", "--who", drawn.of(("Ada", "Bo"))],
        ["timetable", name, "--record", "main.batch", "--now", moment],
    ]


def _of_books(drawn: _Drawn) -> list[list[str]]:
    return [
        ["book", ".", "-o", drawn.one("book", "book", "book.pdf"), "--title", drawn.word],
        ["chart", drawn.name, "-o", drawn.one("out.png", "out.pdf", "out.dot")],
        ["handout", drawn.name, "-o", "out.pdf"],
        ["compare", drawn.name, "other.dye", "-o", "out.pdf"],
    ]
