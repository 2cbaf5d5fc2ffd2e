"""What a command is at, on a terminal's error stream, where it takes longer than a moment.

Nothing is shown where the error stream is no terminal, nor for commands that talk with the user
themselves. The line is wiped before anything else is printed, and at the end.
"""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from threading import Event, RLock, Thread
    from typing import TextIO

# Seconds until the line is shown, at the beginning of a longer part of the work, and between
# two of them.
FIRST = 1.0
SOON = 0.3
BETWEEN = 0.25


class _Line:
    """The line, and the thread that writes it anew while the command works."""

    def __init__(self, stream: TextIO, what: str) -> None:
        import threading

        self.stream = stream
        self.what, self.done, self.all = what, 0, 0
        self.began = time.monotonic()
        self.shown = 0  # how many characters stand there
        self.lock: RLock = threading.RLock()
        self.over: Event = threading.Event()
        self.thread: Thread = threading.Thread(target=self._tick, daemon=True)
        self.thread.start()

    def _tick(self) -> None:
        wait = FIRST
        while not self.over.wait(wait):
            self.paint()
            wait = BETWEEN

    def paint(self) -> None:
        """Write the line as it is now."""
        with self.lock:
            if self.over.is_set():
                return
            count = f", {self.done:,} of {self.all:,}" if self.all else ""
            line = f"vatwright: {self.what}{count} ({time.monotonic() - self.began:.0f} s)"
            with suppress(OSError, ValueError):
                self.stream.write("\r" + line.ljust(self.shown))
                self.stream.flush()
            self.shown = len(line)

    def wipe(self) -> None:
        """Take the line away."""
        with self.lock:
            if self.shown:
                with suppress(OSError, ValueError):
                    self.stream.write("\r" + " " * self.shown + "\r")
                    self.stream.flush()
                self.shown = 0


_line: _Line | None = None


@contextmanager
def telling(stream: TextIO, what: str) -> Iterator[None]:
    """Tell on a stream what the command is at, until it ends; nothing where it is no terminal."""
    global _line
    try:
        terminal = stream.isatty()
    except ValueError:  # it is closed
        terminal = False
    if not terminal or _line is not None:
        yield
        return
    _line = line = _Line(stream, what)
    try:
        yield
    finally:
        line.over.set()
        line.wipe()
        line.thread.join()
        _line = None


def at_work(what: str, done: int = 0, of: int = 0) -> None:
    """Say what the command is at now, and how much of it is done, where that is known."""
    if _line is not None:
        new = what != _line.what
        _line.what, _line.done, _line.all = what, done, of
        if new and time.monotonic() - _line.began >= SOON:
            _line.paint()  # what comes may be a library that lets no other thread work


def set_aside() -> None:
    """Take the line away before something else is printed."""
    if _line is not None:
        _line.wipe()


@contextmanager
def still() -> Iterator[None]:
    """Nothing is written meanwhile: a process that is divided here takes no half line with it."""
    if _line is None:
        yield
    else:
        with _line.lock:
            yield


def threads() -> int:
    """How many threads work here, beside the one that writes the line."""
    import threading

    return threading.active_count() - (_line is not None)
