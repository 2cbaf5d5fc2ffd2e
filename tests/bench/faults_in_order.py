"""Faults of order: steps left out, swapped, or done to what is no longer there."""

from __future__ import annotations

from collections.abc import Iterator

from faults import Fault, fault, kind
from sound import GOES_IN, Sound

from procedure.model import Step

# A bath that is not there: what was to go into it goes nowhere, and is not treated.
NO_BATH = """
    never-used no-mordant no-tannin ends-unrinsed soaked-too-briefly entered-dry left-in-bath
    fibre-still-in-it cannot-read something-missing bath-left-over poison-not-washed-out
    alkali-left percentage-of-nothing share-of-no-fibre pot-not-free bath-without-fibre
    wrong-direction not-in-that-bath"""


def _label(step: Step) -> str:
    return step.label.text if step.label is not None else ""


@kind(
    "the making of a bath left out", "order", finds="not-declared used-before-made", follows=NO_BATH
)
def prepare_dropped(sound: Sound) -> Iterator[Fault]:
    """A bath is used that nobody prepares. Found where it is used."""
    for step, _ in sound.of("prepare"):
        name = _label(step)
        uses = [use for use in sound.using(name) if use is not step] if name else []
        if uses:
            text = sound.without(step.place.line)
            yield fault(text, sound.lines_of(uses), f"“{name}: prepare ...” left out")


@kind(
    "a bath left over",
    "order",
    finds="bath-left-over",
    # Whoever follows this finds nothing under the name by which it would have been kept.
    follows="pot-not-free left-in-bath not-declared never-used",
)
def discard_dropped(sound: Sound) -> Iterator[Fault]:
    """A bath is neither thrown away nor kept.

    Found where it was made, or where it was last used.
    """
    for step, moment in sound.of("discard", "keep"):
        name = step.objects[0].name if step.objects else None
        if name is None or step.objects[0].quantity is not None or "." in name.text:
            continue
        if moment.node.calls or (step.effect == "keep" and name.text in sound.model.materials):
            continue
        lines = sound.lines_of(sound.using(name.text))
        yield fault(sound.without(step.place.line), lines, f"“{name.text}” not thrown away")


@kind(
    "a step before the bath is made",
    "order",
    finds="used-before-made not-declared",
    # Plants that are warmed in a bath before it is made are strained from one that never was warm.
    follows=NO_BATH + " pot-not-cleaned declared-twice plants-taken-out-cold",
)
def used_before_made(sound: Sound) -> Iterator[Fault]:
    """The making of a bath is swapped with the step below it that uses the bath.

    Found where the bath is used or made.
    """
    for first, second in zip(sound.steps, sound.steps[1:], strict=False):
        if first.effect != "prepare" or _label(first) not in sound.names(second):
            continue
        if not _neighbours(sound, first, second):
            continue
        text, one, two = sound.swapped(first.place.line, second.place.line)
        yield fault(text, [one, two], f"“{_label(first)}” used before it is made")


def _neighbours(sound: Sound, first: Step, second: Step) -> bool:
    """True where two steps stand one below the other in one block, with nothing between."""
    one, two = first.place.line, second.place.line
    depths = [len(sound.lines[n - 1]) - len(sound.lines[n - 1].lstrip()) for n in (one, two)]
    between = sound.lines[sound.extent(one)[-1] : two - 1]
    return depths[0] == depths[1] and not any(line.strip() for line in between)


def _neighbours_in_depth(sound: Sound, first: Step, second: Step) -> bool:
    """True where two steps stand in blocks of one depth."""
    rows = [sound.lines[step.place.line - 1] for step in (first, second)]
    return len({len(row) - len(row.lstrip()) for row in rows}) == 1


