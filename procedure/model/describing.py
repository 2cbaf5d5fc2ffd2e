"""Declarations: what the words after a name say, looked up in the vocabulary."""

from __future__ import annotations

from procedure.language import Node, Token
from procedure.model.harm import suspected
from procedure.model.measures import place_of, quantity, span_of
from procedure.model.quantity import Place, Quantity
from procedure.model.types import (
    Allow,
    Equipment,
    Lot,
    Material,
    Name,
    Procedure,
    UnknownWord,
    Written,
)
from procedure.vocabulary import Entry, Vocabulary, near, vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES
from procedure.vocabulary.suggestions import suggestion

LONGEST_PHRASE = 5
# The tables that a section's words are looked for in, in this order.
TABLES: dict[str, tuple[str, ...]] = {
    "fibre": ("fibres", "state", "form"),
    "equipment": ("use", "metals", "vessel", "heater", "tool", "state"),
    "materials": (*MATERIAL_TABLES, "part", "state"),
}
_FILLERS = frozenset(
    ("for", "only", "of", "a", "an", "the", "and", "with", "from", "in", "on", "to")
)


class Described:
    """What one declaration says: its entries by table, quantities, dates, free words."""

    def __init__(
        self, node: Node, section: str, unknown: list[UnknownWord], known: Vocabulary
    ) -> None:
        self.known = known
        label = node.children[0]
        assert isinstance(label, Token)
        text = label.text.rstrip(": \t")
        where = Place(label.line, label.column, label.column + len(text))
        self.name = Name(text, where)
        self.line = label.line
        self.entries: list[tuple[Entry, Place]] = []
        self.phrases: list[str] = []
        self.quantities: list[tuple[Quantity, tuple[str, ...]]] = []
        self.free: list[str] = []
        self.date = ""
        self.allows = tuple(
            allow(c) for c in node.children if isinstance(c, Node) and c.kind == "allow"
        )
        for child in node.children[1:]:
            if isinstance(child, Node) and child.kind == "descriptor":
                self._descriptor(child, section, unknown)

    def _descriptor(self, node: Node, section: str, unknown: list[UnknownWord]) -> None:
        measured: Quantity | None = None
        found: list[str] = []
        for part in node.children:
            assert isinstance(part, Node)
            if part.kind == "quantity":
                measured = quantity(part)
            else:
                found += self._words(part, section, unknown)
        if measured is not None:
            self.quantities.append((measured, tuple(found)))

    def _words(self, node: Node, section: str, unknown: list[UnknownWord]) -> list[str]:
        words: list[Token] = []
        found: list[str] = []
        for token in (*node.children, None):
            if isinstance(token, Token) and token.kind == "WORD":
                words.append(token)
                continue
            if words:
                found += self._look_up(words, section, unknown)
                words = []
            if isinstance(token, Token) and token.kind == "STRING":
                self.free.append(token.text[1:-1])
            elif isinstance(token, Token):
                self.date = token.text
        return found

    def _look_up(self, tokens: list[Token], section: str, unknown: list[UnknownWord]) -> list[str]:
        """The longest known phrases, from the left; what is not known is reported."""
        words = self.known
        tables = TABLES[section]
        found: list[str] = []
        at = 0
        while at < len(tokens):
            for length in range(min(LONGEST_PHRASE, len(tokens) - at), 0, -1):
                phrase = " ".join(token.text for token in tokens[at : at + length])
                entry = words.find(phrase, *tables)
                if entry is None and section == "materials":
                    # Plants are often written with a capital, as in “Japanese knotweed”.
                    entry = words.material(phrase) or words.material(phrase.lower())
                if entry is not None:
                    where = span_of(Node("words", tuple(tokens[at : at + length])))
                    self.entries.append((entry, where))
                    self.phrases.append(phrase)
                    found.append(entry.name)
                    at += length
                    break
            else:
                token = tokens[at]
                if token.text not in _FILLERS:
                    rest = " ".join(token.text for token in tokens[at:])
                    unknown.append(_unknown(token, rest, section, words))
                at += 1
        return found

    def of(self, *tables: str) -> list[Entry]:
        """The entries found in those tables."""
        return [entry for entry, _ in self.entries if entry.table in tables]

    def states(self) -> tuple[str, ...]:
        """The words that tell its state."""
        return tuple(entry.name for entry in self.of("state"))

    def measure(self, *kinds: str) -> Quantity | None:
        """The first quantity of those kinds."""
        return next((q for q, _ in self.quantities if q.kind in kinds), None)


