"""Soak: fibre is wet through before it meets a mordant or a dye."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import stuff
from procedure.facts.study import Study
from procedure.findings import Span, say
from procedure.rules.rule import Found, at_node, on_way, rule
from procedure.trace import Moment
from procedure.vocabulary.thresholds import related

FAMILY = "soak"
# Steps whose bath gives colour or mordant, so that fibre must come to them wet.


def goes_in(study: Study) -> Iterator[tuple[Moment, str]]:
    """Every time that a lot goes into a bath for which it must be wet."""
    for moment in study.moments:
        if moment.node.does.meets_bath and moment.node.bath:
            for lot in moment.entering:
                if lot in moment.before.lots:
                    yield moment, lot


@rule("entered-dry", level="warning", family=FAMILY, source="common practice")
def entered_dry(study: Study) -> Iterator[Found]:
    """Fibre that goes dry into a mordant or dye bath.

    Dry fibre takes up liquor unevenly and comes out patchy.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for moment, lot in goes_in(study):
        state = moment.before.lots[lot]
        path = state.possibly("dry")
        if path is not None and state.dried_by < 0 and not _only_binds(study, moment):
            yield at_node(
                moment.node,
                say(
                    "{lot} goes dry into {bath}{way}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    way=on_way(path),
                ),
                say(
                    "Wet it out first: “wet out {lot} in ... with water ... for 1 h”.",
                    lot=study.thing(lot),
                ),
            )


def _only_binds(study: Study, moment: Moment) -> bool:
    """True for soy milk and its like, which are put on dry fibre as on damp."""
    bath = moment.bath_after
    held = stuff(study, bath.contents) if bath is not None else []
    return bool(held) and all("binder" in one.made.roles for one in held)


@rule("dried-before-bath", level="warning", family=FAMILY, source="common practice")
def dried_before_bath(study: Study) -> Iterator[Found]:
    """Fibre that was wet, has dried, and goes into a bath again.

    It must be wetted out anew, as if it had never been wet.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        dry yarn
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for moment, lot in goes_in(study):
        state = moment.before.lots[lot]
        path = state.possibly("dry")
        if path is not None and state.dried_by >= 0 and not _fixed(study, moment):
            yield at_node(
                moment.node,
                say(
                    "{lot} has dried and goes dry into {bath}{way}.",
                    lot=study.thing(lot),
                    bath=study.thing(moment.node.bath),
                    way=on_way(path),
                ),
                "Wet it out again before this step.",
                related=study.at(state.dried_by, "It dries here."),
            )


def _fixed(study: Study, moment: Moment) -> bool:
    """True of a chalk bath: cloth dried after acetate of alumina goes dry into it by rights."""
    bath = moment.bath_after
    made = stuff(study, bath.contents) if bath is not None else []
    return bool(made) and all(related("fixes", one.made.called) for one in made)


@rule("soaked-too-briefly", level="warning", family=FAMILY, source="common practice")
def soaked_too_briefly(study: Study) -> Iterator[Found]:
    """Fibre that was wetted for less time than its kind needs.

    Wool needs about half an hour, linen an hour: the middle of the thread is
    still dry, and dyes paler.

    Trips:
        wet out yarn in tub with water 5 L for 2 min
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 30 min
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for moment, lot in goes_in(study):
        state = moment.before.lots[lot]
        if state.possibly("dry") is not None or state.soaked is None:
            continue
        needs = [(fibre.number("wetting_min") or Fraction(0), fibre) for fibre in state.fibres]
        if not needs:
            continue
        minutes, fibre = max(needs, key=lambda need: need[0])
        if state.soaked < minutes:
            yield at_node(
                moment.node,
                say(
                    "{lot} has been wet for {soaked}; {fibre} needs about {least}.",
                    lot=study.thing(lot),
                    soaked=Span(state.soaked),
                    fibre=fibre.name,
                    least=Span(minutes),
                ),
                "Wet it out for longer.",
                related=study.at(state.last, "It was last wet out here."),
                source=fibre.facts.get("source", "common practice"),
            )


RULES = (entered_dry, dried_before_bath, soaked_too_briefly)
