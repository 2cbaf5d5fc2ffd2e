"""How a thing is done where the language has no word for it: through muslin, flat, on a towel.

The words stay as a note of the step that they are about, so that who works by the draft has them.
"""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.how_it_is_done import NOT_SO, VERB, line_beside
from procedure.draft.not_read import Span
from procedure.draft.noting import Note, add_note
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Line
from procedure.quantity.ready_patterns import pattern

STRAINER = (
    r"(?:muslin|cheesecloth|cheese\s+cloth|cloth|sieve|colander|strainer|filter(?:\s+paper)?"
    r"|tea\s*-?towels?|pillowcase|tights|stockings?|net|mesh|kitchen\s+paper|paint\s+filter|bag|sock|sheet)"
)
A = r"(?:an?|the|some|two|several|double)"
SURFACE = r"(?:towels?|rails?|radiator|bath|chair|airer|sheet|table|grass|hedge|bushes|branch|pole|stick|lawn)"  # noqa: E501
# What is said of a deed, for the verbs that it may be said of.
WAYS: dict[re.Pattern[str], tuple[str, ...]] = {
    pattern(
        rf"\b(?:through|with|using|in|over)\s+(?:{A}\s+)?(?:(?:layers?\s+of|old|fine|clean|piece\s+of|coarse|kitchen|coffee|damp|large|big)\s+)*{STRAINER}\b"
        rf"(?:\s+(?:lined\s+with\s+(?:{A}\s+)?\w+|and\s+(?:{A}\s+)?{STRAINER}))?",
        re.I,
    ): ("strain",),
    pattern(
        r"\binto\s+an?\s+(?:(?:clean|second|fresh|large|big|new|dye)\s+)*(?:pot|bucket|bowl|pan|jug|vessel|jar|tub|container)\b",
        re.I,
    ): ("strain",),
    pattern(
        r"\b(?:in|with|through)\s+(?:several|a\s+few|many|some|fresh|plenty\s+of|lots\s+of)?\s*(?:changes?\s+of\s+)(?:[a-z]+\s+)?water\b"
        r"|\b(?:lightly|briefly|quickly)\b"
        r"|\b(?:in\s+)?(?:first|then)\s+in\s+(?:hot|warm|lukewarm|cool|cold)(?:\s*,?\s*(?:and\s+)?(?:then|finally)\s+(?:in\s+)?(?:hot|warm|lukewarm|cool|cold))(?:\s+water)?",
        re.I,
    ): ("rinse", "wash"),
    pattern(
        rf"\bflat\b(?:\s+on\s+(?:{A}\s+)?(?:(?:clean|dry|old)\s+)*{SURFACE})?"
        rf"|\b(?:on|over|from)\s+(?:{A}|your)\s+(?:(?:clean|dry|old|drying|clothes|washing)[\s-]+)*{SURFACE}\b"
        r"|\bsomewhere\s+[a-z]+(?:\s+and\s+[a-z]+)?\b|\bin\s+an?\s+(?:airy|warm|cool|dry|shady)\s+(?:place|room|spot)\b"
        r"|\bout\s+of\s+(?:the\s+|direct\s+)?(?:sun|wind|draught)\b|\baway\s+from\s+(?:the\s+|direct\s+)?(?:sun|heat)(?:\s+and\s+heat)?\b",
        re.I,
    ): ("dry", "air"),
    pattern(
        rf"\b(?:roll(?:ed)?\s+(?:it|them|the\s+\w+)?\s*(?:up\s+)?)?(?:in|between)\s+(?:{A}\s+)?(?:(?:clean|dry|old)\s+)*towels?\b",
        re.I,
    ): ("squeeze", "dry"),
    pattern(
        r"\b(?:very\s+)?(?:finely|roughly|coarsely|small)\b|\binto\s+(?:[a-z]+\s+)?(?:short\s+)?(?:lengths|pieces|bits|chunks)\b",
        re.I,
    ): ("chop", "grind"),
    pattern(r"\b(?:to|into)\s+an?\s+(?:fine\s+)?powder\b|\b(?:very\s+)?finely\b", re.I): ("grind",),
    pattern(r"\b(?:in)?to\s+an?\s+(?:smooth\s+|thick\s+|thin\s+)?paste\b", re.I): (
        "prepare",
        "dissolve",
        "grind",
    ),
    pattern(
        r"\bwithout\s+(?:splashing|stirring|wringing|agitating|shaking|squeezing|disturbing\s+(?:it|them|the\s+\w+))\b"
        r"|\ba\s+(?:little|bit|few\s+drops|pinch)\s+at\s+a\s+time\b|\b(?:bit\s+by\s+bit|little\s+by\s+little)\b|\bin\s+small\s+(?:amounts|portions)\b",
        re.I,
    ): ("add", "prepare", "dissolve", "dip", "dye", "enter", "mordant", "squeeze", "stand"),
    pattern(
        r"\b(?:turning|moving|working|lifting|stirring)\s+(?:it|them|the\s+[\w-]+)\s+(?:about\s+|gently\s+|over\s+)?(?:now\s+and\s+(?:then|again)|from\s+time\s+to\s+time|occasionally|often|once\s+or\s+twice|every\s+so\s+often)"
        r"|\bbelow\s+the\s+surface\b|\bunder\s+the\s+surface\b|\bunder(?:\s+the)?\s+(?:water|liquor)\b",
        re.I,
    ): ("hold", "heat", "simmer", "dye", "mordant", "dip", "squeeze", "enter", "steep", "cool"),
    pattern(
        r"\b(?:away\s+)?(?:down\s+the\s+(?:drain|sink|toilet|loo)|(?:on|onto|over)\s+(?:the|your)\s+(?:compost|garden|soil|roses|flower\s*beds?|lawn|grass|earth|ground)(?:\s+heap)?)\b"
        r"|\bwith\s+plenty\s+of\s+water\b",
        re.I,
    ): ("discard",),
    pattern(r"\b(?:very\s+)?(?:thoroughly|well|through)\b", re.I): ("wet out",),
    pattern(
        r"\bmeanwhile\b|\b(?:while|whilst)\s+(?:the|your)\s+\w+\s+(?:is|are)\s+(?:still\s+)?\w+ing\b",
        re.I,
    ): ("prepare", "simmer", "boil", "heat", "mordant", "dye", "soak", "wet out", "chop", "grind"),
    pattern(r"\bbefore\s+(?:rinsing|washing|drying|dyeing|use|using\s+it)\b", re.I): (
        "hold",
        "rest",
        "dry",
        "stand",
        "cool",
        "air",
    ),
    pattern(
        r"\bfor\s+the\s+last\s+(?:\w+\s+)?(?:minutes?|hour|half\s+hour)\b|\b(?:before|at)\s+the\s+end\b",
        re.I,
    ): ("hold", "add", "simmer", "modify"),
}

