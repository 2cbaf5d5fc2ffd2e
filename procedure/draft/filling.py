"""Usual amounts in the places that the prose leaves open, each marked as not of the prose."""

from __future__ import annotations

import re

from procedure.draft.drafting import Draft
from procedure.vocabulary import Entry, vocabulary

OPEN = re.compile(r"(?<![\w-])([a-z][\w-]*) unstated")


def filled(draft: Draft) -> str:
    """The draft with the usual amounts of mordants and dyestuffs that it has as unstated.

    Each has a comment that says so and names the source of the vocabulary. Dyestuffs
    are taken as dried where only that range is known; where a material has no usual amount,
    or the fibre is not known, it stays unstated.
    """
    text = draft.text
    declared = re.search(r"(?m)^fibre\n  ([\w-]+): (.*)$", text)
    if declared is None:
        return text
    lot, kind = declared[1], _class_of(declared[2])
    return "\n".join(_line(line, lot, kind) for line in text.split("\n"))


def _class_of(words: str) -> str:
    known = vocabulary().tables["fibres"]
    said = words.split(",")[0]
    found = next(
        (known[name] for name in sorted(known, key=len, reverse=True) if name in said), None
    )
    return found.facts["class"] if found else ""


def _line(line: str, lot: str, kind: str) -> str:
    if line.lstrip().startswith("#"):
        return line
    notes: list[str] = []

    def usual(match: re.Match[str]) -> str:
        entry = vocabulary().material(match[1].replace("-", " "))
        span = _span(entry, kind) if entry else None
        if entry is None or span is None:
            return match[0]
        notes.append(f"{match[1]}: usual, not in the prose ({entry.facts['source']})")
        return f"{match[1]} {span[0]} to {span[1]} % of {lot}"

    made = OPEN.sub(usual, line)
    return f"{made}  # {'; '.join(notes)}" if notes else made


def _span(entry: Entry, kind: str) -> tuple[str, str] | None:
    if entry.table == "mordants" and kind in ("protein", "cellulose"):
        low, high = entry.facts[f"{kind}_low"], entry.facts[f"{kind}_high"]
    elif entry.table == "dyestuffs":
        low, high = entry.facts["dried_low"], entry.facts["dried_high"]
    else:
        return None
    return (low, high) if low and high else None
