"""What comes after what, and how long it may wait in between."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from math import ceil

from procedure.facts.handling import deadly, plants_left_in
from procedure.facts.liquor import metals_in
from procedure.pipeline import Judged
from procedure.timetable.gathered import Gathered
from procedure.timetable.heat_of_vats import may_be_warm
from procedure.timetable.in_baths import in_a_bath, lies_in_a_bath, spoils
from procedure.timetable.poured_away import poured_in_part
from procedure.timetable.standing_baths import warm_for
from procedure.timetable.turns_at_a_vat import TurnsAtVats
from procedure.timetable.usual import Wait, waiting, waits
from procedure.timetable.work import ActivityPlace, Lag, Lies, Point, WarmAgain
from procedure.timetable.written_out import Turn
from procedure.trace import Moment
from procedure.trace.states import BathState
from procedure.trace.uptake import has_role, is_vat, material
from procedure.vocabulary import vocabulary

_A_NIGHT = 12 * 60
_HARMFUL, _DEADLY = "bath of a plant that harms", "bath of a deadly plant"


class FreeWords:
    """Keeps steps in free words where they are written: after what is before them.

    Nobody knows what “write down the colour” is about but that it comes where it does. So
    it comes after the step before it and after every such step, and what is done next to
    the same lots, baths and pots comes after it. One that says with what it is done (“with
    beech”) is about that alone: it waits for nothing else, however long other lots dry.
    """

    def __init__(self) -> None:
        self.last: Turn | None = None
        self.before: Turn | None = None
        self.about: dict[str, list[Turn]] = {}
        self.unbound: list[Turn] = []
        self.touched: dict[str, Turn] = {}

    def turn(self, turn: Turn) -> list[Turn]:
        """The steps that have to be over before this one for the sake of free words."""
        free = turn.node.kind == "do"
        named = _named(turn) if free else ()
        found: list[Turn] = []
        if free and not named:
            found = [each for each in (self.last, self.before) if each is not None]
            things = _things(self.before) if self.before is not None else ()
            for thing in things:
                self.about.setdefault(thing, []).append(turn)
            if not things:
                self.unbound.append(turn)
            self.last = turn
            return found
        for thing in named or _things(turn):
            found += self.about.pop(thing, [])
            if free and thing in self.touched and thing not in turn.node.lots:
                found.append(self.touched[thing])
            self.touched[thing] = turn
        found += self.unbound
        if free:
            for thing in named:
                self.about[thing] = [turn]
        else:
            self.unbound = []
            self.before = turn
        return list({each.key: each for each in found}.values())


def _named(turn: Turn) -> tuple[str, ...]:
    """The lots, baths, materials and pots that a step in free words is done with."""
    step, names = turn.step, turn.node.names
    items = (*step.using, *step.into, step.within, step.source, step.to)
    said = (each.name.text for each in items if each is not None and each.name is not None)
    things = (*turn.node.lots, *(names.get(each, "") for each in said))
    return tuple(dict.fromkeys(filter(None, things)))


def _things(turn: Turn) -> tuple[str, ...]:
    """All that a step has to do with, by its name in the plan."""
    node = turn.node
    things = (
        *(node.lots + node.present + tuple(node.left) + node.makes + node.cleaned),
        *(node.bath, node.pot, node.to_pot, node.bag),
        *(thing for thing, _ in node.moved),
    )
    return tuple(dict.fromkeys(filter(None, things)))


class Conditions:
    """Keeps what an ``if`` holds behind what stands before it: only then can it be judged."""

    def __init__(self) -> None:
        self.before: Turn | None = None
        self.judged: Turn | None = None
        self.condition: str = ""

    def turn(self, turn: Turn) -> list[Turn]:
        """The step that has to be over before this one, for its condition to be known."""
        if turn.optional != self.condition:
            self.condition, self.judged = turn.optional, self.before
        self.before = turn
        return [self.judged] if turn.optional and self.judged is not None else []


class Order:
    """What comes after what, and how long it may wait in between."""

    def __init__(
        self,
        made: Gathered,
        plan: Judged,
        first_of: dict[str, str],
        last_of: dict[str, str],
        cooled: Mapping[str, Turn],
    ) -> None:
        self.made = made
        self.cooled = cooled  # fibre is in the bath that these steps cool
        self.plan = plan
        self.first_of = first_of
        self.last_of = last_of
        self.lots: dict[str, Turn] = {}
        self.baths: dict[str, Turn] = {}
        self.materials: dict[str, Turn] = {}
        self.bags: dict[str, Turn] = {}
        self.free: FreeWords = FreeWords()
        self.conditions: Conditions = Conditions()
        self.vats: TurnsAtVats = TurnsAtVats()
        self.hard: dict[str, Turn] = {}
        self.soft: dict[str, list[Turn]] = {}
        self.labels: dict[str, Turn] = {}
        self.wanted: set[str] = set()
        self.made_hot: dict[str, Turn] = {}
        self.warm: dict[str, Turn] = {}
        self.numbered: dict[tuple[str, int], Turn] = {}
        # The steps that fibre goes to from the water that it was wetted in.
        self.wetted: dict[str, set[str]] = {}

    def turn(self, turn: Turn) -> None:
        """Take a turn into account: waits from what came before on the same things."""
        befores: dict[str, Wait | None] = {}
        near: set[str] = set()
        kept: dict[str, int] = {}
        within: set[str] = set()
        between = [*self.free.turn(turn), *self.conditions.turn(turn)]
        at_hand = _wants_hands_alone(turn)
        of_lots = list(self._of_lots(turn))
        wetted = {before.key for before, _ in of_lots if before.node.does.wets}
        for before, wait, soon in (
            *((*each, at_hand) for each in of_lots),
            *self._of_baths_made_up(turn),
            *((*each, False) for each in self._of_materials(turn)),
            *((*each, False) for each in self._of_bags(turn)),
            *((*each, False) for each in self._by_hand(turn)),
            *((each, None, False) for each in between),
        ):
            if self.first_of[before.key] == self.first_of[turn.key]:
                continue
            if _goes_on_meanwhile(before, turn):
                within.add(before.key)
            if before.node.does.stores and before.moment.minutes is not None:
                kept[before.key] = ceil(before.moment.minutes.low)
            known = befores.get(before.key)
            if before.key not in befores or (
                wait and (known is None or wait.wished < known.wished)
            ):
                befores[before.key] = wait or known
            if soon or (wait is not None and wait.wished < _A_NIGHT):
                near.add(before.key)
        self._rests_from_the_last(befores, {before.key for before, _ in of_lots})
        self._dries_with_the_last(befores)
        in_one_pot = {before.key: pot for before, pot in self._of_pots(turn)}
        for key in dict.fromkeys((*befores, *in_one_pot)):
            if self.first_of[key] == self.first_of[turn.key]:
                continue  # another of the same rounds
            known = None if key in kept else befores.get(key)
            one_of = in_one_pot.get(key, "") if key not in befores else ""
            if one_of and self.made.copies.get(one_of, 1) > 1:
                continue
            lag = Lag(
                self.last_of[key],
                self._enters(turn) if key in wetted else self.first_of[turn.key],
                kept.get(key, 0),  # a bath is kept for as long as is written before it is used
                leaves=Point.START if key in within else Point.END,
                # What may wait for a night is not hurried; a bath is made up when it is
                # wanted, not days before.
                near=key in near,
                place=ActivityPlace(self.plan.file, turn.line),
                one_of=one_of,
            )
            lag = waiting(lag, known, self._worked(between) if known else 0)
            done_with = turn.node.does.empties and lag.lies is Lies.ANYTHING
            self.made.lags.append(replace(lag, lies=Lies.DONE_WITH) if done_with else lag)
        self._meanwhile(turn)
        if turn.node.bath and not turn.node.does.prepares:
            self.wanted.add(turn.node.bath)
        if turn.step.label is not None:
            self.labels[turn.step.label.text] = turn

    def _meanwhile(self, turn: Turn) -> None:
        """What is done meanwhile begins when what it is done beside has begun."""
        key = turn.node.procedure.key
        self.numbered.setdefault((key, turn.step.number), turn)
        beside = turn.step.beside
        if beside is None:
            return
        numbers = range(beside[0], beside[1] + 1)
        first = next((self.numbered[key, n] for n in numbers if (key, n) in self.numbered), None)
        if first is not None and first.key != turn.key:
            self.made.lags.append(
                Lag(
                    self.first_of[first.key],
                    self.first_of[turn.key],
                    leaves=Point.START,
                    place=ActivityPlace(self.plan.file, turn.line),
                )
            )

    def _rests_from_the_last(
        self, befores: dict[str, Wait | None], of_lots: Collection[str]
    ) -> None:
        """Lots that are taken out one after another rest together from when the last is out.

        So they air together from then on: out of its vat each is in the air already.
        """
        places = {key: i for i, key in enumerate(self.last_of)}
        for what, meanwhile in (
            ("fibre to its rest", "damp fibre"),
            ("fibre to the air", "aired fibre"),
        ):
            at_once = waits()[what]
            lots = [key for key in of_lots if key in befores]
            for key in sorted(lots, key=places.__getitem__)[:-1]:
                if befores[key] == at_once:
                    befores[key] = waits()[meanwhile]

    def _enters(self, turn: Turn) -> str:
        """What fibre comes to that was wetted out: a bath that is heated first, when it is warm."""
        first, last = self.first_of[turn.key], self.last_of[turn.key]
        heats = any(each.key == first and each.awaited for each in self.made.activities[-2:])
        return last if heats else first

    def _dries_with_the_last(self, befores: dict[str, Wait | None]) -> None:
        """Of lots that are dried together the last is hung up soon; others may hang until then."""
        places = {key: i for i, key in enumerate(self.last_of)}
        to_the_line = waits()["fibre to the line"]
        lots = [key for key, wait in befores.items() if wait == to_the_line]
        for key in sorted(lots, key=places.__getitem__)[:-1]:
            befores[key] = waits()["fibre that dries with other"]

    def finish(self) -> None:
        """Fibre that is wetted for one step lies in its water until that begins."""
        for i, lag in enumerate(self.made.lags):
            if lag.before in self.wetted and self.wetted[lag.before] == {lag.after}:
                soon = waits()["wetted for a step"]
                if lag.most is not None and lag.most > soon.most:
                    self.made.lags[i] = replace(
                        lag,
                        most=soon.most,
                        why=soon.why,
                        kind=soon.kind,
                        at_a_pinch=lag.most,
                        meanwhile=soon.meanwhile,
                        dried="",
                    )

    def _worked(self, between: list[Turn]) -> int:
        """The minutes of what is done in between by hand."""
        keys = {self.first_of[each.key] for each in between if each.node.kind == "do"}
        return sum(a.lasting.most for a in self.made.activities if a.key in keys)

    def _of_baths_made_up(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None, bool]]:
        """The waits of baths, and whether a bath was made up for just this step.

        That is done on the same day, not a week before for the sake of the order of the text.
        """
        for before, wait in self._of_baths(turn):
            made_up = self._made_up_for(before, turn) or _added_for(before, turn)
            yield before, _made_up(wait) if made_up else wait, made_up

    def _made_up_for(self, before: Turn, turn: Turn) -> bool:
        """Whether a bath was made up for this step, the first that wants it.

        So is what was dissolved for the bath of this step.
        """
        bath, does = before.node.bath, before.node.does
        if _is_dissolved(before) and bath != turn.node.bath:
            return bath in _poured_in(turn)
        return does.prepares and bath == turn.node.bath and bath not in self.wanted

    def _of_lots(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        left_in = self.cooled[turn.key].node.lots if turn.key in self.cooled else ()
        lots = dict.fromkeys((*node.lots, *node.present, *node.left, *left_in))
        for lot in lots:
            before = self.lots.get(lot)
            if before is not None:
                yield before, _fibre_waits(self.plan, before, turn, lot)
                if before.node.does.wets and node.does.puts_fibre_in:
                    key = self.last_of[before.key]
                    self.wetted.setdefault(key, set()).add(self._enters(turn))
            self.lots[lot] = turn
        for made in node.makes:
            if made in self.plan.flow.lots:
                self.lots[made] = turn

    def _of_baths(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        moved = [thing for thing in _poured_in(turn) if thing in self.baths]
        baths = dict.fromkeys((node.bath, *node.left.values(), *moved))
        for bath in filter(None, baths):
            before = self.baths.get(bath)
            if bath == node.bath:
                for each, waits_so in self.vats.turn(turn, before):
                    yield each, bath_waits(self.plan, each, turn) if waits_so else None
            elif before is not None:
                there = turn.moment.before.baths.get(bath)
                known = there is not None and _is_dissolved(before)
                yield before, _standing(self.plan, there, turn) if there and known else None
            self.baths[bath] = turn
        yield from self._while_hot(turn)
        for made in node.makes:
            self.baths[made] = turn

    def _while_hot(self, turn: Turn) -> Iterator[tuple[Turn, Wait]]:
        """A bath that is wanted as warm as it was made, and is not warmed for it, is not left."""
        bath, does = turn.node.bath, turn.node.does
        if not bath:
            return
        self._warm_again(turn, bath)
        hot = self.made_hot.get(bath)
        wants = does.puts_fibre_in or does.dips
        if hot is not None and wants and _is_hot_enough(turn):
            # A vat is warmed again where it has to be, but loses its reducer meanwhile.
            again = may_be_warm(self.plan, turn)
            yield hot, waits()["reduced vat" if again else "bath made up warm"]
        if does.prepares or does.warms or (does.settles and turn.step.at is not None):
            self.made_hot[bath] = turn
        elif does.puts_fibre_in or does.cools or does.settles:
            self.made_hot.pop(bath, None)

    def _warm_again(self, turn: Turn, bath: str) -> None:
        """Note a bath that is wanted as warm as it was when something was last done to its heat."""
        does, start = turn.node.does, turn.moment.start
        made_warm = self.warm.get(bath)
        warm = float(vocabulary().heats["hand-hot"].low)
        enters = turn.moment.entering and not does.dips  # a vat has waits of its own
        wanted = enters and start is not None and not start.open
        if made_warm is not None and start is not None and wanted and start.low >= warm:
            keeps, again = warm_for(self.plan, made_warm, turn)
            before, after = self.last_of[made_warm.key], self.first_of[turn.key]
            if before != after:
                self.made.warmth.append(WarmAgain(before, after, keeps, again))
        kept_warm = does.keeps_heat or (turn.step.at is not None and lies_in_a_bath(turn))
        if does.changes_heat or kept_warm or does.prepares or does.tops_up:
            self.warm[bath] = turn

    def _of_pots(self, turn: Turn) -> Iterator[tuple[Turn, str]]:
        """A pot is used in the order of the text; waters in a tub may change places.

        With each step before comes the pot, where another of its kind would do as well.
        """
        node = turn.node
        hard = {*node.cleaned}
        if node.makes and node.pot and node.bath in node.makes:
            hard.add(node.pot)
        if node.does.empties and node.pot:
            hard.add(node.pot)
        if node.to_pot:
            hard.add(node.to_pot)
        for pot in sorted(hard):
            another = (
                ""
                if pot in node.cleaned or node.does.empties
                else self.made.pot_key(self.plan, pot)
            )
            for before in (*self.soft.pop(pot, ()), *filter(None, (self.hard.get(pot),))):
                yield before, another
            self.hard[pot] = turn
        if node.own_water and node.pot and node.pot not in hard:
            before = self.hard.get(node.pot)
            if before is not None:
                yield before, self.made.pot_key(self.plan, node.pot)
            self.soft.setdefault(node.pot, []).append(turn)

    def _of_materials(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        node = turn.node
        verb, does = turn.step.verb, node.does
        prepares = does.bags or does.lifts_matter or does.throws_matter_out or does.presses_plants
        # What is soaked or ground is made ready by it; the water that it is soaked with is not.
        ready = {thing for thing, _ in node.moved if verb is not None and verb.group == "material"}
        for thing, _ in (*node.moved, *node.materials):
            before = self.materials.get(thing)
            if before is not None:
                yield before, _material_waits(before)
            if prepares or thing in ready:
                self.materials[thing] = turn
        for thing in _taken_out(turn.moment):
            self.materials[thing] = turn

    def _of_bags(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        """A bag or sieve, and a tool that is cleaned, goes through its steps as written."""
        node = turn.node
        own = (node.bag, *(pot for pot in node.cleaned if pot in self.bags))
        tools = [node.names.get(each.name.text, "") for each in turn.step.using if each.name]
        for bag in dict.fromkeys((*own, *(each for each in tools if each in self.plan.flow.pots))):
            if not bag:
                continue
            before = self.bags.get(bag)
            if before is not None:
                yield before, None
            self.bags[bag] = turn

    def _by_hand(self, turn: Turn) -> Iterator[tuple[Turn, Wait | None]]:
        for name in turn.step.after:
            before = self.labels.get(name.text)
            if before is not None:
                yield before, None


def _fibre_waits(plan: Judged, before: Turn, turn: Turn, lot: str) -> Wait | None:
    """How long a lot may wait between two steps."""
    one, two = before.node.does, turn.node.does
    if one.washes and two.rinses:
        return waits()["soapy fibre"]
    if one.dips and two.airs:
        return waits()["fibre to the air"]
    if one.airs and two.dips:
        return waits()["aired fibre"]
    state = before.moment.after.lots.get(lot)
    if state is None or state.possibly("dry") == "":
        return None
    if state.bath and not (one.empties and not poured_in_part(before)):
        return in_a_bath(plan, before, state.bath)
    if two.in_air and two.left_standing and not two.puts_fibre_in:
        return waits()["fibre to its rest"]
    if two.dries:
        return waits()["fibre to the line"]
    if one.wets:
        return waits()["fibre wetted out"]
    if state.mordants and not state.dyes and not spoils(plan, state.mordants):
        return waits()["mordanted fibre"]
    if one.rinses or one.washes or ((one.splits or one.joins) and not state.carried):
        return waits()["rinsed fibre"]
    harmed = spoils(plan, state.mordants)
    return waits()["damp fibre that holds a metal that harms" if harmed else "damp fibre"]


def bath_waits(plan: Judged, before: Turn, turn: Turn) -> Wait | None:
    """How long a bath may wait between two steps."""
    one, two = before.node.does, turn.node.does
    # A lift leaves what stays as hot as it was; other fibre may go in when it has cooled.
    there = turn.moment.before.baths.get(turn.node.bath)
    stays = one.takes_out and not two.puts_fibre_in
    hot = _ends_hot(before.moment) or (stays and _is_hot(there))
    if two.dips and (one.warms or (one.settles and before.step.at is not None)):
        # A vat that is brought to a heat, or is at one, is dipped in before it cools.
        return waits()["bath at its heat"]
    dipped = one.dips or (two.dips and (one.settles or may_be_warm(plan, turn)))
    if (dipped and _may_be_reduced(plan, before)) or _reducing(plan, before):
        # What is poured away may lose its reducer.
        return waits()["bath to be poured away" if two.empties else "reduced vat"]
    if hot and two.cools:
        return Wait(0, 0, "the plate is off", "")
    if one.prepares and hot and two.settles and not two.cools:
        return waits()["bath made up warm"]  # its time is that from when it was so warm
    kept = two.settles and turn.step.at is not None and not two.cools
    if hot and (two.warms or two.held_hot or two.keeps_heat or kept):
        return waits()["bath at its heat"]
    bath = before.moment.bath_after
    harm = plants_left_in(plan.study, bath) if bath is not None else ()
    if harm:
        return waits()[_DEADLY if any(map(deadly, harm)) else _HARMFUL]
    # Fibre may have come out of it since by a step that has nothing else to do with it.
    return _standing(plan, there, turn) if there is not None else None


def _made_up(wait: Wait | None) -> Wait:
    """How long a bath waits that is made up for a step, where it might wait so or for any time."""
    made_up = waits()["bath made up"]
    if wait is None:
        return made_up
    return wait._replace(wish=min(wait.wished, made_up.wished))


def _standing(plan: Judged, bath: BathState, turn: Turn) -> Wait | None:
    """How long a bath may stand until a step, to which nothing is done and that harms nobody."""
    rows = waits()
    solid = any(content.solid for content in bath.contents.values())
    of_plants = any(has_role(plan.flow, bath, role) for role in ("dyestuff", "tannin"))
    if turn.node.does.empties and not poured_in_part(turn):
        return rows["bath to be poured away"] if solid or of_plants else None
    if is_vat(plan.flow, bath):
        return rows["bath in its pot"] if solid else None
    if solid or of_plants:
        return rows["bath in its pot" if solid else "dye bath without its plants"]
    metals = metals_in(plan.study, bath.contents)
    if not metals:
        return None
    return rows["bath of iron" if "iron" in metals else "mordant bath"]


def _may_be_reduced(plan: Judged, before: Turn) -> bool:
    """Whether a bath that fibre is dipped in is a vat, or one of which nothing is known."""
    bath = before.moment.bath_after
    if bath is None or is_vat(plan.flow, bath):
        return True
    # What went into a kept vat, to wake it, does not say what it is.
    others = ("dyestuff", "tannin", "mordant", "modifier")
    return not any(has_role(plan.flow, bath, role) for role in others)


def _reducing(plan: Judged, before: Turn) -> bool:
    """Whether a step puts more reducer into a vat, or the vat's own: it is for what comes next."""
    one, two = before.moment.bath_before, before.moment.bath_after
    if one is None or two is None or not is_vat(plan.flow, two):
        return False
    changed = [
        thing for thing, content in two.contents.items() if content != one.contents.get(thing)
    ]
    return any(
        made is not None and "reducer" in made.roles
        for made in (material(plan.flow, thing) for thing in changed)
    )


