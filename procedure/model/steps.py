"""Lines of steps to steps and blocks, numbered in the order of the text."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from functools import cached_property

from procedure.language import Line, Node, Token
from procedure.model import describing
from procedure.model.measures import place_of, quantity, span_of
from procedure.model.naming import known, phrase, section_allow, unquoted
from procedure.model.quantity import Place, Quantity, number
from procedure.model.types import Block, Item, Name, Procedure, Step, Written
from procedure.vocabulary import vocabulary

# The part that a clause's amount plays, by clause.
_ROLES = {"at": "heat", "over": "time", "lasting": "time", "source": "from", "to": "to"}


class Steps:
    """Builds the steps of ``made``, numbering them in the order of the text."""

    def __init__(self, made: Procedure) -> None:
        self.made = made
        self.number = 0

    def lines(self, lines: list[Line], section: str) -> list[Step | Block]:
        """The steps and blocks of lines; one that could not be read is left out."""
        found: list[Step | Block] = []
        for line in lines:
            if line.node is None:
                inner = self.lines(line.block, section)
                found += inner  # the heading is faulty; its steps still count
                continue
            first = line.node.children[0]
            alone = line.node.kind == "step" and len(line.node.children) == 1
            if alone and isinstance(first, Node) and first.kind == "allow":
                section_allow(self.made, section, first)
                continue
            self.number += 1
            if line.opens:
                found.append(self.block(line, section))
            else:
                found.append(self.step(line.node))
        return found

    def block(self, line: Line, section: str) -> Block:
        """A repeat, an if or a for, with the steps in it."""
        node = line.node
        assert node is not None
        number_here = self.number
        label, children = _label(node)
        times: tuple[Fraction, Fraction] | None = None
        variable: Name | None = None
        values: tuple[Item, ...] = ()
        numbers = [c for c in children if isinstance(c, Token) and c.kind == "NUMBER"]
        if numbers:
            try:
                ends = [number(token.text).value for token in numbers]
                times = (ends[0], ends[-1])
            except ZeroDivisionError:
                times = (Fraction(0), Fraction(0))
        strings = [c for c in children if isinstance(c, Token) and c.kind == "STRING"]
        if node.kind == "each":
            name = next(c for c in children if isinstance(c, Token) and c.kind == "NAME")
            variable = Name(name.text, place_of(name))
            objects = children[-1]
            assert isinstance(objects, Node)
            values = tuple(self.item(child) for child in objects.children)
        return Block(
            number=number_here,
            kind={"repeat": "repeat", "choice": "if", "each": "for"}[node.kind],
            label=label,
            condition=strings[0].text[1:-1] if strings else "",
            times=times,
            variable=variable,
            values=values,
            body=tuple(self.lines(line.block, section)),
            place=span_of(node) if not numbers else _from(line.first, span_of(node)),
        )

    def step(self, node: Node) -> Step:
        """One step, with its clauses."""
        label, children = _label(node)
        first = children[0]
        where = span_of(node)
        if label is not None:
            where = Place(label.place.line, label.place.column, where.to)
        verb = None
        verb_place = where
        words = None
        if isinstance(first, Token) and first.kind == "VERB":
            verb = vocabulary().verbs[first.text]
            verb_place = place_of(first)
        elif isinstance(first, Token):
            words = unquoted(first)
            verb_place = words.place
        said: dict[str, object] = {}
        twice: list[Name] = []
        for child in children[1:]:
            assert isinstance(child, Node)
            if child.kind == "objects":
                said["objects"] = tuple(self.item(item) for item in child.children)
            else:
                self.clause(child, said, twice)
        if verb is not None and "to" in verb.may and "to" not in said:
            said |= _from_one_heat_to_another(said.get("source"))
        step = Step(
            number=self.number,
            kind=node.kind,
            label=label,
            verb=verb,
            verb_place=verb_place,
            words=words,
            twice=tuple(twice),
            place=where,
            **said,  # type: ignore[arg-type]
        )
        self.note_quantities(step)
        return step

    def clause(self, node: Node, said: dict[str, object], twice: list[Name]) -> None:
        """Enter a clause among the fields of its step; what is said twice counts once."""
        kind = node.kind.removesuffix("_clause")
        if kind in ("allow", "clause"):
            inner = node.children[0] if kind == "clause" else node
            assert isinstance(inner, Node)
            _append(said, "allows", describing.allow(inner))
        elif kind == "manner":
            _append(said, "manners", _manner(node.children[0]))
        else:
            field, read = self.clauses[kind]
            if field in said:
                twice.append(Name(kind, span_of(node)))
            else:
                said[field] = read(node.children[0])

    @cached_property
    def clauses(self) -> dict[str, tuple[str, Callable[[Node | Token], object]]]:
        """The field of a step that a clause fills, and what reads its value."""
        return {
            "in": ("within", self.item),
            "from": ("source", self.item),
            "at": ("at", self.item),
            "to": ("to", self.item),
            "until": ("until", self.item),
            "into": ("into", self.items),
            "with": ("using", self.items),
            "over": ("over", _measured),
            "for": ("lasting", _measured),
            "after": ("after", _names),
            "on": ("on", _name),
            "through": ("through", _name),
            "as": ("named", _name),
            "wearing": ("wearing", self.wearing),
            "note": ("note", _inside_marks),
        }

    def wearing(self, node: Node | Token) -> tuple[Name, ...]:
        """What is worn at a step, as the vocabulary has it."""
        return tuple(
            known(self.made, phrase(_node(word)), "wearing") for word in _node(node).children
        )

    def items(self, node: Node | Token) -> tuple[Item, ...]:
        """Several items of one clause."""
        return tuple(self.item(item) for item in _node(node).children)

    def item(self, node: Node | Token) -> Item:
        """A name, an amount, free words, or a name and an amount."""
        assert isinstance(node, Node)
        name: Name | None = None
        measured: Quantity | None = None
        words: Name | None = None
        given: Name | None = None
        for child in node.children:
            if isinstance(child, Node):
                measured = quantity(child)
            elif child.kind == "STRING":
                words = unquoted(child)
            elif name is None:
                name = _name(child)
            else:
                given = _name(child)
        return Item(name, measured, words, given, span_of(node))

    def note_quantities(self, step: Step) -> None:
        """Keep every amount with the part it plays, for the rules on units."""
        add = self.made.written.append
        for field, role in _ROLES.items():
            value = getattr(step, field)
            if isinstance(value, Quantity):
                add(Written(value, role, None, step))
            elif isinstance(value, Item) and value.quantity is not None:
                add(Written(value.quantity, role, value.name, step))
        if step.until is not None and step.until.quantity is not None:
            add(Written(step.until.quantity, "until", None, step))
        for items in (step.objects, step.into, step.using):
            for item in items:
                if item.quantity is not None:
                    add(Written(item.quantity, "amount", item.name, step))
        if step.within is not None and step.within.quantity is not None:
            add(Written(step.within.quantity, "amount", step.within.name, step))


def _label(node: Node) -> tuple[Name | None, list[Node | Token]]:
    children = list(node.children)
    first = children[0]
    if isinstance(first, Token) and first.kind == "LABEL":
        text = first.text.rstrip(": \t")
        where = Place(first.line, first.column, first.column + len(text))
        return Name(text, where), children[1:]
    return None, children


def _name(token: Node | Token) -> Name:
    assert isinstance(token, Token)
    return Name(token.text, place_of(token))


def _node(child: Node | Token) -> Node:
    assert isinstance(child, Node)
    return child


def _names(node: Node | Token) -> tuple[Name, ...]:
    return tuple(_name(token) for token in _node(node).children)


def _measured(node: Node | Token) -> Quantity:
    return quantity(_node(node))


def _inside_marks(token: Node | Token) -> str:
    assert isinstance(token, Token)
    return token.text[1:-1]


def _manner(token: Node | Token) -> Name:
    """A manner word, or a heat word in its place, under the vocabulary's own name."""
    assert isinstance(token, Token)
    found = vocabulary().find(token.text, "manner") or vocabulary().heats.get(token.text)
    return Name(found.name if found else token.text, place_of(token))


