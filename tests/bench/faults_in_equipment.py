"""Faults of pots and tools."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from fractions import Fraction

from faults import Fault, fault, kind
from sound import GOES_IN, Sound

from procedure.model import Equipment
from procedure.trace import Moment


def _declared(sound: Sound, pot: Equipment, pattern: str, words: str) -> str | None:
    """The text with words of a pot's declaration changed, or None where they are not there."""
    line = pot.name.place.line
    row = sound.lines[line - 1]
    changed = re.sub(pattern, words, row, count=1)
    return None if changed == row else sound.with_line(line, changed)


def _own(sound: Sound) -> Iterator[Equipment]:
    """What this file itself declares and uses."""
    for thing in sound.model.equipment.values():
        if thing.name.text not in sound.model.brought and sound.using(thing.name.text):
            yield thing


def _touched(sound: Sound, pot: Equipment) -> set[int]:
    """The declaration of a pot, and the steps that use it."""
    return {pot.name.place.line} | sound.lines_of(sound.using(pot.name.text))


# What holds or cuts a poisonous plant is told of there as well.
APART = "tool-not-kept-apart"


@kind("a pot for cooking", "equipment", finds="used-for-cooking", follows=APART)
def for_cooking(sound: Sound) -> Iterator[Fault]:
    """“for dyeing only” becomes “for cooking”. Found at the declaration."""
    for pot in _own(sound):
        text = _declared(sound, pot, "for dyeing only", "for cooking")
        if text is not None:
            yield fault(text, [pot.name.place.line], f"“{pot.name.text}” for cooking")


@kind("a pot for dyeing and cooking", "equipment", finds="used-for-cooking", follows=APART)
def for_both(sound: Sound) -> Iterator[Fault]:
    """“for dyeing only” becomes “for cooking and dyeing”. Found at the declaration."""
    for pot in _own(sound):
        text = _declared(sound, pot, "for dyeing only", "for cooking and dyeing")
        if text is not None:
            yield fault(text, [pot.name.place.line], f"“{pot.name.text}” for both")


@kind("the use of a pot left out", "equipment", finds="use-unstated", follows=APART)
def use_dropped(sound: Sound) -> Iterator[Fault]:
    """“for dyeing only” is left out. Found at the declaration."""
    for pot in _own(sound):
        text = _declared(sound, pot, ", for dyeing only", "")
        if text is not None:
            yield fault(text, [pot.name.place.line], f"no use said of “{pot.name.text}”")


@kind(
    "a pot too small", "equipment", finds="pot-too-small pot-too-full", follows="too-little-liquor"
)
def pot_shrunk(sound: Sound) -> Iterator[Fault]:
    """A pot holds half of the most that is ever in it.

    Found at its declaration or at a step that fills it. Amounts that are shares of the
    pot shrink with it, so such pots are left alone.
    """
    for pot in sound.pots():
        most = _fullest(sound, pot)
        name = pot.name.text
        if most is None or name in sound.model.brought:
            continue
        if any(f"of {name}" in row for row in sound.lines):
            continue
        if all(step.kind == "follow" for step in sound.using(name)):
            continue  # the followed vat is measured by the pot
        assert pot.capacity is not None
        half = f"{float(most) / 2:.1f} L"
        text = sound.put(pot.capacity.place, half)
        yield fault(text, _touched(sound, pot), f"“{name}” holds {half}")


def _fullest(sound: Sound, pot: Equipment) -> Fraction | None:
    """The least of what a pot surely holds at its fullest, in litres, where it is said."""
    volumes = []
    for moment in sound.moments.values():
        bath = moment.bath_after
        if bath is not None and sound.plan.study.called(bath.pot) == pot.name.text:
            volumes += [bath.volume[0]] if bath.volume is not None else []
        elif moment.node.own_water and sound.plan.study.called(moment.node.pot) == pot.name.text:
            for name, _, amount in moment.amounts:
                if name == "water" and amount is not None and amount.kind == "volume":
                    volumes.append(amount.low)
    return max(volumes, default=None)


@kind(
    "the lid taken from a covered pot",
    "equipment",
    finds="covered-without-lid",
    follows="left-uncovered",
)
def lid_dropped(sound: Sound) -> Iterator[Fault]:
    """A pot in which something is done covered has no lid. Found at that step or the pot."""
    for pot in _own(sound):
        covered = [
            m
            for m in sound.moments.values()
            if "covered" in m.step.manner
            and m.node.effect != "keep"
            and _pot(sound, m) == pot.name.text
        ]
        text = _declared(sound, pot, ", lidded", "") if covered else None
        if text is not None:
            yield fault(
                text,
                _touched(sound, pot) | sound.lines_of(m.step for m in covered),
                f"“{pot.name.text}” without a lid",
            )


def _pot(sound: Sound, moment: Moment) -> str:
    bath = moment.bath_after or moment.bath_before
    return sound.plan.study.called(bath.pot if bath is not None else moment.node.pot)


HEATED = frozenset(("simmer", "boil", "heat", "treat", "hold", "scour", "prepare"))
STUFF = r"(stainless steel|enamel|stoneware)"


@kind("a plastic tub on the heat", "equipment", finds="cannot-be-heated")
def plastic_heated(sound: Sound) -> Iterator[Fault]:
    """A pot that is heated to 70 °C or more is of plastic. Found at the heating or the pot."""
    for pot in _own(sound):
        hot = [
            m
            for m in sound.moments.values()
            if m.node.effect in HEATED
            and m.peak is not None
            and m.peak[0] >= 70
            and _pot(sound, m) == pot.name.text
        ]
        text = _declared(sound, pot, STUFF, "plastic") if hot else None
        if text is not None:
            yield fault(
                text,
                _touched(sound, pot) | sound.lines_of(m.step for m in hot),
                f"“{pot.name.text}” of plastic",
            )


