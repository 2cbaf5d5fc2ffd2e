"""The line of a paper that says whom to call, which the group fills in before it begins."""

from __future__ import annotations

from procedure.paper.pieces import Blank, Phrase, phrase


def whom_to_call() -> Phrase:
    """The line that the group fills in before it begins."""
    return phrase(
        "Poison centre: ",
        Blank("number"),
        "; doctor: ",
        Blank("number"),
        "; emergency: ",
        Blank("number"),
        ". Fill this in before you begin.",
    )
