"""What a line that cannot be read most likely says.

The line is told of as it is, and nobody's text is changed. But the rest of the procedure is
followed as if the line said what it most likely says, so that one slip is one finding, and no
train of baths never made and yarn never rinsed.
"""

from __future__ import annotations

from collections.abc import Iterator

from procedure.language.tree import Fault, Token
from procedure.quantity.ready_patterns import pattern

# Lines of a text by their numbers.
Raws = tuple[tuple[int, str], ...]

# Behind these words stands what is in quotation marks; after the last mostly an amount.
_BEFORE_WORDS = ("note", "because", "until", "if", "either", "follow", "do", "down", "to")
_LABEL = pattern(r"\s*[\w’'-]+\s*:\s")
_CLAUSE = pattern(
    r"\s+(?:covered|uncovered|labelled|gently|outdoors|note|wearing|for|at|allow)\b[^\"]*$"
)


def begins_anew(fault: Fault, raws: Raws) -> bool:
    """True where a fault is that a step is indented as if it went on with the one above."""
    place = next(((n, raw) for n, raw in raws[1:] if n == fault.line), None)
    if place is None:
        return False
    label = _LABEL.match(place[1])
    if label is not None:
        return fault.column <= label.end()
    told = fault.sentence.template.startswith("“{word}” looks like the start")
    return told and not place[1][: fault.column - 1].strip()


def likely(fault: Fault, raws: Raws) -> Iterator[Raws]:
    """The lines as they may have been meant, the likeliest first."""
    for at, (number, raw) in enumerate(raws):
        if number != fault.line:
            continue
        for other in _meant(fault, raw):
            yield (*raws[:at], (number, other), *raws[at + 1 :])


def in_the_text(tokens: list[Token], meant: Raws, written: Raws) -> list[Token]:
    """The words of lines as they may have been meant, at their places in what is written."""
    changed = {
        number: (other, raw)
        for (number, other), (_, raw) in zip(meant, written, strict=True)
        if other != raw
    }
    return [
        _placed(token, *changed[token.line]) if token.line in changed else token for token in tokens
    ]


def _placed(token: Token, meant: str, written: str) -> Token:
    """A word of one line, at its place in another that differs from it in one place."""
    least = min(len(meant), len(written))
    before = next((at for at in range(least) if meant[at] != written[at]), least)
    behind = 0
    while behind < least - before and meant[-1 - behind] == written[-1 - behind]:
        behind += 1

    def at(place: int) -> int:
        if place >= len(meant) - behind:
            return place + len(written) - len(meant)
        return min(place, len(written) - behind)

    begins, ends = at(token.column - 1), at(token.to - 1)
    text = written[begins:ends]
    if text == token.text:
        return token._replace(column=begins + 1)
    return token._replace(column=begins + 1, text=text, meant=token.word)


def _meant(fault: Fault, raw: str) -> Iterator[str]:
    if fault.meant:
        yield raw[: fault.column - 1] + fault.meant + raw[fault.to - 1 :]
    if raw.count('"') % 2 == 0:
        return
    if raw.rstrip().endswith('"'):
        yield from _first_mark(raw)
    # A lost last mark is before what goes on after the words, or at the end of the line.
    words = raw.rpartition('"')[2]
    behind = _CLAUSE.search(words)
    if behind is not None:
        end = len(raw) - len(words) + behind.start()
        yield f'{raw[:end]}"{raw[end:]}'
    if words.strip():
        yield f'{raw.rstrip()}"'
    yield from _first_mark(raw)


def _first_mark(raw: str) -> Iterator[str]:
    """The line with the mark that was lost before its first words in marks."""
    said = raw.rpartition('"')[0]
    for word in _BEFORE_WORDS:
        at = said.rfind(f" {word} ")
        if at >= 0 and '"' not in said[at:]:
            begin = at + len(word) + 2
            yield f'{raw[:begin]}"{raw[begin:]}'
