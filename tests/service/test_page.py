"""The page in a real browser: writing, finding, curing, saving, and nothing lost."""

from __future__ import annotations

import io
import os
import re
import shutil
import signal
import subprocess
import sys
import unicodedata
from collections.abc import Iterator
from pathlib import Path

import pytest

playwright = pytest.importorskip("playwright.sync_api")
pypdf = pytest.importorskip("pypdf")
from playwright.sync_api import (  # noqa: E402
    APIResponse,
    Browser,
    Page,
    Route,
    ViewportSize,
    expect,
    sync_playwright,
)

ROOT = Path(__file__).parents[2]
CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser")
pytestmark = pytest.mark.skipif(CHROMIUM is None, reason="no Chromium on this machine")
DESKTOP: ViewportSize = {"width": 1280, "height": 800}
PHONE: ViewportSize = {"width": 360, "height": 740}
SLOW = 120_000  # a busy machine, not the page


MORDANTING = """procedure "Mordanting"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors

fibre
  wool: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 10 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  alum: potassium alum

steps
  wet out wool in tub with water 5 L for 1 h
  alum-bath: prepare in kettle with water 4 L, alum 12 % of wool
  mordant wool in alum-bath from 20 °C to 85 °C over 45 min for 1 h
  cool alum-bath to 30 °C overnight covered labelled
  rinse wool in tub with water 5 L
  discard alum-bath to "foul drain"
  clean kettle
"""
DAY = """procedure "A day with two"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors

fibre
  yarn: wool yarn, 200 g, scoured

equipment
  pot: stainless steel pot, 15 L, lidded, for dyeing only
  bucket: plastic tub, 20 L, for dyeing only

steps
  follow "mordanting.dye" with wool = yarn, kettle = pot, tub = bucket
  dry yarn
"""


class Running:
    """The command, running, with the address that it printed."""

    def __init__(self, place: Path) -> None:
        command = [sys.executable, "-m", "procedure", "write", "--no-browser", str(place)]
        self.process = subprocess.Popen(
            command, cwd=ROOT, stdout=subprocess.PIPE, text=True, env={**os.environ}
        )
        assert self.process.stdout is not None
        found = re.search(r"http://\S+", self.process.stdout.readline())
        assert found is not None
        self.address = found.group()

    def kill(self) -> None:
        self.process.send_signal(signal.SIGKILL)
        self.process.wait()


@pytest.fixture(scope="module")
def browser() -> Iterator[Browser]:
    with sync_playwright() as started:
        made = started.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox"])
        yield made
        made.close()


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    shutil.copy(ROOT / "examples" / "tansy-gold-and-moss.dye", tmp_path / "tansy.dye")
    return tmp_path


@pytest.fixture
def running(folder: Path) -> Iterator[Running]:
    made = Running(folder)
    yield made
    made.kill()


def page_of(browser: Browser, running: Running, size: ViewportSize) -> tuple[Page, list[str]]:
    """The page, opened, with the addresses of all that it asks the network for."""
    page = browser.new_page(viewport=size, color_scheme="light")
    page.set_default_timeout(SLOW)
    expect.set_options(timeout=SLOW)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: asked.append(f"error: {error}"))
    page.goto(running.address)
    expect(page.locator("#told")).not_to_be_empty()
    return page, asked


def only_here(asked: list[str], running: Running) -> bool:
    return all(one.startswith((running.address, "blob:", "data:", "about:")) for one in asked)


def test_a_fault_is_found_and_cured_by_its_remedy(browser: Browser, running: Running) -> None:
    page, asked = page_of(browser, running, DESKTOP)
    expect(page.locator("#panel svg")).to_be_visible()
    line = page.locator(".cm-line", has_text="mordant yarn in alum-bath")
    line.click(position={"x": 60, "y": 8})  # in its first row, however it is broken
    page.keyboard.press("Home")
    page.keyboard.press("Delete")  # ordant
    told = page.locator(".told.error").first
    expect(told).to_be_visible()
    told.get_by_role("button", name="What can be done").click()
    page.locator(".cure", has_text="mordant").click()
    expect(page.locator(".told.error")).to_have_count(0)
    assert only_here(asked, running), asked
    page.close()


