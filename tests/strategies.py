"""Hypothesis strategies: texts of every sort, and procedures whose meaning is known.

``texts`` gives anything a file may hold. ``procedures`` draws a meaning first and
then writes it down, so that a test can hold what was read against what was meant.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

from hypothesis import strategies as st

EXAMPLES = Path(__file__).parents[1] / "examples"

# ------------------------------------------------------------ texts of every sort

_PIECES = [
    "procedure",
    "fibre",
    "equipment",
    "materials",
    "steps",
    "by",
    "revised",
    "version",
    "source",
    "makes",
    "licence",
    "place",
    "altitude",
    "wearing",
    "audience",
    "note",
    "in",
    "into",
    "from",
    "with",
    "at",
    "to",
    "over",
    "for",
    "until",
    "after",
    "on",
    "through",
    "as",
    "allow",
    "because",
    "and",
    "of",
    "times",
    "each",
    "unstated",
    "pH",
    "wof",
    "owf",
    "about",
    "do",
    "follow",
    "repeat",
    "if",
    "simmer",
    "boil",
    "cold",
    "overnight",
    "covered",
    "gently",
    "some",
    "water",
    "yarn",
    "kettle",
    "tub",
    "alum",
    "bath",
    "gold",
    "moss",
    "alum-bath",
    "soak:",
    "yarn:",
    "alum-bath:",
    "g",
    "kg",
    "oz",
    "L",
    "gal",
    "h",
    "min",
    "°C",
    "°F",
    "degC",
    "℃",
    "%",
    "g/L",
    "tsp",
    "imp",
    "US",
    "fl",
    "skeins",
    "wool",
    "alum",
    "weld",
    "fresh",
    "dried",
    "gathered",
    "pot",
    "for-dyeing",
    "scour",
    "enter",
    "lift",
    "work",
    "steep",
    "mordant",
    "dye",
    "modify",
    "dip",
    "air",
    "rinse",
    "wash",
    "squeeze",
    "dry",
    "rest",
    "split",
    "join",
    "prepare",
    "add",
    "heat",
    "hold",
    "cool",
    "stand",
    "strain",
    "discard",
    "keep",
    "gather",
    "chop",
    "grind",
    "dissolve",
    "clean",
    "outdoors",
    "gloves",
    "0",
    "1",
    "5",
    "12",
    "12.5",
    "1/2",
    "1½",
    "½",
    "1/0",
    "0/0",
    "-5",
    "-²",
    "²",
    "٣",
    "2026-06-14",
    "-2026-06-14",
    "0000-00-00",
    "1,5",
    "-1,5",
    ".5",
    "5.",
    "1e9",
    ":",
    ",",
    "(",
    ")",
    "=",
    "-",
    "–",
    "—",
    "−",
    "#",
    '"',
    "“",
    "”",
    "/",
    ".",
    "@",
    "\\",
    "\t",
]
_PIECES += ["wet out", "top up", "draw off", "for each", "9" * 400, "a handful", "0." + "0" * 60]
_PIECES += [
    "\n",
    "\n  ",
    "\n    ",
    "\r\n  ",
    "\n\t",
    "\nsteps\n  ",
    '"x"',
    '"the water runs clear"',
]


def _examples() -> list[str]:
    return [path.read_text("utf-8") for path in sorted(EXAMPLES.rglob("*.dye"))]


def _mutated(text: str, cuts: list[tuple[int, int, str]]) -> str:
    for at, length, piece in cuts:
        here = at % (len(text) + 1)
        text = text[:here] + piece + text[here + length :]
    return text


_worded = st.lists(st.sampled_from(_PIECES), max_size=60).map(" ".join)
_steps = st.lists(
    st.lists(st.sampled_from([p for p in _PIECES if "\n" not in p]), min_size=1, max_size=12),
    max_size=8,
).map(
    lambda lines: (
        'procedure "x"\nfibre\n  yarn: wool yarn, 100 g\nsteps\n'
        + "".join(f"  {' '.join(line)}\n" for line in lines)
    )
)
_changed = st.builds(
    _mutated,
    st.deferred(lambda: st.sampled_from(_examples())),
    st.lists(
        st.tuples(
            st.integers(0, 5000),
            st.integers(0, 30),
            st.sampled_from(_PIECES) | st.text(max_size=3),
        ),
        min_size=1,
        max_size=6,
    ),
)

texts = st.one_of(st.text(), _worded, _steps, _changed)

# ------------------------------------------------------------ procedures that are meant


@dataclass(frozen=True)
class Amount:
    """A quantity as meant: kind and both ends in the base unit, what it is measured by."""

    text: str
    kind: str
    low: Fraction
    high: Fraction
    base: str = ""
    of_fibre: bool = False


@dataclass(frozen=True)
class Declared:
    """A declaration as meant: its name, the words as written, the facts that they say.

    ``sorts`` are the words that mean it in a step, where nothing else is of that sort.
    """

    name: str
    text: str
    facts: dict[str, object]
    sorts: tuple[str, ...] = ()


@dataclass(frozen=True)
class Meant:
    """A step or block as meant: its parts by the names that the model gives them."""

    text: str
    facts: dict[str, object]
    body: tuple[Meant, ...] = ()


@dataclass(frozen=True)
class Written:
    """A whole procedure: its text, and what the text was made from.

    ``above`` is what is declared above the steps.
    """

    text: str
    title: str
    header: dict[str, object]
    fibre: tuple[Declared, ...]
    equipment: tuple[Declared, ...]
    materials: tuple[Declared, ...]
    steps: tuple[Meant, ...]
    above: tuple[Declared, ...]


# Units by kind, each with what one of it is in the base unit (NIST SP 811, B.8 for
# those that are not metric).
_UNITS: dict[str, tuple[tuple[str, Fraction], ...]] = {
    "mass": (
        ("g", Fraction(1)),
        ("grams", Fraction(1)),
        ("kg", Fraction(1000)),
        ("lb", Fraction("453.59237")),
        ("oz", Fraction("28.349523125")),
        ("ounces", Fraction("28.349523125")),
    ),
    "volume": (
        ("L", Fraction(1)),
        ("litres", Fraction(1)),
        ("mL", Fraction(1, 1000)),
        ("US gal", Fraction("3.785411784")),
        ("imp gal", Fraction("4.54609")),
        ("US fl oz", Fraction("0.0295735295625")),
    ),
    "time": (
        ("min", Fraction(1)),
        ("minutes", Fraction(1)),
        ("h", Fraction(60)),
        ("days", Fraction(1440)),
        ("s", Fraction(1, 60)),
    ),
    "temperature": tuple((unit, Fraction(1)) for unit in ("°C", "℃", "C", "degC")),
    "concentration": (("g/L", Fraction(1)),),
    "count": (("skeins", Fraction(1)),),
    "length": (("m", Fraction(1)), ("ft", Fraction("0.3048"))),
}
_VULGAR = {"½": Fraction(1, 2), "¼": Fraction(1, 4), "¾": Fraction(3, 4), "⅓": Fraction(1, 3)}

# Names that are no words of the language, with and without hyphens.
NAMES = st.sampled_from(
    [
        "yarn",
        "skeins",
        "cloth",
        "moss",
        "gold-2",
        "grey",
        "rag",
        "alpha",
        "b",
        "n7",  # “x7” is seven times, where nothing is called so
        "wool-cloth",
        "kettle",
        "tub",
        "pan",
        "jar",
        "alum",
        "tartar",
        "weld",
        "madder",
        "alum-bath",
        "gold-bath",
        "vat",
        "lye",
        "first-water",
        "étoffe",
        "träger",
    ]
)


@st.composite
def numbers(draw: st.DrawFn) -> tuple[str, Fraction]:
    """A positive number in one of its forms, and its value."""
    whole = draw(st.integers(1, 300))
    form = draw(st.sampled_from(("whole", "decimal", "fraction", "mixed", "vulgar")))
    if form == "decimal":
        tenths = draw(st.integers(0, 99))
        return f"{whole}.{tenths:02}", whole + Fraction(tenths, 100)
    below = draw(st.sampled_from((2, 3, 4, 8)))
    if form == "fraction":
        return f"1/{below}", Fraction(1, below)
    if form == "mixed":
        return f"{whole} 1/{below}", whole + Fraction(1, below)
    if form == "vulgar":
        mark = draw(st.sampled_from(sorted(_VULGAR)))
        return f"{whole}{mark}", whole + _VULGAR[mark]
    return str(whole), Fraction(whole)


@st.composite
def spans(draw: st.DrawFn) -> tuple[str, Fraction, Fraction]:
    """A number or a range, and its ends."""
    text, low = draw(numbers())
    if draw(st.integers(0, 3)):
        return text, low, low
    more = draw(st.integers(1, 50))
    mark = draw(st.sampled_from((" to ", "–", " – ", "-", " - ")))
    high = low + more
    return f"{text}{mark}{_decimal(high)}", low, high


def _decimal(value: Fraction) -> str:
    whole, part = divmod(value, 1)
    return f"{whole} {part.numerator}/{part.denominator}" if part else str(whole)


@st.composite
def measures(draw: st.DrawFn, kind: str) -> Amount:
    """A quantity with a unit of that kind."""
    if kind == "temperature":
        degrees = draw(st.integers(33, 95))
        unit = draw(st.sampled_from(("°C", "℃", "C", "degC", "°F")))
        celsius = Fraction(degrees)
        if unit == "°F":  # °F = 1.8 °C + 32 (NIST SP 811, B.8)
            celsius = (celsius - 32) / Fraction("1.8")
        return Amount(f"{degrees} {unit}", kind, celsius, celsius)
    if kind == "time" and draw(st.booleans()):
        hours, minutes = draw(st.integers(1, 9)), draw(st.integers(1, 59))
        whole = Fraction(60 * hours + minutes)
        return Amount(f"{hours} h {minutes} min", kind, whole, whole)
    text, low, high = draw(spans())
    unit, factor = draw(st.sampled_from(_UNITS[kind]))
    space = draw(st.sampled_from((" ", ""))) if unit[0] not in "°℃" else " "
    return Amount(f"{text}{space}{unit}", kind, low * factor, high * factor)


@st.composite
def amounts(draw: st.DrawFn) -> Amount:
    """Any amount of a material."""
    form = draw(st.sampled_from(("mass", "volume", "concentration", "percent", "ratio", "share")))
    if form in ("mass", "volume", "concentration"):
        return draw(measures(form))
    text, low, high = draw(spans())
    if form == "share":
        base = draw(NAMES)
        return Amount(f"{text} of {base}", "share", low, high, base)
    basis = draw(st.sampled_from(("wof", "owf", "of")))
    base = draw(NAMES) if basis == "of" else ""
    tail = f"of {base}" if base else basis
    if form == "percent":
        sign = draw(st.sampled_from((" %", "%", " percent")))
        return Amount(f"{text}{sign} {tail}", "percent", low / 100, high / 100, base, not base)
    return Amount(f"{text} : 1 {tail}", "ratio", low, high, base, not base)


_FIBRES = ("wool", "silk", "cotton", "linen", "merino")
# What any yarn may be called, where it is the only lot of yarn.
_YARN = ("fibre", "fiber", "yarn", "skein", "skeins", "hank", "hanks")
_METALS = ("stainless steel", "copper", "iron", "aluminium", "glass", "plastic")
_VESSELS = ("pot", "pan", "tub", "bucket", "jar")
_USES = {
    "for dyeing only": "dyeing",
    "for cooking": "cooking",
    "for cooking and dyeing": "both",
    "": "",
}
_STUFFS = {
    "potassium alum": "potassium alum",
    "cream of tartar": "cream of tartar",
    "weld": "weld",
    "madder": "madder",
    "soda ash": "soda ash",
    "neutral soap": "neutral soap",
}


def _shuffled(draw: st.DrawFn, parts: list[str]) -> str:
    return ", ".join(draw(st.permutations([part for part in parts if part])))


@st.composite
def lots(draw: st.DrawFn, name: str) -> Declared:
    """A lot of fibre, its descriptors in any order."""
    fibre = draw(st.sampled_from(_FIBRES))
    weight = draw(measures("mass"))
    scoured = draw(st.sampled_from(("scoured", "unscoured", "")))
    count = draw(st.none() | st.integers(1, 12))
    parts = [f"{fibre} yarn", weight.text, scoured, f"{count} skeins" if count else ""]
    facts: dict[str, object] = {
        "fibres": (fibre,),
        "weight": (weight.low, weight.high),
        "scoured": {"scoured": True, "unscoured": False, "": None}[scoured],
        "pieces": count,
    }
    return Declared(name, _shuffled(draw, parts), facts, (*_YARN, fibre))


@st.composite
def pots(draw: st.DrawFn, name: str) -> Declared:
    """A vessel, its descriptors in any order."""
    metal, kind = draw(st.sampled_from(_METALS)), draw(st.sampled_from(_VESSELS))
    capacity = draw(measures("volume"))
    use = draw(st.sampled_from(sorted(_USES)))
    lidded = draw(st.booleans())
    parts = [f"{metal} {kind}", capacity.text, use, "lidded" if lidded else ""]
    facts: dict[str, object] = {
        "metal": metal,
        "kind": kind,
        "capacity": (capacity.low, capacity.high),
        "use": _USES[use],
        "lidded": lidded,
    }
    return Declared(name, _shuffled(draw, parts), facts, (kind,))


@st.composite
def stuffs(draw: st.DrawFn, name: str) -> Declared:
    """A material, its descriptors in any order."""
    stuff = draw(st.sampled_from(sorted(_STUFFS)))
    state = draw(st.sampled_from(("fresh", "dried", "")))
    date = f"2026-{draw(st.integers(1, 12)):02}-{draw(st.integers(1, 28)):02}"
    gathered = draw(st.booleans())
    free = draw(st.sampled_from(("", '"from the lower field"', '"n° 4 – größer"')))
    parts = [stuff, state, f"gathered {date}" if gathered else "", free]
    facts: dict[str, object] = {
        "entry": _STUFFS[stuff],
        "state": state,
        "gathered": date if gathered else "",
    }
    return Declared(name, _shuffled(draw, parts), facts)


_VERBS = (
    "scour",
    "wet out",
    "enter",
    "lift",
    "work",
    "steep",
    "mordant",
    "dye",
    "modify",
    "dip",
    "air",
    "rinse",
    "wash",
    "squeeze",
    "dry",
    "rest",
    "split",
    "join",
    "prepare",
    "add",
    "heat",
    "simmer",
    "boil",
    "hold",
    "cool",
    "stand",
    "strain",
    "draw off",
    "top up",
    "discard",
    "keep",
    "gather",
    "chop",
    "grind",
    "soak",
    "dissolve",
    "clean",
    "degum",
    "cook",
    "press under",
    "stir",
    "cover",
    "uncover",
    "fill",
    "lower",
    "move aside",
    "take out",
    "empty",
    "lift out",
    "throw out",
    "press out",
)
_MANNERS = ("covered", "gently", "stirring", "unattended")
_SIGNS = ("the water runs clear", "it holds ½ its weight", "n° 4 – größer")


def _item(name: str, amount: Amount | None) -> dict[str, object]:
    return {"name": name, "amount": amount}


@st.composite
def _items(draw: st.DrawFn, most: int = 3) -> tuple[str, list[dict[str, object]]]:
    # Each once: “yarn and yarn and yarn” is a doubled word, which is told of.
    names = draw(st.lists(NAMES, min_size=1, max_size=most, unique=True))
    texts, meant = [], []
    for name in names:
        amount = draw(st.none() | amounts())
        texts.append(f"{name} {amount.text}" if amount else name)
        meant.append(_item(name, amount))
    return draw(st.sampled_from((", ", " and "))).join(texts), meant


_SAY_HOW_FAR = {"source", "at", "to", "over", "lasting", "until", "note"}


def _in_a_readable_order(names: list[str], facts: dict[str, object]) -> None:
    """Put clauses so that they say what is meant."""
    # “at 30 °C to 40 °C” is one range of heat, so what is brought to a heat says so first.
    if {"at", "to"} <= {*names}:
        names.sort(key=lambda name: name == "at")
    # “enter in yarn” and “stir in alum” say what goes in, and not where.
    putting = facts["verb"] in ("enter", "lower", "stir") and "objects" not in facts
    if putting and names[:1] == ["within"]:
        del names[0]


@st.composite
def steps(draw: st.DrawFn) -> Meant:
    """A step with any clauses; it need not make sense as work, only as language."""
    verb = draw(st.sampled_from(_VERBS))
    facts: dict[str, object] = {"verb": verb}
    label = draw(st.none() | NAMES)
    facts["label"] = label
    head = f"{label}: {verb}" if label else verb
    if draw(st.booleans()):
        text, facts["objects"] = draw(_items())
        head += f" {text}"
    clauses: list[str] = []
    names = draw(
        st.lists(
            st.sampled_from(
                [
                    "within",
                    "into",
                    "source",
                    "using",
                    "at",
                    "to",
                    "over",
                    "lasting",
                    "until",
                    "after",
                    "wearing",
                    "named",
                    "note",
                    "manners",
                ]
            ),
            unique=True,
            max_size=5,
        )
    )
    if verb == "cool" and not _SAY_HOW_FAR & {*names}:
        names.append("to")  # a bath that cools, no word says how far, is said to be cold then
    _in_a_readable_order(names, facts)
    for name in names:
        if name in ("into", "using"):
            text, facts[name] = draw(_items(2))
            clauses.append(f"{'into' if name == 'into' else 'with'} {text}")
        elif name == "within":
            pot = draw(NAMES)
            facts[name] = _item(pot, None)
            clauses.append(f"in {pot}")
        elif name in ("source", "at", "to"):
            heat = draw(measures("temperature"))
            facts[name] = heat
            clauses.append(f"{'from' if name == 'source' else name} {heat.text}")
        elif name in ("over", "lasting"):
            time = draw(measures("time"))
            facts[name] = time
            clauses.append(f"{'over' if name == 'over' else 'for'} {time.text}")
        elif name in ("until", "note"):
            facts[name] = draw(st.sampled_from(_SIGNS))
            clauses.append(f'{name} "{facts[name]}"')
        elif name == "after":
            said = draw(st.lists(NAMES, min_size=1, max_size=3))
            facts[name] = said
            clauses.append("after " + ", ".join(said))
        elif name == "wearing":
            said = draw(
                st.lists(
                    st.sampled_from(("gloves", "mask", "apron")),
                    min_size=1,
                    max_size=2,
                    unique=True,
                )
            )
            facts[name] = said
            clauses.append("wearing " + " and ".join(said))
        elif name == "named":
            facts[name] = draw(NAMES)
            clauses.append(f"as {facts[name]}")
        else:
            said = draw(st.lists(st.sampled_from(_MANNERS), min_size=1, max_size=2, unique=True))
            facts[name] = said
            clauses.append(" ".join(said))
    return Meant(" ".join([head, *clauses]), facts)


@st.composite
def blocks(draw: st.DrawFn, depth: int) -> Meant:
    """A repeat, an if or a for, with steps inside."""
    kind = draw(st.sampled_from(("repeat", "if", "for")))
    facts: dict[str, object] = {"block": kind}
    if kind == "repeat":
        low = draw(st.integers(1, 9))
        high = low + draw(st.integers(0, 3))
        facts["times"] = (low, high)
        head = f"repeat {low} times" if low == high else f"repeat {low} to {high} times"
    elif kind == "if":
        facts["condition"] = draw(st.sampled_from(_SIGNS))
        head = f'if "{facts["condition"]}"'
    else:
        variable, values = draw(NAMES), draw(st.lists(NAMES, min_size=1, max_size=3))
        facts["variable"], facts["values"] = variable, values
        head = f"for each {variable} in {', '.join(values)}"
    inner = draw(st.lists(bodies(depth - 1), min_size=1, max_size=3))
    return Meant(head, facts, tuple(inner))


def bodies(depth: int = 2) -> st.SearchStrategy[Meant]:
    """A step, or a block down to that depth."""
    return st.one_of(steps(), steps(), blocks(depth)) if depth > 0 else steps()


@st.composite
def procedures(draw: st.DrawFn) -> Written:
    """A whole procedure, written in one of the ways in which it can be written.

    It follows another before its own steps: nobody knows what there is then, and so nothing is
    supplied that a step does not say.
    """
    names = draw(st.permutations([f"thing-{i}" for i in range(9)]))
    fibre = [draw(lots(name)) for name in names[: draw(st.integers(0, 3))]]
    equipment = [draw(pots(name)) for name in names[3 : 3 + draw(st.integers(0, 3))]]
    materials = [draw(stuffs(name)) for name in names[6 : 6 + draw(st.integers(0, 3))]]
    body = draw(st.lists(bodies(), min_size=1, max_size=6))
    body.insert(0, Meant('follow "another.dye"', {"follow": "another.dye"}))
    title = draw(st.sampled_from(("Weld on wool", "Größe n° 1 – été", "A: b, c")))
    header: dict[str, object] = {}
    head = [f'procedure "{title}"']
    if draw(st.booleans()):
        header["by"] = "Fellside Dye Circle"
        head.append('by "Fellside Dye Circle"')
    if draw(st.booleans()):
        header["revised"] = "2026-06-14"
        head.append("revised 2026-06-14")
    if draw(st.booleans()):
        header["wearing"] = ["gloves", "eye protection"]
        head.append("wearing gloves, eye protection")
    if draw(st.booleans()):
        header["setting"] = draw(st.sampled_from(("outdoors", "ventilated", "indoors")))
        head.append(f"place {header['setting']}")
    step = draw(st.sampled_from(("  ", "    ", "\t")))
    lines = [head[0], *[step + line for line in head[1:]]]
    sections: list[tuple[list[Declared], list[str]]] = []
    for name, declared in (("fibre", fibre), ("equipment", equipment), ("materials", materials)):
        if declared:
            gap = draw(st.sampled_from((" ", "   ", "\t")))
            written = [f"{step}{one.name}:{gap}{one.text}" for one in declared]
            sections.append((declared, [name, *written]))
    sections.append(([], ["steps", *_laid_out(draw, body, step, 1)]))
    above: list[Declared] = []
    begun = False
    for declared, section in draw(st.permutations(sections)):
        begun = begun or not declared
        above += [] if begun else declared
        if draw(st.booleans()):
            lines.append("")
        if draw(st.booleans()):
            lines.append("# a comment, with “marks” and 12 %")
        lines += section
    end = draw(st.sampled_from(("\n", "\r\n", "\r")))
    text = (
        draw(st.sampled_from(("", "\ufeff"))) + end.join(lines) + draw(st.sampled_from(("", end)))
    )
    return Written(
        text,
        title,
        header,
        tuple(fibre),
        tuple(equipment),
        tuple(materials),
        tuple(body),
        tuple(above),
    )


def _laid_out(draw: st.DrawFn, body: list[Meant], step: str, depth: int) -> list[str]:
    lines: list[str] = []
    for one in body:
        words = one.text
        # Where a clause begins, the line may go on below, further in.
        if not one.body and " note " in words and draw(st.booleans()):
            first, rest = words.split(" note ", 1)
            lines += [step * depth + first, step * (depth + 1) + "note " + rest]
        else:
            tail = draw(st.sampled_from(("", "  # said aside", " ")))
            lines.append(step * depth + words + tail)
        lines += _laid_out(draw, list(one.body), step, depth + 1)
    return lines
