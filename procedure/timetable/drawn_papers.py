"""The drawing as one SVG, as PNG or as PDF, made by Typst."""

from __future__ import annotations

from collections.abc import Sequence

from procedure.paper.letters import readable
from procedure.timetable.drawing import PAPERS

FORMS = ("svg", "png", "pdf")
_DOTS, _DOTS_OF_MANY, _MANY = 216, 144, 6
"""Dots for an inch, so that a point is whole dots: else a row of them is lost through the letters.

Of more sheets than so many there are fewer.
"""
_LAYOUT = """
#let sheets = json(bytes(sys.inputs.sheets))
#set document(title: sys.inputs.title)
#set page(width: {wide}pt, height: {high}pt, margin: 0pt)
#for (i, sheet) in sheets.enumerate() {{
  if i > 0 {{ pagebreak() }}
  image(bytes(sheet), format: "svg", width: 100%, height: 100%, alt: sys.inputs.title)
}}
"""


class PlanNotDrawn(Exception):
    """The drawing could not be made; the text says why."""


def finished(sheets: Sequence[str], form: str, title: str, paper: str = "a4") -> bytes:
    """The sheets as one file: one under the other in SVG and PNG, page by page in PDF.

    Raises :class:`PlanNotDrawn` where Typst is missing or cannot set them.
    """
    wide, high = PAPERS[paper]
    one_below_the_other = one_svg(sheets, paper)
    if form == "svg":
        return one_below_the_other.encode()
    if form == "png":
        dots = _DOTS if len(sheets) <= _MANY else _DOTS_OF_MANY
        return _typeset([one_below_the_other], title, (wide, high * len(sheets)), "png", dots)
    return _typeset(list(sheets), title, (wide, high), "pdf")


def one_svg(sheets: Sequence[str], paper: str = "a4") -> str:
    """Several sheets as one picture, one below the other."""
    if len(sheets) == 1:
        return sheets[0]
    wide, high = PAPERS[paper]
    inner = [sheet.replace("<svg ", f'<svg y="{i * high:g}" ', 1) for i, sheet in enumerate(sheets)]
    total = high * len(sheets)
    head = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide:g}pt" height="{total:g}pt" '
        f'viewBox="0 0 {wide:g} {total:g}">\n'
    )
    # Lengths in points would be taken for another scale within the picture.
    in_points = f'width="{wide:g}pt" height="{high:g}pt"'
    plain = (each.replace(in_points, f'width="{wide:g}" height="{high:g}"') for each in inner)
    return f"{head}{''.join(plain)}</svg>\n"


def _typeset(
    sheets: list[str], title: str, size: tuple[float, float], form: str, dots: int = _DOTS
) -> bytes:
    import json

    try:
        import typst
    except ImportError:
        raise PlanNotDrawn("no Typst was found; “pip install typst” brings it") from None
    layout = _LAYOUT.format(wide=size[0], high=size[1])
    sheets = [readable(sheet)[0] for sheet in sheets]  # no box where no font has a letter
    inputs = {"sheets": json.dumps(sheets), "title": title}
    try:
        if form == "png":
            made = typst.compile(layout.encode(), format="png", ppi=dots, sys_inputs=inputs)
        else:
            made = typst.compile(layout.encode(), format="pdf", sys_inputs=inputs, timestamp=0)
    except RuntimeError as reason:
        raise PlanNotDrawn(str(reason).splitlines()[0]) from None
    assert isinstance(made, bytes)
    return made
