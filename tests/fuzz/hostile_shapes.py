"""The shapes of hostile texts: procedures, records, recipes in prose and drafts, from one seed."""

from __future__ import annotations

import csv
import re
from pathlib import Path
from random import Random

from procedure.draft import NotProse, drafted
from procedure.vocabulary import vocabulary

EXAMPLES = Path(__file__).parents[2] / "examples"
TRIALS = Path(__file__).parents[1] / "trials"
PROSE = TRIALS / "prose"

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
PILED = 0.005  # of all texts: they take long
_NUMBER = re.compile(r"\d+(?:[.,/]\d+)?")
_NAME = re.compile(r"\b[a-z]+(?:-[a-z]+)+\b|\byarn\b|\bkettle\b|\btub\b")
_STRING = re.compile(r'"[^"\n]*"')


def _texts(ending: str, folder: Path = EXAMPLES) -> list[str]:
    """The texts of a folder; those that no eye has seen stay unseen, also where one fails."""
    every = sorted(folder.rglob(f"*{ending}"))
    return [path.read_text("utf-8") for path in every if "held_out" not in path.parts]


def _typed() -> list[str]:
    """Lines and phrases as people type them, of whatever part."""
    made = []
    for path in sorted(TRIALS.glob("*.csv")):
        with path.open(encoding="utf-8", newline="") as file:
            made += [row["text"] for row in csv.DictReader(file)]
    return [line for text in made for line in text.split("\n") if line.strip()]


class Shapes:
    """Draws trials from a seed; the same seed gives the same trials in the same order."""

    def __init__(self, seed: int) -> None:
        self.random = Random(seed)
        self.examples = _texts(".dye")
        self.records = _texts(".batch")
        self.workshops = _texts(".toml")
        self.recipes = _texts(".txt", PROSE)
        self.first_files = _texts(".dye", TRIALS)
        self.typed = _typed()
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
        head += [f"  {lot}: wool yarn, {self.amount()}" for lot in lots]
        head += ["", "equipment"]
        head += [f"  {pot}: stainless steel pot, {self.amount()}" for pot in pots]
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

    def amount(self) -> str:
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
            f"with {draw.choice(known)} {self.amount()}",
            f"with water {self.amount()}",
            f"at {self.amount()}",
            f"from {self.amount()} to {self.amount()}",
            f"over {self.amount()}",
            f"for {self.amount()}",
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

    def drafted(self) -> str:
        """A draft of changed prose, itself changed, as somebody goes on with it."""
        prose = self.prose()
        try:
            text = drafted(prose, place_unsure=self.random.random() < 0.5).text
        except NotProse:
            return prose
        except Exception:  # the command ``draft`` finds that, and tells of it
            return prose
        return text if self.random.random() < 0.3 else self.mutant([text])

    def by_hand(self) -> str:
        """An example, or a first file, with lines in it as people type them."""
        draw = self.random
        lines = self.mutant(draw.choice((self.examples, self.first_files))).split("\n")
        for _ in range(draw.randrange(1, 6)):
            at = draw.randrange(len(lines) + 1)
            typed = draw.choice(self.typed)
            if draw.random() < 0.4:
                typed = self._numbers(self._words(typed))
            if draw.random() < 0.2:
                one, other = typed.split(" "), draw.choice(self.typed).split(" ")
                typed = " ".join(
                    one[: draw.randrange(len(one))] + other[draw.randrange(len(other)) :]
                )
            lines.insert(at, "  " + typed)
        return "\n".join(lines)

    def record(self) -> str:
        """The record of a batch of ``main.dye``, changed."""
        return re.sub(r'^  of "[^"\n]*"', '  of "main.dye"', self.mutant(self.records), flags=re.M)

    def version(self, text: str) -> str:
        """A later version of a text: the same with a few changes."""
        return self.mutant([text])

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
        often = (self.program, self.mutant, self.by_hand)
        shapes = (*often, *often, self.soup, self.splice, self.drafted)
        text = draw.choice(shapes)()
        if draw.random() < 0.03:
            text = text.replace("\n", draw.choice(("\r\n", "\r", "\x85", "\u2028")))
        return text
