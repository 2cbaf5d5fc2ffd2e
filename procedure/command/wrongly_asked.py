"""What is wrong with the arguments of a command, in our words instead of those of argparse.

Read only where something is wrong. A message that is not known is told as it is.
"""

from __future__ import annotations

import re

from procedure.quantity.number_words import listed

_SAID = (
    (
        r"argument (?P<which>.+?): invalid choice: (?P<said>.+?) \(choose from (?P<known>.+)\)",
        "choice",
    ),
    (r"argument (?P<which>.+?): expected (?:one|at least one) argument", "missing"),
    (r"argument (?P<which>.+?): invalid (?:int|float|_?\w+) value: (?P<said>.+)", "number"),
    (r"argument (?P<which>.+?): not allowed with argument (?P<other>.+)", "together"),
    (r"argument (?P<which>.+?): ignored explicit argument (?P<said>.+)", "ignored"),
    (r"the following arguments are required: (?P<which>.+)", "required"),
    (r"unrecognized arguments: (?P<said>.+)", "unknown"),
    (r"one of the arguments (?P<which>.+) is required", "one of"),
    (r"ambiguous option: (?P<said>\S+) could match (?P<known>.+)", "ambiguous"),
)


def in_our_words(message: str) -> str:
    """The message of argparse as a sentence with a remedy."""
    for pattern, kind in _SAID:
        match = re.fullmatch(pattern, message, re.DOTALL)
        if match is not None:
            return _sentence(kind, match.groupdict())
    return f"{message}."


def _sentence(kind: str, parts: dict[str, str]) -> str:
    which = _plain(parts.get("which", "").split("/")[-1])
    said, other = _plain(parts.get("said", "")), _plain(parts.get("other", "").split("/")[-1])
    known = [_plain(each) for each in parts.get("known", "").split(", ")]
    return {
        "choice": f"{which} cannot be “{said}”; it may be {listed(known, 'or')}.",
        "missing": f"{which} has nothing after it; say what it is to be.",
        "number": f"{which} “{said}” is no number; write a whole one.",
        "together": f"{which} and {other} do not go together; give one of them.",
        "ignored": f"{which} takes nothing after it, and “{said}” is there; leave that out.",
        "required": f"{which} is missing; write it behind the command.",
        "unknown": f"“{said}” is not known here; leave it out, or look how it is written.",
        "one of": f"One of {which} is missing; give one.",
        "ambiguous": f"“{said}” may be {listed(known, 'or')}; write it whole.",
    }[kind]


def _plain(said: str) -> str:
    """A word of an argument without the quotation marks that argparse sets."""
    return said.strip().strip("'\"")
