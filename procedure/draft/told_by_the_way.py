"""What prose tells by the way: what went wrong once, what others did, figures of speech.

The words have the verbs, the times and the stuff of deeds ("last time I boiled it for an hour",
"I spun in my sleep", "while I'm making coffee"), and nothing of it is done in the recipe at hand.
Each stretch of a sentence that tells of such a thing is found here by the words that say so.
"""

from __future__ import annotations

import re

from procedure.draft.doings import Doing
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.things import Thing
from procedure.quantity.ready_patterns import pattern

# "Never over 70 °C, as I did last time at 85": what was done another time.
AS_DONE = pattern(
    r",?\s*\bas\s+(?:i|we|you|she|he|they|my\s+\w+)\s+(?:once\s+|always\s+)?(?:did|had|have|used\s+to)\b[^.;]*",
    re.I,
)
# Where a thought of its own begins.
BEGINS = (
    r"(?:^|[,;:(\n-])\W*(?:(?:but|and|because|as|since|for|though|though,|oh|well|still)\b,?\s+)*"
)
PERSON = (
    r"(?:girl|boy|lad|lass|lassie|maid|woman|man|lady|fellow|friend|neighbour|neighbor|member|student|pupil|apprentice"
    r"|beginner|novice|learner|helper|dyer|weaver|spinner|knitter|foreman|servant|child|children|kids?|customer|visitor"
    r"|guest|person|cousin|sister|brother|aunt|uncle|nephew|niece|mother|father|grandmother|grandfather|gran|granny"
    r"|grandad|daughter|son|husband|wife|teacher|tutor|vicar|baby|bairn)s?"
)
ANIMAL = r"(?:dog|cat|cow|goat|pony|horse|hens?|sheep|lamb|puppy|kitten|pig)s?"
YEARS = r"(?:years?|winters?|summers?|autumns?|springs?|months|weeks|seasons?)"
SEASON = r"(?:year|summer|winter|autumn|spring|season|christmas|easter)"

