"""Faults of sharing: what a stranger must be told and is not. Notes serve here."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from sound import Sound


def _head_dropped(sound: Sound, word: str) -> Iterator[Fault]:
    line = sound.header(word)
    title = sound.model.title
    if line is not None and title is not None:
        yield fault(sound.without(line), [title.place.line, line], f"no “{word}” line")


@kind("the author left out", "sharing", finds="origin-unstated", least="note")
def author_dropped(sound: Sound) -> Iterator[Fault]:
    """No word on whose it is. Found at the title."""
    yield from _head_dropped(sound, "by")


@kind("the day of revision left out", "sharing", finds="origin-unstated", least="note")
def day_dropped(sound: Sound) -> Iterator[Fault]:
    """No word on how old it is. Found at the title."""
    yield from _head_dropped(sound, "revised")


@kind("the source left out", "sharing", finds="origin-unstated", least="note")
def source_dropped(sound: Sound) -> Iterator[Fault]:
    """No word on where the method comes from. Found at the title."""
    yield from _head_dropped(sound, "source")


@kind("fresh or dried left out", "sharing", finds="plant-state-unstated", least="note")
def state_dropped(sound: Sound) -> Iterator[Fault]:
    """A plant that is used fresh or dried, with a word on neither. Found at the declaration.

    An extract, a powder or a pigment is dry in any case and is left alone.
    """
    for made in sound.model.materials.values():
        entry = made.entry
        if entry is None or entry.table != "dyestuffs" or made.name.text in sound.model.brought:
            continue
        if not (entry.facts.get("fresh_low") and entry.facts.get("dried_low")):
            continue
        line = made.name.place.line
        row = re.sub(r", (fresh|dried)\b", "", sound.lines[line - 1], count=1)
        if row != sound.lines[line - 1] and "powder" not in row:
            yield fault(sound.with_line(line, row), [line], f"“{entry.name}”: fresh or dried?")


@kind(
    "scoured or not left out",
    "sharing",
    finds="clean-or-not-unstated scouring-unstated",
    follows="unscoured-fibre",
    least="note",
)
def scoured_dropped(sound: Sound) -> Iterator[Fault]:
    """No word on whether the fibre is scoured. Found at the declaration."""
    for lot in sound.model.lots.values():
        line = lot.name.place.line
        row = re.sub(r", scoured\b", "", sound.lines[line - 1], count=1)
        scours = any(
            s.effect in ("scour", "wash") and s.place.line < _first_bath(sound, lot.name.text)
            for s in sound.using(lot.name.text)
        )
        if row != sound.lines[line - 1] and not scours:
            yield fault(sound.with_line(line, row), [line], f"is “{lot.name.text}” scoured?")


def _first_bath(sound: Sound, lot: str) -> int:
    lines = [s.place.line for s in sound.using(lot) if s.effect in ("treat", "dip", "enter")]
    return min(lines, default=len(sound.lines))


@kind(
    "the fibre left out",
    "sharing",
    least="note",
    finds="part-unstated unknown-word weight-unstated clean-or-not-unstated",
    follows="scouring-unstated",
)
def fibre_dropped(sound: Sound) -> Iterator[Fault]:
    """It is not said what the yarn or cloth is of. Found at the declaration."""
    for lot in sound.model.lots.values():
        line = lot.name.place.line
        row = re.sub(
            r"(:\s+)(wool|silk|cotton|linen|merino|raw silk) ", r"\1", sound.lines[line - 1]
        )
        if row != sound.lines[line - 1]:
            yield fault(sound.with_line(line, row), [line], f"“{lot.name.text}” of what?")


@kind("the word on the water left out", "sharing", finds="water-kind-unstated", least="note")
def water_dropped(sound: Sound) -> Iterator[Fault]:
    """A dye that hangs on hard or soft water, and the note on it is left out.

    Found where the dye is put in. Only where nothing else tells (chalk, another note), and
    where the colour is one that hard or soft water changes: the blue and black of logwood, the
    reds of madder, the yellow of weld, the scarlet of cochineal.
    """
    said = re.compile(r"\b(hard|soft|tap|rain|well|spring)\b[^\"]*water", re.IGNORECASE)
    heads = [name.text for name in (sound.model.title, sound.model.makes) if name is not None]
    head = " ".join(heads).lower()
    wanted = {
        "madder": ("red", "rose", "pink", "coral"),
        "cochineal": ("scarlet",),
        "logwood": ("blue", "black"),
        "weld": ("yellow", "lemon"),
        "brazilwood": ("red",),
    }
    sensitive = {
        dye
        for dye, colours in wanted.items()
        if any(re.search(rf"\b{colour}", head) for colour in colours)
    }
    notes = [n for n, row in enumerate(sound.lines, 1) if said.search(row)]
    if len(notes) != 1 or not sound.lines[notes[0] - 1].strip().startswith("note"):
        return
    if any(m.called == "chalk" for m in sound.model.materials.values()):
        return
    uses = [
        step
        for step in sound.steps
        if step.effect in ("prepare", "add")
        and any(
            m.called in sensitive and "food for ferment" not in m.roles
            for _, m in sound.put_in(step)
        )
    ]
    if uses:
        yield fault(sound.without(notes[0]), sound.lines_of(uses), "hard water or soft?")


@kind("the day of gathering left out", "sharing", finds="gathered-without-a-day", least="note")
def gathering_day_dropped(sound: Sound) -> Iterator[Fault]:
    """“gathered 2026-06-12” becomes “gathered”. Found at the declaration."""
    for made in sound.model.materials.values():
        line = made.name.place.line
        row = re.sub(r"gathered \d{4}-\d\d-\d\d", "gathered", sound.lines[line - 1], count=1)
        if row != sound.lines[line - 1]:
            yield fault(sound.with_line(line, row), [line], f"“{made.called}”: gathered when?")
