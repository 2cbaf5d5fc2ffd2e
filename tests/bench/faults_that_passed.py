"""Faults that once passed unseen: in the making of vats, in sums, in the order of whole blocks."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from faults_in_care_and_colour import (
    _entry,
    _is,
    _metals,
    _wants_mordant,
    cooling_dropped,
)
from sound import GOES_IN, Sound

from procedure.model import Item, Material, Step
from procedure.trace import Moment

# What another stuff in the place of one asks for besides.
OTHER_STUFF = (
    "no-gloves no-eye-protection no-fresh-air dust-in-the-air must-not-meet strong-alkali "
    "alkali-left wrong-way-out no-disposal left-unlabelled wrong-order-of-pouring never-used "
    "soap-carried-over ends-unrinsed scoured-in-plain-water meet-in-the-waste hot-alkali "
    "strength-unstated"
)


def _vat_stuff(sound: Sound, role: str) -> Iterator[tuple[Step, Item, Material]]:
    """What plays a part in a vat in which fibre is dipped, where nothing else plays it."""
    for step, moment in sound.of("prepare", "add"):
        dips = [s for s, m in sound.of("dip") if m.node.bath == moment.node.bath]
        if not dips:
            continue
        vat = sound.contents(sound.moments[dips[0].place.line])
        if not any(_entry(made, "dye_class") == "vat" for made in vat):
            continue
        playing = [made.name.text for made in vat if role in made.roles]
        for item, made in sound.put_in(step):
            if playing == [made.name.text] and made.name.text not in sound.model.brought:
                yield step, item, made


def _in_vat(sound: Sound, step: Step) -> set[int]:
    """The lines of a step and of all that is done in the vat that it makes or feeds."""
    moment = sound.moments[step.place.line]
    name = sound.plan.study.called(moment.node.bath)
    return sound.lines_of(sound.using(name)) | set(sound.extent(step.place.line))


def _becomes(sound: Sound, made: Material, other: str) -> str:
    line = made.name.place.line
    return sound.with_line(
        line, re.sub(r"(:\s+)[^,]+", rf"\g<1>{other}", sound.lines[line - 1], count=1)
    )


@kind(
    "a lime vat for wool",
    "colour",
    finds="lime-vat-for-wool",
    least="note",
    follows=OTHER_STUFF + " vat-too-hot vat-out-of-proportion",
)
def lime_for_wool(sound: Sound) -> Iterator[Fault]:
    """The soda of a vat for wool becomes slaked lime. A note, found at the vat or a dip."""
    for step, _, made in _vat_stuff(sound, "alkali"):
        fibres = [
            state
            for s, m in sound.of("dip")
            if m.node.bath == sound.moments[step.place.line].node.bath
            for state in sound.fibres(m)
        ]
        if made.called != "slaked lime" and _is(fibres, "class", "protein"):
            yield fault(_becomes(sound, made, "slaked lime"), _in_vat(sound, step), "lime for soda")


@kind(
    "a mild alkali in the vat",
    "colour",
    finds="vat-without-alkali",
    # So much chalk as there was lime is much, and a note still tells of the lime.
    follows=OTHER_STUFF + " too-much-assistant danger-in-free-words",
)
def mild_alkali(sound: Sound) -> Iterator[Fault]:
    """The vat's only alkali becomes bicarbonate or chalk. Found at the vat or a dip."""
    for step, _, made in _vat_stuff(sound, "alkali"):
        for other in ("bicarbonate of soda", "chalk"):
            yield fault(_becomes(sound, made, other), _in_vat(sound, step), f"{other} alone")


