"""The shapes of hostile input: texts, names, collections and command lines, from one seed."""

from __future__ import annotations

import re
from pathlib import Path
from random import Random

from trials import Trial

from procedure.vocabulary import vocabulary

EXAMPLES = Path(__file__).parents[2] / "examples"
PROSE = Path(__file__).parents[1] / "trials" / "prose"

NUMBERS = (
    "0 -1 -0 1/0 0/0 1/3 -1/2 3 1/7 0.0000001 -3 9999999998 100000000 999999999999 1e309 1,5 1,000 "
    "99999999999999999999 0.000000000000001 ½ 1½ ²  ١٢ 2-1 7 to 3 -5 to -1 NaN inf 0x10"
).split()
NUMBERS += ["9" * 310, "-" + "9" * 400, "0." + "0" * 310 + "1", "1/" + "3" * 310, "9" * 5000]
NAMES = [
    "a" * 61,
    "é" * 260,
    "x-" * 200,
    "yarn.yarn.yarn",
    "water",
    "steps",
    "in",
    "constructor",
    "__class__",
    "Ⅷ",
    "ß",
    "İ",
    "羊毛",
    "\u202eyarn",
    "ya\u200brn",
    "ya\x1b[31mrn",
    "ya\x9brn",
    "ya\u2028rn",
    "{yarn}",
    "%s",
    "🧶",
    "e\u0301",
]
WORDS = [
    "\x1b]0;title\x07",
    "\x1b[2J",
    "\x9b31m",
    "\u202egnp.exe",
    "\u2028",
    "\u2029",
    "\x85",
    "\x0b",
    "\x0c",
    "</script><script>alert(1)</script>",
    "=1+1",
    "@SUM(A1)",
    "W" * 3000,
    "{0}{x!r}",
    "#[box]",
    "$x^2$",
    "\\",
    "\\\\",
    "`",
    "javascript:alert(1)",
    "\ufeff",
    "\ufffe",
    "\U0001f9f6",
    "a" * 300 + " b",
]
UNITS = "g kg L ml % °C °F min h days oz lb gal tsp cups drops wof g/L mm wibble times".split()
MOMENTS = (
    "2026-11-28 09:00",
    "2026-11-28T09:00+02:00",
    "9:40",
    "25:00",
    "9999-12-31 23:59",
    "2020-02-30",
)
UNIT_SYSTEMS = ("metric", "us", "imperial", "both")
PILED = 0.005  # of all texts: they take long
_NUMBER = re.compile(r"\d+(?:[.,/]\d+)?")
_NAME = re.compile(r"\b[a-z]+(?:-[a-z]+)+\b|\byarn\b|\bkettle\b|\btub\b")
_STRING = re.compile(r'"[^"\n]*"')


def _texts(ending: str) -> list[str]:
    return [path.read_text("utf-8") for path in sorted(EXAMPLES.rglob(f"*{ending}"))]


def _recipes() -> list[str]:
    """Recipes in prose; those that no eye has seen stay unseen, also where one fails."""
    every = sorted(PROSE.rglob("*.txt"))
    return [path.read_text("utf-8") for path in every if "held_out" not in path.parts]


