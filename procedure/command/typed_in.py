"""What comes from standard input: all of it, or an answer at a time, and never without an end."""

from __future__ import annotations

import sys

from procedure.collection.bytes_of import bytes_from
from procedure.command.main import CannotRun
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TextIO

# Longer than anything that somebody answers; a terminal sends no line of more than 4,095 bytes.
LONGEST_ANSWER = 4_096


def typed(most: int) -> bytes:
    """All of standard input, or ``most`` bytes and one more.

    Raises ``CannotRun`` where it is closed, and ``OSError`` where it cannot be read.
    """
    return bytes_from(_open().buffer, most)


def is_somebody_there() -> bool:
    """True where standard input is a terminal, at which somebody can be asked."""
    return sys.stdin is not None and sys.stdin.isatty()


def answer(question: str) -> str | None:
    """What is answered to a question; None where nothing more comes.

    Raises ``CannotRun`` where nobody can be asked, or the answer is none that can be read.
    """
    source = _open()
    try:
        if source.isatty():
            said = f"{input(question)}\n"
        else:
            print(question, end="", flush=True)
            said = source.readline(LONGEST_ANSWER + 1)
        said.encode("utf-8")  # a byte that is no text may have been let through
    except EOFError:
        return None
    except UnicodeError:
        raise CannotRun("the answer is not UTF-8 text, so it cannot be read.") from None
    except OSError as reason:
        why = (reason.strerror or str(reason)).lower()
        raise CannotRun(f"standard input cannot be read: {why}.") from None
    if len(said) > LONGEST_ANSWER:
        raise CannotRun(f"an answer has {LONGEST_ANSWER:,} characters at the most.")
    return said.removesuffix("\n") if said else None


def _open() -> TextIO:
    if sys.stdin is None:
        raise CannotRun("standard input cannot be read: it is closed.")
    return sys.stdin