def _scaled(sound: Sound, role: str, factor: float) -> Iterator[Fault]:
    for step, item, made in _vat_stuff(sound, role):
        shown = re.match(r"(\d+(?:\.\d+)?)(?= )", item.quantity.text) if item.quantity else None
        if shown is None or item.quantity is None or {"vat"} & set(made.roles):
            continue
        start = item.quantity.place
        place = start._replace(to=start.column + shown.end())
        number = f"{float(shown.group()) * factor:g}"
        said = f"“{item.quantity.text}” times {factor:g}"
        yield fault(sound.put(place, number), _in_vat(sound, step), said)


PROPORTION = "vat-out-of-proportion too-much-of-it too-much-mordant too-little-mordant"


@kind("a vat's alkali times ten", "colour", finds=PROPORTION)
def alkali_up(sound: Sound) -> Iterator[Fault]:
    """The vat's alkali has a nought too many. Found at the vat."""
    yield from _scaled(sound, "alkali", 10)


@kind("a vat's alkali divided by ten", "colour", finds=PROPORTION)
def alkali_down(sound: Sound) -> Iterator[Fault]:
    """The point of the vat's alkali has slipped. Found at the vat."""
    yield from _scaled(sound, "alkali", 0.1)


@kind("a vat's reducer times ten", "colour", finds=PROPORTION)
def reducer_up(sound: Sound) -> Iterator[Fault]:
    """The vat's reducer has a nought too many. Found at the vat."""
    yield from _scaled(sound, "reducer", 10)


@kind("a vat's reducer divided by ten", "colour", finds=PROPORTION)
def reducer_down(sound: Sound) -> Iterator[Fault]:
    """The point of the vat's reducer has slipped. Found at the vat."""
    yield from _scaled(sound, "reducer", 0.1)


@kind(
    "a vat open overnight",
    "colour",
    finds="vat-left-open",
    follows="left-uncovered heated-unattended bath-still-hot heat-shock gone-cold",
)
def vat_open(sound: Sound) -> Iterator[Fault]:
    """A vat stands overnight without its lid before it is used. Found at the standing."""
    for step, _ in sound.of("dip"):
        line = step.place.line
        name = step.within.name.text if step.within is not None and step.within.name else ""
        depth = sound.lines[line - 1]
        if name and not depth.startswith("    "):
            text = sound.with_before(line, f"stand {name} overnight labelled")
            yield fault(text, [line], "open overnight")


@kind(
    "a vat dipped in at once",
    "colour",
    finds="vat-time-unstated",
    least="note",
    follows="heat-shock bath-still-hot left-uncovered",
)
def no_time(sound: Sound) -> Iterator[Fault]:
    """A new vat is not left to stand. A note, found at the first dip.

    Only where nothing else that takes its time is done between.
    """
    for step, _, _ in (*_vat_stuff(sound, "reducer"), *_vat_stuff(sound, "food for ferment")):
        bath = sound.moments[step.place.line].node.bath
        dip = next((s for s, m in sound.of("dip") if m.node.bath == bath), None)
        between = [
            s
            for s in sound.steps
            if dip is not None and step.place.line < s.place.line < dip.place.line
        ]
        waits = [s for s in between if s.effect in ("stand", "hold", "cool")]
        rest = [s for s in between if s not in waits and (s.lasting or s.over or s.note)]
        if dip is not None and waits and not rest and not step.note:
            text = sound.without(*(s.place.line for s in waits))
            yield fault(text, sound.extent(dip.place.line), "not left to stand")


def _fermenting(sound: Sound) -> Iterator[tuple[list[Step], Step]]:
    """How a vat that only plants or bran reduce stands before its first dip, and that dip."""
    told: set[str] = set()
    for dip, moment in sound.of("dip"):
        bath = moment.node.bath
        roles = [set(made.roles) for made in sound.contents(moment)]
        feeds = any("food for ferment" in mine for mine in roles)
        if bath in told or not feeds or any("reducer" in mine for mine in roles):
            continue
        told.add(bath)
        stands = [
            step
            for step, at in sound.of("stand")
            if at.node.bath == bath and step.place.line < dip.place.line
        ]
        if stands:
            yield stands, dip


