"""From a key to the painted finding: recorded typing in a real Chromium, against both pages.

``python tests/benchmarks/painted.py`` types into 200 lines on the page that is served, and
``--static FOLDER`` into the page of plain files in a folder (``vatwright write --static``). For
every key it takes the time until findings are on the screen that know of that key, and prints
the median and the 95th percentile in milliseconds, with what was spent on the way. The same keys
in a text of one line come first: they take what this machine takes for any page. Beside the time
that passes, which is that of a busy machine where others work on it, is the processor's time a key,
of the page's own thread and of the server: on a machine at rest a finding comes little later.
"""

from __future__ import annotations

import argparse
import functools
import http.server
import os
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import threading
from pathlib import Path
from typing import Any

from keystrokes import SHORT, longer
from playwright.sync_api import CDPSession, sync_playwright

ROOT = Path(__file__).parents[2]
BETWEEN = 130  # milliseconds from key to key: a quick writer
TYPED = "  dye moss in weld-bath from 30 °C to 80 °C over 45 min for 1 h gently"
# Notes when keys come, when questions of the text leave and come back, and when it is painted.
WATCH = """() => {
  const seen = window.seen = { keys: [], asked: [] };
  addEventListener('keydown', (event) => { if (event.key.length === 1) seen.keys.push(event.timeStamp); }, true);
  const leaves = () => { const one = { sent: performance.now() }; seen.asked.push(one); return one; };
  const comes = (one) => {
    one.back = performance.now();
    requestAnimationFrame(() => { const channel = new MessageChannel();
      channel.port1.onmessage = () => { one.painted = performance.now(); };
      channel.port2.postMessage(0); });
  };
  const fetched = window.fetch;
  window.fetch = async (where, about) => {
    if (!String(about?.body).includes('"ask":"findings"')) return fetched(where, about);
    const one = leaves();
    const answer = await fetched(where, about), text = await answer.text();
    comes(one);
    return new Response(text);
  };
  const post = Worker.prototype.postMessage;
  Worker.prototype.postMessage = function (said, ...more) {
    if (said?.question?.ask === 'findings') {
      const one = leaves();
      const heard = ({ data }) => { if (data.number === said.number) { this.removeEventListener('message', heard); comes(one); } };
      this.addEventListener('message', heard);
    }
    return post.call(this, said, ...more);
  };
}"""  # noqa: E501


class Quiet(http.server.SimpleHTTPRequestHandler):
    """A server of files that says nothing."""

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing."""


def served(folder: Path) -> tuple[str, subprocess.Popen[str]]:
    """The page on this machine, with its address."""
    command = [sys.executable, "-m", "procedure", "write", "--no-browser", str(folder)]
    made = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True)
    assert made.stdout is not None
    found = re.search(r"http://\S+", made.stdout.readline())
    assert found is not None
    return found.group(), made


def standing(folder: Path) -> str:
    """The page of plain files behind a server of files."""
    handler = functools.partial(Quiet, directory=str(folder))
    made = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
    threading.Thread(target=made.serve_forever, daemon=True).start()
    return f"http://127.0.0.1:{made.server_address[1]}/"


def typed(address: str, text: str, given: Path | None, server: int = 0) -> dict[str, Any]:
    """Type into the page, and give what was noted; ``server`` is the number of its process."""
    with sync_playwright() as started:
        browser = started.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        page = browser.new_page(viewport={"width": 1280, "height": 800})
        page.set_default_timeout(120_000)
        page.goto(address)
        if given is not None:
            page.wait_for_selector("dialog[open], #told:not(:empty)")
            page.keyboard.press("Escape")
            page.set_input_files("input[type=file]", str(given))
        page.wait_for_selector("#told:not(:empty)")
        page.wait_for_selector("main[aria-busy=false]")
        page.evaluate(WATCH)
        page.locator(".cm-content").focus()
        page.keyboard.press("Control+Home")
        for _ in range(text[: text.find("\n  mordant ") + 1].count("\n")):
            page.keyboard.press("ArrowDown")
        page.keyboard.press("End")
        page.keyboard.press("Enter")
        page.wait_for_timeout(400)
        asked = page.context.new_cdp_session(page)
        asked.send("Performance.enable", {"timeDomain": "threadTicks"})
        before, served_before = work_of(asked), processor(server)
        page.keyboard.type(TYPED, delay=BETWEEN)
        work = (work_of(asked) - before) / len(TYPED)
        behind = (processor(server) - served_before) / len(TYPED)
        page.wait_for_timeout(3000)
        seen: dict[str, Any] = page.evaluate("window.seen")
        browser.close()
    return {**seen, "work": work * 1000, "behind": behind * 1000}


def processor(process: int) -> float:
    """Seconds of the processor that a process has had; none for no process."""
    if not process:
        return 0.0
    words = Path(f"/proc/{process}/stat").read_text(encoding="utf-8").rpartition(")")[2].split()
    return (int(words[11]) + int(words[12])) / os.sysconf("SC_CLK_TCK")


def work_of(asked: CDPSession) -> float:
    """Seconds of the processor that the page's own thread has had."""
    every = {one["name"]: one["value"] for one in asked.send("Performance.getMetrics")["metrics"]}
    return float(every["TaskDuration"])


def report(seen: dict[str, Any]) -> tuple[float, float]:
    """The times from key to paint, and how many questions were asked for them.

    Gives the median and the 95th percentile, in milliseconds.
    """
    done = [one for one in seen["asked"] if "painted" in one]
    took = []
    for key in seen["keys"]:
        first = next((one for one in done if one["sent"] >= key), None)
        if first is not None:
            took.append(first["painted"] - key)
    high = statistics.quantiles(took, n=20)[-1]
    there = statistics.median(one["back"] - one["sent"] for one in done)
    paint = statistics.median(one["painted"] - one["back"] for one in done)
    print(
        f"{len(took)} keys, {len(done)} answers: median {statistics.median(took):.0f} ms, ", end=""
    )
    print(f"95 % {high:.0f} ms (answer {there:.0f}, paint {paint:.0f}; median of each); ", end="")
    print(f"processor: {seen['work']:.0f} ms a key for the page, {seen['behind']:.0f} behind it")
    return statistics.median(took), high


def main() -> None:
    """Print the times of one page."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--static", type=Path, metavar="FOLDER")
    asked.add_argument("--lines", type=int, default=200)
    said = asked.parse_args()
    long = longer(SHORT.read_text(encoding="utf-8"), said.lines)
    bare, full = (measured(text, said.static) for text in ('procedure "A"\n', long))
    print(f"ratio: median {full[0] / bare[0]:.1f}, 95 % {full[1] / bare[1]:.1f}")


def measured(text: str, static: Path | None) -> tuple[float, float]:
    """The median and the 95th percentile for one text, printed."""
    with tempfile.TemporaryDirectory() as temporary:
        file = Path(temporary) / "long.dye"
        file.write_text(text, encoding="utf-8")
        print(f"{text.count(chr(10)):4} lines: ", end="")
        if static:
            return report(typed(standing(static), text, file))
        address, process = served(Path(temporary))
        try:
            return report(typed(address, text, None, process.pid))
        finally:
            process.kill()
            process.wait()


if __name__ == "__main__":
    main()
