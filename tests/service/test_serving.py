"""The server of the page: whom it answers, what it reads and writes, and that nothing is lost."""

from __future__ import annotations

import http.client
import json
import threading
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from procedure.page import keeping
from procedure.page.keeping import Folder, NotBelow
from procedure.page.serving import BUILT, LARGEST, Serving, server

ROOT = Path(__file__).parents[2]
TEXT = 'procedure "A"\nsteps\n  do "wait"\n'


class Asking:
    """A client that may say anything in its head lines."""

    def __init__(self, folder: Path) -> None:
        self.serving = Serving(folder)
        self.made = server(self.serving)
        self.port = self.made.server_address[1]
        # It looks every hundredth of a second whether it is to end: each test waits for that.
        threading.Thread(target=self.made.serve_forever, args=(0.01,), daemon=True).start()

    def ask(
        self, method: str, path: str, body: Any = None, **head: str
    ) -> tuple[int, dict[str, str], bytes]:
        talk = http.client.HTTPConnection("127.0.0.1", self.port, timeout=600)
        lines = {"Host": f"127.0.0.1:{self.port}", "Content-Type": "application/json"}
        lines |= {name.replace("_", "-"): value for name, value in head.items()}
        data = None if body is None else json.dumps(body)
        talk.request(method, path, data, lines)
        answer = talk.getresponse()
        found = answer.status, dict(answer.getheaders()), answer.read()
        talk.close()
        return found

    def said(self, name: str, **body: Any) -> dict[str, Any]:
        status, _, data = self.ask("POST", f"/{self.serving.token}/{name}", body)
        assert status == 200
        made = json.loads(data)
        assert isinstance(made, dict)
        return made


@pytest.fixture
def asking(tmp_path: Path) -> Iterator[Asking]:
    (tmp_path / "inside").mkdir()
    (tmp_path / "inside" / "a.dye").write_text(TEXT, encoding="utf-8")
    (tmp_path / "secret.dye").write_text(TEXT, encoding="utf-8")
    made = Asking(tmp_path / "inside")
    yield made
    made.made.shutdown()
    made.made.server_close()
    made.serving.aside.close()


def test_it_listens_to_its_own_machine_only(asking: Asking) -> None:
    assert asking.made.server_address[0] == "127.0.0.1"


@pytest.mark.parametrize(
    "head",
    [
        {"Host": "evil.example"},  # a name that was pointed here (DNS rebinding)
        {"Host": "127.0.0.1:1"},
        {"Origin": "http://evil.example"},
        {"Origin": "null"},
    ],
)
def test_other_hosts_and_pages_are_refused(asking: Asking, head: dict[str, str]) -> None:
    for method, body in (("GET", None), ("POST", {})):
        path = f"/{asking.serving.token}/" + ("start" if body is not None else "")
        assert asking.ask(method, path, body, **head)[0] == 403


@pytest.mark.parametrize("token", ["", "x", "A" * 32, "%00"])
def test_nothing_is_answered_without_the_token(asking: Asking, token: str) -> None:
    assert asking.ask("POST", f"/{token}/start", {})[0] == 403
    assert asking.ask("GET", f"/{token}/")[0] == 403


def test_a_form_of_another_page_cannot_ask(asking: Asking) -> None:
    path = f"/{asking.serving.token}/start"
    assert asking.ask("POST", path, {}, Content_Type="text/plain")[0] == 415


def test_no_script_stands_in_the_page_and_none_may_come_from_elsewhere(asking: Asking) -> None:
    status, head, data = asking.ask("GET", f"/{asking.serving.token}/")
    policy = head["Content-Security-Policy"]
    assert status == 200 and "script-src 'self';" in policy and "default-src 'none'" in policy
    assert b"onclick" not in data and data.count(b"<script") == data.count(b'src="page.js"')
    assert asking.ask("GET", f"/{asking.serving.token}/../pyproject.toml")[0] == 404


