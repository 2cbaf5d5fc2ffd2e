"""The book as a site: plain pages that any host can serve, and that open from a memory stick."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from xml.etree.ElementTree import Element

from procedure.handout.book import (
    ALL,
    DRAFTS,
    INDEXES,
    BookEntry,
    in_order,
    index,
    papers_of,
    unparted,
)
from procedure.handout.book_words import glossary, sources
from procedure.paper.in_html import document, el, page, put
from procedure.paper.measures import Voice
from procedure.pipeline import Judged

INDEX = "index.html"
# By this mark a folder is known to hold a book that a new one may take the place of.
MARK = "A book of procedures made with Vatwright"


def files(
    title: str, entries: Sequence[BookEntry], plans: Sequence[Judged], voice: Voice
) -> Iterator[tuple[str, str]]:
    """Each page of the site: its file name and its text."""
    yield INDEX, _index(title, entries, plans, voice)
    for one in entries:
        yield f"{one.name}.html", page(one.handout, INDEX)
        if one.card is not None:
            yield f"{one.name}-card.html", page(one.card, INDEX)


def _index(title: str, entries: Sequence[BookEntry], plans: Sequence[Judged], voice: Voice) -> str:
    body = el("body", {"class": "book"})
    find = el(
        "form",
        {"id": "find", "role": "search", "hidden": "hidden"},
        el("label", {"for": "words"}, voice.spelt("Find a title, a plant, a colour or a fibre: ")),
        el("input", {"id": "words", "type": "search", "autocomplete": "off"}),
        el("p", {"id": "found", "role": "status"}, ""),
    )
    main = el("main", {"id": "main"}, find)
    parts: list[tuple[str, str]] = []  # each part's own name, and its heading

    def part(name: str, heading: str, *inside: Element, css: str = "") -> None:
        parts.append((name, heading))
        main.append(el("section", {"id": name, "class": css}, el("h2", {}, heading), *inside))

    for name, head, draft in (("all", ALL, False), ("drafts", DRAFTS, True)):
        of = [one for one in in_order(entries) if one.draft is draft]
        if of:
            part(name, head, el("ul", {"class": "procedures"}, *(_line(one) for one in of)))
    for by in INDEXES:
        listed: list[Element] = []
        for head, under in index(entries, by).items():
            links = el("ul", {}, *(el("li", {}, _link(one)) for one in under))
            listed += [el("h3", {}, head), links]
        if listed:
            part(f"by-{by}", voice.spelt(f"By {by}"), *listed, css="by")
    words = el("dl", {})
    for word, said in glossary(papers_of(entries)):
        put(words, el("dt", {}, word), el("dd", {}, voice.spelt(said)))
    part("glossary", "Words of the trade", words)
    part("sources", "Sources", el("ul", {}, *(el("li", {}, one) for one in sources(plans))))
    leads = [el("li", {}, el("a", {"href": f"#{name}"}, head)) for name, head in parts]
    contents = el("nav", {"aria-label": "Contents"}, el("ul", {}, *leads))
    foot = el("footer", {}, el("p", {}, f"{MARK}."))
    put(body, el("header", {}, el("h1", {}, title)), contents, main, foot)
    return document(title, "handout", body, script="find.js")


def _link(one: BookEntry) -> Element:
    return el("a", {"href": f"{one.name}.html"}, one.title)


def _card_link(one: BookEntry) -> Element:
    """Told apart from the other cards where links are read out by themselves."""
    told = {"href": f"{one.name}-card.html", "aria-label": f"Shade card of {one.title}"}
    return el("a", told, "Shade card")


def _line(one: BookEntry) -> Element:
    words = " ".join((one.title, one.makes, *one.plants, *one.colours, *one.fibres)).casefold()
    line = el("li", {"data-words": words}, _link(one))
    said = f": {unparted(one.makes)}" if one.makes else ""
    put(line, f"{said}{' (a draft)' if one.draft else ''}.")
    for caution in one.deadly:
        put(line, " ", el("strong", {}, caution))
    if one.card is not None:
        put(line, " ", _card_link(one))
    return line
