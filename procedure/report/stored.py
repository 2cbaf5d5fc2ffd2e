"""Findings as one line of JSON, and back: for those that are kept, or handed to another process.

A finding comes in two parts, since most reports need only the first: its words and places, and
the facts behind them, which JSON, SARIF and other units need.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from fractions import Fraction
from typing import Any, get_args

from procedure import findings as kinds
from procedure.findings import NOTHING, Edit, Finding, Related
from procedure.quantity.interval import ENDLESS

# The values of facts, by the name of their class.
_CLASSES: dict[str, Any] = {made.__name__: made for made in (*get_args(kinds.Value), kinds.Fact)}

# What is text or a number by itself, of a finding and of a related place.
_SIMPLE = [name for name in Finding._fields if name not in ("related", "edit", "fact")]
_RELATED = [name for name in Related._fields if name != "says"]


class Stored(tuple[str, str]):
    """The two parts of some findings as text: words and places, and the facts."""

    __slots__ = ()


class NotStored(ValueError):
    """Findings that cannot be put into text, or text that no findings can be made of."""


def stored(findings: Sequence[Finding]) -> Stored:
    """Findings as text. Raises ``NotStored`` for a value that has no place in it."""
    words = [_words(one) for one in findings]
    try:
        facts = [
            [_plain(one.fact), [_plain(related.says) for related in one.related]]
            for one in findings
        ]
        return Stored((_text(words), _text(facts)))
    except ValueError as reason:  # a number of more digits than Python will write, too
        raise NotStored(str(reason)) from None


def findings_of(text: Stored, facts: bool = True) -> list[Finding]:
    """The findings again; without their facts where those are not needed.

    Raises ``NotStored`` for a text that :func:`stored` has not made.
    """
    try:
        told = json.loads(text[0])
        behind = json.loads(text[1]) if facts else [None] * len(told)
        return [_finding(one, more) for one, more in zip(told, behind, strict=True)]
    except (ValueError, TypeError, KeyError, IndexError, AttributeError, RecursionError) as reason:
        raise NotStored(str(reason)) from None


def may_be_alike(findings: Sequence[Finding]) -> bool:
    """True where two of them may be told as one, which their facts tell."""
    said = {(one.rule, one.level) for one in findings}
    return len(said) < len(findings)


def with_needed_facts(text: Stored, facts: bool) -> list[Finding]:
    """The findings again, with their facts where those are asked for or a report needs them."""
    found = findings_of(text, facts)
    return findings_of(text) if not facts and may_be_alike(found) else found


def _text(data: Any) -> str:
    return json.dumps(data, ensure_ascii=True, separators=(",", ":"))


def _words(one: Finding) -> list[Any]:
    related = [[getattr(each, name) for name in _RELATED] for each in one.related]
    edit = None if one.edit is None else list(one.edit)
    return [*(getattr(one, name) for name in _SIMPLE), related, edit]


def _finding(told: list[Any], behind: Any) -> Finding:
    *simple, related, edit = told
    fact, says = behind or (None, [None] * len(related))
    places = [
        Related(
            **dict(zip(_RELATED, one, strict=True)), says=NOTHING if more is None else _made(more)
        )
        for one, more in zip(related, says, strict=True)
    ]
    return Finding(
        **dict(zip(_SIMPLE, simple, strict=True)),
        related=tuple(places),
        edit=None if edit is None else Edit(*edit),
        fact=None if fact is None else _made(fact),
    )


def _plain(value: Any) -> Any:
    """A value as JSON has it: a number as a pair, a record as a list that begins with its name."""
    if value is ENDLESS:
        return {"endless": 1}
    if isinstance(value, Fraction):
        return {"n": [value.numerator, value.denominator]}
    if value is None or isinstance(value, str | int):
        return value
    if isinstance(value, tuple):
        name = type(value).__name__
        if name in _CLASSES or type(value) is tuple:
            return [name, *map(_plain, value)]
    raise NotStored(f"{type(value).__name__} has no place in stored findings")


def _made(data: Any) -> Any:
    if isinstance(data, dict):
        return Fraction(*data["n"]) if "n" in data else ENDLESS
    if isinstance(data, list):
        name, *parts = data
        made = map(_made, parts)
        return tuple(made) if name == "tuple" else _CLASSES[name](*made)
    return data
