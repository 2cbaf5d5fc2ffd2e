"""DOT to pictures: with the Graphviz that the pygraphviz wheel carries, else with a system one."""

from __future__ import annotations

import contextlib
import os
import shutil
import sys
import tempfile
from collections.abc import Iterator
from typing import BinaryIO

LAYOUT = "nop2"


class NoGraphviz(Exception):
    """Neither the pygraphviz wheel nor a system Graphviz is there; the text says what to do."""

    def __init__(self) -> None:
        super().__init__(
            "no Graphviz was found, so only the DOT file can be written; "
            "“pip install pygraphviz” brings one"
        )


class NotDrawn(Exception):
    """Graphviz was there and could not draw; the text is what it said."""


def render(dot: str, form: str, dpi: int = 0) -> bytes:
    """A DOT text as ``svg``, ``png`` or ``pdf``.

    ``dpi`` is for PNG. Raises :class:`NoGraphviz` or :class:`NotDrawn`.
    """
    with_wheel = _with_wheel(dot, form, dpi)
    if with_wheel is not None:
        return with_wheel
    program = shutil.which("dot")
    if program is None:
        raise NoGraphviz
    return _with_program(program, dot, form, dpi)


def _with_wheel(dot: str, form: str, dpi: int) -> bytes | None:
    try:
        import pygraphviz
    except ImportError:
        return None
    with _hushed() as said:
        try:
            graph = pygraphviz.AGraph(string=dot)
            if dpi:
                graph.graph_attr["dpi"] = str(dpi)
            drawn = graph.draw(format=form, prog=LAYOUT)
        except (ValueError, OSError, pygraphviz.agraph.DotError) as reason:
            said.seek(0)
            heard = said.read().decode("utf-8", "replace").strip()
            raise NotDrawn(f"{reason} {heard}".strip()) from None
    return bytes(drawn)


@contextlib.contextmanager
def _hushed() -> Iterator[BinaryIO]:
    """Keeps what the C libraries write to the error stream; they grumble about fonts."""
    with tempfile.TemporaryFile() as said:
        try:
            sys.stderr.flush()
            kept = os.dup(2)
        except (OSError, ValueError, AttributeError):  # no error stream to keep
            yield said
            return
        try:
            os.dup2(said.fileno(), 2)
            yield said
        finally:
            os.dup2(kept, 2)
            os.close(kept)


def _with_program(program: str, dot: str, form: str, dpi: int) -> bytes:
    import subprocess

    command = [program, f"-K{LAYOUT}", f"-T{form}", *([f"-Gdpi={dpi}"] if dpi else [])]
    try:
        done = subprocess.run(command, input=dot.encode(), capture_output=True, check=False)
    except OSError as reason:
        raise NotDrawn(f"{program} could not be run: {reason}") from None
    if done.returncode:
        raise NotDrawn(done.stderr.decode("utf-8", "replace").strip())
    return done.stdout
