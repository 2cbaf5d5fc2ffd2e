"""Reads a workshop file: raw levels, entries and declarations, each with its place.

Apart from :mod:`procedure.collection.nearest` because few runs need it.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from datetime import date, datetime
from pathlib import Path
from typing import Any, TypeVar

from procedure.collection import shop
from procedure.collection.bytes_of import bytes_of
from procedure.collection.workshop import LevelSaid, Opening, WorkshopFault, WorkshopFile
from procedure.findings import Says, say
from procedure.language.one_line import LONGEST_NAME
from procedure.language.parsing import Refusal, parse
from procedure.language.reading import LONGEST_LINE
from procedure.language.table import table
from procedure.language.words import declaration_words, reserved
from procedure.model import describing
from procedure.model.types import Name, Place, Procedure, Workshop
from procedure.vocabulary import near
from procedure.vocabulary.extension import KEYS, Refused, entry_of, with_entries

SECTIONS = ("levels", "equipment", "materials", "prices", "stock", "workshop")
LARGEST = 1_000_000
Read = TypeVar("Read")
_NAME = r"[^\W\d_][^\W_]*(?:['’-][^\W_]+)*"
_WORDS = r"[^\W\d_][^\W_]*(?:[-' ][^\W_]+)*"
_ASSIGNED = r"""(?a)\s*(?P<key>"[^"]*"|'[^']*'|[\w-]+)\s*=\s*(?P<mark>"(?!"")|'(?!''))?"""


class _NotRead(Exception):
    """A file that is no TOML text at all: nothing of it can be used."""

    def __init__(self, line: int, sentence: str, remedy: str) -> None:
        super().__init__(sentence)
        self.fault = WorkshopFault(Place(line, 1, 2), sentence, remedy)


def read(file: Path, text: str | None = None) -> WorkshopFile:
    """What a workshop file says, with every fault that is in it.

    ``text`` is read in place of the file where it is given.
    """
    name = os.path.relpath(file)
    try:
        said = _text(file, name) if text is None else text.removeprefix("\ufeff")
        reading = _Reading(name, said, _data(said))
    except _NotRead as reason:
        empty = Workshop(name, with_entries({}), {}, {})
        return WorkshopFile(Procedure(name), empty, (), (reason.fault,))
    return reading.workshop()


