"""Colour: what a vat is made of is in proportion, suits the fibre, and has time to turn."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.cold_vats import cold_for_vat
from procedure.facts.handling import told_apart
from procedure.facts.liquor import (
    Stuff,
    fact,
    has_role,
    heats_itself,
    is_known,
    is_vat,
    meetings,
    metal_of,
    names_unknown,
    pure,
    put_in,
    sensitive,
    stuff,
)
from procedure.facts.study import Study
from procedure.findings import Heat, Mass, Span, say
from procedure.quantity.interval import ZERO, Interval
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import BathState, Moment
from procedure.vocabulary.thresholds import threshold

FAMILY = "colour"
# From lukewarm to as hot as the hand bears it, in °C.
_WARM = Heat(Fraction(35), Fraction(50), worded=False)


def _first_dips(study: Study) -> Iterator[tuple[Moment, BathState]]:
    """Every vat made here, as it is when fibre goes into it for the first time."""
    told: set[tuple[str, int]] = set()
    for moment, _, _, bath in meetings(study):
        key = (moment.node.bath, bath.made)
        if key in told or not is_known(bath) or not is_vat(study, bath):
            continue
        told.add(key)
        put = {bath.made, *(content.node for content in bath.contents.values())}
        if not names_unknown(study, *put):
            yield moment, bath


def _grams(study: Study, bath: BathState, role: str) -> Interval | None:
    """Grams of all that plays a part in a bath; None where that is not known, or is nothing."""
    whole = ZERO
    for one in stuff(study, bath.contents):
        mine = fact(one, "dye_class") == "vat" if role == "vat dye" else role in one.made.roles
        if not mine or (role == "alkali" and fact(one, "strength") == "mild"):
            continue
        grams = pure(bath.contents[one.thing].grams, one.made)
        if grams is None or one.entry is None or (role == "vat dye" and one.made.state == "fresh"):
            return None  # how much indigo is in fresh leaves nobody knows
        whole = whole.plus(grams)
    return whole if whole.high > 0 else None


@rule("vat-out-of-proportion", level="warning", family=FAMILY, source="common practice")
def vat_out_of_proportion(study: Study) -> Iterator[Found]:
    """A vat with far too much or too little alkali or reducer: most likely a slip of the pen.

    Too little, and the indigo does not dissolve; too much alkali eats wool and silk, and too
    much reducer takes off the blue again. It is told where the amount is out of the way both
    in a litre of the vat and beside its indigo, or where alkali and reducer are both little beside
    an indigo that is then far too much. Plants and bran that feed a vat are not judged.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 200 g, reducer 15 g at 50 °C
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
    for moment, bath in _first_dips(study):
        indigo = _grams(study, bath, "vat dye")
        volume = bath.volume
        if indigo is None or volume is None or volume.low <= 0 or indigo.low <= 0:
            continue
        beside = {role: _grams(study, bath, role) for role in ("alkali", "reducer")}
        swamped = all(one is not None and _little(one, indigo) for one in beside.values())
        for role, grams in beside.items():
            strongest = role == "reducer" and _strongest(study, bath)
            amiss = None if grams is None else _amiss(grams, indigo, volume, strongest)
            if swamped and role == "reducer":
                amiss = "little"  # it is the indigo that is ten times too much
            if grams is None or amiss is None:
                continue
            thing = next(one.thing for one in stuff(study, bath.contents) if role in one.made.roles)
            procedure, place = put_in(study, bath.contents[thing].node, thing)
            yield Found(
                procedure,
                place,
                say(
                    "{vat} has {grams} of {stuff} to {indigo} of indigo: far too {much} {role}.",
                    vat=study.thing(moment.node.bath),
                    grams=Mass(*grams),
                    stuff=told_apart(study, thing),
                    role=role,
                    indigo=Mass(*indigo),
                    much=amiss,
                ),
                "See whether a figure slipped.",
                study.node(bath.contents[thing].node).calls,
                study.at(moment.node.id, "Fibre is dipped in it here."),
            )


