"""From the words that a pattern found to the amount they mean."""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.amount_writing import figure
from procedure.draft.lexicon import meanings
from procedure.draft.spelt_numbers import number, number_pattern
from procedure.vocabulary import Unit, vocabulary


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
    low, high = number(match["low"]), number(match["high"])
    return Amount("ratio", high / low if low <= high else low / high, None, ": 1", "", 0, 0)


def _plain(kind: str, match: re.Match[str]) -> Amount | None:
    words = match[0].lower().split()
    exact = any(meanings("odd unit").get(word) == "exact" for word in words)
    exact = exact or words[-1] in ("one", "half", "rest", "other", "stays", "last")
    vessels = any(meanings("odd unit").get(word) == "bucket" for word in words)
    exact = (
        exact
        or (words[0][0].isdigit() and not vessels)
        or any(word in ("part", "parts") for word in words)
        or "in" in words
        or "once" in words
    )
    return Amount(kind.split()[-1], None, None, "exact" if exact else "", "", 0, 0)


def _rate(kind: str, match: re.Match[str]) -> Amount | None:
    """So many degrees a minute; None for a heat and a time that stand side by side."""
    said = match["low"].lower()
    often = " every " in f" {match[0].lower()} "  # "20 degrees every 10 minutes"
    fast = not often and said not in ("a", "an") and number(said) > limits.FASTEST_RISE
    return None if fast else _plain(kind, match)


# Calendar times that the language has no unit for: how long each is, and whether that is loose.
CALENDAR = {"night": (1, "d", True), "fortnight": (2, "wk", False), "month": (30, "d", True)}


def _prime(kind: str, match: re.Match[str]) -> Amount | None:
    """Minutes by their sign: 45'."""
    low, high = _ends(match)
    return Amount("time", low, high, "min", "", 0, 0)


def _spoonmark(kind: str, match: re.Match[str]) -> Amount | None:
    """American cooks write T for a tablespoon and t for a teaspoon."""
    low = number(match["low"])
    unit = "teaspoon" if match["unit"] == "t" else "tablespoon"
    return Amount("spoon", low, low, unit, "", 0, 0)


def _timesmark(kind: str, match: re.Match[str]) -> Amount | None:
    low = Fraction(match["low"])
    return Amount("times", low, low, "times", "", 0, 0)


# "It takes about 3 months of cooking to save so many": of no step.
SAVED_UP = re.compile(
    r"\b(?:takes?|took|taken)\s+(?:me|us|you|him|her)?\s*(?:about|some|around)?\s*$", re.I
)


def _calendar(kind: str, match: re.Match[str]) -> Amount | None:
    """Two nights, a fortnight, a month: nights and months are about so many days."""
    before = match.string[max(0, match.start() - 32) : match.start()]
    if not match["unit"].lower().startswith("night") and SAVED_UP.search(before):
        return Amount("figure", None, None, "", "", 0, 0)
    many, unit, loose = CALENDAR[match["unit"].lower().rstrip("s")]
    low = number(match["low"]) * many if match["low"] else Fraction(many)
    return Amount("time", low, low, unit, "", 0, 0, about=loose)


def _share(kind: str, match: re.Match[str]) -> Amount | None:
    low, high = _ends(match)
    return Amount("share", low, high, "%", "", 0, 0, base="wof" if match["basis"] else "")


def _strength(kind: str, match: re.Match[str]) -> Amount | None:
    low, high = _ends(match)
    unit = "mL/L" if match["top"].lower() == "ml" else "g/L"
    return Amount("strength", low, high, unit, "", 0, 0)


def _per(parts: Fraction, unit: str) -> str:
    return unit if parts == 1 else f"{float(parts):g} {unit}"


