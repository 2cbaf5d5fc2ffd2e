"""Side by side: what is said to be done meanwhile can be done meanwhile."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.findings import listed, say
from procedure.flow.graph import FlowNode
from procedure.model import Step
from procedure.rules.rule import Found, at_node, rule

FAMILY = "names and order"


@rule("not-at-once", level="error", family=FAMILY, source="common practice")
def not_at_once(study: Study) -> Iterator[Found]:
    """A step below “meanwhile” that needs what the steps beside it have in use.

    A skein cannot be in two baths, nor a pot hold two. “meanwhile” needs a step above it,
    and steps below it.

    Trips:
        alum-bath: prepare in kettle with water 4 L, alum 12 g at 40 °C
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        mordant yarn in alum-bath at 40 °C for 12 h
        meanwhile
          rinse yarn in tub with water 5 L at 40 °C
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 4 L, alum 12 g at 40 °C
        wet out yarn in tub with water 5 L at 30 °C for 1 h
        mordant yarn in alum-bath at 40 °C for 12 h
        meanwhile
          clean tub
        rinse yarn in tub with water 5 L at 40 °C
        discard alum-bath to "foul drain"
    """
    for procedure in study.procedures:
        for name in procedure.stray_meanwhiles:
            yield Found(
                procedure,
                name.place,
                "“meanwhile” says what is done beside the step above it.",
                "Put it below a step at the same indentation, and its own steps deeper below it.",
            )
    numbered: dict[tuple[str, int], FlowNode] = {}
    for node in study.flow.nodes:
        step = node.step
        if not isinstance(step, Step):
            continue
        numbered.setdefault((node.procedure.key, step.number), node)
        first, last = step.beside or (0, -1)
        beside = [numbered.get((node.procedure.key, number)) for number in range(first, last + 1)]
        for other in filter(None, beside):
            shared = _shared(node, other)
            if shared:
                yield at_node(
                    node,
                    say(
                        "This is done meanwhile, but what it needs is in use above: {things}.",
                        things=listed(study.thing(thing) for thing in shared),
                    ),
                    "Put it after the other step, at the same indentation.",
                    related=study.at(other.id, "It is in use here."),
                )
                break


def _shared(node: FlowNode, other: FlowNode) -> tuple[str, ...]:
    """The lots, the bath and the pot that both steps need, and cannot have at once."""
    if node.bath and node.bath == other.bath:
        does = node.does
        goes_on = does.moves_liquor or does.moves_lid or does.moves_fibre or does.adds
        return () if goes_on else (node.bath,)
    ours = {*node.lots, *node.cleaned, *filter(None, (node.pot, node.to_pot))}
    theirs = (*other.lots, *other.cleaned, *filter(None, (other.pot, other.to_pot)))
    return tuple(dict.fromkeys(thing for thing in theirs if thing in ours))


RULES = (not_at_once,)