# What else is told of the recipe at hand, behind what was once: "but this time for an hour".
NOW = pattern(
    r"(?:[,;]\s*(?:(?:but|so|and)\s+)?|\b(?:but|so|and)\s+)"
    r"(?:this\s+time|nowadays|now|today|here)\b",
    re.I,
)
# "Last time I boiled it", "the year of the flood", "when I was a girl": another time than this.
ANOTHER_TIME = pattern(
    rf"{BEGINS}(?P<told>last\s+time,?\s+(?:i|we|she|he|they|you|round|it|the|my)\b"
    rf"|the\s+{SEASON}\s+(?:of|when|that|i|we|my|our|before\s+last|the)\b"
    r"|the\s+time\s+(?:before(?!\s+you)|i|we|she|he|they|when)\b"
    r"|when\s+(?:i|we|my\s+\w+|she|he)\s+(?:was|were)\s+(?:an?|young|small|little|still|at\s+school|first|newly"
    r"|learning|living|apprenticed|in\s+service)\b"
    r"|(?:i|we)\s+(?:still\s+|well\s+|can\s+)?(?:remember|recall|shall\s+never\s+forget|will\s+never\s+forget)\b"
    r"|(?:i|we)'ll\s+never\s+forget\b"
    r"|(?:back\s+)?in\s+(?:the\s+old|those|olden|my\s+young)\s+days\b|(?:many\s+|long\s+)?years\s+ago\b"
    r"|in\s+my\s+(?:youth|young\s+days|(?:grand)?(?:mother|father)'s\s+(?:time|day))\b"
    r"|(?:on\s+)?(?:one|another|a\s+former|an\s+earlier)\s+(?:time|occasion)\b)",
    re.I,
)
# "We used to boil it for two hours".
USED_TO = pattern(
    rf"\b(?:i|we|she|he|they|people|dyers|you|(?:the|my|our|your|his|her|old|an?)\s+(?:[\w-]+\s+)?{PERSON}|mrs\s+\w+"
    r"|mr\s+\w+)\s+(?:always\s+|never\s+)?used\s+to\b(?!\s+(?:dye|hold|cover|make|be)\s+(?:it|the|this)\b)",
    re.I,
)
# "Two winters ago", "once": another time, where something came to grief or somebody else did it.
MAYBE_ANOTHER_TIME = pattern(
    rf"\b(?:once\b(?!\s+(?:and|or|then|more|again|in|with|at|per|only|the|it|they)\b)"
    rf"|(?:\w+|\d+)\s+{YEARS}\s+(?:ago|back)\b|last\s+{SEASON}\b|the\s+{SEASON}\s+before\b"
    r"|(?:my|our|her|his|their)\s+(?:very\s+)?(?:first|last|previous|earlier)\s+(?:attempt|try|trial|effort|batch|go)s?\b"
    r"|an?\s+(?:earlier|previous|former)\s+(?:attempt|try|trial|batch|lot|skein|go)\b|one\s+(?:year|day|winter|summer|evening|night)\b)",
    re.I,
)
# Whoever it was, it was not the dyer of the recipe.
SOMEBODY = (
    rf"(?:(?:an?|one|some|another)\s+(?:[\w-]+\s+)?{PERSON}|(?:one|some|another)\s+of\s+(?:our|my|the|us)\b[\w\s]{{0,16}}?"
    rf"|(?:the|our|my|your|that)\s+(?:[\w-]+\s+)?{PERSON}|poor\s+(?:old\s+|little\s+)?\w+|mrs\s+\w+|mr\s+\w+|miss\s+\w+"
    rf"|somebody|someone|(?:the|our|my|a)\s+{ANIMAL})"
)
SOMEBODY_ELSE = pattern(rf"{BEGINS}(?P<told>{SOMEBODY})\b(?!\s+and\s+(?:i|we)\b)", re.I)
AT_ONCE = pattern(r"\s+(?:\w+ly\s+)?once\s+\w+", re.I)  # "a girl once left it"
TO_US = pattern(
    r"\b(?:gave|sent|brought|lent|sold|showed|told|taught|helped|lets?)\s+(?:me|us|it)\b", re.I
)
BLAMED = pattern(
    rf"{BEGINS}(?P<told>(?:an?|one|some|another|the|that|our)\s+(?:careless|silly|foolish|clumsy|idle|lazy|hasty|impatient"
    rf"|thoughtless|stupid|daft)\s+{PERSON}|poor\s+(?:old\s+|little\s+)?[a-z]+)\b",
    re.I,
)
# "It felted", "and we had brown ribbons", "the stockings did not see out the winter".
SPOILT = pattern(
    r"\b(?:felted|fell\s+(?:all\s+)?(?:to\s+(?:bits|pieces|rags)|apart)|ruined?|spoil(?:t|ed)|rotted|shrank|matted|scorched"
    r"|burnt|burned|wasted|regretted|disaster|mishap|went\s+(?:the\s+colou?r\s+of|like|to\s+mud|to\s+felt|brown|black|grey)"
    r"|came\s+out\s+(?:like|brown|black|grey|streaky|patchy|muddy)|turned\s+(?:in)?to\s+(?:brick|mud|felt|porridge|rags)"
    r"|(?:we|i|she|he|they)\s+had\s+(?:[\w-]+\s+)?(?:brown|black|grey|streaky|patchy|muddy)\b|lost\s+the\s+\w+"
    r"|did\s+not\s+(?:see\s+out|survive|last)|didn't\s+(?:survive|last)|had\s+to\s+(?:throw|start|begin)|never\s+again"
    r"|(?:scalded|burnt)\s+(?:her|his|my|their)\s+\w+|the\s+(?:cow|dog|goat|cat)\s+ate)\b",
    re.I,
)
HERS = pattern(r"\b(?:hers|theirs|(?:boiled|rinsed|washed|dyed|dried|left|cooked)\s+his)\b", re.I)