@pytest.mark.parametrize(
    "name",
    [
        "../secret.dye", "/etc/passwd", "inside/../../secret.dye", "link.dye", "linked/secret.dye",
        "a.txt", "", "..", "x\0.dye", "C:\\x.dye", ".a.dye", "a" * 5000 + ".dye",
    ],
)  # fmt: skip
def test_nothing_outside_the_folder_is_read_or_written(asking: Asking, name: str) -> None:
    inside = asking.serving.folder.root
    (inside / "link.dye").symlink_to(inside.parent / "secret.dye")
    (inside / "linked").symlink_to(inside.parent)
    for act in ("open", "save", "note", "ask", "stamp"):
        made = asking.said(act, file=name, text="x", stamp="", ask="findings")
        assert made.get("why", "").endswith("."), act
    assert (inside.parent / "secret.dye").read_text() == TEXT
    assert asking.said("start")["files"] == ["a.dye"]


def test_a_follow_out_of_the_folder_is_not_read(asking: Asking) -> None:
    # Even where a workshop file above would make the outer folder the collection.
    (asking.serving.folder.root.parent / "vatwright.toml").write_text("")
    text = 'procedure "B"\nsteps\n  follow "../secret.dye"\n'
    made = asking.said("ask", file="b.dye", ask="findings", text=text)
    assert any("outside" in one["rule"] or "outside" in one["sentence"] for one in made["findings"])


def test_hostile_texts_get_an_answer(asking: Asking) -> None:
    for text in ("\0" * 50, "steps\n" + "  repeat 2 times\n" * 3000, '"' * 5000, "é\ud800" * 10):
        made = asking.said("ask", file="b.dye", ask="findings", text=text)
        assert made["findings"] or made["why"]
    path = f"/{asking.serving.token}/ask"
    status, _, data = asking.ask("POST", path, None, Content_Length=str(LARGEST + 1))
    assert status == 413 and b"MB" in data
    assert asking.said("start")["files"]