def test_chart_and_text_lead_to_each_other(browser: Browser, running: Running) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    figure = page.locator("#panel svg [data-line]").nth(3)
    line = figure.get_attribute("data-line") or "0"
    figure.click()
    text = (ROOT / "examples" / "tansy-gold-and-moss.dye").read_text().split("\n")[int(line) - 1]
    chosen = page.evaluate("getSelection().toString()").strip()
    assert chosen[:14] == text.strip()[:14]  # amounts worked out stand further on
    page.close()


def test_the_chart_by_keys_alone(browser: Browser, running: Running) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    expect(page.locator("#panel svg")).to_be_visible()
    page.get_by_role("tab", name="Chart").focus()
    page.keyboard.press("Tab")  # the panel
    page.keyboard.press("Tab")  # the chart in it
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    expect(page.locator("#panel svg .here")).not_to_have_count(0)
    line = page.locator("#panel svg .here").first.get_attribute("data-line")
    expect(page.locator("#state")).to_contain_text(f"Line {line}:")
    page.keyboard.press("Enter")
    expect(page.locator(".cm-content")).to_be_focused()
    page.close()


def test_panels_and_amounts_for_other_fibre(browser: Browser, running: Running) -> None:
    page, asked = page_of(browser, running, DESKTOP)
    page.get_by_role("tab", name="Amounts").click()
    page.get_by_label("For so much fibre").fill("600 g")
    page.get_by_role("button", name="Work it out").click()
    # 12 % of 600 g of yarn.
    expect(page.locator("#panel td", has_text=re.compile(r"^72\D"))).not_to_have_count(0)
    page.get_by_role("tab", name="Lots").click()
    expect(page.locator("#panel h2")).not_to_have_count(0)
    page.get_by_role("tab", name="Paper").click()
    expect(page.frame_locator("#panel iframe").locator("h1")).to_contain_text("Tansy")
    page.get_by_role("tab", name="Help").click()
    expect(page.locator("#panel")).to_contain_text("Put the cursor on a word")
    assert only_here(asked, running), asked
    page.close()


def test_nothing_is_lost_when_the_program_is_killed(browser: Browser, folder: Path) -> None:
    first = Running(folder)
    page, _ = page_of(browser, first, DESKTOP)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    with page.expect_response("**/undo"):  # what can be undone is kept a little later
        page.keyboard.type("\n  # kept to the last letter")
        expect(page.locator("#state")).to_contain_text("kept all the same")
    first.kill()
    page.close()
    assert "last letter" not in (folder / "tansy.dye").read_text()
    second = Running(folder)
    page, _ = page_of(browser, second, DESKTOP)
    expect(page.locator("#state")).to_contain_text("here it is")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    expect(page.locator(".cm-content")).to_contain_text("kept to the last letter")
    page.keyboard.press("Control+z")  # undone over the end of the program
    expect(page.locator(".cm-content")).not_to_contain_text("kept to the last letter")
    second.kill()
    page.close()


def test_a_file_changed_elsewhere_is_noticed_and_both_are_kept(
    browser: Browser, running: Running, folder: Path
) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    theirs = (folder / "tansy.dye").read_text() + "# theirs\n"
    (folder / "tansy.dye").write_text(theirs)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# mine\n")
    page.get_by_role("button", name="Save").click()
    expect(page.locator("#state")).to_contain_text("Yours is kept as")
    assert (folder / "tansy.dye").read_text() == theirs
    assert (folder / "tansy-written-here.dye").read_text().startswith("# mine")
    page.close()


def test_a_file_changed_elsewhere_is_shown_where_nothing_was_written_here(
    browser: Browser, running: Running, folder: Path
) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    (folder / "tansy.dye").write_text("# theirs\n" + (folder / "tansy.dye").read_text())
    expect(page.locator("#state")).to_contain_text("this is how it is there now")
    expect(page.locator(".cm-content")).to_contain_text("# theirs")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    page.keyboard.type("# mine ")
    page.get_by_role("button", name="Save").click()
    expect(page.locator("#state")).to_have_text("Saved.")
    assert (folder / "tansy.dye").read_text().startswith("# mine # theirs\n")
    page.close()