@kind(
    "a pot cleaned before it is empty",
    "order",
    finds="pot-not-free",
    follows="pot-not-cleaned bath-left-over pot-attacked",
)
def cleaned_before_emptied(sound: Sound) -> Iterator[Fault]:
    """“discard” and “clean” of one pot are swapped. Found at the cleaning."""
    for first, second in zip(sound.steps, sound.steps[1:], strict=False):
        if first.effect != "discard" or second.effect != "clean":
            continue
        if first.objects and first.objects[0].quantity is not None:
            continue
        moment = sound.moments.get(first.place.line)
        bath = moment.bath_before if moment is not None else None
        if bath is None or not _neighbours(sound, first, second):
            continue
        if sound.plan.study.called(bath.pot) not in sound.names(second):
            continue
        text, one, two = sound.swapped(first.place.line, second.place.line)
        yield fault(text, [one, two], "cleaned before it is emptied")


@kind(
    "a bath used after it was thrown away",
    "order",
    finds="used-after-emptied fibre-still-in-it",
    follows=NO_BATH + " vat-not-aired mordant-not-rinsed heat-shock pot-not-cleaned",
)
def used_after_discard(sound: Sound) -> Iterator[Fault]:
    """The discarding of a bath goes up before the last step that uses the bath.

    Found where it is used or was thrown away.
    """
    for step, _ in sound.of("discard"):
        item = step.objects[0] if step.objects else None
        if item is None or item.name is None or item.quantity is not None:
            continue
        if step.place.line not in sound.moments or len(sound.extent(step.place.line)) > 1:
            continue
        uses = [u for u in sound.using(item.name.text) if u.place.line < step.place.line]
        uses = [u for u in uses if u.effect not in ("prepare", "discard")]
        if not uses:
            continue
        last = uses[-1]
        lines = list(sound.lines)
        row = lines.pop(step.place.line - 1)
        depth = len(lines[last.place.line - 1]) - len(lines[last.place.line - 1].lstrip())
        lines.insert(last.place.line - 1, " " * depth + row.strip())
        yield fault(
            "\n".join(lines),
            [last.place.line, *(n + 1 for n in sound.extent(last.place.line))],
            f"“{item.name.text}” thrown away before its last use",
        )


@kind(
    "fibre left in a bath",
    "order",
    finds="left-in-bath fibre-still-in-it",
    follows="ends-unrinsed poison-not-washed-out alkali-left never-used pot-not-free vat-not-aired",
)
def left_in_bath(sound: Sound) -> Iterator[Fault]:
    """Nothing is done to a lot after its last bath, and it lies there for good.

    Found where it went in or where the bath is thrown away.
    """
    for lot in sound.model.lots.values():
        name = lot.name.text
        uses = sound.using(name)
        entering = [
            step for step in uses if step.effect in ("treat", "enter") and step.verb is not None
        ]
        if not entering or any(step.effect in ("split", "join") for step in uses):
            continue
        last = entering[-1]
        gone = [step for step in uses if step.place.line > last.place.line]
        if (
            not gone
            or any(len(step.objects) != 1 for step in gone)
            or any(step.kind == "follow" for step in gone)
        ):
            continue
        lines = sound.lines_of([last])
        bath = last.within.name.text if last.within is not None and last.within.name else ""
        lines |= sound.lines_of(u for u in sound.after(last) if bath in sound.names(u))
        text = sound.without(*(step.place.line for step in gone))
        yield fault(text, lines, f"“{name}” is left in {bath}")


@kind(
    "a split that does not add up",
    "order",
    finds="split-does-not-add-up",
    follows="too-little-liquor too-much-mordant too-little-mordant too-little-dyestuff "
    "pot-too-full pot-too-small too-much-dyestuff bath-worn-out",
)
def split_wrong(sound: Sound) -> Iterator[Fault]:
    """One part of a split weighs twice as much. Found at the split."""
    for step, _ in sound.of("split"):
        for item in step.into:
            quantity = item.quantity
            if quantity is None or quantity.kind != "mass":
                continue
            number, _, unit = quantity.text.partition(" ")
            text = sound.put(quantity.place, f"{float(number) * 2:g} {unit}")
            yield fault(
                text,
                sound.extent(step.place.line),
                f"“{item.name.text}” doubled" if item.name else "doubled",
            )


