"""Many files checked on all cores, with the answers in the order of the files.

Each helper is a process that takes every n-th file and sends what it found through a pipe of
its own. Where a helper cannot be had, or ends before its work is done, its files are left to
the one who asked.
"""

from __future__ import annotations

import gc
import os
import signal
import sys
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from time import monotonic
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from procedure.command.main import FILES_A_SWEEP
from procedure.command.progress import still, threads

if TYPE_CHECKING:
    from multiprocessing.connection import Connection
    from multiprocessing.process import BaseProcess

Answer = TypeVar("Answer")

# Seconds in which a helper gathers answers before it sends them: to wake the one who asked for
# each of a thousand costs more than they do.
GATHERED = 0.05
# From so many bytes of text on, helpers save more time than it takes to start them; where each
# of them must import the program first, that is later.
LEAST = 60_000
LEAST_WHERE_SLOW = 400_000


def cores() -> int:
    """The processors that this process may use."""
    if hasattr(os, "sched_getaffinity"):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def helpers_for(names: Sequence[str]) -> int:
    """How many helpers are worth their start for these files; 0 for none."""
    able = min(cores(), len(names))
    if able < 2 or threads() > 1:  # to divide a process with threads is not safe
        return 0
    least = LEAST if _way() == "fork" else LEAST_WHERE_SLOW
    total = 0
    for name in names:
        with suppress(OSError, ValueError):
            total += os.stat(name).st_size  # noqa: PTH116 - a thousand of them
        if total >= least:
            return able
    return 0


def side_by_side(
    ask: Callable[[str], Answer], names: Sequence[str], helpers: int
) -> Iterator[Answer]:
    """What ``ask`` answers for each name, in their order.

    ``ask`` is a function of a module, and its answers can be pickled. An answer that a helper
    could not give is asked for here, so an exception comes from here as well.
    """
    crew = _Crew(ask, names, helpers)
    try:
        for number, name in enumerate(names):
            answer = crew.answer(number % helpers)
            yield ask(name) if answer is None else answer[0]
    finally:
        crew.dismiss()


class _Crew(Generic[Answer]):
    """The helpers, and what they have sent that nobody has asked for yet."""

    def __init__(self, ask: Callable[[str], Answer], names: Sequence[str], helpers: int) -> None:
        from multiprocessing import get_context

        context: Any = get_context(_way())  # which kind it is depends on the system
        self.pipes: list[Connection | None] = []
        self.sent: list[deque[tuple[Answer]]] = [deque() for _ in range(helpers)]
        self.processes: list[BaseProcess] = []
        inherited: list[Connection] = []
        for number in range(helpers):
            mine, its = context.Pipe(duplex=False)
            inherited.append(mine)
            shut = tuple(inherited) if _way() == "fork" else ()
            work = (ask, names[number::helpers], its, shut)
            process = context.Process(target=_help, args=work, daemon=True)
            try:
                with still():
                    process.start()
            except OSError:  # no more processes for this user
                self.pipes.append(None)
            else:
                self.pipes.append(mine)
                self.processes.append(process)
            its.close()

    def answer(self, helper: int) -> tuple[Answer] | None:
        """The next answer of a helper; None where it gives no more."""
        from multiprocessing.connection import wait

        while not self.sent[helper]:
            if self.pipes[helper] is None:
                return None
            # What the others send is taken in as well, so that they need not wait.
            for ready in wait([pipe for pipe in self.pipes if pipe is not None]):
                self._take(self.pipes.index(ready))  # type: ignore[arg-type]
        return self.sent[helper].popleft()

    def _take(self, helper: int) -> None:
        pipe = self.pipes[helper]
        assert pipe is not None
        try:
            self.sent[helper] += pipe.recv()
        except (EOFError, OSError):
            pipe.close()
            self.pipes[helper] = None

    def dismiss(self) -> None:
        """Send home who is left."""
        for pipe in self.pipes:
            if pipe is not None:
                pipe.close()
        for process in self.processes:
            process.terminate()
            process.join()


def _help(
    ask: Callable[[str], object], names: Sequence[str], out: Connection, shut: Sequence[Connection]
) -> None:
    """The work of one helper: an answer for each name, until one cannot be given."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the one who asked
    for other in shut:
        other.close()
    gc.disable()
    gc.freeze()
    gathered: list[tuple[object]] = []
    since = monotonic()
    with suppress(BrokenPipeError):
        for number, name in enumerate(names, 1):
            if number % FILES_A_SWEEP == 0:
                gc.collect()
            try:
                gathered.append((ask(name),))
            except Exception:
                break  # the one who asked tries it again, and sees what is wrong
            if monotonic() - since > GATHERED:
                out.send(gathered)
                gathered, since = [], monotonic()
        out.send(gathered)


def _way() -> str:
    """How a helper is made: quickly where a process can be divided without danger."""
    return "fork" if sys.platform == "linux" else "spawn"
