"""The label of a bath that is kept: what is really in it, how strong, and what that does."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from procedure.chart.signs_of_steps import signs_of_bath
from procedure.facts.handling import declared, hazards, in_bath, stays
from procedure.facts.liquor import litres
from procedure.facts.study import Study
from procedure.handout.cautions import Danger
from procedure.handout.label import Label, aid
from procedure.handout.phrasebook import Telling
from procedure.model import Material, Step
from procedure.paper.pieces import (
    Blank,
    Figure,
    Phrase,
    Words,
    joined,
    phrase,
    plain_text,
    sentence,
)
from procedure.trace import BathState
from procedure.vocabulary import Entry
from procedure.vocabulary.densities import density

# What gives a bath its name; all else is in it besides.
_MAIN = frozenset(("dyestuff", "mordant", "tannin"))
# So much is said of each thing that is diluted: the jar's label has all of it.
MOST_SAID = 2


@dataclass(frozen=True, slots=True)
class Inside:
    """One thing in a bath: ``carried`` are the hazards that the bath has of it at its
    strength, ``sold`` those of the thing itself."""

    name: Phrase
    strength: Phrase
    main: bool
    vat: bool
    carried: tuple[Entry, ...]
    sold: tuple[Entry, ...]


def bath_label(telling: Telling, bath: str) -> Label:
    """A bath as it is when it was left: what is in it, how strong, and how much liquor."""
    plan = telling.plan
    state = next(
        (m.after.baths[bath] for m in reversed(plan.trace.moments) if bath in m.after.baths), None
    )
    inside = tuple(_inside(telling, state)) if state is not None else ()
    kept_as = _kept_as(telling, bath)
    own = Words(kept_as) if kept_as else telling.name(bath)
    every = tuple({one.name: one for thing in inside for one in thing.carried}.values())
    sold = tuple({one.name: one for thing in inside for one in thing.sold}.values())
    named = telling.name(bath).text
    lines: list[Phrase] = []
    volume = litres(plan.study, state) if state is not None else None
    if volume is not None:
        lines.append(phrase(Figure("volume", *volume), " of liquor"))
    held = tuple(state.contents) if state is not None else ()
    said = tuple(_diluted(inside))
    hurts = _danger(plan.study, plan.study.called(bath), held, every)
    if hurts is not None and not hurts.statements and said:
        told = tuple(plain_text(one, telling.voice).removesuffix(".") for one in said)
        hurts = replace(hurts, plain=(*(one[:1].lower() + one[1:] for one in told), *hurts.plain))
    else:
        lines += said
    if any(one.yes("cover") for one in sold):
        lines.append(("Keep the lid on.",))
    lines.append(phrase("made\u00a0on\u00a0", Blank("date"), ", by\u00a0", Blank("name")))
    return Label(
        _title(inside) or (Words(named[:1].upper() + named[1:]),),
        (own,) if inside else (),
        tuple(lines),
        hurts,
        aid(sold),
    )


def _title(inside: tuple[Inside, ...]) -> Phrase:
    """``Vat of indigo 2 g/L, with soda ash 4 g/L``: what it is by its real names, how strong."""
    if not inside:
        return ()
    vat = [one for one in inside if one.vat]  # a metal in a vat is its reducer
    main = vat or [one for one in inside if one.main] or list(inside)
    besides = [one for one in inside if one not in main]
    kind = "Vat" if vat else "Bath"
    named = joined(phrase(one.name, " " if one.strength else "", one.strength) for one in main)
    more = joined(phrase(one.name, " " if one.strength else "", one.strength) for one in besides)
    return phrase(f"{kind} of ", named, ", with " if more else "", more)


def _inside(telling: Telling, state: BathState) -> Iterator[Inside]:
    alike: dict[Phrase, list[str]] = {}
    for thing in state.contents:  # what went in twice, under two names, is in it once
        alike.setdefault(telling.real_name(thing), []).append(thing)
    ends = {things[0]: _strength(telling, state, things) for things in alike.values()}
    # Whoever reads a label compares what is in it: all of it is told in one unit.
    fine = any(
        _in_words(telling, thing, much, True) == _in_words(telling, thing, much, False)
        for thing, much in ends.items()
        if much is not None
    )
    for thing, much in ends.items():
        made = declared(telling.plan.study, thing)
        entry = made.entry if made is not None else None
        yield Inside(
            telling.real_name(thing),
            (_in_words(telling, thing, much, fine),) if much is not None else (),
            made is not None and bool(_MAIN & set(made.roles)),
            entry is not None and entry.facts.get("dye_class") == "vat",
            in_bath(telling.plan.study, state, thing),
            hazards(made),
        )


def _strength(
    telling: Telling, state: BathState, things: list[str]
) -> tuple[Fraction, Fraction] | None:
    """Grams, or millilitres of what is poured, in a litre of a bath; None where not known."""
    weights = [state.contents[one].grams for one in things]
    grams = [each for each in weights if each is not None]
    if len(grams) < len(weights) or state.volume is None or state.volume[0] <= 0:
        return None
    low = sum((each[0] for each in grams), Fraction(0))
    high = sum((each[1] for each in grams), Fraction(0))
    made = declared(telling.plan.study, things[0])
    each = _weighs(made) if _poured(telling, things[0]) else Fraction(1)
    return low / each / state.volume[1], high / each / state.volume[0]


def _in_words(telling: Telling, thing: str, much: tuple[Fraction, Fraction], fine: bool) -> str:
    voice = telling.voice
    said = voice.strength_by_volume if _poured(telling, thing) else voice.strength
    return said(*much, fine)


def _poured(telling: Telling, thing: str) -> bool:
    """Whether a thing is measured by volume wherever it is used.

    Its label says how much of it was poured: what a litre of it weighs, nobody wrote.
    """
    moments = telling.plan.trace.moments
    amounts = [much for m in moments for one, _, much in m.amounts if one == thing]
    return bool(amounts) and all(much is not None and much.kind == "volume" for much in amounts)


def _weighs(made: Material | None) -> Fraction:
    """Grams in a millilitre of it, as the trace took them."""
    if made is None or made.entry is None:
        return Fraction(1)
    return density(made.entry.name, made.percent)


def _diluted(inside: tuple[Inside, ...]) -> Iterator[Phrase]:
    """What things in it do by themselves that the bath, so diluted, has no sign for."""
    said: list[Phrase] = []
    for thing in inside:
        carried = {one.name for one in thing.carried}
        left = [one for one in thing.sold if one.name not in carried and _met_in_liquor(one)]
        left.sort(key=lambda one: one.facts.get("signal") != "Danger")
        plain = list(dict.fromkeys(one.facts["plain"].split(":")[0] for one in left))
        if plain:
            said.append(phrase(thing.name, f" ({', '.join(plain[:MOST_SAID])})"))
    if said:
        yield sentence("diluted in it: ", *joined(said, between="; ", word="and"))


def _met_in_liquor(hazard: Entry) -> bool:
    """True for what can be met in a liquor: no dust of a powder, no fire of a dry one."""
    if hazard.table == "hazards":
        return not hazard.name.startswith("dust") and hazard.name != "protected"
    return hazard.name.startswith(("H3", "EUH0"))


def _kept_as(telling: Telling, bath: str) -> str:
    """The name under which a step keeps a bath; empty where none does."""
    for node in telling.plan.flow.nodes:
        step = node.step
        if node.bath == bath and isinstance(step, Step) and step.does.stores:
            if step.named is not None:
                return step.named.text.replace("-", " ")
            for item in (step.to, step.within):
                if item is not None and item.name is not None:
                    return item.name.text.replace("-", " ")
    return ""


def _danger(
    study: Study, called: str, things: tuple[str, ...], found: tuple[Entry, ...]
) -> Danger | None:
    """What a bath does, with the signs that the chart has where hands are in it.

    A signal word comes of its strength alone (Regulation (EC) No 1272/2008, Article 20).
    """
    lasting = [entry for entry in found if entry.table == "ghs" or stays(entry)]
    codes = signs_of_bath(study, things, lasting)
    if not found and not codes:
        return None
    ghs = [entry for entry in found if entry.table == "ghs"]
    signals = {entry.facts.get("signal", "") for entry in ghs}
    return Danger(
        name=called,
        called=called,
        statements=tuple(f"{entry.facts['statement']} ({entry.name})" for entry in ghs),
        plain=tuple(dict.fromkeys(entry.facts["plain"] for entry in lasting)),
        pictograms=codes,
        signal="Danger" if "Danger" in signals else "Warning" if "Warning" in signals else "",
        remarks=(),
    )
