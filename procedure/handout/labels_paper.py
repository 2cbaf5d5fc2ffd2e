"""Labels on their sheets: each in its own place, of one size, whatever is on it."""

from __future__ import annotations

from dataclasses import replace

from procedure.handout import fixed_phrases as say
from procedure.handout.as_paper import signs
from procedure.handout.cautions import Danger
from procedure.handout.label import Label
from procedure.handout.labels import Labels
from procedure.paper.blocks import Block, Card, Cards, Listing, Paper, PaperSection, Para
from procedure.paper.pieces import Blank, Phrase, Words, phrase
from procedure.quantity.record import NamedTuple

DEFER = "Read the supplier's safety data sheet first. Keep from children and animals."
_FOR_PLANNING = ("a harmless plant of a like colour", "safer:")
IN_BRIEF = "Read the safety data sheet. Keep from children."


class Size(NamedTuple):
    """Labels on a sheet: how many across and down."""

    across: int
    down: int


# Sheets that stationers sell, by the number of labels on an A4 sheet (common practice). Only
# the largest is as large as Annex I, table 1.3, asks for packages up to 3 L (52 by 74 mm).
SIZES = {"8": Size(2, 4), "14": Size(2, 7), "21": Size(3, 7)}


def paper(made: Labels, size: str = "8") -> Paper:
    """The labels as a paper of cards to cut out. Raises ``KeyError`` for a size not in SIZES."""
    across = SIZES[size].across
    cards = tuple(_card(one, made.whose, size) for one in made.labels)
    return Paper(
        title=phrase("Labels: ", Words(made.title)),
        voice=made.voice,
        look="labels",
        head=tuple(Para((line,), "warning") for line in made.deadly),
        sections=(PaperSection("labels", (), (Cards(cards, across, "labels"),)),),
        stamp=say.DRAFT if made.draft else "",
        size=f"sheet-{size}",
    )


def _hazard_text(one: Danger, coded: bool) -> str:
    # On a label there is room for the statements, or for the plain words where there are none;
    # on a small one not for the statements' codes, which no law asks for.
    said = one.statements if coded else tuple(text.rpartition(" (")[0] for text in one.statements)
    if said:
        return "; ".join(said) + "."
    # What to take instead is for who plans, not for who opens the jar.
    remarks = tuple(text for text in one.remarks if not text.startswith(_FOR_PLANNING))
    return say.plainly(replace(one, remarks=remarks))


def _whose(label: Label, whose: str, size: str) -> Phrase:
    """Whose it is and where it is kept, and the poison centre's number where first aid calls it.

    On a label of three across there is room for the one or the other in type that can be read:
    the number comes first, for whoever holds the jar in a hurry.
    """
    owner = Words(whose) if whose else Blank("whose")
    kept = phrase("Of ", owner, ", kept\u00a0at\u00a0", Blank("place"))
    if not label.calls_the_poison_centre:
        return kept
    number = phrase("Poison\u00a0centre:\u00a0", Blank("number"))
    return phrase(kept, ". ", number) if SIZES[size].across == 2 else number


def _card(label: Label, whose: str, size: str) -> Card:
    coded = size == "8"
    blocks: list[Block] = []
    if label.own:
        blocks.append(Para(phrase("called “", label.own, "”"), "quiet"))
    blocks += [Para(line) for line in label.lines]
    if label.danger is not None:
        blocks += signs(label.danger.pictograms)
        if label.danger.signal:
            blocks.append(Para((label.danger.signal.upper(),), "strong"))
        blocks.append(Para((_hazard_text(label.danger, coded),), "warning"))
    lines: tuple[Phrase, ...] = tuple((line,) for line in label.aid)
    if lines:
        blocks.append(Listing(lines, role="aid"))
    foot = (
        Para((say.NOT_FOR_FOOD,), "strong"),
        Para(_whose(label, whose, size), "quiet"),
        Para((DEFER if coded else IN_BRIEF,), "quiet"),
    )
    return Card(label.title, tuple(blocks), "label", foot=foot)