@kind(
    "a fermenting vat in the cold",
    "colour",
    finds="vat-ferments-cold",
    least="note",
    follows="gone-cold",
)
def ferments_cold(sound: Sound) -> Iterator[Fault]:
    """A vat that is to ferment stands at 12 °C. A note, found at the standing."""
    for stands, _ in _fermenting(sound):
        for step in stands:
            heat = step.at.quantity if step.at is not None else None
            if heat is not None:
                text = sound.put(sound.whole(heat), "12 °C")
                yield fault(text, sound.extent(step.place.line), "left at 12 °C")


@kind("a vat that ferments for an hour", "colour", finds="vat-time-unstated", least="note")
def ferments_an_hour(sound: Sound) -> Iterator[Fault]:
    """A vat that is to ferment stands for an hour in all. A note, found at the first dip."""
    for (first, *others), dip in _fermenting(sound):
        if first.lasting is None:
            continue
        place = sound.whole(first.lasting)
        text = sound.put(place, "1 h").split("\n")
        for step in others:
            text[step.place.line - 1] = ""
        yield fault("\n".join(text), sound.extent(dip.place.line), "fermented for an hour")


# What the other order of two whole blocks brings besides.
OTHER_ORDER = (
    "pot-not-free heat-shock entered-dry soaked-too-briefly dye-carried-over "
    "pot-not-cleaned dried-before-bath ends-unrinsed mordant-not-rinsed bath-still-hot "
    "no-mordant plants-left-loose rinsed-together left-in-bath fibre-still-in-it "
    "wet-again-at-the-end stirred-hot poison-not-washed-out"
)


@kind("the alum after its dye", "colour", finds="mordanted-after", follows=OTHER_ORDER)
def alum_after(sound: Sound) -> Iterator[Fault]:
    """The whole block of the mordant comes after that of the dye. Found at the dye.

    Only where each is a run of lines from the making of its bath to the rinse.
    """
    rows = sound.lines
    for first, start, end in _alum_and_dye(sound):
        dye, alum = rows[start - 1 : end], rows[first - 1 : start - 1]
        text = [*rows[: first - 1], *dye, *alum, *rows[end:]]
        lines = {line - (start - first) for line in range(start, end + 1)}
        yield fault("\n".join(text), lines, "alum after the dye")


@kind("the alum after its dye on one way", "colour", finds="mordanted-after", follows=OTHER_ORDER)
def alum_after_on_one_way(sound: Sound) -> Iterator[Fault]:
    """The two blocks become a choice: as they are, or the other way round. Found at that dye."""
    rows = sound.lines
    for first, start, end in _alum_and_dye(sound):
        dye, alum = rows[start - 1 : end], rows[first - 1 : start - 1]
        margin = re.match(r"\s*", alum[0]).group()  # type: ignore[union-attr]
        text = [
            *rows[: first - 1],
            f'{margin}either "the alum first"',
            *(f"  {row}" for row in (*alum, *dye)),
            f'{margin}or "the alum last"',
            *(f"  {row}" for row in (*dye, *alum)),
            *rows[end:],
        ]
        lines = set(range(end + 3, end + 3 + len(dye)))
        yield fault("\n".join(text), lines, "alum after the dye on one way")


def _alum_and_dye(sound: Sound) -> Iterator[tuple[int, int, int]]:
    """Where the alum's block begins, where the dye's begins and ends; nothing where they mix."""
    dyes = _wants_mordant(sound)
    alums = [
        s
        for s, m in sound.of("treat")
        if any(_entry(made, "metal") == "aluminium" for made in _metals(sound, m))
        and not any("dyestuff" in made.roles for made in sound.contents(m))
        and not any("acetate" in made.called for made in _metals(sound, m))
    ]
    others = {_entry(made, "metal") for _, m in sound.of("treat") for made in _metals(sound, m)}
    if others != {"aluminium"}:  # iron and the like are used after the dye by rights
        return
    if sound.follows or len(alums) != 1 or len(dyes) != 1 or _metals(sound, dyes[0][1]):
        return
    blocks = [_block(sound, alums[0]), _block(sound, dyes[0][0])]
    if blocks[0] is None or blocks[1] is None or blocks[0][1] >= blocks[1][0]:
        return
    first, (start, end) = blocks[0][0], blocks[1]
    rows = sound.lines
    if any(re.match(r"\s*(?:split|join)\b", row) for row in rows[first - 1 : end]):
        return
    yield first, start, end


