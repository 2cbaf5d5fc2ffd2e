"""Alternatives within a line: “tannin 1 1/2 oz or galls 4 oz” as two steps, one to be done."""

from __future__ import annotations

from procedure.language import Node, Token, once_for_each_node_of_a_line
from procedure.model.to_quantities import text_of

# Reading every combination of many alternatives would help nobody.
MOST_WAYS = 12


def things(objects: Node) -> list[Node]:
    """The things that a list names, without the words between them."""
    return [c for c in objects.children if isinstance(c, Node) and c.kind not in ("both", "or")]


@once_for_each_node_of_a_line
def alternatives(node: Node) -> list[tuple[str, Node]]:
    """The steps that a line says, each with what tells it from the others.

    One where nothing in the line is said with “or”.
    """
    ways = [("", node)]
    while len(ways) < MOST_WAYS:
        split = [(said, one) for way in ways for said, one in _split_once(way)]
        if len(split) == len(ways):
            break
        ways = split
    return ways


def _split_once(way: tuple[str, Node]) -> list[tuple[str, Node]]:
    """The ways that the first “or” of a line makes; the line alone where it has none."""
    told, node = way
    manners = _split_manner(told, node)
    if manners:
        return manners
    found = _first_or(node, ())
    if found is None:
        return [way]
    path, at = found
    objects = _at(node, path)
    assert isinstance(objects, Node)
    groups, before, behind = _grouped(list(objects.children), at)
    made: list[tuple[str, Node]] = []
    for group in groups:
        children = (*before, *group, *behind)
        said = " and ".join(text_of(c) for c in group if isinstance(c, Node) and c.kind != "both")
        one = _put(node, path, Node(objects.kind, children))
        made.append((f"{told}, {said}" if told else said, one))
    return made


def _split_manner(told: str, node: Node) -> list[tuple[str, Node]]:
    """The ways of “outdoors or indoors”; none where no manner has another."""
    for i, child in enumerate(node.children):
        if isinstance(child, Node) and child.kind == "manner_clause" and len(child.children) > 1:
            made = []
            for one in child.children:
                children = list(node.children)
                children[i] = Node(child.kind, (one,))
                said = text_of(Node("words", (one,)))
                made.append((f"{told}, {said}" if told else said, Node(node.kind, tuple(children))))
            return made
    return []


Path = tuple[int, ...]
Children = list[Node | Token]


# The pieces of a step that the grammar lets hold a list of things, or that are one.
_HOLD_THINGS = frozenset(("objects", "into_clause", "with_clause"))


def _first_or(node: Node, path: Path) -> tuple[Path, int] | None:
    for i, child in enumerate(node.children):
        if type(child) is not Node:
            continue
        if child.kind == "or" and node.kind == "objects":
            return path, i
        if child.kind not in _HOLD_THINGS:
            continue
        found = _first_or(child, (*path, i))
        if found is not None:
            return found
    return None


def _at(node: Node, path: Path) -> Node | Token:
    for i in path:
        child = node.children[i]
        assert isinstance(child, Node)
        node = child
    return node


def _put(node: Node, path: Path, new: Node) -> Node:
    if not path:
        return new
    children = list(node.children)
    inner = children[path[0]]
    assert isinstance(inner, Node)
    children[path[0]] = _put(inner, path[1:], new)
    return Node(node.kind, tuple(children))


def _grouped(children: Children, at: int) -> tuple[list[Children], Children, Children]:
    """The alternatives around the “or” at ``at``, and what comes before and after them.

    Things joined with “and” go together; a comma parts what is no alternative.
    """
    start = at
    while start > 0 and (
        start == at or _is(children[start - 1], "both") or _is(children[start], "both")
    ):
        start -= 1
    end = at + 1
    while end < len(children) and (
        end == at + 1
        or (
            isinstance(children[end], Node) and (_joins(children[end]) or _joins(children[end - 1]))
        )
    ):
        end += 1
    groups: list[Children] = [[]]
    for child in children[start:end]:
        if _is(child, "or"):
            groups.append([])
        else:
            groups[-1].append(child)
    return groups, children[:start], children[end:]


def _is(child: Node | Token, kind: str) -> bool:
    return isinstance(child, Node) and child.kind == kind


def _joins(child: Node | Token) -> bool:
    return _is(child, "both") or _is(child, "or")
