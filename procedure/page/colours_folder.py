"""The colours of the language as a folder that editors of the TextMate family take as an extension.

The folder holds what VS Code asks of an extension that gives a language its colours
(https://code.visualstudio.com/api/language-extensions/syntax-highlight-guide). It is built,
not published.
"""

from __future__ import annotations

import json
from pathlib import Path

from procedure import __version__
from procedure.collection.writing import write_whole
from procedure.language.highlighting import FILE
from procedure.language.table import GRAMMAR_FOLDER

_ABOUT = {
    "name": "vatwright",
    "displayName": "Vatwright",
    "description": "Colours for dye procedures",
    "version": __version__,
    "publisher": "vatwright",
    "license": "MIT",
    "engines": {"vscode": "^1.75.0"},
    "categories": ["Programming Languages"],
    "contributes": {
        "languages": [
            {
                "id": "dye",
                "aliases": ["Dye procedure"],
                "extensions": [".dye"],
                "configuration": "./language-configuration.json",
            }
        ],
        "grammars": [{"language": "dye", "scopeName": "source.dye", "path": f"./{FILE}"}],
    },
}
_HABITS = {
    "comments": {"lineComment": "#"},
    "brackets": [["(", ")"]],
    "autoClosingPairs": [['"', '"'], ["(", ")"]],
    "folding": {"offSide": True},
}


def write(folder: Path) -> None:
    """Write the extension into a folder. Raises ``NotWritten`` or ``OSError``."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, data in (("package.json", _ABOUT), ("language-configuration.json", _HABITS)):
        write_whole(folder / name, f"{json.dumps(data, indent=2)}\n".encode())
    write_whole(folder / FILE, Path(GRAMMAR_FOLDER, FILE).read_bytes())
