"""Some of a bath that is taken off, gets something dissolved in it, and goes back.

"Take off a litre of it, dissolve the iron in that and return it to the pot": what the bath gets
is the iron. How much of it was borrowed changes nothing, and is told of as not placed.
"""

from __future__ import annotations

import re

from procedure.draft.course import Course
from procedure.draft.sentences import Sentence
from procedure.draft.supplies import stuff_of, supply

OF_THE_BATH = (
    r"\bof\s+(?:it|this|(?:the|your)\s+(?:(?:hot|warm|strained|dye|[a-z]+)\s+)?"
    r"(?:liquor|dye|bath|dye-?bath|dye-?pot|vat|liquid))\b"
)
BACK = (
    r"(?:\b(?:return|pour|tip|put|add|stir)\w*\s+(?:(?:it|this|that|them|all|everything|the\s+\w+)\s+)?"
    r"(?:all\s+)?(?:back\s+)?(?:to|into|in)\b|\breturn(?:ing)?\s+(?:it|this|that)\b"
    r"|\bback\s+(?:to|into)\b)"
)
MIXED = r"\b(?:dissolv|stir|mix|melt)\w*\b"
BORROWED = re.compile(
    rf"\b(?:take|ladle|scoop|draw|dip|remove)\w*\s+(?:off|out)?\s*[^.;]{{0,40}}?{OF_THE_BATH}[^.;]*?{MIXED}[^.;]*?{BACK}"
    rf"|{MIXED}[^.;]{{0,48}}?\bin(?:to)?\s+[^.;]{{0,32}}?{OF_THE_BATH}[^.;]*?{BACK}",
    re.I,
)


def with_what_goes_back(course: Course, sentence: Sentence) -> Sentence:
    """Bring what is dissolved in some of the bath into it; what the sentence goes on with."""
    bath, found = course.bath, BORROWED.search(sentence.text)
    if found is None or bath is None or not (bath.begun or bath.stuff):
        return sentence
    ends = sentence.start + found.end()
    followed = False
    for part in sentence.parts:
        if part.start >= ends:
            break
        stuff = [one for one in stuff_of(course, part) if one.thing.kind == "material"]
        plain = part._replace(amounts=(), doing=part.doing._replace(act="put", words="stir in"))
        if stuff and supply(course, plain, stuff):
            followed = True
    if not followed:
        return sentence
    return sentence._replace(parts=tuple(one for one in sentence.parts if one.start >= ends))
