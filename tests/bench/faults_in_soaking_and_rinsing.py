"""Faults of soaking and rinsing: fibre that goes in dry, or comes out with what is loose."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from sound import GOES_IN, Sound

from procedure.model import Step
from procedure.trace import Moment

WATERS = ("rinse", "wash", "scour", "wet")


def _next_bath(sound: Sound, step: Step, lots: set[str]) -> tuple[Step, Moment] | None:
    """The next step below by which one of those lots goes into a bath."""
    for later, _ in sound.of(*GOES_IN):
        for moment in sound.rounds[later.place.line]:
            if later.place.line > step.place.line and _ours(sound, moment, lots):
                return later, moment
    return None


def _ours(sound: Sound, moment: Moment, lots: set[str]) -> bool:
    """Whether a step is done to one of the lots or to a part of one."""
    for lot in moment.entering or moment.node.lots:
        origin = sound.plan.flow.lots.get(lot)
        if lot in lots or (origin is not None and set(origin.parts) & lots):
            return True
    return False


def _waters(sound: Sound, first: Step, until: Step | None, lots: set[str]) -> list[Step]:
    """The soaks, rinses and washes of those lots between two steps."""
    last = until.place.line if until is not None else len(sound.lines) + 1
    return [
        step
        for step, moment in sound.of(*WATERS)
        if first.place.line < step.place.line < last and _ours(sound, moment, lots)
    ]


def _wet(sound: Sound, moment: Moment) -> bool:
    """Whether fibre comes wet to a step already."""
    return any(state.possibly("dry") is None for state in sound.fibres(moment))


@kind(
    "the wetting-out left out",
    "soak",
    finds="entered-dry dried-before-bath",
    # Dry fibre at the heat of the room that goes into a warm bath.
    follows="heat-shock unscoured-fibre soaked-too-briefly",
)
def wetting_dropped(sound: Sound) -> Iterator[Fault]:
    """Fibre is not wetted out before its bath. Found where it goes in."""
    for step, moment in sound.of("wet"):
        lots = set(moment.node.lots)
        entering = _next_bath(sound, step, lots)
        if entering is None or _waters(sound, step, entering[0], lots) or _wet(sound, moment):
            continue
        yield fault(
            sound.without(step.place.line), sound.extent(entering[0].place.line), "not wetted out"
        )


@kind("wetted out for two minutes", "soak", finds="soaked-too-briefly unlikely-time")
def wetting_short(sound: Sound) -> Iterator[Fault]:
    """Fibre is wetted out for two minutes. Found at the soak or where it goes in."""
    for step, moment in sound.of("wet"):
        lots = set(moment.node.lots)
        entering = _next_bath(sound, step, lots)
        if entering is None or step.lasting is None or _wet(sound, moment):
            continue
        if _waters(sound, step, entering[0], lots):
            continue
        lines = sound.lines_of([step, entering[0]])
        yield fault(sound.put(step.lasting.place, "2 min"), lines, "wetted for 2 min")


@kind(
    "dried before its bath",
    "soak",
    finds="dried-before-bath entered-dry",
    follows="heat-shock ends-unrinsed soaked-too-briefly",
)
def dried_before(sound: Sound) -> Iterator[Fault]:
    """Fibre is dried just before it goes into a bath. Found where it goes in, or at the drying.

    Not inside a repeat, and not where it lies in that bath already.
    """
    for step, moment in sound.of("treat", "dip"):
        if not moment.entering or not step.objects or sound.lines[step.place.line - 1][2] == " ":
            continue
        names = ", ".join(item.name.text for item in step.objects if item.name is not None)
        line = step.place.line
        text = sound.with_before(line, f"dry {names}")
        yield fault(text, {line} | {n + 1 for n in sound.extent(line)}, "dried before its bath")


@kind(
    "no rinse between mordant and dye",
    "rinse",
    finds="mordant-not-rinsed",
    follows="fibre-still-in-it heat-shock lot-in-two-places never-used dried-before-bath",
)
def mordant_unrinsed(sound: Sound) -> Iterator[Fault]:
    """Mordanted fibre goes unrinsed into another bath that dyes it. Found where it goes in.

    Tannin belongs in the next bath and is left alone.
    """
    for step, moment in sound.of("treat"):
        metal = [
            m
            for m in sound.contents(moment)
            if m.entry is not None and m.entry.facts.get("metal") and "mordant" in m.roles
        ]
        lots = set(moment.node.lots)
        entering = _next_bath(sound, step, lots)
        if not metal or entering is None or entering[1].node.bath == moment.node.bath:
            continue
        if not any("dyestuff" in m.roles for m in sound.contents(entering[1])):
            continue
        waters = _waters(sound, step, entering[0], lots)
        if any(sound.lines[w.place.line - 1].startswith("    ") for w in waters) or not waters:
            continue
        text = sound.without(*(w.place.line for w in waters))
        yield fault(text, sound.extent(entering[0].place.line), "mordant not rinsed off")


@kind(
    "no rinse after the dye",
    "rinse",
    finds="ends-unrinsed poison-not-washed-out left-in-bath",
    follows="alkali-left fibre-still-in-it heat-shock rinsed-together dye-carried-over "
    "vat-not-aired mordant-not-rinsed never-used",
)
def ends_unrinsed(sound: Sound) -> Iterator[Fault]:
    """All waters after the last bath of a lot are left out.

    Found at the bath, at the last step of the lot, or where the bath is thrown away.
    """
    for lot in sound.model.lots.values():
        name = lot.name.text
        uses = sound.using(name)
        if any(s.effect in ("split", "join") or s.kind == "follow" for s in uses):
            continue
        baths = [s for s in uses if s.effect in GOES_IN]
        if not baths:
            continue
        waters = [s for s in uses if s.effect in WATERS and s.place.line > baths[-1].place.line]
        if not waters or any(len(w.objects) > 1 for w in waters):
            continue
        lines = sound.lines_of(s for s in uses if s.place.line >= baths[-1].place.line)
        within = baths[-1].within
        if within is not None and within.name is not None:
            lines |= sound.lines_of(
                s for s in sound.after(baths[-1]) if within.name.text in sound.names(s)
            )
        text = sound.without(*(w.place.line for w in waters))
        yield fault(text, lines, f"“{name}” is not rinsed at the end")


@kind("no rinse after the last wash", "rinse", finds="ends-unrinsed", follows="alkali-left")
def soap_left(sound: Sound) -> Iterator[Fault]:
    """The last rinse, after a wash with soap, is left out. Found at the wash or after it."""
    for step, moment in sound.of("wash"):
        lots = set(moment.node.lots)
        if not any("detergent" in made.roles for _, made in sound.put_in(step)):
            continue
        if _next_bath(sound, step, lots) is not None:
            continue
        rinses = _waters(sound, step, None, lots)
        if not rinses or any(r.effect != "rinse" for r in rinses):
            continue
        names = sound.names(step)
        lines = sound.lines_of(s for s in (step, *sound.after(step)) if sound.names(s) & names)
        text = sound.without(*(r.place.line for r in rinses))
        yield fault(text, lines, "soap left in the fibre")


@kind(
    "scoured and not rinsed",
    "rinse",
    finds="soap-carried-over ends-unrinsed alkali-left",
    follows="heat-shock left-in-bath never-used",
)
def scour_unrinsed(sound: Sound) -> Iterator[Fault]:
    """Soap of the scouring is not rinsed out. Found at the next bath or the fibre's last step."""
    for step, moment in sound.of("scour"):
        lots = set(moment.node.lots)
        entering = _next_bath(sound, step, lots)
        rinses = _waters(sound, step, entering[0] if entering else None, lots)
        if not rinses or any(r.effect != "rinse" for r in rinses):
            continue
        names = {name for name in sound.names(step) if name in sound.model.lots}
        lines = sound.lines_of(s for s in (step, *sound.after(step)) if sound.names(s) & names)
        text = sound.without(*(r.place.line for r in rinses))
        yield fault(text, lines, "the scour is not rinsed out")


