"""Python's own copy of a module that was cut short: taken away, and said in a sentence.

Where a disk is full, or loses its power, Python may leave half of what it compiles beside the
sources, and cannot read it at the next start. What it is made of is whole, so it is made anew.
"""

from __future__ import annotations

import os

from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from types import TracebackType

# Where Python reads what it compiled, and what it calls the path of it there.
READING = ("<frozen importlib._bootstrap_external>", "_compile_bytecode")
PATH = "bytecode_path"


def _copy_read(traceback: TracebackType | None) -> str | None:
    """The copy that was being read as something went wrong, if it was that."""
    while traceback is not None:
        code = traceback.tb_frame.f_code
        if (code.co_filename, code.co_name) == READING:
            path: str | None = traceback.tb_frame.f_locals.get(PATH)
            return path
        traceback = traceback.tb_next
    return None


def sentence(reason: BaseException) -> str | None:
    """What to say where that came of a copy cut short, which is then taken away; else None."""
    path = _copy_read(reason.__traceback__)
    if path is None:
        return None
    try:
        os.remove(path)  # noqa: PTH107
    except OSError:
        return f"{path} was cut short as Python wrote it. Delete it, and run the command again."
    return (
        f"{path} was cut short as Python wrote it (a full disk, say), and has been deleted. "
        "Run the command again: Python makes it anew."
    )
