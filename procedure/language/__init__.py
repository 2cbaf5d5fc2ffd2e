"""Text to tree: the first stage. Nothing after this room reads text again."""

from procedure.language.by_node import once_for_each_node, once_for_each_node_of_a_line
from procedure.language.kept_lines import Lines
from procedure.language.reading import read
from procedure.language.tree import Fault, Line, Node, Section, Token, Tree

__all__ = [
    "Fault",
    "Line",
    "Lines",
    "Node",
    "Section",
    "Token",
    "Tree",
    "once_for_each_node",
    "once_for_each_node_of_a_line",
    "read",
]
