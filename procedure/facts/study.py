"""All that the stages before have found out about a procedure, for whoever asks."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from procedure.findings import Named, Says
from procedure.flow import Flow, FlowNode, Slip
from procedure.language import Tree
from procedure.model import Block, Place, Procedure, Written
from procedure.quantity.record import TYPE_CHECKING, NamedTuple
from procedure.trace import Moment, Trace

if TYPE_CHECKING:
    from pathlib import Path
    from typing import Any, TypeVar

    from procedure.collection.workshop import WorkshopFile

    Made = TypeVar("Made")

NOTHING_SOUGHT: Mapping[Path, str | None] = MappingProxyType({})


class Pointer(NamedTuple):
    """A place to point at from a finding, and what it has to do with it."""

    procedure: Procedure
    place: Place
    says: Says | str


class Study:
    """All that the stages before have found out about a procedure; rules only read it.

    ``trees`` are by the key of their procedure. ``workshop`` is None where the procedure
    belongs to no workshop. ``sought`` are the texts of the files that it names, by the path as
    it was put together; None where none was found.
    """

    __slots__ = ("_made", "_slips", "flow", "sought", "trace", "trees", "workshop")

    def __init__(
        self,
        trees: dict[str, Tree],
        flow: Flow,
        trace: Trace,
        workshop: WorkshopFile | None = None,
        sought: Mapping[Path, str | None] = NOTHING_SOUGHT,
    ) -> None:
        self.trees = trees
        self.flow = flow
        self.trace = trace
        self.workshop = workshop
        self.sought = sought
        self._slips: dict[str, list[Slip]] = {}
        self._made: dict[object, Any] = {}

    @property
    def procedure(self) -> Procedure:
        """The main procedure."""
        return self.flow.procedure

    @property
    def procedures(self) -> list[Procedure]:
        """The main procedure and every one that it follows, each once."""
        return list({p.key: p for p in self.flow.procedures}.values())

    @property
    def moments(self) -> tuple[Moment, ...]:
        """What happens, in order."""
        return self.trace.moments

    def once(self, make: Callable[[Study], Made]) -> Made:
        """What several rules need of a study, made at its first use."""
        if make not in self._made:
            self._made[make] = make(self)
        return self._made[make]  # type: ignore[no-any-return]

    def slips(self, *kinds: str) -> list[Slip]:
        """What the flow found amiss, of these kinds."""
        if not self._slips and self.flow.slips:
            for slip in self.flow.slips:
                self._slips.setdefault(slip.kind, []).append(slip)
        return [slip for kind in kinds for slip in self._slips.get(kind, ())]

    def written(self) -> list[tuple[Procedure, Written]]:
        """Every quantity that was written, with the file it is in."""
        return self.once(_written)

    def node(self, number: int) -> FlowNode:
        """The node of that number."""
        return self.flow.nodes[number]

    def every_way(self, paths: set[str]) -> bool:
        """True where these ways are together all the ways of a choice, or of an ``if``."""
        named = set()
        for path in paths:
            named |= set(path.removeprefix("on the way ").split(" or "))
        for node in self.flow.nodes:
            ways = [one.step for one in node.inner if one.kind == "way"]
            said = {f"“{one.condition}”" for one in ways if isinstance(one, Block)}
            said = {part for one in said for part in one.split(" or ")}
            if said and said <= named:
                return True
            if node.kind == "if" and isinstance(node.step, Block):
                held = f"when “{node.step.condition}” "
                if {f"{held}holds", f"{held}does not hold"} <= paths:
                    return True
        return False

    def called(self, thing: str) -> str:
        """What a reader calls a thing: its own name, without the name of the follow."""
        lot = self.flow.lots.get(thing)
        return lot.name if lot is not None else thing.rsplit(".", 1)[-1]

    def thing(self, name: str) -> Named:
        """A lot, bath, pot or material as a value of a finding, called as a reader calls it."""
        flow = self.flow
        for kind, known in (
            ("lot", flow.lots),
            ("bath", flow.baths),
            ("pot", flow.pots),
            ("material", flow.materials),
        ):
            if name in known:
                return Named(kind, self.called(name))
        return Named("thing", self.called(name))

    def at(self, number: int, says: Says | str) -> tuple[Pointer, ...]:
        """A pointer at the step of a node, if there is one."""
        if number < 0:
            return ()
        node = self.flow.nodes[number]
        return (Pointer(node.procedure, node.step.place, says),)


def _written(study: Study) -> list[tuple[Procedure, Written]]:
    return [(one, written) for one in study.procedures for written in one.written]
