"""Safety of what is on the heat: who is by, and how warm a bath is when nobody heats it."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.left_overnight import warmest_by_morning
from procedure.facts.study import Study
from procedure.findings import Span, Word, say
from procedure.model import Step
from procedure.model.quantity import Quantity
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.safety.audience import for_whom
from procedure.rules.safety.left_standing import how_long
from procedure.rules.safety.protection import FAMILY
from procedure.trace import Moment
from procedure.vocabulary import vocabulary
from procedure.vocabulary.thresholds import threshold


@rule("heated-unattended", level="error", family=FAMILY, source="common practice")
def heated_unattended(study: Study) -> Iterator[Found]:
    """A bath on the heat with nobody beside it, or for longer than anybody stays.

    It boils dry, the fibre scorches and the house burns. Nobody stays beside a pot for a day.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 3 h unattended
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 3 h
        discard gold-bath to "foul drain"
    """
    yield from _left_by_its_words(study)
    for moment in study.moments:
        step = moment.step
        too_long = _longer_than_anybody_stays(moment)
        waits = "unattended" in step.manner or _waits(step)
        if not (waits and "attended" not in step.manner) and not too_long:
            continue
        if on_the_heat(step):
            thing = moment.node.bath or moment.node.pot
            name = study.thing(thing) if thing else Word("the bath")
            yield at_node(
                moment.node,
                say(
                    "{name} is heated {time} with nobody beside it.",
                    name=name,
                    time=how_long(step),
                )
                if waits or moment.minutes is None
                else say(
                    "{name} is heated for {long}, and nobody stays beside it so long.",
                    name=name,
                    long=Span(*moment.minutes),
                ),
                "Stay with it, or take it off the heat and let it stand covered.",
                source=threshold("unattended heat").source,
            )


def on_the_heat(step: Step) -> bool:
    """Whether a step is done over a flame or a hotplate: by its verb, its place or its heat."""
    if step.left_to_cool and step.on is None:
        return False
    heated = step.does.held_hot and (step.on is not None or _said_hot(step))
    return step.does.warms or heated


_AWAY = (
    r"\b(go(es|ing)? (to bed|to sleep|out|home|away|shopping)|(to|at) the shops?|unwatched|"
    r"leave (it|the \w+) (on|simmering|boiling|cooking|alone)|while (you|we|they) (sleep|are out)|"
    r"leave [\w'’ ]+ (on|over) (the |a |low )?(gas|heat|stove|hob|fire|flame|ring|burner|hotplate)"
    r"[\w'’ ]* (all night|overnight|till morning|until morning|unattended)|"
    r"nobody (by|there|watching))\b"
)
_HEATED = (
    r"\b(simmer\w*|boil\w*|heat|hot|stove|hob|hotplate|gas|fire|flame|burner|cook\w*|bubbl\w*|"
    r"leave it on)\b"
)
_FIRE = (
    r"(the|your|all|it|them|everything|gas|heat|hob|stove|hotplate|hot|plate|ring|burner|cooker|"
    r"fire|flame|power|current|electricity|heater|oven|pot|bath|liquor)s?"
)
_LATER = (
    r"(?!.*\b(in the morning|next (day|morning)|tomorrow|at dawn|when|once|after|on your return)\b)"
)
# What has it not on the heat: no light or tap that is turned off, and no fire in the morning.
_NEVER = (
    r"\b(not|never|no|don't|nor|off the heat)\b|"
    r"\b(draw\w* the fire|put\w* out the fire|put\w* the fire out|"
    r"(turn|switch|shut)\w*( "
    + _FIRE
    + r"){0,3} off(?! (the|your|all)\b(?! "
    + _FIRE
    + r"\b)))\b"
    # the end of a night is too late
    + _LATER
)


def _left_by_its_words(study: Study) -> Iterator[Found]:
    """Free words and notes that send everybody away from what is on the heat."""
    for moment in study.moments:
        step = moment.step
        said = [(step.words.text, False)] if step.words is not None else []
        said += [(step.note, on_the_heat(step))] if step.note else []
        for text, heated in said:
            for clause in pattern(r"[;.:()]").split(text.lower()):
                hot = heated or pattern(_HEATED).search(clause)
                if hot and pattern(_AWAY).search(clause) and not pattern(_NEVER).search(clause):
                    yield at_node(
                        moment.node,
                        say("“{words}” leaves it on the heat with nobody beside it.", words=text),
                        "Stay with it, or take it off the heat and let it stand covered.",
                        source=threshold("unattended heat").source,
                    )
                    break


def _longer_than_anybody_stays(moment: Moment) -> bool:
    least = moment.minutes[0] if moment.minutes is not None else 0
    return least >= threshold("longest watch").value


def _waits(step: Step) -> bool:
    """Whether a step lasts for a named wait, such as a night."""
    if not step.manners:
        return False
    heats = vocabulary().heats
    return any(word in heats and heats[word].kind == "wait" for word in step.manner)


def _said_hot(step: Step) -> bool:
    """Whether a step says a heat that only a flame or a hotplate keeps up."""
    limit = threshold("unattended heat").value
    said = [item.quantity for item in (step.at, step.to, step.source) if item is not None]
    return any(
        one is not None and one.kind == "temperature" and one.high is not None and one.high > limit
        for one in said
    )


@rule("cold-by-morning", level="warning", family="fibre care", source="common practice")
def cold_by_morning(study: Study) -> Iterator[Found]:
    """A bath that is left for a night, and is said to be warm in the morning.

    Off the heat it is as cold as the room by then; on the heat nobody is beside it.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
        cool alum-bath to 60 °C overnight covered labelled
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        alum-bath: prepare in kettle with water 3 L, alum 12 g at 40 °C
        mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
        cool alum-bath to 20 °C overnight covered labelled
        rinse yarn in tub with water 5 L
        discard alum-bath to "foul drain"
    """
    limit = threshold("heat by morning")
    for moment in study.moments:
        step = moment.step
        if not step.does.settles or not _waits(step):
            continue
        for item in (step.to, step.at, step.until):
            said = item.quantity if item is not None else None
            if said is None or said.kind != "temperature" or said.low is None:
                continue
            if said.low > limit.value:
                yield at_node(
                    moment.node,
                    say(
                        "{bath} is not at “{said}” after a night: it is as cold as the room.",
                        bath=study.thing(moment.node.bath or moment.node.pot),
                        said=said.text,
                    ),
                    "Write the heat of the room, and warm it again in the morning.",
                    source=limit.source,
                )


@rule("gone-cold", level="warning", family="fibre care", source="common practice")
def gone_cold(study: Study) -> Iterator[Found]:
    """A bath that went cold, and is then worked in as if it were warm.

    A vat that was made yesterday is as cold as the room today. Dipping does not warm it,
    and a cold vat gives little of its blue.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat overnight covered labelled
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        vat: prepare in kettle with water 5 L, indigo 5 g, soda 20 g, reducer 15 g at 50 °C
        stand vat overnight covered labelled
        heat vat to 50 °C
        dip yarn in vat at 50 °C for 10 min
        air yarn for 15 min
        rinse yarn in tub with water 5 L
        rinse yarn in tub with water 5 L, vinegar 50 mL
        discard vat to "foul drain"
    """
    limit = threshold("heat by morning")
    told: set[str] = set()
    left: set[str] = set()
    kept: set[str] = set()  # of what stands at a heat, another rule asks how that is
    warm: set[str] = set()
    for moment in study.moments:
        step, bath = moment.step, moment.bath_before
        said, does = _warm(step), step.does
        if bath is not None and bath.heat is not None and bath.heat[1] > limit.value:
            warm.add(moment.node.bath)
        if does.settles:
            (kept.discard if said is None else kept.add)(moment.node.bath)
        if does.settles and said is None:
            left.add(moment.node.bath)
        elif does.settles or does.warms or does.held_hot:
            left.discard(moment.node.bath)
        if said is None or bath is None or bath.heat is None:
            continue
        # A dip warms nothing, also where a vat was left between rounds that are a day apart.
        # How warm a vat is of which nobody says that it was warm, nobody knows.
        dipped = does.dips and moment.node.bath in warm - kept
        if moment.node.bath not in left and not dipped:
            continue
        assert said.low is not None
        if bath.heat[1] <= min(limit.value, said.low) and moment.node.bath not in told:
            told.add(moment.node.bath)
            yield at_node(
                moment.node,
                say(
                    "{bath} has gone cold by now, and “{said}” is said here.",
                    bath=study.thing(moment.node.bath),
                    said=said.text,
                ),
                say(
                    "Warm it first: “heat {bath} to {said}”.",
                    bath=study.thing(moment.node.bath),
                    said=said.text,
                ),
                source=limit.source,
            )


def _warm(step: Step) -> Quantity | None:
    """The heat that a step says it is done at, where that is above what a night leaves."""
    said = step.at.quantity if step.at is not None else None
    if said is None or said.kind != "temperature" or said.low is None:
        return None
    return said if said.low > warmest_by_morning(step.does.dips) else None


@rule("children-near-heat", level="warning", family=FAMILY, source="common practice")
def children_near_heat(study: Study) -> Iterator[Found]:
    """Work for children alone with a bath so hot that it scalds.

    A child's skin is thin, and a pot of five litres comes down with one pull at its handle.
    Where adults are in the audience too, or somebody stays beside the pot, it is they who see
    to it.

    Trips:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
          audience children
        steps
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          simmer gold-bath at 85 °C for 1 h
          discard gold-bath to "foul drain"
    Cure:
        procedure "An example"
          by "Fellside Dye Circle"
          revised 2026-06-14
          place outdoors
          wearing gloves, eye protection
          audience children, adults
        steps
          gold-bath: prepare in kettle with water 3 L, onion 50 g
          simmer gold-bath at 85 °C for 1 h
          discard gold-bath to "foul drain"
    """
    told = {
        made.key: word
        for made in study.procedures
        for word in made.audience
        if any(one.name == word and one.who == "children" for one in for_whom(study, made))
        and not _GROWN_UP & {one.text for one in made.audience}
    }
    scalds = threshold("scalding heat")
    for moment in study.moments if told else ():
        made = moment.node.procedure
        heat = moment.hottest
        if made.key not in told or heat is None or heat < scalds.value:
            continue
        if "attended" in moment.step.manner:
            continue
        word = told.pop(made.key)
        yield Found(
            made,
            word.place,
            say("This is for {who}, and there is a bath that scalds in it.", who=word.text),
            "Write “audience children, adults”, or who stays beside it: “attended”.",
            related=study.at(moment.node.id, "It is hot here."),
            source=scalds.source,
        )


_GROWN_UP = frozenset(("adults", "experienced dyers"))


RULES = (heated_unattended, cold_by_morning, gone_cold, children_near_heat)
