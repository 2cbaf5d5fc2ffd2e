"""Holds drafts against what was worked out by hand: each amount with its thing and its step.

``python tests/prose_measure.py open`` prints the sums, and with ``-v`` every amount that is
not placed right. An amount is

- *right* where a line of the draft holds it, the model of the draft reads the same value there, and
  thing and step are those of the hand-made sheet;
- *noted* where the language has no form for it and it stands, in the words of the prose, as a note
  of the step that it belongs to: by the clock, every so often, next day;
- *wrong* where a line holds it otherwise, or it is no amount of the work at all;
- *left* where it stands as a comment "not placed" or "not read" at its sentence;
- *lost* where it is neither;
- *invented* is an amount of the model that no words of the prose stand behind.
"""

from __future__ import annotations

import html
import re
import sys
import tomllib
from collections import Counter
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any, NamedTuple

from prose_table import sheet_of_table

from procedure import pipeline
from procedure.draft import Draft, drafted
from procedure.draft.amount import Amount
from procedure.draft.cleaning import EVEN, LIGATURES, decoded_prose
from procedure.draft.lexicon import fibres, meanings
from procedure.model.types import Block
from procedure.vocabulary import vocabulary

PROSE = Path(__file__).parent / "trials" / "prose"
FIBRE = re.compile(
    rf"{'|'.join(re.escape(one) for one in sorted([*fibres(), *meanings('fibre')], key=len))}"
    r"|wool|yarn|cotton|silk|linen|skein|lot|cloth|scarf|napkin|fleece|merino|fibre|goods|socks?"
    r"|alpaca|mohair|flannel|hemp|warps?|specimens?|bundle|shirt|shawl|fabric|hank|handkerchief|garment|stocking|blanket|wool"
)
VESSEL = re.compile(
    r"pot|vessel|vat|pan|kettle|copper|drum|bucket|pail|tub|jar|boiler|bowl|basin|\bbin\b"
)
BELOW_THE_BOIL = " below the boil"  # "do not let it boil"
LINE = re.compile(r"^\s*(?:(?P<label>[\w-]+): )?(?P<verb>wet out|draw off|top up|\w+)\b")


class Verdict(NamedTuple):
    """What became of one amount of the sheet, and why."""

    outcome: str
    words: str
    why: str


def text_of(path: Path) -> str:
    """The prose of a file in whatever code page it is."""
    return decoded_prose(path.read_bytes())


def squeezed(text: str) -> tuple[str, list[int]]:
    """Letters and figures alone, those that scanners mix up made one, with their places."""
    letters: list[str] = []
    places: list[int] = []
    for place, letter in enumerate(text.lower()):
        if letter.isalnum() or letter in "½¼¾⅓⅔%°":
            letters.append({"i": "1", "l": "1", "o": "0"}.get(letter, letter))
            places.append(place)
    return "".join(letters), places


class Baths(NamedTuple):
    """For each line of a draft: whether fibre is in the bath, and what the bath holds."""

    fibre_in: dict[int, bool]
    holds: dict[int, set[str]]
    verb: dict[int, str]


def followed(draft: Draft) -> Baths:
    """Reads the draft's own lines, apart from the code that wrote them."""
    fibre_in: dict[int, bool] = {}
    holds: dict[int, set[str]] = {}
    verbs: dict[int, str] = {}
    inside = ""
    contents: dict[str, set[str]] = {}
    current = ""
    for number, line in enumerate(draft.text.splitlines(), 1):
        found = LINE.match(line)
        if line.lstrip().startswith("#") or found is None:
            continue
        verb = found["verb"].split()[0]
        code = line.partition("#")[0]
        if found["label"] and verb in ("prepare", "dissolve"):
            contents[found["label"]] = set()
            if verb == "prepare":
                current = found["label"]
        names = [
            name for name in contents if re.search(rf"(?<![\w-]){re.escape(name)}(?![\w-])", code)
        ]
        bath = current = names[0] if names else current
        for name in re.findall(r"([\w-]+) (?:about )?(?:\d|unstated|some|a |at |half)", code):
            if bath in contents and verb in ("prepare", "add", "dissolve"):
                contents[bath].add(name)
        if verb in ("dye", "mordant", "enter", "steep", "modify"):
            inside = bath
        if verb in ("lift", "rinse", "wash", "dry", "air", "squeeze", "wet", "scour", "degum"):
            inside = ""
        verbs[number] = verb
        fibre_in[number] = verb == "dip" or (bool(inside) and inside == bath)
        holds[number] = set(contents.get(bath, set()))
    return Baths(fibre_in, holds, verbs)


