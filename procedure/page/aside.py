"""What takes long, in a process of its own, where it holds up no keystroke.

The page asks for a chart, a paper or a timetable when its writer pauses. Should they go on
before it is made, nobody needs it any more: the process is ended, and another begins.
"""

from __future__ import annotations

import contextlib
import json
import subprocess
import sys
import threading
from collections.abc import Mapping
from pathlib import Path
from typing import Any

Data = dict[str, Any]
DROPPED: Mapping[str, Any] = {"dropped": True}


class Aside:
    """Answers questions of the texts below a folder, one at a time, in another process."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self._turn = threading.Lock()
        self._state = threading.Lock()
        self._process: subprocess.Popen[str] | None = None
        self._busy: tuple[Path, object] | None = None
        self._closed = False

    def answer(
        self, path: Path, question: Mapping[str, Any], texts: Mapping[Path, str]
    ) -> Data | None:
        """The answer, or :data:`DROPPED`; None where there can be no other process.

        ``texts`` are those that are open, saved or not. What is being made of another text
        of the same file, or for another panel of it, is dropped.
        """
        mine = (path, (question.get("panel"), question.get("text")))
        self._drop_unless(*mine)
        asked = {
            "file": str(path),
            "question": dict(question),
            "texts": {str(one): text for one, text in dict(texts).items()},
        }
        with self._turn:
            process = self._begun()
            if process is None or process.stdin is None or process.stdout is None:
                return None
            with self._state:
                self._busy = mine
            try:
                process.stdin.write(json.dumps(asked) + "\n")
                process.stdin.flush()
                said = process.stdout.readline()
            except (OSError, ValueError):
                said = ""
            with self._state:
                self._busy = None
            if said:
                made = json.loads(said)
                return made if isinstance(made, dict) else None
            self._end(process)
            if not self._closed:
                self._begun()  # while its writer writes, so that it is ready at the next pause
        return dict(DROPPED)

    @property
    def idle(self) -> bool:
        """True while nothing is being made."""
        return self._busy is None

    def begin(self) -> None:
        """Begin before anything is asked, so that the first answer waits for no start."""
        with self._turn:
            self._begun()

    def newer(self, path: Path, text: str) -> None:
        """A newer text has come: what is being made of an older one is dropped."""
        with self._state:
            if self._busy is None or self._busy[0] != path:
                return
            about = self._busy[1]
            stale = not isinstance(about, tuple) or about[1] != text
            if stale and self._process is not None:
                self._process.kill()

    def close(self) -> None:
        """Nothing more will be asked."""
        self._closed = True
        with self._state:
            if self._process is not None:
                self._process.kill()
                self._process.wait()

    def _drop_unless(self, path: Path, about: object) -> None:
        with self._state:
            same_file = self._busy is not None and self._busy[0] == path
            if same_file and self._busy != (path, about) and self._process is not None:
                self._process.kill()

    def _begun(self) -> subprocess.Popen[str] | None:
        if self._process is not None and self._process.poll() is None:
            return self._process
        # With our own path and nothing else: a folder of procedures may hold any module.
        begin = f"import sys; sys.path[:] = {sys.path!r}; from procedure.page.aside import main; "
        command = [sys.executable, "-I", "-c", f"{begin}main({str(self.root)!r})"]
        try:
            self._process = subprocess.Popen(
                command,
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                text=True,
                encoding="ascii",
            )
        except (OSError, ValueError):
            self._process = None
        return self._process

    def _end(self, process: subprocess.Popen[str]) -> None:
        process.kill()
        process.wait()
        for stream in (process.stdin, process.stdout):
            if stream is not None:
                with contextlib.suppress(OSError):
                    stream.close()
        if self._process is process:
            self._process = None


def main(root: str) -> None:
    """Answer each line of standard input with a line, until there are no more."""
    from procedure.service.answers import answer
    from procedure.service.desk import Desk

    out, sys.stdout = sys.stdout, sys.stderr  # whatever a library prints is no answer
    desk = Desk(Path(root))
    for line in sys.stdin:
        asked = json.loads(line)
        texts = {Path(name): text for name, text in asked["texts"].items()}
        desk.texts = texts
        try:
            made = answer(desk, Path(asked["file"]), asked["question"])
        except Exception as reason:  # whatever it is, the page and its text stay alive
            kind = type(reason).__name__
            made = {"why": f"The program made a mistake here ({kind}); your text is kept."}
        print(json.dumps(made), file=out, flush=True)