# "Push the flower aside": of a vat, before the fibre goes in.
WAYS[
    pattern(
        r"\b(?:push|skim|scoop|move)\w*\s+(?:off\s+|aside\s+)?(?:the\s+)?(?:flower|bloom|scum|froth|foam|coppery\s+film)(?:\s+(?:aside|off|away|to\s+(?:one|the)\s+side))?",
        re.I,
    )
] = ("dye", "dip", "enter")
# "Dissolve the alum in a jug of hot water", where the heat is not that of the whole bath.
OF_ITS_OWN_WATER = pattern(
    r"\b(?:dissolv|mix|stir|put|measur)\w*\b[^.;:\n]{0,60}?\bin\s+(?:an?\s+|some\s+)?(?:\w+\s+of\s+|little\s+|bit\s+of\s+|small\s+amount\s+of\s+)?"
    r"(?:very\s+|just\s+)?(?:hot|boiling|warm)\s+water\b",
    re.I,
)
# "Take it out when you like the colour": what is waited for.
WHEN_SO = pattern(
    r"\b(?:when|once|as\s+soon\s+as)\s+(?:you|it\s+(?:is|has|looks|turns)|they\s+(?:are|look)|the\s+(?:colou?r|shade|bath|water|wool|yarn))\b"
    r"(?!\s+(?:is\s+|has\s+)?(?:cool|cold|cooled))[^.;:,\n\d]{2,50}",
    re.I,
)
DONE_WHEN_SO = ("lift", "strain", "rinse", "wash", "squeeze", "air", "dry")
WATER_OF = ("prepare", "add", "dissolve")


def noted_ways(
    text: str,
    sentence: Sentence,
    free: list[Amount],
    lines: list[Line],
    notes: dict[int, Note],
    taken: list[Span],
) -> list[Span]:
    """Add to the notes of a sentence how its deeds are done; the words that say so.

    ``free`` are amounts that no line holds: those within the words stay in the note. ``taken``
    are words that a line has already.
    """
    spans: list[Span] = []
    every = list(range(len(lines)))
    for said, verbs in (*WAYS.items(), (OF_ITS_OWN_WATER, WATER_OF), (WHEN_SO, DONE_WHEN_SO)):
        for match in said.finditer(text, sentence.start, sentence.end):
            low, high = match.span()
            low += len(match[0]) - len(match[0].lstrip())
            deeds = [one.doing.start for one in sentence.parts if low < one.doing.start < high]
            if said is WHEN_SO and deeds:
                high = min(deeds)
                high -= high - low - len(text[low:high].rstrip(" ,"))
            over = [one for one in (*taken, *spans) if one[0] < high and low < one[1]]
            alone = all(low <= a and b <= high and b - a < high - low for a, b in over)
            if NOT_SO.search(text, sentence.start, low) or not alone:
                continue
            at = _line_that_holds(lines, (low, high), verbs)
            if at is None:
                at = line_beside(lines, every, (low, high), frozenset(verbs))
            if at is None:
                continue
            own = [one for one in free if low <= one.start < high and one.kind == "named heat"]
            if said is OF_ITS_OWN_WATER and not own:
                continue
            words = " ".join(text[low:high].split()).replace('"', "'")
            within = [one for one in free if low <= one.start < high]
            already = notes[at].words if at in notes else ""
            if words not in already and words not in lines[at].text:
                add_note(notes, at, words, *within)
            if words in lines[at].text or (at in notes and words in notes[at].words):
                spans.append((low, high))
    return spans


def _line_that_holds(lines: list[Line], span: Span, verbs: tuple[str, ...]) -> int | None:
    """The line with an amount of these words, where its verb may be done so."""
    for at, line in enumerate(lines):
        verb = VERB.match(line.text)
        inside = any(span[0] <= one.start < span[1] for one in line.placed)
        if inside and verb is not None and verb["verb"] in verbs:
            return at
    return None
