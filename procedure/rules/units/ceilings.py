"""Units: a heat that is never to be passed, held over the steps that follow."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Pointer, Study
from procedure.findings import Heat, say
from procedure.model import Procedure, Quantity
from procedure.rules.rule import Found, at_node, rule
from procedure.trace.readings import peak_heat

FAMILY = "units"


@rule("above-its-ceiling", level="error", family=FAMILY, source="the procedure itself")
def above_its_ceiling(study: Study) -> Iterator[Found]:
    """A bath that is made hotter than the procedure says it is ever to be.

    “Never above 60 °C” holds for the steps of that bath from then on; one of the two is a slip.
    So it is of a simmer below 80 °C, which is where a simmer begins.

    Trips:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 4 L, weld 50 g at 40 °C
        dye yarn in gold-bath from 40 °C to 50 °C over 30 min never above 60 °C for 1 h
        heat gold-bath to 75 °C over 1 h
        cool gold-bath to 30 °C overnight
        rinse yarn in tub with water 5 L at 30 °C
        discard gold-bath to "foul drain"
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        gold-bath: prepare in kettle with water 4 L, weld 50 g at 40 °C
        dye yarn in gold-bath from 40 °C to 50 °C over 30 min never above 60 °C for 1 h
        heat gold-bath to 60 °C over 30 min
        cool gold-bath to 30 °C overnight
        rinse yarn in tub with water 5 L at 30 °C
        discard gold-bath to "foul drain"
    """
    ceilings: dict[str, tuple[Procedure, Quantity]] = {}
    for moment in study.trace.moments:
        node, step = moment.node, moment.step
        if not node.bath:
            continue
        if step.ceiling is not None and step.ceiling.high is not None:
            ceilings[node.bath] = node.procedure, step.ceiling
        told = ceilings.get(node.bath)
        heat = peak_heat(step, moment.heat)
        if told is None or heat is None or told[1].high is None:
            continue
        procedure, ceiling = told
        assert ceiling.high is not None
        # A bath that simmers below the heat at which a simmer begins does not simmer.
        never = step.ceiling is ceiling and bool(step.does.heat) and heat.low == ceiling.high
        if heat.low > ceiling.high or never:
            yield at_node(
                node,
                say(
                    "{bath} is brought to {heat} here, and it is to be {text}.",
                    bath=study.thing(node.bath),
                    heat=Heat(heat.low, heat.high),
                    # A word of heat is told by that word, a number in the reader's own scale.
                    text=ceiling.text
                    if ceiling.word
                    else say("never above {most}", most=Heat(ceiling.high)),
                ),
                "Keep it cooler, or say another heat that it is never to pass.",
                related=(Pointer(procedure, ceiling.place, "The heat is bounded here."),),
            )


RULES = (above_its_ceiling,)
