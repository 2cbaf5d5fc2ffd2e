"""The same forty acts of a writer on both pages, the served one and the plain files, compared."""

from __future__ import annotations

import base64
import difflib
import functools
import http.server
import re
import threading
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from procedure.page.standing import NotStanding, write

playwright = pytest.importorskip("playwright.sync_api")
from playwright.sync_api import Browser, FilePayload, Page, expect, sync_playwright  # noqa: E402
from test_page import (  # noqa: E402
    CHROMIUM,
    DAY,
    DESKTOP,
    MORDANTING,
    PHONE,
    PRINTED,
    ROOT,
    SLOW,
    Running,
    axe_of,
)

pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
TEXT = (ROOT / "examples" / "first-onion-skins.dye").read_text(encoding="utf-8")
CLOCK = r" · day \d+, \d+:\d+(, while a step above goes on)?| Day \d+, \d+:\d+ to [^<]*"
NAME = "shared.dye"  # what the page of plain files calls a text that came with a link
SCREEN = """() => ({
  told: document.getElementById('told').textContent,
  findings: [...document.querySelectorAll('.told')].map((one) => one.textContent),
  amounts: [...document.querySelectorAll('.amount')].map((one) => one.textContent),
  tab: document.querySelector('[aria-selected=true]').textContent,
  panel: document.getElementById('panel').innerText,
  frames: [...document.querySelectorAll('#panel iframe')].map((one) => one.srcdoc),
  shapes: document.querySelectorAll('#panel svg [data-line]').length,
})"""


class Quiet(http.server.SimpleHTTPRequestHandler):
    def log_message(self, format: str, *args: Any) -> None:
        pass


class Plain:
    """The page as plain files behind a server of files, which can be stopped."""

    def __init__(self, folder: Path) -> None:
        handler = functools.partial(Quiet, directory=str(folder))
        self.made = http.server.ThreadingHTTPServer(("127.0.0.1", 0), handler)
        threading.Thread(target=self.made.serve_forever, daemon=True).start()
        self.address = f"http://127.0.0.1:{self.made.server_address[1]}/"

    def stop(self) -> None:
        self.made.shutdown()
        self.made.server_close()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as started:
        made = started.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()


@pytest.fixture(scope="module")
def plain_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("plain")
    try:
        made = write(folder)
    except NotStanding as reason:
        pytest.skip(str(reason))
    assert made.size <= 20_000_000
    return folder


@pytest.fixture
def plain(plain_folder: Path) -> Iterator[Plain]:
    made = Plain(plain_folder)
    yield made
    made.stop()


# What the page's own policy forbids: to ask anybody else, and a script that is in the page itself.
FORBIDDEN = """async () => {
  const seen = [];
  addEventListener('securitypolicyviolation', (one) => seen.push(one.effectiveDirective));
  await fetch('http://127.0.0.1:9/').catch(() => {});
  const script = document.createElement('script');
  script.textContent = 'window.ran = true';
  document.body.append(script);
  await new Promise((done) => setTimeout(done, 100));
  return [seen.sort(), window.ran ?? false];
}"""


def at_rest(page: Page) -> None:
    """Wait until nothing is on its way."""
    expect(page.locator("main")).to_have_attribute("aria-busy", "false")


def opened(
    browser: Browser, address: str, size: Any = DESKTOP, first: str = ""
) -> tuple[Page, list[str]]:
    page = browser.new_context(viewport=size, color_scheme="light").new_page()
    page.add_init_script(first)
    page.set_default_timeout(SLOW)
    expect.set_options(timeout=SLOW)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: asked.append(f"error: {error}"))
    page.goto(address)
    expect(page.locator("#told")).not_to_be_empty()
    at_rest(page)
    return page, asked


def link(text: str) -> str:
    said = base64.urlsafe_b64encode(text.encode()).decode()
    return f"#text={said}&sum={zlib.crc32(text.encode()):08x}"


def compared(one: Page, other: Page) -> dict[str, list[str]]:
    """The parts of the screen in which two pages at rest differ, with how."""
    seen = []
    for page in (one, other):
        page.wait_for_timeout(60)
        at_rest(page)
        seen.append(page.evaluate(SCREEN))
    apart = {part: differing(shown, seen[1][part]) for part, shown in seen[0].items()}
    return {part: lines for part, lines in apart.items() if lines}