def judge(draft: Draft, sheet: dict[str, Any]) -> tuple[list[Verdict], list[str]]:
    """A verdict for each amount of the sheet, and the amounts that are invented."""
    model = pipeline.read(draft.text, "draft").model
    by_line: dict[int, list[Any]] = {}
    for one in model.written:
        by_line.setdefault(one.quantity.place.line, []).append(one)
    baths = followed(draft)
    prose, places = squeezed(draft.prose)
    verdicts: list[Verdict] = []
    claimed: list[tuple[int, int]] = []
    for amount in sheet["amount"]:
        amount = {"thing": "", "step": ""} | amount
        start, end = _found(amount["words"], draft.prose, prose, places, claimed)
        verdicts.append(_verdict(draft, amount, start, end, by_line, model, baths))
    verdicts += _no_amounts(draft, sheet, prose, places)
    return verdicts, _invented(draft, by_line, model)


def _found(
    words: str, text: str, prose: str, places: list[int], claimed: list[tuple[int, int]]
) -> tuple[int, int]:
    """Where words of a sheet stand: as they are written, or else letters and figures alone."""
    words = html.unescape(re.sub(r"<[^>]*>", "", words)).translate(EVEN)
    for joined, apart in LIGATURES.items():
        words = words.replace(joined, apart)
    plain = r"\s+".join(re.escape(word) for word in words.split())
    begin = r"(?<![\d./])" if words[:1].isdigit() else r"(?<![A-Za-z])"
    for match in re.finditer(f"{begin}{plain}", text):
        ends_in_word = words[-1:].isalnum() and text[match.end() : match.end() + 1].isalnum()
        start = _figures_at(text, *match.span())
        if not _is_claimed(start, match.span(), claimed) and not ends_in_word:
            claimed.append((start, match.end()))
            return match.span()
    wanted = squeezed(words.replace("simrner", "simmer"))[0]
    at = prose.find(wanted)
    while at >= 0:
        span = places[at], places[at + len(wanted) - 1] + 1
        start = _figures_at(text, *span)
        if not _is_claimed(start, span, claimed) and not _amid_figures(wanted, prose, at):
            claimed.append((start, span[1]))
            return span
        at = prose.find(wanted, at + 1)
    return _behind_what_is_claimed(text, plain, claimed)


def _is_claimed(start: int, span: tuple[int, int], claimed: list[tuple[int, int]]) -> bool:
    """True where another entry has this place, or words about it: the hour of "half an hour"."""
    within = any(low < span[0] and span[1] <= high for low, high in claimed)
    return within or any(start == low for low, _ in claimed)


def _behind_what_is_claimed(
    text: str, plain: str, claimed: list[tuple[int, int]]
) -> tuple[int, int]:
    """The amount of "55 C, 20 L" whose first figures an amount before it has: the 20 L."""
    taken = {low for low, _ in claimed}
    for match in re.finditer(plain, text):
        figures = [one.start() for one in re.compile(r"\d[\d.,/]*").finditer(text, *match.span())]
        free = [at for at in figures if at not in taken]
        if free and len(free) < len(figures):
            claimed.append((free[0], match.end()))
            return free[0], match.end()
    # One amount for two things, "2 oz of each": both entries of the sheet have the same words.
    found = list(re.finditer(plain, text))
    return found[0].span() if len(found) == 1 else (-1, -1)


def _figures_at(text: str, start: int, end: int) -> int:
    """Where the first figure of a stretch stands; its beginning where it has none."""
    figure = re.compile(r"\d").search(text, start, end)
    return figure.start() if figure else start


def _amid_figures(wanted: str, prose: str, at: int) -> bool:
    """True where a number would be found inside a longer one."""
    behind = prose[at + len(wanted) : at + len(wanted) + 1]
    plain = prose[at : at + len(wanted) + 1]
    return len(wanted) < 3 and plain.isdigit() and behind in ("0", "5") and wanted != "2"


