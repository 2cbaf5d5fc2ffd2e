"""A paper as one HTML file that needs nothing else.

It is built as a tree and written by the standard library, so whatever a procedure says
is text and can never become markup. The only script is ``recalculate.js``, where a paper
has a box that works amounts out; a content security policy allows that one text by its
checksum, and nothing from anywhere else.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from xml.etree.ElementTree import Element, tostring

from procedure.paper.blocks import (
    Block,
    Card,
    Cards,
    Cell,
    Frame,
    Heading,
    Listing,
    Paper,
    PaperSection,
    Para,
    Picture,
    Recalculator,
    StepCard,
    StepCards,
    Swatch,
    Table,
)
from procedure.paper.letters import runs_to_the_left
from procedure.paper.measures import Voice
from procedure.paper.pieces import AsWritten, Blank, Figure, Phrase, Words, clean, plain_text

HERE = Path(__file__).parent
Child = Element | str | None
BOX = "Work it out for another weight of fibre:"


def printed(made: Paper, size: str = "a4") -> bytes:
    """The paper as the bytes of an HTML file; a browser sets its size."""
    return page(made).encode()


def page(made: Paper, home: str = "") -> str:
    """The paper as HTML text. Raises ``OSError`` where the style or script cannot be read.

    ``home`` is the page of a site's contents, which a paper by itself has not.
    """
    scripted = any(isinstance(block, Recalculator) for block in made.blocks)
    body = _Printer(made, home).body()
    title = plain_text(made.title, made.voice)
    language = "en-US" if made.voice.spelling == "us" else "en-GB"
    return document(title, made.look, body, "recalculate.js" if scripted else "", language)


def document(
    title: str, look: str, body: Element, script: str = "", language: str = "en-GB"
) -> str:
    """A whole page around a body, with its style inside and at most one script of ours."""
    code = (HERE / script).read_text("utf-8") if script else ""
    allowed = b64encode(sha256(code.encode()).digest()).decode()
    scripts = f"'sha256-{allowed}'" if code else "'none'"
    policy = (
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; "
        f"form-action 'none'; script-src {scripts}"
    )
    head = el("head", {}, el("meta", {"charset": "utf-8"}))
    head.append(el("meta", {"http-equiv": "Content-Security-Policy", "content": policy}))
    head.append(el("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}))
    head.append(el("meta", {"name": "color-scheme", "content": "light dark"}))
    head.append(el("meta", {"name": "referrer", "content": "no-referrer"}))
    head.append(el("title", {}, title))
    head.append(_as_it_is("style", (HERE / f"{look}.css").read_text("utf-8")))
    if code:
        body.append(_as_it_is("script", code))
    whole = el("html", {"lang": language}, head, body)
    return "<!DOCTYPE html>\n" + tostring(whole, encoding="unicode", method="html") + "\n"


def el(tag: str, attributes: dict[str, str] | None = None, *children: Child) -> Element:
    """An element with attributes and children; None among them is left out."""
    made = Element(tag, {key: clean(value) for key, value in (attributes or {}).items() if value})
    put(made, *children)
    return made


def _as_it_is(tag: str, text: str) -> Element:
    """An element around a text of ours, with its line ends."""
    made = Element(tag)
    made.text = text
    return made


def put(parent: Element, *children: Child) -> None:
    """Put children at the end of an element, text where its place is, and nothing raw in it."""
    for child in children:
        if child is None:
            continue
        if isinstance(child, Element):
            parent.append(child)
        elif len(parent):
            parent[-1].tail = (parent[-1].tail or "") + clean(child)
        else:
            parent.text = (parent.text or "") + clean(child)


def _data(svg: str) -> str:
    return f"data:image/svg+xml;base64,{b64encode(svg.encode()).decode()}"


class _Printer:
    """Prints the blocks of one paper."""

    def __init__(self, made: Paper, home: str = "") -> None:
        self.made = made
        self.home = home
        self.voice: Voice = made.voice
        self.numbers = 0
        self.card_heading = "h3"

    def own(self, text: str) -> str:
        return self.voice.spelt(text)

    def number(self) -> str:
        """A number that no other element of the page has, for what names another."""
        self.numbers += 1
        return str(self.numbers)

    # ------------------------------------------------------------ the page

    def body(self) -> Element:
        made = self.made
        body = el("body", {"class": " ".join(filter(None, (made.stamp and "draft", made.size)))})
        if made.index:
            put(body, el("a", {"class": "skip", "href": "#main"}, self.own("Skip to the paper")))
        if self.home:
            link = el("a", {"href": self.home}, self.own("All procedures"))
            put(body, el("nav", {"aria-label": self.own("The book")}, link))
        if made.stamp:
            put(body, el("div", {"class": "draft-mark", "aria-hidden": "true"}, made.stamp))
        head = el("header", {}, el("h1", {}, *self.said(made.title)))
        if made.stamp:
            put(head, el("p", {"class": "stamp"}, made.stamp))
        framed = [block for block in made.head if isinstance(block, Frame)]
        put(head, *self.blocks(block for block in made.head if block not in framed))
        main = el("main", {"id": "main"}, *self.blocks(framed))
        if made.index:
            main.append(self.index(made.sections))
        for section in made.sections:
            main.append(self.section(section))
        put(body, head, main)
        return body

    def index(self, sections: tuple[PaperSection, ...]) -> Element:
        items = [
            el("li", {}, el("a", {"href": f"#{one.role}"}, *self.said(one.title)))
            for one in sections
        ]
        return el("nav", {"aria-label": self.own("On this page")}, el("ul", {}, *items))

    def section(self, section: PaperSection) -> Element:
        self.card_heading = "h3" if section.title else "h2"  # no level of headings is left out
        if not section.title:
            return el("div", {"id": section.role}, *self.blocks(section.blocks))
        title = f"{section.role}-title"
        heading = el("h2", {"id": title}, *self.said(section.title))
        attributes = {"id": section.role, "aria-labelledby": title}
        if section.on_new_page:
            attributes["class"] = "new-page"
        return el("section", attributes, heading, *self.blocks(section.blocks))

    def blocks(self, blocks: Iterable[Block]) -> list[Element]:
        return [self.block(block) for block in blocks]

    def block(self, block: Block) -> Element:
        match block:
            case Heading():
                return el("h3", {}, *self.said(block.text))
            case Para():
                return el("p", {"class": block.tone}, *self.said(block.text))
            case Listing():
                items = [el("li", {}, *self.said(item)) for item in block.items]
                return el("ol" if block.numbered else "ul", {"class": block.role}, *items)
            case Table(role="colours"):
                cells = [cell.swatch for row in block.rows for cell in row if cell.swatch]
                return el("p", {"class": "colours"}, *(self.swatch(one) for one in cells))
            case Table():
                return self.table(block)
            case StepCards():
                return self.steps(block.cards)
            case Picture():
                return self.figure(block)
            case Swatch():
                return self.swatch(block)
            case Cards():
                cards = [self.card(card) for card in block.cards]
                return el("div", {"class": f"cards {block.role}".rstrip()}, *cards)
            case Frame():
                return self.frame(block)
            case Recalculator():
                return self.recalculator(block)

    # ------------------------------------------------------------ text

    def said(self, said: Phrase) -> list[Child]:
        """A phrase as text and elements."""
        made: list[Child] = []
        for piece in said:
            if isinstance(piece, str):
                made.append(self.own(piece))
            elif isinstance(piece, Words):
                text = clean(piece.text)
                words: Child = el("bdi", {}, text) if runs_to_the_left(text) else text
                if isinstance(piece, AsWritten):
                    words = el("span", {"data-weight": piece.what}, words)
                made.append(words)
            elif isinstance(piece, Figure):
                made.append(self.amount(piece))
            else:
                made.append(self.blank(piece))
        return made

    def amount(self, figure: Figure) -> Element:
        text = self.voice.amount(figure.kind, figure.low, figure.high, figure.about)
        attributes = {"class": "amount"}
        if figure.grows is not None:
            attributes["data-kind"] = figure.kind
            attributes["data-grows"] = " ".join(map(str, figure.grows.line))
            if figure.about:
                attributes["data-about"] = "about "
        return el("span", attributes, text)

    def blank(self, blank: Blank) -> Element:
        label = f"{self.own(blank.what)}{f', {blank.unit}' if blank.unit else ''}"
        size = "16" if blank.wide else "6"
        box = el(
            "input", {"class": "blank", "aria-label": label, "autocomplete": "off", "size": size}
        )
        return el("span", {"class": "fill"}, box, f"\u00a0{blank.unit}" if blank.unit else None)

    # ------------------------------------------------------------ tables and pictures

    def table(self, table: Table) -> Element:
        caption = plain_text(table.caption, self.voice) or f"{self.own('Table')} {self.number()}"
        heads = [el("th", {"scope": "col"}, *self.said(column)) for column in table.columns]
        rows = [
            el("tr", {}, *(self.cell(cell, place) for place, cell in enumerate(row)))
            for row in table.rows
        ]
        return el(
            "div",
            {"class": "scroll", "role": "region", "tabindex": "0", "aria-label": caption},
            el(
                "table",
                {"class": table.role},
                el("caption", {}, *self.said(table.caption)) if table.caption else None,
                el("thead", {}, el("tr", {}, *heads)) if any(table.columns) else None,
                el("tbody", {}, *rows),
            ),
        )

    def cell(self, cell: Cell, place: int) -> Element:
        made = el("td", {}) if place else el("th", {"scope": "row"})
        if cell.swatch is not None:
            put(made, self.swatch(cell.swatch))
        if len(cell.lines) == 1 or not place:
            for line in cell.lines[:1]:
                put(made, *self.said(line))
            for line in cell.lines[1:]:
                put(made, el("span", {"class": "alias"}, *self.said(line)))
        else:
            put(made, *(el("p", {}, *self.said(line)) for line in cell.lines))
        put(made, self.signs(cell.pictures))
        return made

    def signs(self, pictures: tuple[Picture, ...]) -> Element | None:
        drawn = [el("img", {"src": _data(one.svg), "alt": one.says}) for one in pictures if one.svg]
        return el("span", {"class": "pictures"}, *drawn) if drawn else None

    def figure(self, picture: Picture) -> Element:
        image = el("img", {"src": _data(picture.svg), "alt": picture.says})
        if picture.size == "sign":
            return el("span", {"class": "pictures"}, image)
        caption = plain_text(picture.caption, self.voice)
        attributes = {"class": "scroll", "role": "region", "tabindex": "0", "aria-label": caption}
        region = el("div", attributes, image)
        return el("figure", {"class": "sheet"}, region, el("figcaption", {}, caption))

    def swatch(self, swatch: Swatch) -> Element:
        name = plain_text(swatch.name, self.voice)
        fields = [el("rect", {"width": "8", "height": "4", "fill": swatch.hex})]
        if swatch.after:
            half = {"x": "4", "width": "4", "height": "4", "fill": swatch.after}
            fields.append(el("rect", half))
        field = el(
            "svg",
            {
                "class": "swatch",
                "viewBox": "0 0 8 4",
                "preserveAspectRatio": "none",  # the strip of a card is as wide as its box
                "role": "img",
                "aria-label": name,
            },
            *fields,
        )
        return el("span", {"class": "colour"}, field, name)

    # ------------------------------------------------------------ steps

    def steps(self, cards: tuple[StepCard, ...]) -> Element:
        return el("ol", {"class": "steps"}, *(self.step(card) for card in cards))

    def step(self, card: StepCard) -> Element:
        said = el("div", {"class": "said"}, el("p", {}, *self.said(card.text)))
        put(said, self.signs(card.signs))
        put(said, *(el("p", {"class": "quiet"}, *self.said(note)) for note in card.notes))
        if card.blanks:
            fields = [self.field(card, blank) for blank in card.blanks]
            put(said, el("div", {"class": "blanks"}, *fields))
        mark = el(
            "div",
            {"class": "mark"},
            el("span", {"class": "number"}, card.number),
            el("span", {"class": "ticks"}, *(self.tick(card, i) for i in range(card.boxes))),
        )
        whole = el("div", {"class": "whole"}, mark, said)
        item = el("li", {"class": "block" if card.inner else "step"}, whole)
        if card.inner:
            item.append(self.steps(card.inner))
        return item

    def tick(self, card: StepCard, turn: int) -> Element:
        which = f", {self.own('time')} {turn + 1}" if card.boxes > 1 else ""
        label = f"{self.own('Step')} {card.number} {self.own('done')}{which}"
        return el("input", {"type": "checkbox", "aria-label": label, "autocomplete": "off"})

    def field(self, card: StepCard, blank: Blank) -> Element:
        unit = f", {blank.unit}" if blank.unit else ""
        label = f"{self.own('Step')} {card.number}: {self.own(blank.what)}{unit}"
        size = "20" if blank.wide else "6"
        box = el("input", {"autocomplete": "off", "size": size, "aria-label": label})
        what = el("span", {}, self.own(blank.what))
        css = "field wide" if blank.wide else "field"
        return el("label", {"class": css}, what, box, blank.unit or None)

    # ------------------------------------------------------------ cards and frames

    def card(self, card: Card) -> Element:
        made = el("section", {"class": f"card {card.role}".rstrip()})
        # Under a box comes the strip of colour, to be held against what is fixed in it.
        strips = [block for block in card.blocks if card.box and isinstance(block, Swatch)]
        if card.box:
            put(made, el("div", {"class": "box"}, *self.said(card.box)), *self.blocks(strips))
        put(
            made,
            el(self.card_heading, {"class": "card-title"}, *self.said(card.title)),
            *self.blocks(block for block in card.blocks if block not in strips),
        )
        put(made, *self.blocks(card.foot))
        if self.made.stamp:
            put(made, el("p", {"class": "stamp"}, self.made.stamp))
        return made

    def frame(self, frame: Frame) -> Element:
        title = f"frame-{self.number()}"
        heading = el("h2", {"id": title}, *self.said(frame.title))
        attributes = {"class": frame.role or "frame", "aria-labelledby": title}
        return el("section", attributes, heading, *self.blocks(frame.blocks))

    def recalculator(self, box: Recalculator) -> Element:
        """The box that recalculates; it is shown by the script that makes it work."""
        options = [el("option", {"value": grams}, unit) for unit, grams in box.units]
        weight = {
            "id": "fibre-weight",
            "inputmode": "decimal",
            "autocomplete": "off",
            "size": "8",
            "aria-describedby": "fibre-said",
        }
        attributes = {
            "id": "fibre-box",
            "hidden": "hidden",
            "data-fibre": box.fibre,
            "data-sums": json.dumps(box.sums),
        }
        return el(
            "form",
            attributes,
            el(
                "label",
                {"for": "fibre-weight"},
                self.own("Work it out for another weight of fibre:"),
            ),
            " ",
            el("input", weight),
            " ",
            el("label", {"for": "fibre-unit", "class": "hidden"}, self.own("unit")),
            " ",
            el("select", {"id": "fibre-unit"}, *options),
            " ",
            el("button", {"type": "submit"}, self.own("Work it out")),
            " ",
            el("button", {"type": "reset"}, self.own("As written")),
            el("p", {"id": "fibre-said", "role": "status"}, ""),
        )