def test_another_file_takes_nothing_of_the_one_that_is_left(
    browser: Browser, running: Running, folder: Path
) -> None:
    other = 'procedure "Another"\n'
    (folder / "zest.dye").write_text(other)
    (folder / "odd.dye").write_bytes('procedure "Färben"\n'.encode("latin-1"))
    page, _ = page_of(browser, running, DESKTOP)
    first = (folder / "tansy.dye").read_text()
    choice = page.get_by_label("Procedure", exact=True)
    page.reload()  # the first of the list is not UTF-8, so the next is opened
    expect(page.locator("#state")).to_contain_text("odd.dye is not UTF-8 text")
    expect(choice).to_have_value("tansy.dye")
    choice.select_option("zest.dye")
    expect(page.locator("#state")).to_be_empty()
    choice.select_option("tansy.dye")
    expect(page.locator(".cm-content")).to_contain_text("Tansy")
    choice.select_option("odd.dye")  # what is open stays open
    expect(page.locator("#state")).to_contain_text("is not UTF-8 text")
    expect(choice).to_have_value("tansy.dye")
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type("# the last words")
    choice.select_option("zest.dye")  # at once
    expect(page.locator(".cm-content")).to_contain_text("Another")
    choice.select_option("tansy.dye")
    expect(page.locator("#state")).to_contain_text("here it is")
    page.get_by_role("button", name="Save").click()
    expect(page.locator("#state")).to_have_text("Saved.")
    assert (folder / "tansy.dye").read_text() == first + "# the last words"
    assert (folder / "zest.dye").read_text() == other
    assert not (folder / ".odd.dye.journal").exists()
    page.close()


def test_the_text_can_be_taken_from_a_page_whose_program_has_ended(
    browser: Browser, running: Running
) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    running.kill()
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type("# written after the end")
    expect(page.locator("#state")).to_contain_text("has ended")
    with page.expect_download() as download:
        page.get_by_role("button", name="Take a copy").click()
    assert download.value.suggested_filename == "tansy.dye"
    assert Path(download.value.path()).read_text().endswith("# written after the end")
    page.close()


def test_an_empty_folder_has_nothing_to_save(browser: Browser, tmp_path: Path) -> None:
    running = Running(tmp_path)
    page = browser.new_page(viewport=DESKTOP)
    wrong: list[str] = []
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.goto(running.address)
    page.get_by_role("button", name="Leave it").click()
    for name in ("Save", "Neaten"):
        expect(page.get_by_role("button", name=name)).to_be_disabled()
    for tab in page.get_by_role("tab").all():
        tab.click()
        expect(page.locator("#panel")).to_contain_text("There is no procedure here yet")
    assert not wrong
    page.close()
    running.kill()


def test_a_file_has_the_letters_of_its_title(
    browser: Browser, running: Running, folder: Path
) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    for title, name in (("Großmutters Färbung", "grossmutters-farbung"), ("黄 2", "黄-2")):
        page.get_by_role("button", name="Begin another").click()
        page.get_by_label("What is it called?").fill(title)
        page.get_by_role("button", name="Begin", exact=True).click()
        expect(page.locator("#file")).to_have_value(f"{name}.dye")
        assert (folder / f"{name}.dye").exists()
        expect(page.locator(".cm-content")).to_be_focused()  # to write on by keys alone
    page.close()


