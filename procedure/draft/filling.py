"""Usual amounts and heats in the places that the prose leaves open, each marked as not of it."""

from __future__ import annotations

import re
from fractions import Fraction

from procedure.draft.drafting import Draft
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.data_files import rows

OPEN = re.compile(r"(?<![\w-])([a-z][\w-]*) unstated")
LOT = re.compile(r"(?m)^fibre\n  ([\w-]+): (.*)$")
PREPARED = re.compile(r"^\s+([\w-]+): prepare in ")
ENTERED = re.compile(r"^(\s+(?:repeat .*\s)?(mordant|dye) [\w-]+ in ([\w-]+))(.*)$")
OUT = re.compile(r"^\s+(?:lift|rinse|wash|dry|air|squeeze) ")
COOLED = re.compile(r"^\s+(?:cool|strain) ")
HEAT = re.compile(
    r"°|\b(?:at|to|until) (?:a |the )?(?:cold|tepid|hand-hot|hot|simmer|boil)\b"
    r"|^\s+(?:simmer|boil) "
)
HOTTEST = 100  # °C: what no row of a fibre or dyestuff limits, the boil of the water does


class _Filling(NamedTuple):
    """What usual values depend on: the lot, its fibre, and what the names of the draft mean."""

    lot: str
    fibre: Entry
    names: dict[str, Entry]

    @property
    def plant_fibre(self) -> bool:
        """True for fibre of cellulose."""
        return self.fibre.facts["class"].endswith("cellulose")


def filled(draft: Draft) -> str:
    """The draft with usual amounts where it has a mordant, dyestuff or water as unstated.

    A bath in which fibre is mordanted or dyed, and of which the prose says no heat, has the usual
    one, below the limits of the fibre and of what is in the bath. Each has a comment that says
    so and names the source of the vocabulary. Dyestuffs are taken as dried where only that
    range is known; where a material has no usual amount it stays unstated. Where the prose
    names no fibre nothing is filled in, and the last line says why.
    """
    lines = draft.text.rstrip("\n").split("\n")
    found = LOT.search(draft.text)
    fibre = _fibre(found[2]) if found else None
    if found is None or fibre is None:
        why = "the prose names no fibre, and usual amounts and heats hang on it"
        return "\n".join([*lines, f"# Nothing filled in: {why}."]) + "\n"
    filling = _Filling(found[1], fibre, _names(draft.text))
    made = [_with_amounts(line, filling) for line in lines]
    for at, bath in _without_heat(lines):
        made[at] = _with_heat(made[at], _held_by(bath, lines), filling)
    many = sum(new != old for new, old in zip(made, lines, strict=True))
    made.append(f"# Lines with usual values that are not of the prose: {many}.")
    return "\n".join(made) + "\n"


def _fibre(words: str) -> Entry | None:
    known = vocabulary().tables["fibres"]
    said = words.split(",")[0]
    return next(
        (known[name] for name in sorted(known, key=len, reverse=True) if name in said), None
    )


def _names(text: str) -> dict[str, Entry]:
    """What the names of the section of materials stand for."""
    section = text.partition("\nmaterials\n")[2].partition("\n\n")[0]
    found: dict[str, Entry] = {}
    for line in section.splitlines():
        name, _, words = line.strip().partition(": ")
        entry = vocabulary().material(words.strip('"')) or vocabulary().material(
            name.replace("-", " ")
        )
        if entry is not None:
            found[name] = entry
    return found


def _with_amounts(line: str, filling: _Filling) -> str:
    if line.lstrip().startswith("#"):
        return line
    notes: list[str] = []

    def usual(match: re.Match[str]) -> str:
        amount, source = _usual_amount(match[1], filling, PREPARED.match(line) is not None)
        if not amount:
            return match[0]
        notes.append(_mark(f"{match[1]}: ", source))
        return f"{match[1]} {amount} of {filling.lot}"

    made = OPEN.sub(usual, line)
    return f"{made}  # {'; '.join(notes)}" if notes else made


