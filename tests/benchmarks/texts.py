"""Texts to measure with: varied procedures, and comparable YAML, of so many lines."""

from __future__ import annotations

import random

_FIBRES = ("wool", "silk", "alpaca", "merino", "mohair")
# Dyestuffs, with amounts that are usual for wool (handbook and common practice).
_DYES = {
    "weld": ("weld, dried", (60, 100)),
    "madder": ("madder, dried", (31, 50)),
    "onion": ("onion skins, dried", (40, 80)),
    "goldenrod": ("goldenrod, dried", (60, 100)),
    "walnut": ("walnut hulls, dried", (60, 100)),
    "cochineal": ("cochineal, dried", (8, 18)),
}
_HEAD = """procedure "Measured work"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "made up for measuring"
  makes "many skeins"
  place outdoors
  wearing gloves, eye protection
"""


def _work(lot: str, number: int, dyestuff: str, chance: random.Random) -> list[str]:
    """The steps for one lot: soak, mordant, dye, air and dye again, wash, tidy up."""
    alum, dye = f"alum-bath-{number}", f"dye-bath-{number}"
    heat = chance.randint(70, 85)
    fahrenheit = round(heat * 1.8 + 32)
    warm = chance.randint(25, 38)
    share = chance.randint(*_DYES[dyestuff][1])
    hours, minutes = chance.randint(1, 3), chance.randint(40, 80)
    steps = [
        f"wet out {lot} in tub with water 20 : 1 of {lot} at {warm} °C for {hours} h",
        f"{alum}: prepare in kettle with water 30 : 1 of {lot},"
        f" alum {chance.randint(10, 15)} % of {lot}, tartar {chance.randint(5, 7)} % of {lot}",
        f"mordant {lot} in {alum} from {warm} °C to {heat} °C ({fahrenheit} °F)"
        f" over {chance.randint(40, 60)} min for 1 h",
        f"cool {alum} to {warm} °C overnight covered",
        f'rinse {lot} in tub with water 10 L at {warm} °C until "the water runs clear"',
        f'discard {alum} to "foul drain, never the garden"',
        "clean kettle",
        f"{dye}: prepare in kettle with water 30 : 1 of {lot}, {dyestuff} {share} % of {lot}",
        f"heat {dye} to {heat} °C over 1 h # until the colour is drawn",
        f"cool {dye} to {warm} °C overnight",
        f"strain {dye}",
        f"dye {lot} in {dye} from {warm} °C to {heat} °C over 45 min for {minutes} min",
    ]
    if chance.random() < 0.4:
        steps += [
            f"cool {dye} to {warm} °C overnight",
            f"repeat {chance.randint(2, 4)} times",
            f"  lift {lot}",
            f"  air {lot} for {chance.randint(5, 20)} min",
            f"  steep {lot} in {dye} for {chance.randint(5, 20)} min",
        ]
    if chance.random() < 0.3:
        steps += [
            'if "the colour is too pale"',
            f"  dye {lot} in {dye} at {warm} °C for 2 h",
        ]
    if chance.random() < 0.1:  # a slip now and then, as people make them
        steps.append(f"simmer {dye} at {chance.randint(30, 60)} °C for 10 min")
    steps += [
        f"cool {dye} to {warm} °C overnight",
        f"wash {lot} in tub with water 15 : 1 of {lot}, soap {chance.randint(2, 6)} g at {warm} °C",
        f'rinse {lot} in tub with water 10 L at {warm} °C until "the water runs clear"',
        f"dry {lot}",
        f'discard {dye} to "compost heap"',
        "clean kettle",
    ]
    return steps


def procedure_of(lines: int, seed: int = 7) -> str:
    """A procedure of so many lines: lot after lot, and the last one rinsed to fill it up."""
    chance = random.Random(seed)
    used: dict[str, str] = {}
    lots: list[str] = []
    steps: list[str] = []

    def laid_out() -> list[str]:
        sections = {
            "fibre": lots,
            "equipment": [
                "kettle: stainless steel pot, 60 L, lidded, for dyeing only",
                "tub: plastic tub, 60 L, for dyeing only",
            ],
            "materials": [
                "alum: potassium alum",
                "tartar: cream of tartar",
                "soap: neutral soap",
                *[f"{name}: {words}" for name, words in used.items()],
            ],
            "steps": steps,
        }
        whole = _HEAD.rstrip("\n").split("\n")
        for name, body in sections.items():
            whole += ["", name, *[f"  {line}" for line in body]]
        return whole

    while True:
        number = len(lots) + 1
        lot = f"lot-{number}"
        dyestuff = chance.choice(sorted(_DYES))
        work = _work(lot, number, dyestuff, chance)
        new = dyestuff not in used
        if lots and _LENGTH + len(lots) + len(used) + len(steps) + len(work) + 1 + new > lines:
            break
        grams, skeins = chance.randint(40, 900), chance.randint(1, 9)
        lots.append(f"{lot}: {chance.choice(_FIBRES)} yarn, {grams} g, {skeins} skeins, scoured")
        used[dyestuff] = _DYES[dyestuff][0]
        steps += work
    last = f"lot-{len(lots)}"
    while len(laid_out()) < lines and len(steps) < lines:
        short = lines - len(laid_out())
        steps += [
            f"wet out {last} in tub with water 20 : 1 of {last} at 30 °C for 1 h",
            f"rinse {last} in tub with water 10 L at 30 °C",
            f"squeeze {last}",
            f"rest {last} for 1 h",
            f"dry {last}",
        ][-short:]
    return "\n".join(laid_out()) + "\n"


# What a procedure has besides its lots, dyestuffs and steps: header, headings, kit.
_LENGTH = len(_HEAD.splitlines()) + 4 * 2 + 2 + 3


def yaml_of(lines: int, seed: int = 7) -> str:
    """YAML of about so many lines: the same sort of facts, nested as people nest them."""
    chance = random.Random(seed)
    said = ["---", "procedure:", '  title: "Measured work"', '  by: "Fellside Dye Circle"']
    said += ["  revised: 2026-06-14", "  place: outdoors", "  wearing: [gloves, eye protection]"]
    said.append("steps:")
    number = 0
    while len(said) < lines:
        number += 1
        lot = f"lot-{number}"
        said += [
            f"  - do: wet out  # {chance.choice(_FIBRES)}",
            f"    lot: {lot}",
            "    in: tub",
            f"    with: {{water: {chance.randint(5, 20)} L}}",
            f"    at: {chance.randint(25, 38)} °C",
            f"    for: {chance.randint(1, 3)} h",
            "  - do: prepare",
            f"    label: dye-bath-{number}",
            "    in: kettle",
            "    with:",
            f"      - water: {chance.randint(5, 20)} L",
            f"      - {chance.choice(sorted(_DYES))}: {chance.randint(10, 900)} g",
            f"      - alum: {chance.randint(8, 15)} %",
            "  - do: dye",
            f"    lot: {lot}",
            f"    in: dye-bath-{number}",
            f"    from: {chance.randint(25, 38)} °C",
            f"    to: {chance.randint(70, 85)} °C",
            f"    for: {chance.randint(40, 80)} min",
            '    until: "the water runs clear"',
        ]
    return "\n".join(said[:lines]) + "\n"