def test_a_save_is_not_taken_for_a_change_elsewhere(browser: Browser, running: Running) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    late: list[tuple[Route, APIResponse]] = []  # what the disk held before the save

    def hold(route: Route) -> None:
        if late:
            route.continue_()
        else:
            late.append((route, route.fetch()))

    page.route("**/stamp", hold)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    page.keyboard.type("\n# more")
    expect(page.locator("#state")).to_contain_text("kept all the same")
    while not late:
        page.wait_for_timeout(100)
    page.get_by_role("button", name="Save").click()
    expect(page.locator("#state")).to_have_text("Saved.")
    route, answer = late[0]
    route.fulfill(response=answer)
    page.wait_for_timeout(300)
    expect(page.locator("#state")).to_have_text("Saved.")
    expect(page.locator("main")).to_have_attribute("aria-busy", "false")
    expect(page.locator("#state")).to_have_text("Saved.")
    page.close()


def test_a_beginner_on_a_phone(browser: Browser, running: Running, folder: Path) -> None:
    page, asked = page_of(browser, running, PHONE)
    assert page.evaluate("document.documentElement.scrollWidth") <= PHONE["width"]
    page.get_by_role("button", name="Begin another").click()
    page.get_by_label("What is it called?").fill("Onion gold")
    page.get_by_label("Which fibre, and how much of it?").fill("wool yarn 80 g")
    page.get_by_label("Which dyestuff?").fill("moonbeams")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator("#refused")).to_contain_text("no dyestuff is called “moonbeams”")
    page.get_by_label("Which dyestuff?").fill("onion skins")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator("#file")).to_have_value("onion-gold.dye")
    expect(page.locator("#told")).to_have_text("1 to know")  # nobody is named as its writer
    page.locator(".cm-content").click()
    page.keyboard.press("Control+End")
    # At once, so that no list for the first letter alone comes under the click.
    page.keyboard.insert_text("  dr")
    page.locator(".cm-tooltip-autocomplete li", has_text="dry").first.click()
    expect(page.locator(".cm-line").last).to_have_text("  dry")
    page.keyboard.type(" yarn")
    expect(page.locator(".cm-line").last).to_contain_text("dry yarn")
    page.get_by_role("button", name="Save").click()
    expect(page.locator("#state")).to_have_text("Saved.")
    assert (folder / "onion-gold.dye").read_text().endswith("  dry yarn")
    page.get_by_role("button", name="Beside it").click()
    page.get_by_role("tab", name="Paper").click()
    expect(page.frame_locator("#panel iframe").locator("h1")).to_contain_text("Onion gold")
    assert only_here(asked, running), asked
    page.close()


def test_whoever_goes_on_while_the_chart_is_drawn_is_left_there(
    browser: Browser, running: Running
) -> None:
    page, _ = page_of(browser, running, PHONE)
    late: list[Route] = []

    def hold(route: Route) -> None:
        if '"panel":"chart"' in (route.request.post_data or "").replace(" ", ""):
            late.append(route)
        else:
            route.continue_()

    page.route("**/ask", hold)
    page.get_by_role("button", name="Begin another").click()
    page.get_by_label("What is it called?").fill("Onion gold")
    page.get_by_label("Which dyestuff?").fill("onion skins")
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator("#told")).to_have_text("1 to know")
    while not late:
        page.wait_for_timeout(100)
    page.get_by_role("button", name="Beside it").click()
    for route in late:
        route.continue_()
    page.unroute("**/ask")
    expect(page.locator("main")).to_have_attribute("aria-busy", "false")
    expect(page.locator("main")).to_have_attribute("data-side", "beside")
    expect(page.locator("#panel svg")).to_be_visible()
    page.close()


# What is to be printed: noted, and not done, for a browser without a screen opens no window.
PRINTED = """(frame) => {
  const paper = frame.contentDocument.documentElement;
  frame.contentWindow.print = () => { window.printed = paper.outerHTML; };
}"""


def words_of(pdf: bytes) -> str:
    """The words of a PDF, with one blank between them; letters joined in print are told apart."""
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    text = unicodedata.normalize("NFKC", " ".join(page.extract_text() for page in pages))
    return " ".join(text.replace("\xad", "").split())