def _strongest(study: Study, bath: BathState) -> bool:
    """True where only the strongest of reducers are in a vat."""
    every = stuff(study, bath.contents)
    reducers = [one for one in every if "reducer" in one.made.roles]
    return bool(reducers) and all(map(heats_itself, reducers))


def _amiss(grams: Interval, indigo: Interval, volume: Interval, strongest: bool) -> str | None:
    """“much” or “little” where an amount is so both in a litre and beside the indigo."""
    least = grams.low / indigo.high
    thin, thick = grams.high / volume.low, grams.low / volume.high
    strong = _limit("strong vat reducer" if strongest else "strong vat stuff")
    if least > threshold("much beside indigo").value and thick > strong:
        return "much"
    if _little(grams, indigo) and thin < _limit("weak vat stuff"):
        return "little"
    return None


def _little(grams: Interval, indigo: Interval) -> bool:
    return grams.high / indigo.low < threshold("little beside indigo").value


def _limit(name: str) -> Fraction:
    return threshold(name).value


@rule("lime-vat-for-wool", level="warning", family=FAMILY, source="common practice")
def lime_vat_for_wool(study: Study) -> Iterator[Found]:
    """Wool or silk in a vat that is made with as much lime as indigo, or more.

    Lime hardens wool and is hard to rinse out of it. Most of Mairet's vats of lime are for
    cotton and linen (1938, ch. X); of one for wool, made with tin and zinc, it says that pearl ash
    serves instead of lime (ch. V). Such a vat is the book's own, and only noted.

    Trips:
        materials
          lime: slaked lime
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 5 g, lime 10 g, reducer 15 g at 50 °C
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
    told: set[tuple[str, str]] = set()
    for moment, lot, state, bath in meetings(study):
        fibre = sensitive(state)
        if fibre is None or not is_known(bath) or not is_vat(study, bath):
            continue
        indigo = _grams(study, bath, "vat dye")
        for one in stuff(study, bath.contents):
            grams = bath.contents[one.thing].grams
            if not _lime(one):
                continue
            if grams is None or indigo is None or grams.high < indigo.low or (lot, "") in told:
                continue
            told.add((lot, ""))
            yield at_node(
                moment.node,
                say(
                    "{lot} is of {fibre} and goes into a vat made with {lime}, which hardens it.",
                    lot=study.thing(lot),
                    fibre=fibre.name,
                    lime=one.named,
                ),
                "Use soda ash or pearl ash instead, or keep this vat for cotton and linen.",
                related=study.at(bath.contents[one.thing].node, "The lime was put in here."),
                level="note" if _of_tin(study, bath) else "",
            )


def _of_tin(study: Study, bath: BathState) -> bool:
    """True for a vat that tin reduces, as that of the handbook for wool."""
    return any(metal_of(one.entry) == "tin" for one in stuff(study, bath.contents))


def _lime(one: Stuff) -> bool:
    """True for a strong alkali of calcium: lime, burnt or slaked."""
    return fact(one, "strength") == "strong" and fact(one, "formula").startswith("Ca")


@rule("lye-vat-for-wool", level="warning", family=FAMILY, source="Mairet 1938, ch. V")
def lye_vat_for_wool(study: Study) -> Iterator[Found]:
    """Wool or silk in a vat that is made with lye, of soda or of potash.

    Mairet has a vat for wool with hydrosulphite and caustic soda, and says of it that the soda
    must always be used with the greatest caution, or the yarn will be tendered and ruined; the yarn
    goes through weak acid afterwards (1938, ch. V).

    Trips:
        materials
          lye: caustic soda
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 10 g, lye 8 g, reducer 15 g at 30 °C
          stand vat for 1 h covered labelled
          dip yarn in vat at 30 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 10 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    told: set[str] = set()
    for moment, lot, state, bath in meetings(study):
        fibre = sensitive(state)
        if fibre is None or lot in told or not is_known(bath) or not is_vat(study, bath):
            continue
        for one in stuff(study, bath.contents):
            if "alkali" not in one.made.roles or fact(one, "strength") != "strong" or _lime(one):
                continue
            told.add(lot)
            yield at_node(
                moment.node,
                say(
                    "{lot} is of {fibre} and goes into a vat made with {lye}, which eats it where "
                    "there is more than the blue needs.",
                    lot=study.thing(lot),
                    fibre=fibre.name,
                    lye=one.named,
                ),
                "Use soda ash instead, or no more than dissolves the blue, and rinse with a "
                "little vinegar.",
            )
            break


