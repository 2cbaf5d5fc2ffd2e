"""What a step is called on a timetable: a request in few words, “mordant yarn in alum-bath”."""

from __future__ import annotations

import os
from fractions import Fraction
from pathlib import Path

from procedure.facts.handling import right_name
from procedure.findings import Heat
from procedure.flow import FlowNode
from procedure.model import Step
from procedure.pipeline import Judged
from procedure.quantity.number_words import listed
from procedure.rules.judging import reader_of
from procedure.timetable.alike_baths import bath_called
from procedure.timetable.written_out import Turn
from procedure.vocabulary.entries import Verb
from procedure.vocabulary.everyday import readings_of
from procedure.wording.numbers import measured


def file_of(plan: Judged, turn: Turn) -> str:
    """The file in which a step is written: that of a followed procedure as its plan's is given.

    Where the plan was named by a whole path so is what it follows; else from the same folder.
    """
    if not turn.node.calls:
        return plan.file
    given, followed = Path(plan.file), turn.node.procedure.key
    if not Path(followed).is_absolute():
        return turn.node.procedure.file
    return os.path.normpath(given.parent / os.path.relpath(followed, given.resolve().parent))


def name_of(plan: Judged, turn: Turn) -> str:
    """What is to be done, in few words: “mordant yarn in alum-bath”.

    A part of a bath is told as the part that it is, and a bag by its name.
    """
    node, step = turn.node, turn.step
    if step.verb is None:
        return step.words.text if step.words is not None else "do what is written"
    poured = node.does.adds and node.to_pot
    verb = "pour" if poured else _verb_of(step, step.verb)
    words = [verb, *_of_what(plan, turn)]
    told = " ".join(word for word in words if word)
    return told + (" overnight" if "overnight" in step.manner and not node.cleaned else "")


def _verb_of(step: Step, verb: Verb) -> str:
    """The verb as it is written where it says by itself what the plainer one does: sadden.

    An everyday verb that stands for clauses as well, or for another thing to do it to, is told by
    its plain one.
    """
    told = [one for one in readings_of(step.word) if one.verb == verb.name]
    alone = told and not any(one.moves or one.heat or one.manners for one in told)
    return step.word if alone and all(one.of == {"lot"} for one in told) else verb.name


def _of_what(plan: Judged, turn: Turn) -> list[str]:
    node, called = turn.node, plan.study.called
    lots = [called(lot) for lot in node.lots]
    moved = [thing for thing, _ in node.moved] if not lots else []
    things = [right_name(plan.study, thing) or called(thing) for thing in moved]
    if node.cleaned:
        return [each_once([called(pot) for pot in node.cleaned])]
    if node.does.bags or (node.bag and not node.bath):
        return _of_a_bag(plan, node, things)
    if lots:
        return [each_once(lots), *_where(plan, node)]
    if node.does.prepares and node.makes:
        made = each_once([bath_called(plan, each) for each in node.makes])
        return [made, f"in {called(node.pot)}" if node.pot else ""]
    if node.does.adds and node.to_pot:  # a whole bath into an empty pot
        more = f"and add {each_once(things)}" if things else ""
        return [bath_called(plan, node.bath), f"into {called(node.to_pot)}", more]
    if things:
        to = f"to {bath_called(plan, node.bath)}" if node.bath and node.does.adds else ""
        return [each_once(things), to]
    if node.bath:
        return [_part_of(turn), bath_called(plan, node.bath)]
    return [called(node.pot) if node.pot else ""]


def _part_of(turn: Turn) -> str:
    """How much of a bath, where it is only a part: “1/4 of”."""
    part = turn.step.objects[0].quantity if turn.step.objects else None
    if part is None or not (turn.node.does.empties or turn.node.does.draws_off):
        return ""
    return f"{part.text.split(' of ')[0]} of"


def _of_a_bag(plan: Judged, node: FlowNode, things: list[str]) -> list[str]:
    called = plan.study.called
    words = [called(node.bag) if node.bag else ""]
    if things:
        words.append(f"with {each_once(things)}" if node.bag else each_once(things))
    if node.bath:
        how = "into" if node.does.bag_in else "from" if node.does.bag_out else "in"
        words.append(f"{how} {bath_called(plan, node.bath)}")
    return words


def _where(plan: Judged, node: FlowNode) -> list[str]:
    if node.bath:
        return [f"in {bath_called(plan, node.bath, node.lots)}"]
    if node.pot:
        return [f"in {plan.study.called(node.pot)}"]
    if node.does.takes_out and node.left:
        return [f"from {each_once([bath_called(plan, each) for each in node.left.values()])}"]
    return []


def heat_told(plan: Judged, heat: Fraction | float) -> str:
    """A heat in °C on the scale that the procedure is written in."""
    return measured(Heat(Fraction(heat), worded=False), reader_of(plan.model))


def weighs_in_pounds(plan: Judged) -> bool:
    """Whether a procedure is written in ounces and pounds."""
    return reader_of(plan.model).mass == "customary"


def each_once(names: list[str]) -> str:
    """Names one after another, each once: a, b and c."""
    return listed(list(dict.fromkeys(names)))
