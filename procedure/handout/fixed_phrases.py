"""What a handout says in the same words every time: its headings and fixed sentences."""

from __future__ import annotations

from typing import TYPE_CHECKING

from procedure.handout.cautions import Danger
from procedure.paper.pieces import AsWritten, Phrase, Words, joined, phrase, sentence

if TYPE_CHECKING:
    from procedure.handout.contents import Contents

DRAFT = "DRAFT"
CAUTIONS = "Cautions"
NEEDS = "What you need"
BEFORE = "Before you start"
STEPS = "The steps"
CHART = "The chart"
GATHERING = "How much for other weights"
WRONG = "What could go wrong"
SOURCES = "Sources and licence"
DAY_BEFORE = "The day before"
FIBRE = "Fibre"
EQUIPMENT = "Equipment"
MATERIALS = "Materials, all together"
FIBRE_COLUMNS = ("called", "what it is", "dry weight", "pieces")
EQUIPMENT_COLUMNS = ("called", "what it is", "size", "use")
MATERIAL_COLUMNS = ("called", "what it is", "how much", "how it is worked out")
DANGERS = "What is used, and what it does"
DANGER_COLUMNS = ("thing", "what it does")
MARK = (
    "Mark each pot, tub and tool with a word that does not wash off: for dyeing only, never for "
    "food again."
)
GATHERING_CAPTION = "Materials and water for other weights of fibre"
GATHERING_FIRST = "for fibre of"
BOX = "Work it out for another weight of fibre:"
GROWS = "Materials and water grow with the fibre; heats, times and pots stay as they are."
FIXED = "What is the same for every weight is for a bath that stays as large as it is."
ERRORS = (
    "This procedure cannot be followed as it is written. What is listed below must be put right "
    "first; until then this paper is a draft and no one should work from it."
)
NOTES = "Look at this before you begin"
NOT_FOR_FOOD = "Not for food"
ASK_FIRST = "Pour nothing away where the local rules do not allow it: ask first."


def errors_title(count: int) -> str:
    """The heading above the errors of a draft."""
    return (
        "One thing must be put right first"
        if count == 1
        else (f"{count} things must be put right first")
    )


def headlines(made: Contents) -> list[Phrase]:
    """Makers, date, what it makes, where and for whom."""
    lines: list[Phrase] = []
    if made.makes:
        lines.append(made_of(made))
        if made.worked_out and made.work.lots:
            lines.append(sentence("at this weight: ", made.work.lots))
    lines.append(makers(made))
    if made.audience:
        lines.append(sentence("for ", joined((Words(word),) for word in made.audience)))
    return lines


def makers(made: Contents, audience: Phrase = ()) -> Phrase:
    """Who made it and when; where nobody is named that is a half of the sentence by itself."""
    by = phrase("by ", Words(made.by)) if made.by else ()
    revised = phrase("revised ", Words(made.revised)) if made.revised else ()
    version = phrase("version ", Words(made.version)) if made.version else ()
    said: Phrase = ()
    for one in (by, revised, version, audience):
        said = phrase(said, ", " if said and one else "", one)
    nobody = () if made.by else ("its makers are not named",)
    return sentence(said, "; " if said and nobody else "", nobody)


def made_of(made: Contents) -> Phrase:
    """What it makes, in its writer's words, which are for the weight as written."""
    lead = "as written, it makes " if made.worked_out else "makes "
    return sentence(lead, AsWritten(made.makes, "makes"))


def plainly(danger: Danger) -> str:
    """What a thing does, in plain words: ``burns skin; harmful if swallowed.``"""
    said = "; ".join((*danger.plain, *danger.remarks))
    return f"{said[:1].upper()}{said[1:]}." if said else ""


def statements(danger: Danger) -> str:
    """The GHS statements of a thing, under its signal word."""
    lead = f"{danger.signal}: " if danger.signal else ""
    return f"{lead}{'; '.join(danger.statements)}."


def sheet(number: int, count: int) -> str:
    """The caption of a sheet of the chart."""
    return (
        "The work as a flowchart"
        if count == 1
        else (f"The work as a flowchart, sheet {number} of {count}")
    )


def sources(made: Contents) -> list[Phrase]:
    """Where the method and the facts come from, and on what terms."""
    lines: list[Phrase] = []
    if made.source:
        lines.append(phrase("Source of the method: ", Words(made.source), "."))
    else:
        lines.append(("The procedure does not say where the method comes from.",))
    if made.licence:
        lines.append(phrase("Licence: ", Words(made.licence), "."))
    else:
        lines.append(("No licence is stated: ask the makers before you copy it.",))
    return [*lines, *(sentence(Words(fact)) for fact in made.facts)]
