"""Words of a line to names of the model, against the vocabulary where that has a list of them."""

from __future__ import annotations

from procedure.language import Node, Token
from procedure.model import describing
from procedure.model.to_quantities import place_of, span_of
from procedure.model.types import Name, Procedure, UnknownWord
from procedure.vocabulary import near, vocabulary


def section_allow(made: Procedure, section: str, node: Node) -> None:
    """Enter an allow that counts for a whole section."""
    said = describing.allow(node)
    made.section_allows[section] = (*made.section_allows.get(section, ()), said)


def unquoted(token: Token) -> Name:
    """Free words, without their quotation marks and double spaces."""
    text = token.word[1:-1] if token.kind == "STRING" else token.text
    return Name(" ".join(text.split()), place_of(token))


def phrase(node: Node) -> Name:
    """Several words as one name, with the place of them all."""
    tokens = [child for child in node.children if isinstance(child, Token)]
    text = " ".join(token.text.strip('"“”') for token in tokens)
    return Name(text, span_of(node))


def known(made: Procedure, name: Name, table: str) -> Name:
    """The name as the vocabulary has it; an unknown word is noted and kept."""
    entry = vocabulary().find(name.text, table)
    if entry is None:
        meant = near(name.text, vocabulary().names(table))
        made.unknown.append(UnknownWord(name, table, meant))
        return name
    return Name(entry.name, name.place)
