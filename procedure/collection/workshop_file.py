"""Reads a house file. Stands apart from ``house`` because few runs need it."""

from __future__ import annotations

import os
import re
import tomllib
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from procedure.collection.workshop import BadHouse, House
from procedure.language.faults import refused
from procedure.language.parsing import Refusal, parse
from procedure.language.reading import LONGEST_LINE, LONGEST_NAME
from procedure.language.table import table
from procedure.language.words import declaration_words, reserved
from procedure.model import describing
from procedure.model.types import Household, Procedure
from procedure.rules import RULES
from procedure.rules.allowing import NEVER_SILENT
from procedure.rules.levels import HIDDEN, WEIGHTS, Weight, lighter
from procedure.vocabulary import near
from procedure.vocabulary.extension import KEYS, Refused, entry_of, with_entries

SECTIONS = ("levels", "equipment", "materials")
# A line that cannot be read is not judged at all, so its finding cannot be made lighter.
FIXED = frozenset(("cannot-read",))
LARGEST = 1_000_000
_NAME = re.compile(r"[^\W\d_][^\W_]*(?:-[^\W_]+)*")
_WORDS = re.compile(r"[^\W\d_][^\W_]*(?:[-' ][^\W_]+)*")
_ASSIGNED = re.compile(
    r"""\s*(?P<key>"[^"]*"|'[^']*'|[\w-]+)\s*=\s*(?P<mark>"(?!"")|'(?!''))?""", re.ASCII
)


def read(file: Path) -> House:
    """The house of one house file. Raises ``BadHouse`` with every fault that is in it."""
    return _Reading(file).house()


class _Reading:
    """One reading of a house file, with the faults found on the way."""

    def __init__(self, file: Path) -> None:
        self.name = os.path.relpath(file)
        self.text = _text(file, self.name)
        self.data = _data(self.text, self.name)
        self.places = dict(_places(self.text))
        self.faults: list[tuple[int, str]] = []

    def fault(self, where: tuple[str, ...], sentence: str) -> None:
        """Note a fault at a key, or at the nearest key above it that the text shows."""
        path = where
        while path and path not in self.places:
            path = path[:-1]
        self.faults.append((self.places[path][0] if path else 1, sentence))

    def house(self) -> House:
        self.keys((), self.data, SECTIONS)
        levels = dict(self.levels(self.section("levels")))
        materials = self.section("materials")
        words = with_entries(dict(self.entries(materials)))
        declared = Procedure(self.name)
        declared.household = Household(self.name, words, {}, {})
        for name, said in self.section("equipment").items():
            self.declare(declared, "equipment", name, said)
        for name, said in materials.items():
            # An entry of the house's own is a material of that name as well.
            if not isinstance(said, dict):
                self.declare(declared, "materials", name, said)
            elif _NAME.fullmatch(name) and not self.faults:
                self.declare(declared, "materials", name, name)
        if self.faults:
            faults = sorted(dict.fromkeys(self.faults))
            raise BadHouse("\n".join(f"{self.name}, line {n}: {said}" for n, said in faults))
        household = Household(self.name, words, declared.equipment, declared.materials)
        return House(levels, household)

    def section(self, name: str) -> dict[str, Any]:
        found = self.data.get(name, {})
        if isinstance(found, dict):
            return found
        self.fault((name,), f"“{name}” is a section: write [{name}] on a line of its own.")
        return {}

    def keys(
        self, where: tuple[str, ...], found: Mapping[str, Any], known: tuple[str, ...]
    ) -> None:
        """A fault for each key that means nothing here, with the nearest that does."""
        for key in found:
            if key not in known:
                meant = near(key, list(known))
                hint = f"did you mean “{meant}”?" if meant else f"the keys are {', '.join(known)}."
                self.fault((*where, key), f"“{key}” means nothing here; {hint}")

    # ------------------------------------------------------------ levels

    def levels(self, found: dict[str, Any]) -> Iterator[tuple[str, Weight]]:
        rules = {rule.name: rule for rule in RULES}
        self.keys(("levels",), found, tuple(rules))
        for name, said in found.items():
            where, rule = ("levels", name), rules.get(name)
            if isinstance(said, dict):
                self.keys(where, said, ("level", "because"))
                level, because = said.get("level"), said.get("because", "")
            else:
                level, because = said, ""
            if level not in WEIGHTS or not isinstance(because, str):
                choices = "“error”, “warning”, “note” or “hidden”"
                self.fault(where, f"The level of {name} is one of {choices}, in quotation marks.")
                continue
            if rule is None:
                continue
            lowered = lighter(level, rule.level)
            if lowered and name in FIXED:
                self.fault(where, f"{name} cannot weigh less: such a line is not judged at all.")
            elif lowered and rule.family in NEVER_SILENT:
                if level == HIDDEN:
                    self.fault(
                        where,
                        f"{name} is about safety, so it can be a note and never hidden: others "
                        "read the procedure too.",
                    )
                elif not because.strip():
                    self.fault(
                        where,
                        f"{name} is about safety, so it weighs less only with a reason: write "
                        f'{name} = {{ level = "{level}", because = "..." }}.',
                    )
            yield name, Weight(level, because.strip())

    # ------------------------------------------------------------ words and things

    def entries(self, found: dict[str, Any]) -> Iterator[tuple[str, Any]]:
        """The vocabulary entries of the house, by name."""
        for name, said in found.items():
            if not isinstance(said, dict):
                continue
            where = ("materials", name)
            self.keys(where, said, KEYS)
            if not _WORDS.fullmatch(name) or name != name.lower():
                self.fault(where, f"“{name}” is no name: write it in lower-case words.")
                continue
            known = {key: value for key, value in said.items() if key in KEYS}
            try:
                yield name, entry_of(name, known, self.name)
            except Refused as reason:
                self.fault((*where, reason.key) if reason.key else where, str(reason))

    def declare(self, made: Procedure, section: str, name: str, said: object) -> None:
        """One declaration, read as a procedure's own are, with its places in the house file."""
        where = (section, name)
        if not isinstance(said, str) or not said.strip() or any(c in said for c in '"“”#\n\r'):
            self.fault(
                where,
                f"{name} is declared in words as in a procedure, without inner quotation marks: "
                f'{name} = "{_EXAMPLES[section]}".',
            )
            return
        if not _NAME.fullmatch(name) or name in reserved() or len(name) > LONGEST_NAME:
            self.fault(
                where,
                f"“{name}” cannot be a name in steps: use letters, digits and hyphens, and no "
                "word of the language.",
            )
            return
        if len(said) > LONGEST_LINE:
            self.fault(where, f"The declaration of {name} is too long.")
            return
        line, column, value = self.places.get(where, (1, 1, 1))
        gap = " " * max(value - column - len(name) - 1, 1)
        tokens = declaration_words(f"{' ' * (column - 1)}{name}:{gap}{said}", line, [])
        node = parse(table(), "declaration", tokens)
        if isinstance(node, Refusal):
            fault = refused(node, tokens, "declaration")
            self.fault(where, f"{fault.sentence} {fault.remedy}")
            return
        describing.declare(made, section, node)
        self.declared(made, section, name)

    def declared(self, made: Procedure, section: str, name: str) -> None:
        """What is amiss with a declaration of the house, which no rule will look at again."""
        where = (section, name)
        for word, _, nearest in made.unknown:
            hint = f" Did you mean “{nearest}”?" if nearest else ""
            self.fault(where, f"I do not know the word “{word.text}”.{hint}")
        made.unknown.clear()
        for written in made.written:
            quantity = written.quantity
            if quantity.kind in ("unknown", "number"):
                self.fault(where, f"“{quantity.text}” is no amount that I can read.")
            elif quantity.unit is not None and quantity.unit.vague:
                choices = quantity.unit.ask.replace("; ", "” or “")
                self.fault(where, f"“{quantity.text}” may be US or imperial: write “{choices}”.")
        made.written.clear()
        if made.declared_twice:
            made.declared_twice.clear()
            self.fault(where, f"“{name}” is declared twice.")
        thing = made.declared(name)
        if thing is not None and thing.allows:
            self.fault(where, "An allow stands in a procedure; here [levels] is the place for it.")
        material = made.materials.get(name)
        if section == "materials" and material is not None and "bath" in material.roles:
            self.fault(where, "A kept bath belongs to a procedure, not to the house.")