def _verdict(
    draft: Draft,
    amount: dict[str, Any],
    start: int,
    end: int,
    by_line: dict[int, list[Any]],
    model: Any,
    baths: Baths,
) -> Verdict:
    words = amount["words"]
    if start < 0:
        return Verdict("lost", words, "the words are not found in the even prose")
    over = [p for p in draft.placed if p.amount.start < end and start < p.amount.end]
    why = ""
    for placed in over:
        sign = draft.text.splitlines()[placed.line - 1]
        if amount["kind"] == "heat" and placed.amount.kind == "odd" and ' until "' in sign:
            return Verdict("right", words, "")  # "till cold": the sign of a step
        if not _kind_fits(placed.amount, amount) and (len(over) > 1 or amount["kind"] == "heat"):
            continue
        why = _wrong(placed.amount, placed.line, amount, by_line, model, baths, draft)
        if not why:
            return Verdict("right", words, "")
    if why.startswith("value") and _is_quoted(draft, over):
        return Verdict("left", words, "")
    if why:
        return Verdict("wrong", words, why)
    kept = [p for p in draft.noted if p.amount.start < end and start < p.amount.end]
    if kept:
        line = kept[0].line
        text = draft.text.splitlines()[line - 1].strip()
        fits = amount["kind"] not in ("time", "heat") or _step_fits(line, amount, baths, text)
        return Verdict("noted" if fits else "wrong", words, "" if fits else f"note: {text}")
    if any(a.start < end and start < a.end and _kind_may(a, amount) for a in draft.left):
        return Verdict("left", words, "")
    if amount["kind"] == "heat":
        return _heat_of_verb(draft, amount, start, end, baths)
    if any(a.start < end and start < a.end for a in draft.left):
        return Verdict("left", words, "")
    return _in_the_words_not_read(draft, words, start, end, "no line and no comment")


def _is_quoted(draft: Draft, over: list[Any]) -> bool:
    """True where the line says "some" and has the words of the amount in its comment."""
    lines = draft.text.splitlines()
    return any(
        re.search(r"\bsome\b[^#]*#.*“" + re.escape(placed.amount.words), lines[placed.line - 1])
        for placed in over
    )


KINDS = {
    "weight": ("mass", "relative", "count", "share"),
    "volume": ("volume", "spoon", "odd"),
    "heat": ("temperature", "number", "named heat", "verb heat"),
    "time": ("time", "named wait", "odd", "number", "figure", "relative"),
    "share": ("share", "relative", "full", "number", "loose"),
    "ratio": ("ratio", "share", "relative"),
    "strength": ("strength", "share"),
    "count": ("times", "count", "odd", "number", "figure"),
    "pH": ("acidity", "number"),
    "loose": ("loose", "spoon", "odd"),
    "rate": ("rate",),
    "length": ("length",),
}


def _kind_fits(found: Amount, amount: dict[str, Any]) -> bool:
    if found.kind == "temperature" and found.scale is False and amount["kind"] == "strength":
        return False
    return found.kind in KINDS[amount["kind"]]


def _kind_may(found: Amount, amount: dict[str, Any]) -> bool:
    return _kind_fits(found, amount) or found.kind in ("odd", "number", "relative", "figure")


