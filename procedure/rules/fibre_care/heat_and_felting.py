"""Fibre care: wool that felts, and fibre that is hotter than it can take."""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction
from functools import cache

from procedure.facts.cold_vats import cold_for_vat
from procedure.facts.liquor import (
    brought,
    felts,
    felts_a_little,
    has_role,
    hottest,
    lots_in,
    meetings,
    names_unknown,
)
from procedure.facts.study import Study
from procedure.findings import Heat, Rate, Says, Span, Word, say
from procedure.model.harm import undenied
from procedure.model.types import Step
from procedure.quantity.interval import Interval
from procedure.quantity.kept_answers import remembered
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import LotState, Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.data_files import parts, rows
from procedure.vocabulary.everyday import SAID_OF_FIBRE
from procedure.vocabulary.thresholds import Threshold, threshold

FAMILY = "fibre care"


def _gap(one: Interval, two: Interval) -> Fraction:
    """The least difference between two heats, in degrees; none where they overlap.

    Of “hot”, which is more degrees wide than wool bears at once, the middle counts: whoever
    follows the word may as well take 80 °C as 45.
    """
    if one[0] > two[1]:
        return _likely(one, 0) - _likely(two, 1)
    return _likely(two, 0) - _likely(one, 1) if two[0] > one[1] else Fraction(0)


def _likely(heat: Interval, end: int) -> Fraction:
    wide = heat[1] - heat[0] > threshold("sudden change").value
    return (heat[0] + heat[1]) / 2 if wide and heat in _in_words() else heat[end]


@cache
def _in_words() -> frozenset[Interval]:
    """The heats that words alone say."""
    return frozenset(Interval(heat.low, heat.high) for heat in vocabulary().heats.values())


def in_liquor(study: Study) -> list[tuple[Moment, str, LotState]]:
    """Every lot in its liquor at every step that has one."""
    return study.once(_in_liquor)


def _in_liquor(study: Study) -> list[tuple[Moment, str, LotState]]:
    return [
        (moment, lot, state)
        for moment in study.moments
        if moment.node.bath or moment.node.own_water
        for lot, state in lots_in(moment).items()
    ]


@rule("heat-shock", level="warning", family=FAMILY, source="common practice")
def heat_shock(study: Study) -> Iterator[Found]:
    """Wool that goes at once from cold to hot liquor, or from hot to cold.

    A sudden change felts it: it shrinks and mats, and nothing undoes that. So does boiling
    water that is poured in beside it. Alpaca, mohair and the like felt less, and are only noted.

    Trips:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L at 15 °C
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        cool gold-bath to 35 °C
        rinse yarn in tub with water 5 L at 30 °C
        discard gold-bath to "foul drain"
    """
    most = threshold("sudden change")
    plain = study.once(_out_of_plain_water)
    for moment in study.moments:
        if not (moment.node.does.meets_bath or moment.node.does.own_water) or moment.start is None:
            continue
        for lot in moment.entering or _under_the_tap(moment):
            state = moment.before.lots.get(lot)
            fibre = felts(state) if state is not None else None
            little = None if fibre or state is None else felts_a_little(state)
            fibre = fibre or little
            if state is None or fibre is None:
                continue
            unsaid = state.heat is None and (moment.node.id, lot) in plain
            heat = _plain_water() if unsaid else state.heat
            if heat is None:
                continue
            if moment.node.does.first_water and state.possibly("dry") is not None:
                continue
            if _gap(heat, moment.start) <= most.value:
                continue
            out_of = say(
                "{lot} goes from {heat} into liquor at {start}, and {fibre} {felts} "
                "in such a sudden change."
                if not unsaid
                else "{lot} goes from water that nobody said to heat into liquor at {start}, and "
                "{fibre} {felts} in such a sudden change.",
                lot=study.thing(lot),
                heat=Heat(*heat),
                start=Heat(*moment.start),
                fibre=fibre.name,
                felts="may felt" if little else "felts",
            )
            yield at_node(
                moment.node,
                out_of,
                _milder(study, moment, heat, unsaid),
                related=study.at(state.last, "It comes from here."),
                level="note" if little else "",
                source=most.source,
            )
    yield from _poured_in(study, most)


def _under_the_tap(moment: Moment) -> tuple[str, ...]:
    """The fibre of a step with water of its own that names no pot."""
    node = moment.node
    return node.lots if node.does.own_water and not node.pot and not node.bath else ()


