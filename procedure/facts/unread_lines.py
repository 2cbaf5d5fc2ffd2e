"""The words of lines that could not be read, as they are in the file."""

from __future__ import annotations

from procedure.model.types import UnreadStep


def words_of_unread(text: str, one: UnreadStep) -> str:
    """The words of a line that could not be read, with those that go on with it below.

    ``text`` is that of its file, with any line ends.
    """
    lines = text.replace("\r\n", "\n").replace("\r", "\n").split("\n")
    first = lines[one.line - 1] if one.line <= len(lines) else ""
    said = [first.strip()]
    for line in lines[one.line :] if one.alone else ():
        if not line.strip() or _indent(line) <= _indent(first):
            break
        said.append(line.strip())
    return " ".join(said)


def _indent(line: str) -> int:
    return len(line) - len(line.lstrip())
