"""What prose says of how things are wont to be: "silk hates to be boiled", "felting means a shock".

None of it is done in the recipe at hand, though the words have the verbs and the heats of deeds.
"""

from __future__ import annotations

import re

from procedure.draft.sentences import Part, Sentence

# "Patchy colour nearly always means cloth that was poorly scoured": what has gone wrong elsewhere.
MEANS = re.compile(
    r"\W*(?!(?:which|that|this|it|i|we|you)\b)(?:[\w-]+\s+){1,4}?"
    r"(?:(?:nearly|almost)\s+)?(?:(?:always|usually|often|mostly|generally|sometimes)\s+)?means\b"
    r"(?!\s+(?:to|that\s+you)\b)",
    re.I,
)
# "It loses its shine above 85 °C", "the brown comes out over 70".
SPOILS = re.compile(
    r"\b(?:loses?|spoils?|suffers?|turns?|goes|dulls?|browns?|felts?|fades?|darkens?|hardens?|shrinks?"
    r"|(?:comes?|bleeds?)\s+out)\b[^.;,]{0,32}\b(?:above|over|past|beyond)\b",
    re.I,
)
# "The sample in the window faded in six weeks": how fast a colour is.
FASTNESS = re.compile(r"\b(?:light[\s-]?fast\w*|fade[sd]?|fading)\b", re.I)
# "Fastness to light is fair, to washing good".
FAST_TO = re.compile(
    r"\bfast(?:ness)?\s+(?:to|in)\s+(?:the\s+)?(?:light|sun|wash|rubbing|soap)", re.I
)
# "Leave two thirds of each stand for the bees": what is left growing.
LEFT_GROWING = re.compile(
    r"\s[^.;]{0,32}?\b(?:of\s+(?:each|the|any|every)\s+(?:stand|patch|clump|plants?|bush(?:es)?|trees?|hedges?)"
    r"|for\s+(?:the\s+)?(?:pollinators|bees|birds|insects|wildlife|next\s+(?:year|person)))\b",
    re.I,
)
# "It washes out", "it rinses out": what a colour or a powder does by itself.
GOES_OUT = re.compile(r"\b(?:it|this|that|all|colou?r|dye|powder)\s+(?:just\s+|all\s+)?$", re.I)
OUT = re.compile(r"\s+(?:out|off|away)\b", re.I)
# "Wash hands", "rinse the pots and spoons": nothing that is dyed.
NO_FIBRE = re.compile(
    r"\s+(?:off\s+|out\s+|up\s+)?(?:(?:your|the|all|my|our)\s+)*"
    r"(?:hands?|fingers|pots?|pans?|spoons?|tools|worktops?|sink|gloves|equipment|everything\s+you)\b",
    re.I,
)
# "Press on the silk setting": with a hot iron, when all is done.
IRONED = re.compile(r"\bsetting\b|\b(?:warm|cool|hot)\s+iron\b", re.I)
# "A grown-up can rinse the beans": leave that is given to somebody.
MAY_DO = re.compile(
    r"(?:^|[.;(]\s*)(?:an?|the|any|every|your)\s+(?:[\w-]+\s+)?(?:grown-?up|adult|child|parent|teacher|helper"
    r"|student|participant|beginner|person|reader)s?\s+(?:can|may|could)\s+(?:\w+ly\s+)?"
    r"(?:[^.;,]{1,40}\s+(?:and|or)\s+)?$",
    re.I,
)
# "It dries a shade lighter": what it looks like then.
LIGHTER = re.compile(
    r"\s+(?:(?:a|bit|little|shade|lot|slightly|much|somewhat|quite|to|two|shades|few)\s+){0,4}(?:lighter|paler|darker|duller|brighter)\b",
    re.I,
)
WASHES = frozenset(("wash", "rinse"))
# "It goes on getting darker after it comes out": when something is seen, and no deed.
DARKENS_AFTER = re.compile(
    r"\b(?:darken|deepen|lighten|change|turn|darker|lighter|paler|deeper|bluer|greener|browner)\w*\b"
    r"[^.;]*\bafter\s+(?:it|they|(?:the|your)\s+\w+)\s+(?:has\s+|have\s+)?$",
    re.I,
)
# "Her yarn came out brown": what happened to somebody else.
OF_ANOTHER = re.compile(r"\b(?:her|his|their|her's|hers|theirs)\s+(?:[\w-]+\s+){0,2}$", re.I)
ANOTHERS = re.compile(
    r"\W*(?:and\s+|but\s+)?(?:somebody|someone|an?\s+(?:friend|neighbour|member|student|pupil|beginner))(?:'s)?\b"
    r"(?=[^.;]*\b(?:her|his|their)\b)",
    re.I,
)
# "Tartar to brighten it", "which seems to make it darker": what comes of a deed.
ONLY_TO = re.compile(r"\b(?:to|(?:will|would|may|might|can|does)|helps|which|that)\s+$", re.I)
MAKES_SO = re.compile(
    r"\s+(?:it|them|the\s+(?:colou?r|shade|wool|yarn|dye))\s+(?:\w+\s+)?(?:lighter|darker|paler|brighter|duller|softer"
    r"|stronger|deeper|redder|greener|bluer|browner|warmer|cooler|fast|faster|last)\b",
    re.I,
)
BRIGHTENS = re.compile(r"(?:brighten|sadden|deepen|darken|redden|soften|shift|dull|fix)s?$", re.I)
ITSELF = re.compile(
    r"\s+(?:it|them|things|the\s+(?:colou?r|shade|red|yellow|blue|green|dye))\b", re.I
)
# "They should be dry by Thursday": what is hoped for.
SHOULD_BE = re.compile(
    r"\b(?:should|will|ought\s+to|may|might)\s+be\s+(?:quite\s+|fully\s+)?$", re.I
)
# "The rinse water was poured away": no bath that a step has made.
OF_RINSES = re.compile(
    r"\b(?:rins(?:e|ing)|wash(?:ing)?)\s+waters?\s+(?:(?:was|is|were|are|goes|went)\s+)?$", re.I
)
# "When you have finished dipping": what has been done before.
FINISHED = re.compile(
    r"\b(?:finish(?:ed|ing)?|done(?:\s+with)?|stop(?:ped)?)\s+(?:all\s+)?(?:(?:the|your)\s+)?$",
    re.I,
)
# "Always air it fully between dips", "always add lime to water": how such things are done.
ALWAYS = re.compile(r"\W*(?:and\s+|but\s+)?always\b", re.I)
MEASURES = frozenset(("mass", "volume", "spoon", "share", "ratio", "time", "temperature", "count"))


