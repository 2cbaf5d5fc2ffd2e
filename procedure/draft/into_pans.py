"""What goes into a vessel without a verb: "Cones into the old preserving pan with 8 litres"."""

from __future__ import annotations

import re

from procedure.draft.course import Course, one_and_many
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.sentences import Part

INTO_A_PAN = re.compile(
    r"\s*,?\s*(?:(?:all|straight|now|then|went|go|goes|are\s+put|were\s+put)\s+)*(?:in|into)\s+(?:the|an?|my|our|your)\s+"
    rf"(?:[\w-]+\s+){{0,4}}?(?:{one_of(meanings('pot'))})s?\b",
    re.I,
)
STUFF = ("part",)  # a plant named whole is brought as any list brings it


def with_its_verb(course: Course, part: Part) -> Part:
    """The part as one that puts its plant into a vessel, where its first words say so."""
    if part.doing.act or not part.things or part.things[0].kind not in STUFF:
        return part
    first = part.things[0]
    lead = course.text[part.start : first.start].strip(" \n-*•(").lower()
    if lead not in ("", "the", "the old", "all the", "my", "in the morning the"):
        return part
    found = INTO_A_PAN.match(course.text, first.end, part.end)
    water = any(one.kind == "volume" and one.start > first.end for one in part.amounts)
    known = len(course.by_part.get(one_and_many(first.words), {})) == 1
    if found is None or not (water and known) or course.names_fibre(part):
        return part
    doing = part.doing._replace(act="put", words=found[0].strip(" ,"), start=part.start)
    return part._replace(doing=doing._replace(end=part.start))
