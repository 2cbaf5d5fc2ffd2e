"""Words that a line says already, or that say nothing that a line could hold.

"Turn off the heat" is said by the cooling that comes of it, "at that temperature" by a hold, and
"everything" is what is in the pot. Where no line of the sentence says it, the words are told of
as not read, like all others.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

from procedure.draft.amount import Amount
from procedure.draft.heat_off import HEAT_OFF, PLATE
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Line
from procedure.quantity.ready_patterns import pattern

IT = r"(?:it|them|everything|(?:the|your|my)\s+[\w-]+(?:\s+(?:bath|pot|liquor))?)"
FIBRE = r"(?:wool|yarn|skeins?|hanks?|silk|cotton|linen|cloth|fabric|fibre|fiber|fleece|scar(?:f|ves)|pieces?)"  # noqa: E501
# "At that temperature", "at this heat": that of the step before.
AT_THAT = pattern(
    r"\b(?:at|on)\s+(?:about\s+)?(?:that|this|the\s+same)\s+(?:temperature|heat|temp)\b|\b(?:maintain|keep|hold)\w*\s+(?:this|that|the)\s+(?:temperature|heat)\b"
    r"|\b(?:just\s+)?like\s+(?:that|this)\b",
    re.I,
)
# "Raise the temperature to 80 °C", "keep the heat at 80 °C": the words before a figure.
THE_HEAT_OF = pattern(
    r"\b(?:temperature|temp|heat)(?:\s+(?:of\s+(?:the\s+)?\w+))?(?=\s+(?:is\s+)?(?:(?:[a-z]+ly|raised|brought|up|back)\s+)*(?:to|at|around|about|below|between|under)\b)",
    re.I,
)
# "Leave the wool to cool", "allow to go cold": the second verb says what is done.
LEAVE_TO = pattern(
    r"\b(?P<verb>leave|left|leaving|put|set|allow|allowed|let|hang|hung|lay|laid|spread|peg)(?:\s+up|\s+out)?\s+"
    r"(?:(?:it|them|everything|(?:the|your)\s+[\w-]+)\s+)?(?:(?:in|on|over)\s+(?:(?:a|the|some)\s+)?\w+\s+)?(?:up\s+|out\s+|flat\s+|overnight\s+)?(?:to\s+)?"
    r"(?=(?:soak|steep|cool|dry|drain|stand|settle|simmer|boil|rest|dissolve|wet|air|go)\b)",
    re.I,
)
GO_COLD = pattern(r"\bgo(?:es)?(?=\s+(?:cold|cool)\b)", re.I)
# "When it has cooled, lift": the step before waits until it is so.
WHEN_COOL = pattern(
    r"\b(?:when|once|after|as\s+soon\s+as)\s+(?:(?:it|everything|the\s+\w+)\s+(?:(?:has|have|is)\s+)?)?"
    r"(?:quite\s+|completely\s+|fully\s+)?(?=cool|cold)|\bbefore\b(?=.*\bhandle)",
    re.I,
)
UNTIL_COOL = pattern(
    r"\b(?:until|till|before)\s+(?:you\s+can\s+(?:comfortably\s+)?(?:handle|touch)\s+(?:it|them|the\s+\w+)"
    r"|(?:it|the\s+\w+)\s+(?:is|has)\b|you\s+handle\s+(?:it|them|the\s+\w+))|\bcooling\b",
    re.I,
)
# "Give it a good rinse": the noun says what is done.
GIVE = pattern(
    r"\b(?:give|gave|giving|gives)\s+(?:it|them|(?:the|your|my)\s+[\w-]+)\s+an?\s+"
    r"(?:(?:good|quick|final|last|thorough|gentle|long|short|nice|proper)\s+)?(?:(?!rinse|wash|soak|squeeze|dip|stir)[\w-]+\s+)?(?=rinse|wash|soak|squeeze|dip|stir|swish)"
    r"|\b(?:good|quick|final|last)\s+(?=rinse|wash|soak|squeeze)",
    re.I,
)
# "Put it on the stove", "set it over a low flame", "turn the heat up": the heating says it.
ON_THE_PLATE = pattern(
    rf"\b(?:put|place|set|return|move)\s+(?:{IT}\s+)?(?:back\s+)?(?:on|over|onto|to)\s+(?:the|a|an?\s+low|low|gentle|a\s+gentle|medium)\s+{PLATE}\b"
    rf"|\b(?:put|place|set)\s+(?:{IT}\s+)?(?:back\s+)?(?:on|over|onto)\s+(?:low|gentle|medium)\s+heat\b"
    rf"|\b(?:on|over)\s+(?:a|the)\s+(?:(?:low|gentle|medium|small)\s+)?{PLATE}\b"
    rf"|\bturn(?:ed)?\s+(?:(?:the\s+)?{PLATE}\s+(?:on|up|back\s+on)|(?:on|up)\s+the\s+{PLATE})\b",
    re.I,
)
# "Keep the liquor", "discard the plants": what straining parts.
STRAINED_OUT = pattern(
    r"\b(?:keep|keeping|save|reserve|reserving|saving)\s+(?:the\s+)?(?:liquid|liquor|dye|bath|dyebath)\b"
    r"|\b(?:discard|discarding|throw(?:ing)?\s+away|compost(?:ing)?|remove|removing)\s+"
    r"(?:them|the\s+(?:spent\s+)?(?:plants?|plant\s+matter|plant\s+material|solids|weld|leaves|flowers|skins|bits))\b"
    r"|\b(?:return|pour|put|tip)(?:ing)?\s+(?:the\s+)?(?:liquid|liquor|dye|bath|it)\s+back\s+(?:in|into|to)\s+(?:the|a\s+clean)\s+(?:pot|pan|dyepot)\b"
    r"|\breturn(?:ing)?\s+(?:the\s+)?(?:liquid|liquor|dye|bath|it)\s+(?:back\s+)?(?:in|into|to)\s+(?:the|a\s+clean)\s+(?:pot|pan|dyepot)\b"
    r"|\b(?:scoop|pour|fish)(?:ing|ed)?\s+(?:it\b|the\s+\w+\b)?(?=.*\b(?:sieve|through|out)\b)",
    re.I,
)
# "The damp wool": that it is wet, where it has been wetted or comes out of a bath.
DAMP = pattern(rf"\b(?:damp|wet|wetted|moist|soaked)(?=\s+(?:[\w-]+\s+)?{FIBRE}\b)", re.I)
STRAINED = pattern(
    r"\b(?:strained|finished|prepared|warm)(?=\s+(?:dye|bath|liquor|dyebath)\b)", re.I
)
DRIPS = pattern(
    r"\b(?:and\s+)?(?:let|leave|allow|letting)\s+(?:(?:it|them|the\s+\w+)\s+)?(?:to\s+)?(?:drip|drain)(?:\s+(?:back\s+)?(?:over|into)\s+the\s+(?:pot|bath))?\b",
    re.I,
)
EXCESS = pattern(
    r"\b(?:the\s+)?(?:excess|surplus|extra)(?:\s+(?:water|dye|liquor|liquid))?\b", re.I
)
AGAIN = pattern(r"\bagain\b", re.I)
OF_TIME = r"(?!\s+(?:few\s+|\d+\s+|[a-z]+\s+)?(?:minutes?|mins?|hours?|days?|time|half))"
FIRST = pattern(
    rf"\b(?:first|last)\b{OF_TIME}|\b(?:finally|lastly|beforehand)\b|\bnext\b(?=\s*,)", re.I
)
GOES_ON = pattern(
    r"\b(?:continue|go\s+on|carry\s+on|keep\s+(?:on|going)|continuing)\b|\b(?:wants?|needs?|takes?|should\s+take|requires?)\b(?=\s+(?:about\s+)?(?:an?|\d|one|two|half)\b)",
    re.I,
)
TO_PH = pattern(
    r"\b(?:bring|raise|lower|adjust|take|get|check|test)(?:\s+(?:and\s+\w+\s+)?(?:that|it|the(?!\s+pH)\s+[\w-]+|the|up|down|to|is|at)){0,4}(?=\s+pH\b)"
    r"|\b(?:until|till)(?=\s+(?:the\s+|it\s+is\s+)?pH\b)",
    re.I,
)
INTO_A_POT = pattern(
    r"\b(?:put|pop|place|tip|pour)\s+(?:it|them|this)\s+in(?:to)?\s+(?:an?|the|your)\s+(?:\w+\s+)?(?:pot|pan|jar|bucket|kettle|bowl)\b",
    re.I,
)
STIRRED = pattern(
    r"\b(?:is\s+|and\s+)?(?:stirred|mixed|added|poured)(?=\s+(?:in)?to\b)|\bspent\b|\bdyed\b|\bcure\b",
    re.I,
)
AWAY = pattern(r"\baway\b", re.I)
LID_ON = pattern(r"\bput\s+(?:the|its|a)\s+lid\s+(?:back\s+)?on\b|\b(?:and\s+)?cover\b", re.I)
OUT_OF_A_DIP = pattern(
    r"\b(?:lift|remove|take|pull)(?:\s+(?:it|them|the\s+\w+))?(?:\s+(?:it|them|out))?\b", re.I
)
SUBMERGE = pattern(r"\bsubmerge[sd]?\b", re.I)
IN_THE_SAME = pattern(r"\bsame(?=\s+(?:bath|dye|pot|liquor|dyebath|vat)\b)", re.I)
LEFT_IN = pattern(
    r"\b(?:leave|left|leaving|keep|kept)\s+(?:it|them|(?:the|your)\s+[\w-]+)\s+in\b", re.I
)
# "Dissolve it in a jug of hot water": the line has a vessel for it.
A_JUG_OF = pattern(
    r"\b(?:an?|the)\s+(?:[a-z]+\s+)?(?:jug|jar|mug|bowl|basin|glass|pan|saucepan)\s+of(?=\s+(?:[a-z-]+\s+){0,2}water\b)",
    re.I,
)
IN_BATH = (
    *("hold ", "simmer ", "dye ", "mordant ", "boil ", "steep ", "modify ", "stand ", "cool "),
    *("heat ", "enter ", "dip "),
)
ON_FIBRE = (
    *("wet out ", "lift ", "dye ", "enter ", "mordant ", "rinse ", "wash ", "steep ", "dip "),
    *("modify ", "squeeze ", "dry ", "air ", "split "),
)
SAYS_SO = {
    LEAVE_TO: ("",),
    GO_COLD: ("cool ", "hold "),
    WHEN_COOL: ("cool ",),
    UNTIL_COOL: ("cool ",),
    HEAT_OFF: ("cool ", "lift ", "strain "),
    AT_THAT: ("hold ", "simmer ", "dye ", "mordant ", "boil ", "steep "),
    THE_HEAT_OF: ("heat ", "hold ", "cool ", "dye ", "mordant ", "simmer "),
    GIVE: ("rinse ", "wash ", "wet out ", "squeeze ", "dip ", "steep ", "modify "),
    ON_THE_PLATE: ("heat ", "simmer ", "boil ", "hold "),
    STRAINED_OUT: ("strain ",),
    DAMP: ON_FIBRE,
    STRAINED: ("dye ", "enter ", "heat "),
    DRIPS: ("lift ", "rinse "),
    EXCESS: ("squeeze ",),
    AGAIN: ("rinse ", "wash ", "dye ", "enter ", "dip ", "heat "),
    FIRST: ("",),
    GOES_ON: IN_BATH,
    IN_THE_SAME: IN_BATH,
    SUBMERGE: IN_BATH,
    OUT_OF_A_DIP: ("dip ",),
    TO_PH: ("add ", "stand ", "hold "),
    AWAY: ("discard ",),
    A_JUG_OF: ("dissolve ",),
    INTO_A_POT: ("prepare ",),
    STIRRED: ("prepare ", "add ", "discard ", "rest "),
    LEFT_IN: ("dye ", "mordant ", "hold ", "enter ", "cool ", "steep "),
}
# "After 20 minutes", "another hour", "over the next 45 minutes": said by the time in its line.
BEFORE_TIME = pattern(
    r"\b(?:(?:after|for|in|over)\s+)?(?:the\s+)?(?:another|further|next|after)\s+(?:about\s+|around\s+)?\Z",
    re.I,
)
# "Until it reaches 80 °C", "let it come to 80 °C": said by the heat in its line.
BEFORE_HEAT = pattern(
    rf"\b(?:(?:until|till|let|allow|when|once|wait|aim)\s+)*(?:{IT}\s+|thermometer\s+)?(?:to\s+)?"
    r"(?:come|comes|reach|reaches|reaching|get|gets|climb|climbs|rise|rises|say|says|show|shows|read|reads"
    r"|increase|increasing|is|has\s+reached|has\s+come)\s+"
    r"(?:(?:the|its)\s+(?:heat|temperature)\s+)?(?:slowly\s+|gently\s+)?(?:up\s+)?(?:to\s+|at\s+)?(?:about\s+|around\s+|a\s+|the\s+)?\Z",
    re.I,
)
BEHIND_TIME = pattern(
    r"\s+(?:is\s+(?:enough|plenty)|to\s+(?:reach|come\s+to|get\s+to)|more|longer)\b", re.I
)
TAKE_TIME = pattern(r"\b(?:takes?|taking|took|should\s+take|wants?|needs?)\s+(?:about\s+)?\Z", re.I)
# "Both skeins": all that there are.
BOTH = pattern(rf"\bboth\s+(?:(?:of\s+)?(?:the|your|my)\s+)?(?:[\w-]+\s+)?{FIBRE}\b", re.I)
PAIR = 2
WEIGHS = pattern(
    r"\b(?:weigh(?:s|ed|ing)?|need(?:s|ed)?|came\s+to|altogether|in\s+all|in\s+total|dry|mine\s+(?:was|is|weighs|weighed))\b",
    re.I,
)


def not_said_already(text: str, unfollowed: Iterable[str], idle: Iterable[Span]) -> list[str]:
    """The verbs that were not followed without those of idle words: the "leave" of "leave it to
    cool", where what is done is the second verb."""
    said = [" ".join(text[low:high].lower().split()) for low, high in idle]
    left: list[str] = []
    for word in unfollowed:
        found = next((one for one in said if _holds(one, word.lower())), None)
        if found is None:
            left.append(word)
        else:
            said.remove(found)
    return left


