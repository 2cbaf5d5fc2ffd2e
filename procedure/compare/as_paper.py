"""A comparison as a paper: what differs, what to do otherwise, and both versions side by side."""

from __future__ import annotations

from procedure.compare.as_text import (
    MATTERS_NOT,
    SECTIONS,
    headline,
    otherwise,
    sentence,
    where,
)
from procedure.compare.changes import Change, Compared, Pair
from procedure.compare.sides import ComparedPart, parts_of
from procedure.compare.verdict import sentences
from procedure.findings import Finding
from procedure.handout.contents import telling_of
from procedure.handout.numbered_steps import tell
from procedure.handout.prose import step_text
from procedure.model import Block
from procedure.paper.blocks import Block as PaperBlock
from procedure.paper.blocks import Heading, Listing, Paper, PaperSection, Para, table
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, phrase
from procedure.pipeline import Judged
from procedure.wording import Reader, deferral, for_reader

# How a row of both versions is marked, in words: colours alone would not do.
STATES = {"same": "same", "changed": "changed", "moved": "moved", "new": "new", "gone": "left out"}
# The style of a list whose numbers are written, since they go on from list to list.
COUNTED = "counted"
WIDTHS = (0.1, 0.45, 0.45)


def paper(made: Compared, voice: Voice, reader: Reader, columns: bool = True) -> Paper:
    """The comparison as a paper whose last table has the old steps beside the new ones.

    Where there is no room for ``columns``, only the steps that differ are told, one by one.
    """
    title = made.new.model.title
    head: list[PaperBlock] = [Para((Words(headline(made)),), "strong")]
    if not made.same:
        head += [Para((Words(verdict),)) for verdict in sentences(made)]
    sections = [_changes(made, reader), _findings(made, reader), _to_do(made, reader)]
    return Paper(
        title=phrase("Two versions of “", Words(title.text if title else made.new.file), "”"),
        voice=voice,
        look="handout",
        head=tuple(head),
        sections=(*(one for one in sections if one is not None), _both(made, voice, columns)),
    )


def _changes(made: Compared, reader: Reader) -> PaperSection | None:
    blocks: list[PaperBlock] = []
    number = 0
    for section, title in SECTIONS.items():
        ours = [change for change in made.changes if change.section == section]
        if not ours:
            continue
        items: list[Phrase] = []
        for change in ours:
            number += 1
            items.append(phrase(f"{number}. ", *_said(made, change, reader)))
        blocks += [Heading((title,)), Listing(tuple(items), role=COUNTED)]
    if made.remarks:
        remarks = tuple(_said(made, change, reader) for change in made.remarks)
        blocks += [Heading((MATTERS_NOT,)), Listing(remarks)]
    return PaperSection("changes", ("What differs",), tuple(blocks)) if blocks else None


def _said(made: Compared, change: Change, reader: Reader) -> Phrase:
    return (Words(f"{where(made, change)}{sentence(change, reader)}"),)


def _findings(made: Compared, reader: Reader) -> PaperSection | None:
    blocks: list[PaperBlock] = []
    for title, findings in (
        ("The checker now says besides", made.gained),
        ("The checker no longer says", made.lost),
    ):
        if findings:
            told = tuple(_finding(for_reader(one, reader)) for one in findings)
            blocks += [Heading((title,)), Listing(told)]
    last = deferral([*made.gained, *made.lost])
    if last:
        blocks.append(Para((last,), "quiet"))
    return PaperSection("findings", ("Findings",), tuple(blocks)) if blocks else None


def _finding(finding: Finding) -> Phrase:
    lead = f"{finding.level.capitalize()}, line {finding.line}. "
    return (Words(f"{lead}{finding.sentence} {finding.remedy}"),)


def _to_do(made: Compared, reader: Reader) -> PaperSection | None:
    todo = tuple((Words(f"{n}. {words}"),) for n, words in otherwise(made, reader))
    if not todo:
        return None
    return PaperSection("otherwise", ("What to do otherwise",), (Listing(todo, role=COUNTED),))


def _both(made: Compared, voice: Voice, side_by_side: bool) -> PaperSection:
    old, new = _told(made.old, voice), _told(made.new, voice)
    if not side_by_side:
        items = [
            phrase(
                f"{STATES[pair.state].capitalize()}. ",
                *([phrase("Before: ", old[pair.old], " ")] if pair.old is not None else ()),
                *([phrase("Now: ", new[pair.new])] if pair.new is not None else ()),
            )
            for pair in made.rows
            if pair.state != "same"
        ] or [("No step differs.",)]
        return PaperSection("both", ("The steps that differ",), (Listing(tuple(items)),))
    rows = [_row(pair, old, new) for pair in made.rows]
    columns: tuple[Phrase, ...] = (
        ("",),
        (Words(made.old.file),),
        (Words(made.new.file),),
    )
    shown = table(("The steps of both versions",), columns, rows, WIDTHS, "both")
    return PaperSection("both", ("Side by side",), (shown,))


def _row(pair: Pair, old: list[Phrase], new: list[Phrase]) -> tuple[Phrase, ...]:
    return (
        (STATES[pair.state],),
        old[pair.old] if pair.old is not None else (),
        new[pair.new] if pair.new is not None else (),
    )


def _told(plan: Judged, voice: Voice) -> list[Phrase]:
    """The sentences of every step of a plan, by its place, as the handout has them."""
    telling = telling_of(plan, voice)
    told = {step.node: step for one in tell(telling) for step in one.every()}

    def text(part: ComparedPart) -> Phrase:
        known = told.get(part.node.id)
        lead = phrase("Line ", str(part.line), ". ")
        if known is not None:
            notes = [phrase(" “", Words(note), "”") for note in known.notes]
            return phrase(lead, known.text, *notes)
        if isinstance(part.step, Block):
            return phrase(lead, part.node.kind)
        return phrase(lead, step_text(telling, part.node))

    return [text(part) for part in parts_of(plan)]