def _each(kind: str, match: re.Match[str]) -> Amount | None:
    """So much for each pound or litre: a share of the fibre, or a strength of the bath."""
    one = Fraction(1), Fraction(1)  # "an ounce to the pound"
    low, high = _ends(match) if match["low"] else one
    units = vocabulary().units
    top = units.get(_sized(match, meanings("unit")[match["unit"].lower()]))
    if top is None:
        return None
    found = re.fullmatch(rf"(?P<n>{number_pattern()})?\s*(?P<unit>\D+)", match["per"], re.I)
    if found is None:
        raise ValueError(match["per"])
    below = units[meanings("unit")[found["unit"].lower().strip()]]
    parts = number(found["n"]) if found["n"] else Fraction(1)
    if "/" in match[0] and parts > 1 and below.kind == "volume":
        return None  # "75 g/8 L" are two amounts
    if top.kind == "time" or below.kind == "time":
        return None
    here, there = low * top.factor, parts * below.factor
    if "/" in match[0] and top.kind == below.kind and abs(here - there) <= there * limits.ROUNDED:
        return None  # "680 g / 1½ lb of wool" are the same weight
    if top.kind == "volume" and below.kind == "mass":
        return _liquor(low, high, top, parts, below)
    if below.vague or top.vague:
        return Amount("odd", None, None, "exact", "", 0, 0)
    share = top.factor / below.factor / parts
    if top.kind == below.kind == "mass":
        return Amount(
            "share", low, high, top.name, "", 0, 0, base="wof", per=_per(parts, below.name)
        )
    if top.kind == "mass" and below.kind == "volume":
        return Amount("strength", low * share, high * share, "g/L", "", 0, 0)
    return Amount("odd", None, None, "", "", 0, 0)


def _to_so_much(kind: str, match: re.Match[str]) -> Amount | None:
    """Three pounds of a plant to four of fibre."""
    low, names = number(match["low"]), meanings("unit")
    unit = names[match["unit"].lower()]
    below = names[match["below"].lower()] if match["below"] else unit
    per = _per(number(match["many"]), below)
    return Amount("share", low, low, unit, "", 0, 0, base="wof", per=per)


def _liquor(low: Fraction, high: Fraction, top: Unit, parts: Fraction, below: Unit) -> Amount:
    """Water to a weight of fibre: litres to the kilogram, and as the language writes it."""
    one = Fraction(1000) / below.factor / parts
    many = figure(low) if low == high else f"{figure(low)} to {figure(high)}"
    said = f"{many} {top.name} per {_per(parts, below.name)}"
    ends = low * top.factor * one, high * top.factor_high * one
    return Amount("ratio", *ends, ": 1", "", 0, 0, reading=said)


def _temperature(kind: str, match: re.Match[str]) -> Amount | None:
    groups = match.groupdict()
    if groups.get("low") is None:
        low = number(match["low2"])
        high = number(match["high2"]) if match["high2"] else low
        return Amount("temperature", low, high, "", "", 0, 0, scale=False)
    low, high = _ends(match)
    ends = re.fullmatch(r"(\d\d+)/(\d\d+)", match["low"])
    if ends and int(ends[1]) < int(ends[2]):  # 75/80 °C: from one to the other
        low, high = Fraction(ends[1]), Fraction(ends[2])
    said = (groups.get("scale") or "").lower()
    unit = "" if not said else "°F" if said.startswith("f") else "°C"
    return Amount("temperature", low, high, unit, "", 0, 0, scale=bool(unit))


def _spoken(kind: str, match: re.Match[str]) -> Amount | None:
    """A heat as it is spoken: "one eighty Fahrenheit"."""
    low = number(match["hundred"]) * 100 + number(match["rest"])
    unit = "°F" if match["scale"].lower().startswith("f") else "°C"
    return Amount("temperature", low, low, unit, "", 0, 0)


RINSED = re.compile(r"\b(?:rins(?:e|ed|ing)|wash(?:ed|ing)?)\b[^.;\n]*$", re.I)


def _many(kind: str, match: re.Match[str]) -> Amount | None:
    unit = meanings("unit")[match["unit"].lower()]
    if vocabulary().units[unit].kind == "time":
        return None  # "3 x 2 minutes" are three times, and not six minutes
    before = match.string[max(0, match.start() - 32) : match.start()]
    if vocabulary().units[unit].kind == "volume" and RINSED.search(before):
        return None  # "rinse, 3 x 5 L": three times, each in so much
    low = number(match["count"]) * number(match["low"])
    return Amount(vocabulary().units[unit].kind, low, low, unit, "", 0, 0)


VESSEL_OF = re.compile(r"\s+(?:jug|jar|bucket|tin|basin|bowl|bag)s?\s+(?:full\s+)?of\b", re.I)
SIZES = {"us": "US", "u.s.": "US", "american": "US", "aus": "aus", "australian": "aus"}


SO_MUCH_A = re.compile(r"\d\s?(?:g|kg|lbs?|oz|pieces|skeins|l|litres|pounds)\s+$", re.I)


