"""Words that say that nothing heats any more: "turn off the heat", "take it off the stove"."""

from __future__ import annotations

import re

PLATE = r"(?:heat|stove|hob|fire|flame|burner|gas|ring|element|hotplate|cooker)"
HEAT_OFF = re.compile(
    rf"\b(?:turn|switch)(?:ed|ing|es|s)?\s+"
    rf"(?:(?:it|the\s+{PLATE})\s+off|off(?:\s+(?:the\s+)?{PLATE})?)\b"
    r"|\b(?:remove|removed|take|took|taken|lift|slide|pull)\s+"
    rf"(?:(?:it|them|the\s+\w+|everything)\s+)?(?:from|off)\s+the\s+{PLATE}\b"
    rf"|\boff\s+the\s+{PLATE}\b|\b{PLATE}\s+(?:is\s+)?(?:turned\s+)?off\b",
    re.I,
)


def heat_is_off(text: str, start: int, end: int) -> bool:
    """True where a stretch of a sentence says that nothing heats any more."""
    return HEAT_OFF.search(text, start, end) is not None