def differing(one: Any, other: Any) -> list[str]:
    """What is on one screen alone, line by line, but for the days of the timetable.

    The browser has no solver, so its plan is the simple one, and the paper says as much.
    """
    here, there = (_lines(re.sub(CLOCK, "", str(each))) for each in (one, other))
    days = re.compile(r"---|\+\+\+|@@|.<p>(It takes|That is for)|.<(li|p)>Day ")
    found = difflib.unified_diff(here, there, lineterm="", n=0)
    return [line for line in found if not days.match(line)]


def _lines(text: str) -> list[str]:
    return text.replace("><", ">\n<").split("\n")


def acts() -> list[tuple[str, Callable[[Page], None]]]:
    """Forty acts, each with its name."""

    def tab(name: str) -> Callable[[Page], None]:
        return lambda page: page.get_by_role("tab", name=name).click()

    def keys(*pressed: str) -> Callable[[Page], None]:
        def act(page: Page) -> None:
            page.locator(".cm-content").focus()
            for key in pressed:
                if len(key) > 1 and key[0].isupper():
                    page.keyboard.press(key)
                else:
                    page.keyboard.type(key)

        return act

    def click(name: str) -> Callable[[Page], None]:
        return lambda page: page.get_by_role("button", name=name, exact=True).first.click()

    def fill(label: str, words: str) -> Callable[[Page], None]:
        return lambda page: page.get_by_label(label).fill(words)

    top, end = keys("Control+Home"), keys("Control+End")
    return [
        ("chart", tab("Chart")), ("amounts", tab("Amounts")),
        ("fibre", fill("For so much fibre", "250 g")), ("work out", click("Work it out")),
        ("gathered", fill("Or for what was gathered", "nettle = 3 kg")),
        ("cannot", click("Work it out")), ("none", fill("Or for what was gathered", "")),
        ("again", click("Work it out")), ("none at all", fill("For so much fibre", "")),
        ("as written", click("Work it out")), ("lots", tab("Lots")), ("help", tab("Help")),
        ("top", top), ("title", keys("End")), ("right", keys("ArrowDown", "End")),
        ("chart again", tab("Chart")), ("end", end), ("line", keys("Enter", "rinse yarn ")),
        ("half a word", keys("Escape", "in")), ("finish", keys(" tub with water 5 L")),
        ("undo", keys("Control+z")), ("redo", keys("Control+y")),
        ("slip", keys("Enter", "dyee yarn")),
        ("letters", keys("Escape", " at 300 °C")), ("to a finding", keys("F8")),
        ("and back", keys("Shift+F8")), ("why", click("Why it matters")), ("end again", end),
        ("away", keys("Shift+Home", "Delete")), ("paper", tab("Paper")),
        ("for the wall", click("One page for the wall")), ("whole", click("The whole paper")),
        ("odd letters", keys("Enter", "# größe 100 % ✂ <b>&amp;")), ("neaten", click("Neaten")),
        ("save", click("Save")), ("lots again", tab("Lots")), ("all", keys("Control+a")),
        ("nothing", keys("Delete")), ("back", keys("Control+z")), ("saved", click("Save")),
    ]  # fmt: skip


def test_both_pages_show_the_same(browser: Browser, plain: Plain, tmp_path: Path) -> None:
    (tmp_path / NAME).write_text(TEXT, encoding="utf-8")
    running = Running(tmp_path)
    served, asked_of_one = opened(browser, running.address)
    standing, asked_of_other = opened(browser, plain.address + link(TEXT))
    every = acts()
    assert len(every) == 40
    try:
        for name, act in every:
            for page in (served, standing):
                page.mouse.move(2, 2)  # so that no word below it is explained over a button
                act(page)
            apart = compared(served, standing)
            for _ in range(100):  # a busy machine shows some things later than others
                if not apart:
                    break
                standing.wait_for_timeout(100)
                apart = compared(served, standing)
            assert apart == {}, name
        assert TEXT.split("\n")[0] in (tmp_path / NAME).read_text(encoding="utf-8")
    finally:
        running.kill()
    assert [one for one in asked_of_one if not one.startswith((running.address, "data:"))] == []
    assert [one for one in asked_of_other if not one.startswith((plain.address, "data:"))] == []
    for page in (served, standing):
        assert page.evaluate(FORBIDDEN) == [["connect-src", "script-src-elem"], False]
    served.context.close()
    standing.context.close()