@rule("vat-time-unstated", level="warning", family=FAMILY, source="Mairet 1938, ch. V and X")
def vat_time_unstated(study: Study) -> Iterator[Found]:
    """A new vat that is dipped in as soon as it is made, without a word on how long it stands.

    Indigo takes a quarter of an hour with the strongest reducer, and a night or days with
    others, before it is dissolved; until then the fibre takes up blue dust. What only bran or
    plants reduce must ferment first, for a day at the least. Where the vat stands and it is only
    not said for how long, that is noted.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered until "it is yellow-green under a coppery skin"
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    for moment, bath in _first_dips(study):
        first = _reduced_by(study, moment.node.bath, bath)
        ferments = _only_ferments(study, bath)
        wait = threshold("vat ferments" if ferments else "vat reduces")
        if first is None or _waited(study, moment, first, wait.value, ferments) >= wait.value:
            continue
        yield at_node(
            moment.node,
            say(
                "{vat} is dipped in before it can have begun to ferment, which takes {wait} "
                "at the least."
                if ferments
                else "{vat} is dipped in as soon as it is made, and needs time before: "
                "{wait} at the least.",
                vat=study.thing(moment.node.bath),
                wait=Span(wait.value),
            ),
            say(
                "Say how long it stands, and by what it is known to be ready: "
                '“stand {vat} for {time} covered until "it is yellow-green"”.',
                vat=study.thing(moment.node.bath),
                time="2 d" if ferments else "1 h",
            ),
            related=study.at(first, "Its reducer went in here."),
            source=wait.source,
            level="note" if _rested(study, moment, first) else "",
        )


def _rested(study: Study, dip: Moment, since: int) -> bool:
    """True where a vat is left to itself between two steps, for a time that nobody says."""
    between = [one for one in study.moments if since <= one.node.id < dip.node.id]
    return any(
        one.minutes is None
        and one.node.bath == dip.node.bath
        and (one.node.does.settles or one.node.does.keeps_heat or one.node.does.warms)
        for one in between
    )


@rule("vat-ferments-cold", level="note", family=FAMILY, source="Mairet 1916, ch. VI")
def vat_ferments_cold(study: Study) -> Iterator[Found]:
    """A vat of bran, madder or other plants that is left to ferment in the cold.

    What lives in it wants to be lukewarm at the least; in the cold it sleeps, and the indigo
    stays blue at the bottom.

    Trips:
        materials
          bran: wheat bran
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, bran 30 g at 40 °C
          stand vat at 12 °C for 4 d covered labelled
          heat vat to 45 °C
          dip yarn in vat at 45 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain"
    Cure:
        materials
          bran: wheat bran
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, bran 30 g at 40 °C
          stand vat at 35 to 45 °C for 4 d covered labelled
          heat vat to 45 °C
          dip yarn in vat at 45 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain"
    """
    least = threshold("ferment heat")
    dipped = {
        moment.node.bath: moment
        for moment, bath in _first_dips(study)
        if _only_ferments(study, bath)
    }
    for moment in study.moments:
        dip = dipped.get(moment.node.bath)
        if dip is None or moment.node.id > dip.node.id or not moment.node.does.left_covered:
            continue
        said = moment.step.at is not None or moment.step.to is not None
        if not said or moment.heat is None or moment.heat.high >= least.value:
            continue
        yield at_node(
            moment.node,
            say(
                "{vat} is left to ferment at {heat}, and hardly does in the cold.",
                vat=study.thing(moment.node.bath),
                heat=Heat(moment.heat.low, moment.heat.high),
            ),
            say("Keep it warm, at {heat}.", heat=_WARM),
            source=least.source,
        )


def _only_ferments(study: Study, bath: BathState) -> bool:
    """True where nothing reduces a vat but what feeds its ferment."""
    roles = [{*one.made.roles, fact(one, "also")} for one in stuff(study, bath.contents)]
    reduced = any("reducer" in mine for mine in roles)
    return not reduced and any("food for ferment" in mine for mine in roles)


def _reduced_by(study: Study, name: str, bath: BathState) -> int | None:
    """The step that first put a reducer, or what feeds a vat, into a bath."""
    things = {
        one.thing
        for one in stuff(study, bath.contents)
        if {"reducer", "food for ferment"} & set(one.made.roles)
    }
    for moment in study.moments:
        if moment.node.bath == name and any(thing in things for thing, _, _ in moment.amounts):
            return moment.node.id
    return None


def _waited(study: Study, dip: Moment, since: int, need: Fraction, ferments: bool) -> Fraction:
    """Minutes between two steps, at the least; a sign that is waited for is long enough.

    So is a night for what a reducer reduces, and a note where no time is said beside it.
    """
    minutes, counting = Fraction(0), False
    for moment in study.moments:
        if moment is dip:
            break
        counting = counting or moment.node.id == since
        if not counting:
            continue
        step = moment.step
        until = step.until is not None and moment.node.bath == dip.node.bath
        told = step.note and moment.node.bath == dip.node.bath
        if until or (told and not (ferments and moment.minutes is not None)):
            return need
        if step.manner & {"overnight", "until-next-day"} and not ferments:
            return need
        minutes += moment.minutes.low if moment.minutes is not None else Fraction(0)
    return minutes


@rule("vat-dipped-cold", level="warning", family=FAMILY, source="Mairet 1938, ch. V")
def vat_dipped_cold(study: Study) -> Iterator[Found]:
    """A vat that sugar or a like reducer keeps, dipped in when it is as cold as tap water.

    In the cold the reducer stops, and the blue falls out of the liquor. Vats of copperas
    or zinc are worked cold, and fresh leaves in cold water are no vat.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat for 1 h covered
        cool vat to 12 °C
        dip yarn in vat at 12 °C for 10 min
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
    cold = threshold("cold vat")
    told: set[str] = set()
    for moment, _, _, bath in meetings(study):
        name = moment.node.bath
        if name in told or not moment.node.does.dips or not is_known(bath):
            continue
        said = cold_for_vat(study, moment, bath)
        if said is None:
            continue
        told.add(name)
        yield at_node(
            moment.node,
            say(
                "{vat} is dipped in at {heat}, and hardly reduces in the cold.",
                vat=study.thing(name),
                heat=Heat(*said),
            ),
            say("Warm it again first, and dip in it at {heat}.", heat=_WARM),
            source=cold.source,
        )