def _unknown(token: Token, rest: str, section: str, words: Vocabulary) -> UnknownWord:
    """A word that the vocabulary lacks, with what it and the words after it may mean."""
    name, tables = Name(token.text, place_of(token)), TABLES[section]
    if section != "materials":
        known = words.names(*tables)
        return UnknownWord(name, section, near(rest, known) or near(token.text, known))
    first = suggestion(rest, *tables, words=words)
    if first.ask or first.meant:
        return UnknownWord(name, section, first.meant, first.ask)
    return UnknownWord(name, section, *suggestion(token.text, *tables, words=words))


def allow(node: Node) -> Allow:
    """What an ``allow`` node says."""
    name, reason = node.children
    assert isinstance(name, Token) and isinstance(reason, Token)
    where = place_of(name)
    return Allow(Name(name.text, where), reason.text[1:-1].strip(), where)


def lot(said: Described) -> Lot:
    """A lot of fibre."""
    states = said.states()
    weight = said.measure("mass")
    pieces = said.measure("count")
    if weight is None and pieces is not None and pieces.each is not None:
        weight = _whole(pieces)
    return Lot(
        name=said.name,
        fibres=tuple(said.of("fibres")),
        weight=weight,
        pieces=pieces,
        scoured=True if "scoured" in states else False if "unscoured" in states else None,
        mordanted="mordanted" in states,
        words=tuple(entry.name for entry, _ in said.entries) + tuple(said.free),
        line=said.line,
        allows=said.allows,
    )


def _whole(pieces: Quantity) -> Quantity | None:
    """The weight of a lot given as pieces of a weight each."""
    each = pieces.each
    if each is None or each.kind != "mass" or not each.known or not pieces.known:
        return None
    low, high = each.ends
    fewest, most = pieces.ends
    return each._replace(low=low * fewest, high=high * most, text=pieces.text, each=None)


def equipment(said: Described) -> Equipment:
    """A pot or a tool."""
    use = [(entry, where) for entry, where in said.entries if entry.table == "use"]
    said_use = {"dyeing only": "dyeing", "cooking": "cooking", "cooking and dyeing": "both"}
    kinds = said.of("vessel", "heater", "tool")
    return Equipment(
        name=said.name,
        metal=next(iter(said.of("metals")), None),
        kind=next(iter(kinds), None),
        capacity=said.measure("volume"),
        power=said.measure("power"),
        lidded="lidded" in said.states(),
        use=said_use[use[0][0].name] if use else "",
        use_place=use[0][1] if use else None,
        words=(*said.phrases, *said.free),
        line=said.line,
        allows=said.allows,
    )


def material(said: Described) -> Material:
    """A plant, mordant or other material."""
    entry = next(iter(said.of(*MATERIAL_TABLES)), None)
    suspects = suspected(entry, said.name.text, said.free)
    if entry is None and suspects:
        # A poison that only a nickname or free words name is a material like any other.
        entry, suspects = said.known.material(suspects[0].name), suspects[1:]
    states = said.states()
    return Material(
        name=said.name,
        entry=entry,
        roles=_roles(entry, said),
        state="fresh" if "fresh" in states else "dried" if "dried" in states else "",
        gathered=said.date if "gathered" in states else "",
        strength=said.measure("percent", "concentration"),
        strength_by=next((s for s in states if s in ("by weight", "by volume")), ""),
        words=tuple(entry.name for entry, _ in said.entries) + tuple(said.free),
        line=said.line,
        allows=said.allows,
        part=_part(entry, said),
        suspects=suspects,
    )


def _part(entry: Entry | None, said: Described) -> str:
    """The part of the plant that stands behind its name."""
    if entry is None:
        return ""
    parts = entry.words("part")
    return next((part for part in parts for p in said.phrases if p.endswith(f" {part}")), "")


def _roles(entry: Entry | None, said: Described) -> tuple[str, ...]:
    roles = [part.name for part in said.of("part")]
    if entry is not None:
        if entry.table == "dyestuffs":
            roles.append("dyestuff")
        roles += [*entry.words("role"), *entry.words("also")]
    return tuple(dict.fromkeys(roles))


_DECLARED_ROLES = {
    "mass": "weight",
    "volume": "capacity",
    "count": "pieces",
    "power": "power",
    "percent": "strength",
    "concentration": "strength",
}


def declare(procedure: Procedure, section: str, node: Node) -> None:
    """Enter one declaration into the procedure."""
    workshop = procedure.workshop
    known = vocabulary() if workshop is None else workshop.words
    said = Described(node, section, procedure.unknown, known)
    for measured, _ in said.quantities:
        role = _DECLARED_ROLES.get(measured.kind, "description")
        procedure.written.append(Written(measured, role, said.name, None))
    earlier = procedure.declared(said.name.text)
    if earlier is not None:
        procedure.declared_twice.append((said.name, earlier.name))
        return
    if section == "fibre":
        procedure.lots[said.name.text] = lot(said)
    elif section == "equipment":
        procedure.equipment[said.name.text] = equipment(said)
    else:
        procedure.materials[said.name.text] = material(said)
