"""Facts to words: the one place where the sentences of findings are made.

A report, a paper or an editor gives a finding and a :class:`Reader`, and gets the sentence
in that reader's units, spelling and form.
"""

from __future__ import annotations

from procedure.findings import Finding, LineNumber, Named, Sample, Says, Several, Value, Way, Word
from procedure.quantity.ready_patterns import pattern
from procedure.wording.reader import Reader, of_system, of_units, shown

__all__ = ["DEFER", "Reader", "deferral", "for_reader", "of_system", "of_units", "said"]

# A report that shows a finding of the safety family ends with this, once.
DEFER = (
    "Local rules and the supplier's safety data sheet come first; ask a doctor or a poison "
    "centre about health."
)
SAFETY = "safety"
_FIELD = pattern(r"\{(\w+)\}")


def said(says: Says, reader: Reader = Reader()) -> str:  # noqa: B008 - it is frozen
    """A template with its values in words. Raises ``KeyError`` for a field without a value."""

    values = dict(says.values)
    parts: list[str] = []
    quoted = False
    for number, part in enumerate(_FIELD.split(says.template)):
        if number % 2:
            text = _value(values[part.lower()], reader)
            parts.append(text[:1].upper() + text[1:] if part[:1].isupper() else text)
        else:  # only our own words are spelt for the reader, never what the writer has to write
            parts.append(_spelt(part, quoted) if reader.spelling == "us" else part)
            quoted = part.rfind("“") > part.rfind("”") or (quoted and "”" not in part)
    made = "".join(parts)
    return " ".join(made.split()) if reader.form == "line" else made


def _spelt(text: str, quoted: bool) -> str:
    """Our own words in American spelling; what is in quotation marks is to be written so."""
    from procedure.wording.spelling import american

    pieces = pattern("([“”])").split(text)
    for at, piece in enumerate(pieces):
        if piece in ("“", "”"):
            quoted = piece == "“"
        elif not quoted:
            pieces[at] = american(piece)
    return "".join(pieces)


def _value(value: Value, reader: Reader) -> str:
    match value:
        case Says():
            return said(value, reader)
        case Named():
            trade, name = (_word(each, reader) for each in (value.trade, value.name))
            return f"{name} ({trade})" if trade else name
        case LineNumber():
            return f"line {value.number}"
        case Word():
            return _word(value.text, reader)
        case Sample():
            return shown(value, reader)
        case Way():
            return f" ({value.path})" if value.path else ""
        case Several():
            from procedure.quantity.number_words import beyond

            # What may be chosen from is told whole.
            count = len(value.values) + value.more
            left = beyond(count) if value.last == " and " else value.more
            words = [_value(one, reader) for one in value.values[: count - left]]
            words += [f"{left} more"] if left else []
            parts = (value.between.join(words[:-1]), *words[-1:])
            return value.last.join(part for part in parts if part)
        case _:
            # Most checks find nothing, and write no number.
            from procedure.wording.numbers import measured
            from procedure.wording.spelling import in_spelling

            text = measured(value, reader)
            return in_spelling(text, reader.spelling)


def _word(text: str, reader: Reader) -> str:
    """A word of the vocabulary in the reader's spelling, one of the writer's as it is.

    No name that a writer gives has a space in it.
    """
    if reader.spelling == "british" or " " not in text:
        return text
    from procedure.vocabulary import vocabulary
    from procedure.wording.spelling import american

    return american(text) if vocabulary().find(text, *vocabulary().tables) else text


def for_reader(finding: Finding, reader: Reader) -> Finding:
    """The same finding with its words made for another reader."""
    if finding.fact is None:
        return finding
    return finding._replace(
        sentence=said(finding.fact.sentence, reader),
        remedy=said(finding.fact.remedy, reader),
        related=tuple(
            one._replace(sentence=said(one.says, reader)) if one.says.template else one
            for one in finding.related
        ),
    )


def deferral(findings: list[Finding]) -> str:
    """What a report of these findings ends with: whom to believe before it, where one hurts."""
    return DEFER if any(finding.family == SAFETY for finding in findings) else ""