def _wrong(
    found: Amount,
    line: int,
    amount: dict[str, Any],
    by_line: dict[int, list[Any]],
    model: Any,
    baths: Baths,
    draft: Draft,
) -> str:
    """Why a placed amount is placed wrong; empty where it is right."""
    here = by_line.get(line, [])
    text = draft.text.splitlines()[line - 1].strip()
    if found.kind == "times":
        low = amount.get("low")
        right = low is not None and (f"repeat {low:g}" in text or low == 1)
        right = right or (low is not None and _has_a_last(draft, line, low))
        return "" if right else f"count: {text}"
    if found.kind == "named wait" and amount.get("unit") == "named":
        fits = found.unit in text and _step_fits(line, amount, baths, text)
        return "" if fits else f"step {amount['step']} / {amount['thing']}: {text}"
    if amount["step"].startswith("base of"):
        told = " per " in text or _is_the_lot(amount, here)
        # "1 ml to 1 l": as well where the line has the litre itself.
        told = told or (
            amount["kind"] == "volume" and any(_same(one.quantity, amount, found) for one in here)
        )
        return "" if told else f"base: {text}"
    if BELOW_THE_BOIL in text and found.kind == "verb heat" and found.unit == "boil":
        return "" if "low" not in amount else f"value: {text}"
    if found.kind == "verb heat" or (
        found.kind == "named heat" and baths.verb.get(line) == found.unit
    ):
        right = baths.verb.get(line) == found.unit and _step_fits(line, amount, baths, text)
        return "" if right else f"step {amount['step']}: {text}"
    if found.kind == "acidity":
        return "" if f"pH {amount.get('low', amount.get('high')):g}" in text else f"value: {text}"
    rise = "from {low:g} °C to {high:g} °C" if amount["kind"] == "heat" and "high" in amount else ""
    if rise and "low" in amount and rise.format(**amount) in text:
        return ""
    matched = [
        one
        for one in here
        if _same(one.quantity, amount, found)
        or (one.quantity.reading is not None and _same(one.quantity.reading, amount, found))
        or _same_of_the_lot(one.quantity, amount, model)
    ]
    if not matched:
        return f"value: {text}"
    if text.startswith("split ") and FIBRE.search(amount["thing"]):
        return ""  # how much of the fibre is parted from the rest, for what is done with it
    stuff = amount["kind"] in ("weight", "volume", "share", "ratio", "strength", "loose", "count")
    if stuff and not any(_thing_fits(one, amount, model, text) for one in matched):
        return f"thing {amount['thing']}: {text}"
    if not _step_fits(line, amount, baths, text):
        return f"step {amount['step']} / {amount['thing']}: {text}"
    return ""


LAST_RINSE = re.compile(r"(?:rinse|wash) .* in tub with ")


def _has_a_last(draft: Draft, line: int, low: float) -> bool:
    """True where the last of so many rinses is a line of its own, with what goes into it."""
    lines = [one.strip() for one in draft.text.splitlines()[line - 1 : line + 6]]
    here = [one for one in lines if not one.startswith("#")]
    fits = low == 2 or here[0].startswith(f"repeat {low - 1:g} ")
    return fits and any(LAST_RINSE.match(one) for one in here[1 : 2 if low == 2 else 3])


def _is_the_lot(amount: dict[str, Any], here: list[Any]) -> bool:
    """True for the 10 lb that the amounts are for, where the lot is declared to weigh so much."""
    return any(
        one.role == "weight"
        and _same_weight(one.quantity, amount.get("low"), amount.get("unit", ""))
        for one in here
    )


def _same_weight(quantity: Any, low: Any, unit: str) -> bool:
    known = known_units().get(unit)
    if known is None or low is None or quantity.low is None:
        return False
    wanted = Fraction(str(low)) * known.factor
    return bool(abs(quantity.low - wanted) <= wanted / 50)


def _same_of_the_lot(quantity: Any, amount: dict[str, Any], model: Any) -> bool:
    """True for 4 oz where the sheet has "4 oz per 10 lb" and the one lot weighs 10 lb."""
    lots = list(model.lots.values())
    whole = lots[0].weight if len(lots) == 1 else None
    share = amount["kind"] == "share" and amount.get("unit") == "% wof" and "low" in amount
    if not share or quantity.kind != "mass" or whole is None or not whole.low:
        return False
    wanted = Fraction(str(amount["low"])) / 100
    return bool(quantity.low and abs(quantity.low / whole.low - wanted) <= wanted / 50)


ONE_PIECE = frozenset(("skein", "hank", "piece", "swatch"))


