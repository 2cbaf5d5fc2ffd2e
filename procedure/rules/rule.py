"""The frame of a rule: one function with its documentation, example, cure and source.

A rule is a function from a :class:`Study` to what it found, marked with
:func:`rule`. Its docstring is its documentation, always in the same order: what
it looks for; why it matters; ``Trips:`` with an example; ``Cure:`` with the same
put right. The ``why`` command and the test of the rule are made from it.
"""

import re
from collections.abc import Callable, Iterator
from functools import cache

from procedure.facts.study import Pointer, Study
from procedure.findings import Edit, Says, Way
from procedure.flow import Call, FlowNode, Slip
from procedure.model import Name, Place, Procedure, Step
from procedure.quantity.record import NamedTuple


class Found(NamedTuple):
    """What a rule found: where, what to say of it and of its remedy, and what else to look at.

    ``sentence`` and ``remedy`` are templates with typed values, made by
    :func:`procedure.findings.say`; a string is a template without any. A rule writes no
    number itself. ``level`` and ``source`` are the rule's own unless said here; ``firm`` where
    what may follow kills or burns, and no ``allow`` makes it lighter.
    """

    procedure: Procedure
    place: Place
    sentence: Says | str
    remedy: Says | str
    calls: tuple[Call, ...] = ()
    related: tuple[Pointer, ...] = ()
    edit: Edit | None = None
    level: str = ""
    source: str = ""
    firm: bool = False


Check = Callable[[Study], Iterator[Found]]


class Rule(NamedTuple):
    """A rule of the checker with all that is said about it."""

    name: str
    level: str
    family: str
    source: str
    check: Check

    @property
    def what(self) -> str:
        """What it looks for, in a sentence."""
        return _documented(self.check)["what"]

    @property
    def why(self) -> str:
        """Why it matters."""
        return _documented(self.check)["why"]

    @property
    def trips(self) -> str:
        """An example that trips it: steps, or steps with the sections that they need."""
        return _documented(self.check)["Trips"]

    @property
    def cure(self) -> str:
        """The same example put right."""
        return _documented(self.check)["Cure"]


def rule(name: str, *, level: str, family: str, source: str) -> Callable[[Check], Rule]:
    """Make a rule of a function; see the head of this file for its docstring."""

    def made(check: Check) -> Rule:
        return Rule(name, level, family, source, check)

    return made


@cache
def _documented(check: Check) -> dict[str, str]:
    """The parts of a rule's docstring: what, why, Trips and Cure."""
    text = _unindented(check.__doc__ or "")
    head, *rest = re.split(r"^(Trips|Cure):\n", text, flags=re.MULTILINE)
    parts = dict(zip(rest[::2], rest[1::2], strict=True))
    what, _, why = head.strip().partition("\n\n")
    fragments = {key: _unindented(value).strip("\n") for key, value in parts.items()}
    return {"what": " ".join(what.split()), "why": " ".join(why.split()), **fragments}


def _unindented(text: str) -> str:
    """Lines without the indentation that all but the first have in common."""
    lines = text.expandtabs().split("\n")
    margins = [len(line) - len(line.lstrip()) for line in lines[1:] if line.strip()]
    margin = min(margins, default=0)
    first = lines[0] if not lines[0].startswith(" " * max(margin, 1)) else lines[0][margin:]
    return "\n".join([first, *[line[margin:].rstrip() for line in lines[1:]]])


def from_slip(
    study: Study, slip: Slip, sentence: Says | str, remedy: Says | str, other: str = ""
) -> Found:
    """What a rule found, at the place of a slip; ``other`` is said of its other place."""
    related: tuple[Pointer, ...] = ()
    if slip.other is not None and other:
        procedure, name = slip.other
        related = (Pointer(procedure, name.place, other),)
    return Found(slip.procedure, slip.name.place, sentence, remedy, slip.calls, related)


def at_node(node: FlowNode, sentence: Says | str, remedy: Says | str, **more: object) -> Found:
    """What a rule found, at a step of the plan."""
    return Found(
        node.procedure,
        node.step.place,
        sentence,
        remedy,
        node.calls,
        **more,  # type: ignore[arg-type]
    )


def named_in(step: Step, name: str) -> Name | None:
    """The place in a step where a name is written."""
    items = [*step.objects, step.within, *step.into, *step.using, step.to, step.source]
    for item in items:
        if item is not None and item.name is not None and item.name.text == name:
            return item.name
    return None


def on_way(path: str) -> Way:
    """On which way through an ``if`` something is so, as a value of a finding."""
    return Way(path)