def tells_a_general_truth(sentence: Sentence) -> bool:
    """True for a sentence that explains a fault, or says what spoils something."""
    if MEANS.match(sentence.text):
        return True
    if ANOTHERS.match(sentence.text):
        return True
    amounts = [one.kind for part in sentence.parts for one in part.amounts]
    if ALWAYS.match(sentence.text) and not MEASURES.intersection(amounts):
        return True
    fast = FAST_TO.search(sentence.text)
    if fast and not MEASURES.intersection(amounts):
        acts = [part.doing for part in sentence.parts if part.doing.act]
        return all(one.start >= sentence.start + fast.start() for one in acts)
    deeds = any(part.doing.act for part in sentence.parts)
    return not deeds and (
        SPOILS.search(sentence.text) is not None or FASTNESS.search(sentence.text) is not None
    )


def _is_only_what_comes_of_it(text: str, part: Part, before: str) -> bool:
    """True for "to brighten it" and "which makes it darker", behind what is done."""
    said, end = part.doing.words, part.doing.end
    if said.startswith("mak"):
        return MAKES_SO.match(text, end) is not None
    brightens = BRIGHTENS.search(said) and ITSELF.match(text, end) and not part.amounts
    return bool(brightens) and bool(before.strip(" \n")) and ONLY_TO.search(before) is not None


def is_no_deed(text: str, sentence: Sentence, part: Part) -> bool:
    """True for a verb whose subject or object is nothing that the recipe works on."""
    act, at = part.doing.act, part.doing.start
    before = text[max(sentence.start, at - 60) : at]
    if act and (MAY_DO.search(before) or FINISHED.search(before)):
        return True
    if act == "lift" and DARKENS_AFTER.search(text[sentence.start : at]):
        return True
    if act == "lift" and part.doing.words.startswith("c") and OF_ANOTHER.search(before):
        return True
    if act == "dry" and part.doing.words == "dry" and SHOULD_BE.search(before):
        return True
    if _is_only_what_comes_of_it(text, part, before):
        return True
    if act == "discard" and OF_RINSES.search(before):
        return True
    if act == "dry" and LIGHTER.match(text, part.doing.end):
        return True
    if act in WASHES:
        by_itself = GOES_OUT.search(before) and OUT.match(text, part.doing.end)
        return bool(by_itself) or NO_FIBRE.match(text, part.doing.end) is not None
    if act == "squeeze":
        return IRONED.search(text[at : part.end]) is not None
    return act == "leave" and LEFT_GROWING.match(text, part.doing.end) is not None