def _same(quantity: Any, amount: dict[str, Any], found: Amount) -> bool:
    if amount["kind"] == "loose":
        return quantity.kind in ("loose", "spoon") or quantity.unit is not None
    if amount.get("unit") in ("named", None):
        return quantity.kind in ("temperature", "time") and quantity.unit is None
    if "low" not in amount and "high" not in amount:
        return False
    if found.bound or ("low" in amount) != ("high" in amount):
        return _same_end(quantity, amount)
    if (amount.get("unit", "").endswith(" each") and quantity.each is not None) or (
        found.each and quantity.each is not None
    ):
        quantity = quantity.each
    elif quantity.each is not None and quantity.low is not None:
        count, each = quantity.low, quantity.each  # "2 skeins of 50 g" is 100 g
        count = Fraction(1) if amount["thing"] in ONE_PIECE else count  # and a skein 50 g
        if (
            each.low is not None
            and each.high in (None, each.low)
            and _is_whole(each, count, amount)
        ):
            return True
    low, high = _base(amount, quantity)
    if low is None or quantity.low is None:
        return False
    if quantity.unit is not None and quantity.unit.vague:
        return bool(
            quantity.low <= low * Fraction(101, 100) and high <= quantity.high * Fraction(101, 100)
        )
    slack = abs(low) / 50 + Fraction(1, 1000)
    about = max(quantity.slack_low or 0, quantity.slack_high or 0) * 2 if quantity.about else 0
    top = quantity.low if quantity.high is None else quantity.high
    return bool(abs(quantity.low - low) <= slack + about and abs(top - high) <= slack + about)


def _is_whole(each: Any, count: Any, amount: dict[str, Any]) -> bool:
    """True where so many pieces of a weight each are the weight that is wanted."""
    low, high = _base(amount, each)
    return low is not None and low == high and abs(each.low * count - low) <= abs(low) / 50


def _same_end(quantity: Any, amount: dict[str, Any]) -> bool:
    """True where an amount with one end has the same end in the model, and says which it is."""
    ends = [end for end in ("low", "high") if end in amount]
    if len(ends) != 1 or not quantity.bound:
        return False
    wanted = _base(amount | {"low": amount[ends[0]], "high": amount[ends[0]]}, quantity)[0]
    found = getattr(quantity, ends[0])
    return bool(wanted is not None and abs(found - wanted) <= abs(wanted) / 50)


def _base(amount: dict[str, Any], quantity: Any) -> tuple[Any, Any]:
    """The value of the sheet in the unit that the model keeps."""
    low, high = Fraction(str(amount["low"])), Fraction(str(amount["high"]))
    unit = amount["unit"].replace(" each", "").split(" (")[0].strip()
    if " per " in unit and quantity.kind == "percent":
        top, below = (known_units()[one] for one in unit.split(" per "))
        return low * top.factor / below.factor, high * top.factor / below.factor
    names = {"nights": "d", "teaspoons": "teaspoon", "skeins": "skein", "°": "°C"}
    known = vocabulary().units.get(names.get(unit, unit))
    if amount["kind"] == "ratio" and quantity.kind == "share":
        return low, high
    if unit.startswith("%"):
        return low / 100, high / 100
    if known is None or amount["kind"] in ("ratio", "pH"):
        return low, high
    return (low + known.offset) * known.factor, (high + known.offset) * known.factor_high


def known_units() -> Any:
    """The units of the language."""
    return vocabulary().units


def _words(text: str) -> set[str]:
    found = set()
    for word in re.findall(r"[a-z]{3,}", text.lower()):
        found |= {word, word.rstrip("s"), re.sub(r"ies$", "y", word), word.replace("ph", "f")}
    return found


def _thing_fits(written: Any, amount: dict[str, Any], model: Any, text: str) -> bool:
    thing = amount["thing"]
    if written.role in ("weight", "pieces", "each"):
        return bool(FIBRE.search(thing)) and amount["step"].startswith(("fibre", "weighed"))
    if written.role == "capacity":
        return amount["step"].startswith("equipment") or bool(VESSEL.search(thing))
    name = written.item.text if written.item else ""
    before = re.search(r"\bmordanted with (.*)", text) if written.role == "past" else None
    if before is not None:  # declared, since it was done before the recipe begins
        return bool(_words(before[1]) & _words(thing))
    if not name:
        return bool(re.search(r"liquor|bath|vat|water|stock", thing))
    if name == "water":
        return bool(re.search(r"water|bath|liquor|vat", thing))
    declared = model.materials.get(name)
    called = name.replace("-", " ")
    if declared is not None and declared.entry is not None:
        entry = declared.entry
        called += f" {entry.name} {' '.join(entry.words('aliases'))} {entry.facts.get('part', '')}"
    return bool(
        _words(called) & _words(thing) - {"the", "for", "and", "red", "white", "dye", "extract"}
    )


