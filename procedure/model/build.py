"""A tree to a procedure: header lines, declarations, steps and blocks."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from functools import cache

from procedure.language import Line, Node, Section, Token, Tree
from procedure.language.tree import BATHS
from procedure.model import describing
from procedure.model.naming import known, phrase, section_allow, unquoted
from procedure.model.steps import Steps
from procedure.model.to_quantities import place_of, quantity
from procedure.model.types import Block, Name, Procedure, Step, Workshop, Written
from procedure.quantity.ready_patterns import pattern
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
    steps = Steps(made)
    # Steps are read last: what a verb means may depend on what is declared below them.
    for section in sorted(tree.sections, key=lambda section: section.name == "steps"):
        earlier = seen.get(section.name)
        if earlier is not None:
            name = Name(section.name, place_of(section.heading))
            made.sections_twice.append((name, earlier.line))
        else:
            seen[section.name] = section.heading
        lines = _last_line(section)
        made.unread |= _unread(section.lines)
        if section.name != "procedure":
            made.unread_words += _unread_words(section.lines)
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
                    section_allow(made, section.name, first)
                else:
                    describing.declare(made, section.name, line.node)
    made.body = tuple(body)
    if made.unread_words:
        parted: set[str] = set().union(*map(_parted, made.unread_words))
        made.unread |= parted
        harmful = _lots_that_harm_by_name({*made.lots, *_parts(made.body), *parted})
        made.unread_words = [_without(harmful, words) for words in made.unread_words]
    made.said_of = [(Name(one.word.text, place_of(one.word)), one.thing) for one in tree.said_of]
    if workshop is not None:
        from procedure.model.from_workshop import bring

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
        if line.node is None and line.first.kind in ("LABEL", "WORD"):
            found.add(line.first.name)
            said = line.written.partition(",")[0].split()
            if line.first.kind == "WORD" and said:  # its name, as a step may say it
                found |= {" ".join(said), "-".join(said), said[-1]}
        if line.node is None:  # a bath that it may make: it is told of once
            found |= {name for name in line.names if name.rpartition("-")[2] in BATHS}
        if line.block:
            found |= _unread(line.block)
    return found


def _lots_that_harm_by_name(lots: set[str]) -> set[str]:
    """The lots that have the name of what harms: “holly” may be one."""
    from procedure.model.harm import plants_named
    from procedure.model.substances import substances_named

    return {lot for lot in lots if plants_named(lot) or any(substances_named(lot))}


def _without(harmful: set[str], words: Name) -> Name:
    """The words of a line without lots that are called like what harms."""
    kept = [word for word in words.text.split() if word.strip(".,;:") not in harmful]
    return words._replace(text=" ".join(kept))


def _parted(words: Name) -> set[str]:
    """The words behind “into” in a line that parts a lot and could not be read.

    They end where something else is done.
    """
    from procedure.language.everyday_order import heads

    into = re.match(_splitting(), words.text) if "into" in words.text else None
    if into is None:
        return set()
    found: set[str] = set()
    for part in pattern(r",|&|\band\b").split(re.split(r"\bthen\b", into[1])[0]):
        said = pattern(r"[^\W\d_][\w-]*").findall(part)
        if found and (not heads().isdisjoint(said[:1]) or pattern(_OF_THE).search(part)):
            break
        found.update(said)
    return found


@cache
def _splitting() -> str:
    """A line that begins with a verb that parts a lot, and what stands behind its “into”."""
    verbs = "|".join(name for name, verb in vocabulary().verbs.items() if verb.does.splits)
    return rf"(?:\S+: )?(?:{verbs}) .*?\binto ([^;.]*)"


# What is told of a thing and is no name of a part: “eat the ivy”, but not “the rest moss”.
_OF_THE = r"\bthe (?!rest\b|remain|other|last\b)"


def _parts(body: Iterable[Step | Block]) -> set[str]:
    """The names of the lots that these steps part others into."""
    found: set[str] = set()
    for one in body:
        if isinstance(one, Block):
            found |= _parts(one.body)
        elif one.does.splits:
            found |= {item.name.text for item in one.into if item.name is not None}
    return found


def _unread_words(lines: list[Line]) -> Iterator[Name]:
    """The words of lines that could not be read, each line's with its place."""
    for line in lines:
        if line.node is None and line.written:
            yield Name(line.written, place_of(line.first))
        yield from _unread_words(line.block)


def _water(made: Procedure, node: Node) -> None:
    """The header line on the water: its kind or free words, and how sour it is."""
    words = node.children[0]
    assert isinstance(words, Node)
    said = phrase(words)
    quoted = any(isinstance(c, Token) and c.kind == "STRING" for c in words.children)
    kind = Name(said.text.removesuffix(" water"), said.place)
    made.water = said if quoted else known(made, kind, "water")
    for child in node.children[1:]:
        assert isinstance(child, Node)
        made.water_acidity = quantity(child)
        made.written.append(Written(made.water_acidity, "until", None, None))


def _apart(words: Node | Token) -> list[Node]:
    """The two of “gloves and apron”, which a comma may part as well."""
    assert isinstance(words, Node)
    parts: list[list[Node | Token]] = [[]]
    for word in words.children:
        if isinstance(word, Token) and word.text in ("and", "&"):
            parts.append([])
        else:
            parts[-1].append(word)
    found = [Node(words.kind, tuple(part)) for part in parts if part]
    return found or [words]


def _header(made: Procedure, section: Section) -> None:
    if section.title is not None:
        made.title = unquoted(section.title.children[0])  # type: ignore[arg-type]
    for line in section.lines:
        if line.node is None:
            continue
        kind = line.node.kind
        value = line.node.children[0]
        if kind in _TEXT_HEADERS:
            assert isinstance(value, Token)
            setattr(made, kind, unquoted(value))
        elif kind == "note":
            assert isinstance(value, Token)
            made.notes = (*made.notes, unquoted(value))
        elif kind == "altitude":
            assert isinstance(value, Node)
            made.altitude = quantity(value)
            made.written.append(Written(made.altitude, "altitude", None, None))
        elif kind == "place":
            assert isinstance(value, Node)
            made.setting = known(made, phrase(value), "place")
        elif kind == "water":
            _water(made, line.node)
        elif kind in ("wearing", "audience"):
            assert isinstance(value, Node)
            words = [one for word in value.children for one in _apart(word)]
            said = tuple(known(made, phrase(word), kind) for word in words)
            setattr(made, kind, getattr(made, kind) + said)
        elif kind == "header":  # an allow for the whole procedure
            assert isinstance(value, Node)
            made.allows = (*made.allows, describing.allow(value))
