"""What to do first where a hazard has hurt someone, in the regulation's own statements.

The statements are in ``data/precautionary.csv``, which hazard calls for which of them in
``data/first_aid.csv``, and the order of the routes (eyes, skin, clothing, swallowed,
breathed in, afterwards) in ``data/first_aid_routes.csv``; each row has its source.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.library import rows


class FirstAid(NamedTuple):
    """What to do for one route, in order: first ``do``, then ``call``, at leisure ``after``.

    All three hold codes as the regulation joins them (``P305+P351+P338``); ``call`` is
    empty where nobody need be called. ``plain`` says all of it in a dyer's words, as one
    sentence. ``sources`` are those of the hazards that asked for it.
    """

    route: str
    do: tuple[str, ...]
    call: str
    after: tuple[str, ...]
    plain: str
    sources: tuple[str, ...]

    @property
    def said(self) -> str:
        """The plain words with the way that it gets at someone before them: “Eyes: rinse ...”."""
        route = self.route[:1].upper() + self.route[1:]
        return f"{route}: {self.plain[:1].lower()}{self.plain[1:]}"

    @property
    def calling(self) -> str:
        """Whom to call, in plain words within a sentence; empty where nobody need be called."""
        said = _plain([self.call]) if self.call else ""
        return f"{said[:1].lower()}{said[1:]}".removesuffix(".")

    def brief(self, call: bool = True) -> str:
        """What to do first, and whom to ``call``; what is done at leisure is left out."""
        codes = (*self.do, *([self.call] if call and self.call else []))
        route = self.route[:1].upper() + self.route[1:]
        said = _plain(codes)
        return f"{route}: {said[:1].lower()}{said[1:]}"

    @property
    def codes(self) -> tuple[str, ...]:
        """Every code, in the order in which it is to be done."""
        return (*self.do, *([self.call] if self.call else []), *self.after)


@cache
def _statements() -> dict[str, dict[str, str]]:
    return {row["code"]: row for row in rows("precautionary")}


@cache
def _routes() -> tuple[str, ...]:
    ordered = sorted(rows("first_aid_routes"), key=lambda row: int(row["order"]))
    return tuple(row["route"] for row in ordered)


def wording(code: str) -> str:
    """The regulation's words for a code, or for several joined with a plus.

    Raises ``KeyError`` for a code that ``precautionary.csv`` lacks.
    """
    said = [_statements()[part]["statement"] for part in code.split("+")]
    text = " ".join(said)
    # P362+P364 is one sentence: "Take off contaminated clothing and wash it before reuse."
    return text.replace(". And ", " and ")


def _rank(call: str) -> int:
    """How urgent a call is: 1 the most; 99 where nobody is called."""
    ranks = [_statements()[part]["call_rank"] for part in call.split("+")] if call else []
    urgent = min((int(rank) for rank in ranks if rank), default=99)
    # "If breathing grows hard, call" comes after a plain "call", before "if you feel unwell".
    return urgent + 1 if urgent < 99 and "+" in call and not call.startswith("P308") else urgent


def _plain(codes: Iterable[str]) -> str:
    """A sentence of the codes' plain words; the route that the first one names is left out."""
    said: list[str] = []
    for code in codes:
        lead = ""
        for part in code.split("+"):
            words = _statements()[part]["plain"]
            if words.startswith("if "):
                lead = f"{words}, " if said else ""
            elif words.startswith("and ") and said:
                said[-1] += f", {words}"
            else:
                said.append(lead + words)
                lead = ""
    text = "; ".join(said)
    return text[:1].upper() + text[1:] + "." if text else ""


def _parts(cell: str) -> tuple[str, ...]:
    return tuple(part.strip() for part in cell.split(";") if part.strip())


def first_aid(hazards: Iterable[str]) -> tuple[FirstAid, ...]:
    """What the hazards (codes of ghs.csv, words of hazards.csv) call for, route by route.

    For each route the most urgent hazard decides, and of two as urgent the one with more to
    do; that no vomiting be brought on, or loose grains be brushed off first, holds as soon as
    one hazard says so. Hazards that
    call for nothing are passed over.
    """
    wanted = set(hazards)
    found: list[FirstAid] = []
    for route in _routes():
        asked = [row for row in rows("first_aid") if row["hazard"] in wanted]
        asked = [row for row in asked if row["route"] == route]
        if not asked:
            continue
        first = min(asked, key=lambda row: (_rank(row["call"]), -len(row["do"])))
        do, after = _parts(first["do"]), _parts(first["after"])
        if any("P331" in row["do"] for row in asked) and not any("P331" in code for code in do):
            do = ("P301+P330+P331",)
        # What burns or heats in water is brushed off before any water comes to it.
        if any("P335" in row["do"] for row in asked) and "P335" not in do[0]:
            do = (pattern(r"^(P30\d)").sub(r"\1+P335", do[0]), *do[1:])
        sources = tuple(dict.fromkeys(row["source"] for row in asked))
        codes = (*do, *_parts(first["call"]), *after)
        found.append(FirstAid(route, do, first["call"], after, _plain(codes), sources))
    return tuple(found)