def _is_dissolved(turn: Turn) -> bool:
    """Whether a step dissolves something by itself: that is done when it is wanted."""
    does = turn.node.does
    return does.in_water and not does.known_by_pot and bool(turn.node.makes)


def _added_for(before: Turn, turn: Turn) -> bool:
    """Whether something was put into a bath that is heated with it next: that is one piece of work.

    Where fibre lies in the bath, how long it may lie there is what counts.
    """
    adds = before.node.does.adds and bool(_poured_in(before))
    same = before.node.bath == turn.node.bath
    return adds and same and turn.node.does.warms and not turn.node.present


def _poured_in(turn: Turn) -> tuple[str, ...]:
    """All that a step brings, by its name in the plan."""
    return tuple(thing for thing, _ in (*turn.node.moved, *turn.node.materials))


def _is_hot_enough(turn: Turn) -> bool:
    """Whether a step wants a warm bath at just the heat that it is supposed to have."""
    bath, wanted = turn.moment.bath_before, turn.moment.heat
    if turn.step.at is None or turn.node.does.cools or bath is None or wanted is None:
        return False
    warm = float(vocabulary().heats["hand-hot"].low)
    return bath.heat is not None and warm <= wanted.low <= bath.heat.high


def _goes_on_meanwhile(before: Turn, turn: Turn) -> bool:
    """Whether some lots are lifted while the time of those left in the bath goes on."""
    one, two = before.node, turn.node
    lifted = one.does.takes_out and one.left and turn.node.bath in one.left.values()
    goes_on = two.does.held_hot or two.does.keeps_heat
    return bool(lifted and goes_on and two.present) and not {*one.lots} & {*two.present}


