"""Every amount in prose: weights, volumes, heats, times, shares, ratios, counts, and loose ones."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.amount_writing import written
from procedure.draft.lexicon import meanings
from procedure.draft.matched_amounts import MAKERS
from procedure.draft.patterns import patterns
from procedure.draft.said_twice import agree, nearly_agree
from procedure.draft.things import known_words
from procedure.vocabulary import vocabulary

ABOUT = re.compile(
    r"\b(?:about|around|roughly|approx\.?|approximately|some|circa|(?<![°º\d])(?<!\d\s)c\.|ca\.?|say|nearly)\s*$",
    re.I,
)
MOST = re.compile(
    r"(?:\b(?:not|never|nor|no|don't|without)\b[^.;:,]{0,28}?\b(?:more than|over|above|past"
    r"|beyond|exceed(?:ing)?"
    r"|higher than|hotter than|warmer than|longer than|reach(?:ing)?)"
    r"|\b(?:under|below|at most|up to|max(?:imum)?\.?(?: of)?|(?<!not )(?<!no )less than"
    r"|no higher than|no hotter than"
    r"|to a maximum of)|[≤<])\s*(?:about\s+)?(?:of\s*)?$",
    re.I,
)
LEAST = re.compile(
    r"\b(?:at least|no less than|not less than|not under|more than|over|min(?:imum)?\.? of|above|upwards of)\s*$|[≥]\s*$",  # noqa: E501
    re.I,
)
POURED_OVER = re.compile(
    r"\b(?:pour(?:ed|ing|s)?|sprinkl(?:e|ed|ing)|tip(?:ped)?|water|layer(?:ed)?|strew(?:n|ed)?)\b[^.;,]{0,30}\bover\s*$",
    re.I,
)
MOST_AFTER = re.compile(
    r"[\s,]*(?:\(?\s*(?:max\b|maximum|at most|at the most|not\s+more|no\s+more|or less|tops))", re.I
)
# "Just under two pounds" is about so much.
HARDLY = re.compile(
    r"(?<!not )\b(?:just|slightly|a\s+little|a\s+bit)\s+(?:under|over|short\s+of)\s+$", re.I
)
LEAST_AFTER = re.compile(
    r"\s*(?:or (?:longer|larger|bigger|more|so more)|at least|min(?:imum)?\b"
    r"|,?\s*at the (?:very )?least|and upwards|anyway\b|anyhow\b|at any rate\b"
    r"|\+(?!\s*\w))",
    re.I,
)

# "It must not fall below 45 °C": the least heat, and not the most.
FALLS_BELOW = re.compile(
    r"\b(?:not|never|nor|don't|won't|mustn't|without)\b[^.;:]{0,28}?"
    r"\b(?:fall|falls|falling|drop|drops|dropping|go|goes|going|sink|sinking|get|gets|getting|dip|cool|cooling)\s+"
    r"(?:to\s+)?(?:below|under|beneath)\s*(?:about\s+)?$",
    re.I,
)
LEAST_BEFORE = re.compile(r"(?<!\d)(?<!\d\s)\bmin(?:imum|\.)?:?\s*$", re.I)  # "min. 1 hour"
LEAST_IN_SHORT = re.compile(r"\s*min(?:imum)?\b", re.I)  # "1 h min"


def amounts(text: str) -> list[Amount]:
    """Every amount in an even text, in order; none overlaps another."""
    taken = bytearray(len(text))
    found: list[Amount] = []
    for kind, pattern in patterns():
        at = 0
        while match := pattern.search(text, at):
            match = _one_kind(match, text)
            start, end = match.span()
            while start < end and text[start].isspace():
                start += 1
            if start == end or any(taken[start:end]) or _within_word(text, start):
                # What is hidden behind a word that is taken is looked for from the next on.
                gap = re.compile(r"\W").search(text, match.start() + 1)
                at = gap.start() if gap else len(text)
                continue
            at = end
            made = _made(kind, match, text, start)
            if made is None:
                gap = re.compile(r"\W").search(text, match.start() + 1)
                at = gap.start() if gap else len(text)
                continue
            taken[start:end] = b"\x01" * (end - start)
            found.append(made)
    return _joined(sorted(found, key=lambda one: one.start), text)


def _one_kind(match: re.Match[str], text: str) -> re.Match[str]:
    """The match without a second measure of another kind: "7.5 L 70 C" are two amounts."""
    groups = match.groupdict()
    if not groups.get("second") or not groups.get("unit") or not groups.get("unit2"):
        return match
    units, known = vocabulary().units, meanings("unit")
    one, two = (units.get(known.get(groups[name].lower(), "")) for name in ("unit", "unit2"))
    if one is not None and two is not None and one.kind == two.kind and one.factor > two.factor:
        return match
    return match.re.match(text, match.start(), match.start("second")) or match


RANGED = frozenset(("time", "temperature", "mass", "volume", "share", "spoon", "times"))
TO = re.compile(r"\s*(?:to|or|-)\s*")


def _joined(found: list[Amount], text: str) -> list[Amount]:
    """Ranges with words of their own: "30 minutes to one hour", "between 20 and 30 °C"."""
    made: list[Amount] = []
    for one in found:
        last = made[-1] if made else None
        joined = _range(last, one, text) if last is not None else None
        if joined is None and last is not None:
            joined = _read_twice(last, one, text)
        if joined is not None:
            made[-1] = joined
        else:
            made += _parted(one, text)
    return made


AGAIN = re.compile(r"\s*(?:\(|/|=|\bor\b)\s*(?:=\s*|about\s+|approx\.?\s+|ca\.?\s+|c\.?\s+)?")


def _read_twice(last: Amount, one: Amount, text: str) -> Amount | None:
    """One amount for two that say the same: "180 °F (82 °C)", "1 gallon (about 3.8 L)"."""
    gap = text[last.end : one.start]
    if not AGAIN.fullmatch(gap) or last.reading or last.bound:
        return None
    rounded = "(" in gap and nearly_agree(last, one)
    if not (rounded or agree(last, one)):
        return None
    end = one.end
    if "(" in gap:
        close = re.match(r"\s*\)", text[one.end :])
        if close is None:
            return None
        end += close.end()
    reading = written(one, "", "") if agree(last, one) else ""
    words = " ".join(text[last.start : end].split())
    return last._replace(end=end, words=words, reading=reading or "")


SPOKEN = re.compile(r"[a-z][a-z\s-]*", re.I)


def _spoken_range(last: Amount, one: Amount, text: str) -> Amount | None:
    """One amount for two numbers that are said one after the other: "three, four times"."""
    if last.kind != "number" or one.kind not in (*RANGED, "times") or not last.low or not one.low:
        return None
    if not re.fullmatch(
        r",\s+(?:or\s+|perhaps\s+|maybe\s+)?", text[last.end : one.start]
    ) or not SPOKEN.fullmatch(last.words):
        return None
    if text[one.start].isdigit() or not last.low < one.low <= last.low * 2 or last.low < 1:
        return None
    words = " ".join(text[last.start : one.end].split())
    bound = "" if one.bound == "most" else one.bound  # "eighty, eighty-five, not more"
    return one._replace(low=last.low, start=last.start, words=words, bound=bound)


# "Not less than four hours and not more than twelve": from the one to the other.
AND_AT_MOST = re.compile(
    r",?\s*(?:and|but|nor|or)?,?\s*(?:(?:not|no|never)\s+(?:more|longer|over)(?:\s+than)?|at\s+(?:the\s+)?most|over"
    r"|(?:not\s+)?(?:above|beyond))\s*",
    re.I,
)


def _between_bounds(last: Amount, one: Amount, text: str) -> Amount | None:
    """One amount for a least and a most: "at least two hours and at most three"."""
    if last.bound != "least" or last.kind not in RANGED or last.low is None or one.low is None:
        return None
    if one.kind not in (last.kind, "number") or not AND_AT_MOST.fullmatch(
        text, last.end, one.start
    ):
        return None
    units = vocabulary().units
    high = one.high or one.low
    if one.kind == last.kind and one.unit != last.unit:
        if one.unit not in units or last.unit not in units or one.kind == "temperature":
            return None
        high = high * units[one.unit].factor / units[last.unit].factor
    if high <= last.low:
        return None
    words = " ".join(text[last.start : one.end].split())
    return last._replace(high=high, end=one.end, words=words, bound="")


def _range(last: Amount, one: Amount, text: str) -> Amount | None:
    spoken = _spoken_range(last, one, text) or _between_bounds(last, one, text)
    if spoken is not None:
        return spoken
    if one.kind not in RANGED or last.low is None or one.high is None:
        return None
    gap, before = text[last.end : one.start], text[max(0, last.start - 12) : last.start].lower()
    words = " ".join(text[last.start : one.end].split())
    span = one._replace(start=last.start, words=words, about=last.about or one.about)
    if (
        last.kind == "number"
        and re.search(r"between\s+(?:about\s+)?$", before)
        and gap.strip() == "and"
    ):
        return span._replace(low=last.low)
    if last.kind != one.kind or not TO.fullmatch(gap):
        return None
    if one.kind == "time" and last.unit != one.unit:
        units = vocabulary().units
        factor = units[one.unit].factor / units[last.unit].factor
        if factor < 1 and last.low / factor != 0:  # "a week or ten days": in the smaller unit
            return span._replace(low=last.low / factor)
        return last._replace(high=one.high * factor, end=one.end, words=words)
    small = one.high - last.low <= limits.SMALL_SPAN and not re.search(r"\bfrom\s+$", before)
    at = small or re.search(r"\b(?:at|between)\s+$", before)
    close = "-" in gap or (not last.scale and bool(at))
    near = one.kind != "temperature" or (close and one.high - last.low <= limits.WIDEST_RANGE)
    if last.unit in ("", one.unit) and one.high > last.low and near and one.kind != "mass":
        return span._replace(low=last.low)
    return None


def _parted(one: Amount, text: str) -> list[Amount]:
    """The two ends of a rise, "from 40 to 85 °C", each of which is a heat of its own."""
    if one.kind != "temperature" or one.low is None or one.high is None or one.low == one.high:
        return [one]
    rises = re.search(r"\bfrom\s+(?:about\s+)?$", text[max(0, one.start - 12) : one.start], re.I)
    middle = re.compile(r"\s+to\s+|\s*-+>?\s*").search(text, one.start, one.end)
    if middle is None or not (rises or one.high - one.low > limits.WIDEST_RANGE):
        return [one]
    low = one._replace(high=one.low, end=middle.start(), words=text[one.start : middle.start()])
    high = one._replace(low=one.high, start=middle.end(), words=text[middle.end() : one.end])
    return [low, high]


def _within_word(text: str, start: int) -> bool:
    return (
        start > 0
        and text[start].isalnum()
        and (text[start - 1].isalpha() or text[start - 1] == "'")
    )


# "Tie the chips in a bag", "fill a bucket": what holds the stuff, and no amount of it.
INTO_VESSEL = re.compile(r"\b(?:in|into|to|inside|from|through|fill)\s+$", re.I)
VESSEL = re.compile(
    r"an?\s+(?:[\w-]+\s+)*(?:buckets?|pails?|bags?|sacks?|baskets?|glass|jars?)", re.I
)
HELD = re.compile(r"\s+(?:full\s+)?of\b", re.I)


def _is_vessel(match: re.Match[str], text: str, start: int) -> bool:
    """True where an article and a vessel say only where something is."""
    before = text[max(0, start - 12) : start]
    into = VESSEL.fullmatch(match[0].strip()) and INTO_VESSEL.search(before)
    return bool(into) and not HELD.match(text, match.end())


ENDS_HEADING = re.compile(r"[ \t]*:[ \t]*\n")


def _heads_lines(text: str, start: int, end: int) -> bool:
    """True for the time of "Lesson, 80 minutes:", a heading with no deed and no bath in it."""
    if not ENDS_HEADING.match(text, end):
        return False
    return known_words()[0].search(text, text.rfind("\n", 0, start) + 1, start) is None


DENIABLE = frozenset(("mass", "volume", "time", "temperature", "share", "spoon"))
# "Instead of 20 g", "half of the 20 g": no amount that is used.
DENIED_OR_PART = re.compile(
    r"\b(?:instead\s+of|rather\s+than|(?:half|double|twice|thirds?|quarters?)\s+(?:of\s+)?(?:the|that|those|your|its|this))"
    r"\s+(?:about\s+|the\s+|usual\s+|full\s+)*$",
    re.I,
)


NEXT_LINE = re.compile(r"(?P<figure>\d+)[ \t]*\n\s*[A-Z]")


def _made(kind: str, match: re.Match[str], text: str, start: int) -> Amount | None:
    if kind == "article odd" and _is_vessel(match, text, start):
        return None
    try:
        made = MAKERS[kind](kind, match)
    except (ValueError, ZeroDivisionError):
        made = Amount("odd", None, None, "", "", 0, 0)
    if made is None:
        return None
    if made.kind != "figure" and re.search(r"(?:±|\+/?-)\s*$", text[max(0, start - 6) : start]):
        made = Amount("figure", None, None, "", "", 0, 0)  # how far the one before may be off
    if made.kind == "time" and _heads_lines(text, start, match.end()):
        made = Amount("figure", None, None, "", "", 0, 0)
    before, behind = text[max(0, start - 48) : start], text[match.end() : match.end() + 20]
    if made.kind in DENIABLE and DENIED_OR_PART.search(before):
        made = Amount("figure", None, None, "", "", 0, 0)
    at_most = MOST_AFTER.match(behind) is not None and LEAST.search(before) is None
    falls = made.kind in ("temperature", "number") and FALLS_BELOW.search(before) is not None
    bound = "least" if falls else "most" if MOST.search(before) or at_most else ""
    if (
        bound
        and re.search(r"\bup to\s*(?:about\s*|around\s*)?$", before, re.I)
        and (
            made.kind in ("temperature", "number", "named heat")
            or re.search(
                r"(?:top|made?|make|fill|bring|brought|dilut)\w*\s+"
                r"(?:(?:it|them|this|that|(?:the|your)\s+(?:[\w-]+\s+){1,2}?)\s*)?"
                r"(?:with\s+(?:\w+\s+)?water\s+)?up to\s*(?:about\s*|around\s*)?$"
                r"|\bwater\s+up to\s*(?:about\s*|around\s*)?$",
                before,
                re.I,
            )
        )
    ):
        bound = ""
    bound = bound or ("least" if LEAST.search(before) or LEAST_AFTER.match(behind) else "")
    if not bound and made.kind == "time" and LEAST_BEFORE.search(before):
        bound = "least"
    if bound == "least" and made.kind == "time" and re.search(r"\bover\s*$", before, re.I):
        bound = ""  # "brought up over an hour" says how long it takes
    if bound == "least" and POURED_OVER.search(before):
        bound = ""  # "pour boiling water over 100 g of madder"
    least = LEAST_IN_SHORT.match(text, match.end()) if bound == "least" else None
    hardly = made.kind in ("mass", "volume") and HARDLY.search(before) is not None
    head = NEXT_LINE.match(match[0])
    if made.kind == "count" and head:
        # "At 75", and the next line begins with "Skein 2".
        made = Amount("number", made.low, made.high, "", "", 0, 0)
    end = match.start() + head.end("figure") if head and made.kind == "number" else match.end()
    end = least.end() if least else end
    return made._replace(
        words=" ".join(text[match.start() : end].split()),
        start=start,
        end=end,
        bound="" if hardly else bound,
        about=hardly or bool(ABOUT.search(before)) or made.about,
    )