# "I spun in my sleep", "we were soaked to the skin": nothing that is done to fibre.
FIGURES = pattern(
    r"\b(?:(?:spun|spin|spinning|dye[ds]?|work\w*)\s+in\s+(?:my|your|her|his|their|our)\s+sleep"
    r"|strain(?:ed|ing|s)?\s+(?:my|your|her|his|their|the)\s+(?:back|eyes?|wrists?|arms?|shoulders?|ears?)"
    r"|boil(?:ed|ing|s)?\s+over\s+with|boil(?:ed|ing|s)?\s+(?:the|a)\s+kettle|boil(?:ed|ing|s)?\s+an?\s+egg"
    r"|(?:put|set)\s+(?:the|a)\s+kettle\s+on|(?:soaked|drenched|wet)\s+(?:through\s+)?to\s+the\s+skin"
    r"|(?:let|leave|left)\s+(?:the|that)\s+(?:matter|question|subject)\s+(?:rest|drop|stand|there)"
    r"|(?:my|our|the|his|her|their)\s+(?:tea|supper|dinner|lunch|breakfast|coffee|porridge|soup)\s+(?:\w+\s+)?(?:went|got|gone|go|goes|is|was|cooled?|boiled?)"
    r"(?:\s+cold|\s+over|\s+dry)?|stir(?:red|ring|s)?\s+(?:my|his|her|your|the)\s+(?:tea|coffee|soup|porridge)"
    r"(?:\s+with\s+[^.;,]*)?|h[eo]ld(?:ing)?\s+(?:my|your|her|his)\s+(?:breath|nose|tongue|hand|patience)"
    r"|(?:steeped|soaked)\s+in\s+(?:history|tradition|sunshine|sun)|(?:lay|laid|set)\s+the\s+table|let(?:ting)?\s+off\s+steam"
    r"|pressed\s+for\s+time|h[au]ng(?:ing)?\s+(?:about|around|(?:my|your|her|his)\s+head)"
    r"|(?:i|we|he|she)\s+(?:\w+ly\s+)?(?:slept|dozed|sat|chatted|knitted|queued|drove|walked)\s+(?:[\w-]+\s+){0,3}?for|simmer(?:ing|ed)\s+with\s+(?:rage|anger)"
    r"|in\s+hot\s+water\s+with|dip(?:ped|ping|s)?\s+into\s+(?:my|our|the|her|his)\s+(?:purse|savings|book)"
    r"|(?:i|we|he|she)\s+(?:was|were)\s+left\s+(?:to|alone|with)\b|cool(?:ed|ing)?\s+(?:my|her|his|your)\s+heels"
    r"|hang(?:ing|s)?\s+(?:out\s+)?(?:the|my|our)\s+(?:washing|laundry|sheets|curtains|picture)"
    r"|wash(?:ed|ing)?[\s-]up(?![\s-]+(?:liquid|agent|soap|gloves|water|bowl|detergent|powder))|(?:dr(?:y|ied|ying)|wash(?:ed|ing)?|rins(?:e|ed|ing))\s+(?:up\s+)?(?:the|my|our)\s+(?:dishes|plates|cups|floor|hair|dog|car|windows)"
    r"|throw(?:s|n)?\s+(?:up\s+)?(?:my|your|her|his)\s+hands|fold(?:ed)?\s+(?:my|her|his)\s+arms)\b",
    re.I,
)
# "The liquor stains the hands for a month", "the smell will hang in the kitchen for a week".
BODY = r"(?:hands?|fingers?|finger-?nails?|nails?|skin|nose|thumbs?|arms?|wrists?)"
HOUSE = r"(?:sinks?|work-?tops?|work\s?surfaces?|floors?|carpets?|enamel|tiles|aprons?|clothes)"
OWNER = r"(?:(?:the|your|my|our|everybody's|one's|all)\s+)?"
_STAYS = r"(?:stays?|hangs?|lingers?|clings?|sticks?|lasts?|remains?)"
STAINS = pattern(
    rf"\b(?:get|go|work|creep)s?\s+(?:itself\s+)?(?:under|on|onto|into)\s+{OWNER}{BODY}\b"
    r"|\b(?:stain|blacken|brown|yellow|mark|stick|cling|dye|colou?r|tan|burn|sting|redden)(?:s|ed)?"
    rf"\s+(?:to\s+|under\s+)?{OWNER}{BODY}\b"
    rf"|\b(?:stain|blacken|mark)(?:s|ed)?\s+{OWNER}{HOUSE}\b"
    r"|\b(?:juice|stain|colou?r|dye)\s+(?:(?:will|can|may|then|always)\s+)*"
    rf"{_STAYS}\s+(?:on|under|to)\s+{OWNER}(?:{BODY}|{HOUSE})\b"
    r"|\b(?:smell|stink|reek|stench|scent|odou?r)\s+(?:(?:will|can|may|then|always)\s+)*"
    rf"{_STAYS}\s+(?:on|in|under|to|about|round|for|onto)\b",
    re.I,
)
# "... and stays for a week".
THERE = pattern(
    r"[,\s]*\b(?:and|but)\s+(?:it\s+|they\s+|will\s+|can\s+)*(?:stay|last|linger|hold|remain|keep)s?\b",
    re.I,
)
# "While I'm making coffee", "while you wash up the pots", "while the others went for dinner".
MEANWHILE = pattern(
    rf"\b(?:while|whilst)\s+(?:i|we|you|he|she|they|the\s+others|everybody|everyone|(?:the|my|our|your)\s+(?:\w+\s+)?{PERSON})"
    r"(?:'m|'re|'s)?\b[^.;,()\n]*",
    re.I,
)
HOUSEHOLD = pattern(
    r"\b(?:(?:mak|brew|drink|hav|pour|fetch)(?:e|es|ing|s)?\s+(?:(?:yourself|myself|a|some|the|my|your|our|cup|mug|pot|of)\s+)*"
    r"(?:coffee|tea|lunch|dinner|supper|breakfast|bread|soup)|kettle|dishes|washing|laundry|pots|bread|dog|hens|shop(?:ping)?"
    r"|garden|letter|radio|dinner|supper|lunch|breakfast|beds?|ironing|children|school|church|post)\b",
    re.I,
)
# "(poor Tim had to wash at the sink)": whoever it was, no fibre is named.
IN_BRACKETS = pattern(
    rf"\(\W*(?P<who>{SOMEBODY}|(?:our|my|poor|little|old)\s+\w+)\s+(?:then\s+|always\s+|\w+ly\s+)?"
    r"(?:had|has|was|were|is|got|gets|went|goes|came|said|says|must|would|could|did|took)\b[^()]*\)",
    re.I,
)
# "About 100 mL was lost", "half a litre had boiled away": what went, and nothing that goes in.
LOST = pattern(
    r"\b(?:(?:was|were|got|is|are|had|has|have|been|all|then)\s+){1,4}(?:lost|spilt|spilled|slopped|leaked|evaporated|boiled\s+(?:away|dry|off|over))\b"
    r"|\b(?:mL|ml|litres?|liters?|L|pints?|gallons?|g|grams?|it|liquor|dye|liquid|contents)\s+(?:was\s+|were\s+)?"
    r"(?:lost|spilt|spilled|slopped\s+over|evaporated|boiled\s+away)\b"
    r"|\b(?:i|we|it|they)\s+(?:\w+ly\s+)?(?:lost|spilt|spilled|wasted)\b(?=[^.;,]*\b(?:mL|ml|litres?|liters?|pints?|cups?|gallons?|quarts?|jugs?|half)\b)"
    r"|\b(?:leaked|ran|dripped)\s+(?:out\s+(?:of|on|over|through)|away)\b"
    r"|\b(?:splashed|slopped|spilt|spilled)\s+(?:on|over|onto)\s+(?:the|my)\s+(?:stove|hob|floor|table|range|carpet)\b[^.;]*",
    re.I,
)
SOME_OF_IT = pattern(r"\W*(?:some|part|most|half|much|a\s+\w+)\s+of\s+(?:the|my|our)\s+\w+", re.I)
UNTIL = pattern(r"\b(?:until|till?|before|unless|if|when|once|for|what|that|which)\b[^,;]*$", re.I)
CLAUSE = pattern(r"[,;:()]\s*|\s-\s|\b(?:and|but|so\s+that|then)\s+", re.I)
HALF = pattern(r"[,;()]|\s-\s")
STUFF = frozenset(("material", "fibre", "part"))
DRINKS = frozenset(("coffee", "tea", "black tea"))


