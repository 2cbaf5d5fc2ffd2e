"""Tokens of one line to a node, by the table of the grammar.

This is the LALR(1) automaton in its plainest form. It is here, rather than
Lark's, for its speed on short lines; a test holds the two against each other.
"""

from procedure.language.table import Rule, Table
from procedure.language.tree import Node, Token
from procedure.quantity.record import NamedTuple

END = Token("$END", "", 0, 0)


class Refusal(NamedTuple):
    """Where parsing stopped: the token's index, and the terminals that could follow."""

    at: int
    expected: frozenset[str]


Values = list[Node | Token | tuple[Node | Token, ...]]


def parse(table: Table, start: str, tokens: list[Token]) -> Node | Refusal:
    """The node that the tokens make from a start symbol, or where they stop making sense."""
    states, rules = table.states, table.rules
    final = table.ends[start]
    stack = [table.starts[start]]
    values: Values = []
    for index, token in enumerate((*tokens, END)):
        kind = token.kind
        while True:
            state = stack[-1]
            action = states[state].get(kind)
            if action is None:
                if state == final and kind == "$END":
                    node = values[-1]
                    assert isinstance(node, Node)
                    return node
                return Refusal(index, _expected(table, stack, final))
            if action >= 0:
                stack.append(action)
                values.append(token)
                break
            rule = rules[-1 - action]
            # No rule of the grammar is empty, so there is always something to take away.
            taken = values[-rule.length :]
            del stack[-rule.length :], values[-rule.length :]
            stack.append(states[stack[-1]][rule.origin])
            values.append(_reduced(rule, taken))
    raise AssertionError("the end of the line ends the loop")


def _reduced(rule: Rule, taken: Values) -> Node | tuple[Node | Token, ...]:
    """What a rule makes of the values that it takes."""
    origin, name, _, keep, inline = rule
    if inline:
        flat: list[Node | Token] = []
        for i in keep:
            value = taken[i]
            if type(value) is tuple:
                flat.extend(value)  # type: ignore[arg-type]
            else:
                flat.append(value)  # type: ignore[arg-type]
        children = tuple(flat)
    else:
        children = tuple(map(taken.__getitem__, keep))  # type: ignore[arg-type]
    return children if origin[0] == "_" else Node(name, children)


def _expected(table: Table, stack: list[int], final: int) -> frozenset[str]:
    """The terminals that really could come next: each is tried on a copy of the stack."""
    candidates = {name for name in table.states[stack[-1]] if name.isupper()} | {"$END"}
    return frozenset(name for name in candidates if _fits(table, list(stack), name, final))


def _fits(table: Table, stack: list[int], terminal: str, final: int) -> bool:
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