def _measure(kind: str, match: re.Match[str]) -> Amount | None:
    groups = match.groupdict()
    spelt = " ".join(match["unit"].lower().split())
    unit = meanings("unit")[spelt]
    if "last" in (groups.get("article") or "") and vocabulary().units[unit].name in ("d", "wk"):
        return Amount("figure", None, None, "", "", 0, 0)
    if spelt == "in" and not re.match(
        r"\s*(?:[.,;)]|wide|long|thick|$)", match.string[match.end() :]
    ):
        return None
    if VESSEL_OF.match(match.string, match.end()):
        return Amount("odd", None, None, "", "", 0, 0)  # "a litre jug of cones", loosely filled
    one_day = unit == "d" and (groups.get("article") or "").lower() in ("a", "an", "each", "per")
    if one_day and SO_MUCH_A.search(match.string[: match.start()][-16:]):
        return Amount("figure", None, None, "", "", 0, 0)  # "up to 450 g a day"
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
        said = re.sub(r"and|&", "", groups["more"], count=1).replace(" a ", " one ").split()
        more = number(" ".join(said))
        low, high = low + more, high + more
    sized = _sized(match, unit)
    if sized not in vocabulary().units:
        return Amount("odd", low, high, f"{_size(match)} {unit}", "", 0, 0)
    unit = sized
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
        about=bool(groups.get("ish") or groups.get("so")),
        each=bool(groups.get("each")),
    )


def _size(match: re.Match[str]) -> str:
    """Whose gallon it is, as the prose says it; empty where it does not."""
    groups = match.groupdict()
    return (groups.get("size") or groups.get("sized") or "").lower()


def _sized(match: re.Match[str], unit: str) -> str:
    """A unit with whose it is: US gal, imp pt."""
    size = _size(match)
    return f"{SIZES.get(size, 'imp')} {unit}" if size else unit


def _old_measure(kind: str, match: re.Match[str]) -> Amount | None:
    """An old unit that is a fixed part of one that the language has: a gill is a quarter pint."""
    many, _, unit = meanings("old unit")[" ".join(match["unit"].lower().split())].partition(" ")
    low, high = _ends(match) if match["low"] else (Fraction(1), Fraction(1))
    if match["more"]:
        more = number(re.sub(r"and|&", "", match["more"], count=1).replace(" a ", " one "))
        low, high = low + more, high + more
    each = Fraction(many)
    kind = vocabulary().units[unit].kind
    return Amount(kind, low * each, high * each, unit, "", 0, 0)


def _elliptic_hour(kind: str, match: re.Match[str]) -> Amount | None:
    """Three quarters of the hour that is not said."""
    return Amount("time", Fraction(3, 4), Fraction(3, 4), "h", "", 0, 0)


def _quarters(kind: str, match: re.Match[str]) -> Amount | None:
    unit = meanings("unit")[match["unit"].lower()]
    said = match["low"].lower().replace("-", " ").removeprefix("the ")
    low = Fraction(3, 4) if said.startswith("three") else number(said)
    return Amount(vocabulary().units[unit].kind, low, low, unit, "", 0, 0)


def _level(kind: str, match: re.Match[str]) -> Amount | None:
    found = re.match(number_pattern(), match[0], re.I)
    low = number(found[0]) if found else Fraction(1)
    unit = meanings("unit")[match["unit"].lower()]
    return Amount(vocabulary().units[unit].kind, low, low, unit, "", 0, 0)


# "Rinse the warp once", "simmered and rinsed once": how often something is done.
ONCE_DONE = re.compile(
    r"\b(?:rins(?:e|ed)|wash(?:ed)?|dip(?:ped)?)(?:\s+(?:(?:the|your|my|each|every)\s+)?[a-z]+){0,2}$"
)


def _times(kind: str, match: re.Match[str]) -> Amount | None:
    said = match[0].lower()
    before = match.string[max(0, match.start() - 32) : match.start()].rstrip().lower()
    if "day" in said:
        return Amount("odd", None, None, "exact", "", 0, 0)
    if said.startswith("once") and before.endswith(" at"):
        return None  # "rinse at once"
    if said.startswith("once") and not (
        before.endswith(("rinse", "wash", "dip", "it")) or ONCE_DONE.search(before)
    ):
        return None
    if said in ("one rinses", "one dips", "one washes"):
        return None
    fixed = {"once": 1, "twice": 2, "thrice": 3}.get(said.split()[0])
    if said.endswith("time"):
        fixed = 1
    if fixed:
        return Amount("times", Fraction(fixed), Fraction(fixed), "times", "", 0, 0)
    found = re.match(
        rf"(?P<low>{number_pattern()})(?:\s*(?:-|to|or)\s*(?P<high>{number_pattern()}))?", said
    )
    if found is None:
        return None
    low, high = _ends(found)
    return Amount("times", low, high, "times", "", 0, 0)


