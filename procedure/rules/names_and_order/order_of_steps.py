"""Order: what is used has been made, is still there, and is gone in the end."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Pointer, Study
from procedure.findings import LineNumber, Mass, Says, Several, listed, say
from procedure.flow import Slip
from procedure.flow.graph import FlowNode
from procedure.model import Place, Step
from procedure.rules.names_and_order.one_name_each import PRACTICE
from procedure.rules.rule import Found, at_node, from_slip, on_way, rule
from procedure.wording.samples import shown

FAMILY = "names and order"


@rule("used-before-made", level="error", family=FAMILY, source="the language reference")
def used_before_made(study: Study) -> Iterator[Found]:
    """A bath or a lot that is used before the step that makes it.

    The steps are in the wrong order.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        mordant yarn in alum-bath at 85 °C for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("used before made"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is used here, before it is made.", name=slip.name.text),
            "Move this step below the one that makes it.",
            "It is made here.",
        )
    for slip in study.slips("made on one way"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is used here, but it is only made {path}.",
                name=slip.name.text,
                path=slip.path,
            ),
            "Make it on both ways, or use it inside the same “if”.",
            "It is made here.",
        )


@rule("used-after-emptied", level="error", family=FAMILY, source="the language reference")
def used_after_emptied(study: Study) -> Iterator[Found]:
    """A bath that is used after it was thrown away or used up.

    There is nothing left of it.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("used after emptied"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is used here, but it is gone by then{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            "Move this step up, or make the bath anew.",
            "It goes away here.",
        )
    for slip in study.slips("empty pot"):
        yield from_slip(
            study,
            slip,
            say("There is no bath in “{name}” at this step.", name=slip.name.text),
            _settled(study, slip)
            or _made_instead(slip)
            or _named_before(study, slip)
            or "Prepare a bath in it first, or say with what: “with water ...”.",
        )


def _settled(study: Study, slip: Slip) -> Says | None:
    """What to write of the sediment in a pot whose clear liquor was poured off."""
    pot = slip.name.text
    before = study.flow.nodes[: slip.node.id] if slip.node is not None else []
    held = [
        node
        for node in before
        if node.procedure is slip.procedure and node.names.get(pot, "") == node.pot != ""
    ]
    if not held or not (held[-1].to_pot and held[-1].does.strains):
        return None
    return shown(
        "What is left there is what has settled. Scrub it out, “clean {vessel}”, and say in a "
        "note where it goes; or pour water on it as a new bath, “{bath}: prepare in {vessel} "
        "with water {much_water}”.",
        vessel=pot,
        bath=pot + "-bath",
    )


def _named_before(study: Study, slip: Slip) -> Says | None:
    """What to write where the water that fibre was scoured in is spoken of afterwards."""
    pot = slip.name.text
    for node in study.flow.nodes:
        if slip.node is None or node.id >= slip.node.id:
            break
        within = node.step.within if node.own_water and isinstance(node.step, Step) else None
        if within is not None and within.name is not None and within.name.text == pot:
            return shown(
                "The water of {line} is no bath by itself. Make one of it above that line, "
                "“{bath}: prepare in {vessel} with water {much_water}”, and write {bath} in both.",
                line=LineNumber(node.step.place.line),
                bath=pot + "-bath",
                vessel=pot,
            )
    return None


def _made_instead(slip: Slip) -> Says | None:
    """What to write where something is added to a pot with nothing in it."""
    if slip.node is None or not slip.node.does.adds:
        return None
    pot = slip.name.text
    return shown(
        "Make the bath first: “{bath}: prepare in {vessel} with water {much_water}”.",
        bath=pot + "-bath",
        vessel=pot,
    )


@rule("in-a-circle", level="error", family=FAMILY, source="the language reference")
def in_a_circle(study: Study) -> Iterator[Found]:
    """Steps that each wait for the other.

    Nobody can begin.

    Trips:
        soak: wet out yarn in tub with water 5 L for 1 h after last
        last: rinse yarn in tub with water 5 L
    Cure:
        soak: wet out yarn in tub with water 5 L for 1 h
        last: rinse yarn in tub with water 5 L after soak
    """
    circle = study.flow.cycle
    if circle:
        said = tuple(LineNumber(node.step.place.line) for node in circle)
        pointers = tuple(
            Pointer(node.procedure, node.step.place, "This step is part of the circle.")
            for node in circle[1:]
        )
        # The order by hand is what closes the circle, so it is the place to look.
        last = next((n for n in circle if getattr(n.step, "after", ())), circle[0])
        yield at_node(
            last,
            say(
                "These steps go round in a circle: {steps}, and back to {first}.",
                steps=Several(said, ", then ", ", then "),
                first=said[0],
            ),
            "Remove the “after” that closes the circle.",
            related=pointers,
        )


@rule("lot-in-two-places", level="error", family=FAMILY, source="the language reference")
def lot_in_two_places(study: Study) -> Iterator[Found]:
    """Fibre that is used under its old name after it was split or joined, or twice in one step.

    One lot cannot be in two places.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into gold 50 g, moss 50 g
        rinse yarn in tub with water 5 L
        dry gold, moss
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        split yarn into gold 50 g, moss 50 g
        rinse gold, moss in tub with water 5 L
        dry gold, moss
    """
    for slip in study.slips("lot gone"):
        yield from_slip(
            study,
            slip,
            say(
                "There is no “{name}” any more: it was divided or joined with others{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            "Use the names of the new lots.",
            "It was divided or joined here.",
        )
    for slip in study.slips("lot twice"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is named twice in this step.", name=slip.name.text),
            "Name it once.",
        )


@rule("divided-again", level="error", family=FAMILY, source="common practice")
def divided_again(study: Study) -> Iterator[Found]:
    """A lot that is divided when it was divided before.

    Nothing of it is left under that name; it is one of its parts that is meant.

    Trips:
        split yarn into gold 50 g, moss 50 g
        split yarn into pale 20 g, deep 80 g
        dry gold, moss
    Cure:
        split yarn into gold 50 g, moss 50 g
        split moss into pale 20 g, deep 30 g
        dry gold, pale, deep
    """
    for slip in study.slips("split again"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” was divided already{way}, so it cannot be divided again.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            say("Divide one of its parts, which are called {wanted}.", wanted=slip.wanted),
            "It was divided here.",
        )


@rule("split-does-not-add-up", level="error", family=FAMILY, source="common practice")
def split_does_not_add_up(study: Study) -> Iterator[Found]:
    """A split whose parts weigh more or less than the lot.

    A skein is missing from the account, so every amount after it is wrong.

    Trips:
        split yarn into gold 60 g, moss 60 g
        dry gold, moss
    Cure:
        split yarn into gold 50 g, moss 50 g
        dry gold, moss
    """
    for node, lot, weight, parts in study.trace.split_sums:
        yield at_node(
            node,
            say(
                "{lot} weighs {weight}, but its parts come to {parts}.",
                lot=study.thing(lot),
                weight=Mass(*weight),
                parts=Mass(*parts),
            ),
            "Put the weights right, or leave the last one out: it is then what remains.",
        )


@rule("divided-in-its-bath", level="warning", family=FAMILY, source="the language reference")
def divided_in_its_bath(study: Study) -> Iterator[Found]:
    """Fibre that is divided while it lies in a bath, of which a part is lifted out of it later.

    To be divided it comes out, and its parts lie in no bath from then on: what is added to the
    bath, or how long it is kept hot, is nothing to them.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        weld-bath: prepare in kettle with water 3 L, weld 100 g
        dye yarn in weld-bath at 80 °C for 1 h
        split yarn into light 50 g, dark
        lift light
        hold weld-bath at 80 °C for 1 h
        lift dark
        rinse light, dark in tub with water 5 L
        discard weld-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        weld-bath: prepare in kettle with water 3 L, weld 100 g
        split yarn into light 50 g, dark
        dye light, dark in weld-bath at 80 °C for 1 h
        lift light
        hold weld-bath at 80 °C for 1 h
        lift dark
        rinse light, dark in tub with water 5 L
        discard weld-bath to "foul drain"
    """
    out_of: dict[str, tuple[str, FlowNode]] = {}
    pots: dict[str, str] = {}
    told: set[int] = set()
    for moment in study.moments:
        node = moment.node
        if moment.bath_after is not None:
            pots[node.bath] = moment.bath_after.pot
        if node.does.splits:
            lain = [moment.before.lots[lot].bath for lot in node.lots if lot in moment.before.lots]
            out_of |= {part: (bath, node) for bath in lain if bath for part in node.makes}
            continue
        for lot in [lot for lot in node.lots if lot in out_of]:
            bath, split = out_of.pop(lot)
            if node.does.takes_out and split.id not in told:
                told.add(split.id)
                yield at_node(
                    node,
                    say(
                        "{lot} is in no bath here: it came out of {bath} when it was divided.",
                        lot=study.thing(lot),
                        bath=study.thing(bath),
                    ),
                    say(
                        "Divide it before it goes in, or write “enter {lots} in {pot}” behind the "
                        "line that divides it.",
                        lots=listed([study.thing(part) for part in split.makes], last=", "),
                        pot=pots.get(bath, bath),
                    ),
                    related=study.at(split.id, "It is divided here."),
                )


@rule("in-it-already", level="warning", family=FAMILY, source="the language reference")
def in_it_already(study: Study) -> Iterator[Found]:
    """Fibre that is put into a bath in which it lies.

    A step that takes it out is missing, or one that puts it in is written twice.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        enter yarn in alum-bath
        hold alum-bath at 40 °C for 1 h
        enter yarn in alum-bath
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        enter yarn in alum-bath
        hold alum-bath at 40 °C for 1 h
        lift yarn from alum-bath
        enter yarn in alum-bath
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    told: set[int] = set()
    for moment in study.moments:
        node, step = moment.node, moment.step
        if node.id in told or not node.bath or step.lasting or step.at or step.verb is None:
            continue
        does = step.verb.does
        if not does.bath_after_into or does.fibre_out_after or does.stays_in_its_bath:
            continue  # it is no step that only puts it in: dipped, it comes out again
        there = [
            lot
            for lot in node.lots
            if lot in moment.before.lots and moment.before.lots[lot].bath == node.bath
        ]
        if there:
            told.add(node.id)
            yield at_node(
                node,
                say(
                    "{lot} is in {bath} already.",
                    lot=study.thing(there[0]),
                    bath=study.thing(node.bath),
                ),
                say(
                    "Take it out before, “lift {lot} from {bath}”, or leave this step out.",
                    lot=study.thing(there[0]),
                    bath=study.thing(node.bath),
                ),
            )


