"""Reads the English statements of ghsystem, a LaTeX package of the EU's wording."""

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

_PRECAUTION = re.compile(
    r"\\ghsystem_add_statement:nnn\s*\{P\}\s*\{\s*([\d +]+?)\s*\}\s*\{(.*?)\}\s*"
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


def precautions(definitions: str) -> dict[str, str]:
    """Code to wording of the precautionary statements: P305+P351+P338, blanks as an ellipsis.

    What still holds a command of the package after that (temperatures, weights) is left out.
    """
    found = {}
    for numbers, body in _PRECAUTION.findall(definitions):
        text = re.sub(r"\\ghsystem_slash:\s*~?", "/", body).replace(r"\ghsystem_text:", "")
        text = text.replace(r"\l_ghsystem_dots_tl", "…").replace("~", " ")
        text = re.sub(r"\s+", " ", text).replace(" /", "/").replace("/ ", "/")
        text = text.replace(" :", ":").strip()
        if "\\" not in text:
            found["+".join(f"P{number.strip()}" for number in numbers.split("+"))] = text
    return found