def test_without_a_network_after_the_first_visit(browser: Browser, plain: Plain) -> None:
    page, _ = opened(browser, plain.address + link(TEXT), PHONE)
    page.evaluate("navigator.serviceWorker.ready")
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("\n# kept on this phone")
    at_rest(page)
    plain.stop()
    page.reload()
    expect(page.locator("#told")).not_to_be_empty()
    at_rest(page)
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+End")
    expect(page.locator(".cm-content")).to_contain_text("kept on this phone")
    page.get_by_role("button", name="Beside it").click()
    page.get_by_role("tab", name="Paper").click()
    page.get_by_role("button", name="One page for the wall").click()
    at_rest(page)
    expect(page.frame_locator("#panel iframe").locator("h1")).to_be_visible()
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    page.context.close()


def begun(page: Page, title: str, **answers: str) -> None:
    """Begin another procedure, from a few questions or from a recipe."""
    page.get_by_role("button", name="Begin another").click()
    page.get_by_label("What is it called?").fill(title)
    page.get_by_label("a recipe in words" if "recipe" in answers else "a few questions").check()
    for name, words in answers.items():
        page.locator(f"#answer-{name}").fill(words)
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator("#asking")).not_to_be_visible()
    at_rest(page)


# On a phone there is less room and one more thing to press, so it stands for both in every run.
@pytest.mark.parametrize(
    "size",
    [
        pytest.param(DESKTOP, id="desktop", marks=pytest.mark.exhaustive),
        pytest.param(PHONE, id="phone"),
    ],
)
def test_from_nothing_to_a_printed_paper_without_a_server(
    browser: Browser, plain: Plain, size: Any
) -> None:
    page = browser.new_context(viewport=size, color_scheme="light").new_page()
    page.set_default_timeout(SLOW)
    expect.set_options(timeout=SLOW)
    page.goto(plain.address)
    expect(page.locator("#asking")).to_be_visible()  # there is nothing yet
    page.get_by_role("button", name="Leave it").click()
    begun(page, "Onion gold", fibre="wool yarn 80 g", dye="onion skins", mordant="none")
    expect(page.locator("#told")).to_have_text("1 to know")
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+End")
    page.keyboard.insert_text("  dryy yarn")  # a fault, and its cure
    told = page.locator(".told.error").last
    told.get_by_role("button", name="What can be done").click()
    page.locator(".cure", has_text="dry").first.click()
    expect(page.locator(".told.error")).to_have_count(0)
    expect(page.locator(".cm-line").last).to_have_text("  dry yarn")
    at_rest(page)

    def beside(name: str) -> None:
        if size is PHONE:
            page.get_by_role("button", name="Beside it").click()
        page.get_by_role("tab", name=name).click()
        at_rest(page)

    beside("Paper")
    expect(page.frame_locator("#panel iframe").locator("h1")).to_contain_text("Onion gold")
    page.locator("#panel iframe").evaluate(PRINTED)
    page.get_by_role("button", name="Print it").click()
    assert "Onion gold" in page.evaluate("window.printed")
    recipe = "Soak 100 g of wool yarn in water for an hour. Rinse well and dry."
    begun(page, "A friend's", recipe=recipe)
    expect(page.locator("#state")).to_contain_text("Every sentence was understood")
    # Two procedures, of which one follows the other, also after the page is opened again.
    for name, text in (("mordanting.dye", MORDANTING), ("day.dye", DAY)):
        given = FilePayload(name=name, mimeType="text/plain", buffer=text.encode())
        page.get_by_label("A procedure on this device").set_input_files(given)
        expect(page.locator("#file")).to_have_value(name)
        at_rest(page)
    page.reload()
    expect(page.locator("#told")).not_to_be_empty()
    page.locator("#file").select_option("day.dye")
    at_rest(page)
    expect(page.locator("#told")).not_to_contain_text("to stop for")
    beside("Lots")
    expect(page.locator("#panel")).to_contain_text("mordanted in")
    assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    page.context.close()


def test_axe_finds_nothing_on_plain_files(browser: Browser, plain: Plain) -> None:
    page, _ = opened(browser, plain.address + link(TEXT + "  rinse nobody\n"))
    for tab in page.get_by_role("tab").all():
        page.set_viewport_size(DESKTOP)
        if not tab.is_visible():
            page.get_by_role("button", name="Beside it").click()
        tab.click()
        at_rest(page)
        for size in (DESKTOP, PHONE):
            page.set_viewport_size(size)
            assert axe_of(page) == [], tab.inner_text()
            assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    page.get_by_role("button", name="Text", exact=True).click()
    assert axe_of(page) == [], "the text on a phone"
    page.get_by_role("button", name="Begin another").click()
    assert axe_of(page) == [], "beginning another"
    page.context.close()