@rule("not-in-that-bath", level="warning", family=FAMILY, source="common practice")
def not_in_that_bath(study: Study) -> Iterator[Found]:
    """Fibre that is taken out of a bath in which it does not lie, or that lies in none.

    A step that puts it in is missing, or the name is of another lot. Fibre that was dipped,
    wetted or rinsed may be lifted out of what it was in, though that is no bath any more.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        lift yarn from alum-bath
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
        cool alum-bath to 30 °C
        lift yarn from alum-bath
        rinse yarn in tub with water 5 L at 30 °C
        discard alum-bath to "foul drain"
    """
    been: dict[str, set[str]] = {}
    told: set[int] = set()
    yield from _in_no_bath(study)
    for moment in study.moments:
        node, step = moment.node, moment.step
        if node.bath:
            been.setdefault(node.bath, set()).update(moment.entering)
        source = step.source.name if step.source is not None else None
        if node.id in told or not node.does.takes_out or source is None:
            continue
        bath = node.names.get(source.text, "")
        if bath not in study.flow.baths:
            continue
        inside = been.get(bath, set())
        absent = [
            lot
            for lot in node.lots
            if lot not in inside
            and lot in moment.before.lots
            and moment.before.lots[lot].bath != bath
            # What was divided in its bath came out of it then: divided-in-its-bath tells.
            and inside.isdisjoint(study.flow.lots[lot].parts)
        ]
        if absent:
            told.add(node.id)
            yield at_node(
                node,
                say(
                    "{lot} is taken out of {bath}, and never went into it.",
                    lot=study.thing(absent[0]),
                    bath=study.thing(bath),
                ),
                say(
                    "Put it in before, “enter {lot} in {bath}”, or leave its name out here.",
                    lot=study.thing(absent[0]),
                    bath=study.thing(bath),
                ),
            )


