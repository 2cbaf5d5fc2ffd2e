"""The shade book: every colour that was dyed, by hue, with its method, batch and fastness."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any, NamedTuple

from procedure.batch.folder import Batch
from procedure.batch.telling import stood_words
from procedure.colour import Srgb, called, to_srgb

APPROXIMATE = (
    "Every swatch is approximate: screens, printers and paper each show it otherwise. "
    "Compare the yarn itself, in daylight."
)
# Greys have no hue to be sorted by and stand last.
GREY = 4.0
# The hues of the book's chapters: up to this hue angle (common practice).
CHAPTERS = (
    (30.0, "Pinks and reds"),
    (65.0, "Reds and oranges"),
    (80.0, "Golds"),
    (110.0, "Yellows"),
    (195.0, "Greens"),
    (290.0, "Blues"),
    (345.0, "Purples"),
    (360.0, "Pinks and reds"),
)


class Swatch(NamedTuple):
    """One colour of the book: where it stands, how it looks, what is told of it."""

    chapter: str
    shown: Srgb
    name: str
    called: str
    lab: str
    lines: tuple[str, ...]


def swatches(batches: Sequence[Batch]) -> tuple[Swatch, ...]:
    """Every lot that has a colour, by chapter, hue and lightness."""
    found: list[tuple[tuple[float, float, float], Swatch]] = []
    for batch in batches:
        record = batch.record
        for shade in batch.shades:
            colour = shade.colour
            if colour is None:
                continue
            grey = colour.chroma < GREY
            chapter = "Greys, browns without hue" if grey else _chapter(colour.hue)
            edition = f", edition {record.edition}" if record.edition else ""
            day = batch.day.isoformat() if batch.day else "no day said"
            who = f", by {' and '.join(record.by)}" if record.by else ""
            where = [f"{batch.method}{edition}", f"{day}{who}: {record.title or batch.path.name}"]
            stood = stood_words(shade)
            lines = (*where, *(stood or ["not tested in light or wash"]))
            lab = f"L* {colour.lightness:.1f}  a* {colour.a:.1f}  b* {colour.b:.1f}  {colour.light}"
            order = [name for _, name in CHAPTERS].index(chapter) if not grey else len(CHAPTERS)
            turn = colour.hue - 360 if colour.hue >= 345 else colour.hue
            swatch = Swatch(chapter, to_srgb(colour), shade.lot, called(colour), lab, lines)
            found.append(((float(order), turn, -colour.lightness), swatch))
    return tuple(swatch for _, swatch in sorted(found, key=lambda one: one[0]))


def _chapter(hue: float) -> str:
    return next(name for most, name in CHAPTERS if hue < most)


def chapters(found: Sequence[Swatch]) -> dict[str, list[Swatch]]:
    """The swatches by chapter, in the order of the book."""
    made: dict[str, list[Swatch]] = {}
    for swatch in found:
        made.setdefault(swatch.chapter, []).append(swatch)
    return made


STYLE = """
:root { color-scheme: light; }
@page { size: A4; margin: 14mm; }
body { font: 11pt/1.35 Georgia, "DejaVu Serif", serif; max-width: 60rem; margin: 1.5rem auto;
  padding: 0 1rem; color: #111; background: #fff; overflow-wrap: anywhere; }
h1 { font-size: 1.5rem; margin: 0 0 .3rem; }
h2 { font-size: 1.1rem; margin: 1.4rem 0 .5rem; break-after: avoid; }
ul { list-style: none; margin: 0; padding: 0; display: grid; gap: .8rem;
  grid-template-columns: repeat(auto-fill, minmax(14rem, 1fr)); }
li { border: 1px solid #777; break-inside: avoid; }
.colour { height: 5rem; border-bottom: 1px solid #777; print-color-adjust: exact;
  -webkit-print-color-adjust: exact; }
.text { padding: .4rem .6rem .6rem; font-size: .82rem; }
.text p { margin: 0 0 .2rem; }
.text .name { font-weight: bold; font-size: .95rem; }
@media print { body { max-width: none; margin: 0; padding: 0; }
  ul { grid-template-columns: repeat(3, 1fr); gap: .5rem; } }
"""


def page(batches: Sequence[Batch], title: str = "Shade book") -> str:
    """The book as one HTML page that needs nothing else. Everything written is escaped."""
    found = swatches(batches)
    parts = []
    for chapter, some in chapters(found).items():
        items = "\n".join(_item(swatch) for swatch in some)
        parts.append(f"<section>\n<h2>{escape(chapter)}</h2>\n<ul>\n{items}\n</ul>\n</section>")
    body = "\n".join(parts) or "<p>No colour was written down yet.</p>"
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(title)}</title>
<style>{STYLE}</style>
</head>
<body>
<main>
<h1>{escape(title)}</h1>
<p>{len(found)} colour{"s" if len(found) != 1 else ""}. {escape(APPROXIMATE)}</p>
{body}
</main>
</body>
</html>
"""


def _item(swatch: Swatch) -> str:
    said = "".join(f"<p>{escape(line)}</p>" for line in swatch.lines)
    outside = " (outside what a screen can show)" if swatch.shown.outside else ""
    return (
        f'<li><div class="colour" style="background:{swatch.shown.hex}" role="img" '
        f'aria-label="approximately {swatch.shown.hex}, {escape(swatch.called)}"></div>'
        f'<div class="text"><p class="name">{escape(swatch.name)}, {escape(swatch.called)}</p>'
        f"<p>about {swatch.shown.hex}{outside}; {escape(swatch.lab)}</p>{said}</div></li>"
    )


class NotSet(Exception):
    """The PDF could not be set; the text says why."""


def pdf(batches: Sequence[Batch], title: str = "Shade book", size: str = "a4") -> bytes:
    """The book as PDF on a4 or letter, set by Typst. Raises :class:`NotSet`."""
    import json
    from pathlib import Path

    try:
        import typst
    except ImportError:
        raise NotSet("no Typst was found; “pip install typst” brings it") from None
    found = swatches(batches)
    data: dict[str, Any] = {
        "paper": "us-letter" if size == "letter" else "a4",
        "title": title,
        "lead": f"{len(found)} colour{'s' if len(found) != 1 else ''}. {APPROXIMATE}",
        "chapters": [
            {
                "title": chapter,
                "swatches": [
                    {
                        "hex": one.shown.hex,
                        "name": f"{one.name}, {one.called}",
                        "lab": f"about {one.shown.hex}; {one.lab}",
                        "lines": list(one.lines),
                    }
                    for one in some
                ],
            }
            for chapter, some in chapters(found).items()
        ],
    }
    try:
        made = typst.compile(
            (Path(__file__).parent / "book.typ").read_bytes(),
            format="pdf",
            sys_inputs={"data": json.dumps(data)},
            timestamp=0,
        )
    except RuntimeError as reason:
        raise NotSet(str(reason).splitlines()[0]) from None
    assert isinstance(made, bytes)
    return made
