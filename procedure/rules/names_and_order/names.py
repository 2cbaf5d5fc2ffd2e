"""Names: everything is called by one name, and each name is used."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Pointer, Study
from procedure.findings import Line, Says, say
from procedure.model import Name, Step
from procedure.rules import edits
from procedure.rules.rule import Found, from_slip, rule
from procedure.vocabulary import near, vocabulary

FAMILY = "names and order"


PRACTICE = "common practice"


@rule("not-declared", level="error", family=FAMILY, source="the language reference")
def not_declared(study: Study) -> Iterator[Found]:
    """A name that is used and was never declared or made.

    The reader looks for it in vain; most often it is spelt two ways.

    Trips:
        wet out yarn in tub with water 5 L for 1 h
        rinse yarm in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
        rinse yarn in tub with water 5 L
    """
    for slip in study.slips("not declared"):
        remedy = (
            say("Did you mean “{near}”?", near=slip.near)
            if slip.near
            else say("Declare it, or use the name of {wanted}.", wanted=slip.wanted)
        )
        found = from_slip(
            study, slip, say("Nothing is called “{name}” here.", name=slip.name.text), remedy
        )
        yield found._replace(edit=edits.of_name(slip))
    yield from _nowhere(study)


def _nowhere(study: Study) -> Iterator[Found]:
    """Names behind “to” and “from” that nothing was made of: a heat that is misspelt, mostly."""
    told = {slip.name.place for slip in study.flow.slips}
    seen = set()
    for node in study.flow.nodes:
        step = node.step
        if not isinstance(step, Step) or step.verb is None:
            continue
        for item in (step.to, step.source):
            name = None if item is None else item.name
            if name is None or name.text in node.names or name.place in told | seen:
                continue
            if name.text in node.procedure.unread:
                continue
            seen.add(name.place)
            meant = near(name.text, list(vocabulary().heats))
            yield Found(
                node.procedure,
                name.place,
                say("Nothing is called “{name}” here, and it is no heat.", name=name.text),
                say("Did you mean “{meant}”?", meant=meant)
                if meant is not None
                else "Write a heat such as 80 °C or the boil, or the name of a bath or a pot.",
            )


@rule("declared-twice", level="error", family=FAMILY, source="the language reference")
def declared_twice(study: Study) -> Iterator[Found]:
    """A name, label or section that means two things.

    The reader cannot tell which is meant.

    Trips:
        soak: wet out yarn in tub with water 5 L for 1 h
        soak: rinse yarn in tub with water 5 L
    Cure:
        soak: wet out yarn in tub with water 5 L for 1 h
        first-rinse: rinse yarn in tub with water 5 L
    """
    for slip in study.slips("declared twice"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is the name of something else already.", name=slip.name.text),
            "Choose another name for one of the two.",
            "It was named here first.",
        )
    for procedure in study.procedures:
        for name, first in procedure.declared_twice:
            yield Found(
                procedure,
                name.place,
                say("“{name}” is declared twice.", name=name.text),
                "Choose another name for one of the two.",
                related=(Pointer(procedure, first.place, "It was declared here first."),),
            )
        for name, line in procedure.sections_twice:
            yield Found(
                procedure,
                name.place,
                say(
                    "There are two sections “{name}”; the first begins on {line}.",
                    name=name.text,
                    line=Line(line),
                ),
                "Put both together.",
            )


@rule("never-used", level="warning", family=FAMILY, source=PRACTICE)
def never_used(study: Study) -> Iterator[Found]:
    """Fibre, a pot or a material that is declared and never used.

    Either a step is missing or the reader buys something for nothing.

    Trips:
        materials
          alum: potassium alum
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for slip in study.slips("never used"):
        yield from_slip(
            study,
            slip,
            say("“{name}” is declared and never used.", name=slip.name.text),
            "Use it in a step, or remove it.",
        )


def no_such_rule(name: Name, known: list[str]) -> tuple[Says, Says | str]:
    """What to say of an ``allow`` with a rule that there is not."""
    from procedure.vocabulary import near

    meant = near(name.text, known)
    remedy = (
        say("Did you mean “{meant}”?", meant=meant) if meant else "“vatwright why” lists the rules."
    )
    return say("There is no rule called “{name}”.", name=name.text), remedy


RULES = (
    not_declared,
    declared_twice,
    never_used,
)