def _is_unsure(node: FlowNode) -> bool:
    """True behind the first line of its procedure that nobody could read."""
    unread = node.procedure.unread_steps
    return bool(unread) and unread[0].line < node.step.place.line


def _in_no_bath(study: Study) -> Iterator[Found]:
    """Fibre that is lifted, with no word of what out of, and was in nothing since it hung or lay
    in the air, or from the first; of what a line that nobody can read does, nothing is known."""
    # Fibre that was put into what nobody knows is somewhere; that name has its own finding.
    lost = {lot for slip in study.flow.slips if slip.node is not None for lot in slip.node.lots}
    handled: dict[str, bool] = {}  # what lots there are knowledge of, and if they lie in nothing
    waiting: dict[str, None] = {}  # the baths that are there, in the order in which they came
    told: set[int] = set()
    for moment in study.moments:
        node, does = moment.node, moment.node.does
        if node.makes and node.bath:
            waiting.pop(node.bath, None)
            waiting[node.bath] = None
        if (does.empties or does.stores) and node.bath in waiting and moment.bath_after is None:
            del waiting[node.bath]
        lots = [lot for lot in node.lots if lot in moment.before.lots and lot not in lost]
        absent = [
            lot for lot in lots if handled.get(lot, True) and not moment.before.lots[lot].bath
        ]
        unsaid = does.takes_out and moment.step.source is None
        if absent and unsaid and node.id not in told and not (_is_unsure(node) or node.calls):
            told.add(node.id)
            last = next(reversed(waiting), "")
            yield at_node(
                node,
                say("{lot} is in no bath here.", lot=study.thing(absent[0])),
                say(
                    "Put it in before, “enter {lot} in {bath}”, or leave this step out.",
                    lot=study.thing(absent[0]),
                    bath=study.thing(last),
                )
                if last and " " not in study.called(last)
                else "Write above it what it is put into, or leave this step out.",
            )
        if does.stays_in_its_bath:
            continue
        in_air = does.takes_out or (does.in_air and not does.presses)
        for lot in (*lots, *node.makes):
            handled[lot] = bool(absent) if does.splits or does.joins else in_air