def _wants_hands_alone(turn: Turn) -> bool:
    """Whether a step on fibre wants nothing but hands and water, and so is not put off."""
    does = turn.node.does
    if does.rinses or does.washes:
        return True
    before, after = turn.moment.before.lots, turn.moment.after.lots
    return any(
        lot in before
        and lot in after
        and before[lot].possibly("dry") is None
        and after[lot].possibly("dry") is not None
        for lot in turn.node.lots
    )


def _ends_hot(moment: Moment) -> bool:
    return _is_hot(moment.bath_after)


def _is_hot(bath: BathState | None) -> bool:
    heat = bath.heat if bath is not None else None
    return heat is not None and heat.low >= float(vocabulary().heats["hot"].low)


def _taken_out(moment: Moment) -> Iterator[str]:
    """The plants that are out of a bath after a step: strained or lifted."""
    before, after = moment.bath_before, moment.bath_after
    for thing, content in before.contents.items() if before is not None else ():
        left = after.contents.get(thing) if after is not None else None
        if content.solid and (left is None or not left.solid):
            yield thing


def _material_waits(before: Turn) -> Wait | None:
    does = before.node.does
    if does.gathers:
        return waits()["plant gathered"]
    if does.in_water:
        return waits()["plant in water"]
    return waits()["plant made ready"] if does.readies else None
