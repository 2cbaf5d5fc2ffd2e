"""From a fibre, a dyestuff and a mordant to a whole procedure that the checker has nothing against.

Amounts are the middle of the usual range of the vocabulary, heats stay below the limits of dye
and fibre, and what must be worn is what the checker asks for. A text that it still warns of is
not handed out: its warning is the reason why not.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from fractions import Fraction

from procedure import pipeline
from procedure.findings import Finding, at_least
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, vocabulary

HOTTEST = 85  # °C: below the simmer, for fibres and dyes that bear more; common practice
LIQUOR = 30  # litres to a kilogram of fibre; common practice
TANNIN = "oak galls"
WORN = {
    "no-gloves": "gloves",
    "no-eye-protection": "eye protection",
    "no-mask": "mask",
    "dust-unmasked": "mask",
}
ROUNDS = 5


class NoMethod(Exception):
    """There is no sound method of this kind; its text says why not and what would serve."""


class Asked(NamedTuple):
    """What is asked for. ``weight`` is grams of dry fibre; ``mordant`` None for none."""

    title: str
    fibre: Entry
    form: str
    weight: Fraction
    dye: Entry
    mordant: Entry | None
    by: str = ""
    day: str = ""
    us: bool = False


def made(asked: Asked) -> str:
    """The text of the procedure. Raises :class:`NoMethod` where there is none.

    ``asked.us`` writes weights in ounces, heats in °F and pots in US gallons.
    """
    _refuse(asked)
    worn, setting = ["gloves"], "ventilated"
    found: list[Finding] = []
    for _ in range(ROUNDS):
        text = _text(asked, worn, setting)
        text = in_us_units(text) if asked.us else text
        found = [
            one for one in pipeline.read(text, "new").findings if at_least(one.level, "warning")
        ]
        if not found:
            return text
        wanted = [WORN[one.rule] for one in found if one.rule in WORN]
        fresh = [one for one in wanted if one not in worn]
        outdoors = any("outdoors" in one.remedy for one in found) and setting != "outdoors"
        if not fresh and not outdoors:
            break
        worn += dict.fromkeys(fresh)
        setting = "outdoors" if outdoors else setting
    raise NoMethod(f"no sound method is known for this: {found[0].sentence} {found[0].remedy}")


def _refuse(asked: Asked) -> None:
    """Say no where the vocabulary says that a plain bath cannot work."""
    fibre, dye, mordant = asked.fibre, asked.dye, asked.mordant
    kind = fibre.facts["class"]
    if kind == "synthetic" and fibre.name != "nylon":
        raise NoMethod(f"{fibre.name} takes no natural dye; wool, silk or cotton would.")
    danger = vocabulary().danger(dye)
    if danger is not None and (
        danger.facts["refuse"] == "yes" or danger.facts["level"] == "deadly"
    ):
        instead = danger.facts["instead"]
        serves = f"; {instead} gives a like colour" if instead else ""
        raise NoMethod(f"{dye.name} is too dangerous to begin with{serves}.")
    if dye.facts["dye_class"] in ("vat", "acid extract"):
        raise NoMethod(
            f"{dye.name} is dyed in a vat or an acid bath, which this does not write yet."
        )
    if mordant is None and dye.facts["mordant"] == "needed":
        raise NoMethod(f"{dye.name} holds only on a mordant; alum would serve.")
    if mordant is not None and mordant.facts["restricted"]:
        raise NoMethod(
            f"{mordant.name} is restricted; {mordant.facts['safer'] or 'alum'} would serve."
        )
    if _range(dye, "dried") is None and _range(dye, "fresh") is None:
        raise NoMethod(f"no usual amount of {dye.name} is known; weigh what a sample needs.")
    if mordant is not None and _range(mordant, _columns(kind)) is None:
        raise NoMethod(
            f"no usual amount of {mordant.name} on {fibre.name} is known; alum would serve."
        )


def _columns(kind: str) -> str:
    """The columns of amounts that hold for a class of fibre."""
    return "cellulose" if kind.endswith("cellulose") else "protein"


def _range(entry: Entry, column: str) -> tuple[Fraction, Fraction] | None:
    low, high = entry.facts.get(f"{column}_low", ""), entry.facts.get(f"{column}_high", "")
    return (Fraction(low), Fraction(high)) if low and high else None


def _middle(entry: Entry, column: str) -> str:
    """The middle of a usual range, as a number of the language."""
    found = _range(entry, column)
    assert found is not None
    middle = (found[0] + found[1]) / 2
    return f"{float(middle):g}"


def _heat(asked: Asked) -> int:
    """The hottest that dye and fibre bear, at most :data:`HOTTEST`."""
    column = "heat_limit_cellulose_c" if _columns(asked.fibre.facts["class"]) == "cellulose" else ""
    limits = [asked.fibre.facts["heat_limit_c"], asked.dye.facts["heat_limit_c"]]
    limits.append(asked.dye.facts[column] if column else "")
    return min([HOTTEST, *(int(Fraction(one)) - 5 for one in limits if one)])


def _pot(weight: Fraction) -> int:
    """The litres of a pot that holds a bath and the fibre with room to turn it."""
    needed = float(weight) * LIQUOR / 1000 * 1.8 + 1
    return next((size for size in (3, 5, 8, 10, 15, 20, 30, 50, 80, 120) if size >= needed), 200)


def _text(asked: Asked, worn: list[str], setting: str) -> str:
    cellulose = _columns(asked.fibre.facts["class"]) == "cellulose"
    dried = _range(asked.dye, "dried") is not None
    part = (asked.dye.words("part") or ("",))[0]
    state = "dried" if dried else "fresh"
    name = _said(asked.dye)
    dye = f"{name} {part}".strip() if name else f'dyestuff, "{asked.dye.name}"'
    weight = f"{float(asked.weight):g} g"
    size = _pot(asked.weight)
    materials = ["soap: neutral soap", f"dye: {dye}, {state}"]
    if asked.mordant is not None:
        materials.insert(1, f"mordant-salt: {_said(asked.mordant)}")
        if cellulose:
            materials.insert(1, f"tannin-powder: {TANNIN}")
    lines = [
        f'procedure "{asked.title}"',
        f'  by "{asked.by or "write your name here"}"',
        f"  revised {asked.day or '2026-11-25'}",
        '  source "usual amounts and heats of the vocabulary of Vatwright"',
        f'  makes "{weight} of {asked.fibre.name} dyed with {asked.dye.name}"',
        f"  place {setting}",
        f"  wearing {', '.join(worn)}",
        "",
        "fibre",
        "  # The dry weight: every amount below is worked out from it.",
        f"  fibre-lot: {asked.fibre.name} {asked.form}".rstrip() + f", {weight}, scoured",
        "",
        "equipment",
        "  # What has held dye never holds food again.",
        f"  pot: stainless steel pot, {size} L, lidded, for dyeing only",
        f"  tub: plastic tub, {size} L, for dyeing only",
        "  bag: net bag, for dyeing only",
        "",
        "materials",
        *[f"  {one}" for one in materials],
        "",
        "steps",
        *_steps(asked, cellulose, state),
    ]
    return "\n".join(lines) + "\n"


def _said(entry: Entry) -> str:
    """A name as the language can have it, which takes no apostrophes; empty where there is none."""
    names = (entry.name, *entry.words("aliases"))
    return next((one for one in names if "'" not in one), "")


def _steps(asked: Asked, cellulose: bool, state: str) -> list[str]:
    water = f"water {LIQUOR} : 1 of fibre-lot"
    rinse = f'rinse fibre-lot in tub with {water} at 30 °C until "the water runs clear"'
    heat = _heat(asked)
    start = min(40, heat - 5)
    extract = min(heat, 80)
    minutes = max(30, int(asked.fibre.facts["wetting_min"] or 30))
    lines = [
        "# Wet through, fibre takes colour evenly.",
        f"wet out fibre-lot in tub with {water} at 30 °C for {max(60, minutes)} min",
    ]
    if asked.mordant is not None:
        if cellulose:
            lines += [
                "",
                "# Plant fibre holds a mordant only on tannin.",
                f"tannin-bath: prepare in pot with {water}, tannin-powder"
                f" {_middle(_entry(TANNIN), 'cellulose')} % of fibre-lot at 50 °C",
                "mordant fibre-lot in tannin-bath at 50 °C for 3 h covered",
                f"rinse fibre-lot in tub with {water} at 30 °C for 2 min",
                'discard tannin-bath to "foul drain"',
                "clean pot",
            ]
        column = "cellulose" if cellulose else "protein"
        warm = 50 if cellulose else min(80, int(asked.fibre.facts["heat_limit_c"] or 100) - 5)
        lines += [
            "",
            "# The mordant ties the colour to the fibre.",
            f"mordant-bath: prepare in pot with {water}, mordant-salt"
            f" {_middle(asked.mordant, column)} % of fibre-lot at 40 °C",
            f"mordant fibre-lot in mordant-bath from 40 °C to {warm} °C over 45 min for 1 h",
            "cool mordant-bath to 30 °C overnight covered labelled",
            rinse,
            'discard mordant-bath to "foul drain, never the garden"',
            "clean pot",
        ]
    lines += [
        "",
        "# The colour is drawn out first; then the fibre goes in, and the heat rises slowly.",
        f"dye-bath: prepare in pot with {water}, dye {_middle(asked.dye, state)} % of fibre-lot",
        f"heat dye-bath from 20 °C to {extract} °C over 45 min",
        f"hold dye-bath at {extract} °C for 45 min covered",
        f"cool dye-bath to {start} °C",
        "strain dye-bath through bag",
        f"dye fibre-lot in dye-bath from {start} °C to {heat} °C over 45 min for 45 min",
        *(["cool dye-bath to 30 °C"] if heat > 35 else []),
        rinse,
        f"wash fibre-lot in tub with {water}, soap 1 g/L at 30 °C for 10 min",
        rinse,
        "dry fibre-lot",
        'discard dye-bath to "foul drain; the spent plant is composted"',
        "clean pot, tub, bag",
    ]
    return [f"  {one}" if one else "" for one in lines]


def _entry(name: str) -> Entry:
    entry = vocabulary().material(name)
    assert entry is not None
    return entry


def in_us_units(text: str) -> str:
    """The text with ounces for grams, °F for °C and US gallons for litres, to three figures."""
    units = vocabulary().units

    def fahrenheit(match: re.Match[str]) -> str:
        return f"{round(int(match[1]) * 9 / 5 + 32)} °F"

    def measure(name: str) -> Callable[[re.Match[str]], str]:
        return lambda match: f"{float(Fraction(match[1]) / units[name].factor):.3g} {name}"

    text = re.sub(r"\b(\d+) °C", fahrenheit, text)
    text = re.sub(r"\b(\d+(?:\.\d+)?) g\b(?!/)", measure("oz"), text)
    return re.sub(r"\b(\d+) L\b", measure("US gal"), text)


def blank(title: str) -> str:
    """An empty form with comments that say what goes where."""
    return f"""procedure "{title}"
  # by "your name", revised 2026-06-14, source "where it comes from", makes "what comes out",
  # place ventilated (or outdoors, indoors), wearing gloves: a line each.

fibre
  # yarn: wool yarn, 100 g, scoured

equipment
  # pot: stainless steel pot, 8 L, lidded, for dyeing only

materials
  # skins: onion skins, dried

steps
  # gold-bath: prepare in pot with water 4 L, skins 50 g
  # simmer gold-bath at 85 °C for 1 h covered
"""