def test_the_paper_is_printed_with_its_words(browser: Browser, running: Running) -> None:
    page, asked = page_of(browser, running, DESKTOP)
    page.get_by_role("tab", name="Paper").click()
    expect(page.frame_locator("#panel iframe").locator("h1")).to_contain_text("Tansy")
    page.locator("#panel iframe").evaluate(PRINTED)
    page.get_by_role("button", name="Print it").click()
    paper = page.evaluate("window.printed")
    assert only_here(asked, running), asked
    page.set_content(paper)
    page.emulate_media(media="print")
    shown = page.locator("body").inner_text()
    printed = words_of(page.pdf(format="A4", prefer_css_page_size=True))
    assert "Tansy gold and moss green" in printed
    for word in set(re.findall(r"[a-z]{5,}", shown)):
        assert word in printed or word in printed.replace("- ", ""), word
    page.close()


def test_the_page_itself_is_printed_without_its_buttons(browser: Browser, running: Running) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    page.get_by_role("tab", name="Amounts").click()
    expect(page.locator("#panel td", has_text="yarn").first).to_be_visible()
    printed = words_of(page.pdf(format="A4"))
    assert "As written" in printed and "12 % of yarn" in printed
    assert "Begin another" not in printed and "Work it out" not in printed
    page.close()


def test_a_recipe_in_words_becomes_a_draft(
    browser: Browser, running: Running, folder: Path
) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    page.get_by_role("button", name="Begin another").click()
    page.get_by_label("What is it called?").fill("A friend's brown")
    page.get_by_label("a recipe in words").check()
    page.get_by_label("The recipe, as it was written").fill(
        "Soak 200 g of walnut hulls in 6 litres of water overnight. Simmer for an hour and strain."
        " Put in 100 g of wool yarn and keep at 80 °C for 45 minutes. Rinse well and dry."
    )
    page.get_by_role("button", name="Begin", exact=True).click()
    expect(page.locator("#file")).to_have_value("a-friend-s-brown.dye")
    expect(page.locator("#state")).to_contain_text("Every sentence was understood")
    made = (folder / "a-friend-s-brown.dye").read_text()
    assert "200 g" in made and "80 °C" in made and "45 min" in made
    page.close()


def test_what_changed_is_told_beside_the_text(browser: Browser, running: Running) -> None:
    page, _ = page_of(browser, running, DESKTOP)
    page.get_by_role("tab", name="What changed").click()
    paper = page.frame_locator("#panel iframe")
    expect(paper.locator("body")).to_contain_text("mean the same")
    page.locator(".cm-line", has_text="tartar 6 %").click()
    page.keyboard.press("End")
    page.keyboard.type(" covered")
    expect(paper.locator("body")).to_contain_text("1 difference of meaning")
    page.close()


def axe_of(page: Page) -> list[str]:
    """What axe-core finds on the page, with its rules of WCAG 2.2 AA and good practice."""
    import axe_playwright_python

    code = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text("utf-8")
    page.evaluate(code)
    found = page.evaluate("axe.run(document, {resultTypes: ['violations'], iframes: false})")
    return [
        f"{one['id']}: {each['html'][:160]}" for one in found["violations"] for each in one["nodes"]
    ]


# Each size and each scheme in every run, and all four pairs of them with --exhaustive.
@pytest.mark.parametrize(
    ("size", "scheme"),
    [
        pytest.param(DESKTOP, "light", id="desktop-light"),
        pytest.param(PHONE, "dark", id="phone-dark"),
        pytest.param(DESKTOP, "dark", id="desktop-dark", marks=pytest.mark.exhaustive),
        pytest.param(PHONE, "light", id="phone-light", marks=pytest.mark.exhaustive),
    ],
)
def test_axe_finds_nothing(
    browser: Browser, running: Running, folder: Path, size: ViewportSize, scheme: str
) -> None:
    text = (folder / "tansy.dye").read_text().replace("mordant yarn", "mordantt yarn", 1)
    (folder / "tansy.dye").write_text(text + "  rinse nobody\n")
    page, _ = page_of(browser, running, size)
    page.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    page.get_by_role("button", name="To the next").click()
    assert axe_of(page) == []
    if size is PHONE:
        page.get_by_role("button", name="Beside it").click()
    for tab in page.get_by_role("tab").all():
        tab.click()
        expect(page.locator("main")).to_have_attribute("aria-busy", "false")
        assert axe_of(page) == [], tab.inner_text()
        assert page.evaluate("document.documentElement.scrollWidth") <= size["width"]
    for way in ("a recipe in words", "an empty form", "a few questions"):
        page.get_by_role("button", name="Begin another").click()
        page.get_by_label(way).check()
        page.get_by_role("button", name="Begin", exact=True).click()
        expect(page.locator("#refused")).to_have_text("Give it a name first.")
        assert axe_of(page) == [], way
        page.get_by_role("button", name="Leave it").click()
    page.close()


