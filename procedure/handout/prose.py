"""One step as full sentences, from the model and what the trace worked out.

Each form of sentence that an effect can have is here, with the verb's own words in it
(``says`` and ``then`` of its row); what any step may have
besides (a lid, gloves, an order, a note) is said after it in the same way for all.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from procedure.flow import FlowNode
from procedure.handout import prose_of_baths as of_baths
from procedure.handout import prose_of_matter as of_matter
from procedure.handout.heat_and_time import course
from procedure.handout.phrasebook import Telling
from procedure.model import Step
from procedure.paper.measures import FINE
from procedure.paper.pieces import (
    Figure,
    Phrase,
    Words,
    article,
    joined,
    phrase,
    sentence,
    sentences,
    worded,
)
from procedure.quantity.number_words import in_words
from procedure.rules.safety.on_the_heat import on_the_heat
from procedure.vocabulary import vocabulary
from procedure.vocabulary.effects import fit

Say = Callable[[Telling, FlowNode, Step], Phrase]


def step_text(telling: Telling, node: FlowNode) -> Phrase:
    """A step of any kind but a block, in full sentences."""
    said, besides = step_parts(telling, node)
    return sentences(said, *besides)


def step_parts(telling: Telling, node: FlowNode) -> tuple[Phrase, tuple[Phrase, ...]]:
    """The same as what is done, and what any step may have besides."""
    step = node.step
    assert isinstance(step, Step)
    if step.kind == "do" or step.verb is None:
        said = _do(telling, node, step)
    else:
        said = _SAYINGS[step.does.sentence](telling, node, step)
    return said, tuple(_besides(telling, node, step))


# ------------------------------------------------------------------ what any step may have


def _besides(telling: Telling, node: FlowNode, step: Step) -> list[Phrase]:
    said: list[Phrase] = []
    fibre = bool(node.present) or (step.verb is not None and step.verb.group == "fibre")
    for manner in step.manners:
        text = _manner(manner.text, step, fibre)
        if text:
            said.append((text,))
    if step.beside is not None:
        said.append(_while(telling, node, step.beside))
    if step.ceiling is not None:
        most = step.ceiling._replace(low=step.ceiling.high, bound="", word="")
        said.append(sentence("never let it get ", telling.heat(most, "above")))
    if step.wearing:
        said.append(sentence("wear ", worn([name.text for name in step.wearing])))
    if step.on is not None and not step.does.brings_to_heat:
        said.append(sentence("use ", telling.named(node, step.on)))
    if step.after:
        said.append(_order(telling, node, step))
    return said


def _while(telling: Telling, node: FlowNode, beside: tuple[int, int]) -> Phrase:
    """During which steps this one is done, by their numbers on the paper."""
    before = telling.numbers[node.id].removesuffix(str(node.step.number))
    first, last = (f"{before}{number}" for number in beside)
    if first == last:
        return (f"Do this while step {first} goes on.",)
    return (f"Do this while steps {first} to {last} go on.",)


NOT_ALONE = "Stay with it all the same: nothing on the heat is left alone."
COVERED, LID_ON = "Keep it covered.", "Keep the lid on."
FIBRE_MOVING, STIRRING = "Keep the fibre moving all the while.", "Stir all the while."
JUST_BOILING, JUST_SIMMERING = "Let it only just boil.", "Let it only just simmer."
SLOWLY, HANDLED_GENTLY = "Raise the heat slowly.", "Handle it gently."
LID_OFF, GENTLY = "Leave the lid off.", "Go gently: little movement and no sudden heat."
# How a step is done, within its own sentence, where another step follows in it.
WITHIN = {
    COVERED: "covered",
    LID_ON: "with the lid on",
    LID_OFF: "with the lid off",
    FIBRE_MOVING: "moving the fibre all the while",
    STIRRING: "stirring all the while",
    GENTLY: "gently",
    HANDLED_GENTLY: "gently",
    JUST_BOILING: "only just boiling",
    JUST_SIMMERING: "only just simmering",
    SLOWLY: "slowly",
}
# “Do this” at the end of a sentence of several steps would be said of all of them.
SAID_OF_THIS = {
    "Do this out of the sun.": "out of the sun",
    "Do this in the sun.": "in the sun",
    "Do this in the open air.": "in the open air",
    "Do this in a strong draught of fresh air.": "in a strong draught of fresh air",
    "Do this indoors.": "indoors",
    "Do it thoroughly.": "thoroughly",
    "Do it under running water.": "under running water",
}


def _manner(word: str, step: Step, fibre: bool) -> str:
    if word == "stirring":
        if "now and then" in step.manner:
            return ""  # that says how often
        return FIBRE_MOVING if fibre else STIRRING
    if word == "now and then":
        return "Turn the fibre now and then." if fibre else "Stir it now and then."
    if word == "covered" and step.does.left_covered:
        return COVERED
    if word == "gently":
        return _gently(step, fibre)
    return {
        "in the shade": "Do this out of the sun.",
        "in the sun": "Do this in the sun.",
        "undisturbed": "Do not stir or move it.",
        "thoroughly": "Do it thoroughly.",
        "under running water": "Do it under running water.",
        "covered": LID_ON,
        "fixed": "Its amounts stay as they are, however much fibre there is.",
        "uncovered": LID_OFF,
        "unattended": NOT_ALONE if on_the_heat(step) else "Nobody need stay beside it.",
        "attended": _beside_it(step),
        "labelled": "Label it: what it is, the date, and “not for food”.",
        "outdoors": "Do this in the open air.",
        "ventilated": "Do this in a strong draught of fresh air.",
        "indoors": "Do this indoors.",
    }.get(word, "")


def _gently(step: Step, fibre: bool) -> str:
    """What “gently” asks for: of a boil that it is a gentle one, of hands that they move little."""
    does = step.does
    if does.heat:  # a verb that is a heat itself
        return JUST_BOILING if does.heat == "boil" else JUST_SIMMERING
    if does.warms and not fibre:
        return SLOWLY
    moved = {"stirring", "working"} & step.manner or does.presses or not fibre
    return HANDLED_GENTLY if moved else GENTLY


# Longer than one person stays beside a pot, in minutes.
_SHIFT = 12 * 60


def _beside_it(step: Step) -> str:
    """What “attended” asks for; nobody stays beside a pot for a day and a night."""
    lasting = step.lasting
    long = lasting is not None and lasting.high is not None and lasting.high > _SHIFT
    if long and lasting is not None and lasting.kind == "time":
        return (
            "Somebody is within call all the while, at night too, and looks in every hour: take "
            "turns, for which no time is planned."
        )
    return "Stay beside it all the while."


def _order(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    named: list[Phrase] = []
    for name in step.after:
        number = telling.number_after(node, name.text)
        named.append((f"step {number}",) if number else (Words(f"“{name.text}”"),))
    return sentence(
        "begin only when ", joined(named), " is done" if len(named) == 1 else " are done"
    )


def worn(words: list[str]) -> Phrase:
    """What is worn, with articles: ``gloves, eye protection and a mask``."""
    known = vocabulary().names("wearing")
    made: list[Phrase] = []
    for word in words:
        bare = word.endswith("s") or word == "eye protection"
        text: str | Words = word if word in known else Words(word)
        made.append(phrase("" if bare else f"{article(word)} ", text))
    return joined(made)


# ------------------------------------------------------------------ fibre


def _says(step: Step) -> str:
    assert step.verb is not None
    return step.verb.says


def _it(telling: Telling, node: FlowNode) -> str:
    return "them" if telling.many(node.lots) else "it"


def _treat(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    assert step.verb is not None
    what = telling.the_fibre(node)
    it = _it(telling, node)
    said = step.verb.then.format(it=it)
    bath = (
        telling.the(node.bath)
        if node.bath
        else (telling.item(node, step.within) if step.within is not None else ())
    )
    moments = telling.moments.get(node.id)
    entering = bool(moments and moments[0].entering)
    how, own = course(telling, step, "the bath")
    brings = telling.brings(node)
    before: Phrase = ()
    if node.makes:
        place = telling.the(node.pot) if node.pot else bath
        before = sentence("make a bath in ", place, ": ", brings)
        bath = ("this bath",)
    elif brings:
        before = sentence("put ", brings, " into ", bath) if bath else sentence("use ", brings)
    if entering and bath:
        if step.does.bath_after_into and not how:
            return sentences(before, sentence(worded(step.verb.says, what), " into ", bath))
        head = phrase("put ", what, " into ", bath)
        head = phrase(head, " and ", said)
    elif bath:
        head = phrase(worded(step.verb.says, what), " in ", bath)
    else:
        head = worded(step.verb.says, what)
    if not how:
        return sentences(before, sentence(head))
    return sentences(before, sentence(head, ": " if own else " ", how))


def _own_water(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    """Wetting, scouring, rinsing, washing: a vessel, water, a heat, a time."""
    assert step.verb is not None
    place: Phrase = ()
    if node.bath:
        place = phrase(" in ", telling.the(node.bath))
    elif step.within is not None:
        place = phrase(" in ", telling.item(node, step.within))
    water, rest = telling.water_and_rest(node)
    if water:
        pause = ", " if rest and place else ""
        place = phrase(" in ", water, " with " if rest else "", rest, pause, place)
        place = tuple(p.replace(",  in", ", in") if isinstance(p, str) else p for p in place)
    elif rest:
        place = phrase(place, " with ", rest)
    elif step.does.rinses and not node.bath:
        place = phrase(" in fresh water", place)
    how, own = course(telling, step, "the water" if step.does.rinses else "it")
    paused = bool(water or rest or step.at is not None)
    comma = "" if not how else ": " if own else ", " if paused else " "
    said = sentence(worded(step.verb.says, telling.the_fibre(node)), place, comma, how)
    if step.does.wets and not telling.brief:
        many = telling.many(node.lots)
        they, go = ("They", "they go") if many else ("It", "it goes")
        return sentences(said, (f"{they} must be wet through before {go} on.",))
    return said


def _lift(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    # Where it lies in one bath or another, by the way that was taken, no bath is named.
    bath = next(iter(node.left.values()), "") if not node.left_either else ""
    out: Phrase = phrase(" out of ", telling.the(bath)) if bath else (" out of the bath",)
    place: Phrase = ()
    if step.into:
        place = phrase(" and into ", telling.item(node, step.into[0]))
    elif step.to is not None:
        place = phrase(" and take ", _it(telling, node), " to ", telling.item(node, step.to))
    return sentence(worded(_says(step), telling.the_fibre(node)), out, place)


def _dip(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    into = step.within or (step.into[0] if step.into else None)
    bath = telling.the(node.bath) if node.bath else telling.item(node, into) if into else ()
    how, _ = course(telling, step, "the bath")
    bare = bool(how) and isinstance(how[0], str) and not how[0].startswith(("at ", "for ", "until"))
    return sentence(
        worded(_says(step), telling.the_fibre(node)),
        " into " if bath else "",
        bath,
        "" if not how else ", " if bare else " ",
        how,
        ", then take ",
        _it(telling, node),
        " out",
    )


def _plain(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    """A sentence with no more than the fibre, a place, a heat and a time."""
    where: Phrase = ()
    if step.within is not None:
        where = phrase(
            " on " if _is_line(telling, node, step) else " in ", telling.item(node, step.within)
        )
    how, _ = course(telling, step, "it")
    said = worded(_says(step), telling.the_fibre(node))
    return sentence(said, where, " " if how else "", how)


def _is_line(telling: Telling, node: FlowNode, step: Step) -> bool:
    """True for what fibre hangs on rather than lies in."""
    if step.within is None or step.within.name is None:
        return False
    thing = node.names.get(step.within.name.text, "")
    pot = telling.plan.flow.pots.get(thing)
    return pot is not None and not pot[0].holds and not pot[0].bag


def _squeeze(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    into = phrase(" into ", telling.item(node, step.into[0])) if step.into else ()
    return sentence(worded(_says(step), telling.the_fibre(node)), into)


def _split(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    parts: list[Phrase] = []
    state = telling.plan.trace.final.lots
    moments = telling.moments.get(node.id)
    after = moments[0].after.lots if moments else state
    for child in node.makes:
        lot = after.get(child)
        weight = lot.weight if lot is not None else None
        share = telling.plan.flow.lots[child].share
        said: Phrase = (telling.name(child),)
        if weight is not None:
            about = share is not None and share.about
            said = phrase(said, ", ", Figure(FINE, *weight, about=about))
        elif share is not None:
            said = phrase(said, ", ", Words(share.text))
        parts.append(said)
    if not parts:
        return sentence(worded(_says(step), telling.the_fibre(node)), " into lots")
    into = f" into {in_words(len(parts))} lots: "
    head = phrase(worded(_says(step), telling.the_fibre(node)), into, joined(parts, between="; "))
    # Within "for each", the same names come again in every turn.
    tag = "its name and its lot's" if telling.turn else "its name"
    names = [telling.plan.study.called(lot) for lot in node.makes[:1]]
    if telling.turn and any(name.count(".") > 1 for name in names):
        tag = "its name and those of all the lots that it comes from"
    return sentences(sentence(head), (f"Tie a tag with {tag} to each.",))


def _join(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    head = worded(_says(step), telling.the_fibre(node))
    if not node.makes:
        return sentence(head)
    made = node.makes[0]
    moments = telling.moments.get(node.id)
    lot = moments[0].after.lots.get(made) if moments else None
    weight: Phrase = ()
    if lot is not None and lot.weight is not None:
        weight = (", ", Figure("mass", *lot.weight))
    return sentence(head, " as one lot, ", telling.name(made), weight)


def _used_in(telling: Telling, node: FlowNode, step: Step, fibre: bool) -> Iterator[Phrase]:
    """What a step in free words uses, or the fibre that it is done to, if they do not say it."""
    words = step.words.text.lower().split() if step.words is not None else []
    for item in step.using:
        own = item.name.text if item.name is not None else ""
        if (node.names.get(own, own) in telling.plan.flow.lots) != fibre:
            continue
        if item.name is not None and item.quantity is None and item.name.text in words:
            continue
        named = telling.item(node, item)
        if item.name is not None and item.quantity is not None:
            named = phrase(named, " (", Words(item.quantity.text), ")")
        yield named


def _do(telling: Telling, node: FlowNode, step: Step) -> Phrase:
    said: Phrase = (Words(step.words.text),) if step.words is not None else ()
    for word, fibre in (("with", False), ("for", True)):
        things = list(_used_in(telling, node, step, fibre))
        if things:
            said = phrase(said, f", {word} ", joined(things))
    for word, clause in (("in", step.within), ("from", step.source)):
        if clause is not None:
            where = (
                telling.heat(clause.quantity, "from")
                if clause.quantity is not None
                else phrase(f"{word} ", telling.item(node, clause))
            )
            said = phrase(said, ", ", where)
    for item in step.into:
        said = phrase(said, ", into ", telling.item(node, item))
    for word, clause in (("at", step.at), ("to", step.to)):
        if clause is None:
            continue
        if clause.quantity is not None and clause.name is None:
            said = phrase(said, ", ", telling.heat(clause.quantity, word))
        else:
            said = phrase(said, f", {word} ", telling.item(node, clause))
    over = telling.time(step.over, "over") if step.over is not None else ()
    for part in (over, telling.lasting(step), telling.until(step)):
        if part:
            said = phrase(said, ", ", part)
    return sentence(said)


_SAYINGS: dict[str, Say] = {
    "own water": _own_water,
    "treat": _treat,
    "lift": _lift,
    "dip": _dip,
    "plain": _plain,
    "squeeze": _squeeze,
    "split": _split,
    "join": _join,
    **of_baths.SAYINGS,
    **of_matter.SAYINGS,
}
fit("sentence", _SAYINGS, "handout/prose.py")
