"""Findings for a dyer, in whole sentences."""

from __future__ import annotations

from collections.abc import Iterable

from procedure.findings import LEVELS, Finding, Word
from procedure.wording import deferral
from procedure.wording.same_said import Alike, Thing, all_of, by_thing
from procedure.wording.visible import one_line, visible

WIDTH = 88
_INDENT = " " * 6
_COLOURS = {"error": "31", "warning": "33", "note": "36"}


def report(findings: Iterable[Finding], *, colour: bool = False, hidden: int = 0) -> str:
    """The findings by file, in the order in which to mend them, with a count at the end.

    What cannot be read comes first, since more may be found once it can be; then errors, then
    what is lighter, each in the order of the text. What is found alike of several things in
    one file is told at the first of them.

    Where one is of the safety family, the last words defer to those who know better.

    ``hidden`` is how many lighter findings are not shown.
    """
    lines: list[str] = []
    counts = dict.fromkeys(LEVELS, 0)
    file = None
    shown = _in_order(findings)
    for finding, alike in by_thing(shown, lambda one: (one.file, one.rule, one.level, one.allowed)):
        counts[finding.level] += 1 + len(alike)
        if finding.file != file:
            file = finding.file
            lines += ["", one_line(file)] if lines else [one_line(file)]
        lines.append("")
        lines += _one(finding, alike, colour)
    lines += ["", _count(counts, hidden)] if lines else [_count(counts, hidden)]
    last = deferral(shown)
    if last:
        from textwrap import wrap

        lines += ["", *wrap(last, WIDTH)]
    return "\n".join(lines) + "\n"


def _in_order(findings: Iterable[Finding]) -> list[Finding]:
    by_file: dict[str, list[Finding]] = {}
    for one in findings:
        by_file.setdefault(one.file, []).append(one)
    for each in by_file.values():
        each.sort(key=lambda one: (one.rule != "cannot-read", LEVELS.index(one.level)))
    return [one for each in by_file.values() for one in each]


def _one(finding: Finding, alike: Alike, colour: bool) -> list[str]:
    where = f"  line {finding.line}: "
    level = finding.level.capitalize()
    shown = f"\x1b[1;{_COLOURS[finding.level]}m{level}\x1b[0m" if colour else level
    sentence = f"{finding.sentence}{_also(alike)}"
    first, *rest = _wrapped(f"{level}. {sentence}", where)
    lines = [first.replace(level, shown, 1), *rest]
    lines += _wrapped(finding.remedy, _INDENT)
    for related in finding.related:
        other = f"{one_line(related.file)}, " if related.file != finding.file else ""
        lines += _wrapped(f"See {other}line {related.line}. {related.sentence}", _INDENT)
    if finding.allowed:
        lines += _wrapped(f"The writer allows it: {finding.allowed}", _INDENT)
    lines += _wrapped(f"({finding.rule}; source: {finding.source})", _INDENT)
    return lines


def _also(alike: Alike) -> str:
    """Of what else a sentence is true, and where; empty where it is true of one thing alone."""
    if not alike:
        return ""
    each = [
        f"{_some_of([_named(one) for one in all_of(finding, thing)])} (line {finding.line})"
        for finding, thing in alike
    ]
    return f" The same is true of {_some_of(each)}."


def _named(thing: Thing) -> str:
    return f"“{thing.text}”" if isinstance(thing, Word) else thing.name


def _some_of(each: list[str]) -> str:
    from procedure.quantity.number_words import beyond, listed  # most findings stand alone

    left = beyond(len(each))
    return listed([*each[: len(each) - left], f"{left} more"] if left else each)


def _wrapped(text: str, lead: str) -> list[str]:
    text = visible(text)
    words = text.split(" ")
    if "" in words or len(text.split()) != len(words):
        return _wrapped_with_care(text, lead)
    lines, line = [], lead + words[0]
    for word in words[1:]:
        if len(line) + 1 + len(word) <= WIDTH:
            line = f"{line} {word}"
        else:
            lines.append(line)
            line = _INDENT + word
    return [*lines, line]


def _wrapped_with_care(text: str, lead: str) -> list[str]:
    """The same for a text whose gaps are not all one space, as a writer may have put them."""
    from textwrap import wrap  # slow to import

    return wrap(
        text,
        WIDTH,
        initial_indent=lead,
        subsequent_indent=_INDENT,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _count(counts: dict[str, int], hidden: int) -> str:
    said = [f"{n} {level}{'s' if n > 1 else ''}" for level, n in counts.items() if n]
    text = ", ".join(said).capitalize() if said else "Nothing to mend"
    if hidden:
        text += f"; {hidden} lighter finding{'s' if hidden > 1 else ''} not shown"
        text += " (--at-least note shows all)"
    return text + "."