@pytest.mark.parametrize("size", [DESKTOP, PHONE], ids=["desktop", "phone"])
def test_axe_finds_nothing_in_what_opens_while_somebody_writes(
    browser: Browser, running: Running, size: ViewportSize
) -> None:
    page, _ = page_of(browser, running, size)
    assert axe_of(page) == [], "where nothing is found"
    page.locator(".cm-content").focus()
    page.keyboard.press("Control+f")
    page.keyboard.type("moss")  # to be looked for
    page.keyboard.press("Enter")
    assert page.evaluate("getSelection().toString()") == "moss"
    assert axe_of(page) == [], "the words looked for"
    page.get_by_label("Put instead").fill("fern")
    page.get_by_role("button", name="Put it everywhere").click()
    page.get_by_role("button", name="Done").click()
    expect(page.locator(".finding")).to_have_count(0)
    expect(page.locator(".cm-content")).to_be_focused()
    page.keyboard.press("Control+End")
    page.keyboard.insert_text("\n  dr")
    expect(page.locator(".cm-tooltip-autocomplete li").first).to_be_visible()
    assert axe_of(page) == [], "the words to choose from"
    page.keyboard.press("Escape")
    page.get_by_role("button", name="What can be done").last.click()
    expect(page.locator(".told").last).to_contain_text("the writer can put this right")
    assert axe_of(page) == [], "what can be done"
    page.get_by_role("button", name="Why it matters").last.click()
    expect(page.locator("#panel")).to_contain_text("This brings it up")
    assert axe_of(page) == [], "why it matters"
    page.close()


def test_a_plan_of_two_procedures(browser: Browser, running: Running, folder: Path) -> None:
    (folder / "mordanting.dye").write_text(MORDANTING, encoding="utf-8")
    (folder / "day.dye").write_text(DAY, encoding="utf-8")
    page, asked = page_of(browser, running, DESKTOP)
    page.reload()
    page.locator("#file").select_option("day.dye")
    expect(page.locator("#told")).not_to_contain_text("to stop for")
    expect(page.locator("#panel svg")).to_contain_text("Mordanting")
    page.get_by_role("tab", name="Lots").click()
    expect(page.locator("#panel")).to_contain_text("mordanted in")
    page.locator("#file").select_option("mordanting.dye")
    line = page.locator(".cm-line", has_text="alum 12 %")
    line.click(position={"x": 60, "y": 8})
    page.keyboard.press("End")
    page.keyboard.type(" at 300 °C")
    expect(page.locator("#told")).to_contain_text("to stop for")
    page.locator("#file").select_option("day.dye")  # what is unsaved there counts here
    expect(page.locator("#told")).to_contain_text("to stop for")
    assert only_here(asked, running), asked
    page.close()


def test_hostile_text_leaves_the_page_alive(browser: Browser, running: Running) -> None:
    page, asked = page_of(browser, running, DESKTOP)
    page.locator(".cm-content").click()
    page.keyboard.press("Control+Home")
    hostile = 'procedure "<img src=x onerror=alert(1)></script><svg onload=alert(1)>"\n'
    page.keyboard.insert_text(hostile + "steps\n" + "  repeat 2 times\n" * 40)
    page.wait_for_timeout(1500)
    expect(page.locator(".told.error").first).to_be_visible()
    assert not page.locator("#panel img, main script").count()
    assert only_here(asked, running), asked
    page.close()
