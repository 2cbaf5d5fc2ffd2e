"""A tree to a procedure: header lines, declarations, steps and blocks."""

from __future__ import annotations

from fractions import Fraction

from procedure.language import Line, Node, Section, Token, Tree
from procedure.model import describing
from procedure.model.from_workshop import bring
from procedure.model.measures import place_of, quantity, span_of
from procedure.model.quantity import Place, Quantity, number
from procedure.model.types import Block, Item, Name, Procedure, Step, Workshop, Written
from procedure.vocabulary import vocabulary

_TEXT_HEADERS = ("by", "revised", "version", "source", "makes", "licence")


def build(tree: Tree, file: str, workshop: Workshop | None = None, key: str = "") -> Procedure:
    """The procedure that a tree says; lines that could not be read are left out.

    ``file`` is the name that findings show and ``key`` what the file is known by, its
    resolved path as a rule; it is ``file`` where none is given.
    """
    made = Procedure(file, tree.line_count, workshop, key)
    seen: dict[str, Token] = {}
    body: list[Step | Block] = []
    steps = _Steps(made)
    for section in tree.sections:
        earlier = seen.get(section.name)
        if earlier is not None:
            name = Name(section.name, place_of(section.heading))
            made.sections_twice.append((name, earlier.line))
        else:
            seen[section.name] = section.heading
        lines = _last_line(section)
        made.unread |= _unread(section.lines)
        made.section_lines.setdefault(section.name, (section.heading.line, lines))
        if section.name == "procedure":
            _header(made, section)
        elif section.name == "steps":
            body += steps.lines(section.lines, section.name)
        else:
            for line in section.lines:
                if line.node is None:
                    continue
                first = line.node.children[0]
                if isinstance(first, Node):
                    _section_allow(made, section.name, first)
                else:
                    describing.declare(made, section.name, line.node)
    made.body = tuple(body)
    if workshop is not None:
        bring(made, workshop)
    return made


def _last_line(section: Section) -> int:
    last = section.heading.line
    lines = list(section.lines)
    while lines:
        line = lines.pop()
        last = max(last, line.first.line)
        lines += line.block
    return last


def _unread(lines: list[Line]) -> set[str]:
    """The names before the colon of lines that could not be read."""
    found: set[str] = set()
    for line in lines:
        if line.node is None and line.first.kind == "LABEL":
            found.add(line.first.text.rstrip(": \t"))
        if line.block:
            found |= _unread(line.block)
    return found


def _section_allow(made: Procedure, section: str, node: Node) -> None:
    said = describing.allow(node)
    made.section_allows[section] = (*made.section_allows.get(section, ()), said)


def _unquoted(token: Token) -> Name:
    text = token.text[1:-1] if token.kind == "STRING" else token.text
    return Name(" ".join(text.split()), place_of(token))


def _phrase(node: Node) -> Name:
    tokens = [child for child in node.children if isinstance(child, Token)]
    text = " ".join(token.text.strip('"“”') for token in tokens)
    return Name(text, span_of(node))


def _header(made: Procedure, section: Section) -> None:
    if section.title is not None:
        made.title = _unquoted(section.title.children[0])  # type: ignore[arg-type]
    for line in section.lines:
        if line.node is None:
            continue
        kind = line.node.kind
        value = line.node.children[0]
        if kind in _TEXT_HEADERS:
            assert isinstance(value, Token)
            setattr(made, kind, _unquoted(value))
        elif kind == "note":
            assert isinstance(value, Token)
            made.notes = (*made.notes, _unquoted(value))
        elif kind == "altitude":
            assert isinstance(value, Node)
            made.altitude = quantity(value)
            made.written.append(Written(made.altitude, "altitude", None, None))
        elif kind == "place":
            assert isinstance(value, Node)
            made.setting = _known(made, _phrase(value), "place")
        elif kind in ("wearing", "audience"):
            assert isinstance(value, Node)
            said = tuple(_known(made, _phrase(word), kind) for word in value.children)  # type: ignore[arg-type]
            setattr(made, kind, getattr(made, kind) + said)
        elif kind == "header":  # an allow for the whole procedure
            assert isinstance(value, Node)
            made.allows = (*made.allows, describing.allow(value))


def _known(made: Procedure, name: Name, table: str) -> Name:
    """The name as the vocabulary has it; an unknown word is noted and kept."""
    from procedure.model.types import UnknownWord
    from procedure.vocabulary import near

    entry = vocabulary().find(name.text, table)
    if entry is None:
        meant = near(name.text, vocabulary().names(table))
        made.unknown.append(UnknownWord(name, table, meant))
        return name
    return Name(entry.name, name.place)


# The part that a clause's amount plays, by clause.
_ROLES = {"at": "heat", "over": "time", "lasting": "time", "source": "from", "to": "to"}


class _Steps:
    """Builds steps, numbering them in the order of the text."""

    def __init__(self, made: Procedure) -> None:
        self.made = made
        self.number = 0

    def lines(self, lines: list[Line], section: str) -> list[Step | Block]:
        found: list[Step | Block] = []
        for line in lines:
            if line.node is None:
                inner = self.lines(line.block, section)
                found += inner  # the heading is faulty; its steps still count
                continue
            first = line.node.children[0]
            alone = line.node.kind == "step" and len(line.node.children) == 1
            if alone and isinstance(first, Node) and first.kind == "allow":
                _section_allow(self.made, section, first)
                continue
            self.number += 1
            if line.opens:
                found.append(self.block(line, section))
            else:
                found.append(self.step(line.node))
        return found

    def block(self, line: Line, section: str) -> Block:
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
            words = _unquoted(first)
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
        kind = node.kind.removesuffix("_clause")
        value = node.children[0]
        field = {
            "in": "within",
            "from": "source",
            "with": "using",
            "for": "lasting",
            "as": "named",
        }.get(kind, kind)
        made: object
        if kind == "allow" or node.kind == "clause":
            inner = value if node.kind == "clause" else node
            assert isinstance(inner, Node)
            said["allows"] = (*said.get("allows", ()), describing.allow(inner))  # type: ignore[misc]
            return
        if kind == "manner":
            assert isinstance(value, Token)
            entry = vocabulary().find(value.text, "manner")
            heat = vocabulary().heats.get(value.text)
            name = entry.name if entry else heat.name if heat else value.text
            said["manners"] = (*said.get("manners", ()), Name(name, place_of(value)))  # type: ignore[misc]
            return
        if kind in ("into", "with"):
            assert isinstance(value, Node)
            made = tuple(self.item(item) for item in value.children)
        elif kind in ("over", "for"):
            assert isinstance(value, Node)
            made = quantity(value)
        elif kind in ("in", "from", "at", "to", "until"):
            assert isinstance(value, Node)
            made = self.item(value)
        elif kind == "after":
            assert isinstance(value, Node)
            made = tuple(_name(token) for token in value.children)
        elif kind == "wearing":
            assert isinstance(value, Node)
            made = tuple(
                _known(self.made, _phrase(word), "wearing")  # type: ignore[arg-type]
                for word in value.children
            )
        elif kind == "note":
            assert isinstance(value, Token)
            made = value.text[1:-1]
        else:
            made = _name(value)
        if field in said:
            tokens = span_of(node)
            twice.append(Name(kind, tokens))
            return
        said[field] = made

    def item(self, node: Node | Token) -> Item:
        assert isinstance(node, Node)
        name: Name | None = None
        measured: Quantity | None = None
        words: Name | None = None
        given: Name | None = None
        for child in node.children:
            if isinstance(child, Node):
                measured = quantity(child)
            elif child.kind == "STRING":
                words = _unquoted(child)
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
