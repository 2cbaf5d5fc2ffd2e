"""One trial: files, a command line, and what must hold of every one of them.

A trial may end in findings or in one plain sentence. It may not end in an exception, take
longer than :data:`LONGEST`, give another exit status than 0, 1 or 2, or print what a
terminal would act upon. What is neat is neat still when it is laid out again, and a text that
is read after another, as while somebody types, says what it says when it is read alone.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import re
import signal
import sys
import tempfile
import traceback
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from types import FrameType
from typing import NamedTuple
from unittest import mock

LONGEST = 5.0  # seconds of the processor
PATIENCE = 12  # how many times as long by the clock
# In the place of a command: two things that are held against each other.
NEAT_AGAIN = "(neat again)"
TYPED = "(typed)"

# What a terminal or a log would act upon: C0 without line feed and tab, DEL, C1, the marks of
# direction (Unicode Standard Annex #9) and the separators of lines and paragraphs.
RAW = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u061c\u200e\u200f\u2028\u2029\u202a-\u202e\u2066-\u2069]"
)


class Trial(NamedTuple):
    """Files by name, and the arguments of a command in the folder that holds them.

    Without arguments the first file is read as the Python interface reads it.
    """

    files: Mapping[str, str]
    arguments: Sequence[str] = ()

    def stored(self) -> str:
        """The trial as JSON, for the corpus."""
        data = {"files": dict(self.files), "arguments": list(self.arguments)}
        return json.dumps(data, ensure_ascii=True, indent=1) + "\n"


def trial_in(path: Path) -> Trial:
    """A trial of the corpus."""
    data = json.loads(path.read_text("utf-8"))
    return Trial(data["files"], data["arguments"])


class TooLong(BaseException):
    """A trial that took longer than it may; no Exception, so that nothing swallows it."""


@contextlib.contextmanager
def _limited(seconds: float) -> Iterator[None]:
    def stop(number: int, frame: FrameType | None) -> None:
        raise TooLong

    # Time of the processor, since a busy machine is slow; and of the clock, for what waits.
    timers = (
        (signal.SIGPROF, signal.ITIMER_PROF, seconds),
        (signal.SIGALRM, signal.ITIMER_REAL, seconds * PATIENCE),
    )
    before = [signal.signal(number, stop) for number, _, _ in timers]
    for _, timer, limit in timers:
        signal.setitimer(timer, limit)
    try:
        yield
    finally:
        for (number, timer, _), handler in zip(timers, before, strict=True):
            signal.setitimer(timer, 0)
            signal.signal(number, handler)


def amiss(trial: Trial, seconds: float = LONGEST) -> str:
    """What is wrong with how a trial ends, with the place; empty where nothing is."""
    try:
        with _limited(seconds):
            match trial.arguments[:1]:
                case ():
                    return _read(trial)
                case (one,) if one == NEAT_AGAIN:
                    return _neat_again(trial)
                case (one,) if one == TYPED:
                    return _typed(trial)
                case _:
                    return _command(trial)
    except TooLong:
        return f"longer than {seconds:g} s: {_place()}"
    except MemoryError:
        return f"out of memory: {_place()}"
    except Exception as reason:
        return f"{type(reason).__name__}: {_place()}: {str(reason)[:100]}"


def _place() -> str:
    """The deepest place of the program that an exception came through."""
    *_, trace = sys.exc_info()
    ours = [one for one in traceback.extract_tb(trace) if "/procedure/" in one.filename]
    if not ours:
        return "nowhere of ours"
    return f"{ours[-1].filename.rpartition('/procedure/')[2]}:{ours[-1].lineno}"


def _read(trial: Trial) -> str:
    from procedure.pipeline import read

    name, text = next(iter(trial.files.items()))
    for one in read(text, name).findings:
        if one.line < 1 or not 1 <= one.column < one.to:
            return f"a finding has no place: {one.rule}"
        if not one.sentence or not one.remedy:
            return f"a finding says nothing: {one.rule}"
    return ""


def _neat_again(trial: Trial) -> str:
    from procedure.neaten.laying_out import neat

    made = neat(trial.files[trial.arguments[1]]).text
    return "" if neat(made).text == made else "what was laid out is not neat"


def _typed(trial: Trial) -> str:
    """The text that another was changed into, read after it and read alone."""
    from procedure.pipeline import read
    from procedure.service.again import Again

    again, there = Again(), Path("main.dye").resolve()
    for name in trial.arguments[1:]:
        said = again.read(trial.files[name], "main.dye", there, {}).findings
    alone = read(trial.files[trial.arguments[-1]], "main.dye", there).findings
    return "" if said == alone else "read after another text it says something else"


def _command(trial: Trial) -> str:
    from procedure.command.main import main

    before = Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        for name, text in trial.files.items():
            Path(folder, name).write_bytes(text.encode("utf-8", "surrogatepass"))
        typed = next(iter(trial.files.values())) if "-" in trial.arguments else ""
        given = io.BytesIO(typed.encode("utf-8", "surrogatepass"))
        out, errors = (io.TextIOWrapper(io.BytesIO(), "utf-8", newline="\n") for _ in range(2))
        try:
            os.chdir(folder)
            with (
                contextlib.redirect_stdout(out),
                contextlib.redirect_stderr(errors),
                mock.patch("sys.stdin", io.TextIOWrapper(given)),
            ):
                status = main(list(trial.arguments))
        except SystemExit as end:
            status = end.code if isinstance(end.code, int) else 2
        finally:
            os.chdir(before)
    printed = [_text(stream) for stream in (out, errors)]
    if status not in (0, 1, 2):
        return f"status {status} of {trial.arguments[0]}"
    if status == 2 and not printed[1].strip():
        return f"status 2 without a word: {trial.arguments[0]}"
    if "recursion depth" in printed[1]:
        return f"a sentence about recursion: {trial.arguments[0]}"
    if "neaten" in trial.arguments[:1] and "-" in trial.arguments:
        printed = printed[1:]  # what is piped through is the text itself, to the letter
    for said in printed:
        found = RAW.search(said)
        if found is not None:
            return f"raw U+{ord(found.group()):04X} printed by {' '.join(trial.arguments[:1])}"
    return ""


def _text(stream: io.TextIOWrapper) -> str:
    stream.flush()
    assert isinstance(stream.buffer, io.BytesIO)
    said = stream.buffer.getvalue().decode("utf-8", "replace")
    return said.replace("\r\n", "\n")  # the line end of CSV (RFC 4180)