def _block(sound: Sound, treat: Step) -> tuple[int, int] | None:
    """The first and the last line from the making of a step's bath to the rinse after it."""
    moment = sound.moments[treat.place.line]
    made = next(
        (s for s, m in sound.of("prepare") if m.bath_after and m.node.bath == moment.node.bath),
        None,
    )
    rinse = next(
        (
            s
            for s, m in sound.of("rinse", "wash")
            if s.place.line > treat.place.line and set(m.node.lots) & set(moment.node.lots)
        ),
        None,
    )
    if made is None or rinse is None:
        return None
    first, last = made.place.line, sound.extent(rinse.place.line)[-1]
    block = [row for row in sound.lines[first - 1 : last] if row.strip()]
    deeper = any(re.match(r"\s*(?:repeat|if|either|for each)\b", row) for row in block)
    return None if deeper else (first, last)


@kind("tannin for two minutes", "colour", finds="unlikely-time")
def tannin_short(sound: Sound) -> Iterator[Fault]:
    """Fibre lies two minutes in tannin (Mairet, ch. X: 3 to 12 h). Found there."""
    for step, moment in sound.of("treat"):
        tannin = any("tannin" in made.roles for made in sound.contents(moment))
        colour = any("dyestuff" in made.roles for made in sound.contents(moment))
        if tannin and not colour and step.lasting is not None and step.over is None:
            text = sound.put(step.lasting.place, "2 min")
            yield fault(text, sound.extent(step.place.line), "two minutes of tannin")


@kind(
    "bleach for soap",
    "fibre care",
    finds="must-not-meet",
    follows=OTHER_STUFF + " too-hot-for-fibre",
)
def bleach_for_soap(sound: Sound) -> Iterator[Fault]:
    """The soap of a wool wash becomes bleach, which dissolves it. Found there."""
    for made in sound.model.materials.values():
        baths = [
            m
            for _, m in sound.of("scour", "wash")
            if _is(sound.fibres(m), "class", "protein")
            and any(one.name.text == made.name.text for _, one in sound.put_in(m.step))
        ]
        if "detergent" in made.roles and made.name.text not in sound.model.brought and baths:
            text = _becomes(sound, made, "bleach, 5 %")
            lines = sound.lines_of(m.step for m in baths) | {made.name.place.line}
            yield fault(text, lines, "bleach for soap")


@kind(
    "the plants left in with the fibre",
    "equipment",
    finds="plants-left-loose plant-left-in",
    follows="bag-in-no-bath never-used",
)
def plants_left(sound: Sound) -> Iterator[Fault]:
    """A bath of tops, skins or bark is not strained before the fibre goes in.

    Roots and chips may stay in. Found where the fibre goes in.
    """
    for step, moment in sound.of("strain"):
        bath = moment.bath_before
        solid = (
            {
                made.called
                for made in sound.contents(moment)
                if bath is not None and bath.contents[made.name.text].solid
            }
            if bath is not None and len(bath.contents) == len(sound.contents(moment))
            else set()
        )
        entering = next(
            (
                s
                for s, m in sound.of(*GOES_IN)
                if s.place.line > step.place.line and m.node.bath == moment.node.bath
            ),
            None,
        )
        later = [
            s for s, m in sound.of("strain") if s is not step and m.node.bath == moment.node.bath
        ]
        if entering is None or later or not solid or moment.node.present:
            continue
        if solid <= {"madder", "cochineal", "logwood", "brazilwood", "sandalwood"}:
            continue
        text = sound.without(step.place.line)
        yield fault(text, _in_vat(sound, step), "not strained")