def test_what_was_not_saved_is_there_again(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    name, stamp = folder.save("a.dye", TEXT, "")
    folder.undo("a.dye", TEXT + "#", {"done": []})
    folder.note("a.dye", TEXT + "# more", stamp)
    again = Folder(tmp_path).open("a.dye")
    assert (again.text, again.journal) == (TEXT, TEXT + "# more")
    assert (again.past, again.history) == (TEXT + "#", {"done": []})
    folder.save(name, TEXT + "# more", stamp)
    assert Folder(tmp_path).open("a.dye").journal is None
    (tmp_path / ".a.dye.journal").write_text("dust")
    assert Folder(tmp_path).open("a.dye").text == TEXT + "# more"


def test_a_file_that_changed_elsewhere_stays(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    _, stamp = folder.save("a.dye", TEXT, "")
    (tmp_path / "a.dye").write_text("theirs")
    assert folder.save("a.dye", "mine", stamp)[0] == "a-written-here.dye"
    assert folder.save("a.dye", "mine too", stamp)[0] == "a-written-here-2.dye"
    assert (tmp_path / "a.dye").read_text() == "theirs"
    with pytest.raises(NotBelow):
        folder.path("../a.dye")


def test_what_two_windows_had_not_saved_is_kept_of_both(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    _, stamp = folder.save("a.dye", TEXT, "")
    for window in ("one", "two"):
        folder.open("a.dye", window)
    for turn in range(3):  # they write in turn
        for window in ("one", "two"):
            folder.note("a.dye", f"{TEXT}# {window} {turn}", stamp, window)
    after = Folder(tmp_path).open("a.dye", "three")
    assert after.journal == f"{TEXT}# two 2"
    assert [(tmp_path / name).read_text() for name in after.aside] == [f"{TEXT}# one 2"]
    assert Folder(tmp_path).open("a.dye", "four").aside == ()  # once is enough
    assert (tmp_path / "a.dye").read_text() == TEXT


def test_a_window_that_goes_on_with_the_text_of_another_takes_its_place(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    _, stamp = folder.save("a.dye", TEXT, "")
    folder.open("a.dye", "one")
    folder.note("a.dye", TEXT + "# one", stamp, "one")
    again = Folder(tmp_path)
    assert again.open("a.dye", "two").journal == TEXT + "# one"
    again.note("a.dye", TEXT + "# one and two", stamp, "two")
    last = Folder(tmp_path).open("a.dye", "three")
    assert (last.journal, last.aside) == (TEXT + "# one and two", ())


def test_what_one_window_saves_drops_nothing_of_another(tmp_path: Path) -> None:
    folder = Folder(tmp_path)
    _, stamp = folder.save("a.dye", TEXT, "")
    for window in ("one", "two"):
        folder.open("a.dye", window)
        folder.note("a.dye", f"{TEXT}# {window}", stamp, window)
    folder.save("a.dye", f"{TEXT}# one", stamp, "one")
    after = Folder(tmp_path).open("a.dye", "three")
    assert after.journal is None
    assert [(tmp_path / name).read_text() for name in after.aside] == [f"{TEXT}# two"]


def test_a_file_keeps_its_line_ends(tmp_path: Path) -> None:
    (tmp_path / "a.dye").write_bytes(TEXT.replace("\n", "\r\n").encode())
    folder = Folder(tmp_path)
    found = folder.open("a.dye", "one")
    assert found.text == TEXT
    name, stamp = folder.save("a.dye", TEXT + "# more\n", found.stamp, "one")
    assert name == "a.dye"
    assert (tmp_path / "a.dye").read_bytes() == (TEXT + "# more\n").replace("\n", "\r\n").encode()
    again = folder.open("a.dye", "one")
    assert (again.text, again.stamp, again.journal) == (TEXT + "# more\n", stamp, None)


def test_a_file_that_cannot_be_read_is_never_written_over(tmp_path: Path) -> None:
    there = 'procedure "Färben"\n'.encode("latin-1")
    (tmp_path / "a.dye").write_bytes(there)
    assert Folder(tmp_path).save("a.dye", TEXT, "")[0] == "a-written-here.dye"
    assert (tmp_path / "a.dye").read_bytes() == there


def test_a_file_too_large_to_be_kept_is_not_opened(tmp_path: Path) -> None:
    (tmp_path / "a.dye").write_bytes(b"#" * (keeping.LARGEST + 1))
    with pytest.raises(NotBelow, match="too large for this page"):
        Folder(tmp_path).open("a.dye")


def test_the_bundle_is_small_and_made_of_these_sources() -> None:
    assert sum(file.stat().st_size for file in BUILT.iterdir()) < 1_000_000
    for name in ("page.html", "page.css"):
        assert (BUILT / name).read_bytes() == (BUILT.parent / "source" / name).read_bytes()


def test_a_chart_is_made_aside_and_dropped_for_a_newer_text(asking: Asking) -> None:
    text = (ROOT / "examples" / "tansy-gold-and-moss.dye").read_text(encoding="utf-8")
    asked = {"file": "a.dye", "ask": "panel", "panel": "chart"}
    assert "svg" in asking.said("ask", **asked, text=text)
    newest = text
    for _ in range(50):  # on a busy machine the chart may be ready before the newer text comes
        found: list[dict[str, Any]] = []
        newest += "  # more\n"
        slow = threading.Thread(
            target=lambda text, found: found.append(asking.said("ask", **asked, text=text)),
            args=(newest, found),
        )
        slow.start()
        while asking.serving.aside.idle and not found:
            time.sleep(0.001)
        newest += "  # and more\n"
        asking.said("ask", file="a.dye", ask="findings", text=newest)
        slow.join()
        if "svg" not in found[0]:
            break
    assert found == [{"dropped": True}]
    assert "svg" in asking.said("ask", **asked, text=newest)  # and it goes on


def test_a_text_that_is_no_procedure_is_refused_in_a_sentence(asking: Asking) -> None:
    told = asking.said("ask", file="a.dye", ask="findings", text="steps\n" * 300_000)
    assert told == {"why": "A text of more than 1,000,000 letters is no procedure."}
    assert asking.said("ask", file="a.dye", ask="findings", text=TEXT)["findings"]