def _mark(what: str, source: str) -> str:
    return f"{what}usual, not in the prose ({source})"


def _usual_amount(name: str, filling: _Filling, in_bath: bool) -> tuple[str, str]:
    """A usual amount and its source; empty where none is known."""
    if name == "water":
        row = _method("liquor")
        return (f"{row['value']} : 1", row["source"]) if in_bath else ("", "")
    entry = filling.names.get(name)
    if entry is None:
        return "", ""
    columns = {"mordants": "cellulose" if filling.plant_fibre else "protein"}
    column = columns.get(entry.table, "dried" if entry.table == "dyestuffs" else "")
    low, high = (entry.facts.get(f"{column}_{end}", "") for end in ("low", "high"))
    return (f"{low} to {high} %", entry.facts["source"]) if low and high else ("", "")


def _method(name: str) -> dict[str, str]:
    return next(row for row in rows("usual_method") if row["name"] == name)


# ------------------------------------------------------------------ heats


def _without_heat(lines: list[str]) -> list[tuple[int, str]]:
    """The lines in which fibre first goes into a bath whose heat no line says, with that bath."""
    found: list[tuple[int, str]] = []
    seen: set[str] = set()
    for at, line in enumerate(lines):
        entered = ENTERED.match(_code(line))
        if entered is None or entered[3] in seen:
            continue
        seen.add(entered[3])
        if not _says_heat(lines, at, entered[3]):
            found.append((at, entered[3]))
    return found


def _says_heat(lines: list[str], at: int, bath: str) -> bool:
    """True where the heat of a bath is said before fibre goes in at a line, or while it is in."""
    here = re.compile(rf"(?<![\w-]){re.escape(bath)}(?![\w-])")
    said = False
    for line in map(_code, lines[:at]):
        if here.search(line):
            said = bool(HEAT.search(line)) or (said and not COOLED.match(line))
    for line in map(_code, lines[at:]):
        if OUT.match(line):
            break
        said = said or bool(here.search(line) and HEAT.search(line) and not COOLED.match(line))
    return said


def _code(line: str) -> str:
    return line.partition("#")[0]


def _held_by(bath: str, lines: list[str]) -> str:
    """The lines that make a bath or add to it."""
    of = re.compile(rf"^\s+(?:{re.escape(bath)}: prepare|add .* to {re.escape(bath)}(?![\w-]))")
    return "\n".join(code for code in map(_code, lines) if of.match(code))


def _with_heat(line: str, held: str, filling: _Filling) -> str:
    entered = ENTERED.match(line)
    inside = [one for name, one in filling.names.items() if re.search(rf"\b{name}\b", held)]
    if entered is None or any(one.facts.get("dye_class") == "vat" for one in inside):
        return line
    cool = filling.plant_fibre and entered[2] == "mordant"
    name = "cool mordant heat" if cool else f"{entered[2]} heat"
    row, below = _method(name), Fraction(_method("below the limit")["value"])
    limits = [_limit(one, filling.plant_fibre) for one in (filling.fibre, *inside)]
    heat = min(Fraction(row["value"]), min(limits) - below)
    code, mark, comment = line.partition("  # ")
    entered = ENTERED.match(code)
    assert entered is not None
    sources = [
        row["source"],
        *([filling.fibre.facts["source"]] if heat < int(row["value"]) else []),
    ]
    note = _mark("heat: ", "; ".join(sources))
    return f"{entered[1]} at {float(heat):g} °C{entered[4]}{mark}{comment}  # {note}"


def _limit(entry: Entry, plant_fibre: bool) -> Fraction:
    """The hottest that a fibre or a material is taken to, in °C."""
    columns = ["heat_limit_c", *(["heat_limit_cellulose_c"] if plant_fibre else [])]
    found = [Fraction(entry.facts[one]) for one in columns if entry.facts.get(one)]
    return min(found, default=Fraction(HOTTEST))
