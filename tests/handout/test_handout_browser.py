"""Pages in a real Chromium: accessible, nothing overflows, print keeps steps whole, sums agree."""

from __future__ import annotations

import io
import os
import re
import shutil
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from papers import EXAMPLES, html_of, loaded, plan_of
from printed import blanks_apart, missing_glyphs
from sampling import sampled

from procedure import Plan
from procedure.command.voice import voice_of
from procedure.handout import bench, labels_paper, short
from procedure.handout.chart_pictures import sheets_of
from procedure.handout.contents import contents, work_of
from procedure.handout.labels import labels
from procedure.handout.other_weights import figures
from procedure.paper import in_html
from procedure.paper.measures import Voice
from procedure.rework.scaling import scale, shared_out

FLAGS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
PHONE, DESK = {"width": 360, "height": 780}, {"width": 1200, "height": 900}
BOTH = Voice("both")
TANSY = next(path for path in EXAMPLES if path.stem == "tansy-gold-and-moss")


@pytest.fixture(scope="module")
def chromium() -> Iterator[Any]:
    """Chromium as the system has it. Without one the test is skipped, and fails where CI=true.

    Playwright gives it a new folder for its profile each time.
    """
    found = shutil.which("chromium") or shutil.which("chromium-browser")
    if found is None:
        if os.environ.get("CI") == "true":
            pytest.fail("Chromium is not installed, and CI looks at every page with it")
        pytest.skip("Chromium is not installed")
    from playwright.sync_api import sync_playwright

    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=found, args=FLAGS)
        yield browser
        browser.close()


@pytest.fixture
def tab(chromium: Any) -> Iterator[Any]:
    page = chromium.new_page()
    page.heard = []
    page.on("console", lambda message: page.heard.append(message.text))
    page.on("pageerror", lambda error: page.heard.append(str(error)))
    page.on(
        "request",
        lambda request: (
            page.heard.append(request.url)
            if not (request.url.startswith(("file:", "data:")))
            else None
        ),
    )
    yield page
    assert page.heard == [], "the page complained or asked for something"
    page.close()


def opened(tab: Any, folder: Path, text: str) -> Any:
    path = folder / "page.html"
    path.write_text(text, encoding="utf-8")
    tab.goto(path.as_uri())
    return tab


@cache
def handout_of(path: Path, voice: Voice = BOTH, chart: bool = False) -> str:
    """The handout of an example, made once for all tests that open it."""
    return handout(loaded(path), voice, chart)


def handout(plan: Plan, voice: Voice = BOTH, chart: bool = False) -> str:
    sheets, why = sheets_of(plan) if chart else ((), "")
    return html_of(contents(plan, voice, sheets=sheets, no_chart=why))


def violations(tab: Any) -> list[str]:
    """What axe-core finds, with its rules of WCAG 2.2 AA and good practice."""
    import axe_playwright_python

    code = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text("utf-8")
    # The page's own policy forbids foreign scripts; the debugger may put one in all the same.
    tab.evaluate(code)
    found = tab.evaluate("axe.run(document, {resultTypes: ['violations']})")
    return [
        f"{one['id']}: {node['html'][:200]}" for one in found["violations"] for node in one["nodes"]
    ]


@pytest.mark.parametrize(
    ("path", "size", "scheme"),
    [(TANSY, PHONE, "light"), (EXAMPLES[0], DESK, "dark")],
    ids=["phone-light", "desk-dark"],
)
def test_axe_finds_nothing(
    tab: Any, tmp_path: Path, path: Path, size: dict[str, int], scheme: str
) -> None:
    tab.emulate_media(color_scheme=scheme)
    tab.set_viewport_size(size)
    assert violations(opened(tab, tmp_path, handout_of(path, chart=True))) == []


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_on_drafts_bench_sheets_and_labels(
    tab: Any, tmp_path: Path, scheme: str
) -> None:
    tab.emulate_media(color_scheme=scheme)
    draft = plan_of("a: prepare in kettle with water 3 L, tansy 10 g at 130 °C\ndry yarn")
    plan = loaded(TANSY)
    made = {
        "light": [handout(draft), in_html.page(labels_paper.paper(labels(plan, BOTH)))],
        "dark": [handout(draft), in_html.page(bench.paper(bench.bench(plan, BOTH)))],
    }
    for text in made[scheme]:
        assert violations(opened(tab, tmp_path, text)) == []