PLAIN_BATH = re.compile(r"(?<![\w-])bath(?:-\d+)?\b")


def _step_fits(line: int, amount: dict[str, Any], baths: Baths, text: str) -> bool:
    step, thing = amount["step"].lower(), amount["thing"].lower()
    verb, inside = baths.verb.get(line, ""), baths.fibre_in.get(line, False)
    holds = baths.holds.get(line, set())
    stuff = amount["kind"] not in ("time", "heat")
    if re.search(r"\brins|^sour$|^soak$", step) and PLAIN_BATH.search(text):  # noqa: SIM102
        # A bath of chalk, of bran or of soya milk is drafted as a bath that the fibre goes into.
        if verb == "enter" or (stuff and verb in ("prepare", "add")):
            return True
    for words, fits in _BY_STEP:
        if re.search(words, step):
            return fits(verb, step, amount["kind"] != "time")
    if re.search(r"\bdip|\bvat\b", step) and amount["kind"] == "heat":
        return verb not in ("rinse", "wash", "dry", "air", "scour")
    if re.search(r"\bdip", step):
        dips = verb in ("dip", "dye", "enter", "steep", "modify", "hold")
        return dips or (stuff and verb in _BRINGS)
    if amount["kind"] == "heat" and verb == "dissolve" and "dissolv" in step:
        return True
    if amount["kind"] == "heat" and re.search(r"mordant|alum", step):
        return verb in _HEATS and not _has_dyestuff(holds)
    if not stuff:
        return _time_fits(step, thing, verb, inside, holds, text)
    if re.search(r"mordant|alum(?!inium)|aluming", step) and "dye" not in step:
        # Rhubarb mordants as well: a bath that the draft calls a mordant's is one.
        return not _has_dyestuff(holds) or "dye" in thing or "mordant-bath" in text
    if re.search(r"dye bath|dyebath", step):
        return verb in ("prepare", "add", "soak", "dissolve", "top") and (
            _has_dyestuff(holds)
            or not _has_mordant(holds)
            or "alum" in thing
            or any(_words(one.replace("-", " ")) & _words(_called(thing)) for one in holds)
        )
    return verb in _BRINGS


_ALL_VERBS: frozenset[str] = frozenset(name.split()[0] for name in vocabulary().verbs)
_SCOURS: frozenset[str] = frozenset(
    ("scour", "degum", "prepare", "simmer", "boil", "heat", "hold", "wash")
)
_BRINGS: frozenset[str] = frozenset(
    ("prepare", "add", "dissolve", "soak", "discard", "modify", "scour", "draw", "wet", "top")
)
# Verbs that a step of the sheet may be drafted by, by the words of the step, the surest first.
_BY_STEP: list[tuple[str, Callable[[str, str, bool], bool]]] = [
    ("^(?:fibre|equipment|base of|what comes out)", lambda verb, _, stuff: verb not in _ALL_VERBS),
    ("^weighed", lambda verb, _, stuff: verb not in _ALL_VERBS or verb in _BRINGS),
    (r"\brins|^sour$", lambda verb, _, stuff: verb == "rinse" or (stuff and verb == "wash")),
    (
        "^finish",
        lambda verb, _, stuff: verb in ("rinse", "wash", "hold", "steep") or verb in _BRINGS,
    ),
    ("before wash|ageing", lambda verb, _, stuff: verb in ("rest", "dry")),
    (
        r"soaping|\bwash(?!ing (?:out|and))",
        lambda verb, step, _: verb in ("wash", "scour") or (verb == "rinse" and "rins" in step),
    ),
    (
        "degum|scour",
        lambda verb, _, stuff: verb in _SCOURS or (stuff and verb in ("add", "dissolve")),
    ),
    (r"\bhang", lambda verb, _, stuff: verb in ("dry", "rest", "air")),
    ("dry", lambda verb, _, stuff: verb in ("dry", "rest")),
    (r"\bair", lambda verb, _, stuff: verb in ("air", "rest")),
]
_HEATS = frozenset(("heat", "boil", "simmer", "hold", "prepare", "add", "cool", "mordant"))
_HEATS |= {"enter", "steep", "dye", "modify"}