@kind(
    "alkali left in wool or silk",
    "rinse",
    finds="alkali-left",
    follows="ends-unrinsed rinsed-together dye-carried-over never-used",
)
def alkali_left(sound: Sound) -> Iterator[Fault]:
    """The waters after a vat are left out, but the first rinse.

    One rinse does not take the alkali out of wool or silk; Mairet (ch. V) gives a last bath
    with a little acid and two washings. Only where no other bath comes after. Found at the
    vat or at what is done to the lot after it.
    """
    for step, moment in sound.of("dip"):
        protein = any(
            f.facts.get("class") == "protein" for s in sound.fibres(moment) for f in s.fibres
        )
        lots = set(moment.node.lots)
        later = [
            s
            for s, m in sound.of("dip")
            if s.place.line > step.place.line and _ours(sound, m, lots)
        ]
        strong = any(
            m.entry is not None
            and m.entry.facts.get("strength") in ("moderate", "strong")
            and "alkali" in m.roles
            for m in sound.contents(moment)
        )
        if (
            sound.follows
            or not protein
            or later
            or not strong
            or _next_bath(sound, step, lots) is not None
        ):
            continue
        waters = _waters(sound, step, None, lots)
        if len(waters) < 2 or any(
            not _all_of(sound, sound.moments[w.place.line], lots) for w in waters
        ):
            continue
        lines = sound.lines_of(
            s
            for s in (step, *sound.after(step))
            if s.place.line in sound.moments and _ours(sound, sound.moments[s.place.line], lots)
        )
        text = sound.without(*(w.place.line for w in waters[1:]))
        yield fault(text, lines, "one rinse after the vat")


def _all_of(sound: Sound, moment: Moment, lots: set[str]) -> bool:
    """Whether every lot of a step came out of the vat."""
    for lot in moment.node.lots:
        origin = sound.plan.flow.lots.get(lot)
        if lot not in lots and not (origin is not None and set(origin.parts) & lots):
            return False
    return True


@kind(
    "dye carried into another dye",
    "rinse",
    finds="dye-carried-over mordant-not-rinsed",
    follows="heat-shock fibre-still-in-it lot-in-two-places rinsed-together",
)
def dye_carried(sound: Sound) -> Iterator[Fault]:
    """Dyed fibre goes unrinsed into another dye bath or a vat. Found where it goes in."""
    for step, moment in sound.of("treat", "dip"):
        colours = {m.name.text for m in sound.contents(moment) if "dyestuff" in m.roles}
        lots = set(moment.node.lots)
        entering = _next_bath(sound, step, lots)
        if not colours or entering is None or entering[1].node.bath == moment.node.bath:
            continue
        others = {m.name.text for m in sound.contents(entering[1]) if "dyestuff" in m.roles}
        waters = _waters(sound, step, entering[0], lots)
        if (
            not others - colours
            or not waters
            or any(len(sound.moments[w.place.line].node.lots) > 1 for w in waters)
        ):
            continue
        if any(re.match(r"    ", sound.lines[w.place.line - 1]) for w in waters):
            continue
        text = sound.without(*(w.place.line for w in waters))
        yield fault(text, sound.extent(entering[0].place.line), "dye not rinsed off")
