"""How soon the page of plain files is there: first paint, ready to check, and a check after that.

``python tests/benchmarks/opening.py FOLDER`` opens what ``vatwright write --static FOLDER``
wrote in a real Chromium: a first visit, and one from what the first has kept. Checks are timed in
the page, by lines of the text, in milliseconds.
"""

from __future__ import annotations

import base64
import shutil
import statistics
import sys
import time
from pathlib import Path

from keystrokes import SHORT, longer
from painted import standing
from playwright.sync_api import Page, sync_playwright

TIMED = """async (text) => {
  const worker = new Worker('worker.js', { type: 'module' });
  const ask = (said) => new Promise((done) => { worker.onmessage = () => done();
    worker.postMessage({ number: 1,
    question: { ask: 'findings', file: 'a.dye', text: said } }); });
  await ask(text);
  const took = [];
  for (let n = 0; n < 12; n++) {
    const said = text.replace('for 1 h', `for ${n + 2} h`), begun = performance.now();
    await ask(said);
    took.push(performance.now() - begun);
  }
  worker.terminate();
  return took;
}"""


def opened(page: Page, address: str) -> tuple[float, float]:
    """Seconds to the first paint and to the first findings."""
    begun = time.perf_counter()
    page.goto(address)
    page.wait_for_selector("#told:not(:empty)")
    ready = time.perf_counter() - begun
    paint = page.evaluate("performance.getEntriesByType('paint')[0]?.startTime ?? NaN")
    return paint / 1000, ready


def main() -> None:
    """Print the times."""
    address = standing(Path(sys.argv[1]))
    short = SHORT.read_text(encoding="utf-8")
    link = "#text=" + base64.urlsafe_b64encode(short.encode()).decode()
    with sync_playwright() as started:
        browser = started.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        context = browser.new_context()
        page = context.new_page()
        page.set_default_timeout(120_000)
        print("first visit: painted {:.2f} s, ready {:.1f} s".format(*opened(page, address + link)))
        page.evaluate("navigator.serviceWorker.ready.then(() => 1)")
        page.wait_for_timeout(4000)
        again = context.new_page()
        again.set_default_timeout(120_000)
        print("next visit:  painted {:.2f} s, ready {:.1f} s".format(*opened(again, address)))
        for lines in (75, 200, 500):
            text = longer(short, lines)
            took = again.evaluate(TIMED, text)
            middle, most = statistics.median(took), max(took)
            print(f"{text.count(chr(10)):4} lines: a check {middle:.0f} ms (most {most:.0f})")
        browser.close()


if __name__ == "__main__":
    main()
