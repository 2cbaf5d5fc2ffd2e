"""What people answer when they are asked what to begin with: fibre, dyestuff, mordant, pots."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.vocabulary import Entry, near, vocabulary
from procedure.vocabulary.suggestions import suggestion

# Of any unit: beyond it a slip of the pen, not a weight.
MOST = 1_000_000
USUAL_WEIGHT = Fraction(100)
NONE = ("none", "no", "without")


class NotUnderstood(ValueError):
    """An answer that names nothing known; its text is one plain sentence with a remedy."""


def fibre_of(words: str) -> tuple[Entry, str, Fraction, bool]:
    """Fibre, form, grams, and if it is clean. Raises :class:`NotUnderstood`."""
    known = vocabulary()
    weight, rest = _weight(words.lower().strip())
    fibres, forms, states = known.tables["fibres"], known.tables["form"], known.tables["state"]
    parts = rest.split()
    greasy = set(parts) & {"unscoured", *states["unscoured"].words("aliases")}
    clean = set(parts) & {"scoured", *states["scoured"].words("aliases")}
    parts = [part for part in parts if part not in greasy | clean]
    for at in range(len(parts), 0, -1):
        name, form = " ".join(parts[:at]), " ".join(parts[at:])
        if name in fibres and (not form or form in forms):
            # As shorn, a fleece is greasy, unless somebody says that it has been washed.
            scoured = bool(clean) or not (greasy or form == "fleece")
            return fibres[name], form, weight, scoured
    meant = near(rest, list(fibres))
    hint = f" Did you mean “{meant}”?" if meant else " Write it as “wool yarn 100 g”."
    raise NotUnderstood(f"no fibre is called “{words[:60]}”.{hint}")


LONGEST = 20
"""The most letters of a number: Python refuses to read some thousands of digits."""


def _weight(words: str) -> tuple[Fraction, str]:
    """The grams in the words, and the words without them. Raises ``NotUnderstood``."""
    found = re.search(r"(\d+(?:\.\d+)?)\s*([a-z]+)\b", words)
    if found is None:
        return USUAL_WEIGHT, words
    unit = vocabulary().units.get(found[2])
    too_long = len(found[1]) > LONGEST
    if too_long or unit is None or unit.kind != "mass" or not 0 < Fraction(found[1]) < MOST:
        raise NotUnderstood(f"“{found[0][:40]}” is no weight; write it as 100 g or 4 oz.")
    return (
        Fraction(found[1]) * unit.factor,
        (words[: found.start()] + words[found.end() :]).strip(" ,"),
    )


def dye_of(words: str) -> Entry:
    """The dyestuff of that name. Raises :class:`NotUnderstood`."""
    found = vocabulary().material(words.lower())
    if found is not None and found.table == "dyestuffs":
        return found
    if found is not None and (other := _no_dyestuff(found)):
        raise NotUnderstood(f"“{words[:60]}” is {other}")
    meant = suggestion(words.lower(), "dyestuffs").meant if found is None else None
    if meant is not None and meant not in vocabulary().tables["dyestuffs"]:
        meant = None
    hint = f" Did you mean “{meant}”?" if meant else " “vatwright know” tells what is known."
    raise NotUnderstood(f"no dyestuff is called “{words[:60]}”.{hint}")


def _no_dyestuff(entry: Entry) -> str:
    """What a material is that was named as the dyestuff, and what to do; empty for others."""
    roles = entry.words("role") if entry.table == "mordants" else ()
    if "tannin" in roles:
        return (
            "a tannin and no dyestuff: name the dyestuff, and cotton or linen gets its tannin"
            " before the alum; for a grey, name a dyestuff that holds tannin, such as pomegranate"
            " or alder, with iron after it."
        )
    if "mordant" in roles:
        return "a mordant and no dyestuff: name the dyestuff, and this as its mordant."
    if "modifier" in roles:
        return "no dyestuff: it changes a colour. Name the dyestuff, and this as what comes after."
    return ""


def mordant_of(words: str) -> Entry:
    """The mordant of that name. Raises :class:`NotUnderstood`."""
    known = vocabulary()
    # “Copper” alone is a vessel; the salt is meant.
    found = known.material(words.lower()) or known.material(f"{words.lower()} sulphate")
    if found is not None and found.table == "mordants" and "mordant" in found.facts["role"]:
        return found
    raise NotUnderstood(f"no mordant is called “{words[:60]}”; alum is the usual one.")


def pots_of(words: str) -> tuple[str, ...]:
    """The pots that are named, with commas between; each ends in how much it holds."""
    found: list[str] = []
    for part in filter(None, (one.strip() for one in words.split(","))):
        # “pot, 10 L” is one pot: what has no size goes on to the next comma.
        if found and not re.search(r"\d", found[-1]):
            found[-1] += f" {part}"
        elif found and part in ("lidded", "with lid", "for dyeing only", "for cooking"):
            found[-1] = f"{part} {found[-1]}" if part == "lidded" else found[-1] + f" {part}"
        else:
            found.append(part)
    return tuple(plain(one) for one in found)


def none_of(words: str) -> bool:
    """True where the answer is none."""
    return words.strip().lower() in NONE


def plain(words: str) -> str:
    """Words as they may be between quotation marks."""
    return " ".join(words.replace('"', "'").split())