def _bright(sound: Sound, moment: Moment) -> bool:
    """Whether a dye that the least iron dulls is in the bath."""
    made = sound.contents(moment)
    if any(m.entry is not None and m.entry.facts.get("metal") == "iron" for m in made):
        return False
    return any(
        m.entry is not None
        and m.entry.facts.get("iron_sensitive") == "yes"
        and m.entry.facts.get("dye_class") != "vat"
        for m in made
    )


def _bright_baths(sound: Sound) -> Iterator[tuple[Moment, Moment]]:
    """The making of each bath of a bright colour in a pot, and the first fibre into it."""
    for step, moment in sound.of("prepare"):
        for later, entering in sound.of(*GOES_IN):
            if step.label is None or step.label.text not in sound.names(later):
                continue
            lots = [entering.before.lots[lot] for lot in entering.entering]
            if (
                lots
                and _bright(sound, entering)
                and not any(_met_iron(sound, one.mordants) for one in lots)
            ):
                yield moment, entering
            break


def _met_iron(sound: Sound, mordants: Iterable[str]) -> bool:
    made = [sound.plan.flow.materials.get(name) for name in mordants]
    return any(
        m is not None and m[0].entry is not None and m[0].entry.facts.get("metal") == "iron"
        for m in made
    )


@kind(
    "a rusty pot for a bright colour",
    "equipment",
    finds="pot-acts-as-mordant water-in-rusty-pot",
    follows="pot-attacked",
)
def rusty_pot(sound: Sound) -> Iterator[Fault]:
    """The pot of a yellow, an orange or a red is of rusty iron. Found at the pot or its use."""
    for made, _ in _bright_baths(sound):
        pot = sound.model.equipment.get(sound.plan.study.called(made.node.pot))
        if pot is None or pot.name.text in sound.model.brought:
            continue
        text = _declared(sound, pot, STUFF, "rusty iron")
        if text is not None:
            yield fault(text, _touched(sound, pot), f"“{pot.name.text}” of rusty iron")


@kind(
    "iron in the pot before a bright colour",
    "equipment",
    finds="pot-not-cleaned",
    # The iron bath that is put in is made by people without goggles, and dyes nothing.
    follows="bath-without-fibre no-eye-protection no-gloves pot-not-free",
)
def iron_before(sound: Sound) -> Iterator[Fault]:
    """The pot of a bright colour held copperas just before and was not cleaned.

    Found where the pot is filled, where it held the iron, or where the fibre goes in.
    """
    for made, entering in _bright_baths(sound):
        pot = sound.plan.study.called(made.node.pot)
        first = min((m.name.place.line for m in sound.model.materials.values()), default=0)
        line = made.step.place.line
        if first == 0 or pot not in sound.model.equipment:
            continue
        rows = sound.with_before(
            line,
            f"stain: prepare in {pot} with water 1 L, green-salt 5 g",
            'discard stain to "foul drain, well watered down; never the garden"',
        ).split("\n")
        rows.insert(first - 1, "  green-salt: ferrous sulphate")
        lines = [line + 1, line + 2, line + 3, entering.step.place.line + 3]
        yield fault("\n".join(rows), lines, f"“{pot}” held iron before")


@kind(
    "a pot not cleaned between baths",
    "equipment",
    finds="pot-not-cleaned pot-not-rinsed",
    least="note",
)
def clean_dropped(sound: Sound) -> Iterator[Fault]:
    """The cleaning between two baths in one pot is left out.

    Found where the pot is filled again; a note where what is left does no harm (design:
    a reader cannot tell whether it was meant to stay).
    """
    for step, _ in sound.of("clean"):
        for item in step.objects:
            pot = item.name.text if item.name is not None else ""
            refilled = next(
                (
                    s
                    for s in sound.after(step)
                    if s.effect == "prepare"
                    and s.within
                    and s.within.name
                    and s.within.name.text == pot
                ),
                None,
            )
            if refilled is None or len(step.objects) != 1:
                continue
            if any(
                s.effect == "clean" and pot in sound.names(s)
                for s in sound.steps
                if step.place.line < s.place.line < refilled.place.line
            ):
                continue
            yield fault(
                sound.without(step.place.line),
                sound.extent(refilled.place.line),
                f"“{pot}” not cleaned",
            )


@kind(
    "alkali in an aluminium pot",
    "equipment",
    finds="must-not-meet pot-attacked pot-acts-as-mordant",
)
def aluminium_and_alkali(sound: Sound) -> Iterator[Fault]:
    """A pot for lime or soda is of aluminium. Found at the bath or the pot."""
    for pot in _own(sound):
        with_it = [
            m
            for m in sound.moments.values()
            if m.node.effect in ("prepare", "scour")
            and _pot(sound, m) == pot.name.text
            and any(
                made.entry is not None
                and made.entry.facts.get("strength") in ("moderate", "strong")
                and "alkali" in made.roles
                for made in (*sound.contents(m), *(x for _, x in sound.put_in(m.step)))
            )
        ]
        text = _declared(sound, pot, STUFF, "aluminium") if with_it else None
        if text is not None:
            yield fault(text, _touched(sound, pot), f"“{pot.name.text}” of aluminium")