def _poured_in(study: Study, most: Threshold) -> Iterator[Found]:
    """Hot or cold liquor that is poured into a bath in which wool lies."""
    for moment in study.moments:
        before, after = moment.bath_before, moment.bath_after
        if not (moment.node.does.adds or moment.node.does.tops_up) or before is None:
            continue
        if after is None or before.heat is None or after.heat is None or not before.heat_said:
            continue
        if _gap(before.heat, after.heat) <= most.value:
            continue
        for lot in moment.node.present:
            state = moment.before.lots.get(lot)
            if state is None or lot in moment.entering:
                continue
            little = None if felts(state) else felts_a_little(state)
            fibre = felts(state) or little
            if fibre is None:
                continue
            hotter = after.heat[0] > before.heat[1]
            yield at_node(
                moment.node,
                say(
                    "{bath} goes at once from {before} to {after} with {lot} in it, and {fibre} "
                    "{felts} in such a sudden change.",
                    bath=study.thing(moment.node.bath),
                    before=Heat(*before.heat),
                    after=Heat(*after.heat),
                    lot=study.thing(lot),
                    fibre=fibre.name,
                    felts="may felt" if little else "felts",
                ),
                "Add it about as warm as the bath is, and heat the bath with the fibre in it."
                if hotter
                else "Add it about as warm as the bath is, and let the bath cool by itself.",
                level="note" if little else "",
                source=most.source,
            )


def _plain_water() -> Interval:
    """Water that nobody said to heat: as it comes from the tap, or warm to the hand at most."""
    heats = vocabulary().heats
    return Interval(heats["cold"].low, heats["hand-hot"].high)


def _out_of_plain_water(study: Study) -> frozenset[tuple[int, str]]:
    """The steps to which a lot comes out of water of which no heat is said, wet or damp."""
    found: set[tuple[int, str]] = set()
    plain: set[str] = set()
    for moment in study.moments:
        node, after = moment.node, moment.after.lots
        found.update((node.id, lot) for lot in node.lots if lot in plain)
        for lot in dict.fromkeys((*node.lots, *node.present, *node.makes)):
            state = after.get(lot)
            if state is None:
                continue
            if state.heat is not None:
                plain.discard(lot)
            elif _wetted_plainly(moment, lot) or plain.intersection(study.flow.lots[lot].parts):
                plain.add(lot)
    return frozenset(found)


def _wetted_plainly(moment: Moment, lot: str) -> bool:
    node = moment.node
    return lot in node.lots and node.does.own_water and not node.bath


def _milder(study: Study, moment: Moment, heat: Interval, unsaid: bool) -> Says | str:
    assert moment.start is not None
    if moment.start[0] > heat[1]:
        bath = study.thing(moment.node.bath) if moment.node.bath else Word("the liquor")
        if unsaid:
            return say(
                "Say how warm that water is, let {bath} cool until it is about as warm, "
                "and heat it with the fibre in it.",
                bath=bath,
            )
        return say(
            "Let {bath} cool to about {heat} first, and heat it with the fibre in it.",
            bath=bath,
            heat=Heat(heat[1]),
        )
    return "Let it cool in its bath first, or use water about as warm as it is."


@rule("bath-still-hot", level="warning", family=FAMILY, source="common practice")
def bath_still_hot(study: Study) -> Iterator[Found]:
    """Fibre that goes into a bath said to be cool, which nothing has cooled since it was hot.

    Whoever follows the words puts wool into the hot bath, and it felts; for fibre that
    does not felt it is only noted.

    Trips:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        strain gold-bath
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        strain gold-bath
        cool gold-bath to 30 °C
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    most = threshold("sudden change")
    for moment, lot, state, _ in meetings(study):
        bath = moment.bath_before
        if bath is None or bath.heat is None or not bath.heat_said:
            continue
        said = moment.start if moment.step.source is not None else _said_at(moment)
        # It may still be as hot as its upper end: straining cools it by some degrees at most. But
        # what lies within its heat, as 45 °C does within “hot”, is one reading of the same words.
        if said is None or bath.heat[1] - said[1] <= most.value or said[1] >= bath.heat[0]:
            continue
        if moment.node.does.dips and cold_for_vat(study, moment, bath) is not None:
            continue  # to cool it more would do it harm
        yield at_node(
            moment.node,
            say(
                "{bath} was last at {heat}, and {lot} is to go in at {said}.",
                bath=study.thing(moment.node.bath),
                heat=Heat(*bath.heat),
                lot=study.thing(lot),
                said=Heat(*said),
            ),
            say(
                "Say that it cools: “cool {bath} to {said}”.",
                bath=study.thing(moment.node.bath),
                said=Heat(said[1]),
            ),
            level="" if felts(state) else "note",
            source=most.source,
        )


def _said_at(moment: Moment) -> Interval | None:
    at = moment.step.at
    if at is None or at.quantity is None or at.quantity.kind != "temperature":
        return None
    return at.quantity.ends if at.quantity.known else None


@rule("heat-changed-fast", level="warning", family=FAMILY, source="common practice")
def heat_changed_fast(study: Study) -> Iterator[Found]:
    """Wool in a bath that is heated or cooled in too few minutes.

    About a degree a minute is safe; Mairet takes an hour from tepid to the boil.

    Trips:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to 85 °C over 5 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to 85 °C over 45 min for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    fastest = threshold("fastest change")
    for moment, lot, state in in_liquor(study):
        over = moment.step.over
        fibre = felts(state)
        if fibre is None or over is None or over.high is None or over.high <= 0:
            continue
        bath = moment.bath_before
        start = moment.start if moment.step.source else bath.heat if bath else None
        if start is None or (not moment.step.source and bath is not None and not bath.heat_said):
            continue
        ends = [item.quantity for item in (moment.step.to, moment.step.at) if item is not None]
        end = next((q for q in ends if q is not None and q.kind == "temperature" and q.known), None)
        if end is None or over.kind != "time":
            continue
        rate = _gap(start, end.ends) / over.high
        if rate > fastest.value:
            yield Found(
                moment.node.procedure,
                over.place,
                say(
                    "{lot} is brought from {start} to {ends} in {over}, about {rate}, "
                    "and {fibre} felts.",
                    lot=study.thing(lot),
                    start=Heat(*start),
                    ends=Heat(*end.ends),
                    over=Span(over.high),
                    rate=Rate(rate),
                    fibre=fibre.name,
                ),
                "Take about a minute for each degree.",
                moment.node.calls,
                source=fastest.source,
            )


