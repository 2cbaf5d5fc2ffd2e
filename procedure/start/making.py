"""From a fibre, a dyestuff and a mordant to a whole procedure that the checker has nothing against.

Amounts and heats are those of ``usual_method.csv`` and of the vocabulary's usual ranges; heats
stay below the limits of dye and fibre, and what must be worn is what the checker asks for. A
text that it still warns of is not handed out: its warning is the reason why not.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from procedure import pipeline
from procedure.findings import Finding, at_least
from procedure.rules import workshop_file
from procedure.start.customary import in_units_of
from procedure.start.first_steps import TANNIN, PartNames, Writing, all_steps
from procedure.start.plain_names import called, part_of, said
from procedure.start.pots import Pots, chosen
from procedure.start.refusing import refuse
from procedure.start.wish import NoMethod, Wish, usual_range
from procedure.vocabulary import Entry

WORN = {
    "no-gloves": "gloves",
    "no-eye-protection": "eye protection",
    "no-mask": "mask",
    "dust-unmasked": "mask",
    "dust-in-the-air": "mask",
}
ROUNDS = 5


def made(asked: Wish) -> str:
    """The text of the procedure. Raises :class:`NoMethod` where there is none.

    ``asked.units`` says if it is written in grams and litres, or in ounces and gallons.
    """
    refuse(asked)
    writing = Writing(asked, chosen(asked), called(asked))
    # Powders of a vat are weighed with a mask on, whatever is warned of besides.
    worn = ["gloves", "eye protection", "mask"] if writing.asked.with_vat else ["gloves"]
    setting = "ventilated"
    found: list[Finding] = []
    for _ in range(ROUNDS):
        text = _text(writing, worn, setting)
        text = in_units_of(asked.units, text) if asked.units != "metric" else text
        found = [
            one
            for one in pipeline.read(text, "new", asked.here).findings
            if at_least(one.level, "warning")
        ]
        if not found:
            return text
        faulty = next((one for one in found if one.rule == workshop_file.NAME), None)
        if faulty is not None:
            raise NoMethod(
                f"the workshop file must be put right first: {faulty.file}, line {faulty.line}: "
                f"{faulty.sentence} {faulty.remedy}"
            )
        wanted = [WORN[one.rule] for one in found if one.rule in WORN]
        fresh = [one for one in wanted if one not in worn]
        outdoors = any("outdoors" in one.remedy for one in found) and setting != "outdoors"
        if not fresh and not outdoors:
            break
        worn += dict.fromkeys(fresh)
        setting = "outdoors" if outdoors else setting
    raise NoMethod(f"no sound method is known for this: {found[0].sentence} {found[0].remedy}")


def _text(writing: Writing, worn: list[str], setting: str) -> str:
    asked, pots, names = writing.asked, writing.pots, writing.called
    weight = _weight(asked.weight)
    clean = "scoured" if asked.scoured else "unscoured"
    fibre = f"{asked.fibre.name} {asked.form}".rstrip()
    lines = [
        f'procedure "{asked.title}"',
        f'  by "{asked.by}"' if asked.by else '  # by "your name"',
        f"  revised {asked.day or date.today().isoformat()}",
        '  source "usual amounts, heats and times of the vocabulary of Vatwright"',
        f'  makes "{weight} of {asked.fibre.name} dyed with {_dyes(asked)}"',
        f"  place {setting}",
        f"  wearing {', '.join(worn)}",
        "",
        "fibre",
        "  # The dry weight: every amount below is worked out from it.",
        f"  {names.lot}: {fibre}, {asked.amount or weight}, {clean}",
        "",
        *_equipment(pots),
        "materials",
        *[f"  {name}: {what}" for name, what in _materials(asked, names)],
        "",
        "steps",
        *[f"  {line}" if line else "" for line in all_steps(writing)],
    ]
    return "\n".join(lines) + "\n"


def _weight(grams: Fraction) -> str:
    """Grams or kilograms to two places, so that ounces come out as they went in."""
    if grams < 1000:
        return f"{round(float(grams), 2):g} g"
    return f"{round(float(grams) / 1000, 4):g} kg"


def _dyes(asked: Wish) -> str:
    over = f" over {asked.over.name}" if asked.over is not None else ""
    after = f", then {asked.after.name}" if asked.after is not None else ""
    return f"{asked.dye.name}{over}{after}"


def _equipment(pots: Pots) -> list[str]:
    if not pots.lines and not pots.why:
        return ["# The pots are those of the workshop file.", ""]
    why = [f"  # {pots.why}"] if pots.why else []
    lines = [f"  {line}" for line in pots.lines]
    return ["equipment", "  # What has held dye never holds food again.", *why, *lines, ""]


def _materials(asked: Wish, names: PartNames) -> list[tuple[str, str]]:
    """Every material by its name in the text, with what it is; only those that are used."""
    found: list[tuple[str, str]] = []
    if not asked.scoured and asked.plant_fibre:
        found.append(("soda", "soda ash"))
    if asked.with_vat:
        blue = asked.over or asked.dye
        found.append((names.blue or names.dye, _dye(blue)))
        if asked.plant_fibre:
            found += [("soda", "soda ash"), ("fructose", "fructose")]
        else:
            found += [("soda", "soda ash"), ("reducer", "thiourea dioxide")]
        found.append(("vinegar", "white vinegar, 5 %"))
    if asked.mordant is not None and not asked.in_vat:
        if asked.wants_tannin:
            found.append((names.tannin, f"{TANNIN}, ground"))  # whole ones give little in a bath
        found.append((names.mordant, said(asked.mordant)))
    if not asked.in_vat:
        found.append((names.dye, _dye(asked.dye)))
    if asked.after is not None and names.after != names.mordant:
        found.append((names.after, said(asked.after)))
    found.append(("soap", "neutral soap"))
    return list(dict(found).items())


def _dye(dye: Entry) -> str:
    name, part = said(dye), part_of(dye)
    what = f"{name} {part}".strip() if name else f'dyestuff, "{dye.name}"'
    if dye.facts["dye_class"] == "vat":
        return what if part else f"{what}, powder"
    if "extract" in dye.name:
        return what
    state = "dried" if usual_range(dye, "dried") is not None else "fresh"
    return f"{what}, {state}"
