"""What the trace gives: every step as it happens, and how everything ends."""

from fractions import Fraction

from procedure.flow.graph import Flow, FlowNode
from procedure.model import Item, Step
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.trace.amounts import Amount
from procedure.trace.states import BathState, State

Brought = tuple[tuple[str, Item, Amount | None], ...]
"""What a step brings: the plan's name of each thing, its item, and what it comes to."""


class Moment(NamedTuple):
    """One step as it happens: the states of what it touches (only those), before and after.

    ``bath_before`` and ``bath_after`` are the step's bath as it finds and leaves it;
    ``entering`` are the lots that go into the bath here; ``minutes`` is how long the
    step lasts and ``heat`` the heats it passes through, both None where not said;
    ``start`` is the heat that fibre meets first, ``peak`` the hottest that the step says,
    ``hottest`` the middle of that in °C, and ``held`` how many minutes it stays at its last heat;
    ``amounts`` what each item brings, in the order of the step's items. ``wearing`` and
    ``setting`` (the place; '' where not said) are what holds at this step, from the step
    itself or from the head of its file or of the plan; ``labelled`` holds where the bath
    has a label; ``attended`` fails where a step leaves the work alone for long.
    """

    node: FlowNode
    step: Step
    before: State
    after: State
    bath_before: BathState | None
    bath_after: BathState | None
    entering: tuple[str, ...]
    minutes: Interval | None
    heat: Interval | None
    start: Interval | None
    peak: Interval | None
    hottest: Fraction | None
    held: Interval | None
    amounts: Brought
    wearing: frozenset[str]
    covered: bool
    labelled: bool = False
    attended: bool = True
    setting: str = ""


class SplitSum(NamedTuple):
    """A lot whose parts cannot make up the whole: grams of the whole, and of the parts."""

    node: FlowNode
    lot: str
    whole: Interval
    parts: Interval


class Trace(NamedTuple):
    """The plan as it happens: every moment in order, and how everything ends.

    Passes of a repeat give several moments of one node; ``moments`` holds them all.
    ``boiling`` is the heat in °C at which water boils there. ``split_sums`` are splits
    whose parts do not add up.
    """

    flow: Flow
    boiling: Fraction
    moments: tuple[Moment, ...]
    final: State
    split_sums: tuple[SplitSum, ...]


class Happening(NamedTuple):
    """A step about to happen, as its effect needs it: what it brings, how long and how hot.

    ``heat`` are the heats it passes through, ``end`` the heat at its end.
    """

    node: FlowNode
    step: Step
    amounts: Brought
    minutes: Interval | None
    heat: Interval | None
    end: Interval | None
