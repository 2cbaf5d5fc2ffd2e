"""The forms that a paper may have, by the suffix of its file.

A new form is a module beside this one and a line in :data:`PRINTERS`.
"""

from __future__ import annotations

from importlib import import_module

from procedure.paper.blocks import Paper

# Each module gives ``printed(paper, size) -> bytes``.
PRINTERS = {
    ".html": "procedure.paper.in_html",
    ".pdf": "procedure.paper.in_pdf",
    ".md": "procedure.paper.in_markdown",
    ".txt": "procedure.paper.in_text",
}
FORMS = tuple(PRINTERS)


class NotPrinted(Exception):
    """The paper could not be printed in that form; the text says why."""


def printed(made: Paper, form: str, size: str = "a4") -> bytes:
    """The paper in a form (a suffix of :data:`FORMS`), on a4 or letter where it has pages.

    Raises :class:`NotPrinted` where what prints that form is not to be had, and
    ``KeyError`` for a form that there is not.
    """
    done: bytes = import_module(PRINTERS[form]).printed(made, size)
    return done
