"""Faults that hurt someone: what is not worn, who is near, what is left or poured away."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from sound import Sound, hazards_of, warns

from procedure.model import Material, Step
from procedure.vocabulary import vocabulary


def _weighed_out(sound: Sound) -> Iterator[tuple[Step, Material]]:
    """Every material at every step of this file that handles it as it is sold or gathered."""
    for step in sound.steps:
        if step.kind == "follow":
            continue
        for item, made in sound.put_in(step):
            if item.name is not None:
                yield step, made


def _taken_off(sound: Sound, word: str, column: str) -> Iterator[Fault]:
    """What is worn is taken off the head and the steps, where a material calls for it."""
    wanting = [step for step, made in _weighed_out(sound) if warns(made, column)]
    changes = sound.without_words(sound.model.wearing, word)
    for step in sound.steps:
        changes += sound.without_words(step.wearing, word)
    if not wanting or not changes:
        return
    text = sound.puts(changes)
    yield fault(text, sound.lines_of(wanting), f"no {word}")


@kind("gloves taken off", "safety", finds="no-gloves", follows="hot-alkali")
def gloves_off(sound: Sound) -> Iterator[Fault]:
    """No gloves, where what is weighed out harms skin or poisons. Found at a step with it."""
    yield from _taken_off(sound, "gloves", "gloves")


@kind("eye protection taken off", "safety", finds="no-eye-protection", follows="hot-alkali")
def goggles_off(sound: Sound) -> Iterator[Fault]:
    """No eye protection, where what is weighed out harms eyes. Found at a step with it."""
    yield from _taken_off(sound, "eye protection", "eyes")


@kind("the mask taken off for grinding", "safety", finds="dust-in-the-air")
def mask_off(sound: Sound) -> Iterator[Fault]:
    """No mask where something is ground whose dust is bad to breathe. Found at the grinding."""
    grinding = [s for s in sound.steps if s.verb is not None and s.verb.name == "grind"]
    changes = sound.without_words(sound.model.wearing, "mask")
    for step in sound.steps:
        changes += sound.without_words(step.wearing, "mask")
    if grinding and changes:
        yield fault(sound.puts(changes), sound.lines_of(grinding), "no mask")


@kind(
    "a dusty powder weighed indoors without a mask",
    "safety",
    finds="dust-in-the-air no-fresh-air",
    follows="left-uncovered",
)
def dust_indoors(sound: Sound) -> Iterator[Fault]:
    """The work moves indoors and the mask comes off, where a powder's dust is bad to breathe.

    Found where the powder is weighed out.
    """
    head = sound.header("place")
    dusty = [
        s for s, made in _weighed_out(sound) if any(h.name == "dust" for h in hazards_of(made))
    ]
    if head is None or not dusty or sound.model.setting is None:
        return
    changes = sound.without_words(sound.model.wearing, "mask")
    changes.append((sound.model.setting.place, "indoors"))
    yield fault(sound.puts(changes), sound.lines_of(dusty), "indoors, no mask")


@kind(
    "a bad steam or gas indoors",
    "safety",
    finds="no-fresh-air",
    follows="dust-in-the-air left-uncovered",
)
def indoors(sound: Sound) -> Iterator[Fault]:
    """The work moves indoors, where a material's own steam or gas is bad to breathe.

    Found where the material is handled or its bath steams.
    """
    if sound.model.setting is None:
        return
    lines: set[int] = set()
    for moment in sound.moments.values():
        for made in sound.contents(moment):
            for hazard in hazards_of(made):
                hot = moment.peak is not None and moment.peak[1] >= 60
                if hazard.name == "bad fumes" or (
                    hazard.name in ("bad fumes when hot", "toxic plant") and hot
                ):
                    lines |= set(sound.extent(moment.step.place.line))
    if lines:
        yield fault(sound.put(sound.model.setting.place, "indoors"), lines, "indoors")


@kind(
    "no place stated where air is wanted",
    "safety",
    finds="no-fresh-air",
    follows="dust-in-the-air left-uncovered",
)
def nowhere(sound: Sound) -> Iterator[Fault]:
    """The place is left out, where a material's steam or gas is bad to breathe.

    Found where the material is handled or its bath steams.
    """
    for one in indoors(sound):
        line = sound.header("place")
        if line is not None:
            yield one._replace(text=sound.with_line(line, ""), said="no place stated")


@kind(
    "children in the audience",
    "safety",
    finds="children-near-hazard",
    follows="children-near-heat",
)
def children(sound: Sound) -> Iterator[Fault]:
    """The work is for children, and a material in it hurts who eats, touches or breathes it.

    Found at the audience or where the material is first handled.
    """
    wanting = [
        step
        for step, made in _weighed_out(sound)
        if warns(made, "no_children") or warns(made, "children")
    ]
    line = sound.header("audience")
    if not wanting:
        return
    if line is not None:
        text = sound.with_line(line, "  audience children")
    else:
        line = sound.header("place") or 2
        text = sound.with_before(line, "audience children")
        wanting = []
    yield fault(text, {line} | sound.lines_of(wanting), "for children")


def _grave_in(sound: Sound, made: list[Material]) -> bool:
    """Whether a toxic plant or a metal that harms is among materials."""
    names = {hazard.name for one in made for hazard in hazards_of(one)}
    return bool(names & {"toxic plant", "harmful metal"})


def _left_alone(step: Step) -> bool:
    """Whether a step says that nobody is by for a night or longer."""
    if step.manner & {"overnight", "until-next-day", "unattended"}:
        return True
    return step.lasting is not None and step.lasting.low is not None and step.lasting.low >= 480


@kind("the lid off a toxic bath overnight", "safety", finds="left-uncovered")
def lid_off(sound: Sound) -> Iterator[Fault]:
    """“covered” is left out where a toxic plant or metal stands for a night.

    Found at the standing.
    """
    for moment in sound.moments.values():
        step = moment.step
        stands = "covered" in step.manner and _left_alone(step) and step.effect != "keep"
        if stands and _grave_in(sound, sound.contents(moment)):
            text = sound.without_manner(step, "covered")
            yield fault(text, sound.extent(step.place.line), "“covered” left out")


@kind("the label off a toxic bath", "safety", finds="left-unlabelled")
def label_off(sound: Sound) -> Iterator[Fault]:
    """“labelled” is left out where a toxic plant or metal stands for a night or is kept.

    Found at the standing or keeping.
    """
    for moment in sound.moments.values():
        step = moment.step
        kept = step.effect == "keep"
        if "labelled" not in step.manner or not (kept or _left_alone(step)):
            continue
        bath = moment.bath_before
        if bath is not None and bath.labelled:
            continue  # an earlier step has put the label on
        if _grave_in(sound, sound.contents(moment)):
            text = sound.without_manner(step, "labelled")
            lines = set(sound.extent(step.place.line))
            if moment.node.bath:
                name = sound.plan.study.called(moment.node.bath)
                lines |= sound.lines_of(s for s in sound.after(step) if name in sound.names(s))
            yield fault(text, lines, "“labelled” left out")


@kind(
    "a plant swapped for a toxic one",
    "safety",
    finds="left-uncovered left-unlabelled",
    # The plant's amount, state, mordant and gloves are then another's too; roots may stay in
    # with the fibre and their liquor may go where that of poisonous tops may not.
    follows="plant-left-in wrong-way-out too-much-dyestuff too-little-dyestuff no-mordant "
    "no-tannin no-gloves dyestuff-too-hot spent-plant-goes-nowhere",
)
def toxic_plant(sound: Sound) -> Iterator[Fault]:
    """Goldenrod tops become tansy tops, and its bath stands overnight as before.

    Only where that bath has no lid or no label then. Found at the standing.
    """
    for made in sound.model.materials.values():
        entry = made.entry
        if entry is None or entry.table != "dyestuffs" or _grave_in(sound, [made]):
            continue
        if entry.facts.get("dye_class") == "vat" or entry.name == "tansy":
            continue
        lines: set[int] = set()
        for moment in sound.moments.values():
            step, bath = moment.step, moment.bath_after
            if made not in sound.contents(moment) or not _left_alone(step):
                continue
            safe = "covered" in step.manner and "labelled" in step.manner
            if not safe and (bath is None or not bath.labelled):
                lines |= set(sound.extent(step.place.line))
        if not lines:
            continue
        row = made.name.place.line
        start = re.match(r"(\s*[\w-]+:\s+)([^,]+)", sound.lines[row - 1])
        if start is None:
            continue
        text = sound.with_line(
            row, start.group(1) + "tansy tops" + sound.lines[row - 1][start.end() :]
        )
        yield fault(text, lines, f"“{entry.name}” becomes tansy")


@kind(
    "a bath on the heat with nobody by",
    "safety",
    finds="heated-unattended",
    follows="left-uncovered left-unlabelled boiled-too-long",
)
def unattended(sound: Sound) -> Iterator[Fault]:
    """A bath simmers or boils “unattended”. Found there."""
    for step, _ in sound.of("simmer", "boil", "heat"):
        if "attended" in step.manner:
            continue
        end = step.place
        row = sound.lines[end.line - 1]
        if len(sound.extent(end.line)) > 1 or " note " in row:
            continue
        yield fault(sound.with_line(end.line, row + " unattended"), [end.line], "unattended")


@kind(
    "a heat held overnight",
    "safety",
    finds="heated-unattended",
    follows="left-uncovered left-unlabelled boiled-too-long stirred-hot dyestuff-too-hot "
    "soaked-too-briefly unlikely-time wrong-direction",
)
def overnight_heat(sound: Sound) -> Iterator[Fault]:
    """A bath that is simmered for an hour is simmered overnight. Found there."""
    for step, _ in sound.of("simmer", "boil"):
        if step.lasting is None or "attended" in step.manner:
            continue
        line, column, to = step.lasting.place
        row = sound.lines[line - 1]
        start = row.rindex(" for ", 0, column)
        text = sound.with_line(line, row[:start] + " overnight" + row[to - 1 :])
        yield fault(text, [line], "simmered overnight")


@kind("no disposal stated", "safety", finds="no-disposal")
def disposal_dropped(sound: Sound) -> Iterator[Fault]:
    """It is not said where a bath is thrown away. Found at the discarding."""
    for step, _ in sound.of("discard"):
        if step.to is None or step.to.words is None:
            continue
        line, column, to = step.to.place
        row = sound.lines[line - 1]
        start = row.rindex(" to ", 0, column)
        text = sound.with_line(line, row[:start] + row[to - 1 :])
        yield fault(text, [line], f"“to {step.to.words.text}” left out")


@kind("a mordant bath into the stream", "safety", finds="wrong-way-out")
def into_the_stream(sound: Sound) -> Iterator[Fault]:
    """A bath with a metal salt, a toxic plant or a strong alkali goes into open water.

    Found at the discarding.
    """
    for step, moment in sound.of("discard"):
        if step.to is None or step.to.words is None or moment.bath_before is None:
            continue
        made = sound.contents(moment)
        bad = _grave_in(sound, made) or any(
            one.entry is not None
            and (
                one.entry.facts.get("metal")
                or one.entry.facts.get("strength") in ("moderate", "strong")
            )
            for one in made
        )
        if bad:
            text = sound.put(step.to.place, '"the stream behind the house"')
            yield fault(text, [step.place.line], "into the stream")


@kind(
    "a mordant that is restricted",
    "safety",
    finds="restricted-salt",
    follows="""no-gloves no-eye-protection no-fresh-air left-uncovered left-unlabelled
      wrong-way-out poison-not-washed-out no-disposal too-much-mordant too-little-mordant
      children-near-hazard mordant-for-other-fibre must-not-meet dust-in-the-air
      no-tannin metal-in-the-waste pot-not-cleaned no-mordant mordant-not-rinsed
      ends-unrinsed bath-worn-out meet-in-the-waste""",
)
def restricted_mordant(sound: Sound) -> Iterator[Fault]:
    """Alum becomes dichromate, lead acetate or white arsenic. Found at the declaration.

    What such a salt wants besides (goggles, a lid, another way out) is then missing too.
    """
    for made in sound.model.materials.values():
        if made.entry is None or made.entry.facts.get("metal") != "aluminium":
            continue
        line = made.name.place.line
        start = re.match(r"(\s*[\w-]+:\s+)([^,]+)", sound.lines[line - 1])
        if start is None:
            continue
        for salt in ("potassium dichromate", "sodium dichromate", "lead acetate", "white arsenic"):
            text = sound.with_line(
                line, start.group(1) + salt + sound.lines[line - 1][start.end() :]
            )
            yield fault(text, [line], f"“{made.entry.name}” becomes {salt}")


@kind(
    "bleach and acid together",
    "safety",
    finds="must-not-meet",
    # What meets in the bath meets in the waste as well.
    follows="no-gloves no-eye-protection no-fresh-air wrong-way-out no-disposal "
    "left-uncovered left-unlabelled strong-alkali dust-in-the-air alkali-left meet-in-the-waste "
    "strength-unstated",
)
def bleach_and_acid(sound: Sound) -> Iterator[Fault]:
    """Household bleach goes into the water that has vinegar or acid in it. Found there."""
    for step, made in _weighed_out(sound):
        item = next((i for i in step.using if i.name and i.name.text == made.name.text), None)
        if item is None or "acid" not in made.roles or made.entry is None:
            continue
        if made.entry.facts.get("role") != "acid":
            continue
        line = item.place.line
        row = sound.lines[line - 1]
        lines = row[: item.place.to - 1] + ", white-bleach 50 mL" + row[item.place.to - 1 :]
        rows = sound.with_line(line, lines).split("\n")
        first = min(m.name.place.line for m in sound.model.materials.values())
        rows.insert(first - 1, "  white-bleach: bleach, 5 %")
        yield fault("\n".join(rows), [line + 1], "bleach beside acid")


@kind(
    "dithionite and acid in one vat",
    "safety",
    finds="must-not-meet",
    follows="""no-gloves no-eye-protection no-fresh-air wrong-way-out no-disposal
      left-uncovered left-unlabelled vat-without-alkali dust-in-the-air heated-unattended
      too-little-dyestuff meet-in-the-waste""",
)
def dithionite_and_acid(sound: Sound) -> Iterator[Fault]:
    """The vat's reducer becomes dithionite and its alkali vinegar. Found at the vat."""
    known = vocabulary()
    for step, moment in sound.of("prepare", "add"):
        made = sound.contents(moment)
        reducers = [
            m for m in made if m.entry is not None and m.entry.facts.get("role") == "reducer"
        ]
        alkalis = [m for m in made if m.entry is not None and m.entry.facts.get("role") == "alkali"]
        if not reducers or not alkalis or known.material("sodium dithionite") is None:
            continue
        rows = list(sound.lines)
        for one, other in ((reducers[0], "sodium dithionite"), (alkalis[0], "white vinegar")):
            if one.name.text not in sound.model.materials or one.name.text in sound.model.brought:
                break
            at = one.name.place.line - 1
            rows[at] = re.sub(r"(:\s+)[^,]+", rf"\g<1>{other}", rows[at], count=1)
        else:
            yield fault("\n".join(rows), sound.extent(step.place.line), "acid into dithionite")


