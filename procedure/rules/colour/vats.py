"""Colour: a vat has what it needs, and air comes between its dips."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.liquor import fact, has_role, is_known, is_vat, meetings, names_unknown, stuff
from procedure.facts.study import Study
from procedure.findings import Span, say
from procedure.rules.lids import and_lidded
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import BathState
from procedure.vocabulary.thresholds import threshold

FAMILY = "colour"
# After a dip these do harm before the air has fixed the blue.


@rule("vat-not-aired", level="warning", family=FAMILY, source="Mairet 1916, ch. V and X")
def vat_not_aired(study: Study) -> Iterator[Found]:
    """Fibre that comes out of a vat and goes into liquor again without air between.

    The blue is fixed only by the air. Without it the next dip takes off what the last
    one gave, and a rinse washes it out.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    for moment in study.moments:
        if not (moment.node.does.meets_bath or moment.node.does.own_water):
            continue
        for lot in moment.entering:
            state = moment.before.lots.get(lot)
            if state is None or state.aired:
                continue
            again = moment.node.does.meets_bath
            yield at_node(
                moment.node,
                say(
                    "{lot} comes out of the vat and goes into {liquor} again without being aired.",
                    lot=study.thing(lot),
                    liquor="a bath" if again else "water",
                ),
                say(
                    "Air it first, for about as long as the dip: “air {lot} for 15 min”.",
                    lot=study.thing(lot),
                ),
                related=study.at(state.last, "It was dipped here."),
            )


@rule("aired-too-briefly", level="warning", family=FAMILY, source="Mairet 1916, ch. V")
def aired_too_briefly(study: Study) -> Iterator[Found]:
    """Fibre that hangs in the air for far less time than it was in the vat.

    Inside the thread it is still green, and that part washes out.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 1 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 10 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    share, sure = threshold("short airing"), threshold("sure airing")
    for moment in study.moments:
        if not moment.node.does.airs or moment.minutes is None:
            continue
        for lot in moment.node.lots:
            state = moment.before.lots.get(lot)
            if state is None or state.aired or state.dipped is None:
                continue
            if moment.minutes[1] >= min(state.dipped[0] * share.value, sure.value):
                continue
            yield at_node(
                moment.node,
                say(
                    "{lot} is aired for {air} after {dipped} in the vat.",
                    lot=study.thing(lot),
                    air=Span(moment.minutes[1]),
                    dipped=Span(state.dipped[0]),
                ),
                "Air it for about as long as the dip.",
                related=study.at(state.last, "It was dipped here."),
                source=share.source,
            )


def _vats(study: Study) -> Iterator[tuple[int, int, BathState]]:
    """Every vat at its first dip: the step that made it, the dip, the vat."""
    told: set[tuple[str, int]] = set()
    for moment, _, _, bath in meetings(study):
        key = (moment.node.bath, bath.made)
        if key in told or not is_known(bath) or not is_vat(study, bath):
            continue
        told.add(key)
        put_in = {bath.made, *(content.node for content in bath.contents.values())}
        if names_unknown(study, *put_in) or any(
            not one.made.roles for one in stuff(study, bath.contents)
        ):
            continue  # nobody knows what part that plays
        yield bath.made, moment.node.id, bath


def _fresh_leaf(study: Study, bath: BathState) -> bool:
    """True where fresh leaves dye in plain water, as they do without any vat."""
    dyes = [one for one in stuff(study, bath.contents) if fact(one, "dye_class") == "vat"]
    fresh = all(one.made.state == "fresh" for one in dyes)
    return fresh and not has_role(study, bath.contents, "alkali", "reducer")


@rule("vat-without-reducer", level="warning", family=FAMILY, source="common practice")
def vat_without_reducer(study: Study) -> Iterator[Found]:
    """A vat with nothing in it that takes the oxygen out.

    Indigo dissolves only when it is reduced; otherwise the fibre comes out with blue
    dust on it.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    for made, dip, bath in _vats(study):
        reduces = has_role(study, bath.contents, "reducer", "food for ferment")
        if not reduces and not _fresh_leaf(study, bath):
            yield at_node(
                study.node(made),
                "There is no reducer in this vat.",
                "Add fructose, copperas with lime, or whatever the recipe reduces it with.",
                related=study.at(dip, "Fibre is dipped in it here."),
            )


