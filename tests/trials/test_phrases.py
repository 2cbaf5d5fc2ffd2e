"""How many trials are met does not fall: phrases read as meant, beginners answered.

The numbers are floors: raise them when the program reads more. What is kept aside is
counted in ``python -m tests.trials.trial_measures`` and never looked at.
"""

import re
from pathlib import Path

import pytest
from trial_measures import HERE, in_frame, missed, phrases, unanswered

from procedure.language import read as read_text
from procedure.pipeline import read
from procedure.rules.example_kit import whole

FLOOR_OF_PHRASES = 119
FLOOR_OF_BEGINNERS = 31  # “then” in front of a verb is read by now


def test_open_phrases_are_read_as_meant() -> None:
    rows = list(phrases("phrases.csv"))
    met = [row["number"] for row in rows if not missed(row)]
    assert len(met) >= FLOOR_OF_PHRASES


@pytest.mark.parametrize("part", range(8))
def test_further_phrases_are_read_as_meant(part: int) -> None:
    """All of them; an eighth each, so that a failure names few."""
    rows = list(phrases("further_phrases.csv"))[part::8]
    assert not {row["number"]: why for row in rows if (why := missed(row))}


def test_open_mistakes_are_answered() -> None:
    paths = sorted((HERE / "beginners" / "open").glob("*.toml"))
    met = [path.stem for path in paths if not unanswered(path)]
    assert len(met) >= FLOOR_OF_BEGINNERS


def remedies() -> dict[str, str]:
    """Every piece of a remedy that stands in quotation marks, with the whole remedy."""
    found: dict[str, str] = {}
    texts = [path.read_text("utf-8") for path in sorted(Path("examples/faulty").glob("*.dye"))]
    texts += [
        path.read_text("utf-8") for path in sorted((HERE / "beginners" / "open").glob("*.dye"))
    ]
    judged = [read(text, "trial") for text in texts]
    judged += [in_frame(row).judged for row in phrases("phrases.csv")]
    for one in judged:
        for finding in one.findings:
            for quoted in re.findall(r"“([^“”]+)”", NOT_WRITTEN.sub("", finding.remedy)):
                found.setdefault(quoted, finding.remedy)
    return found


# What a reader puts in where a remedy leaves something open.
BLANKS = (
    ("in ...", "in tub"),
    ("through ...", "through net"),
    ("water ...", "water 5 L"),
    ("soap ...", "soap 5 g"),
    ('to "..."', 'to "foul drain"'),
    ("to ...", 'to "foul drain"'),
    ("as ...", "as kept-bath"),
)
# What is to be taken out is not to be written, and a command is no line of a procedure.
NOT_WRITTEN = re.compile(r"(?:Remove the|Leave out|Take) “[^”]*”|“vatwright [^”]*”")
NAMED = "enter {} in weld-bath"
# What a piece of a line may be put into, so that it can be read.
FRAMES = (
    "{}",
    "rinse yarn {}",
    "wet out yarn in tub with water 5 L at 30 °C for 1 h {}",
    "{} yarn in tub",
    "add {} to weld-bath",
    "add alum {} to weld-bath",
    "add alum 2 {} to weld-bath",
    "cool weld-bath {} 40 °C",
    "note {}",
    "heat weld-bath to {}",
    "rest yarn for {}",
    "rest yarn {} 1 h",
    NAMED,
    "{} yarn",
    "{}\n    dry yarn",
)


def readable(said: str) -> bool:
    """True where a piece of a remedy can be read: as a step, a part of one, or another line."""
    for left_open, filled in BLANKS:
        said = said.replace(left_open, filled)
    said = said.removesuffix(" ...")
    head = 'procedure "x"\n'
    steps = [f"{head}steps\n  {frame.format(said)}\n" for frame in FRAMES if " " not in said]
    steps += [f"{head}steps\n  {frame.format(said)}\n" for frame in FRAMES if frame != NAMED]
    if any(not read_text(text).faults for text in (*steps, f"{said}\n")):
        return True
    sections = ("fibre", "equipment", "materials")
    described = [f"{head}{section}\n  x: {said}\n" for section in sections]
    described += [f"{head}{section}\n  {said}\n" for section in sections]
    described += [f"{head}  {line}{said}\n" for line in ("", "place ", "wearing ")]
    wrong = {"cannot-read", "unknown-word"}
    return any(not wrong & {one.rule for one in read(text, "x").findings} for text in described)


def test_every_remedy_can_be_read_back() -> None:
    unread = {said: remedy for said, remedy in remedies().items() if not readable(said)}
    assert not unread


@pytest.mark.parametrize(
    ("line", "says"),
    [
        ("hold weld-bath at boyl for 1 h", "boil"),
        ("heat weld-bath from tepid to boill over 1 h", "boil"),
        ("hold weld-bath at hand-hott for 1 h", "hand-hot"),
        ('discard 3/2 of weld-bath to "foul drain"', "more than the whole"),
        ("add tartar 3 of yarn to weld-bath", "3 % of yarn"),
        ("hold weld-bath at 80 °C for 1 h 75 min", "counts more min"),
        ("stand weld-bath until pH 20", "pH goes from"),
        ("lift yarn from alum-baht", "alum-baht"),
        ("repeat 0 times\n  rinse yarn in tub with water 5 L", "once or more"),
    ],
)
def test_what_was_dropped_is_told(line: str, says: str) -> None:
    text = whole(f"weld-bath: prepare in kettle with water 4 L, weld 50 g at 40 °C\n{line}\n")
    found = read(text, "text").findings
    assert any(says in f"{one.sentence} {one.remedy}" for one in found), [
        one.sentence for one in found
    ]


@pytest.mark.parametrize("date", ["2026-13-45", "2026-02-30"])
def test_no_such_day(date: str) -> None:
    text = whole("rinse yarn in tub with water 5 L\n").replace("2026-06-14", date)
    assert "cannot-be" in {one.rule for one in read(text, "text").findings}


def test_ten_seconds_are_no_part_of_a_minute() -> None:
    from fractions import Fraction

    from procedure.findings import Span
    from procedure.wording import numbers
    from procedure.wording.reader import Reader

    assert numbers.measured(Span(Fraction(1, 6)), Reader()) == "10 s"
