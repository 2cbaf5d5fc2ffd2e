"""What of a recipe is done, and what is only asked, wished, warned of or done by others."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.course import Course
from procedure.draft.general_truths import is_no_deed, tells_a_general_truth
from procedure.draft.sentences import Part, Sentence

# What is asked, wished or done by others is told of and not drafted as done.
NOT_DONE = re.compile(
    r"\W*(?:\d{1,2}[.):]\s*)?(?:(?:but|and|or|so|well|now|oh|right|ok|okay|also|yes|no)\b,?\s+)*(?:if\b(?!\s+(?:necessary|needed))|should\s+(?:you|it|the)\b"
    r"|some\s+(?:people|dyers|folks?|say|use|add|now|of\s+us)\b|others\b"
    r"|(?:many|most)\s+(?:now|still|dyers|people|of\s+us|will|would)\b"
    r"|an?\s+(?:\w+\s+)?(?:gr[ea]y|drab|fawn|tan|brown|yellow|gold|olive|green|blue|red|pink|rose|purple|lavender|black|shade|colou?r)"
    r"\s+(?:is|may\s+be|can\s+be)\s+(?:had|got|gotten|obtained|made)\b"
    r"|(?:for|to\s+(?:get|make))\s+(?:an?\s+)?[\w-]+(?:\s+[\w-]+){0,2}?,?\s+(?:you\s+)?(?:do|proceed|work|dye|use|treat)\s+(?:exactly\s+|just\s+)?(?:the\s+same|as\s+(?:above|before)|likewise)\b"
    r"|when\b(?=[^.;]*\b(?:it|vat|liquor|this)\s+is\s+(?:now\s+)?ready\s*(?:[.;:]|$))"
    r"|have\s+(?:ready\s+)?an?\s+(?:[\w-]+\s+){1,6}?(?:that|which)\s+(?:will|can)\s+hold\b"
    r"|(?<!now )(?:you|one)\s+(?:can|could|may|might)\b|proceed\s+as\b|otherwise\b|alternatively\b"
    r"|the\s+(?:colour|color|shade)\s+(?:can|may|might|could)\b"
    r"|(?:i|we|you)(?:'ve|\s+have)?\s+never\b"
    r"|no\s+mordant\b,?\s+(?:though|although|but)\b|not\s+(?:for|at|in|with|to|more|over|as)\b|left-?over\b|the\s+left-?over\b"
    r"|(?:i|we|they|she|he)\s+(?:was|were|am|are)\s+going\s+to\b(?!.*\bbut\b)|(?:see\s+you|write\s+to\s+me)\b"
    r"|(?:(?:but|and|my|the|her|his|their|another|that|this|your|some|old)\s+)+"
    r"(?:books?|blogs?|leaflets?|labels?|packets?|web\s?sites?|videos?|forums?)\s+"
    r"(?:says?|said|tells?|told|suggests?|gives?|gave|calls?|wants?|has|have|recommends?)\b"
    r"|(?:hottest|coldest|warmest)\b|next\s+time\b|(?:i|we)\s+(?:once|usually|would|might|could)\b"
    r"|my\s+teacher\b|(?:my|your|her|his|our)\s+(?:\w+\s+)?(?:mother|aunt|friend|neighbour|sister|brother|gran|granny"
    r"|grandmother|cousin|husband|wife|uncle)\b)",
    re.I,
)


# "Can be dyed with privet": talk of what is possible, before anything is done.
CAN_BE = re.compile(r"\b(?:can|could|may|might)\s+(?:also\s+)?be\s+(?:\w+ly\s+)?$", re.I)


# "They may be put in a tub, covered with water, and kept": one after the other.
MAY_BE = re.compile(r"\b(?:can|could|may|might)\s+(?:also\s+)?be\s+[^.;:]{0,80}$", re.I)
PARTICIPLE = re.compile(
    r"(?:ed|put|kept|left|cut|laid|hung|set)(?:\s+(?:in|into|up|by|with))?$", re.I
)


def _is_mere_talk(course: Course, part: Part) -> bool:
    """True for what is said to be possible before the first step, with nothing measured for it."""
    before = course.text[: part.doing.start]
    sentence = course.sentence
    if course.steps or sentence is None:
        return False
    among = PARTICIPLE.search(part.doing.words) and MAY_BE.search(before[sentence.start :])
    if not among and not CAN_BE.search(before[-40:]):
        return False
    return all(weighs_fibre(course, a) or a.kind in ("figure", "loose") for a in part.amounts)


# "In the last minutes one can give 5 g of copper": what may be done or left.
MAY = re.compile(
    r"(?<!\bnow )\b(?:(?:you|one|we|i|they)\s+(?:can|could|may|might)\s+(?:also\s+|always\s+|\w+ly\s+)?"  # noqa: E501
    r"|(?:was|were)\s+(?:going|meant|supposed|about)\s+to\s+|(?:meant|intended|hoped|planned|wanted)\s+to\s+)$",
    re.I,
)
# "These must have been alumed": what comes before, and is told of in passing.
MUST_HAVE = re.compile(
    r"\b(?:must|should|will)\s+(?:all\s+|first\s+)?have\s+been\s+(?:\w+ly\s+)?"
    r"(?:[a-z]+ed\b[^.;]{0,32}\b(?:and|or)\s+(?:\w+ly\s+)?)?$",
    re.I,
)
# "The liquor must be yellow before any yarn is put in": a condition, and nothing goes in by it.
MUST = re.compile(r"\b(?:must|should|has\s+to|have\s+to)\s+be\b", re.I)
BEFORE_IT_GOES = re.compile(r"\bbefore\s+(?:any|the|your)\s+(?:\w+\s+){0,2}(?:is|are)\s+$", re.I)
# "Three short dips wear better than a long one": what is known, and not what is to be done.
BETTER = re.compile(
    r"\b(?:wears?|is|are|works?|gives?|lasts?|makes?)\s+(?:better|worse|faster)\b[^.;]*\bthan\b",
    re.I,
)
# "Write to me in a month": what is asked of a reader, and nothing that is done to fibre.
TO_ME = re.compile(
    r"\b(?:write|wrote|tell|told|ask|asked|phone|ring|call|email|see|meet|visit|remind)\s+(?:to\s+)?(?:me|us|you|him|her|them|again)\b",
    re.I,
)
FOR_ANOTHER = re.compile(
    r"\W*(?:\d{1,2}[.):]\s*)?(?:for|to\s+(?:get|make))\s+(?:an?\s+)?(?:deeper|darker|paler|lighter|stronger|richer|redder|browner"
    r"|greyer|brighter|yellower)\b",
    re.I,
)


# "The orange comes in the last 20 minutes": what is seen, and nothing that is done.
# "Lot B stays as it is", "jar A was left as it was".
AS_IT_IS = re.compile(r"\bas\s+(?:it|they)\s+(?:is|are|was|were)\b", re.I)
COLOUR_COMES = re.compile(
    r"\bthe\s+(?:colou?r|shade|orange|red|yellow|blue|green|brown|grey|purple|pink)\s+"
    r"(?:comes|appears|develops|shows|deepens|arrives)\b",
    re.I,
)
# "Never above 70 °C: browns come out": what comes out is no fibre.
COLOURS = re.compile(
    r"\b(?:oranges?|reds?|yellows?|blues?|greens?|browns?|greys?|purples?|pinks?|colou?rs?|dye)\s+$",
    re.I,
)


# "Once the last one had aired, I rinsed": what has been done, and is not done again.
HAD_BEEN = re.compile(
    r"\b(?:once|when|after|as\s+soon\s+as|now\s+that)\b[^.;,]*\b(?:had|has|have|having)\s+(?:all\s+|both\s+)?(?:been\s+)?(?:\w+ly\s+)?$",
    re.I,
)


MEASURED = frozenset(("time", "times", "named wait", "temperature", "named heat", "volume"))


def _is_told_again(course: Course, part: Part, before: str) -> bool:
    """True for what the last step did, told again as done before what comes next."""
    last = course.steps[-1] if course.steps else None
    again = last is not None and last.on == "lot" and last.verb == part.doing.act
    measured = any(one.kind in MEASURED and one.words.lower() != "once" for one in part.amounts)
    return again and not measured and HAD_BEEN.search(before) is not None


def _is_left_open(course: Course, part: Part) -> bool:
    """True for what may be done, and for another time that a bath may have."""
    sentence = course.sentence
    if sentence is None:
        return False
    if is_no_deed(course.text, sentence, part):
        return True
    if COLOUR_COMES.search(part.words) or (AS_IT_IS.search(part.words) and not part.amounts):
        return True
    comes = part.doing.words.startswith(("com", "came", "go"))
    if comes and part.doing.act == "lift" and COLOURS.search(course.text[: part.doing.start][-16:]):
        return True
    before = course.text[max(sentence.start, part.doing.start - 80) : part.doing.start]
    if _is_told_again(course, part, before):
        return True
    if MAY.search(before) or MUST_HAVE.search(before):
        return True
    if MUST.search(sentence.words) and BEFORE_IT_GOES.search(before):
        return True
    if BETTER.search(part.words) and not any(one.kind == "time" for one in part.amounts):
        return True
    asks = TO_ME.search(part.words)
    if asks and all(one.start > part.start + asks.start() for one in part.amounts):
        return True
    every = [amount for one in sentence.parts for amount in one.amounts]
    every = [one for one in every if one.kind != "figure"]
    timed = every and all(one.kind in ("time", "named wait", "number", "loose") for one in every)
    return bool(timed and FOR_ANOTHER.match(sentence.words))


BUT = re.compile(r"\bbut\b", re.I)


def _behind_but(course: Course, part: Part) -> Part | None:
    """The part behind "but" of what was only meant: "I was going to stop, but gave it an hour"."""
    found = BUT.search(part.words)
    if found is None:
        return None
    at = part.start + found.end()
    amounts = tuple(one for one in part.amounts if one.start >= at)
    things = tuple(one for one in part.things if one.start >= at)
    return part._replace(amounts=amounts, things=things) if amounts else None


def what_is_done(course: Course, part: Part) -> Part | None:
    """The part, or what of it is done; None where it is talk, or left open."""
    if _is_mere_talk(course, part):
        return None
    return _behind_but(course, part) if _is_left_open(course, part) else part


def weighs_fibre(course: Course, amount: Amount) -> bool:
    """True for a weight of fibre."""
    of = course.of(amount)
    return amount.kind == "mass" and of is not None and of.kind == "fibre"


# "Prep time: 1 hour. Dye time: 2 hours.": how long all of it takes, before anything is done.
TAKES_IN_ALL = re.compile(
    r"\W*(?:(?:prep(?:aration)?|total|active|hands[- ]on|dye(?:ing)?|cook(?:ing)?|drying|waiting"
    r"|resting)\s+)?"
    r"(?:time|duration)(?:\s+(?:needed|required|taken))?\s*[:=-]",
    re.I,
)
# "Want it redder? Add a teaspoon of soda.": a condition in two sentences.
WANTED = re.compile(r"\W*(?:want|prefer|too|not|need|fancy|would\s+you\s+like)\b.*\?\W*", re.I)


# "The bath can be used again once: add half the alum": another time.
USED_AGAIN = re.compile(
    r"[^.;:]*\b(?:can|could|may|might)\s+(?:\w+\s+)?be\s+(?:re-?used|used\s+(?:again|once\s+more|a\s+second\s+time))\b",
    re.I,
)


def is_done(course: Course, sentence: Sentence) -> bool:
    """False for a question, a condition, an aside on what others do."""
    before = course.told[-2] if len(course.told) > 1 else None
    if before is not None and WANTED.fullmatch(before.words):
        return False
    if not course.steps and TAKES_IN_ALL.match(sentence.words):
        return False
    if USED_AGAIN.match(sentence.words) or tells_a_general_truth(sentence):
        return False
    return not (NOT_DONE.match(sentence.words) or sentence.words.rstrip(")\"' ").endswith("?"))


# "This is a simple exercise: one bath and two skeins", "the plan was cochineal first".
OVERVIEW = re.compile(
    r"\W*(?:(?:this|what\s+follows|here|the\s+following)\s+(?:is|are|was)\s+(?:an?|the|my|our|how|what)\b"
    r"|(?:the|my|our)\s+(?:plan|idea|aim|intention|object|scheme)\s+(?:is|was)\b"
    r"|in\s+this\s+(?:recipe|exercise|lesson|sheet|workshop|handout|leaflet|class|article|post|session|experiment)\b"
    r"|this\s+(?:recipe|exercise|lesson|sheet|workshop|handout|leaflet|class|article|post|session|page|note|card|experiment)\s+"
    r"(?:takes|shows|covers|describes|tells|explains|is|uses|gives|makes)\b)",
    re.I,
)
MEASURES = frozenset(
    ("mass", "volume", "time", "share", "spoon", "temperature", "strength", "ratio", "acidity")
)


def tells_what_is_to_come(course: Course, sentence: Sentence) -> bool:
    """True for a sentence before the first step that tells of the recipe and measures nothing."""
    if course.steps or not OVERVIEW.match(sentence.words):
        return False
    return not any(one.kind in MEASURES for part in sentence.parts for one in part.amounts)


CAUTION = re.compile(
    r"[\W]*(?:(?:you|we|i|one)\s+(?:can|could|may|might|don't|do\s+not|never)|take\s+care|careful|be\s+careful|caution|warning|care|note|nb|n\.b|always|never"
    r"|remember|mind|wear|do\s+not|don't)\b",
    re.I,
)


def behind_caution(course: Course, part: Part) -> Part | None:
    """The part without what stands in brackets as a caution; None where nothing else is left.

    "(always add the acid to the water)" is nothing that is done; what comes after it goes on
    with the verb before it.
    """
    opened = course.text.rfind(
        "(", max(0, part.doing.start - limits.LETTERS_OF_A_CAUTION), part.doing.start
    )
    closed = course.text.find(")", opened, part.end)
    if opened < 0 or 0 <= closed < part.doing.start or not CAUTION.match(course.text, opened):
        return part
    sentence = course.sentence
    before = [p.doing for p in sentence.parts if p.doing.start < opened] if sentence else []
    amounts = tuple(a for a in part.amounts if a.start > closed > 0)
    if not before or not amounts:
        return None
    things = tuple(t for t in part.things if t.start > closed)
    doing = before[-1]._replace(start=closed, end=closed)
    return part._replace(doing=doing, things=things, amounts=amounts, start=closed)