class _Reading:
    """One reading of a workshop file, with the faults found on the way."""

    def __init__(self, name: str, text: str, data: dict[str, Any]) -> None:
        self.name = name
        self.data = data
        self.places = dict(_places(text))
        self.faults: list[WorkshopFault] = []
        self.counted: date | None = None

    def place(self, where: tuple[str, ...]) -> Place:
        """The place of a key, or of the nearest key above it that the text shows."""
        while where and where not in self.places:
            where = where[:-1]
        line, column, _ = self.places[where] if where else (1, 1, 1)
        return Place(line, column, column + max(len(where[-1]) if where else 1, 1))

    def fault(self, where: tuple[str, ...], sentence: Says | str, remedy: Says | str) -> None:
        """Note a fault at a key, or at the nearest key above it that the text shows."""
        self.faults.append(WorkshopFault(self.place(where), sentence, remedy))

    def workshop(self) -> WorkshopFile:
        """The whole: entries first, since declarations may use them."""
        self.keys((), self.data, SECTIONS)
        levels = tuple(self.levels(self.section("levels")))
        materials = self.section("materials")
        entries = dict(self.entries(materials))
        words = with_entries(entries)
        declared = Procedure(self.name)
        declared.workshop = Workshop(self.name, words, {}, {})
        for name, said in self.section("equipment").items():
            self.declare(declared, "equipment", name, said)
        for name, said in materials.items():
            # An entry of the workshop's own is a material of that name as well.
            if not isinstance(said, dict):
                self.declare(declared, "materials", name, said)
            elif re.fullmatch(_NAME, name) and name in entries:
                self.declare(declared, "materials", name, name)
        workshop = Workshop(self.name, words, declared.equipment, declared.materials)
        prices = dict(self.amounts("prices", shop.price, "4.20 for 500 g"))
        stock = dict(self.amounts("stock", shop.held, "350 g"))
        opened = self.opening(self.section("workshop"))
        faults = tuple(sorted(dict.fromkeys(self.faults), key=lambda fault: fault.place))
        return WorkshopFile(declared, workshop, levels, faults, prices, stock, opened, self.counted)

    def amounts(
        self, section: str, read: Callable[[str], Read], example: str
    ) -> Iterator[tuple[str, Read]]:
        """The prices or the stock, by the name of a material."""
        for name, said in self.section(section).items():
            where = (section, name)
            if (section, name) == ("stock", "counted"):
                self.counted = self.day(where, said)
                continue
            try:
                if not isinstance(said, str):
                    raise shop.NotRead(f"{name} is said in words, between quotation marks.")
                yield name, read(said)
            except shop.NotRead as reason:
                self.fault(where, str(reason), f'Write it as in {name} = "{example}".')

    def day(self, where: tuple[str, ...], said: object) -> date | None:
        """A day as TOML has it, or the same between quotation marks."""
        with suppress(ValueError):
            found = date.fromisoformat(said) if isinstance(said, str) else said
            if isinstance(found, date):
                return found.date() if isinstance(found, datetime) else found
        self.fault(where, "That is not a day.", "Write it as in counted = 2026-01-01.")
        return None

    def opening(self, found: dict[str, Any]) -> Opening:
        """The hours, the people and the room that are stated."""
        if not found:
            return Opening()
        from procedure.collection import opening

        self.keys(("workshop",), found, opening.KEYS)
        amiss: list[opening.Amiss] = []
        opened = opening.opening(found, amiss)
        for each in amiss:
            self.fault(("workshop", each.key), each.sentence, each.remedy)
        return opened

    def section(self, name: str) -> dict[str, Any]:
        found = self.data.get(name, {})
        if isinstance(found, dict):
            return found
        self.fault(
            (name,),
            say("“{name}” is a section.", name=name),
            say("Write [{name}] on a line of its own.", name=name),
        )
        return {}

    def keys(
        self, where: tuple[str, ...], found: Mapping[str, Any], known: tuple[str, ...]
    ) -> None:
        """A fault for each key that means nothing here, with the nearest that does."""
        for key in found:
            if key not in known:
                meant = near(key, list(known))
                hint = (
                    say("Did you mean “{meant}”?", meant=meant)
                    if meant
                    else say("The keys are {keys}.", keys=", ".join(known))
                )
                self.fault((*where, key), say("“{key}” means nothing here.", key=key), hint)

    # ------------------------------------------------------------ levels

    def levels(self, found: dict[str, Any]) -> Iterator[LevelSaid]:
        """The levels as written; whether there is such a rule is for the rules to say."""
        for name, said in found.items():
            where = ("levels", name)
            level, because = said, ""
            if isinstance(said, dict):
                self.keys(where, said, ("level", "because"))
                level, because = said.get("level"), said.get("because", "")
            written = isinstance(level, str) and isinstance(because, str)
            yield LevelSaid(
                Name(name, self.place(where)),
                level if written else "",
                because.strip() if written else "",
            )

    # ------------------------------------------------------------ words and things

    def entries(self, found: dict[str, Any]) -> Iterator[tuple[str, Any]]:
        """The vocabulary entries of the workshop, by name."""
        for name, said in found.items():
            if not isinstance(said, dict):
                continue
            where = ("materials", name)
            self.keys(where, said, KEYS)
            if not re.fullmatch(_WORDS, name) or name != name.lower():
                self.fault(
                    where, say("“{name}” is no name.", name=name), "Write it in lower-case words."
                )
                continue
            known = {key: value for key, value in said.items() if key in KEYS}
            try:
                yield name, entry_of(name, known, self.name)
            except Refused as reason:
                at = (*where, reason.key) if reason.key else where
                self.fault(at, str(reason), reason.remedy)

    def declare(self, made: Procedure, section: str, name: str, said: object) -> None:
        """One declaration, read as a procedure's own are, with its places in the workshop file."""
        where = (section, name)
        if not isinstance(said, str) or not said.strip() or any(c in said for c in '"“”#\n\r'):
            self.fault(
                where,
                say(
                    "{name} is declared in words as in a procedure, without inner quotation marks.",
                    name=name,
                ),
                say('Write it as in {name} = "{example}".', name=name, example=_EXAMPLES[section]),
            )
            return
        if not re.fullmatch(_NAME, name) or name in reserved() or len(name) > LONGEST_NAME:
            self.fault(
                where,
                say("“{name}” cannot be a name in steps.", name=name),
                "Use letters, digits and hyphens, and no word of the language.",
            )
            return
        if len(said) > LONGEST_LINE:
            self.fault(
                where,
                say("The declaration of {name} is too long.", name=name),
                "Say it in fewer words.",
            )
            return
        line, column, value = self.places.get(where, (1, 1, 1))
        gap = " " * max(value - column - len(name) - 1, 1)
        tokens = declaration_words(f"{' ' * (column - 1)}{name}:{gap}{said}", line, [])
        node = parse(table(), "declaration", tokens)
        if isinstance(node, Refusal):
            from procedure.language.faults import refused

            fault = refused(node, tokens, "declaration")
            self.fault(where, fault.sentence, fault.remedy)
            return
        describing.declare(made, section, node)
        self.declared(made, section, name)

    def declared(self, made: Procedure, section: str, name: str) -> None:
        """What is amiss with a declaration of the workshop, which no rule will look at again."""
        where = (section, name)
        for word, _, nearest, *_ in made.unknown:
            hint = (
                say("Did you mean “{meant}”?", meant=nearest)
                if nearest
                else say("Use a word of the vocabulary.")
            )
            self.fault(where, say("I do not know the word “{word}”.", word=word.text), hint)
        made.unknown.clear()
        for written in made.written:
            quantity = written.quantity
            if quantity.kind in ("unknown", "number"):
                said = say("“{amount}” is no amount that I can read.", amount=quantity.text)
                from procedure.wording.samples import shown

                self.fault(where, said, shown("Write a number and a unit, as in {pot}."))
            elif quantity.unit is not None and quantity.unit.vague:
                choices = quantity.unit.ask.replace("; ", "” or “")
                said = say("“{amount}” may be US or imperial.", amount=quantity.text)
                self.fault(where, said, say("Write “{choices}”.", choices=choices))
        made.written.clear()
        if made.declared_twice:
            made.declared_twice.clear()
            self.fault(
                where,
                say("“{name}” is declared twice.", name=name),
                "Give one of the two another name.",
            )
        thing = made.declared(name)
        if thing is not None and thing.allows:
            said = say("An allow belongs in a procedure.")
            self.fault(where, said, "Here, give the rule a level under [levels].")
        material = made.materials.get(name)
        if section == "materials" and material is not None and "bath" in material.roles:
            said = say("A kept bath belongs to a procedure, not to the workshop.")
            self.fault(where, said, "Declare it in the procedure that uses it.")


