"""Amounts in a record, read as those of a procedure are."""

from __future__ import annotations

import csv
import re
from fractions import Fraction
from functools import cache
from pathlib import Path

from procedure.batch.record_words import words_of
from procedure.findings import Says, plainly_said, say
from procedure.language import Token
from procedure.language.faults import refused
from procedure.language.parsing import Refusal, parse
from procedure.language.table import table
from procedure.language.words import step_words
from procedure.model.quantity import Quantity
from procedure.model.to_quantities import quantity
from procedure.vocabulary import near, vocabulary
from procedure.wording import said
from procedure.wording.samples import shown


class NotAnAmount(ValueError):
    """What is written there is no amount: a sentence, a remedy, and the place.

    ``vague`` where it is one, of a unit that may be US or imperial.
    """

    def __init__(
        self,
        sentence: Says | str,
        remedy: Says | str,
        line: int,
        column: int,
        to: int,
        vague: bool = False,
    ) -> None:
        super().__init__(said(plainly_said(sentence)))
        self.vague = vague
        self.sentence, self.remedy = sentence, remedy
        self.line, self.column, self.to = line, column, to


def measured(tokens: list[Token]) -> Quantity:
    """The amount that words of a record say. Raises :class:`NotAnAmount`."""
    first = tokens[0]
    text = ""
    for token in tokens:  # the words keep their columns, whatever stood between them
        if token.line == first.line:
            text = text.ljust(token.column - 1) + token.text
        else:
            text += f" {token.text}"
    if text.strip("_ ") == "":
        raise NotAnAmount("A blank is left here.", "Fill it in.", *_place(tokens))
    # Behind “for” the words of waiting are amounts: overnight.
    words = step_words(text, first.line, [Token("FOR", "for", first.line, 1)])
    if not words:
        raise NotAnAmount(
            "An amount is missing.", shown("Write one, such as {some_alum}."), *_place(tokens)
        )
    found = parse(table(), "quantity", words)
    if isinstance(found, Refusal):
        fault = refused(found, words, "quantity")
        place = fault.line, fault.column, fault.to
        raise NotAnAmount(fault.sentence, fault.remedy, *place)
    made = quantity(found)
    if made.kind == "unknown":
        raise NotAnAmount(
            say("I do not know the unit in “{amount}”.", amount=made.text[:60]),
            shown("Write a unit of the language, such as {weight}, {degrees}, min, h or d."),
            *_place(tokens),
        )
    if made.unit is not None and made.unit.vague:
        raise NotAnAmount(
            say("“{amount}” may be US or imperial.", amount=made.text[:60]),
            say("Write {units}.", units=made.unit.ask.replace("; ", " or ")),
            *_place(tokens),
            vague=True,
        )
    return made._replace(text=" ".join(token.text for token in tokens))


def _place(tokens: list[Token]) -> tuple[int, int, int]:
    first = tokens[0]
    last = next(token for token in reversed(tokens) if token.line == first.line)
    return first.line, first.column, last.to


def meant(text: str) -> str:
    """An amount with its units as they are written, where only their letters are amiss.

    ``12 Oz`` is 12 oz, ``85 °f`` 85 °F, ``4 us gal`` 4 US gal; empty where no such amount is
    near.
    """
    found = _UNITS.sub(lambda run: _unit(run.group()), text)
    if found == text:
        return ""
    try:
        made = measured(list(words_of(found, 1)[0]))
    except NotAnAmount as fault:
        return found if fault.vague else ""
    except IndexError:
        return ""
    return found if made.kind != "number" else ""


# Words between the numbers of an amount.
_UNITS = re.compile(r"[^\W\d_°]*°?[^\W\d_]+(?:[ ][^\W\d_]+)*")


@cache
def _by_letters() -> dict[str, str]:
    """The units by their letters, without what two of them share (mg and Mg)."""
    made: dict[str, set[str]] = {}
    for name, unit in vocabulary().units.items():
        made.setdefault(name.casefold(), set()).add(unit.name)
    # What is known under several names is told by its own.
    return {letters: names.pop() for letters, names in made.items() if len(names) == 1}


def _unit(text: str) -> str:
    units = vocabulary().units
    if text in units:
        return text
    letters = _by_letters()
    known = letters.get(text.casefold())
    if known is None and len(text) > 2:
        close = near(text.casefold(), list(letters))
        known = letters.get(close) if close is not None else None
    return text if known is None else known


_HARDNESS = re.compile(r"(?P<figure>[0-9]+(?:\.[0-9]+)?)\s*(?P<unit>\D.*)")


@cache
def _hardness_units() -> dict[str, Fraction]:
    made: dict[str, Fraction] = {}
    with (Path(__file__).parent / "hardness.csv").open(encoding="utf-8", newline="") as lines:
        for row in csv.DictReader(lines):
            for name in (row["unit"], *row["also"].split("; ")):
                if name:
                    made[name] = Fraction(row["mg_per_litre"])
    return made


def hardness(text: str) -> Fraction:
    """A hardness of water in mg of calcium carbonate in a litre.

    Raises ``ValueError`` with a sentence where it is none.
    """
    found = _HARDNESS.fullmatch(text.strip())
    units = _hardness_units()
    if found is None or found["unit"].strip() not in units:
        raise ValueError(f"“{text[:40]}” is no hardness; write it as 4 °dH, 71 mg/L or 0.7 mmol/L")
    return Fraction(found["figure"]) * units[found["unit"].strip()]