@rule("too-hot-for-fibre", level="warning", family=FAMILY, source="Mairet 1916, ch. XI")
def too_hot_for_fibre(study: Study) -> Iterator[Found]:
    """Fibre in liquor hotter than it bears.

    Silk loses its gloss and grows harsh above about 85 °C, and other tender fibres
    have limits of their own. Boiling the gum out of raw silk with soap is sound.

    Trips:
        wet out silk in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye silk in gold-bath from 30 °C to boil over 1 h for 30 min
        rinse silk in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out silk in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye silk in gold-bath from 30 °C to 80 °C over 1 h for 30 min
        rinse silk in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for moment, lot, state in in_liquor(study):
        heat = moment.hottest
        limits = [
            (limit, f) for f in state.fibres if (limit := f.number("heat_limit_c")) is not None
        ]
        if heat is None or not limits or _degumming(study, moment, state):
            continue
        limit, fibre = min(limits, key=lambda one: one[0])
        if heat > limit:
            assert moment.peak is not None
            yield at_node(
                moment.node,
                say(
                    "{lot} is heated to {peak}; {fibre} can take about {limit}.",
                    lot=study.thing(lot),
                    peak=Heat(*moment.peak),
                    fibre=fibre.name,
                    limit=Heat(limit),
                ),
                say("Keep it at {limit} or below.", limit=Heat(limit)),
                source=fibre.facts.get("source", "common practice"),
            )


def _degumming(study: Study, moment: Moment, state: LotState) -> bool:
    """True where soap boils the gum out of silk."""
    if not moment.node.does.scours or state.scoured is True:
        return False
    silk = all("silk" in fibre.name for fibre in state.fibres)
    helps = has_role(study, brought(moment), "detergent", "alkali")
    return silk and (helps or names_unknown(study, moment.node.id))


@rule("stirred-hot", level="warning", family=FAMILY, source="common practice")
def stirred_hot(study: Study) -> Iterator[Found]:
    """Wool that is stirred or worked in a hot bath.

    Heat with movement is how felt is made: at the boil wool is left still.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to boil over 1 h for 30 min stirring
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to boil over 1 h for 30 min gently
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    hot, bearable = threshold("felting heat"), threshold("felting minutes")
    boil = vocabulary().heats["boil"].low
    for moment, lot, state in in_liquor(study):
        fibre = felts(state)
        heat = moment.hottest
        moved = "stirring" in moment.step.manner or moment.step.does.moves_fibre
        if fibre is None or heat is None or not moved or "gently" in moment.step.manner:
            continue
        long = moment.minutes is not None and moment.minutes[0] > bearable.value
        long = long or _briskly(moment.step.note)
        if heat >= boil or (heat > hot.value and long):
            yield at_node(
                moment.node,
                say(
                    "{lot} is moved about at {heat}, and {fibre} felts.",
                    lot=study.thing(lot),
                    heat=hottest(moment),
                    fibre=fibre.name,
                ),
                "Leave it still while it is hot, and turn it now and then: “gently”.",
                source=hot.source,
            )


