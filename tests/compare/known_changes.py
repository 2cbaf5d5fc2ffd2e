"""Pairs of texts made by known changes: the faults of the bench, each with what it means.

What a comparison must name is said here of each kind of fault from what the kind does
(its docstring in the bench), never from what the program says.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from difflib import SequenceMatcher
from functools import cache
from pathlib import Path
from typing import NamedTuple

# The tests are no package; the bench's folder goes on the path, as pytest puts it there.
sys.path.insert(0, str(Path(__file__).parents[1] / "bench"))

import faults_in_care_and_colour
import faults_in_equipment
import faults_in_order
import faults_in_safety
import faults_in_sharing
import faults_in_soaking_and_rinsing
import faults_in_words
import faults_that_passed
from faults import KINDS, Fault, Kind
from sound import EXAMPLES, Sound

import procedure
from procedure.compare import Change, Compared, compare

__all__ = ["EXAMPLES", "KINDS", "Known", "Sound", "besides", "compared", "meant", "named", "pairs"]

# The files that hold the kinds; each enters its own as it is read.
KIND_FILES = (
    faults_in_words,
    faults_in_order,
    faults_in_soaking_and_rinsing,
    faults_in_equipment,
    faults_in_care_and_colour,
    faults_in_safety,
    faults_in_sharing,
    faults_that_passed,
)

# What each kind of fault changes, by the kind of change that names it.
MEANS = {
    "another": """
        cotton where wool was; silk where wool was; unscoured fibre; lye in the wool scour;
        tin at 8 % without oxalic acid; tin at 12 %; chrome at 8 %; a pot for cooking;
        a pot for dyeing and cooking;
        the use of a pot left out; a pot too small; the lid taken from a covered pot;
        a plastic tub on the heat; a rusty pot for a bright colour; alkali in an aluminium pot;
        a plant swapped for a toxic one; a mordant that is restricted;
        dithionite and acid in one vat; fresh or dried left out; scoured or not left out;
        the fibre left out; the day of gathering left out; litres become millilitres;
        a misspelt word in a declaration; a number without its unit;
        a lime vat for wool; a mild alkali in the vat; bleach for soap;
        alpaca put from hot to cool""",
    "heat": """
        silk at the boil; wool kept at the boil for hours; wool stirred at the boil;
        a vat too hot for wool; tannin above 60 °C on cotton; madder boiled an hour;
        °C becomes °F; °F becomes °C; a fermenting vat in the cold;
        two readings that disagree; a heat of both scales swapped;
        a heat left out; a number without its unit; a range backwards""",
    "time": """
        wool kept at the boil for hours; heated in five minutes; madder boiled an hour;
        aired for a minute; a heat held overnight; wetted out for two minutes;
        minutes become hours; hours become minutes; a time left out; a number without its unit;
        a range backwards;
        tannin for two minutes; a vat that ferments for an hour""",
    "amount": """
        alum at 40 % on wool; iron at 40 %; iron at 15 % for no dark colour;
        chrome at 8 %; tin at 12 %; tin at 8 % without oxalic acid;
        a split that does not add up; grams become kilograms; millilitres become litres;
        litres become millilitres; an amount times ten; an amount divided by ten;
        a percentage of nothing; an amount left out; a number without its unit;
        a range backwards;
        a vat's alkali times ten; a vat's alkali divided by ten; a vat's reducer times ten;
        a vat's reducer divided by ten; a share of three halves; a percent sign lost;
        a solid in millilitres""",
    "weight": "grams become kilograms; a number without its unit; a misspelt word in a declaration",
    "gone": """
        a hot bath, a cool rinse; wool into a bath at the simmer; the mordanting forgotten;
        no tannin before alum on cotton; the airing left out; a pot not cleaned between baths;
        the making of a bath left out; a bath left over; fibre left in a bath;
        a declaration left out; the wash after a toxic plant or metal left out;
        the wetting-out left out; no rinse between mordant and dye; no rinse after the dye;
        no rinse after the last wash; scoured and not rinsed; alkali left in wool or silk;
        dye carried into another dye; a misspelt verb; dithionite and acid in one vat;
        a vat dipped in at once; the plants left in with the fibre;
        alpaca put from hot to cool""",
    "new": """
        iron in the pot before a bright colour; bleach and acid together; dried before its bath;
        a vat open overnight; more drawn off than there is; kilograms made ready for grams;
        the alum after its dye on one way""",
    "moved": """
        a step before the bath is made; a pot cleaned before it is empty;
        a bath used after it was thrown away;
        the alum after its dye; the rinse after the drying;
        the alum after its dye on one way""",
    "taking part": """
        the mordant left out of its bath; the dyestuff left out of its bath;
        no reducer in the vat; no alkali in the vat; a lot used after it was split;
        a lot used twice in one step; a clause left out; one use of a name renamed;
        bleach and acid together""",
    "place": "one use of a name renamed; iron in the tub of another lot's rinse",
    "order": "steps in a circle",
    "worn": """
        gloves taken off; eye protection taken off; the mask taken off for grinding;
        a dusty powder weighed indoors without a mask""",
    "manner": """
        wool stirred at the boil; the lid off a toxic bath overnight;
        the label off a toxic bath; a bath on the heat with nobody by""",
    "head": """
        a bad steam or gas indoors; no place stated where air is wanted;
        children in the audience; the author left out; the day of revision left out;
        the source left out; a dusty powder weighed indoors without a mask""",
    "words": """
        no disposal stated; a mordant bath into the stream; the word on the water left out""",
}
# What means the same to whoever follows it, and is a slip of the pen, and what cannot be read
# any more: the checker names it.
SLIPS = frozenset(
    (
        "a range backwards",
        "a name declared twice",
        "a misspelt word in a declaration",
        "a misspelt verb",
        "a word written twice",
        "a letter in a number",
        "a comma in a number",
        "a gallon of no country",
        "a time by the clock",
        "a sign without its marks",
        "a number before a step",
        "a heading by another name",
        "a step that is optional",
        "a percentage of nothing",  # where there is one lot, it can be of that alone
    )
)


def meant(name: str) -> frozenset[str]:
    """The kinds of change that may name a kind of fault."""
    listed = {
        change: {" ".join(one.split()) for one in names.split(";")}
        for change, names in MEANS.items()
    }
    return frozenset(change for change, names in listed.items() if name in names)


class Known(NamedTuple):
    """A pair: the sound text, the changed one, and what was changed in words."""

    kind: str
    sound: Sound
    text: str
    said: str

    @property
    def lines(self) -> tuple[set[int], set[int]]:
        """The lines that differ in the old text and in the new one."""
        old, new = self.sound.lines, self.text.split("\n")
        differ: tuple[set[int], set[int]] = (set(), set())
        for word, i, j, m, n in SequenceMatcher(None, old, new, autojunk=False).get_opcodes():
            if word != "equal":
                differ[0].update(range(i + 1, j + 1))
                differ[1].update(range(m + 1, n + 1))
        return differ


@cache
def _sound(path: Path) -> Sound:
    return Sound(path, procedure.load(path))


@cache
def _examples() -> tuple[Path, ...]:
    return tuple(path for path in sorted(EXAMPLES.rglob("*.dye")) if "faulty" not in path.parts)


def pairs(every: int = 1) -> Iterator[Known]:
    """A pair of every kind of fault (of every N-th), each in another example where it fits."""
    for turn, kind in enumerate(KINDS):
        if turn % every == 0:
            known = _pair(kind, turn)
            if known is not None:
                yield known


def _pair(kind: Kind, turn: int) -> Known | None:
    paths = _examples()
    start = turn % len(paths)
    for path in (*paths[start:], *paths[:start]):
        sound = _sound(path)
        made = [one for one in kind.put(sound) if not _may_go_unsaid(kind, one)]
        if made:
            one = made[turn % len(made)]
            return Known(kind.name, sound, one.text, one.said)
    return None


def _may_go_unsaid(kind: Kind, one: Fault) -> bool:
    """True for “in alum-bath” left out: where one bath alone can be meant, nothing is changed."""
    return kind.name == "a clause left out" and one.said.startswith("“in ")


def compared(known: Known) -> Compared:
    """The comparison of a pair."""
    path = known.sound.path
    return compare(known.sound.plan, procedure.read(known.text, str(path), path))


def named(known: Known, made: Compared) -> bool:
    """Whether the change is named: at its place and for what it is."""
    kinds = meant(known.kind)
    told = (*made.changes, *made.remarks)
    if any(change.kind in kinds and _there(known, change) for change in told):
        return True
    return known.kind in SLIPS and bool(made.gained)


def besides(known: Known, made: Compared) -> list[Change]:
    """The changes that are named and are none of the change that was made."""
    return [change for change in made.changes if not _there(known, change)]


def _there(known: Known, change: Change) -> bool:
    """Whether a change is told at a line that differs.

    Of several lines that are alike and of which one is left, it does not matter which one
    is said to be left.
    """
    old, new = known.lines
    if change.kind == "moved":
        # Of two blocks that change places either may be said to have moved past the other.
        old = new = set(range(min(old | new), max(old | new) + 1))
    texts = known.sound.lines, known.text.split("\n")
    for lines, rows, spot in ((old, texts[0], change.old), (new, texts[1], change.new)):
        if spot is None:
            continue
        extent = set(known.sound.extent(spot.line)) if rows is texts[0] else {spot.line}
        row = rows[spot.line - 1].strip()
        alike = row and any(rows[n - 1].strip() == row for n in lines if n <= len(rows))
        if extent & lines or alike:
            return True
    return False
