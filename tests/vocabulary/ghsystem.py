"""Reads the English hazard statements of ghsystem, a LaTeX package of the EU's wording."""

from __future__ import annotations

import re
from pathlib import Path

PLACES = (
    Path("/usr/share/texlive/texmf-dist"),
    Path("/usr/share/texmf-dist"),
    Path("/usr/local/texlive/texmf-local"),
)
DEFINITIONS = Path("tex/latex/ghsystem/language/ghsystem_english.def")

_STATEMENT = re.compile(
    r"\\ghsystem_add_statement:nnn\s*\{(EUH|H)\}\s*\{\s*(\w+)\s*\}\s*\{(.*?)\}\s*"
    r"(?=\\ghsystem_add_statement|%|\Z)",
    re.DOTALL,
)


def installed() -> Path | None:
    """The package's English file where TeX Live has put it, or None."""
    return next((root / DEFINITIONS for root in PLACES if (root / DEFINITIONS).exists()), None)


def statements(definitions: str) -> dict[str, str]:
    """Code to wording, without the full stop and without the blanks to be filled in."""
    found = {}
    for letter, number, body in _STATEMENT.findall(definitions):
        text = re.sub(r"\\bool_if:NF\s*\\l_ghsystem_organs_bool\s*\{(.*?)\}", r"\1", body)
        text = re.sub(r"\\ghsystem_(exposure|effect|organs):", " ", text)
        text = text.replace(r"\c_space_tl", " ").replace("~", " ")
        text = " ".join(text.split()).replace(" .", ".")
        if "\\" not in text:
            found[letter + number] = text.removesuffix(".")
    return found