def test_axe_would_find_a_label_that_is_missing(tab: Any, tmp_path: Path) -> None:
    text = handout_of(TANSY).replace('aria-label="Step 1 done"', "")
    assert any("label" in one for one in violations(opened(tab, tmp_path, text)))


OVERFLOW = """() => {
  const wide = document.documentElement.clientWidth + 1;
  const inside = (e) => e.closest('.scroll') || e.closest('.skip') || e.closest('.quiet')
    || e.tagName === 'THEAD' || e.closest('thead');
  return [document.documentElement.scrollWidth - document.documentElement.clientWidth,
    [...document.body.querySelectorAll('*')].filter((e) => !inside(e)
      && e.getBoundingClientRect().right > wide).map((e) => e.outerHTML.slice(0, 120))];
}"""


@pytest.mark.parametrize("path", sampled(EXAMPLES, 9), ids=lambda path: path.stem)
def test_every_example_opens_and_prints(tab: Any, tmp_path: Path, path: Path) -> None:
    from pypdf import PdfReader

    plan = loaded(path)
    at = EXAMPLES.index(path)
    # Pictures take the browser long; a chart in every fourth is enough.
    sheets = sheets_of(plan)[0] if at % 4 == 0 else ()
    made = contents(plan, BOTH, sheets=sheets)
    opened(tab, tmp_path, html_of(made))
    for size in (PHONE, DESK):
        tab.set_viewport_size(size)
        assert tab.evaluate(OVERFLOW) == [0, []]
    paper = ("A4", "Letter")[at % 2]
    read = PdfReader(io.BytesIO(tab.pdf(format=paper, prefer_css_page_size=False)))
    assert missing_glyphs(read) == []
    assert blanks_apart(read, made.work.steps, BOTH) == []


def test_a_draft_says_so_on_every_printed_page(tab: Any, tmp_path: Path) -> None:
    from pypdf import PdfReader

    steps = "\n".join("rinse yarn in tub with water 5 L" for _ in range(30))
    draft = plan_of(f"a: prepare in kettle with water 3 L at 130 °C\n{steps}")
    opened(tab, tmp_path, handout(draft))
    pages = PdfReader(io.BytesIO(tab.pdf(format="A4"))).pages
    assert len(pages) > 3
    assert all("DRAFT" in page.extract_text().replace(" ", "") for page in pages)


def test_it_reads_without_its_script(chromium: Any, tmp_path: Path) -> None:
    path = tmp_path / "page.html"
    path.write_text(handout_of(TANSY), encoding="utf-8")
    page = chromium.new_page(java_script_enabled=False)
    page.goto(path.as_uri())
    assert "28.8\u00a0g" in page.inner_text("#steps")
    assert not page.is_visible("#fibre-box")
    page.close()


# ------------------------------------------------------------------ the box


def shown_amounts(tab: Any) -> list[str]:
    texts: list[str] = tab.evaluate(
        "[...document.querySelectorAll('main [data-grows]')]"
        ".filter((e) => !e.closest('#gathering')).map((e) => e.textContent)"
    )
    return texts


def printed_by_the_sums(plan: Plan, grams: Fraction, voice: Voice) -> list[str]:
    """The amounts of the handout that is made of the scaled plan."""
    work = work_of(scale(plan, shared_out(plan, grams)).plan, voice)
    ordered = [*figures(work.needs), *figures(work.steps)]
    return something([voice.amount(one.kind, one.low, one.high, one.about) for one in ordered])


def something(amounts: list[str]) -> list[str]:
    """Those that come to something: a drop that is no millilitre is told as a drop by the sums,
    while the page, which has the figures alone, says 0 mL."""
    return [one for one in amounts if not one.startswith("0\u00a0mL")]


