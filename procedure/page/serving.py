"""The page served to one's own machine: 127.0.0.1 only, behind a token that nobody can guess.

Every address begins with the token. A request from another host's name (which a hostile
page could point here) or from another page is refused, and nothing but what is listed here
is answered.
"""

from __future__ import annotations

import json
import secrets
import threading
from collections.abc import Callable, Mapping
from contextlib import nullcontext
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from typing import Any

from procedure.collection.files import NotText
from procedure.collection.writing import NotWritten
from procedure.page.aside import Aside
from procedure.page.keeping import Folder, NotBelow
from procedure.service.answers import answer
from procedure.service.desk import Desk

LARGEST = 4_000_000
BUILT = Path(__file__).parent / "built"
FILES = {
    "": ("page.html", "text/html; charset=utf-8"),
    "page.js": ("page.js", "text/javascript; charset=utf-8"),
    "page.css": ("page.css", "text/css; charset=utf-8"),
}
# The editor sets its own styles; scripts come from here alone, and nothing goes elsewhere.
POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; "
    "img-src 'self' data: blob:; connect-src 'self'; frame-src 'self' blob:; "
    "base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cache-Control": "no-store",
}
Data = dict[str, Any]


class Serving:
    """A folder, its desk, and the answers to a page.

    What is kept is kept in turn. The desk reads one text at a time; a chart or a paper is
    made aside, so that it holds up no keystroke, and is dropped when a newer one comes.
    """

    def __init__(self, root: Path, first: str = "") -> None:
        self.folder = Folder(root)
        self.desk = Desk(self.folder.root)
        self.aside = Aside(self.folder.root)
        self.first = first
        self.token = secrets.token_urlsafe(24)
        self._keeping = threading.Lock()

    def answer(self, name: str, asked: Mapping[str, Any]) -> Data:
        """The answer to a question of the page; ``why`` says what went wrong."""
        act = _ACTS.get(name)
        if act is None:
            return {"why": "There is no such question."}
        try:
            with nullcontext() if name == "ask" else self._keeping:
                return act(self, asked)
        except (NotBelow, NotText, NotWritten) as reason:
            return {"why": str(reason)}
        except OSError as reason:
            return {"why": f"It could not be done: {(reason.strerror or '').lower()}."}
        except Exception as reason:  # whatever it is, the page and its text stay alive
            kind = type(reason).__name__
            return {"why": f"The program made a mistake here ({kind}); your text is kept."}

    def start(self) -> Data:
        """What there is to open."""
        names = self.folder.names()
        return {"files": names, "first": self.first or (names[0] if names else "")}


def _start(serving: Serving, asked: Mapping[str, Any]) -> Data:
    return serving.start()


def _open(serving: Serving, asked: Mapping[str, Any]) -> Data:
    name, writer = str(asked.get("file", "")), str(asked.get("writer", ""))
    return serving.folder.open(name, writer)._asdict()


def _stamp(serving: Serving, asked: Mapping[str, Any]) -> Data:
    return {"stamp": serving.folder.stamp(str(asked.get("file", "")))}


def _written(asked: Mapping[str, Any]) -> tuple[str, str, str, str]:
    name, text, stamp = (str(asked.get(key, "")) for key in ("file", "text", "stamp"))
    return name, text, stamp, str(asked.get("writer", ""))


def _note(serving: Serving, asked: Mapping[str, Any]) -> Data:
    serving.folder.note(*_written(asked))
    return {}


def _undo(serving: Serving, asked: Mapping[str, Any]) -> Data:
    name, past = str(asked.get("file", "")), str(asked.get("past", ""))
    serving.folder.undo(name, past, asked.get("history"))
    return {}


def _save(serving: Serving, asked: Mapping[str, Any]) -> Data:
    kept, now = serving.folder.save(*_written(asked))
    return {"file": kept, "stamp": now}


def _ask(serving: Serving, asked: Mapping[str, Any]) -> Data:
    path, text = serving.folder.path(str(asked.get("file", ""))), asked.get("text")
    if isinstance(text, str):
        serving.aside.newer(path, text)
    if asked.get("ask") == "panel":
        made = serving.aside.answer(path, asked, serving.desk.texts)
        if made is not None:
            return made
    return answer(serving.desk, path, asked)


