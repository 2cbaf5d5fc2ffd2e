"""What a fault is, what a kind of fault promises, and how kinds are listed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from sound import Sound


class Fault(NamedTuple):
    """A sound text with one thing made wrong.

    ``lines`` are where a finding may stand or point: the changed line, and where the kind
    says so the declaration of the thing or the step where its lack first bites. ``said``
    is the change in words, for the list of misses.
    """

    text: str
    lines: frozenset[int]
    said: str


Put = Callable[[Sound], Iterator[Fault]]


class Kind(NamedTuple):
    """A kind of fault.

    ``finds`` are the rules that speak of it; one of them must, at ``least`` of that
    level, on one of the fault's lines. ``follows`` are the rules that may speak besides,
    because what they say is then true of the changed procedure. Anything else of warning
    or error level is an unrelated alarm.
    """

    name: str
    family: str
    finds: frozenset[str]
    follows: frozenset[str]
    least: str
    put: Put

    @property
    def why(self) -> str:
        """What the kind does and where a finding belongs."""
        return " ".join((self.put.__doc__ or "").split())


KINDS: list[Kind] = []


def kind(
    name: str, family: str, *, finds: str, follows: str = "", least: str = "warning"
) -> Callable[[Put], Put]:
    """Enter a function as a kind of fault; rules are named with spaces between."""

    def entered(put: Put) -> Put:
        KINDS.append(
            Kind(name, family, frozenset(finds.split()), frozenset(follows.split()), least, put)
        )
        return put

    return entered


def fault(text: str, lines: Iterable[int], said: str) -> Fault:
    """A fault whose finding belongs on one of those lines."""
    return Fault(text, frozenset(lines), " ".join(said.split()))