@rule("vat-without-alkali", level="warning", family=FAMILY, source="common practice")
def vat_without_alkali(study: Study) -> Iterator[Found]:
    """A vat without alkali, or with none but chalk or bicarbonate, which are too mild.

    Reduced indigo dissolves only in alkaline water; otherwise it sinks to the bottom.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    for made, dip, bath in _vats(study):
        alkalis = [
            one
            for one in stuff(study, bath.contents)
            if {"alkali", "buffer"} & {*one.made.roles, fact(one, "also")}
        ]
        if _fresh_leaf(study, bath) or any(fact(one, "strength") != "mild" for one in alkalis):
            continue
        if any("food for ferment" in (*one.made.roles, fact(one, "also")) for one in alkalis):
            continue  # a urine vat makes its own ammonia as it ferments
        yield at_node(
            study.node(made),
            say(
                "The only alkali in this vat is {alkali}, which is too mild to dissolve the blue.",
                alkali=alkalis[0].named,
            )
            if alkalis
            else "There is no alkali in this vat.",
            "Add soda ash or lime, as the recipe has it.",
            related=study.at(dip, "Fibre is dipped in it here."),
        )


@rule("vat-left-open", level="warning", family=FAMILY, source="common practice")
def vat_left_open(study: Study) -> Iterator[Found]:
    """A vat that is left standing for hours or overnight without a lid.

    It takes up air, turns blue and is spent by the morning; and nobody sees that it is no soup.

    Trips:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat overnight labelled
        discard vat to "foul drain"
    Cure:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat overnight covered labelled
        discard vat to "foul drain"
    """
    kept = {
        moment.node.bath
        for moment in study.moments
        if moment.node.does.dips and not is_known(moment.bath_before)
    }
    last = {
        moment.node.bath: moment.node.id
        for moment in study.moments
        if moment.entering or moment.node.present
    }
    for moment in study.moments:
        bath = moment.bath_after or moment.bath_before
        does = moment.node.does
        if bath is None or not does.left_standing or moment.covered:
            continue
        # Stirred in the open while its reducer works it takes up air, though somebody is there.
        opened = "uncovered" in moment.step.manner and "stirring" in moment.step.manner
        if moment.attended and not opened:
            continue
        if "uncovered" in moment.step.manner and last.get(moment.node.bath, -1) < moment.node.id:
            continue  # spent, it is to take up air before it is poured away
        if is_vat(study, bath) or moment.node.bath in kept:
            yield at_node(
                moment.node,
                say(
                    "{vat} stands open here, and takes up air all the while.",
                    vat=study.thing(moment.node.bath),
                ),
                say(
                    "Put the lid on, label it, and write “covered labelled”.{lidded}",
                    lidded=and_lidded(study, moment),
                ),
            )


@rule("kept-warm-how", level="note", family=FAMILY, source="common practice")
def kept_warm_how(study: Study) -> Iterator[Found]:
    """A bath that is to stay warm for days, without a word on what keeps it warm.

    Off the heat it is cold by the morning, and nobody sits by a flame for days.

    Trips:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 2 days at 45 °C covered labelled
        discard vat to "foul drain"
    Cure:
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 2 days at 45 °C covered labelled note "in a straw box, warmed each evening"
        discard vat to "foul drain"
    """
    warm, long = threshold("heat by morning"), threshold("kept warm for long")
    for moment in study.moments:
        step = moment.step
        held = step.at.quantity if step.at is not None else None
        if held is None or held.kind != "temperature" or held.low is None:
            continue
        lasting = moment.minutes is not None and moment.minutes[0] > long.value
        if held.low > warm.value and lasting and step.on is None and not step.note:
            yield at_node(
                moment.node,
                say(
                    "It is not said how {bath} is kept at “{heat}” for so long.",
                    bath=study.thing(moment.node.bath or moment.node.pot),
                    heat=held.text,
                ),
                'Say in a note what keeps it warm: “note "in a straw box, warmed each evening"”.',
                source=long.source,
            )


RULES = (
    vat_not_aired,
    aired_too_briefly,
    vat_without_reducer,
    vat_without_alkali,
    vat_left_open,
    kept_warm_how,
)
