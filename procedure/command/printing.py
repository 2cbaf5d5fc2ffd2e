"""The two streams of a command: text without anything raw, data as UTF-8 bytes.

Everything that a command prints goes through here, since :func:`shown` puts these streams in
the place of ``sys.stdout`` and ``sys.stderr`` while it runs.
"""

from __future__ import annotations

import io
import os
import sys

from procedure.command.progress import set_aside, still
from procedure.quantity.record import TYPE_CHECKING
from procedure.wording.visible import one_line, visible

if TYPE_CHECKING:
    from typing import Any, TextIO


class OutputLost(Exception):
    """Standard output cannot be written any more; its text says why, and is empty for a pipe
    that its reader has closed."""


class Shown(io.TextIOBase):
    """A stream that shows what is raw, and says in its own way that it is full or closed."""

    def __init__(self, stream: TextIO) -> None:
        self._stream = stream

    def write(self, text: str) -> int:
        """Write text, with what a terminal would act upon made visible."""
        return self.write_styled(visible(text))

    def write_styled(self, text: str) -> int:
        """Write text that has the colours of a terminal in it, and nothing else that is raw."""
        with still():
            set_aside()
            try:
                self._stream.write(text)
            except (OSError, ValueError) as reason:
                raise _lost(reason) from None
        return len(text)

    def write_data(self, data: bytes) -> None:
        """Write data as it is: bytes for a file or a program, but nothing raw to a terminal."""
        if self._stream.isatty():
            self.write(data.decode("utf-8", "replace").replace("\r\n", "\n"))
            return
        with still():
            set_aside()
            try:
                self._stream.flush()
                self._stream.buffer.write(data)
                self._stream.buffer.flush()
            except (OSError, ValueError) as reason:
                raise _lost(reason) from None

    def flush(self) -> None:
        """Send what was written."""
        try:
            self._stream.flush()
        except (OSError, ValueError) as reason:
            raise _lost(reason) from None

    @property
    def below(self) -> TextIO:
        """The stream below."""
        return self._stream

    def isatty(self) -> bool:
        """True for a terminal."""
        return self._stream.isatty()

    @property
    def closed(self) -> bool:
        """True where the stream below is closed."""
        return self._stream.closed

    def fileno(self) -> int:
        """The number of the stream below."""
        return self._stream.fileno()

    @property
    def buffer(self) -> Any:
        """The stream of bytes below."""
        return self._stream.buffer

    @property
    def encoding(self) -> str:  # type: ignore[override]
        """The character set of the stream below."""
        return self._stream.encoding

    @property
    def errors(self) -> str | None:  # type: ignore[override]
        """What the stream below does with characters that it lacks."""
        return self._stream.errors


def _lost(reason: OSError | ValueError) -> OutputLost:
    if isinstance(reason, BrokenPipeError):
        return OutputLost("")
    said = reason.strerror if isinstance(reason, OSError) else None
    return OutputLost(f"standard output cannot be written: {(said or 'it is closed').lower()}.")


class shown:  # noqa: N801 - it is used as a function is
    """Puts streams that show what is raw in the place of the two of the process, for a while.

    Raises ``OutputLost`` where there is no standard output at all.
    """

    def __enter__(self) -> None:
        if sys.stderr is None:
            sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123
        if sys.stdout is None:
            raise OutputLost("standard output cannot be written: it is closed.")
        self._before = sys.stdout, sys.stderr
        for stream in self._before:
            if isinstance(stream, io.TextIOWrapper):
                stream.reconfigure(errors="plainer")
        sys.stdout, sys.stderr = Shown(self._before[0]), Shown(self._before[1])

    def __exit__(self, *_: object) -> None:
        sys.stdout, sys.stderr = self._before


def let_go() -> None:
    """Send what is left for a lost output nowhere, so that Python does not complain at its end."""
    if sys.stdout is not None:
        try:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        except (OSError, ValueError):
            return


def put_styled(text: str) -> None:
    """Print text with colours, whose other parts have been made visible by who made it."""
    out = sys.stdout
    if isinstance(out, Shown):
        out.write_styled(text)
    else:
        out.write(text)


def put_data(data: bytes | str) -> None:
    """Print what programs read, such as JSON or a table: UTF-8, line ends as they are."""
    out = sys.stdout
    made = data.encode("utf-8", "replace") if isinstance(data, str) else data
    if isinstance(out, Shown):
        out.write_data(made)
    else:
        out.write(made.decode("utf-8"))


def say(sentence: str) -> None:
    """Print a sentence on a line of its own, whatever the names in it hold."""
    print(one_line(sentence))


def warn(sentence: str) -> None:
    """The same on standard error, with the name of the program."""
    print(f"vatwright: {one_line(sentence)}", file=sys.stderr)
