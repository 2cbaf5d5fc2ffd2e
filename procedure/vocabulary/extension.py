"""A workshop's own words: entries beside those of the data files."""

from typing import Any

from procedure.quantity.record import NamedTuple
from procedure.vocabulary.entries import Entry
from procedure.vocabulary.library import MATERIAL_TABLES, Vocabulary, rows, vocabulary


class Refused(ValueError):
    """An entry that cannot be entered; ``key`` is the key at fault, or empty."""

    def __init__(self, sentence: str, remedy: str, key: str = "") -> None:
        super().__init__(sentence)
        self.remedy = remedy
        self.key = key


_ALL = ("dyestuff", "mordant", "assistant")


class _Column(NamedTuple):
    """What a key is to the data files: its columns, the form of its value, what it is for.

    ``form`` is text, list, yes (true or false), number, range (two numbers), or the
    choices, with strokes between.
    """

    columns: tuple[str, ...]
    form: str
    kinds: tuple[str, ...] = _ALL


_DYE, _MORDANT, _OTHER = (_ALL[:1], _ALL[1:2], _ALL[2:])
_COLUMNS = {
    "part": _Column((), "text"),
    "source": _Column(("source",), "text"),
    "hazards": _Column(("hazards",), "list"),
    "aliases": _Column(("aliases",), "list"),
    "also": _Column(("also",), "list"),
    "heat-limit": _Column(("heat_limit_c",), "number", _DYE + _MORDANT),
    "botanical": _Column(("botanical",), "text", _DYE),
    "plant-parts": _Column(("part",), "list", _DYE),
    "class": _Column(("dye_class",), "mordant|substantive|vat|acid extract", _DYE),
    "mordant": _Column(("mordant",), "needed|helps|not needed", _DYE),
    "fresh": _Column(("fresh_low", "fresh_high"), "range", _DYE),
    "dried": _Column(("dried_low", "dried_high"), "range", _DYE),
    "lightfast": _Column(("lightfast",), "good|fair|poor|fugitive", _DYE),
    "iron-dulls": _Column(("iron_sensitive",), "yes", _DYE),
    "cautions": _Column(("cautions",), "text", _DYE),
    "metal": _Column(("metal",), "aluminium|iron|copper|tin|chromium|titanium", _MORDANT),
    "protein": _Column(("protein_low", "protein_high"), "range", _MORDANT),
    "cellulose": _Column(("cellulose_low", "cellulose_high"), "range", _MORDANT),
    "rinse-first": _Column(("rinse_first",), "yes", _MORDANT),
    "strength": _Column(("strength",), "mild|moderate|strong", _OTHER),
    "formula": _Column(("formula",), "text", _MORDANT + _OTHER),
    "cas": _Column(("cas",), "text", _MORDANT + _OTHER),
}
KEYS = tuple(_COLUMNS)
_NEEDED = ("part", "hazards", "source")
_MORDANTS = ("mordant", "modifier", "tannin")


def entry_of(name: str, said: dict[str, Any], file: str) -> Entry:
    """The entry that a workshop's words make; its source is theirs, with the file named.

    ``said`` is what the table of that name holds, by the keys of :data:`KEYS`; shares are
    % of the dry fibre and heats °C.

    Raises :class:`Refused` with a sentence and a remedy: a name that the vocabulary has
    already (a workshop may not unsay what is known of a poison), a part, hazard or
    source missing, a value of the wrong form.
    """
    words = vocabulary()
    roles = _roles(words)
    _check(name, said, roles)
    part = said["part"]
    kind = "dyestuff" if part == "dyestuff" else "mordant" if part in _MORDANTS else "assistant"
    table = {"dyestuff": "dyestuffs", "mordant": "mordants", "assistant": "assistants"}[kind]
    facts = dict.fromkeys(next(iter(rows(table)), {}), "")
    facts["name"] = name
    for key, value in said.items():
        column = _COLUMNS[key]
        if kind not in column.kinds:
            raise Refused(f"“{key}” means nothing for {_a(part)}.", "Remove the line.", key)
        cells = _cells(key, column.form, value)
        facts |= dict(zip(column.columns, cells, strict=bool(column.columns)))
    if kind != "dyestuff":
        facts["role"] = part
    elif not facts["dye_class"]:
        facts["dye_class"] = "mordant"  # the cautious reading: it is asked for a mordant
        facts["mordant"] = facts["mordant"] or "needed"
    facts["source"] = f"{said['source']} ({file})"
    _check_words(name, said, words, roles)
    return Entry(name, table, facts)


