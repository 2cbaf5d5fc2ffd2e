"""Studies that note what a rule looks at: the parts of procedures, the lines, the step written."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from procedure.facts.study import Study
from procedure.flow import Slip
from procedure.language import Tree
from procedure.model import Procedure
from procedure.service.being_written import Read, note_all, noting

Made = TypeVar("Made")


class AsksForMore(Exception):
    """A rule asks for the flow or the trace."""


class WatchedStudy(Study):
    """A study that notes whether its lines are asked for, and what of the step written."""

    __slots__ = ("_asked", "_trees", "step", "trees_read")

    def __init__(self, real: Study) -> None:
        self.trees_read = False
        self.step: Read = {}
        self._asked: dict[object, tuple[bool, Read]] = {}
        super().__init__(real.trees, real.flow, real.trace, real.workshop)

    def slips(self, *kinds: str) -> list[Slip]:
        """What the flow found amiss, of these kinds."""
        note_all({"slips": None})
        return super().slips(*kinds)

    @property
    def trees(self) -> dict[str, Tree]:
        """The trees, by the key of their procedure."""
        self.trees_read = True
        return self._trees

    @trees.setter
    def trees(self, trees: dict[str, Tree]) -> None:
        """Put the trees, when the study begins."""
        self._trees = trees

    def once(self, make: Callable[[Study], Made]) -> Made:
        """What several rules need of a study, with what its maker looked at."""
        known = self._asked.get(make)
        if known is not None:
            self.trees_read = self.trees_read or known[0]
            note_all(known[1])
            return self._made[make]  # type: ignore[no-any-return]
        before, self.trees_read = self.trees_read, False
        step: Read = {}
        with noting(step):
            made = super().once(make)
        self._asked[make] = self.trees_read, step
        self.trees_read = before or self.trees_read
        note_all(step)
        return made


class NotingStudy(Study):
    """A study whose procedures note what is read of them; whoever asks for more is stopped."""

    __slots__ = ("_told", "parts", "step", "trees_read")

    def __init__(self, real: Study) -> None:
        super().__init__(real.trees, real.flow, real.trace, real.workshop)
        self._told = [_noting(p, self) for p in real.procedures]
        self.begin()

    def let_go(self) -> None:
        """Nothing more is asked: a study that is in a circle is not let go by itself."""
        self._told = []

    def begin(self) -> None:
        """Another rule begins to ask."""
        self.trees_read = False
        self.parts: dict[tuple[str, str], Any] = {}
        self.step: Read = {}

    def __getattribute__(self, name: str) -> Any:
        if name in _MORE:
            raise AsksForMore
        if name == "trees":
            self.trees_read = True
        return super().__getattribute__(name)

    @property
    def procedure(self) -> Procedure:
        """The main procedure."""
        return self._told[0]

    @property
    def procedures(self) -> list[Procedure]:
        """The main procedure and those that it follows."""
        return self._told


# What is of the whole plan; what several rules need is made of anything.
_MORE = frozenset(("flow", "trace", "workshop", "once", "slips"))


def _noting(real: Procedure, study: NotingStudy) -> Procedure:
    """A procedure that is the other in all but this: it notes what is read of it."""
    made = object.__new__(_Noted)
    object.__setattr__(made, "__dict__", {**real.__dict__, "_study": study})
    return made


# Where a procedure is, and who it is, is compared for the whole plan.
_OF_THE_PLAN = frozenset(("key", "file", "declared"))


class _Noted(Procedure):
    def __getattribute__(self, name: str) -> Any:
        value = super().__getattribute__(name)
        if name[0] != "_" and name not in _OF_THE_PLAN:
            study = super().__getattribute__("_study")
            study.parts[super().__getattribute__("key"), name] = value
        return value