@kind(
    "the rinse after the drying",
    "rinse",
    finds="wet-again-at-the-end ends-unrinsed",
    follows="rinsed-together dye-carried-over alkali-left poison-not-washed-out left-in-bath",
)
def rinse_last(sound: Sound) -> Iterator[Fault]:
    """The last rinse of a dyed lot stands below its drying. Found there or at the drying."""
    for step, moment in sound.of("rinse"):
        nxt = next((s for s in sound.after(step)), None)
        if nxt is None or nxt.effect != "dry" or sound.lines[step.place.line - 1][2] == " ":
            continue
        dyed = any(sound.plan.trace.final.lots[lot].dyes for lot in moment.node.lots)
        waits = [s for s in sound.after(nxt) if sound.names(s) & sound.names(step)]
        if not dyed or any(s.effect not in ("discard", "clean", "keep") for s in waits):
            continue
        text, one, two = sound.swapped(step.place.line, nxt.place.line)
        yield fault(text, [one, two], "rinsed after it is dried")


# ------------------------------------------------------------------ sums


@kind(
    "more drawn off than there is",
    "units",
    finds="more-than-there-is",
    follows="too-little-liquor used-after-emptied bath-worn-out",
)
def drawn_off(sound: Sound) -> Iterator[Fault]:
    """Before a bath is thrown away, five times as much of it is. Found there."""
    for step, moment in sound.of("discard"):
        bath, item = moment.bath_before, step.objects[0] if step.objects else None
        if bath is None or bath.volume is None or bath.volume.low <= 0:
            continue
        if item is None or item.name is None or item.quantity is not None:
            continue
        line = step.place.line
        litres = f"{float(bath.volume.high) * 5:.0f}"
        to = step.to.words.text if step.to is not None and step.to.words is not None else "drain"
        text = sound.with_before(line, f'discard {litres} L of {item.name.text} to "{to}"')
        yield fault(text, [line], f"{litres} L of {item.name.text}")


@kind(
    "a share of three halves",
    "units",
    finds="cannot-be",
    follows="pot-too-full pot-too-small too-much-mordant too-much-dyestuff too-little-liquor "
    "too-little-mordant too-little-dyestuff",
)
def three_halves(sound: Sound) -> Iterator[Fault]:
    """“2/3 of pot” becomes “3/2 of pot”. Found where it stands."""
    for written in sound.model.written:
        quantity = written.quantity
        found = re.match(r"\d/\d(?= of )", quantity.text)
        lots = sound.model.lots
        if found is None or quantity.kind != "share" or quantity.base in lots:
            continue
        place = quantity.place._replace(to=quantity.place.column + found.end())
        yield fault(sound.put(place, "3/2"), [place.line], f"“{quantity.text}” is 3/2")


@kind("a percent sign lost", "units", finds="cannot-be number-without-unit cannot-read")
def sign_lost(sound: Sound) -> Iterator[Fault]:
    """“12 % of yarn” becomes “12 of yarn”. Found where it stands."""
    for written in sound.model.written:
        quantity = written.quantity
        if quantity.kind == "percent" and " % of " in quantity.text and written.step is not None:
            text = sound.put(quantity.place, quantity.text.replace(" % of ", " of ", 1))
            yield fault(text, [quantity.place.line], f"“{quantity.text}” without its sign")