_EXAMPLES = {
    "equipment": "stainless steel pot, 15 L, lidded, for dyeing only",
    "materials": "tansy tops, dried",
}


# ------------------------------------------------------------------ the text


def _text(file: Path, name: str) -> str:
    try:
        data = file.read_bytes()
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise BadHouse(f"{name} cannot be read: {said}.") from None
    if len(data) > LARGEST:
        raise BadHouse(f"{name} is larger than {LARGEST // 1_000_000} MB, which no house file is.")
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise BadHouse(
            f"{name}, line {line}: this is not UTF-8 text. Save the file as UTF-8."
        ) from None


def _data(text: str, name: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except (tomllib.TOMLDecodeError, RecursionError) as error:
        said = str(error)
        place = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)$", said)
        line = text.count("\n") + 1
        if place is not None:
            line = int(place.group(1)) if place.group(1) else line
            said = said[: place.start()]
        said = said[:1].lower() + said[1:160]
        raise BadHouse(f"{name}, line {line}: this is not TOML: {said}.") from None


def _places(text: str) -> Iterator[tuple[tuple[str, ...], tuple[int, int, int]]]:
    """Where keys stand: path to line, column, and the column of the value's first letter.

    Only plain lines are found, one key each; a fault at another is said to be at the
    section that holds it.
    """
    section: tuple[str, ...] = ()
    for number, line in enumerate(text.split("\n"), 1):
        heading = re.match(r"\s*\[+([^\[\]]+)\]+", line)
        if heading is not None:
            parts = re.findall(r"\"[^\"]*\"|'[^']*'|[\w-]+", heading.group(1))
            section = tuple(part.strip("\"'") for part in parts)
            yield section, (number, 1, 1)
            continue
        found = _ASSIGNED.match(line)
        if found is not None:
            key = found.group("key")
            column = found.start("key") + 1 + (key[0] in "\"'")
            yield (*section, key.strip("\"'")), (number, column, found.end() + 1)