def _time_fits(  # noqa: C901
    step: str, thing: str, verb: str, inside: bool, holds: set[str], text: str
) -> bool:
    if re.search(r"liquor$", step) and thing == "water":
        return verb in ("dissolve", "prepare", "add")
    if "cooling bath" in step or "in the bath" in step:
        return verb in ("cool", "hold", "stand", "dye", "mordant", "steep", "enter")
    if "cool" in step or "taking out" in step:
        return verb in ("cool", "hold", "stand", "heat")
    if re.search(r"soak", step) and (FIBRE.search(thing) or "wet" in thing):
        return verb in ("wet", "steep", "rest", "rinse")
    if re.search(r"entering", step):
        return verb in ("cool", "enter", "dye", "mordant", "heat", "steep", "prepare")
    if re.search(r"^make\b", step) and not FIBRE.search(thing):
        return not inside or verb == "prepare"
    if re.search(r"mordant|alum", step):
        if not inside and any(_words(one) & _words(thing) for one in holds):
            return True  # what is soaked itself for it, before the fibre goes in
        if "mordant-bath" in text and not FIBRE.search(thing):
            return True  # rhubarb that is boiled for the mordanting, with the fibre or without
        return (inside or verb == "prepare") and (
            not _has_dyestuff(holds) or "mordant-bath" in text
        )
    if re.search(r"boiling|simmering|drawing|extract", step) and not FIBRE.search(thing):
        return not inside or verb == "prepare"
    if re.search(r"dye(?!\s*bath)|modif|sadden|iron|tannin|chrome|second|depth|rise|blue", step):
        if "rise" in step and not inside:
            return " over " in text or " to " in text
        return inside or verb in ("prepare", "heat", "add", "cool") or "at" in step
    if re.search(r"boil|simmer|extract|drawing|soak|steep|stand|ferment|whisk|dissolv", step):
        return not inside or verb == "prepare"
    return True


def _called(thing: str) -> str:
    """A thing of a sheet with what the vocabulary calls it."""
    entry = vocabulary().material(thing)
    return f"{thing} {entry.name}" if entry else thing


def _has_dyestuff(names: set[str]) -> bool:
    return any(_table(name) == "dyestuffs" for name in names)


def _has_mordant(names: set[str]) -> bool:
    return any(_table(name) == "mordants" for name in names)


def _table(name: str) -> str:
    entry = vocabulary().material(name.replace("-", " "))
    return entry.table if entry else ""


def _heat_of_verb(
    draft: Draft, amount: dict[str, Any], start: int, end: int, baths: Baths
) -> Verdict:
    """A heat that a verb says: boil, simmer."""
    words = amount["words"].lower()
    sentence = next((s for s in draft.sentences if s.start <= start < s.end), None)
    stem = "boil" if "boil" in words else "simmer" if "sim" in words or "stew" in words else ""
    stem = stem or ("cool" if re.search(r"\bcool", words) else "")
    if sentence is not None and stem:
        lines = [n for n, origin in draft.origin.items() if origin == sentence.number]
        for number in lines:
            if baths.verb.get(number) in (stem, "simmer" if stem == "simmer" else stem):  # noqa: SIM102
                if _step_fits(number, amount, baths, draft.text.splitlines()[number - 1]):
                    return Verdict("right", amount["words"], "")
        if any(baths.verb.get(number) == stem for number in lines):
            return Verdict("wrong", amount["words"], f"step {amount['step']}: {sentence.words}")
        if any("not followed" in line and stem in line for line in draft.text.splitlines()):
            return Verdict("left", amount["words"], "")
    unfollowed = [
        line
        for number, line in enumerate(draft.text.splitlines(), 1)
        if "not followed" in line and sentence and draft.origin.get(number) == sentence.number
    ]
    if any(word in words for line in unfollowed for word in re.findall(r'"([\w-]+)', line)):
        return Verdict("left", amount["words"], "")
    why = "the verb has no line and no comment"
    return _in_the_words_not_read(draft, amount["words"], start, end, why)


