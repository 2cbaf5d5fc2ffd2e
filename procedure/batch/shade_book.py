"""The shade book: every colour that was dyed, by hue, with its method, batch and fastness;
and the card to tie to a skein."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from procedure.batch.batch_reports import stood_words
from procedure.batch.folder import Batch, LotShade
from procedure.batch.methods import percent_of_fibre, verb_of
from procedure.batch.own_units import voice_of_records
from procedure.batch.types import Record
from procedure.colour import Colour, called, to_srgb
from procedure.model.quantity import Quantity
from procedure.paper.blocks import Block, Card, Cards, Listing, Paper, PaperSection, Para, Swatch
from procedure.paper.pieces import Phrase, Words
from procedure.quantity.number_words import plain
from procedure.vocabulary import Verb

APPROXIMATE = (
    "Every swatch is approximate: screens, printers and paper each show it otherwise. "
    "Compare the yarn itself, in daylight."
)
# Greys have no hue to be sorted by and are last.
GREY = 4.0
# The chapters of the book: up to this hue angle (common practice).
CHAPTERS = (
    (30.0, "Pinks and reds"),
    (65.0, "Oranges"),
    (80.0, "Golds"),
    (110.0, "Yellows"),
    (195.0, "Greens"),
    (290.0, "Blues"),
    (345.0, "Purples"),
)
# Behind the purples the hues come round to pink again, which is the first chapter.
_ROUND = CHAPTERS[-1][0]
GREYS = "Greys"


def paper(batches: Sequence[Batch], title: str = "Shade book") -> Paper:
    """The book as a paper: a chapter for each hue, a card for each lot that has a colour."""
    found = [
        (batch, shade, shade.colour)
        for batch in batches
        for shade in batch.shades
        if shade.colour is not None
    ]
    found.sort(key=lambda one: (*_order(one[2]), str(one[0].path)))
    sections = [
        PaperSection(
            f"chapter-{number}",
            (chapter,),
            (
                Cards(
                    tuple(_card(batch, shade, colour) for batch, shade, colour in some), 3, "book"
                ),
            ),
        )
        for number, (chapter, some) in enumerate(groupby(found, key=lambda one: _chapter(one[2])))
    ]
    count = f"{len(found)} colour{'s' if len(found) != 1 else ''}. "
    lead = count + APPROXIMATE if found else "No colour was written down yet."
    return Paper(
        title=(Words(title),),
        voice=voice_of_records(one.record for one in batches),
        look="book",
        head=(Para((lead,)),),
        sections=tuple(sections),
    )


def _chapter(colour: Colour) -> str:
    if colour.chroma < GREY:
        return GREYS
    if colour.hue >= _ROUND:
        return CHAPTERS[0][1]
    return next(name for most, name in CHAPTERS if colour.hue < most)


def _order(colour: Colour) -> tuple[bool, float, float]:
    grey = colour.chroma < GREY
    turn = colour.hue - 360 if colour.hue >= _ROUND else colour.hue
    return grey, 0.0 if grey else turn, -colour.lightness


def _swatch(colour: Colour, shade: LotShade) -> Swatch:
    """The colour, with the half that hung longest in the light beside it where it was measured."""
    shown = to_srgb(colour)
    outside = ", outside what a screen can show" if shown.outside else ""
    name = f"about {shown.hex}{outside}"
    tested = [one for one in shade.lights if one.after is not None]
    if not tested:
        return Swatch(shown.hex, (name,))
    longest = max(tested, key=lambda one: one.days or 0)
    assert longest.after is not None
    faded = to_srgb(longest.after).hex
    days = f"{longest.days} days" if longest.days else "a time"
    return Swatch(shown.hex, (f"{name}; right half after {days} in light: about {faded}",), faded)


def figures(colour: Colour) -> str:
    """A colour in figures with its light: ``L* 80.6, a* −4.8, b* 66.2 (D65/10°)``."""
    figures = ", ".join(
        f"{name} {value:.1f}".replace("-", "−")
        for name, value in zip(("L*", "a*", "b*"), colour[:3], strict=True)
    )
    return f"{figures} ({colour.light})"


def _about(batch: Batch) -> list[Block]:
    record = batch.record
    edition = f", edition {record.edition}" if record.edition else ""
    day = batch.day.isoformat() if batch.day else "no day said"
    who = f", by {' and '.join(record.by)}" if record.by else ""
    return [
        Para((Words(f"{batch.method}{edition}"),)),
        Para((Words(f"{day}{who}: {record.title or batch.path.name}"),)),
    ]


def _card(batch: Batch, shade: LotShade, colour: Colour) -> Card:
    stood = stood_words(shade) or ["not tested in light or wash"]
    return Card(
        (Words(shade.lot), f", {called(colour)}"),
        (
            _swatch(colour, shade),
            Para((figures(colour),), "quiet"),
            *_about(batch),
            *(Para((one,)) for one in stood),
        ),
        "shade",
    )


def skein_cards(batch: Batch) -> Paper:
    """A filled record as cards to tie to its skeins, with what was done."""
    cards = tuple(_skein(batch, shade) for shade in batch.shades)
    title = batch.record.title or batch.path.stem
    head = APPROXIMATE if cards else "The record has no results yet."
    return Paper(
        title=(Words(title),),
        voice=voice_of_records([batch.record]),
        look="book",
        head=(Para((head,)),),
        sections=(PaperSection("cards", (), (Cards(cards, 2, "skein"),)),) if cards else (),
    )


def _skein(batch: Batch, shade: LotShade) -> Card:
    record = batch.record
    blocks: list[Block] = []
    if shade.colour is not None:
        blocks += [_swatch(shade.colour, shade), Para((figures(shade.colour),), "quiet")]
    blocks += _about(batch)
    used = percent_of_fibre(record)
    if used:
        told = ", ".join(f"{name} {plain(share * 100)} %" for name, share in used.items())
        blocks.append(Para(("Used, of the fibre’s weight: ", Words(told), ".")))
    done = [Words(said) for said in worked(record)]
    if done:
        blocks.append(Para(("What was done:",)))
        blocks.append(Listing(tuple((said,) for said in done)))
    strayed = [one for one in batch.deviations if not one.small]
    if strayed:
        blocks.append(Para(("Done otherwise than planned:",)))
        blocks.append(
            Listing(tuple((Words(_otherwise(one.step, one.sentence)),) for one in strayed))
        )
    for word, text in (("Evenness", shade.result.evenness), ("Hand", shade.result.hand)):
        if text:
            blocks.append(Para((f"{word}: ", Words(text), ".")))
    blocks += [Para((one,)) for one in stood_words(shade)]
    blocks += [Para((Words(note),), "quiet") for note in shade.result.notes]
    head: Phrase = (Words(shade.lot),)
    if shade.colour is not None:
        head = (*head, f", {called(shade.colour)}")
    words = [one.text for one in shade.result.colours if one.form == "words"]
    if words:
        blocks.insert(0, Para(("In words: ", Words(", ".join(words)), ".")))
    return Card(head, tuple(blocks), "skein")


# The clauses that tell how fibre was worked, as a card says them.
_CLAUSES = ("times", "at", "from", "to", "over", "for")


def _works_fibre(verb: Verb) -> bool:
    return verb.does.main and verb.does.puts_fibre_in


def worked(record: Record) -> Iterator[str]:
    """The steps in which fibre was mordanted, dyed or dipped, with what was really done."""
    for step in record.steps:
        verb = verb_of(step.words)
        if step.skipped is not None or verb is None or not _works_fibre(verb):
            continue
        said = [
            f"{one.done.text} times" if one.word == "times" else f"{one.word} {one.done.text}"
            for word in _CLAUSES
            for one in step.answers
            if one.word == word and isinstance(one.done, Quantity) and one.done.kind != "unstated"
        ]
        if said:
            yield f"{step.words} {' '.join(said)}"


def _otherwise(step: str, sentence: str) -> str:
    return f"step {step}: {sentence}" if step else sentence