# Hard water and a fast colour are no way to stir.
_BRISKLY = (
    r"\b(vigorous|brisk|rough)|\b(stir|work|mov|turn)\w*( \w+){0,3} (hard|fast)\b|"
    r"^(hard|fast)\b(?! water)"
)


def _briskly(note: str) -> bool:
    return any(pattern(_BRISKLY).search(left) for left in _undenied_in(note))


@rule("handled-roughly", level="warning", family=FAMILY, source="common practice")
def handled_roughly(study: Study) -> Iterator[Found]:
    """Wool that is tumbled, rubbed or washed in a machine.

    Rubbing and movement lock the scales of the thread into each other, and what is felt
    stays felt.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L note "rub it clean"
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L note "press it clean"
        discard gold-bath to "foul drain"
    """
    met: dict[str, LotState] = {}
    for moment in study.moments:
        lots = moment.before.lots
        wool = [(lot, f) for lot in moment.node.lots if lot in lots and (f := felts(lots[lot]))]
        met |= moment.after.lots
        if moment.step.words is not None and not moment.node.lots:
            # Free words that name no lot are of what there is, if all of that felts.
            wool = [(lot, f) for lot, state in met.items() if (f := felts(state))]
            wool = wool if len(wool) == len(met) else []
        way = _rough_way(moment.step) if wool else None
        if way is not None:
            lot, fibre = wool[0]
            yield at_node(
                moment.node,
                say(
                    "{lot}: {means}, and {fibre} felts.",
                    lot=study.thing(lot),
                    means=Says(way["means"]),
                    fibre=fibre.name,
                ),
                way["remedy"],
                source=way["source"],
            )


def _rough_way(step: Step) -> dict[str, str] | None:
    """The row of a rough way in which a step has its fibre handled, by its words and its place."""
    if step.does.presses:
        return None  # a machine that only spins presses the water out
    names = [item.words or item.name for item in (step.within,) if item is not None]
    names += [step.words, step.on]
    named = [name.text for name in names if name is not None]
    return _rough_in(". ".join([step.note, *named])) if named or step.note else None


@remembered(4096)  # most steps are done in the same few pots
def _rough_in(told: str) -> dict[str, str] | None:
    """The row of a rough way that words tell of, in the order of the data."""
    left = _undenied_in(told)
    return next(
        (
            row
            for row, words in (_rough_words() if left else ())
            if any(words in clause and _is_said(words, clause) for clause in left)
        ),
        None,
    )


@cache
def _rough_words() -> tuple[tuple[dict[str, str], str], ...]:
    """The rows of rough ways with each of the words that they are told in."""
    return tuple((row, words) for row in rows("rough_ways") for words in parts(row["words"]))


def _undenied_in(text: str) -> list[str]:
    """The clauses of a text in small letters, each without what it denies."""
    clauses = pattern(r"[;.:()]|\bbut\b").split(text.lower())
    return [left for one in clauses if one.strip() and (left := undenied(one).strip())]


def _is_said(words: str, clause: str) -> bool:
    """True where a clause has the words, and fibre behind “the”: no tub is felt by a scrubbing."""
    for found in re.finditer(rf"\b{re.escape(words)}\b((?: [\w-]+){{0,2}})", clause):
        if not words.endswith(" the") or any(map(_is_fibre, found[1].split())):
            return True
    return False


def _is_fibre(word: str) -> bool:
    return word in SAID_OF_FIBRE or vocabulary().find(word, "form", "fibres") is not None


@rule("boiled-too-long", level="warning", family=FAMILY, source="common practice")
def boiled_too_long(study: Study) -> Iterator[Found]:
    """Wool that is kept at the boil for hours.

    It bears an hour or two if it lies still; then it grows harsh and thin.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to boil over 1 h for 10 h gently
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath from 30 °C to boil over 1 h for 1 h gently
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    longest = threshold("longest boil")
    boil = vocabulary().heats["boil"].low
    for moment, lot, state in in_liquor(study):
        fibre = felts(state)
        heat = moment.hottest
        if fibre is None or heat is None or heat < boil or moment.held is None:
            continue
        if "overnight" not in moment.step.manner and moment.held[0] > longest.value:
            yield at_node(
                moment.node,
                say(
                    "{lot} is kept at the boil for {held}.",
                    lot=study.thing(lot),
                    held=Span(moment.held[0]),
                ),
                say(
                    "An hour is enough for {fibre}; for a longer time, use a lower heat.",
                    fibre=fibre.name,
                ),
                source=longest.source,
            )


RULES = (
    heat_shock,
    bath_still_hot,
    heat_changed_fast,
    too_hot_for_fibre,
    stirred_hot,
    handled_roughly,
    boiled_too_long,
)