@pytest.mark.parametrize(
    ("name", "units"),
    [("goldenrod-us-units", None), ("six-lots-three-baths", "us"), ("madder-red-wool", "imperial")],
)
def test_the_box_counts_in_a_readers_kitchen_measures(
    tab: Any, tmp_path: Path, name: str, units: str | None
) -> None:
    plan = loaded(next(path for path in EXAMPLES if path.stem == name))
    voice = voice_of(plan, units)
    opened(tab, tmp_path, handout(plan, voice))
    tab.select_option("#fibre-unit", label="oz")
    ounce = Fraction("28.349523125")
    for given in ("0.3", "1", "5", "16", "37.5", "100"):
        tab.fill("#fibre-weight", given)
        tab.click("#fibre-box button[type=submit]")
        assert something(shown_amounts(tab)) == printed_by_the_sums(
            plan, Fraction(given) * ounce, voice
        )


VOICES = {"both": BOTH, "us": Voice("us", "us")}


@pytest.mark.parametrize(
    "name", sampled([f"{said}-{path.stem}" for path in EXAMPLES for said in VOICES], 8)
)
def test_the_box_works_out_what_the_sums_do(tab: Any, tmp_path: Path, name: str) -> None:
    said, stem = name.split("-", 1)
    voice = VOICES[said]
    plan = loaded(next(path for path in EXAMPLES if path.stem == stem))
    opened(tab, tmp_path, handout(plan, voice))
    unit, holds = ("g", Fraction(1)) if voice is BOTH else ("oz", Fraction("28.349523125"))
    tab.select_option("#fibre-unit", label=unit)
    before = shown_amounts(tab)
    for given in ("1", "37.5", "333", "1000", "12345.678"):
        tab.fill("#fibre-weight", given)
        tab.click("#fibre-box button[type=submit]")
        assert something(shown_amounts(tab)) == printed_by_the_sums(
            plan, Fraction(given) * holds, voice
        )
    tab.click("#fibre-box button[type=reset]")
    assert shown_amounts(tab) == before


