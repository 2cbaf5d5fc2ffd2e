"""Tokens of one line to a node, by the table of the grammar.

This is the LALR(1) automaton in its plainest form. It is here, rather than
Lark's, for its speed on short lines; a test holds the two against each other.
"""

from procedure.language.table import ParsingTable
from procedure.language.tree import Node, Token
from procedure.quantity.record import NamedTuple


class Refusal(NamedTuple):
    """Where parsing stopped: the token's index, and the terminals that could follow."""

    at: int
    expected: frozenset[str]


class _Step(NamedTuple):
    """A node to make: its kind, and where its children are among the tokens and nodes so far."""

    kind: str
    places: tuple[int, ...]


# What becomes of a line depends on the kinds of its tokens alone, and most lines of a text are of
# a few shapes: each shape is parsed once, and its nodes are made again from the tokens of a line.
_Shape = tuple[_Step, ...] | Refusal

_MOST_SHAPES = 4096
_LONGEST_SHAPE = 100  # a line of more words is like no other


def parse(table: ParsingTable, start: str, tokens: list[Token]) -> Node | Refusal:
    """The node that the tokens make from a start symbol, or where they stop making sense."""
    kinds = tuple([token.kind for token in tokens])
    shapes = _shapes_of(table)
    shape = shapes.get((start, kinds))
    if shape is None:
        shape = _shape(table, start, kinds)
        if len(kinds) <= _LONGEST_SHAPE:
            if len(shapes) >= _MOST_SHAPES:
                shapes.clear()
            shapes[start, kinds] = shape
    if isinstance(shape, Refusal):
        return shape
    # A node is a plain pair: made as one, without a call of its class, in half the time.
    new, values = tuple.__new__, list[Node | Token](tokens)
    get, add = values.__getitem__, values.append
    for kind, places in shape:
        add(new(Node, (kind, tuple(map(get, places)))))
    node = values[-1]
    assert isinstance(node, Node)
    return node


_SHAPES: dict[int, tuple[ParsingTable, dict[tuple[str, tuple[str, ...]], _Shape]]] = {}


def _shapes_of(table: ParsingTable) -> dict[tuple[str, tuple[str, ...]], _Shape]:
    """The shapes of lines that a table has parsed."""
    found = _SHAPES.get(id(table))
    if found is None or found[0] is not table:
        found = _SHAPES[id(table)] = (table, {})
    return found[1]


Values = list[int | tuple[int, ...]]


def _shape(table: ParsingTable, start: str, kinds: tuple[str, ...]) -> _Shape:
    """The nodes that tokens of these kinds make, the inner ones first, by the automaton.

    A value is the place of a token or a node, or several of them.
    """
    states, rules = table.states, table.rules
    final = table.ends[start]
    stack = [table.starts[start]]
    values: Values = []
    steps: list[_Step] = []
    for index, kind in enumerate((*kinds, "$END")):
        while True:
            state = stack[-1]
            action = states[state].get(kind)
            if action is None:
                if state == final and kind == "$END":
                    return tuple(steps)
                return Refusal(index, _expected(table, stack, final))
            if action >= 0:
                stack.append(action)
                values.append(index)
                break
            rule = rules[-1 - action]
            # No rule of the grammar is empty, so there is always something to take away.
            taken = _flat([values[i - rule.length] for i in rule.keep])
            del stack[-rule.length :], values[-rule.length :]
            stack.append(states[stack[-1]][rule.origin])
            if rule.origin[0] == "_":
                values.append(taken)
            else:
                steps.append(_Step(rule.kind, taken))
                values.append(len(kinds) + len(steps) - 1)
    raise AssertionError("the end of the line ends the loop")


def _flat(values: Values) -> tuple[int, ...]:
    """The places that values say, those of several in their turn."""
    found: list[int] = []
    for value in values:
        found += value if isinstance(value, tuple) else (value,)
    return tuple(found)


def _expected(table: ParsingTable, stack: list[int], final: int) -> frozenset[str]:
    """The terminals that really could come next: each is tried on a copy of the stack."""
    candidates = {name for name in table.states[stack[-1]] if name.isupper()} | {"$END"}
    return frozenset(name for name in candidates if _fits(table, list(stack), name, final))


def _fits(table: ParsingTable, stack: list[int], terminal: str, final: int) -> bool:
    while True:
        action = table.states[stack[-1]].get(terminal)
        if action is None:
            return terminal == "$END" and stack[-1] == final
        if action >= 0:
            return True
        rule = table.rules[-1 - action]
        if rule.length:
            del stack[-rule.length :]
        stack.append(table.states[stack[-1]][rule.origin])