def _append(said: dict[str, object], field: str, one: object) -> None:
    earlier = said.get(field, ())
    assert isinstance(earlier, tuple)
    said[field] = (*earlier, one)


def _from_one_heat_to_another(source: object) -> dict[str, Item]:
    """“from 40 to 85 °C” as from the one heat to the other; nothing where it says no range.

    So people write it, and nobody means a range of heats to begin with. A second reading
    is of the heat at the end.
    """
    heat = source.quantity if isinstance(source, Item) else None
    if not isinstance(source, Item) or heat is None or heat.kind != "temperature":
        return {}
    begins, between, ends = heat.text.partition(" to ")
    if not between or heat.low is None or heat.high is None or heat.about or heat.word:
        return {}
    first, last = (heat.high, heat.low) if heat.backwards else (heat.low, heat.high)
    line, column, _ = heat.place
    start = Place(line, column, column + len(begins))
    end = Place(line, column + len(begins) + len(between), heat.place.to)
    one = heat._replace(
        low=first,
        high=first,
        slack_high=heat.slack_low,
        reading=None,
        backwards=False,
        text=f"{begins} {heat.unit.name}" if heat.unit is not None else begins,
        place=start,
    )
    other = heat._replace(
        low=last, high=last, slack_low=heat.slack_high, backwards=False, text=ends, place=end
    )
    return {
        "source": source._replace(quantity=one, place=start),
        "to": source._replace(quantity=other, place=end),
    }


def _from(first: Token, place: Place) -> Place:
    return Place(first.line, first.column, place.to) if first.line == place.line else place