def _holds(said: str, word: str) -> bool:
    at = said.find(" ".join(word.split()))
    return at >= 0 and (at == 0 or said[at - 1] == " ")


def idle_spans(
    text: str,
    sentence: Sentence,
    lines: list[Line],
    pieces: int = 0,
    weighed: bool = False,
    elsewhere: bool = False,
) -> list[Span]:
    """The words of a sentence that its lines say already, or that say nothing to be done.

    ``pieces`` is how many there are of the one lot, 0 where that is not said or is parted;
    ``weighed`` is True where the sentence has the weight of a lot, as its declaration says it;
    ``elsewhere`` where all its amounts are in lines of other sentences.
    """
    found: list[Span] = []
    if weighed:
        found += [m.span() for m in WEIGHS.finditer(text, sentence.start, sentence.end)]
    words = re.compile(rf"(?<![\w'-])(?:{one_of(meanings('idle'))})(?![\w'-])", re.I)
    if lines or elsewhere:
        found += [m.span() for m in words.finditer(text, sentence.start, sentence.end)]
    for said, verbs in SAYS_SO.items():
        if any(_verb(line).startswith(verbs) for line in lines):
            found += [m.span() for m in said.finditer(text, sentence.start, sentence.end)]
    if any(" covered" in line.text for line in lines):
        found += [m.span() for m in LID_ON.finditer(text, sentence.start, sentence.end)]
    for line in lines:
        for amount in line.placed:
            found += _beside(text, sentence, amount)
    if pieces == PAIR and lines:
        found += [m.span() for m in BOTH.finditer(text, sentence.start, sentence.end)]
    return found


def _verb(line: Line) -> str:
    """A line from its verb on, without the name of what it makes."""
    name, _, rest = line.text.lstrip().partition(": ")
    return rest if rest and " " not in name else line.text.lstrip()


def _beside(text: str, sentence: Sentence, amount: Amount) -> list[Span]:
    """The words beside an amount that the clause it has in its line says."""
    if not sentence.start <= amount.start < sentence.end:
        return []
    found: list[Span] = []
    if amount.kind in ("time", "named wait"):
        before = [BEFORE_TIME, TAKE_TIME]
        behind = BEHIND_TIME.match(text, amount.end, sentence.end)
        if behind:
            found.append(behind.span())
    elif amount.kind in ("temperature", "named heat"):
        before = [BEFORE_HEAT]
    else:
        return []
    for one in before:
        match = one.search(text, max(sentence.start, amount.start - 60), amount.start)
        if match:
            found.append(match.span())
    return found