def test_a_text_is_taken_in_and_given_out(browser: Browser, plain: Plain, tmp_path: Path) -> None:
    # As in a browser that can reach no files by itself.
    none = "delete window.showSaveFilePicker; delete window.showOpenFilePicker"
    page, asked = opened(browser, plain.address + link(TEXT), first=none)
    given = tmp_path / "given.dye"
    given.write_text(TEXT.replace("\n", "\n# brought in\n", 1), encoding="utf-8")
    page.get_by_label("A procedure on this device").set_input_files(given)
    expect(page.locator("#file")).to_have_value("given.dye")
    at_rest(page)
    with page.expect_download() as download:
        page.get_by_role("button", name="Take a copy").click()
    assert Path(download.value.path()).read_bytes() == given.read_bytes()
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Link to it").click()
    expect(page.locator("#state")).to_contain_text("The link was copied")
    there = page.evaluate("navigator.clipboard.readText()")
    page.context.close()
    other, _ = opened(browser, there)
    expect(other.locator(".cm-content")).to_contain_text("brought in")
    assert not [
        one for one in asked if "#" in one or not one.startswith((plain.address, "blob:", "data:"))
    ]
    other.context.close()


def test_a_link_carries_its_name_and_a_cut_one_says_so(browser: Browser, plain: Plain) -> None:
    page, _ = opened(browser, plain.address + link(TEXT))
    page.context.grant_permissions(["clipboard-read", "clipboard-write"])
    page.get_by_role("button", name="Link to it").click()
    expect(page.locator("#state")).to_contain_text("The link was copied")
    there = page.evaluate("navigator.clipboard.readText()").replace("shared.dye", "f%C3%A4rben.dye")
    assert "#" not in page.url  # so that to load it again opens no older text
    page.evaluate("there => { location.href = there; }", there)  # where the page is open already
    expect(page.locator("#file")).to_have_value("färben.dye")
    expect(page.locator("#state")).to_be_empty()
    page.evaluate("there => { location.href = there; }", there[:-40].replace("rben", "rbig"))
    expect(page.locator("#state")).to_contain_text("cut on its way")
    expect(page.locator("#file")).to_have_value("färbig.dye")
    page.evaluate("there => { location.href = there; }", there.split("&")[0])
    expect(page.locator("#state")).to_contain_text("cannot be read")
    page.context.close()


def test_two_tabs_lose_nothing_of_each_other(browser: Browser, plain: Plain) -> None:
    one, _ = opened(browser, plain.address + link(TEXT))
    two = one.context.new_page()
    two.goto(plain.address)
    expect(two.locator(".cm-content")).to_contain_text("procedure")
    for page, words in ((one, "# of one"), (two, "# of two"), (one, " more")):
        page.locator(".cm-content").focus()
        page.keyboard.press("Control+End")
        page.keyboard.type(words)
        expect(page.locator("#state")).to_contain_text("kept all the same")
        at_rest(page)
    one.close()
    two.close()
    last = one.context.new_page()
    last.goto(plain.address)
    expect(last.locator("#state")).to_contain_text("What was written in another window is kept as")
    for name, words in (("shared-written-here.dye", "# of two"), (NAME, "# of one more")):
        last.get_by_label("Procedure", exact=True).select_option(name)
        expect(last.locator("#file")).to_have_value(name)
        at_rest(last)
        last.locator(".cm-content").focus()
        last.keyboard.press("Control+End")
        expect(last.locator(".cm-content")).to_contain_text(words)
    last.context.close()


# Stands for the window in which a person chooses: the same kind of handle, in the page's own store.
CHOOSING = """window.showSaveFilePicker = async ({ suggestedName }) =>
  (await navigator.storage.getDirectory()).getFileHandle(suggestedName, { create: true });"""
WRITTEN = """async () => {
  const handle = await (await navigator.storage.getDirectory()).getFileHandle('shared.dye');
  return (await handle.getFile()).text();
}"""


def test_a_copy_goes_to_the_disk_where_the_browser_can(browser: Browser, plain: Plain) -> None:
    page, _ = opened(browser, plain.address + link(TEXT), first=CHOOSING)
    page.get_by_role("button", name="Take a copy").click()
    expect(page.locator("#state")).to_contain_text("Written to shared.dye")
    assert page.evaluate(WRITTEN) == TEXT
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("# more")
    page.get_by_role("button", name="Take a copy").click()  # to the same file, unasked
    expect(page.locator("#state")).to_contain_text("Written to shared.dye")
    assert page.evaluate(WRITTEN) == TEXT + "# more"
    page.context.close()
