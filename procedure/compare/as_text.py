"""A comparison as text, in whole sentences."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from textwrap import wrap

from procedure.compare.changes import Change, ChangedLine, Compared
from procedure.compare.verdict import sentences
from procedure.findings import NOTHING, Finding
from procedure.quantity.number_words import listed
from procedure.wording import Reader, deferral, for_reader, said

WIDTH = 88
SECTIONS = {
    "head": "At the head",
    "fibre": "Fibre",
    "equipment": "Equipment",
    "materials": "Materials",
    "steps": "What is done",
}
SAME = "Both mean the same."
MATTERS_NOT = "No difference of meaning"


def report(made: Compared, reader: Reader) -> str:
    """The whole comparison as text for a reader, each line no longer than 88 letters."""
    return "\n".join(_lines(made, reader)) + "\n"


def _lines(made: Compared, reader: Reader) -> Iterator[str]:
    yield from wrap(headline(made), WIDTH)
    yield from _changes(made, reader)
    for title, findings in (
        ("The checker now says besides", made.gained),
        ("The checker no longer says", made.lost),
    ):
        if findings:
            yield from ("", title)
            yield from _findings(findings, reader)
    todo = otherwise(made, reader)
    if todo:
        yield from ("", "What a person who knows the old version must do otherwise")
        for n, words in todo:
            yield from _item(f"{n}. ", words)
    if not made.same:
        yield ""
        for verdict in sentences(made):
            yield from wrap(verdict, WIDTH)
    last = deferral([*made.gained, *made.lost])
    if last:
        yield from ("", *wrap(last, WIDTH))


def _changes(made: Compared, reader: Reader) -> Iterator[str]:
    number = 0
    for section, title in SECTIONS.items():
        ours = [change for change in made.changes if change.section == section]
        if ours:
            yield from ("", title)
        for change in ours:
            number += 1
            yield from _item(f"{number}. ", f"{where(made, change)}{sentence(change, reader)}")
    if made.remarks:
        yield from ("", MATTERS_NOT)
        for change in made.remarks:
            yield from _item("- ", f"{where(made, change)}{sentence(change, reader)}")


def headline(made: Compared) -> str:
    """How many differences there are, in one sentence."""
    names = f"{made.new.file} held against {made.old.file}"
    count = len(made.changes)
    if made.same:
        return f"{names}. {SAME}"
    if not count:
        return f"{names}. They mean the same, but the checker finds otherwise."
    return f"{names}: {count} difference{'s' if count > 1 else ''} of meaning."


def sentence(change: Change, reader: Reader) -> str:
    """A change as a sentence."""
    words = said(change.says, reader)
    return words if words.endswith((".", "!", "?")) else f"{words}."


def where(made: Compared, change: Change) -> str:
    """The lines that a change is at: ``Line 31 (before: 30). ``"""
    if change.new is None:
        assert change.old is not None
        return f"{_spot(change.old, made.old.file)} of the old version. "
    moved = change.old is not None and change.old.line != change.new.line
    before = f" (before: {change.old.line})" if moved and change.old is not None else ""
    return f"{_spot(change.new, made.new.file)}{before}. "


def _spot(spot: ChangedLine, file: str) -> str:
    other = f" of {spot.file}" if spot.file != file else ""
    return f"Line {spot.line}{other}"


def otherwise(made: Compared, reader: Reader) -> list[tuple[str, str]]:
    """What a second person must do otherwise, each once, with the numbers of its changes."""
    todo: dict[str, list[int]] = {}
    for number, change in enumerate(made.changes, 1):
        if change.otherwise != NOTHING:
            todo.setdefault(said(change.otherwise, reader), []).append(number)
    return [(listed([str(one) for one in numbers]), words) for words, numbers in todo.items()]


def _findings(findings: Iterable[Finding], reader: Reader) -> Iterator[str]:
    for finding in findings:
        told = for_reader(finding, reader)
        text = f"{told.level.capitalize()}, line {told.line}. {told.sentence} ({told.rule})"
        yield from _item("- ", text)


def _item(lead: str, words: str) -> list[str]:
    return wrap(
        words,
        WIDTH,
        initial_indent=f"  {lead}",
        subsequent_indent=" " * (2 + len(lead)),
        break_long_words=False,
        break_on_hyphens=False,
    )