@rule("acid-in-the-vat", level="warning", family=FAMILY, source="common practice")
def acid_in_the_vat(study: Study) -> Iterator[Found]:
    """Vinegar or another acid put into a vat in which fibre is still to be dipped.

    It takes away the alkali, and the blue falls out of the liquor: fibre is soured after the
    last dip, in water of its own.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        add vinegar 200 mL to vat
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
    for moment, bath in _first_dips(study):
        if not has_role(study, bath.contents, "alkali", "buffer"):
            continue
        for one in stuff(study, bath.contents):
            roles = {*one.made.roles, fact(one, "also")}
            if "acid" not in one.made.roles or roles & {"reducer", "alkali", "food for ferment"}:
                continue
            yield at_node(
                study.node(bath.contents[one.thing].node),
                say(
                    "{acid} is an acid, and takes away the alkali that {vat} needs.",
                    acid=study.thing(one.thing),
                    vat=study.thing(moment.node.bath),
                ),
                "Leave it out here; rinse with a little of it after the last dip.",
                related=study.at(moment.node.id, "Fibre is dipped in it here."),
            )


RULES = (
    vat_dipped_cold,
    acid_in_the_vat,
    vat_out_of_proportion,
    lime_vat_for_wool,
    lye_vat_for_wool,
    vat_time_unstated,
    vat_ferments_cold,
)
