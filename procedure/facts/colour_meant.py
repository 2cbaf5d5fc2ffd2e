"""What colour a procedure says that it makes: pale, dark or neither, by the words it uses."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.study import Study
from procedure.quantity.ready_patterns import pattern
from procedure.trace import Moment
from procedure.vocabulary import vocabulary


def colours_meant(study: Study, moment: Moment | None = None) -> frozenset[str]:
    """The words of ``shade`` in the vocabulary (pale, dark) that the title or ``makes`` use.

    Those of the note and of the label of a step count for that step as well, and so do those of
    the notes of its bath, and of what the fibre in it is called.
    """
    known = vocabulary().tables["shade"]
    said: set[str] = set()
    for text in _texts(study, moment):
        words = pattern(r"[^\W\d_]+").findall(text.lower())
        said |= {known[word].name for word in words if word in known}
        said |= {known[word].name for word in known if " " in word and word in text.lower()}
    return frozenset(said)


def words_of_colour(study: Study, moment: Moment | None = None) -> frozenset[str]:
    """The words for a colour that the title, ``makes`` and the step use, as they stand there."""
    known = vocabulary().tables["shade"]
    found: set[str] = set()
    for text in _texts(study, moment):
        found |= {word for word in pattern(r"[^\W\d_]+").findall(text.lower()) if word in known}
    return frozenset(found)


def _texts(study: Study, moment: Moment | None) -> Iterator[str]:
    for procedure in (study.flow.procedure, *([moment.node.procedure] if moment else [])):
        for name in (procedure.title, procedure.makes):
            if name is not None:
                yield name.text
    if moment is None:
        return
    yield moment.step.note
    node = moment.node
    yield node.bath.replace("-", " ")
    for lot in (*node.lots, *node.present):
        yield study.called(lot).replace("-", " ")
    if node.bath:
        yield from study.once(_notes_of_baths).get(node.bath, ())


def _notes_of_baths(study: Study) -> dict[str, list[str]]:
    """What the notes of all steps of a bath say, by the bath."""
    found: dict[str, list[str]] = {}
    for moment in study.moments:
        if moment.step.note and moment.node.bath:
            found.setdefault(moment.node.bath, []).append(moment.step.note)
    return found
