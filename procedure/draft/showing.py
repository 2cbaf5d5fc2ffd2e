"""A draft beside its prose, and findings on it in the words of the prose."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from procedure.draft.dangers import Harm
from procedure.draft.drafting import Draft
from procedure.findings import Finding

WIDTH = 88
SAID_IN = 44


def side_by_side(draft: Draft) -> str:
    """Each sentence of the prose with the lines that were made of it at its right."""
    lines = draft.text.splitlines()
    rows: list[str] = []
    for sentence in draft.sentences:
        made = [
            lines[number - 1].strip()
            for number, origin in sorted(draft.origin.items())
            if origin == sentence.number and not lines[number - 1].lstrip().startswith('# "')
        ]
        left = wrap(sentence.words, SAID_IN) or [""]
        right = [one for line in made or ["# nothing"] for one in wrap(line, WIDTH - SAID_IN - 3)]
        for at in range(max(len(left), len(right))):
            said = left[at] if at < len(left) else ""
            drawn = right[at] if at < len(right) else ""
            rows.append(f"{said:<{SAID_IN}} | {drawn}".rstrip())
        rows.append("")
    return "\n".join(rows) + "\n"


# What would be told of nearly every pot and measure of a draft: told once, with the other lines.
SAID_ONCE = frozenset(("use-unstated", "bath-left-over", "which-gallon"))


def _also(lines: list[int]) -> str:
    """The other lines of the draft of which the same would be said."""
    others = sorted(set(lines) - set(lines[:1]))
    if not others:
        return ""
    called = "line" if len(others) == 1 else "lines"
    return f" The same goes for {called} {', '.join(map(str, others))} of the draft."


IN_COMMENTS_ALONE = "Can hurt, and stands in a comment of the draft, which no check sees:"


def _harms(words: dict[int, str], harms: Iterable[Harm]) -> list[str]:
    """What can hurt by the words of a sentence, under the sentence."""
    said: list[str] = []
    last = 0
    for one in harms:
        if not said:
            said += ["", IN_COMMENTS_ALONE]
        if one.sentence != last:
            said += ["", *wrap(f"“{words[one.sentence]}”", WIDTH)]
            last = one.sentence
        text = f"{one.finding.level.capitalize()}. {one.says} {one.finding.remedy}"
        said += wrap(text, WIDTH, initial_indent="    ", subsequent_indent="    ")
    return said


def with_harms(text: str, draft: Draft, harms: Iterable[Harm]) -> str:
    """The text of a draft with what its comments hide that can hurt, as comments at its end."""
    words = {one.number: one.words for one in draft.sentences}
    said = [f"# {line}".rstrip() for line in _harms(words, harms)[1:]]
    return "\n".join([text.rstrip("\n"), "#", *said]) + "\n" if said else text


def told(draft: Draft, findings: Iterable[Finding], harms: Iterable[Harm] = ()) -> str:
    """How much was understood, and what a check says, by the sentence that it is about.

    First comes what can hurt and is in comments alone, which no check sees.
    """
    counts = f"understood {draft.understood}, partly {draft.partly}, not at all {draft.not_at_all}"
    said = [
        f"Sentences: {counts}.",
        f"Amounts: {len(draft.placed)} placed, {len(draft.noted)} kept as notes,"
        f" {len(draft.left)} left as comments.",
    ]
    if draft.unread:
        said.append("Words that nothing was made of stand as “not read” at their sentence.")
    by_sentence = {one.number: one.words for one in draft.sentences}
    said += _harms(by_sentence, harms)
    last = None
    findings = list(findings)
    for finding in findings:
        like = [one.line for one in findings if one.rule == finding.rule in SAID_ONCE]
        if like and finding.line != like[0]:
            continue
        words = by_sentence.get(draft.origin.get(finding.line, 0), "")
        place = f"“{words}”" if words else f"Line {finding.line} of the draft"
        if place != last:
            said += ["", *wrap(place, WIDTH)]
            last = place
        level = finding.level.capitalize()
        text = f"{level}. {finding.sentence} {finding.remedy}{_also(like)}"
        said += wrap(text, WIDTH, initial_indent="    ", subsequent_indent="    ")
    return "\n".join(said) + "\n"