def _in_the_words_not_read(draft: Draft, words: str, start: int, end: int, why: str) -> Verdict:
    """Left where a comment has words of the amount; lost where none has.

    It is a comment "not read", or the one of a line that quotes what it took for another measure,
    or the sign of a line that says the very words: until "all was covered".
    """
    told = any(low < end and start < high for low, high in draft.unread)
    lines = draft.text.splitlines()
    told = told or any(
        p.amount.start < end
        and start < p.amount.end
        and (
            f"# “{p.amount.words}”" in lines[p.line - 1]
            or f'until "{" ".join(words.split()[1:])}' in lines[p.line - 1]
        )
        for p in draft.placed
    )
    if not told and any(low < end and start < high for low, high in draft.of_lots):
        return Verdict("left", words, "told by the names of lots")
    return Verdict("left" if told else "lost", words, "not read" if told else why)


def _no_amounts(
    draft: Draft, sheet: dict[str, Any], prose: str, places: list[int]
) -> list[Verdict]:
    """What is no amount of the work, but has a line."""
    made: list[Verdict] = []
    for words in sheet.get("not_amounts", []):
        start, end = _found(words, draft.prose, prose, places, [])
        for placed in draft.placed:
            if start <= placed.amount.start and placed.amount.end <= end and start >= 0:  # noqa: SIM102
                if len(placed.amount.words) > 1:
                    made.append(Verdict("wrong", words, "it is no amount of the work"))
    return made


def _invented(draft: Draft, by_line: dict[int, list[Any]], model: Any) -> list[str]:
    """Amounts of the model, the numbers of blocks among them, with no words behind them."""
    made: list[str] = []
    lines = draft.text.splitlines()
    for line, written in by_line.items():
        numbers = {
            (one.quantity.place, one.quantity.text)
            for one in written
            if one.quantity.kind != "unstated"
        }
        placed = [p for p in draft.placed if p.line == line]
        # The shares of a lot are what the words about some of the fibre say, or what they leave.
        parts = len(draft.of_lots) if lines[line - 1].startswith("  split ") else 0
        if len(numbers) > len(placed) + parts:
            made.append(lines[line - 1].strip())
    for block in model.body:
        if isinstance(block, Block) and not any(p.line == block.place.line for p in draft.placed):
            made.append(lines[block.place.line - 1].strip())
    return made


def measured(
    folder: str, *, place_unsure: bool = False
) -> tuple[Counter[str], list[tuple[str, Verdict]]]:
    """The sums over a folder, and every verdict with the name of its text."""
    sums: Counter[str] = Counter()
    listed: list[tuple[str, Verdict]] = []
    for path in sorted((PROSE / folder).glob("*.txt")):
        sheet = _sheet(path)
        verdicts, invented = judge(drafted(text_of(path), place_unsure=place_unsure), sheet)
        for verdict in verdicts:
            sums[verdict.outcome] += 1
            listed.append((path.stem, verdict))
        for line in invented:
            sums["invented"] += 1
            listed.append((path.stem, Verdict("invented", line, "")))
    return sums, listed


def _sheet(path: Path) -> dict[str, Any]:
    table = path.with_suffix(".expected.tsv")
    if table.exists():
        return sheet_of_table(table)
    return tomllib.loads(path.with_suffix(".toml").read_text(encoding="utf-8"))


def main() -> None:
    """Prints the sums of a folder, first of what is placed with ``--place-unsure``."""
    folder = sys.argv[1] if len(sys.argv) > 1 else "open"
    for place_unsure in (True, False):
        print("with what is not sure:" if place_unsure else "as a draft is written:")
        _print(*measured(folder, place_unsure=place_unsure))


def _print(sums: Counter[str], listed: list[tuple[str, Verdict]]) -> None:
    if "-v" in sys.argv:
        for name, verdict in listed:
            if verdict.outcome != "right":
                print(f"{verdict.outcome:9} {name}: {verdict.words!r} {verdict.why}")
    every = sum(sums[one] for one in ("right", "noted", "wrong", "left", "lost"))
    for outcome in ("right", "noted", "wrong", "left", "lost", "invented"):
        print(f"{outcome:9} {sums[outcome]:5}  {sums[outcome] / max(every, 1):6.1%}")


if __name__ == "__main__":
    main()