def _hours_and_minutes(kind: str, match: re.Match[str]) -> Amount | None:
    said_h, said_m = match["h"] or match["h2"], match["m"] or match["m2"]
    hours = Fraction(int(said_h)) + Fraction(int(said_m), 60)
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


# Before "30m", which are minutes there and no metres: "boil 90m", "hold 30m", "for 20m".
TIMED = re.compile(
    r"\b(?:hold|boil\w*|simmer\w*|soak\w*|steep\w*|stew\w*|cook\w*|dye\w*|dip\w*|stir\w*|wait|rest|cool"
    r"|leave|keep|steam\w*|mordant\w*|wash|rinse|air|in|for|after|about|another|then|at\s+\S{2,8})"
    r"\s+(?:it\s+|them\s+)?(?:for\s+|about\s+|another\s+)*$",
    re.I,
)
OF_CLOTH = re.compile(
    r"\s*(?:of\b|long\b|wide\b|x\b|squared?\b|cloth|fabric|cotton|calico|linen)", re.I
)


def _short_seconds(kind: str, match: re.Match[str]) -> Amount | None:
    """The seconds of "dip for 30 s"."""
    low, high = _ends(match)
    return Amount("time", low, high, "s", "", 0, 0)


def _short_minutes(kind: str, match: re.Match[str]) -> Amount | None:
    """The minutes of "boil 90m"; None where metres may be meant."""
    low, high = _ends(match)
    before = match.string[max(0, match.start() - 40) : match.start()]
    if not TIMED.search(before) or OF_CLOTH.match(match.string, match.end()):
        return None
    return Amount("time", low, high, "min", "", 0, 0)


def _full(kind: str, match: re.Match[str]) -> Amount | None:
    found = re.match(number_pattern(), match[0], re.I)
    assert found is not None
    return Amount("full", number(found[0]), None, "", "", 0, 0)


# Behind a word of heat: it is the heat of no bath.
NO_HEAT = (
    r"\s+(?:\w+\s+)?(?:place|room|spot|corner|day|sun|weather|hands?|colou?r|shade|tone|brown|red|yellow"
    r"|climate|iron|summer|winter|air)\b"
)


# "Check it with a pail of cold", "add the hot": water, and no heat of the bath.
COLD_ALONE = re.compile(r"\b(?:of|the)\s+$", re.I)
COLD_ENDS = re.compile(r"\s*(?:[.,;:)]|$|and\b|to\b)")


def _by_hand(kind: str, match: re.Match[str]) -> Amount | None:
    heat = vocabulary().heats["hand-hot"]
    return Amount("named heat", heat.low, heat.high, "hand-hot", "", 0, 0)


def _named(kind: str, match: re.Match[str]) -> Amount | None:
    behind = match.string[match.end() : match.end() + 24]
    if re.match(
        r"\s+(?:it|them|the|up|this|to|until|till|through|gently|slowly)\b", behind
    ) and match[0].lower() in ("warm", "cool"):
        return None
    if re.match(NO_HEAT, behind) or (
        COLD_ALONE.search(match.string[max(0, match.start() - 8) : match.start()])
        and match[0].lower() in ("cold", "hot", "warm")
        and COLD_ENDS.match(behind)
    ):
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
    "rate": _rate,
    "share": _share,
    "strength": _strength,
    "each": _each,
    "to so much": _to_so_much,
    "temperature": _temperature,
    "spoken": _spoken,
    "many": _many,
    "measure": _measure,
    "quarters": _quarters,
    "elliptic hour": _elliptic_hour,
    "old measure": _old_measure,
    "article odd": _plain,
    "calendar": _calendar,
    "prime": _prime,
    "spoonmark": _spoonmark,
    "timesmark": _timesmark,
    "odd": _level,
    "times": _times,
    "wait": _named,
    "short minutes": _short_minutes,
    "short seconds": _short_seconds,
    "full": _full,
    "both": _both,
    "clock": _hours_and_minutes,
    "number": _number_alone,
    "heat": _named,
    "by hand": _by_hand,
    "loose": _loose,
}