@kind(
    "a solid in millilitres",
    "units",
    finds="solid-by-volume",
    follows="too-little-mordant too-much-mordant vat-out-of-proportion",
)
def solid_in_ml(sound: Sound) -> Iterator[Fault]:
    """“12 g” of a metal salt or of soda becomes “12 mL”. Found where it stands."""
    for written in sound.model.written:
        quantity, name = written.quantity, written.item
        made = sound.material(name.text) if name is not None else None
        salt = made is not None and (_entry(made, "metal") or made.called == "soda ash")
        if made is None or not salt or not _entry(made, "formula") or made.strength is not None:
            continue
        if written.step is None or not re.fullmatch(r"[\d.]+ g", quantity.text):
            continue
        text = sound.put(quantity.place, quantity.text.replace(" g", " mL"))
        yield fault(text, [quantity.place.line], f"“{quantity.text}” becomes mL")


@kind(
    "kilograms made ready for grams",
    "units",
    finds="more-ready-than-used too-much-of-it",
    follows="too-much-dyestuff",
)
def ready_in_kg(sound: Sound) -> Iterator[Fault]:
    """A plant of which grams go into the bath is ground or chopped by the kilogram.

    Found at a new line that grinds it.
    """
    for step, moment in sound.of("prepare"):
        for item, made in sound.put_in(step):
            amount = next((a for t, _, a in moment.amounts if t == made.name.text), None)
            if "dyestuff" not in made.roles or amount is None or amount.kind != "mass":
                continue
            if any(made.name.text in sound.names(s) for s in sound.steps if s.place < step.place):
                continue
            text = sound.with_before(
                step.place.line, f"chop {made.name.text} {float(amount.high):g} kg"
            )
            yield fault(text, [step.place.line], f"{float(amount.high):g} kg of {item.place.line}")


@kind(
    "iron in the tub of another lot's rinse",
    "colour",
    finds="iron-in-the-tub",
    follows="pot-too-small pot-too-full too-little-liquor never-used",
)
def iron_in_the_tub(sound: Sound) -> Iterator[Fault]:
    """A lot without iron is rinsed in the tub in which one with iron was rinsed. Found there."""
    for first, then in sound.of("rinse"):
        if first.within is None or first.within.name is None or not then.node.own_water:
            continue
        if not any(_loose_iron(sound, then, lot) for lot in then.node.lots):
            continue
        for step, moment in sound.of("rinse"):
            apart = step.place.line > first.place.line and step.within is not None
            if not apart or step.within is None or step.within.name is None:
                continue
            bare = moment.node.own_water and not any(
                _entry(sound.plan.flow.materials[thing][0], "metal") == "iron"
                for lot in moment.node.lots
                for thing in moment.before.lots[lot].mordants
                if thing in sound.plan.flow.materials
            )
            between = [
                one
                for one, m in sound.of("clean")
                if first.place.line < one.place.line < step.place.line
                and then.node.pot in m.node.cleaned
            ]
            if bare and not between and moment.node.pot != then.node.pot:
                text = sound.put(step.within.name.place, first.within.name.text)
                yield fault(text, sound.extent(step.place.line), "rinsed where iron was")


def _loose_iron(sound: Sound, moment: Moment, lot: str) -> bool:
    carried = [one.thing for one in moment.before.lots[lot].carried.values()]
    known = sound.plan.flow.materials
    return any(_entry(known[one][0], "metal") == "iron" for one in carried if one in known)


@kind(
    "alpaca put from hot to cool",
    "fibre care",
    finds="heat-shock bath-still-hot",
    follows="left-uncovered too-hot-for-fibre",
    least="note",
)
def alpaca_shocked(sound: Sound) -> Iterator[Fault]:
    """Wool becomes alpaca, and the cooling before its rinse is left out. Found at the rinse."""
    for made in cooling_dropped(sound):
        rows = made.text.split("\n")
        for lot in sound.model.lots.values():
            rows[lot.line - 1] = re.sub(r"(:.*?)\bwool\b", r"\1alpaca", rows[lot.line - 1])
        yield fault("\n".join(rows), made.lines, "alpaca, not cooled")