def told_by_the_way(sentence: Sentence) -> list[Span]:
    """The stretches of a sentence that tell of nothing to be done here, as places of the prose."""
    base, said = sentence.start, sentence.text
    spans = [*_of_another_time(said), *_of_somebody(said), *_figures(said)]
    spans += _beside(sentence) + _in_brackets(sentence) + _lost(sentence)
    return [(base + low, base + high) for low, high in spans]


def _of_another_time(said: str) -> list[Span]:
    """What was at another time: to the end of the sentence, or to what is now."""
    found = [one.start("told") for one in ANOTHER_TIME.finditer(said)]
    found += [_clause_begins(said, one.start()) for one in USED_TO.finditer(said)]
    spoilt = SPOILT.search(said)
    for one in MAYBE_ANOTHER_TIME.finditer(said) if spoilt else ():
        found.append(_clause_begins(said, one.start()))
    return [(low, _to_what_is_now(said, low)) for low in found]


def _of_somebody(said: str) -> list[Span]:
    """What others did, and what came of it."""
    spans: list[Span] = []
    for found in (*BLAMED.finditer(said), *SOMEBODY_ELSE.finditer(said)):
        low, at = found.start("told"), found.end()
        ends = HALF.search(said, at)
        clause = said[at : ends.start() if ends else len(said)]
        if TO_US.search(clause):
            continue
        sure = found.re is BLAMED or AT_ONCE.match(said, at) or HERS.search(clause)
        if sure or SPOILT.search(said, at):
            spans.append((low, _to_what_is_now(said, at)))
    return spans


