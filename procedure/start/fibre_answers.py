"""What people answer when they are asked for the fibre: “4 silk scarves of 20 g”, “2 lb cotton”."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache

from procedure.pipeline import read
from procedure.quantity.number_words import UP_TO_TWELVE
from procedure.quantity.record import NamedTuple
from procedure.start.wish import NotUnderstood
from procedure.vocabulary import Entry, near, vocabulary

USUAL_WEIGHT = Fraction(100)
# Of any unit: beyond it a slip of the pen, not a weight.
MOST = 1_000_000
_FEW = "|".join(UP_TO_TWELVE[2:])
_NUMBER = (
    r"(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?\s?[½¼¾⅓⅔⅛]?|[½¼¾⅓⅔⅛]|half an?|a quarter of an?"
    rf"|three quarters of an?|an?|one|{_FEW})"
)


class FibreAnswer(NamedTuple):
    """The fibre of an answer: ``grams`` of it in all, dry.

    ``amount`` is the weight as it was said, in the words of the language; empty where none was.
    """

    entry: Entry
    form: str
    grams: Fraction
    scoured: bool
    amount: str


def fibre_of(words: str) -> FibreAnswer:
    """Fibre, form, weight, and if it is clean. Raises :class:`NotUnderstood`."""
    known = vocabulary()
    amount, count, rest = _parted(" ".join(words.lower().split()))
    grams = _grams(amount, words) if amount else USUAL_WEIGHT
    states = known.tables["state"]
    parts = [part for part in rest.replace(",", " ").split() if part not in ("of", "each")]
    greasy = set(parts) & {"unscoured", *states["unscoured"].words("aliases")}
    clean = set(parts) & {"scoured", *states["scoured"].words("aliases")}
    parts = [part for part in parts if part not in greasy | clean]
    named = _named(parts) or _named([part for part in parts if part != count])
    if named is None:
        meant = near(" ".join(parts), list(known.tables["fibres"]))
        hint = f" Did you mean “{meant}”?" if meant else " Write it as “wool yarn 100 g”."
        raise NotUnderstood(f"no fibre is called “{words[:60]}”.{hint}")
    entry, form = named
    # As shorn, a fleece is greasy, unless somebody says that it has been washed.
    return FibreAnswer(entry, form, grams, bool(clean) or not (greasy or form == "fleece"), amount)


def _named(parts: list[str]) -> tuple[Entry, str] | None:
    """The fibre and the form that words name, in whichever order; None where they do not."""
    fibres, forms = vocabulary().tables["fibres"], vocabulary().tables["form"]
    for at in range(len(parts), 0, -1):
        for name, form in ((parts[:at], parts[at:]), (parts[-at:], parts[:-at])):
            said = " ".join(form)
            if " ".join(name) in fibres and (not said or said in forms):
                return fibres[" ".join(name)], said
    return None


@cache
def _weight() -> re.Pattern[str]:
    """A weight, perhaps of several pieces: “1 lb 4 oz”, “4 silk scarves of 20 g”, “3 50 g”."""
    units = vocabulary().units
    names = sorted((n for n, unit in units.items() if unit.kind == "mass"), key=len, reverse=True)
    unit = rf"(?:{'|'.join(map(re.escape, names))})(?![\w-])"
    one = rf"{_NUMBER}\s*{unit}"
    what = rf"(?:(?!{unit})(?P<what>[a-z][a-z -]*?),?\s+)??"
    many = rf"(?P<many>\d{{1,4}}|{_FEW})\s+{what}(?:of|at|x|×)?\s*(?!\d+/\d)"
    return re.compile(rf"(?<![\w.-])(?:{many})?(?P<each>{one}(?:\s+{one})?)")


def _parted(words: str) -> tuple[str, str, str]:
    """The weight in the language's words, the word that counts pieces, and all other words.

    Raises :class:`NotUnderstood` where there are figures and no weight.
    """
    found = _weight().search(words)
    if found is None:
        if re.search(r"\d", words):
            raise NotUnderstood(f"“{words[:40]}” holds no weight; write it as 100 g or 4 oz.")
        return "", "", words
    what = found["what"] or ""
    rest = f"{words[: found.start()]} {what} {words[found.end() :]}"
    if found["many"] is None:
        return found["each"], "", rest
    units = vocabulary().units
    counts = [one for one in what.split() if one in units and units[one].kind == "count"]
    count = counts[-1] if counts else ""
    return f"{found['many']} {count or 'pieces'} of {found['each']}", count, rest


def _grams(amount: str, words: str) -> Fraction:
    """The grams of all pieces, as the language reads them. Raises :class:`NotUnderstood`."""
    lots = dict(read(f"fibre\n  lot: wool, {amount}\n").model.lots)
    weight = lots["lot"].weight if "lot" in lots else None
    if weight is None or not weight.low or not 0 < weight.low < MOST:
        raise NotUnderstood(f"“{words[:40]}” holds no weight; write it as 100 g or 4 oz.")
    return weight.low
