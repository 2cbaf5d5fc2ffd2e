"""Pictures to papers: an SVG that says what it is, a PDF of several pages."""

from __future__ import annotations

SVG = "http://www.w3.org/2000/svg"


def finished_svg(drawn: bytes, title: str, description: str, size: tuple[float, float]) -> str:
    """Graphviz's SVG with a role, a title and a description, no wider than its window.

    ``size`` is its exact width and height in points, which Graphviz rounds to whole ones.
    """
    from xml.etree import ElementTree

    ElementTree.register_namespace("", SVG)
    root = ElementTree.fromstring(drawn)
    wide, tall = (f"{side:.2f}".rstrip("0").rstrip(".") for side in size)
    root.set("width", f"{wide}pt")
    root.set("height", f"{tall}pt")
    root.set("viewBox", f"0 0 {wide} {tall}")
    root.set("role", "img")
    root.set("aria-labelledby", "chart-title chart-description")
    root.set("style", "max-width: 100%; height: auto; background: white")
    for place, (kind, text) in enumerate((("title", title), ("desc", description))):
        made = ElementTree.Element(f"{{{SVG}}}{kind}")
        made.set("id", "chart-title" if kind == "title" else "chart-description")
        made.text = text
        made.tail = "\n"
        root.insert(place, made)
    _plain_names(root)
    text = ElementTree.tostring(root, encoding="unicode")
    return f'<?xml version="1.0" encoding="UTF-8"?>\n{text}\n'


def _plain_names(root) -> None:  # type: ignore[no-untyped-def]
    """Drops Graphviz's own names of nodes and lines, which a mouse would show as hints."""
    for group in root.iter(f"{{{SVG}}}g"):
        for name in group.findall(f"{{{SVG}}}title"):
            group.remove(name)


def bound(pages: list[bytes], sizes: list[tuple[float, float]], title: str) -> bytes:
    """Single pages as one PDF document, each of exactly its width and height in points.

    Graphviz rounds a page to whole points.
    """
    import io

    from pypdf import PdfReader, PdfWriter
    from pypdf.generic import NameObject, RectangleObject, TextStringObject

    writer = PdfWriter()
    for page in pages:
        writer.append(PdfReader(io.BytesIO(page)))
    for bound_in, (wide, tall) in zip(writer.pages, sizes, strict=True):
        whole = RectangleObject((0.0, 0.0, wide, tall))
        bound_in.mediabox = bound_in.cropbox = bound_in.trimbox = whole
    writer.metadata = {"/Title": title, "/Producer": "Vatwright"}
    writer.root_object[NameObject("/Lang")] = TextStringObject("en")
    out = io.BytesIO()
    writer.write(out)
    return out.getvalue()