def _figures(said: str) -> list[Span]:
    """Figures of speech, and what stains hands: to the end of their clause."""
    spans: list[Span] = []
    for found in FIGURES.finditer(said):
        spans.append((found.start(), _clause_ends(said, found.end())))
    spans += [one.span() for one in AS_DONE.finditer(said)]
    for found in STAINS.finditer(said):
        ends = _clause_ends(said, found.end())
        goes_on = THERE.match(said, ends)
        ends = _clause_ends(said, goes_on.end()) if goes_on else ends
        spans.append((_clause_begins(said, found.start()), ends))
    return spans


def _beside(sentence: Sentence) -> list[Span]:
    """What somebody does in the house meanwhile, where no dyer's work is named in it."""
    spans: list[Span] = []
    for found in MEANWHILE.finditer(sentence.text):
        low, high = found.span()
        stuff = [
            one
            for one in _things(sentence, low, high)
            if one.kind in STUFF and one.words not in DRINKS
        ]
        if not stuff and (HOUSEHOLD.search(found[0]) or not _deeds(sentence, low, high)):
            spans.append((low, high))
    return spans


def _in_brackets(sentence: Sentence) -> list[Span]:
    """An aside about somebody, with no fibre and nothing measured."""
    return [
        found.span()
        for found in IN_BRACKETS.finditer(sentence.text)
        if not any(one.kind in STUFF for one in _things(sentence, *found.span()))
    ]


def _lost(sentence: Sentence) -> list[Span]:
    """How much was lost: the clause that says it, where nothing is done in that."""
    spans: list[Span] = []
    for found in LOST.finditer(sentence.text):
        low = _clause_begins(sentence.text, found.start())
        low = 0 if SOME_OF_IT.match(sentence.text) else low
        high = _clause_ends(sentence.text, found.end())
        if UNTIL.search(sentence.text[low : found.start()]):
            continue
        if all(one.start >= found.start() + sentence.start for one in _deeds(sentence, low, high)):
            spans.append((low, high))
    return spans


def _clause_begins(said: str, at: int) -> int:
    """Where the clause around a place begins."""
    ends = [one.end() for one in CLAUSE.finditer(said, 0, at)]
    return ends[-1] if ends else 0


def _clause_ends(said: str, at: int) -> int:
    found = CLAUSE.search(said, at)
    return found.start() if found else len(said)


def _to_what_is_now(said: str, at: int) -> int:
    found = NOW.search(said, at)
    return found.start() if found else len(said)


def _things(sentence: Sentence, low: int, high: int) -> list[Thing]:
    at = sentence.start
    return [
        thing for part in sentence.parts for thing in part.things if low <= thing.start - at < high
    ]


def _deeds(sentence: Sentence, low: int, high: int) -> list[Doing]:
    at = sentence.start
    return [
        part.doing
        for part in sentence.parts
        if part.doing.act and low <= part.doing.start - at < high
    ]
