"""Rinsing: fibre that is dry and is wetted again, and iron that goes from lot to lot in a tub."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.left_in_waters import metals_of
from procedure.facts.study import Study
from procedure.findings import listed, say
from procedure.rules.rinse import finished
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment

FAMILY = "rinse"


@rule("wet-again-at-the-end", level="warning", family=FAMILY, source="common practice")
def wet_again_at_the_end(study: Study) -> Iterator[Found]:
    """Fibre that is dried and then goes into a water as the last thing done to it.

    It is left wet; most likely the rinse is below the drying by a slip.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        cool gold-bath to 30 °C
        strain gold-bath
        dye yarn in gold-bath at 85 °C for 1 h
        lift yarn
        dry yarn
        discard gold-bath to "foul drain"
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        cool gold-bath to 30 °C
        strain gold-bath
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        dry yarn
        discard gold-bath to "foul drain"
    """
    for lot, state in finished(study):
        if state.possibly("dry") is not None or not state.dyes:
            continue
        dried: Moment | None = None
        water: Moment | None = None
        for moment in study.moments:
            if lot not in (*moment.node.lots, *moment.entering):
                continue
            if moment.node.does.dries:
                dried, water = moment, None
            elif moment.node.does.rinses or moment.node.does.washes:
                water = water or moment
            elif moment.node.does.meets_bath or moment.node.does.wets:
                dried = None
        if dried is None or water is None:
            continue
        yield at_node(
            water.node,
            say(
                "{lot} is dry when it goes into this water, and is left wet.", lot=study.thing(lot)
            ),
            say(
                "Rinse it before it is dried, or write “dry {lot}” at the end.",
                lot=study.thing(lot),
            ),
            related=study.at(dried.node.id, "It was dried here."),
        )


@rule("left-wet", level="note", family=FAMILY, source="common practice")
def left_wet(study: Study) -> Iterator[Found]:
    """Dyed fibre of which the last word is that it is rinsed or washed.

    Whoever follows it to the letter leaves it in the tub, where it marks and goes sour.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        cool gold-bath to 30 °C
        strain gold-bath
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        cool gold-bath to 30 °C
        strain gold-bath
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        dry yarn
        discard gold-bath to "foul drain"
    """
    for lot, state in finished(study):
        node = study.node(state.last)
        water = node.does.rinses or node.does.washes
        if not state.dyes or not water or state.dried_by >= 0 or node.calls:
            continue
        yield at_node(
            node,
            say("{lot} is left wet in its last water.", lot=study.thing(lot)),
            say("Say that it is taken out and dried: “dry {lot}”.", lot=study.thing(lot)),
        )


@rule("only-wetted", level="warning", family=FAMILY, source="common practice")
def only_wetted(study: Study) -> Iterator[Found]:
    """Fibre that is wetted out with other lots, and with which nothing is done after that.

    “Soak the fibre” is of all the fibre that is declared; most likely only the lots that go on
    were meant, or a step on the others is missing.

    Trips:
        wet out yarn, silk in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn, silk in tub with water 5 L for 1 h
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        dye yarn, silk in gold-bath at 85 °C for 1 h
        rinse yarn, silk in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    left: dict[int, list[str]] = {}
    for lot, state in finished(study):
        if study.node(state.last).does.wets:
            left.setdefault(state.last, []).append(lot)
    for number, lots in left.items():
        node = study.node(number)
        if node.calls or len(lots) == len(node.lots):
            continue  # nothing but a soak is told there
        yield at_node(
            node,
            say(
                "Of what is wetted out here, nothing more is done with {lots}.",
                lots=listed(study.thing(lot) for lot in lots),
            ),
            "Name only the lots that go on, or write what is done with the others.",
        )


@rule("iron-in-the-tub", level="warning", family=FAMILY, source="Mairet 1916, ch. II")
def iron_in_the_tub(study: Study) -> Iterator[Found]:
    """A tub in which fibre was rinsed of iron, and then other fibre, with no cleaning between.

    The least trace of iron dulls reds, yellows and oranges.

    Trips:
        wet out yarn, silk in tub with water 5 L for 1 h
        grey-bath: prepare in pan with water 6 L, iron 2 g
        modify silk in grey-bath at 60 °C for 20 min
        rinse silk in tub with water 5 L
        rinse yarn in tub with water 5 L
        discard grey-bath to "foul drain"
    Cure:
        wet out yarn, silk in tub with water 5 L for 1 h
        grey-bath: prepare in pan with water 6 L, iron 2 g
        modify silk in grey-bath at 60 °C for 20 min
        rinse silk in tub with water 5 L
        clean tub
        rinse yarn in tub with water 5 L
        discard grey-bath to "foul drain"
    """
    stained: dict[str, tuple[Moment, str]] = {}
    told: set[str] = set()
    for moment in study.moments:
        for pot in moment.node.cleaned:
            stained.pop(pot, None)
        pot = moment.node.pot if moment.node.own_water else ""
        if moment.step.does.washes_out:
            pot = pot or moment.node.bath  # a water that several lots are rinsed in
        if not pot:
            continue
        loose = [lot for lot in moment.node.lots if _iron(study, moment, lot, loose=True)]
        others = [lot for lot in moment.node.lots if not _iron(study, moment, lot, loose=False)]
        first, rinsed = stained.get(pot, (None, ""))
        if others and first is not None and pot not in told:
            told.add(pot)
            yield at_node(
                moment.node,
                say(
                    "{lot} goes into {tub}, in which {other} was rinsed of its iron.",
                    lot=study.thing(others[0]),
                    tub=study.thing(pot),
                    other=study.thing(rinsed),
                ),
                say("Clean it first: “clean {tub}”.", tub=study.thing(pot))
                if moment.node.own_water
                else "Take fresh water for it.",
                related=study.at(first.node.id, "The iron was rinsed out here."),
            )
        if loose:
            stained[pot] = moment, loose[0]


def _iron(study: Study, moment: Moment, lot: str, *, loose: bool) -> bool:
    """Whether a lot has taken up iron, or carries it loose, when it comes to a step."""
    return "iron" in metals_of(study, moment, lot, loose=loose)


RULES = (
    wet_again_at_the_end,
    left_wet,
    only_wetted,
    iron_in_the_tub,
)
