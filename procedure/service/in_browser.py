"""The service in a browser: questions and answers as JSON text, over files that are nowhere.

The page of plain files asks here. Its Python is kept as it is just behind its first check
(:func:`warm`), so that whoever opens the page waits for none of that.
"""

from __future__ import annotations

import json
from pathlib import Path

from procedure.service.answers import answer
from procedure.service.beginning import FIELDS, begun
from procedure.service.desk import Desk

# No text is ever written there: what the page keeps, the browser keeps.
PLACE = Path("/desk")
_DESK = Desk(PLACE)


def answered(asked: str) -> str:
    """The answer to a question of the page; both are JSON, and ``file`` is the file's name."""
    question = json.loads(asked)
    return json.dumps(answer(_DESK, PLACE / question["file"], question))


def warm() -> int:
    """Check a first text, which loads the vocabulary and every rule; gives its findings' number."""
    said = dict.fromkeys(FIELDS, "") | {
        "title": "Onion gold",
        "fibre": "wool yarn 100 g",
        "dye": "onion skins",
        "mordant": "alum",
    }
    asked = {"ask": "findings", "file": "warm.dye", "text": begun("questions", said).text}
    found = json.loads(answered(json.dumps(asked)))["findings"]
    _DESK.close(PLACE / asked["file"])
    return len(found)