def _check(name: str, said: dict[str, Any], roles: list[str]) -> None:
    """Raises ``Refused`` where a key that must be there is not, or the part is no part."""
    for key in _NEEDED:
        if key not in said:
            need = " (an empty list where none is known)" if key == "hazards" else ""
            raise Refused(f"{name} needs “{key}”{need}.", f"Write a line {key} = ...")
    if said["part"] not in roles:
        raise Refused(
            f"“{said['part']}” is no part in the work that I know.",
            f"The part of {name} is one of: {', '.join(roles)}.",
            "part",
        )


def _check_words(name: str, said: dict[str, Any], words: Vocabulary, roles: list[str]) -> None:
    """Raises ``Refused`` for a hazard or part that is unknown, or a name that is taken."""
    for hazard in said["hazards"]:
        if words.find(hazard, "ghs", "hazards") is None:
            raise Refused(
                f"I do not know the hazard “{hazard}”.",
                f"Write a GHS code such as H302, or one of {', '.join(words.names('hazards'))}.",
                "hazards",
            )
    for role in said.get("also", ()):
        if role not in roles:
            said_so = f"“{role}” is no part in the work that I know."
            raise Refused(said_so, f"Write some of: {', '.join(roles)}.", "also")
    latin = words.material(said.get("botanical", "").lower())
    danger = words.danger(latin) if latin is not None else None
    if danger is not None:
        raise Refused(
            f"“{said['botanical']}” is {danger.name}, which is {danger.facts['level']}, and what "
            "is known of it stays.",
            f"Declare it as {danger.name}.",
            "botanical",
        )
    for one in (name, *said.get("aliases", ())):
        if words.material(one) is not None:
            raise Refused(
                f"“{one}” is in the vocabulary already, and what is known of it stays.",
                "Declare it in words, or give yours a name of its own.",
            )


def with_entries(entries: dict[str, Entry]) -> Vocabulary:
    """The vocabulary with entries of a workshop; the vocabulary itself stays as it is."""
    words = vocabulary()
    if not entries:
        return words
    extended = Vocabulary.__new__(Vocabulary)
    extended.__dict__ |= words.__dict__
    extended.tables = {
        name: dict(table) if name in MATERIAL_TABLES else table
        for name, table in words.tables.items()
    }
    for entry in entries.values():
        for name in (entry.name, *entry.words("aliases")):
            extended.tables[entry.table][name] = entry
    return extended


def _roles(words: Vocabulary) -> list[str]:
    """The parts that a material can play, a kept bath aside."""
    parts = [entry.name for entry in words.tables["part"].values() if entry.name != "bath"]
    others = [role for row in rows("assistants") for role in row["role"].split("; ")]
    return list(dict.fromkeys([*parts, *others]))


def _cells(key: str, form: str, value: object) -> list[str]:
    """A value as cells of a data file. Raises ``Refused`` where it has another form."""
    items = value if isinstance(value, list) else []
    if form == "text" and isinstance(value, str) and value.strip():
        return [" ".join(value.split())]
    words = all(isinstance(one, str) and one.strip() and ";" not in one for one in items)
    if form == "list" and isinstance(value, list) and words:
        return ["; ".join(value)]
    if form == "yes" and isinstance(value, bool):
        return ["yes" if value else "no"]
    if form == "number" and _number(value):
        return [str(value)]
    if form == "range" and len(items) == 2 and all(map(_number, items)) and items[0] <= items[1]:
        return [str(one) for one in items]
    if "|" in form and isinstance(value, str) and value in form.split("|"):
        return [value]
    wanted = {
        "text": 'words in quotation marks, as in "from our own trials"',
        "list": 'a list, as in ["H302", "stains skin"]',
        "yes": "true or false",
        "number": "a number",
        "range": "two numbers, the smaller first, as in [10, 30]",
    }.get(form, f"one of: {form.replace('|', ', ')}")
    raise Refused(f"“{key}” has a value of another kind.", f"“{key}” is {wanted}.", key)


def _number(value: object) -> bool:
    finite = isinstance(value, int | float) and not isinstance(value, bool)
    return finite and 0 <= value < 1_000_000  # type: ignore[operator]


def _a(word: str) -> str:
    return f"{'an' if word[0] in 'aeiou' else 'a'} {word}"