@rule("left-in-bath", level="error", family=FAMILY, source="common practice")
def left_in_bath(study: Study) -> Iterator[Found]:
    """Fibre that is still in a bath at the end.

    Nothing says when to take it out.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("left in bath"):
        bath = study.thing(slip.wanted)
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” goes into {bath} here and is never taken out.",
                name=slip.name.text,
                bath=bath,
            ),
            "Lift it, rinse it or dry it at the end.",
        )


@rule("fibre-still-in-it", level="warning", family=FAMILY, source=PRACTICE)
def fibre_still_in_it(study: Study) -> Iterator[Found]:
    """A bath that is thrown away while fibre lies in it.

    The steps have changed places, or one that takes the fibre out is missing; the
    reader pours the skeins into the drain.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        discard alum-bath to "foul drain"
        rinse yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        mordant yarn in alum-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("fibre thrown away"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is thrown away while {wanted} is still in it.",
                name=slip.name.text,
                wanted=slip.wanted,
            ),
            say("Take {wanted} out first: lift it or rinse it.", wanted=slip.wanted),
            "It goes in, or stays in, here.",
        )


@rule("bath-left-over", level="warning", family=FAMILY, source="common practice")
def bath_left_over(study: Study) -> Iterator[Found]:
    """A bath that is neither thrown away nor kept.

    Someone finds a pot of liquor and does not know what is in it.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for slip in study.slips("bath left over"):
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” is neither discarded nor kept in the end{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            # A bath that was given no name is called by its pot, and nobody can write that.
            say("End with “discard {name} to ...” or “keep {name} as ...”.", name=slip.name.text)
            if " " not in slip.name.text
            else "Give the bath a name of its own, and end with discard or keep.",
        )


@rule("pot-not-free", level="error", family=FAMILY, source="common practice")
def pot_not_free(study: Study) -> Iterator[Found]:
    """A pot that is filled or cleaned while another bath is still in it.

    It cannot be done as written.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard alum-bath to "foul drain"
        discard gold-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
        clean kettle
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        discard gold-bath to "foul drain"
    """
    told: set[tuple[str, int, str]] = set()
    for slip in study.slips("pot full"):
        made = slip.other[1].place.line if slip.other is not None else 0
        bath = (slip.procedure.key, made, slip.name.text)
        if made and bath in told:
            continue  # one bath that stays in its pot is one mistake
        told.add(bath)
        yield from_slip(
            study,
            slip,
            say(
                "“{name}” still holds another bath at this step{way}.",
                name=slip.name.text,
                way=on_way(slip.path),
            ),
            _make_room(study, slip),
            "That bath was made here.",
        )


def _make_room(study: Study, slip: Slip) -> Says | str:
    """What to do about a full pot; two liquors may be meant to go together, by their names."""
    node = slip.node
    if node is None or not node.does.strains or slip.other is None or not node.bath:
        return "Discard that bath first, or use another pot."
    made = slip.other[1].place
    held = next(
        (name for name, number in study.flow.baths.items() if _made_at(study, number) == made), ""
    )
    if not held or " " in held:
        return "Discard that bath first, or use another pot."
    return say(
        "Discard that bath first, or use another pot; where the two are to go together, name that "
        "bath: “strain {bath} into {held}”.",
        bath=study.thing(node.bath),
        held=study.thing(held),
    )


def _made_at(study: Study, number: int) -> Place | None:
    return study.flow.nodes[number].step.place if number >= 0 else None


RULES = (
    used_before_made,
    used_after_emptied,
    in_a_circle,
    lot_in_two_places,
    divided_again,
    split_does_not_add_up,
    divided_in_its_bath,
    in_it_already,
    not_in_that_bath,
    left_in_bath,
    fibre_still_in_it,
    bath_left_over,
    pot_not_free,
)