class Shapes:
    """Draws trials from a seed; the same seed gives the same trials in the same order."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.examples = _texts(".dye")
        self.records = _texts(".batch")
        self.workshops = _texts(".toml")
        self.recipes = _recipes()
        self.sentences = [
            one for text in self.recipes for one in re.split(r"(?<=[.!?:])\s+", text) if one.strip()
        ]
        self.pieces: list[str] = sorted(
            {word for text in self.examples for word in re.findall(r'"[^"]*"|\S+|\n *', text)}
        )
        words = vocabulary()
        self.verbs = sorted(words.verbs)
        self.materials = sorted(words.tables["dyestuffs"]) + sorted(words.tables["mordants"])
        self.lines = [line for text in self.examples for line in text.split("\n") if line.strip()]

    # ------------------------------------------------------------ texts

    def soup(self) -> str:
        """Words of the language and hostile ones, in no order."""
        draw = self.random
        kinds = (self._hostile, self._piece)
        made: list[str] = [draw.choice(kinds)() for _ in range(draw.randrange(1, 80))]
        return "".join(word if word.startswith("\n") else word + " " for word in made)

    def _piece(self) -> str:
        return str(self.random.choice(self.pieces))

    def _hostile(self) -> str:
        draw = self.random
        made: str = draw.choice(draw.choice((NUMBERS, NAMES, WORDS, ["\n  "])))
        return made

    def program(self) -> str:
        """A procedure with a head that can be read, and steps of every verb and clause."""
        draw = self.random
        lots = ["yarn", "silk"][: draw.randrange(3)]
        pots = ["kettle", "tub"][: draw.randrange(3)]
        head = ['procedure "Trial"', "", "fibre"]
        head += [f"  {lot}: wool yarn, {self._amount()}" for lot in lots]
        head += ["", "equipment"]
        head += [f"  {pot}: stainless steel pot, {self._amount()}" for pot in pots]
        head += ["", "materials"]
        named = [f"m{at}" for at in range(draw.randrange(4))]
        head += [f"  {name}: {draw.choice(self.materials)}" for name in named]
        known = [*lots, *pots, *named, "bath", "water", "nothing"]
        steps = ["", "steps"]
        indent = 2
        for _ in range(draw.randrange(1, 25)):
            line = self._step(known)
            steps.append(" " * indent + line)
            if line.startswith(("repeat", "if", "for", "either", "or")):
                indent += 2
            elif indent > 2 and draw.random() < 0.3:
                indent -= 2
        return "\n".join([*head, *steps]) + "\n"

    def _amount(self) -> str:
        draw = self.random
        number = draw.choice(NUMBERS) if draw.random() < 0.25 else str(draw.randrange(1, 500))
        return f"{number} {draw.choice(UNITS)}"

    def _step(self, known: list[str]) -> str:
        draw = self.random
        thing = draw.choice(known)
        if draw.random() < 0.15:
            return draw.choice(
                (
                    f"repeat {draw.choice(NUMBERS)} times",
                    'if "it is pale"',
                    f"for each one in {thing}, {draw.choice(known)}",
                    "either",
                    f'follow "{draw.choice(("main.dye", "other.dye", "../x.dye", "a" * 260))}"',
                    f"split {thing} into a, b",
                    f"join {thing}, {draw.choice(known)} as {draw.choice(known)}",
                )
            )
        label = "bath: " if draw.random() < 0.2 else ""
        clauses = (
            f"in {draw.choice(known)}",
            f"into {draw.choice(known)}",
            f"with {draw.choice(known)} {self._amount()}",
            f"with water {self._amount()}",
            f"at {self._amount()}",
            f"from {self._amount()} to {self._amount()}",
            f"over {self._amount()}",
            f"for {self._amount()}",
            f"{draw.choice(NUMBERS)} times",
            f'until "{draw.choice(WORDS)}"',
            f"of {thing}",
            f"as {draw.choice(known)}",
            f"after {draw.choice(known)}",
            f'note "{draw.choice(WORDS)}"',
            "covered",
            f'allow {draw.choice(("no-rinse", "wibble"))} because "{draw.choice(WORDS)}"',
        )
        chosen = draw.sample(clauses, draw.randrange(5))
        return f"{label}{draw.choice(self.verbs)} {thing} {' '.join(chosen)}"

    def mutant(self, texts: list[str] | None = None) -> str:
        """An example with a few changes, great and small."""
        draw = self.random
        text = draw.choice(self.examples if texts is None else texts)
        for _ in range(draw.choice((1, 1, 2, 3, 8))):
            text = draw.choice(
                (
                    self._letters,
                    self._moved_lines,
                    self._numbers,
                    self._named,
                    self._strings,
                    self._lines,
                    self._words,
                )
            )(text)
        return text

    def prose(self) -> str:
        """A recipe in prose: changed, put together of sentences of many, or no prose at all."""
        draw = self.random
        kind = draw.randrange(8)
        if kind < 4:
            return self.mutant(self.recipes)
        if kind < 7:
            told = draw.choices(self.sentences, k=draw.choice((1, 3, 8, 20, 60)))
            text = draw.choice((" ", "\n", "\n\n", ", ", " and then ")).join(told)
            return self._numbers(self._words(text)) if kind == 6 else text
        return draw.choice((self.mutant, self.soup))()

    def _letters(self, text: str) -> str:
        draw = self.random
        at = draw.randrange(len(text) + 1)
        put = draw.choice(("", "", " ", "\n", "\t", '"', ":", ",", "\x1b", "\u202e", "é", "-", "#"))
        return text[:at] + put + text[at + draw.randrange(4) :]

    def _moved_lines(self, text: str) -> str:
        draw = self.random
        lines = text.split("\n")
        one = draw.randrange(len(lines))
        other = draw.randrange(len(lines))
        match draw.randrange(4):
            case 0:
                del lines[one]
            case 1:
                lines.insert(other, lines[one])
            case 2:
                lines[one], lines[other] = lines[other], lines[one]
            case _:
                lines[one] = " " * draw.randrange(9) + lines[one].strip()
        return "\n".join(lines)

    def _lines(self, text: str) -> str:
        draw = self.random
        lines = text.split("\n")
        lines.insert(draw.randrange(len(lines) + 1), draw.choice(self.lines))
        return "\n".join(lines)

    def _words(self, text: str) -> str:
        parts = text.split(" ")
        parts[self.random.randrange(len(parts))] = self._piece()
        return " ".join(parts)

    def _numbers(self, text: str) -> str:
        return self._at_one(_NUMBER, text, self.random.choice(NUMBERS))

    def _named(self, text: str) -> str:
        name = self.random.choice(NAMES)
        found = _NAME.findall(text)
        return text.replace(self.random.choice(found), name) if found else text

    def _strings(self, text: str) -> str:
        return self._at_one(_STRING, text, f'"{self.random.choice(WORDS)}"')

    def _at_one(self, shape: re.Pattern[str], text: str, put: str) -> str:
        found = list(shape.finditer(text))
        if not found:
            return text
        one = self.random.choice(found)
        return text[: one.start()] + put + text[one.end() :]

    def splice(self) -> str:
        """The beginning of one example and the end of another."""
        draw = self.random
        one, other = draw.choice(self.examples), draw.choice(self.examples)
        lines, more = one.split("\n"), other.split("\n")
        return "\n".join(lines[: draw.randrange(len(lines))] + more[draw.randrange(len(more)) :])

    def piled(self) -> str:
        """An example with a few words, or a line, written hundreds of times over."""
        draw = self.random
        lines = draw.choice(self.examples).split("\n")
        at = draw.randrange(len(lines))
        words = lines[at].split()
        begin = draw.randrange(len(words) + 1)
        part = " ".join(words[begin : begin + draw.randrange(1, 4)]) or self._piece()
        between = draw.choice((" ", ", ", " and ", "\n      ", ",\n      ", "\n"))
        lines[at] += between + between.join([part] * draw.choice((60, 130, 400, 1500)))
        return "\n".join(lines)

    def text(self) -> str:
        """A hostile text of any shape."""
        draw = self.random
        if draw.random() < PILED:
            return self.piled()
        shapes = (self.soup, self.program, self.program, self.mutant, self.mutant, self.splice)
        text = draw.choice(shapes)()
        if draw.random() < 0.03:
            text = text.replace("\n", draw.choice(("\r\n", "\r", "\x85", "\u2028")))
        return text

    # ------------------------------------------------------------ command lines

    def command(self, slow: bool = True) -> Trial:
        """A command on hostile files. ``slow`` has those that set PDFs or solve."""
        draw = self.random
        name = draw.choice(("main.dye",) * 8 + ("ma\x1bin.dye", "a\nb.dye: error.dye", "=x.dye"))
        files = {name: self.text(), "other.dye": self.mutant()}
        if draw.random() < 0.15:
            files["vatwright.toml"] = self.mutant(self.workshops)
        number, word = draw.choice(NUMBERS), draw.choice(NAMES + WORDS)
        weight = self._amount()
        at = draw.randrange(5)
        if at == 0:
            files = {"main.batch": self.mutant(self.records), **files}
            lines = [
                ["record", "main.batch", "--check", "--all"],
                ["record", "main.batch", "--curve", number],
                ["record", "main.batch", "--card"],
                ["record", name],
                ["batches", "."],
                ["batches", ".", "--format", draw.choice(("csv", "json"))],
                ["batches", ".", "--used"],
                ["match", draw.choice(("#c8a232", "Lab 70 5 60", word, f"Lab {number} 1 1")), "."],
            ]
        elif at == 1:
            files["prose.txt"] = self.prose()
            lines = [
                ["draft", "prose.txt", "--side-by-side"],
                ["draft", "prose.txt", "--fill", "-o", "out.dye"],
                ["know", word],
                ["why", word],
                ["new", word, "--fibre", f"wool yarn {number} g", "--dye", word],
                ["new", word, "--mordant", word, "-o", "out.dye"],
                [word, word],
            ]
        else:
            lines = [
                ["check", "."],
                ["check", name, "--at-least", "note", "--format", draw.choice(("json", "sarif"))],
                ["check", name, "--at-least", "note", "--format", "gnu", "--units", "us"],
                ["check", name, "--mend", "--at-least", "note"],
                ["check", name, "--preview"],
                ["neaten", name],
                ["neaten", "--preview", "--units", draw.choice(UNIT_SYSTEMS), name],
                ["neaten", "--verify", "."],
                ["compare", name, "other.dye", "--units", draw.choice(("own", "us"))],
                ["compare", "other.dye", name, "--format", "json"],
                ["compare", name, "other.dye", "-o", draw.choice(("out.html", "out.md"))],
                ["lots", name],
                ["lots", name, "--only", word],
                ["lots", name, "-o", draw.choice(("out.html", "out.md", "out.txt"))],
                ["weigh", name, "--explain"],
                ["weigh", name, "--format", draw.choice(("csv", "json"))],
                ["weigh", name, f"--fibre={weight}", "--shop"],
                ["weigh", name, f"--skeins={number}"],
                ["weigh", name, f"--have=alum={weight}", "--units", "both"],
                ["weigh", name, f"--swap=alum={word}", f"--scale-step={weight}"],
                ["card", name],
                ["handout", name],
                ["handout", name, f"--fibre={weight}", "--units", "us", "-o", "out.md"],
                ["handout", name, f"--skeins={number}", "-o", "out.txt"],
                ["handout", name, "--long", "--no-chart"],
                ["handout", name, draw.choice(("--bench", "--labels", "--record"))],
                ["chart", name, "--sheet", draw.choice(("a4", "roll"))],
                ["chart", name, draw.choice(("--open", "--fold", "--overview"))],
                ["chart", name, "--only", word, "--from", number],
            ]
            if slow and draw.random() < 0.03:
                lines = [
                    ["book", ".", "-o", draw.choice(("book", "book.pdf")), "--title", word],
                    ["chart", name, "-o", draw.choice(("out.png", "out.pdf", "out.dot"))],
                    ["handout", name, "-o", "out.pdf"],
                    ["timetable", name],
                    ["timetable", name, "--format", draw.choice(("json", "csv", "ics", "svg"))],
                    ["timetable", name, "--hours", word, "--days", number],
                    ["timetable", name, "--start", draw.choice(MOMENTS), "--finish-by", word],
                    ["timetable", name, f"--done=1={draw.choice(MOMENTS)}", f"--line={weight}"],
                    ["timetable", name, f"--zone={word}", "--start", draw.choice(MOMENTS)],
                    ["timetable", name, f"--done={word}={draw.choice(MOMENTS)}"],
                    ["timetable", name, f"--pots={word}={number}", f"--participants={word},{word}"],
                ]
        return Trial(files, draw.choice(lines))