@kind(
    "the wash after a toxic plant or metal left out",
    "safety",
    finds="poison-not-washed-out",
    follows="ends-unrinsed alkali-left left-in-bath rinsed-together never-used",
)
def toxic_wash_dropped(sound: Sound) -> Iterator[Fault]:
    """Fibre that met a toxic plant or a metal that harms is only rinsed.

    Found where the poison went in or at the last thing done to the fibre.
    """
    met: dict[str, Step] = {}
    for moment in sound.moments.values():
        if moment.entering and _grave_in(sound, sound.contents(moment)):
            met |= dict.fromkeys(moment.entering, moment.step)
    parts = sound.plan.flow.lots
    washes = [
        s for s, m in sound.of("wash") if any(_from(parts, lot) & met.keys() for lot in m.node.lots)
    ]
    if washes:
        lots = {n for s in washes for n in sound.names(s)} | {
            sound.plan.study.called(lot) for lot in met
        }
        lines = sound.lines_of(
            s for s in sound.steps if sound.names(s) & lots and s.effect != "wash"
        )
        text = sound.without(*(s.place.line for s in washes))
        yield fault(text, lines, "no wash after the poison")


def _from(lots: object, name: str) -> set[str]:
    """A lot and those that it was split from or joined of."""
    found, waiting = set(), [name]
    while waiting:
        one = waiting.pop()
        found.add(one)
        origin = lots.get(one)  # type: ignore[attr-defined]
        waiting += [part for part in (origin.parts if origin else ()) if part not in found]
    return found
