"""The handout as one HTML file that needs nothing else.

It is built as a tree and written by the standard library, so whatever a procedure says
is text and can never become markup. The only script is ``recalculate.js``; a content
security policy allows that one text by its checksum, and nothing from anywhere else.
"""

from __future__ import annotations

import json
from base64 import b64encode
from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path
from xml.etree.ElementTree import Element, tostring

from procedure.findings import Finding
from procedure.handout import fixed_phrases as say
from procedure.handout.contents import Contents, Sheet
from procedure.handout.measures import Scale, Voice, scale_of
from procedure.handout.needs import Need
from procedure.handout.pictures import called, picture
from procedure.handout.sentences import Blank, Figure, Phrase, Words, clean
from procedure.handout.steps import Told

HERE = Path(__file__).parent
Child = Element | str | None

# Weights that the box can be filled in by, with the system that offers each first.
_BOX_UNITS = {"metric": ("g", "kg"), "us": ("oz", "lb"), "imperial": ("oz", "lb")}


def page(made: Contents) -> str:
    """The whole page. Raises ``OSError`` where the style or script cannot be read."""
    body = _Page(made).body()
    return document(made.title, made.voice, body, "handout.css", script=True)


def document(title: str, voice: Voice, body: Element, style: str, script: bool = False) -> str:
    """A whole HTML document around a body; ``style`` is a file beside this one."""
    from hashlib import sha256

    head = el("head", {}, el("meta", {"charset": "utf-8"}))
    code = (HERE / "recalculate.js").read_text("utf-8") if script else ""
    allowed = b64encode(sha256(code.encode()).digest()).decode()
    scripts = f"'sha256-{allowed}'" if code else "'none'"
    policy = (
        "default-src 'none'; style-src 'unsafe-inline'; img-src data:; base-uri 'none'; "
        f"form-action 'none'; script-src {scripts}"
    )
    head.append(el("meta", {"http-equiv": "Content-Security-Policy", "content": policy}))
    head.append(el("meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"}))
    head.append(el("meta", {"name": "color-scheme", "content": "light dark"}))
    head.append(el("meta", {"name": "referrer", "content": "no-referrer"}))
    head.append(el("title", {}, clean(title)))
    head.append(el("style", {}, (HERE / style).read_text("utf-8")))
    if code:
        body.append(el("script", {}, code))
    language = "en-US" if voice.spelling == "us" else "en-GB"
    whole = el("html", {"lang": language}, head, body)
    return "<!DOCTYPE html>\n" + tostring(whole, encoding="unicode", method="html") + "\n"


def el(tag: str, attributes: dict[str, str] | None = None, *children: Child) -> Element:
    """An element with attributes and children; None among them is left out."""
    made = Element(tag, {key: clean(value) for key, value in (attributes or {}).items()})
    put(made, *children)
    return made


def put(parent: Element, *children: Child) -> None:
    """Put children at the end of an element, text where its place is."""
    for child in children:
        if child is None:
            continue
        if isinstance(child, Element):
            parent.append(child)
        elif len(parent):
            parent[-1].tail = (parent[-1].tail or "") + child
        else:
            parent.text = (parent.text or "") + child


def spoken(voice: Voice, said: Phrase) -> list[Child]:
    """A phrase as text and elements."""
    made: list[Child] = []
    for piece in said:
        if isinstance(piece, str):
            made.append(voice.spelt(piece))
        elif isinstance(piece, Words):
            made.append(clean(piece.text))
        elif isinstance(piece, Figure):
            made.append(_figure(voice, piece))
        else:
            made.append(_blank(voice, piece))
    return made


def _figure(voice: Voice, figure: Figure) -> Element:
    text = voice.amount(figure.kind, figure.low, figure.high, figure.about)
    attributes = {"class": "amount"}
    if figure.grows is not None:
        attributes["data-kind"] = figure.kind
        attributes["data-grows"] = " ".join(
            map(
                str,
                (
                    figure.grows.low,
                    figure.grows.low_each,
                    figure.grows.high,
                    figure.grows.high_each,
                ),
            )
        )
        if figure.about:
            attributes["data-about"] = "about "
    return el("span", attributes, text)


def _blank(voice: Voice, blank: Blank) -> Element:
    label = f"{voice.spelt(blank.what)}{f', {blank.unit}' if blank.unit else ''}"
    box = el("input", {"class": "blank", "aria-label": label, "autocomplete": "off", "size": "6"})
    return el("span", {"class": "fill"}, box, f"\u00a0{blank.unit}" if blank.unit else None)


