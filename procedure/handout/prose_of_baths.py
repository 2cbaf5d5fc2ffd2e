"""Sentences for what is done to baths, materials and equipment."""

from __future__ import annotations

from collections.abc import Callable

from procedure.facts.lookalikes import lookalikes_of
from procedure.flow import FlowNode
from procedure.flow.graph import WATER
from procedure.handout.heat_and_time import course, is_bounded, spaced_out
from procedure.handout.phrasebook import Telling
from procedure.model import Quantity, Step
from procedure.paper.pieces import (
    Figure,
    Phrase,
    Words,
    joined,
    phrase,
    sentence,
    sentences,
    spaced,
    worded,
)
from procedure.trace.readings import heat_of_verb
from procedure.vocabulary import vocabulary

Say = Callable[[Telling, FlowNode, Step], Phrase]


def _bath(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    """The bath that a bath verb acts on."""
    if node.bath:
        return telling.the(node.bath)
    if step.does.adds:  # the line that makes its bath cannot be read, or nothing does
        return telling.item(node, step.to) if step.to is not None else ("the bath",)
    return telling.item(node, step.objects[0]) if step.objects else ("the bath",)


def _done_to_bath(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    """The verb's own words for what is done to the bath."""
    return worded(_says(step), _bath(telling, node, step))


def _says(step: Step) -> str:
    assert step.verb is not None
    return step.verb.says


def _with_fibre(telling: Telling, node: FlowNode) -> Phrase:
    """Says that fibre is still in the bath."""
    if not node.present:
        return ()
    return phrase("with ", telling.the_all(node.present), " still in it")


def _prepare(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    place: Phrase = ()
    if step.within is not None:
        place = phrase(" in ", telling.item(node, step.within))
    brings = telling.brings(node)
    head = phrase(
        worded(_says(step), telling.the(node.bath)), place, ": " if brings else "", brings
    )
    how, own = course(telling, step, "it")
    if not how:
        return sentence(head)
    has = "let it stand, " if step.poured_hot and telling.lasting(step) else "have it "
    return sentences(sentence(head), sentence(how if own else phrase(has, how)))


def _add(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    if node.to_pot:
        poured = phrase("pour ", _bath(telling, node, step), " into ", telling.the(node.to_pot))
        more = telling.brings(node) if node.materials else ()
        return sentence(poured, ", and add ", more) if more else sentence(poured)
    things = telling.brings(node)
    parts = [telling.the_all(node.lots)] if node.lots else []
    parts += [one for one in (things, telling.as_written(node)) if one]
    parts += [(Words(item.words.text),) for item in step.objects if item.words is not None]
    how, own = course(telling, step, "it")
    head = phrase(worded(_says(step), joined(parts)), " to ", _bath(telling, node, step))
    if own:
        return sentences(sentence(head), sentence(how))
    return sentence(head, " " if how else "", how)


def _change(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    """Heating, simmering, boiling, keeping: a bath, its fibre, a heat, a time."""
    bath = _bath(telling, node, step)
    fibre = _with_fibre(telling, node)
    if _is_left_for_a_night(step):
        said = spaced_out(worded("leave {it} off the heat", bath), telling.lasting(step))
        return sentence(said, ", " if fibre else "", fibre)
    brings = telling.brings(node)
    first = sentence("put ", brings, " into ", bath) if brings else ()
    start: Phrase = ()
    if step.source is not None and step.source.quantity is not None:
        start = telling.heat(step.source.quantity, "from")
    goal: Phrase = ()
    over = telling.time(step.over, "over") if step.over is not None else ()
    at = step.at.quantity if step.at is not None else None
    if step.to is not None and step.to.quantity is not None:
        goal = telling.heat(step.to.quantity, "to")
    elif at is not None:
        goal = telling.heat(at, "to" if step.does.brings_to_heat else "at")
        at = None
    elif step.does.heat:
        goal = word_heat(telling, step)
    elif step.does.keeps_heat and not start:
        goal = _heat_kept(telling, node)
    place: Phrase = ()
    if step.does.brings_to_heat and step.on is not None:
        place = phrase("on ", telling.named(node, step.on))
    rest = [telling.lasting(step), telling.until(step)]
    if rest[0] and not step.does.brings_to_heat and is_bounded(goal):
        rest, goal = [goal, *rest], ()
    said = spaced_out(_done_to_bath(telling, node, step), place, start, goal, over)
    if step.does.brings_to_heat and goal and step.lasting is not None:
        said = phrase(said, ", then keep it there")
    said = spaced_out(said, *rest)
    if at is not None:
        said = phrase(said, ", ", telling.heat(at))
    return sentences(first, sentence(said, ", " if fibre else "", fibre))


def _is_left_for_a_night(step: Step) -> bool:
    """True for “hold bath overnight”: no heat is said, and no plate is left on over a night."""
    heats = (step.at, step.to, step.until, step.on)
    held = step.does.keeps_heat and not step.does.warms and "overnight" in step.manner
    return held and not any(one is not None for one in heats)


def _heat_kept(telling: Telling, node: FlowNode) -> Phrase:
    """The heat that a bath is kept at where none is written: that which it has."""
    moments = telling.moments.get(node.id)
    bath = moments[0].bath_before if moments else None
    heat = bath.heat if bath is not None else None
    if heat is None or heat.open or heat.low <= vocabulary().heats["hand-hot"].high:
        return ()
    return (f"at {telling.voice.heat(heat.low, heat.high)}",)


def word_heat(telling: Telling, step: Step) -> Phrase:
    """The heat that ``simmer`` and ``boil`` mean where none is written."""
    said = said_heat(telling, step)
    return (f"({said.replace(' (', ', ').removesuffix(')')})",)


def said_heat(telling: Telling, step: Step) -> str:
    """The same without brackets: ``80 to 95 °C``."""
    return telling.voice.heat(*heat_of_verb(step, telling.plan.trace.boiling))


def _cool(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    fibre = _with_fibre(telling, node)
    parts: list[Phrase] = [_done_to_bath(telling, node, step)]
    if step.source is not None and step.source.quantity is not None:
        parts.append(telling.heat(step.source.quantity, "from"))
    if step.to is not None and step.to.quantity is not None:
        parts.append(telling.heat(step.to.quantity, "to"))
    if step.at is not None and step.at.quantity is not None:
        parts.append(telling.heat(step.at.quantity, "at"))
    if step.over is not None:
        parts.append(telling.time(step.over, "over"))
    parts += [telling.lasting(step), telling.until(step)]
    return sentence(spaced_out(*parts), ", " if fibre else "", fibre)


def _stand(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    fibre = _with_fibre(telling, node)
    head = _done_to_bath(telling, node, step)
    said = spaced_out(head, telling.lasting(step), telling.until(step))
    if step.at is not None and step.at.quantity is not None:
        comma = ", " if step.until is not None else " "
        said = phrase(said, comma, telling.heat(step.at.quantity))
    return sentence(said, ", " if fibre else "", fibre)


def _strain(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    bath = telling.the(node.poured) if node.poured else _bath(telling, node, step)
    through: Phrase = ()
    if step.through is not None:
        through = phrase(" through ", telling.named(node, step.through))
    if step.into:
        place = telling.item(node, step.into[0])
        return sentence(
            worded(_says(step), bath), through, " into ", place, ", and keep the solids out"
        )
    stays: Phrase = ()
    if node.pot:
        stays = phrase("; the liquor stays in ", telling.the(node.pot))
    assert step.verb is not None
    return sentence(worded(step.verb.then, bath), through, stays)


def _draw_off(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    quantity = step.objects[0].quantity if step.objects else None
    bath = _bath(telling, node, step)
    some = phrase("some of ", bath)
    if quantity is not None:
        some = telling.part_of_bath(node, quantity)
    place: Phrase = ()
    comma = "," if any(piece == ", " for piece in some) else ""
    if step.into:
        place = phrase(comma, " into ", telling.item(node, step.into[0]))
    elif step.to is not None:
        place = phrase(comma, " to ", telling.item(node, step.to))
    said = phrase(worded(_says(step), some), place)
    if (named := step.named or (step.label if node.makes else None)) is not None:
        said = phrase(said, "; this is ", telling.named(node, named), " from now on")
    return sentence(said)


def _top_up(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    brings = telling.brings(node)
    bath = _bath(telling, node, step)
    says = _says(step)
    if bath in (("it",), ("them",)):  # top it up, but top up the grey bath
        says = says.replace(" up {it}", " {it} up")
    said = worded(says, bath)
    if brings:
        said = phrase(said, " with ", brings)
    if step.to is not None:
        quantity = step.to.quantity
        if quantity is not None and quantity.kind == "temperature":
            said = phrase(said, " ", telling.heat(quantity, "to"))
        elif quantity is not None:
            said = phrase(said, "" if brings else " with water", _up_to(telling, node, quantity))
        else:
            said = phrase(said, " to ", telling.item(node, step.to))
    if step.at is not None and step.at.quantity is not None:
        said = phrase(said, ", ", telling.heat(step.at.quantity))
    return sentence(said)


def _up_to(telling: Telling, node: FlowNode, quantity: Quantity) -> Phrase:
    """The mark that a bath is filled to: a volume, or a share of its pot."""
    if quantity.kind == "volume" and quantity.known:
        low, high = quantity.ends
        return phrase(" up to ", Figure("volume", low, high, quantity.about))
    share = telling.share(quantity)
    base = node.names.get(quantity.base, quantity.base)
    if share and base:
        return phrase(" up to ", share, " of ", telling.the(base))
    return phrase(" up to ", Words(quantity.text))


def _discard(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    quantity = step.objects[0].quantity if step.objects else None
    bath = _bath(telling, node, step)
    if quantity is not None:
        bath = telling.part_of_bath(node, quantity)
    if step.to is None:
        return sentences(
            sentence(worded(_says(step), bath)),
            ("The procedure does not say where: ask what your local rules allow.",),
        )
    place = telling.item(node, step.to)
    drained = any(isinstance(piece, Words) and "drain" in piece.text.lower() for piece in place)
    if drained and step.verb is not None and step.verb.then:
        comma = "" if quantity is None else ","
        return sentence(worded(step.verb.then, phrase(bath, comma)), " (", place, ")")
    return sentence(worded(_says(step), bath), " (", place, ")")


def _keep(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    place: Phrase = ()
    if step.within is not None:
        place = phrase(" in ", telling.item(node, step.within))
    elif step.into:
        place = phrase(" in ", telling.item(node, step.into[0]))
    elif step.to is not None:
        place = phrase(" in ", telling.item(node, step.to))
    named: Phrase = ()
    if step.named is not None:
        named = phrase(
            ", " if place else " ", "under the name “", Words(spaced(step.named.text)), "”"
        )
    long = telling.lasting(step)
    return sentence(_done_to_bath(telling, node, step), place, named, " " if long else "", long)


# ------------------------------------------------------------------ materials, equipment


def _materials(telling: Telling, node: FlowNode) -> Phrase:
    """What a step on materials acts on, with amounts where it says them."""
    moments = telling.moments.get(node.id)
    if not moments or not node.moved:
        return telling.as_written(node)
    moved = {id(item) for _, item in node.moved}
    found = [
        telling.brought(node, i)
        for i, (_, item, _) in enumerate(moments[0].amounts)
        if id(item) in moved
    ]
    return joined(found)


def _beside(telling: Telling, node: FlowNode) -> Phrase:
    """What a step on materials brings besides: the water that they are soaked in."""
    moments = telling.moments.get(node.id)
    if not moments:
        return ()
    moved = {id(item) for _, item in node.moved}
    rest = [i for i, (_, item, _) in enumerate(moments[0].amounts) if id(item) not in moved]
    rest.sort(key=lambda i: moments[0].amounts[i][0] != WATER)
    return joined(telling.brought(node, i) for i in rest)


def _gather(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    said = worded(_says(step), _materials(telling, node))
    if step.source is not None:
        said = phrase(said, " from ", telling.item(node, step.source))
    if step.at is not None:
        said = phrase(said, ", at ", telling.item(node, step.at))
    gathered = sentence(said, " " if step.lasting else "", telling.lasting(step))
    return sentences(gathered, *_mistaken(telling, node))


def _mistaken(telling: Telling, node: FlowNode) -> list[Phrase]:
    """What harms and may be taken for what is gathered, said where one gathers it."""
    said: list[Phrase] = []
    for thing, _ in node.moved:
        found = telling.plan.flow.materials.get(thing)
        for plant in lookalikes_of(found[0])[:3] if found is not None else ():
            latin = plant.facts["botanical"]
            does = "can kill" if plant.facts["level"] == "deadly" else "harms"
            said.append((f"Not to be taken for {plant.name} ({latin}), which {does}.",))
    return said


def _ready(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    said = worded(_says(step), _materials(telling, node))
    tools = [telling.item(node, item) for item in step.using if item.name is not None]
    if tools:
        said = phrase(said, " with ", joined(tools))
    if step.into:
        said = phrase(said, ", into ", telling.item(node, step.into[0]))
    return sentence(said)


def _in_water(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    said = worded(_says(step), _materials(telling, node))
    water = _beside(telling, node)
    if water:
        said = phrase(said, " in ", water)
    if step.within is not None:
        said = phrase(said, ", in " if water else " in ", telling.item(node, step.within))
    how, own = course(telling, step, "it")
    if how:
        said = phrase(said, ": " if own else ", " if water else " ", how)
    name: Phrase = ()
    if node.makes:
        name = sentence("this is ", telling.the(node.bath))
    return sentences(sentence(said), name)


def _clean(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    what = telling.the_all(node.cleaned) or telling.as_written(node)
    it = "them" if telling.many(node.cleaned) else "it"
    moments = telling.moments.get(node.id)
    brought = {id(item) for _, item, _ in moments[0].amounts} if moments else set()
    tools = [telling.item(node, item) for item in step.using if id(item) not in brought]
    with_what = joined([telling.brings(node), *tools])
    tool = phrase(" with ", with_what) if with_what else ()
    place = phrase(" in ", telling.item(node, step.within)) if step.within is not None else ()
    until = "" if telling.brief else f" until nothing is left on {it}"
    return sentence(worded(_says(step), what), tool, place, until)


SAYINGS: dict[str, Say] = {
    "prepare": _prepare,
    "add": _add,
    "change": _change,
    "cool": _cool,
    "stand": _stand,
    "plain bath": _stand,
    "strain": _strain,
    "draw off": _draw_off,
    "top up": _top_up,
    "discard": _discard,
    "keep": _keep,
    "gather": _gather,
    "ready": _ready,
    "in water": _in_water,
    "clean": _clean,
}