_EXAMPLES = {
    "equipment": "stainless steel pot, 15 L, lidded, for dyeing only",
    "materials": "tansy tops, dried",
}


# ------------------------------------------------------------------ the text


def _text(file: Path, name: str) -> str:
    try:
        data = bytes_of(file, LARGEST)
    except OSError as reason:
        said = (reason.strerror or str(reason)).lower()
        raise _NotRead(1, f"{name} cannot be read: {said}.", "See that it can be opened.") from None
    if len(data) > LARGEST:
        said = f"{name} is larger than {LARGEST // 1_000_000} MB, which no workshop file is."
        raise _NotRead(1, said, "Put a workshop file in its place, or none.")
    try:
        return data.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise _NotRead(line, "This is not UTF-8 text.", "Save the file as UTF-8.") from None


def _data(text: str) -> dict[str, Any]:
    if not _says_something(text):
        return {}
    import tomllib  # takes longer than all else for a file that only marks its folder

    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # a number of 5,000 digits is a ValueError alone
        said = str(error)
        place = re.search(r" \(at (?:line (\d+), column \d+|end of document)\)$", said)
        line = text.count("\n") + 1
        if place is not None:
            line = int(place.group(1)) if place.group(1) else line
            said = said[: place.start()]
        said = said[:1].lower() + said[1:160]
        remedy = "Write it as grammar/workshop.md shows."
        raise _NotRead(line, f"This is not TOML: {said}.", remedy) from None


def _says_something(text: str) -> bool:
    """False for a text of nothing but empty lines and comments, which is no fault in TOML."""
    lines = (line.strip(" \t") for line in text.replace("\r\n", "\n").split("\n"))
    return any(line and not (line[0] == "#" and line.isprintable()) for line in lines)


def _places(text: str) -> Iterator[tuple[tuple[str, ...], tuple[int, int, int]]]:
    """Where keys are: path to line, column, and the column of the value's first letter.

    Only plain lines are found, one key each; a fault at another is said to be at the
    section that holds it.
    """
    section: tuple[str, ...] = ()
    for number, line in enumerate(text.split("\n"), 1):
        if not line or line.startswith("#"):
            continue
        heading = re.match(r"\s*\[+([^\[\]]+)\]+", line)
        if heading is not None:
            parts = re.findall(r"\"[^\"]*\"|'[^']*'|[\w-]+", heading.group(1))
            section = tuple(part.strip("\"'") for part in parts)
            yield section, (number, 1, 1)
            continue
        found = re.match(_ASSIGNED, line)
        if found is not None:
            key = found.group("key")
            column = found.start("key") + 1 + (key[0] in "\"'")
            yield (*section, key.strip("\"'")), (number, column, found.end() + 1)