def pictograms(codes: tuple[str, ...]) -> Element | None:
    """GHS symbols as pictures with their names; None where there are none to show."""
    shown = el("span", {"class": "pictures"})
    for code in codes:
        svg = picture(code)
        if svg:
            source = f"data:image/svg+xml;base64,{b64encode(svg.encode()).decode()}"
            shown.append(el("img", {"src": source, "alt": called()[code]}))
    return shown if len(shown) else None


class _Page:
    """Makes the parts of one page."""

    def __init__(self, made: Contents) -> None:
        self.made = made
        self.voice = made.voice

    def own(self, text: str) -> str:
        return self.voice.spelt(text)

    def p(self, said: Phrase, css: str = "") -> Element:
        return el("p", {"class": css} if css else {}, *spoken(self.voice, said))

    def body(self) -> Element:
        made = self.made
        sections: list[tuple[str, str, list[Child]]] = [
            ("cautions", say.CAUTIONS, self.cautions()),
            ("needs", say.NEEDS, self.needs()),
            ("before", say.BEFORE, self.before()),
            ("steps", say.STEPS, [self.steps(made.work.steps)]),
            ("chart", say.CHART, self.chart()),
            ("gathering", say.GATHERING, self.gathering()),
            ("wrong", say.WRONG, self.wrong()),
            ("sources", say.SOURCES, self.sources()),
        ]
        main = el("main", {"id": "main"})
        if made.draft:
            main.append(self.errors())
        shown = [(name, title, inside) for name, title, inside in sections if inside]
        main.append(self.index([(name, title) for name, title, _ in shown]))
        for name, title, inside in shown:
            main.append(self.section(name, title, inside))
        attributes = {"class": "draft"} if made.draft else {}
        body = el("body", attributes)
        put(body, el("a", {"class": "skip", "href": "#main"}, self.own("Skip to the handout")))
        if made.draft:
            put(body, el("div", {"class": "draft-mark", "aria-hidden": "true"}, say.DRAFT))
        put(body, self.header(), main)
        return body

    def section(self, name: str, title: str, inside: Iterable[Child]) -> Element:
        heading = el("h2", {"id": f"{name}-title"}, self.own(title))
        return el("section", {"id": name, "aria-labelledby": f"{name}-title"}, heading, *inside)

    def index(self, titles: list[tuple[str, str]]) -> Element:
        items = [
            el("li", {}, el("a", {"href": f"#{name}"}, self.own(title))) for name, title in titles
        ]
        return el("nav", {"aria-label": self.own("In this handout")}, el("ul", {}, *items))

    def header(self) -> Element:
        made = self.made
        head = el("header", {}, el("h1", {}, clean(made.title)))
        if made.draft:
            put(head, el("p", {"class": "stamp"}, say.DRAFT))
        for line in say.headlines(made):
            put(head, self.p(line))
        for remark in made.remarks:
            put(head, el("p", {"class": "remark"}, clean(remark)))
        if made.work.fibre:
            put(head, self.p(("Worked out for ", *made.work.fibre, " of fibre."), "fibre"))
        if made.worked_out:
            put(head, el("p", {"class": "fibre"}, clean(made.worked_out)))
        if made.fibre is not None and not made.draft:  # nobody should work from a draft
            put(head, self.box(made.fibre))
        return head

    def box(self, fibre: Fraction) -> Element:
        """The box that recalculates; it is shown by the script that makes it work."""
        from procedure.vocabulary import vocabulary

        units = vocabulary().units
        offered = [unit for system in self.voice.systems for unit in _BOX_UNITS[system]]
        options = [
            el("option", {"value": str(units[unit].factor)}, unit)
            for unit in dict.fromkeys(offered)
        ]
        data = {
            "systems": [
                {kind: _scale(scale_of(system, kind)) for kind in ("mass", "volume")}
                for system in self.voice.systems
            ],
            "pots": [
                {
                    "bath": _text(self.voice, pot.bath),
                    "pot": _text(self.voice, pot.pot),
                    "grows": None
                    if pot.litres.grows is None
                    else [str(end) for end in (pot.litres.grows.high, pot.litres.grows.high_each)],
                    "room": str(pot.room),
                }
                for pot in self.made.work.pots
            ],
        }
        return el(
            "form",
            {
                "id": "fibre-box",
                "hidden": "hidden",
                "data-fibre": str(fibre),
                "data-sums": json.dumps(data),
            },
            el("label", {"for": "fibre-weight"}, self.own(say.BOX)),
            " ",
            el(
                "input",
                {
                    "id": "fibre-weight",
                    "inputmode": "decimal",
                    "autocomplete": "off",
                    "size": "8",
                    "aria-describedby": "fibre-said",
                },
            ),
            " ",
            el("label", {"for": "fibre-unit", "class": "quiet"}, self.own("unit")),
            " ",
            el("select", {"id": "fibre-unit"}, *options),
            " ",
            el("button", {"type": "submit"}, self.own("Work it out")),
            " ",
            el("button", {"type": "reset"}, self.own("As written")),
            el("p", {}, self.own(say.GROWS)),
            el("p", {"id": "fibre-said", "role": "status"}, ""),
        )

    # -------------------------------------------------------------- sections

    def errors(self) -> Element:
        items = [el("li", {}, *self.finding(error)) for error in self.made.errors]
        return el(
            "section",
            {"id": "errors", "class": "errors", "aria-labelledby": "errors-title"},
            el("h2", {"id": "errors-title"}, self.own(say.errors_title(len(items)))),
            el("p", {}, self.own(say.ERRORS)),
            el("ol", {}, *items),
        )

    def finding(self, found: Finding) -> list[Child]:
        where = (
            f"{self.own('Line')} {found.line}: "
            if found.file == self.made.plan_file
            else (f"{clean(found.file)}, {self.own('line')} {found.line}: ")
        )
        made: list[Child] = [el("span", {"class": "where"}, where), clean(found.sentence)]
        if found.remedy:
            made += [" ", el("span", {"class": "remedy"}, clean(found.remedy))]
        if found.allowed:
            made += [
                " ",
                el(
                    "span",
                    {"class": "remedy"},
                    self.own("The writer's reason: "),
                    clean(found.allowed),
                ),
            ]
        return made

    def cautions(self) -> list[Child]:
        cautions = self.made.cautions
        made: list[Child] = [el("p", {"class": "first"}, self.own(cautions.first))]
        if cautions.wear:
            made.append(self.p(cautions.wear))
        if cautions.dangers:
            rows = []
            for one in cautions.dangers:
                said: list[Child] = []
                plain = say.plainly(one)
                if plain:
                    said.append(el("p", {}, self.own(plain)))
                if one.statements:
                    said.append(el("p", {"class": "ghs"}, self.own(say.statements(one))))
                name = el("th", {"scope": "row"}, self.own(one.called))
                if one.name != one.called:
                    put(name, el("span", {"class": "alias"}, f"“{clean(one.name)}”"))
                put(name, pictograms(one.pictograms))
                rows.append(el("tr", {}, name, el("td", {}, *said)))
            made.append(self.table(say.DANGERS, say.DANGER_COLUMNS, rows, "dangers"))
        made.append(
            el("ul", {}, *(el("li", {}, *spoken(self.voice, line)) for line in cautions.general))
        )
        return made

    def table(self, caption: str, columns: Iterable[str], rows: list[Element], css: str) -> Element:
        heads = [el("th", {"scope": "col"}, self.own(column)) for column in columns]
        return el(
            "div",
            {"class": "scroll", "role": "region", "tabindex": "0", "aria-label": self.own(caption)},
            el(
                "table",
                {"class": css},
                el("caption", {}, self.own(caption)),
                el("thead", {}, el("tr", {}, *heads)),
                el("tbody", {}, *rows),
            ),
        )

    def needs(self) -> list[Child]:
        needs = self.made.work.needs
        made: list[Child] = []
        for caption, lines, columns in (
            (say.FIBRE, needs.fibre, say.FIBRE_COLUMNS),
            (say.EQUIPMENT, needs.equipment, say.EQUIPMENT_COLUMNS),
            (say.MATERIALS, needs.materials, say.MATERIAL_COLUMNS),
        ):
            if lines:
                made.append(self.table(caption, columns, [self.need(n) for n in lines], "needs"))
        if needs.equipment:
            made.append(el("p", {}, self.own(say.MARK)))
        made.append(self.p(needs.besides))
        return made

    def need(self, need: Need) -> Element:
        cells = (need.what, need.amount, need.remark)
        return el(
            "tr",
            {},
            el("th", {"scope": "row"}, *spoken(self.voice, need.name)),
            *(el("td", {}, *spoken(self.voice, cell)) for cell in cells),
        )

    def before(self) -> list[Child]:
        before = self.made.before
        made: list[Child] = [self.p(line) for line in before.sentences]
        if len(before.days) > 1:
            items = [el("li", {}, self.own(say.day(day))) for day in before.days]
            made.append(el("ul", {"class": "days"}, *items))
        made.append(el("h3", {}, self.own(say.DAY_BEFORE)))
        made += [self.p(line) for line in before.day_before]
        return made

    def steps(self, steps: tuple[Told, ...]) -> Element:
        return el("ol", {"class": "steps"}, *(self.step(step) for step in steps))

    def step(self, step: Told) -> Element:
        number = el("span", {"class": "number"}, step.number)
        said = el("div", {"class": "said"}, self.p(step.text))
        for note in step.notes:
            put(said, el("p", {"class": "remark"}, clean(note)))
        if step.blanks:
            put(said, el("div", {"class": "blanks"}, *(self.field(step, b) for b in step.blanks)))
        ticks = el("span", {"class": "ticks"})
        for i in range(step.boxes):
            turn = f", {self.own('time')} {i + 1}" if step.boxes > 1 else ""
            put(
                ticks,
                el(
                    "input",
                    {
                        "type": "checkbox",
                        "aria-label": f"{self.own('Step')} {step.number} {self.own('done')}{turn}",
                        "autocomplete": "off",
                    },
                ),
            )
        whole = el("div", {"class": "whole"}, el("div", {"class": "mark"}, number, ticks), said)
        item = el("li", {"class": "block" if step.inner else "step"}, whole)
        if step.inner:
            item.append(self.steps(step.inner))
        return item

    def field(self, step: Told, blank: Blank) -> Element:
        wide = blank.what == say.SAW
        return el(
            "label",
            {"class": "field wide" if wide else "field"},
            el("span", {}, self.own(blank.what)),
            el(
                "input",
                {
                    "autocomplete": "off",
                    "size": "20" if wide else "6",
                    "aria-label": f"{self.own('Step')} {step.number}: {self.own(blank.what)}"
                    + (f", {blank.unit}" if blank.unit else ""),
                },
            ),
            blank.unit or None,
        )

    def chart(self) -> list[Child]:
        if self.made.no_chart:
            return [el("p", {}, clean(self.made.no_chart))]
        return [self.sheet(sheet, i) for i, sheet in enumerate(self.made.sheets, 1)]

    def sheet(self, sheet: Sheet, number: int) -> Element:
        data = b64encode(sheet.svg.encode()).decode()
        picture = el("img", {"src": f"data:image/svg+xml;base64,{data}", "alt": sheet.says})
        count = len(self.made.sheets)
        caption = self.own(say.sheet(number, count))
        region = el(
            "div",
            {"class": "scroll", "role": "region", "tabindex": "0", "aria-label": caption},
            picture,
        )
        return el("figure", {"class": "sheet"}, region, el("figcaption", {}, caption))

    def gathering(self) -> list[Child]:
        gathering = self.made.gathering
        if gathering is None:
            return []
        weights = [self.voice.amount("mass", weight, weight) for weight in gathering.weights]
        rows = [
            el(
                "tr",
                {},
                el("th", {"scope": "row"}, *spoken(self.voice, name)),
                *(el("td", {}, *spoken(self.voice, cell)) for cell in cells),
            )
            for name, cells in gathering.rows
        ]
        return [
            el("p", {}, self.own(say.GROWS)),
            self.table(say.GATHERING_CAPTION, (say.GATHERING_FIRST, *weights), rows, "weights"),
        ]

    def wrong(self) -> list[Child]:
        if not self.made.findings:
            return [el("p", {}, self.own(say.NOTHING_WRONG))]
        items = []
        for found in self.made.findings:
            level = el("strong", {}, self.own(say.LEVELS[found.level]))
            items.append(el("li", {}, level, " ", *self.finding(found)))
        return [el("p", {}, self.own(say.NOTES)), el("ul", {}, *items)]

    def sources(self) -> list[Child]:
        return [
            el(
                "ul",
                {},
                *(el("li", {}, *spoken(self.voice, line)) for line in say.sources(self.made)),
            )
        ]


def _text(voice: Voice, said: Phrase) -> str:
    return "".join(
        voice.spelt(piece) if isinstance(piece, str) else clean(piece.text)
        for piece in said
        if isinstance(piece, (str, Words))
    )


def _scale(scale: Scale) -> dict[str, object]:
    return {
        "unit": scale.unit,
        "holds": str(scale.holds),
        "steps": [[str(above), str(step)] for above, step in scale.steps],
        "large": scale.large,
        "inLarge": str(scale.in_large),
        "withRest": scale.with_rest,
        "few": str(scale.few),
        "small": None if scale.small is None else _scale(scale.small),
    }
