"""Makes a whole procedure of the few lines that a rule's example shows."""

from __future__ import annotations

import re

HEADER = """procedure "An example"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a sample"
  place outdoors
  wearing gloves, eye protection, mask
"""

KIT = {
    # Mordanted, so that an example about something else need not mordant it first.
    "fibre": {
        "yarn": "wool yarn, 100 g, scoured, mordanted",
        "silk": "silk yarn, 100 g, scoured, mordanted",
        "cloth": "cotton cloth, 100 g, scoured, mordanted",
    },
    "equipment": {
        "kettle": "stainless steel pot, 15 L, lidded, for dyeing only",
        "pan": "stainless steel pan, 15 L, lidded, for dyeing only",
        "tub": "plastic tub, 20 L, for dyeing only",
        "jar": "glass jar, 2 L, lidded, for dyeing only",
    },
    "materials": {
        "alum": "potassium alum",
        "tartar": "cream of tartar",
        "iron": "ferrous sulphate",
        "weld": "weld, dried",
        "madder": "madder, dried",
        "tansy": "tansy tops, fresh, gathered 2026-06-12",
        "onion": "onion skins, dried",
        "tannin": "tannic acid",
        "soda": "soda ash",
        "woad": "woad, fresh, gathered 2026-06-12",
        "indigo": "natural indigo",
        "reducer": "fructose",
        "vinegar": "vinegar",
        "soap": "neutral soap",
        "tin": "stannous chloride",
        "oxalic": "oxalic acid",
        "copper": "copper sulphate",
        "chrome": "potassium dichromate",
        "turmeric": "turmeric, powder",
    },
}
_SECTION = re.compile(r"^(procedure|fibre|equipment|materials|steps)\b", re.MULTILINE)


_SAVED_AS = re.compile(r"^# saved as: (\S+)\n", re.MULTILINE)


def followed(example: str) -> dict[str, str]:
    """The files beside an example, by name: what comes below “# saved as:”.

    Procedures are made whole; a workshop file is as it is written.
    """
    _, *parts = _SAVED_AS.split(example)  # what comes before the first is the main one
    files = zip(parts[::2], parts[1::2], strict=True)
    return {name: text if name.endswith(".toml") else whole(text) for name, text in files}


def whole(example: str) -> str:
    """The example as a procedure that can be read, without the files that it follows.

    An example is the lines of its steps, or sections at the margin. Sections that
    it lacks come from a kit: the header, and of the declarations those whose names
    the example uses.
    """
    # A file that is shown by itself may say at its head how it is saved.
    example = _SAVED_AS.split(example, maxsplit=1)[0] if example[:1] != "#" else example
    sections: dict[str, str] = {}
    marks = list(_SECTION.finditer(example))
    if not marks or marks[0].start() > 0:
        end = marks[0].start() if marks else len(example)
        lines = example[:end].rstrip("\n").split("\n")
        sections["steps"] = "steps\n" + "".join(f"  {line}\n" for line in lines)
    for i, mark in enumerate(marks):
        end = marks[i + 1].start() if i + 1 < len(marks) else len(example)
        sections[mark.group(1)] = example[mark.start() : end].rstrip("\n") + "\n"
    steps = sections.get("steps", "")
    made = [sections.get("procedure", HEADER)]
    for section, declared in KIT.items():
        own = sections.get(section, f"{section}\n")
        names = {name: text for name, text in declared.items() if _uses(steps, name)}
        names = {n: t for n, t in names.items() if not re.search(rf"^\s+{n}\s*:", own, re.M)}
        body = own + "".join(f"  {name}: {text}\n" for name, text in names.items())
        if body.strip() != section or section in sections:
            made.append(body)
    return "\n".join([*made, steps])


def _uses(steps: str, name: str) -> bool:
    return re.search(rf"(?<![\w-]){name}(?![\w-])(?!\s*:)", steps) is not None