_ACTS: Mapping[str, Callable[[Serving, Mapping[str, Any]], Data]] = {
    "start": _start,
    "open": _open,
    "stamp": _stamp,
    "note": _note,
    "undo": _undo,
    "save": _save,
    "ask": _ask,
}


def server(serving: Serving, port: int = 0) -> ThreadingHTTPServer:
    """A server on 127.0.0.1, on a free port unless one is given. Raises ``OSError``."""

    class Handler(_Handler):
        pass

    Handler.serving = serving
    made = ThreadingHTTPServer(("127.0.0.1", port), Handler)
    made.daemon_threads = True
    return made


def address(made: ThreadingHTTPServer, serving: Serving) -> str:
    """Where the page is."""
    return f"http://127.0.0.1:{made.server_address[1]}/{serving.token}/"


class _Handler(BaseHTTPRequestHandler):
    serving: Serving
    server_version = "vatwright"
    sys_version = ""
    protocol_version = "HTTP/1.1"
    timeout = 60
    # Head lines and answer go out together: a second small packet would wait for the first.
    wbufsize = -1
    disable_nagle_algorithm = True

    def do_GET(self) -> None:
        """A file of the page."""
        name = self._asked_for()
        if name is None:
            return
        if name not in FILES:
            self._refuse(HTTPStatus.NOT_FOUND, "There is nothing here.")
            return
        file, kind = FILES[name]
        self._give(HTTPStatus.OK, (BUILT / file).read_bytes(), kind)

    def do_POST(self) -> None:
        """A question of the page."""
        name = self._asked_for()
        if name is None:
            return
        if self.headers.get("Content-Type", "").split(";")[0] != "application/json":
            self._refuse(HTTPStatus.UNSUPPORTED_MEDIA_TYPE, "A question is JSON.")
            return
        size = self.headers.get("Content-Length", "")
        if not size.isdigit() or int(size) > LARGEST:
            said = f"A text of more than {LARGEST // 1_000_000} MB is no procedure: it is not kept."
            self._refuse(HTTPStatus.REQUEST_ENTITY_TOO_LARGE, said)
            return
        try:
            asked = json.loads(self.rfile.read(int(size)))
        except (ValueError, RecursionError):
            asked = None
        if not isinstance(asked, dict):
            self._refuse(HTTPStatus.BAD_REQUEST, "The question cannot be read.")
            return
        self._give(HTTPStatus.OK, _json(self.serving.answer(name, asked)), "application/json")

    def _asked_for(self) -> str | None:
        """What comes after the token; None, with a refusal, for anybody but our own page."""
        port = self.server.server_address[1]  # type: ignore[index]
        hosts = (f"127.0.0.1:{port}", f"localhost:{port}")
        origin = self.headers.get("Origin")
        if self.headers.get("Host") not in hosts:
            self._refuse(HTTPStatus.FORBIDDEN, "This page is for its own machine only.")
            return None
        if origin is not None and origin not in [f"http://{host}" for host in hosts]:
            self._refuse(HTTPStatus.FORBIDDEN, "Another page may ask nothing here.")
            return None
        token, _, rest = self.path.split("?")[0].removeprefix("/").partition("/")
        if not secrets.compare_digest(token.encode(), self.serving.token.encode()):
            self._refuse(HTTPStatus.FORBIDDEN, "Open the address that the program printed.")
            return None
        return rest

    def _refuse(self, status: HTTPStatus, sentence: str) -> None:
        self.close_connection = True  # what was sent besides is not read
        self._give(status, _json({"why": sentence}), "application/json")

    def _give(self, status: HTTPStatus, body: bytes, kind: str) -> None:
        self.send_response(status)
        self.send_header("Content-Type", kind)
        self.send_header("Content-Length", str(len(body)))
        for name, value in HEADERS.items():
            self.send_header(name, value)
        try:
            self.end_headers()
            self.wfile.write(body)
            self.wfile.flush()
        except ConnectionError:  # the page was closed before its answer came
            self.close_connection = True

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is written of what is asked: the address holds the token."""


def _json(data: Data) -> bytes:
    return json.dumps(data, ensure_ascii=True).encode()
