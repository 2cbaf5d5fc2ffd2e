"""What a command is at, on a terminal's error stream, where it takes longer than a moment.

Nothing is shown where the error stream is no terminal, nor for commands that talk with the user
themselves. The line is wiped before anything else is printed, and at the end.
"""

from __future__ import annotations

import time

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from contextlib import AbstractContextManager
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
        from contextlib import suppress

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
        from contextlib import suppress

        with self.lock:
            if self.shown:
                with suppress(OSError, ValueError):
                    self.stream.write("\r" + " " * self.shown + "\r")
                    self.stream.flush()
                self.shown = 0


_line: _Line | None = None


class telling:  # noqa: N801 - it is used as a function is
    """Tells on a stream what the command is at, until it ends; nothing where it is no terminal."""

    def __init__(self, stream: TextIO, what: str) -> None:
        self._stream, self._what = stream, what
        self._own: _Line | None = None

    def __enter__(self) -> None:
        global _line
        try:
            terminal = self._stream.isatty()
        except ValueError:  # it is closed
            terminal = False
        if terminal and _line is None:
            _line = self._own = _Line(self._stream, self._what)

    def __exit__(self, *_: object) -> None:
        global _line
        if self._own is not None:
            self._own.over.set()
            self._own.wipe()
            self._own.thread.join()
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


def still() -> AbstractContextManager[object]:
    """The line is not written meanwhile.

    What is printed stands alone on its line, and a process that is divided here takes no half
    line with it.
    """
    from contextlib import nullcontext

    return nullcontext() if _line is None else _line.lock


def threads() -> int:
    """How many threads work here, beside the one that writes the line."""
    import threading

    return threading.active_count() - (_line is not None)