@kind(
    "a lot used after it was split",
    "order",
    finds="lot-in-two-places used-after-emptied divided-again",
    follows="ends-unrinsed left-in-bath no-mordant rinsed-together alkali-left "
    "poison-not-washed-out vat-not-aired fibre-still-in-it used-before-made "
    "bath-without-fibre entered-dry",
)
def used_after_split(sound: Sound) -> Iterator[Fault]:
    """A step below a split names the whole lot instead of a part. Found there."""
    for step, _ in sound.of("split"):
        whole = step.objects[0].name if step.objects else None
        parts = {item.name.text for item in step.into if item.name is not None}
        if whole is None:
            continue
        for later in sound.after(step):
            first = next((o for o in later.objects if o.name and o.name.text in parts), None)
            if first is None or first.name is None or len(later.objects) != 1:
                continue
            text = sound.put(first.name.place, whole.text)
            yield fault(text, [later.place.line], f"“{first.name.text}” becomes “{whole.text}”")
            break


@kind("a lot used twice in one step", "order", finds="lot-in-two-places said-twice")
def lot_twice(sound: Sound) -> Iterator[Fault]:
    """A step names one lot two times. Found there."""
    for step, _ in sound.of("dye", "treat", "rinse"):
        item = step.objects[0] if step.objects else None
        if item is None or item.name is None:
            continue
        place = item.name.place
        text = sound.put(place, f"{item.name.text}, {item.name.text}")
        yield fault(text, [place.line], f"“{item.name.text}” twice")
        return


@kind(
    "a declaration left out",
    "order",
    finds="not-declared",
    follows=NO_BATH
    + """
    nothing-to-dye-with vat-without-alkali vat-without-reducer scoured-in-plain-water
    bath-without-fibre heat-shock covered-without-lid mordant-not-rinsed dye-carried-over
    vat-not-aired used-before-made soap-carried-over no-fresh-air cannot-be-heated
    too-much-mordant pot-too-full pot-too-small used-after-emptied danger-in-free-words""",
)
def declaration_dropped(sound: Sound) -> Iterator[Fault]:
    """A lot, a pot or a material is used and nowhere declared. Found at a use."""
    for table in (sound.model.lots, sound.model.equipment, sound.model.materials):
        for thing in table.values():
            name = thing.name.text
            uses = sound.using(name)
            if not uses or name in sound.model.brought:
                continue
            text = sound.without(thing.name.place.line)
            yield fault(text, sound.lines_of(uses), f"“{name}” not declared")


@kind(
    "a clause left out",
    "order",
    finds="something-missing heat-unstated water-unstated time-unstated cannot-read",
    follows=NO_BATH + " rinsed-together",
    least="note",
)
def clause_dropped(sound: Sound) -> Iterator[Fault]:
    """A step loses the place where it happens (“in kettle”). Found at the step.

    Verbs that can do without a place are left alone.
    """
    for step in sound.steps:
        if step.within is None or step.verb is None:
            continue
        if not any("in" in need.split("|") for need in step.verb.needs):
            continue
        line, column, to = step.within.place
        row = sound.lines[line - 1]
        start = row.rindex(" in ", 0, column)
        text = sound.with_line(line, row[:start] + row[to - 1 :])
        lines = sound.extent(step.place.line)
        yield fault(text, lines, f"“{row[start : to - 1].strip()}” left out")


@kind(
    "steps in a circle",
    "order",
    finds="in-a-circle cannot-read",
    follows=NO_BATH + " declared-twice",
)
def circle(sound: Sound) -> Iterator[Fault]:
    """A step is said to wait for a later one that needs it. Found at either."""
    for step, _ in sound.of("prepare"):
        later = next((s for s in sound.after(step) if _label(step) in sound.names(s)), None)
        if later is None or later.label is not None or later.kind == "follow":
            continue
        if later.effect not in GOES_IN or not _neighbours_in_depth(sound, step, later):
            continue
        rows = list(sound.lines)
        end = sound.extent(step.place.line)[-1]
        if 'note "' in rows[end - 1]:
            continue
        rows[end - 1] += " after the-later-step"
        at = later.place
        row = rows[at.line - 1]
        rows[at.line - 1] = row[: at.column - 1] + "the-later-step: " + row[at.column - 1 :]
        lines = sound.lines_of([step, later])
        yield fault("\n".join(rows), lines, f"“{_label(step)}” waits for its own use")
