"""The page of the language, grammar/README.md: its examples work and its tables are whole."""

from __future__ import annotations

import csv
import re
from pathlib import Path

import pytest

import procedure
from procedure.findings import Finding
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.paper.measures import Voice
from procedure.paper.pieces import Blank, Figure, Phrase, Words
from procedure.rules.example_kit import whole
from procedure.vocabulary.library import DATA

ROOT = Path(__file__).parents[2]
PAGE = (ROOT / "grammar" / "README.md").read_text("utf-8")
_SNIPPETS = [
    (PAGE.count("\n", 0, found.start()) + 1, found.group(1))
    for found in re.finditer(r"^```dye\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
]
# A block of declarations alone shows no steps, and uses nothing that it declares.
_NO_STEPS = frozenset(("no-procedure", "never-used"))


def findings(snippet: str, folder: Path, ends: str = "\n") -> list[Finding]:
    for _, other in _SNIPPETS:
        saved = re.match(r"# saved as: (\S+)", other)
        if saved:
            (folder / saved.group(1)).write_text(other, encoding="utf-8")
    path = folder / "snippet.dye"
    path.write_bytes(whole(snippet).replace("\n", ends).encode("utf-8"))
    found = list(procedure.load(path).findings)
    if not re.search(r"^steps", whole(snippet), re.MULTILINE):
        found = [one for one in found if one.rule not in _NO_STEPS]
    return found


@pytest.mark.parametrize(("line", "snippet"), _SNIPPETS, ids=[f"line {n}" for n, _ in _SNIPPETS])
def test_an_example_of_the_language_can_be_followed(
    line: int, snippet: str, tmp_path: Path
) -> None:
    if "steps\n" not in snippet and re.match(r"(fibre|equipment|materials)\n", snippet):
        snippet = 'procedure "Declarations"\n\n' + snippet
    wrong = [
        f"{one.sentence} ({one.rule})"
        for one in findings(snippet, tmp_path)
        if one.level == "error" or one.rule in ("unknown-word", "part-unstated")
    ]
    assert wrong == [], f"the example at line {line} of grammar/README.md"


@pytest.mark.parametrize(("line", "snippet"), _SNIPPETS, ids=[f"line {n}" for n, _ in _SNIPPETS])
@pytest.mark.parametrize("ends", ["\r\n", "\r"], ids=["Windows", "old Macintosh"])
def test_line_ends_make_no_difference(line: int, snippet: str, ends: str, tmp_path: Path) -> None:
    assert findings(snippet, tmp_path, ends) == findings(snippet, tmp_path)


def test_the_page_has_an_example_of_every_verb_and_clause() -> None:
    shown = "\n".join(snippet for _, snippet in _SNIPPETS)
    verbs = [row["verb"] for row in _rows("verbs")]
    missing = [verb for verb in verbs if not re.search(rf"(^|: )\s*{verb} ", shown, re.MULTILINE)]
    assert missing == []
    clauses = "in into from with at to over for until after on through wearing as note allow"
    assert [word for word in clauses.split() if not re.search(rf" {word} ", shown)] == []


def _rows(table: str) -> list[dict[str, str]]:
    with Path(DATA, f"{table}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


def _cells(first: str) -> list[list[str]]:
    """The rows of the page's tables that have this in their first or second cell."""
    tables = [line for line in PAGE.split("\n") if line.startswith("|")]
    rows = [[cell.strip() for cell in line.strip("|").split("|")] for line in tables]
    return [row for row in rows if f"`{first}`" in row[:2]]


@pytest.mark.parametrize("row", _rows("verbs"), ids=lambda row: row["verb"])
def test_the_table_of_verbs_says_what_each_verb_takes(row: dict[str, str]) -> None:
    (cells,) = [cells for cells in _cells(row["verb"]) if len(cells) == 5]
    _, _, needs, may, means = cells
    needed = set(re.split(r"; |\|", row["needs"])) - {""}
    assert set(re.findall(r"`(\w+)`", needs)) == needed
    assert set(re.findall(r"`(\w+)`", may)) == set(row["may"].split()) - needed
    assert means == row["meaning"]


@pytest.mark.parametrize("row", _rows("units"), ids=lambda row: row["name"])
def test_the_table_of_units_has_every_spelling(row: dict[str, str]) -> None:
    written = {name for name in row["aliases"].split("; ") if name}
    found = [set(re.findall(r"`([^`]+)`", cells[-1])) for cells in _cells(row["name"])]
    assert written in found


@pytest.mark.parametrize(
    "row", [row for row in _rows("words") if row["kind"] == "heat"], ids=lambda row: row["name"]
)
def test_the_table_of_heats_says_how_hot(row: dict[str, str]) -> None:
    (cells,) = [cells for cells in _cells(row["name"]) if len(cells) == 3]
    assert cells[2].startswith(f"{row['low']} to {row['high']} °C")


def test_the_page_names_every_manner_word_and_header_line() -> None:
    manners = [row["name"] for row in _rows("words") if row["kind"] in ("manner", "wait")]
    headers = "by revised version source makes licence place altitude wearing audience note allow"
    assert [word for word in (*manners, *headers.split()) if f"`{word}`" not in PAGE] == []


def test_the_page_lists_every_everyday_word_with_its_plain_verb() -> None:
    missing = []
    for row in _rows("everyday"):
        lines = [line for line in PAGE.split("\n") if line.startswith(f"| `{row['verb']}` | `")]
        if not any(f"`{row['word']}`" in line for line in lines):
            missing.append((row["word"], row["verb"]))
    assert missing == []


# An example with the sentences that the handout prints of it, below it as a quotation.
_PRINTED = [
    (PAGE.count("\n", 0, found.start()) + 1, found.group(1), found.group(2))
    for found in re.finditer(
        r"^```dye\n((?:(?!```).)*?)^```\n\n((?:> [^\n]*\n)+)", PAGE, re.M | re.S
    )
]


@pytest.mark.parametrize(
    ("line", "snippet", "printed"), _PRINTED, ids=[f"{n}" for n, *_ in _PRINTED]
)
def test_the_handout_prints_what_the_page_says(line: int, snippet: str, printed: str) -> None:
    plan = procedure.read(whole(snippet), "snippet.dye")
    steps = tell(telling_of(plan, Voice("metric")))
    said = [_in_words(one.text) for step in steps for one in step.every()]
    assert said == [sentence.removeprefix("> ") for sentence in printed.splitlines()]


def _in_words(said: Phrase) -> str:
    voice, made = Voice("metric"), ""
    for piece in said:
        if isinstance(piece, Words):
            made += piece.text
        elif isinstance(piece, Figure):
            made += voice.amount(piece.kind, piece.low, piece.high, piece.about)
        elif isinstance(piece, Blank):
            made += f"____ {piece.unit}".rstrip()
        else:
            made += voice.spelt(piece)
    return made.replace("\u00a0", " ")


def test_the_ten_minutes_are_thirty_things() -> None:
    first = PAGE.split("## In ten minutes")[1].split("\n## ")[0]
    assert re.findall(r"^\*\*(\d+)\. ", first, re.M) == [str(n) for n in range(1, 31)]
    assert len(re.findall(r"^```dye\n", first, re.M)) == 30
