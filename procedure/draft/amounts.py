"""Every amount in prose: weights, volumes, heats, times, shares, ratios, counts, and loose ones."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction
from functools import cache

from procedure.draft.lexicon import meanings, numbers, one_of
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

VULGAR = {
    "½": "1/2",
    "¼": "1/4",
    "¾": "3/4",
    "⅓": "1/3",
    "⅔": "2/3",
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}


class Amount(NamedTuple):
    """An amount as the prose has it.

    ``kind`` is mass, volume, spoon, temperature, time, share, ratio, strength, count, times,
    acidity, loose, odd (a measure that the language lacks), relative (by something said
    before), number (no unit is said) or figure (a date, a clock time, a page).
    ``bound`` is ``most`` or ``least`` where the prose gives one end only; ``scale`` is
    False where a heat does not say its scale; ``base`` is what a share is of.
    """

    kind: str
    low: Fraction | None
    high: Fraction | None
    unit: str
    words: str
    start: int
    end: int
    bound: str = ""
    about: bool = False
    scale: bool = True
    base: str = ""
    each: bool = False


def number(words: str) -> Fraction:
    """What a number in figures or words comes to. Raises ``ValueError`` where it is none."""
    text = words.lower().replace("-", " ").strip()
    text = re.sub(r"\band one (?=half|quarter|third|fourth|eighth)", "and a ", text)
    for sign, figures in VULGAR.items():
        text = text.replace(sign, f" {figures}")
    total = Fraction(0)
    last: Fraction | None = None
    for word in text.split():
        if word in ("and", "of", "a", "an"):
            if word in ("a", "an") and last is None:
                last = Fraction(1)
                total = last
            continue
        value = numbers().get(word)
        if value is None:
            # A comma before one or two figures is a decimal mark; before three, none.
            decimal = re.fullmatch(r"\d+,\d{1,2}", word)
            value = Fraction(word.replace(",", "." if decimal else ""))
        if last is not None and (value < 1 and last >= 1 and last.denominator == 1):
            # "two thirds" multiplies, "one and a half" and "1 1/2" add.
            multiplies = word in meanings("part of one") and "and" not in text.split()
            total = total - last + (last * value if multiplies else last + value)
        elif last is not None and last < 1 and value >= 1:
            total = total - last + last * value  # half a dozen
        elif word in meanings("group") or word == "hundred":
            total = (total or Fraction(1)) * value
        else:
            total += value
        last = value
    if last is None:
        raise ValueError(words)
    return total


@cache
def _number() -> str:
    """A pattern for a number, in figures or in words."""
    vulgar = "".join(VULGAR)
    figures = rf"(?:\d+,\d{{1,2}}(?![\d/])|\d+[\s-]+\d+/\d+|\d+/\d+|\d+\s?[{vulgar}]|\d{{1,3}}(?:,\d{{3}})+|\d*\.?\d+|[{vulgar}])"  # noqa: E501
    plain = one_of(list(meanings("number")))
    part = one_of(list(meanings("part of one")))
    group = one_of(list(meanings("group")))
    tens = "twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety"
    ones = "one|two|three|four|five|six|seven|eight|nine"
    words = (
        rf"(?:(?:{plain})[\s-]+and[\s-]+(?:a|one)[\s-]+(?:{part})"
        rf"|(?:{ones})[\s-]and[\s-](?:{tens})"
        rf"|(?:a|{ones})[\s-]hundred(?:\s+and\s+(?:(?:{tens})(?:[\s-](?:{ones}))?|{plain}))?|(?:{plain})[\s-]+(?:{part})"
        rf"|half\s+a\s+dozen|a\s+(?:{part})|half(?:[\s-]+an?\b)?|(?:a\s+)?(?:{group})(?:\s+of)?(?=\s)"
        rf"|quarter(?=[\s-]+(?:of\b|an?\b|hour|pound|ounce|lb|oz|pint|gallon|cup|tea|tsp|tbsp))"
        rf"|(?:twenty|thirty|forty|fifty|sixty|seventy|eighty|ninety)[\s-](?:{plain})"
        rf"|(?:{plain})(?:\s+hundred)?)"
    )
    return rf"(?:{figures}|\b{words}\b)"


@cache
def _units() -> str:
    return one_of(list(meanings("unit")))


@cache
def _patterns() -> tuple[tuple[str, re.Pattern[str]], ...]:
    n, u = _number(), _units()
    odd = one_of(list(meanings("odd unit")))
    to = r"\s*(?:-{1,2}|\bto\b|\bor\b)\s*"
    span = rf"(?P<low>{n})(?P<ish>ish)?(?:{to}(?P<high>{n}))?"
    sized = (
        r"(?:(?P<size>us|u\.s\.|imperial|imp\.?|english|american|uk|british|aus|australian)\s+)?"
    )
    after = r"(?:\.?\s*\(?(?P<sized>us|u\.s\.|imperial|imp\.?|uk|aus)\b\.?\)?)?"
    basis = one_of(list(meanings("basis")))
    half = r"(?P<more>\s+and\s+(?:(?:a|one)\s+)?(?:half|quarter)\b|\s+and\s+three[\s-]quarters)?"
    times = one_of(list(meanings("times")))
    month = one_of(list(meanings("month")))
    part = rf"(?:{n}|an?\s+equal|the\s+same|equal|double|twice|half|thrice)"
    its = r"(?:its|their|the|his|this|that|own)(?:\s+own)?"
    listed = [
        ("ratio", r"(?<!at )(?<!by )\b(?P<low>1)\s?:\s?(?P<high>\d+)\b(?!\s?[ap]\.?m)"),
        (
            "figure",
            r"\b\d{1,2}[:.]\d\d\s*(?:[ap]\.?m\b\.?)?(?=\s*(?:[ap]m|by|off|:|,|$|\n))|\b\d{1,2}:[0-5]\d\b"
            r"(?!\s*(?:of|ratio))|\b\d{1,2}\s?[ap]\.?m\b",
        ),
        (
            "figure",
            rf"\b\d{{1,2}}(?:st|nd|rd|th)?\s+(?:of\s+)?(?:{month})\b(?!\s+(?:be|need|take))(?:\s+\d{{4}})?",
        ),
        ("figure", rf"\b(?:{month})\s+\d{{1,2}}(?:st|nd|rd|th)?\b(?:,?\s+\d{{4}})?"),
        (
            "figure",
            r"\b(?:page|p\.|pp\.|no\.|nos\.|number|bulletin|plate|fig\.|figure|chapter|vol\.)\s*\d+(?:-\d+)?",
        ),
        (
            "figure",
            r"\b(?:1[5-9]\d\d|20\d\d)s?\b(?!\s*(?:g|ml|kg|grams)\b)|[£$€]\s?\d+(?:\.\d\d)?|\b\d+\s?(?:p(?!\.?\s?c)|cents?|pence|shillings?|dollars?|s\.)\b|\b\d+(?:st|nd|rd|th)\b",
        ),
        ("figure", r"(?m)^\s*\(?\d{1,2}[.)](?=\s+\D)"),
        ("figure", r"\b\d+-\d+-\d+\b"),
        (
            "acidity",
            r"\bph\s*(?:of|about|around|is|=|:)?\s*(?P<low>\d+(?:\.\d+)?)(?:\s*(?:-|to)\s*(?P<high>\d+(?:\.\d+)?))?",
        ),
        ("ratio", r"\b(?P<low>\d+)\s?:\s?(?P<high>\d+)\b"),
        (
            "relative",
            rf"\b(?:(?:equal\s+to\s+)?its\s+own\s+weight(?:\s+of)?|weight\s+for\s+weight|as\s+heavy\s+as\s+the\s+\w+|{part}\s*(?:of\s+)?(?:times\s+)?(?:of\s+)?{its}\s+(?:dry\s+)?weights?"
            rf"(?:\s+(?:again))?(?:\s+of\s+(?:the\s+)?(?:wool|yarn|silk|cotton|linen|fibre|goods|cloth|fleece))?"
            rf"|(?:equal|the\s+same|same|an\s+equal|double\s+the|twice\s+the|half\s+the)\s+"
            rf"(?:weights?|amounts?|volumes?|quantity|quantities|measures?|time)(?:\s+and\s+temperature)?"
            rf"|(?:{n}|half|twice|as|double)\s+as\s+(?:much|long|many|heavy)(?:\s+(?:again|as)(?:\s+\w+){{0,3}})?"
            rf"|as\s+much\s+again|half\s+the\s+(?:alum|detergent|amount|time|soda|water|iron)|the\s+same\s+of)",
        ),
        (
            "rate",
            rf"\b(?P<low>{n})\s*(?:°\s*[cf]?|degrees?|[cf])\s*(?:per|a|each|every|/)\s*(?:min(?:ute)?s?|every\s+\d+\s*min(?:ute)?s?)\b",
        ),
        (
            "share",
            rf"{span}\s*(?:%|per\s*cent\.?|percent|pct|p\.\s?c\b\.?)(?:\s*(?:\(?(?P<basis>{basis})\)?))?",
        ),
        (
            "clock",
            r"\b(?P<h>\d{1,2})\s?h(?:rs?|ours?)?\.?\s?(?P<m>\d{2})\b(?!\s*(?:°|%|c\b|f\b|g\b|ml|l\b|k|deg))(?:\s?min(?:ute)?s?\b)?",
        ),
        ("strength", rf"{span}\s*(?P<top>g|grams?|ml)\s*(?:/|per)\s*(?:l|litre|liter)\b"),
        (
            "each",
            rf"{span}\s*(?P<unit>{u})(?![A-Za-z])\.?\s*(?:of\s+\w+(?:\s\w+)?\s+)?(?:(?:per|to\s+(?:the|each|every|a)|for\s+(?:each|every|an?)|a|in\s+the)\s+|/\s*)(?P<per>(?:{n}\s*)?(?:lbs?|pounds?|kg|kilos?|g|litres?|liters?|l|gallons?|gal|oz|ounces?))\b(?!\s*/)",
        ),
        (
            "temperature",
            rf"{span}\s*(?:°|degrees?|degs?\.?)\s*(?P<scale>celsius|centigrade|fahrenheit|fahr\.?|c|f)?\b\.?"
            rf"|(?P<low2>\d+)(?:\s*(?:-|to)\s*(?P<high2>\d+))?\s?°",
        ),
        (
            "temperature",
            r"\b(?P<low>\d{2,3})(?:\s*(?:-|to)\s*(?P<high>\d{2,3}))?\s?(?P<scale>celsius|centigrade|fahrenheit|c|f)\b(?!\.\w)",
        ),
        (
            "both",
            rf"\b(?P<article>an?)\s+(?P<unit>{u})\s+and\s+(?P<second>{n})\s*(?P<unit2>{u})(?!\w)",
        ),
        ("many", rf"(?P<count>{n})\s*x\s*(?P<low>{n})\s*(?P<unit>{u})\b"),
        ("times", rf"\b(?:{n}\s+times|twice|thrice|once)\s+(?:a|per|each|every)\s+day\b"),
        (
            "quarters",
            r"\b(?P<low>(?:a|one|three)[\s-]quarters?|(?:a|one|two)[\s-]thirds?|an?\s+eighth|one[\s-](?:half|fourth|eighth)|half|quarter)\s+(?:of\s+)?an?\s+(?P<unit>hour|ounce|pound|gallon|pint|litre|liter|kilo|cup|quart|teaspoon|tablespoon|lb|oz|gal|day|minute)\b",
        ),
        (
            "measure",
            rf"{span}[\s-]*(?:(?:more|full|good|whole|further|extra|level|heaped|short)\s+)?{sized}(?P<unit>{u})(?!\w)(?:'s)?{after}{half}"
            rf"(?:\s+(?:and\s+)?(?P<second>{n})\s*(?P<unit2>{u})(?!\w))?(?:\s+(?P<each>each|apiece))?",
        ),
        (
            "measure",
            rf"\b(?P<article>an?|another|the\s+last|last)\s+(?:(?:good|full|level|heaped|short|scant|rounded|generous)\s+)?{sized}(?P<unit>{u})(?!\w){after}"
            rf"(?:\s+or\s+(?P<high>{n})(?!\s*(?:{u})))?{half}"
            rf"(?:\s+(?P<each>each))?",
        ),
        (
            "measure",
            r"\b(?P<article>every|each|the)\s+(?P<unit>pound|lb|kilo|kg|ounce|gallon|litre|liter)\b",
        ),
        (
            "article odd",
            rf"\b(?:an?|{n}(?:{to}{n})?)\s+(?:(?:good|full|level|heaped|large|big|small|short|aus|rusty|us|mini|generous|old|of\s+(?:a|an))[\s-]+){{0,2}}(?:{odd})\b(?:\s+full)?|\b\d+\s?(?:yrs?|months?)\b",
        ),
        ("odd", rf"\b(?:(?:{n})\s+)?(?:level|heaped|rounded|scant)\s+(?P<unit>{u})\b"),
        (
            "times",
            rf"{n}\s*(?:{to}{n})?\s*(?:{times})\b(?:\s+(?:a|per)\s+day)?|\b(?:twice|thrice|once)\b(?:\s+(?:a|per)\s+day)?|\b{n}\s+(?:separate\s+|fresh\s+|clean\s+|warm\s+|cold\s+|changes\s+of\s+|lots\s+of\s+){{1,2}}(?:{times})\b",
        ),
        ("wait", rf"\b(?:{one_of(meanings('wait'))})\b"),
        ("full", rf"\b{n}[\s-]+(?:full|filled)\b"),
        (
            "article odd",
            r"(?:(?<=add )|(?<=use )|(?<=take )|(?<=move )|(?<=lift ))(?:one|half|rest|the rest|the other half|the last|the other)\b|\bthe last (?=stays|one)|\bas much (?:\w+ ){0,2}again\b",  # noqa: E501
        ),
        ("article odd", rf"\b(?:{one_of(list(meanings('odd phrase')))})\b"),
        ("number", rf"(?<![\w/.]){span}(?![\w/]|\.\d)"),
        ("number", rf"(?<![\w/.])(?P<low>{n})(?![\w/]|\.\d)"),
        ("heat", rf"\b(?:{one_of(meanings('heat'))})\b"),
        ("loose", rf"\b(?:{one_of(meanings('loose'))})\b"),
    ]
    return tuple((kind, re.compile(pattern, re.I)) for kind, pattern in listed)


ABOUT = re.compile(
    r"\b(?:about|around|roughly|approx\.?|approximately|some|circa|c\.|ca\.?|say|nearly)\s*$", re.I
)
MOST = re.compile(
    r"\b(?:no more than|not more than|not over|not above|never above|never over|under|below|at most|up to|max(?:imum)?\.?"  # noqa: E501
    r"|not exceed(?:ing)?|don't exceed|less than|no higher than|no hotter than|not hotter than|to a maximum of)\s*(?:of\s*)?$",  # noqa: E501
    re.I,
)
LEAST = re.compile(
    r"\b(?:at least|no less than|not less than|not under|more than|over|min(?:imum)?\.? of|above|upwards of)\s*$",  # noqa: E501
    re.I,
)
MOST_AFTER = re.compile(
    r"[\s,]*(?:\(?\s*(?:max\b|maximum|at most|at the most|not\s+more|no\s+more|or less|tops))", re.I
)
LEAST_AFTER = re.compile(
    r"\s*(?:or longer|or more|at least|or so more|minimum|at the least|and upwards|\+)", re.I
)


def amounts(text: str) -> list[Amount]:
    """Every amount in an even text, in order; none overlaps another."""
    taken = bytearray(len(text))
    found: list[Amount] = []
    for kind, pattern in _patterns():
        at = 0
        while match := pattern.search(text, at):
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
                continue
            taken[start:end] = b"\x01" * (end - start)
            found.append(made)
    return _joined(sorted(found, key=lambda one: one.start), text)


def _joined(found: list[Amount], text: str) -> list[Amount]:
    """Ranges whose ends have units of their own: "30 minutes to one hour"."""
    made: list[Amount] = []
    units = vocabulary().units
    for one in found:
        last = made[-1] if made else None
        if (
            last is not None
            and last.kind == one.kind == "time"
            and re.fullmatch(r"\s*(?:to|or|-)\s*", text[last.end : one.start])
            and last.unit != one.unit
            and last.low is not None
            and one.high is not None
        ):
            factor = units[one.unit].factor / units[last.unit].factor
            words = " ".join(text[last.start : one.end].split())
            made[-1] = last._replace(high=one.high * factor, end=one.end, words=words)
            continue
        made.append(one)
    return made


def _within_word(text: str, start: int) -> bool:
    return (
        start > 0
        and text[start].isalnum()
        and (text[start - 1].isalpha() or text[start - 1] == "'")
    )


def _made(kind: str, match: re.Match[str], text: str, start: int) -> Amount | None:
    try:
        made = MAKERS[kind](kind, match)
    except (ValueError, ZeroDivisionError):
        made = Amount("odd", None, None, "", "", 0, 0)
    if made is None:
        return None
    before, behind = text[max(0, start - 30) : start], text[match.end() : match.end() + 20]
    bound = "most" if MOST.search(before) or MOST_AFTER.match(behind) else ""
    if bound and re.search(r"\bup to\s*$", before, re.I) and made.kind in ("temperature", "number"):
        bound = ""
    bound = bound or ("least" if LEAST.search(before) or LEAST_AFTER.match(behind) else "")
    if bound == "least" and made.kind == "time" and re.search(r"\bover\s*$", before, re.I):
        bound = ""  # "brought up over an hour" says how long it takes
    return made._replace(
        words=" ".join(match[0].split()),
        start=start,
        end=match.end(),
        bound=bound,
        about=bool(ABOUT.search(before)) or made.about,
    )


def _ends(match: re.Match[str]) -> tuple[Fraction, Fraction]:
    low = number(match["low"])
    groups = match.groupdict()
    return low, number(groups["high"]) if groups.get("high") else low


def _figure(kind: str, match: re.Match[str]) -> Amount | None:
    return Amount("figure", None, None, "", "", 0, 0)


def _acidity(kind: str, match: re.Match[str]) -> Amount | None:
    low, high = _ends(match)
    return Amount("acidity", low, high, "pH", "", 0, 0)


def _ratio(kind: str, match: re.Match[str]) -> Amount | None:
    low, high = Fraction(match["low"]), Fraction(match["high"])
    return Amount("ratio", high / low if low <= high else low / high, None, ": 1", "", 0, 0)


def _plain(kind: str, match: re.Match[str]) -> Amount | None:
    return Amount(kind.split()[-1], None, None, "", "", 0, 0)


def _share(kind: str, match: re.Match[str]) -> Amount | None:
    low, high = _ends(match)
    return Amount("share", low, high, "%", "", 0, 0, base="wof" if match["basis"] else "")


def _strength(kind: str, match: re.Match[str]) -> Amount | None:
    low, high = _ends(match)
    unit = "mL/L" if match["top"].lower() == "ml" else "g/L"
    return Amount("strength", low, high, unit, "", 0, 0)


def _each(kind: str, match: re.Match[str]) -> Amount | None:
    """So much for each pound or litre: a share of the fibre, or a strength of the bath."""
    low, high = _ends(match)
    units = vocabulary().units
    top = units[meanings("unit")[match["unit"].lower()]]
    found = re.fullmatch(rf"(?P<n>{_number()})?\s*(?P<unit>\D+)", match["per"], re.I)
    if found is None:
        raise ValueError(match["per"])
    below = units[meanings("unit")[found["unit"].lower().strip()]]
    parts = number(found["n"]) if found["n"] else Fraction(1)
    if top.kind == "time" or below.kind == "time":
        return None
    if below.vague or top.vague:
        return Amount("odd", None, None, "", "", 0, 0)
    share = top.factor / below.factor / parts
    if top.kind == below.kind == "mass":
        return Amount("share", low * share * 100, high * share * 100, "%", "", 0, 0, base="wof")
    if top.kind == "mass" and below.kind == "volume":
        return Amount("strength", low * share, high * share, "g/L", "", 0, 0)
    if top.kind == "volume" and below.kind == "mass":  # litres to a weight of fibre
        return Amount("ratio", low * share * 1000, None, ": 1", "", 0, 0)
    return Amount("odd", None, None, "", "", 0, 0)


def _temperature(kind: str, match: re.Match[str]) -> Amount | None:
    groups = match.groupdict()
    if groups.get("low") is None:
        low = number(match["low2"])
        high = number(match["high2"]) if match["high2"] else low
        return Amount("temperature", low, high, "", "", 0, 0, scale=False)
    low, high = _ends(match)
    said = (groups.get("scale") or "").lower()
    unit = "" if not said else "°F" if said.startswith("f") else "°C"
    return Amount("temperature", low, high, unit, "", 0, 0, scale=bool(unit))


def _many(kind: str, match: re.Match[str]) -> Amount | None:
    unit = meanings("unit")[match["unit"].lower()]
    low = number(match["count"]) * number(match["low"])
    return Amount(vocabulary().units[unit].kind, low, low, unit, "", 0, 0)


SIZES = {"us": "US", "u.s.": "US", "american": "US", "aus": "aus", "australian": "aus"}


def _measure(kind: str, match: re.Match[str]) -> Amount | None:
    groups = match.groupdict()
    spelt = " ".join(match["unit"].lower().split())
    unit = meanings("unit")[spelt]
    if "last" in (groups.get("article") or "") and vocabulary().units[unit].name in ("d", "wk"):
        return Amount("figure", None, None, "", "", 0, 0)
    timed = groups.get("low") is not None and number(match["low"]) >= 5
    if (spelt == "second" and not timed) or (
        spelt == "c" and groups.get("low") and number(match["low"]) > 8
    ):
        return None
    if groups.get("low") is not None:
        low, high = _ends(match)
    else:
        low = Fraction(1)
        high = number(groups["high"]) if groups.get("high") else low
    if groups.get("more"):
        said = groups["more"].replace("and", "", 1).replace(" a ", " one ").split()
        more = number(" ".join(said))
        low, high = low + more, high + more
    size = (groups.get("size") or groups.get("sized") or "").lower()
    if size:
        prefix = SIZES.get(size, "imp")
        if f"{prefix} {unit}" not in vocabulary().units:
            return Amount("odd", low, high, f"{size} {unit}", "", 0, 0)
        unit = f"{prefix} {unit}"
    known = vocabulary().units[unit]
    if groups.get("second"):
        second = vocabulary().units[meanings("unit")[match["unit2"].lower()]]
        if second.kind != known.kind:
            raise ValueError(match[0])
        extra = number(match["second"]) * second.factor / known.factor
        low, high = low + extra, high + extra
    return Amount(
        known.kind,
        low,
        high,
        unit,
        "",
        0,
        0,
        about=bool(groups.get("ish")),
        each=bool(groups.get("each")),
    )


def _quarters(kind: str, match: re.Match[str]) -> Amount | None:
    unit = meanings("unit")[match["unit"].lower()]
    said = match["low"].lower().replace("-", " ")
    low = Fraction(3, 4) if said.startswith("three") else number(said)
    return Amount(vocabulary().units[unit].kind, low, low, unit, "", 0, 0)


def _level(kind: str, match: re.Match[str]) -> Amount | None:
    found = re.match(_number(), match[0], re.I)
    low = number(found[0]) if found else Fraction(1)
    unit = meanings("unit")[match["unit"].lower()]
    return Amount(vocabulary().units[unit].kind, low, low, unit, "", 0, 0)


def _times(kind: str, match: re.Match[str]) -> Amount | None:
    said = match[0].lower()
    before = match.string[max(0, match.start() - 20) : match.start()].rstrip().lower()
    if said.startswith("once") and not before.endswith(("rinse", "wash", "dip", "it")):
        return None
    if said in ("one rinses", "one dips", "one washes"):
        return None
    if "day" in said:
        return Amount("odd", None, None, "", "", 0, 0)
    fixed = {"once": 1, "twice": 2, "thrice": 3}.get(said.split()[0])
    if fixed:
        return Amount("times", Fraction(fixed), Fraction(fixed), "times", "", 0, 0)
    found = re.match(rf"(?P<low>{_number()})(?:\s*(?:-|to|or)\s*(?P<high>{_number()}))?", said)
    if found is None:
        return None
    low, high = _ends(found)
    return Amount("times", low, high, "times", "", 0, 0)


def _hours_and_minutes(kind: str, match: re.Match[str]) -> Amount | None:
    hours = Fraction(int(match["h"])) + Fraction(int(match["m"]), 60)
    return Amount("time", hours, hours, "h", "", 0, 0)


def _both(kind: str, match: re.Match[str]) -> Amount | None:
    """An hour and ten minutes; None where the two are of different kinds."""
    units = vocabulary().units
    first = units[meanings("unit")[match["unit"].lower()]]
    second = units[meanings("unit")[match["unit2"].lower()]]
    if first.kind != second.kind:
        return None
    low = 1 + number(match["second"]) * second.factor / first.factor
    return Amount(first.kind, low, low, first.name, "", 0, 0)


def _full(kind: str, match: re.Match[str]) -> Amount | None:
    found = re.match(_number(), match[0], re.I)
    assert found is not None
    return Amount("full", number(found[0]), None, "", "", 0, 0)


def _named(kind: str, match: re.Match[str]) -> Amount | None:
    behind = match.string[match.end() : match.end() + 12]
    if re.match(r"\s+(?:it|them|the|up|this)\b", behind) and match[0].lower() in ("warm", "cool"):
        return None
    word = meanings(kind)[" ".join(match[0].lower().split())]
    heat = vocabulary().heats[word]
    return Amount(
        "named heat" if kind == "heat" else "named wait", heat.low, heat.high, word, "", 0, 0
    )


def _number_alone(kind: str, match: re.Match[str]) -> Amount | None:
    said = match[0].lower()
    if said in ("one", "half", "second", "third", "quarter", "fourth", "a half", "fifth"):
        if said == "second":
            return None
        # A pronoun, or the beginning of a phrase that is not known as an amount.
        return Amount("figure", None, None, "", "", 0, 0)
    low, high = _ends(match)
    return Amount("number", low, high, "", "", 0, 0)


def _loose(kind: str, match: re.Match[str]) -> Amount | None:
    return Amount("loose", None, None, "some", "", 0, 0)


MAKERS: dict[str, Callable[[str, re.Match[str]], Amount | None]] = {
    "figure": _figure,
    "acidity": _acidity,
    "ratio": _ratio,
    "relative": _plain,
    "rate": _plain,
    "share": _share,
    "strength": _strength,
    "each": _each,
    "temperature": _temperature,
    "many": _many,
    "measure": _measure,
    "quarters": _quarters,
    "article odd": _plain,
    "odd": _level,
    "times": _times,
    "wait": _named,
    "full": _full,
    "both": _both,
    "clock": _hours_and_minutes,
    "number": _number_alone,
    "heat": _named,
    "loose": _loose,
}


def figures_left(text: str, found: list[Amount]) -> list[tuple[int, str]]:
    """Figures that no amount covers, with where they begin."""
    covered = bytearray(len(text))
    for one in found:
        covered[one.start : one.end] = b"\x01" * (one.end - one.start)
    every = re.finditer(r"\d[\d.,/]*", text)
    return [(match.start(), match[0]) for match in every if not covered[match.start()]]