def test_the_box_agrees_with_the_weigh_command(
    tab: Any, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    import json

    from procedure.command.main import main

    main(["weigh", str(TANSY), "--fibre", "600 g", "--format", "json"])
    weighed = json.loads(capsys.readouterr().out)
    text = json.dumps(weighed)
    opened(tab, tmp_path, handout_of(TANSY, Voice("metric")))
    tab.fill("#fibre-weight", "600")
    tab.click("#fibre-box button[type=submit]")
    shown = [one.replace("\u00a0", " ") for one in shown_amounts(tab)]
    # 12 % of 600 g is 72 g of alum, 6 % is 36 g of tartar, 3 : 1 is 1.8 kg of tansy.
    for amount in ("72 g", "36 g", "1.8 kg", "18 L"):
        assert amount in shown
    assert "72" in text and "1800" in text


def test_the_box_of_the_short_handout_prints_what_the_scaled_one_does(
    tab: Any, tmp_path: Path
) -> None:
    plan = loaded(TANSY)
    voice = voice_of(plan, None)
    opened(tab, tmp_path, in_html.printed(short.paper(plan, voice)).decode())
    tab.fill("#fibre-weight", "333")
    tab.click("#fibre-box button[type=submit]")
    shown = shown_amounts(tab)
    scaled = scale(plan, shared_out(plan, Fraction(333))).plan
    made = work_of(scaled, voice, short.body).short
    assert shown == [voice.amount(one.kind, one.low, one.high, one.about) for one in figures(made)]


@pytest.mark.parametrize("given", ["", "0", "-5", "much", "1e3", "0.0", "1/0"])
def test_the_box_asks_for_a_weight(tab: Any, tmp_path: Path, given: str) -> None:
    opened(tab, tmp_path, handout_of(TANSY))
    before = shown_amounts(tab)
    tab.fill("#fibre-weight", given)
    tab.click("#fibre-box button[type=submit]")
    assert "above nothing" in tab.inner_text("#fibre-said")
    assert shown_amounts(tab) == before


def test_the_box_says_when_a_pot_is_too_small(tab: Any, tmp_path: Path) -> None:
    opened(tab, tmp_path, handout_of(TANSY, Voice("metric")))
    tab.fill("#fibre-weight", "1000")
    tab.click("#fibre-box button[type=submit]")
    # 30 : 1 on 1 kg is 30 L; the kettle holds 15 L.
    said = tab.inner_text("#fibre-said")
    assert "Too small: " in said and said.count("the kettle (") == 1
    tab.fill("#fibre-weight", "100")
    tab.click("#fibre-box button[type=submit]")
    assert "Too " not in tab.inner_text("#fibre-said")


@pytest.mark.parametrize("grams", ["150", "480", "960", "4800"])
def test_the_box_calls_for_a_draft_where_the_checker_does(
    tab: Any, tmp_path: Path, grams: str
) -> None:
    plan = loaded(TANSY)
    scaled = scale(plan, shared_out(plan, Fraction(grams))).plan
    pots = [one for one in scaled.findings if one.rule == "pot-too-small"]
    full = [one for one in scaled.findings if one.rule == "pot-too-full"]
    opened(tab, tmp_path, in_html.printed(short.paper(plan, voice_of(plan, None))).decode())
    before = tab.inner_text("body")
    tab.fill("#fibre-weight", grams)
    tab.click("#fibre-box button[type=submit]")
    assert bool(pots) == bool(tab.locator(".stamp").count()) == ("draft now" in said_by(tab))
    assert ("Too small" in said_by(tab)) == bool(pots)
    assert ("Too full" in said_by(tab)) == bool(full)
    # As many batches as the remedies of the scaled plan call for at most.
    told = [re.findall(r"in (\d+) (?:equal )?batches", one.remedy) for one in (*pots, *full)]
    most = max((int(one[0]) for one in told if one), default=0)
    assert (f"into {most} batches or more" in said_by(tab)) == bool(most)
    assert not tab.is_visible("#steps > .days")
    shown = tab.inner_text("body")
    assert "(for the weight as written) It goes on" in shown
    assert "(for the weight as written) two gold and two" in shown
    tab.click("#fibre-box button[type=reset]")
    assert tab.inner_text("body") == before


def said_by(tab: Any) -> str:
    return str(tab.inner_text("#fibre-said"))


def test_what_the_box_puts_into_a_page_is_accessible(tab: Any, tmp_path: Path) -> None:
    plan = loaded(TANSY)
    opened(tab, tmp_path, in_html.printed(short.paper(plan, voice_of(plan, None))).decode())
    tab.fill("#fibre-weight", "9000")
    tab.click("#fibre-box button[type=submit]")
    assert tab.locator(".stamp").count() == 1
    assert violations(tab) == []


def test_hostile_words_run_nothing(tab: Any, tmp_path: Path) -> None:
    from test_hostile_words import HOSTILE, plan_with

    for text in HOSTILE:
        opened(tab, tmp_path, handout(plan_with(text)))
        tab.fill("#fibre-weight", "5000")
        tab.click("#fibre-box button[type=submit]")
        assert tab.evaluate("window.caught") is None


@pytest.mark.parametrize("size", [PHONE, DESK], ids=["phone", "desk"])
def test_short_papers_cards_and_a_book_are_accessible(
    tab: Any, tmp_path: Path, size: dict[str, int]
) -> None:
    import shutil as files

    from procedure.command.main import main

    folder = tmp_path / "dyes"
    folder.mkdir()
    for path in (TANSY, TANSY.with_name("shade-card-madder.dye")):
        files.copy(path, folder)
    assert main(["book", str(folder), "-o", str(tmp_path / "site")]) == 0
    tab.set_viewport_size(size)
    for page in sorted((tmp_path / "site").glob("*.html")):
        tab.goto(page.as_uri())
        assert violations(tab) == [], page.name
        wide = tab.evaluate("document.documentElement.scrollWidth")
        assert wide <= size["width"], page.name
    tab.goto((tmp_path / "site" / "index.html").as_uri())
    tab.fill("#words", "madder red")
    shown = [line.inner_text() for line in tab.query_selector_all(".procedures li:not([hidden])")]
    # The lists by plant, colour and fibre are away while somebody searches.
    assert not tab.is_visible("section.by")
    assert len(shown) == 1 and shown[0].startswith("A shade card of madder")
