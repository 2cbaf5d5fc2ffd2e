"""What people answer when they are asked what to begin with: dyestuff, mordant, pots."""

from __future__ import annotations

import re

from procedure.start.wish import NotUnderstood
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.suggestions import suggestion

NONE = ("none", "no", "without")


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
