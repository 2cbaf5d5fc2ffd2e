"""The heats and times of a part: which clause of a step each one is, and what follows on what."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.doings import MEANWHILE
from procedure.draft.sentences import Part, Sentence
from procedure.quantity.record import NamedTuple

FROM = re.compile(r"\b(?:from|start(?:ing|ed)?|begin(?:ning|s)?|starts?)\s*(?:at|with)?\s*$", re.I)
RISING = re.compile(r"\s*(?:up\s+to\b|to\s+\d|-+>\s*\d|rising)", re.I)
TO = re.compile(
    r"(?:\bto|\bto\s+reach|until|till|->|reach(?:es|ed|ing)?|\bis\s+(?:down\s+to|at)|gets?\s+(?:back\s+)?to"
    r"|(?:is|has\s+come)\s+up\s+to|hits?|falls?\s+to|drops?\s+to|come[s]?\s+to|boils?\s+up\s+to)"
    r"\s*(?:about|around|roughly|a|an|the|some|nearly|almost|just)?\s*(?:(?:very|low|bare|gentle|slow|full|rolling|mere)\s+)*$",
    re.I,
)
NEGATED = re.compile(
    r"\b(?:never|not|don't|do\s+not|n't|no|without|must\s+not|keep(?:ing|s)?\s+(?:it|them|the\s+\w+)?"
    r"|stay(?:s|ing)?|always)\b[^.;:]{0,30}$",
    re.I,
)
OVER = re.compile(
    r"\b(?:in|over|within|(?:takes?|taking|took)(?:\s+(?:me|us|you|mine|it))?|during)\s*"
    r"(?:about|some|the\s+next|the\s+(?:course|better\s+part|best\s+part)\s+of)?\s*$",
    re.I,
)
AFTER = re.compile(r"\b(?:after|at\s+the\s+end\s+of)\s*(?:about|another|the|some)?\s*$", re.I)
LATER = re.compile(r"\s*(?:later|afterwards|on\b)", re.I)
BEFORE_HEAT = re.compile(
    r"(?:\bat|\bto|\bfrom|around|about|until|till|temp\.?|under|over|above|below|exceed(?:ing)?"
    r"|past|than|reach(?:es|ing)?|,)\s*$",
    re.I,
)
WITHIN_ANOTHER = re.compile(
    r"\b(?:in|during|before|only|within)\s+the\s+(?:very\s+)?(?:last|final|first)\s*$", re.I
)
EVERY = re.compile(r"\b(?:every|each|once\s+an?|per)\s*$|\bevery\b", re.I)
RISES = frozenset(("heat", "boil", "simmer", "hold", ""))


# "Scalding, but not boiling": the heat that it must not have.
DENIED = re.compile(
    r"\b(?:not|never|nor|without|no\s+longer)\s+(?:(?:let|letting|allow\w*)\s+(?:it|them)\s+)?"
    r"(?:be\s+|quite\s+|come\s+to\s+|to\s+|(?:get|grow|become)\s+)?$",
    re.I,
)


class Phase(NamedTuple):
    """Heats and times that belong together, each under its clause.

    The clauses are from, to, at, over, for; ``ceiling``, never to be passed; and ``first``,
    the time that goes by before what the verb says.
    """

    clauses: dict[str, Amount]

    def has(self, *names: str) -> bool:
        """True where one of the clauses is said."""
        return any(name in self.clauses for name in names)


def phases(
    text: str, sentence: Sentence, part: Part, used: set[int], unit_of_time: str
) -> list[Phase]:
    """The heats and times of a part in order; where a clause comes again a new phase begins."""
    made: list[Phase] = []
    current: dict[str, Amount] = {}
    for amount in part.amounts:
        if amount.start in used:
            continue
        found = _clause(text, sentence, part, amount, current, unit_of_time)
        if found is None or _is_a_choice(text, part, amount):
            continue
        clause, amount = found
        if clause == "for" and "to" in current and _at_a_heat(text, part, amount):
            made.append(Phase(current))  # "to 90 °C in an hour, 60 min at 90 °C"
            current = {}
        if clause == "to" and "at" in current and not current.keys() & {"from", "for"}:
            # "In at 40 °C, up to 80 °C": where it is put in, the rise begins.
            current = {"from" if one == "at" else one: each for one, each in current.items()}
        rises = clause == "to" and {"at", "for"} <= current.keys()  # "30 °C for 1 h, up to 65"
        rises = rises and "from" not in current and current["at"].kind == "temperature"
        if clause in current or rises or (clause == "at" and {"to", "for"} <= current.keys()):
            made.append(Phase(current))
            current = {}
        current[clause] = amount
    if current:
        made.append(Phase(current))
    return made


# "For 2 hours, or overnight if it suits you": one or the other, and never both.
OR = re.compile(
    r",?\s*\(?\bor\s+(?:else\s+)?(?:for\s+|leave\s+(?:it|them)\s+)?(?:about\s+)?$", re.I
)
# "15 minutes for cream, 1 hour for tan": a time for each of several shades.
FOR_A_SHADE = re.compile(
    r"\s+for\s+(?:an?\s+|the\s+)?(?:(?:pale|proper|good|light|mid|medium|deep|dark|rich|full)\s+)?[a-z]+(?=\s*(?:[,.;)]|\band\b|or\b))",
    re.I,
)
LEAST_SHADES = 2


def _is_a_choice(text: str, part: Part, amount: Amount) -> bool:
    """True for a time that is one of several: which of them is meant, the dyer says."""
    if amount.kind not in ("time", "named wait"):
        return False
    times = [one for one in part.amounts if one.kind in ("time", "named wait")]
    if OR.search(text[part.start : amount.start]) and any(a.start < amount.start for a in times):
        return True
    shades = [one for one in times if FOR_A_SHADE.match(text, one.end)]
    return len(shades) >= LEAST_SHADES and amount in shades


AT = re.compile(r"\s*(?:at|@)\s*(?:about\s+|around\s+)?")


def _at_a_heat(text: str, part: Part, amount: Amount) -> bool:
    """True for the time of "60 min at 90 °C", which has its own heat behind it."""
    heats = [one.start for one in part.amounts if one.kind in ("temperature", "named heat")]
    return any(AT.fullmatch(text, amount.end, start) for start in heats if start > amount.end)


# "It went to 74 once": where the thermometer strayed to, and no heat that is sought.
WENT_TO = re.compile(r"\b(?:went|got|shot|crept|ran|rose)\s+(?:up\s+)?(?:to|past|over)\s+$", re.I)
STRAYED = re.compile(
    r"\s+(?:once|briefly|by\s+mistake|at\s+one\s+point|for\s+a\s+(?:moment|minute|bit))\b", re.I
)


def _is_no_heat(text: str, amount: Amount) -> bool:
    """True for a heat of water that is brought, of another bath, denied, or strayed to."""
    before = text[: amount.start][-48:]
    if STRAYED.match(text, amount.end) and WENT_TO.search(before):
        return True
    if MEANWHILE.search(before):
        return True  # "while the dye is simmering": of another bath
    named = amount.kind == "named heat"
    return named and (of_water(text, amount) or DENIED.search(before[-40:]) is not None)


def _clause(
    text: str,
    sentence: Sentence,
    part: Part,
    amount: Amount,
    current: dict[str, Amount],
    unit_of_time: str,
) -> tuple[str, Amount] | None:
    if amount.kind == "number":
        if bare_heat(text, sentence, amount):
            amount = amount._replace(kind="temperature", unit="", scale=False)
        else:
            timed = elliptic_time(text, sentence, part, amount, unit_of_time)
            if timed is None:
                return None
            amount = timed
    if amount.kind in ("temperature", "named heat"):
        if _is_no_heat(text, amount):
            return None
        if part.doing.act in ("boil", "simmer") and gets_cold(text, amount):
            return None  # "simmer them, and let them go cold": no heat of the simmering
        return heat_clause(text, amount), _reached(text, amount)
    if amount.kind in ("time", "named wait"):
        clause = time_clause(text, amount)
        if clause == "first" and "at" in current and _just_behind(text, current["at"], amount):
            clause = "over"  # "80 °C after an hour": how long it takes
            current["to"] = current.pop("at")
        if clause == "over" and not (
            current.keys() & {"to", "at", "from"} or part.doing.act in RISES
        ):
            clause = "for"
        return (clause, amount) if clause else None
    return None


def _just_behind(text: str, heat: Amount, amount: Amount) -> bool:
    return bool(
        re.fullmatch(r"\s*(?:after|within|by the end of)\s+", text[heat.end : amount.start])
    )


GETS = re.compile(
    r"\b(?:go|goes|gone|went|get|gets|got|grow|grows|turn|turns|become|becomes)\s+(?:quite\s+|stone\s+)?$",
    re.I,
)


def gets_cold(text: str, amount: Amount) -> bool:
    """True for the cold of "let it go cold", to which a bath comes by itself."""
    return (
        amount.unit == "cold"
        and GETS.search(text[max(0, amount.start - 20) : amount.start]) is not None
    )


# "Let it stand till it be no more than blood-warm": how warm it is then.
UNTIL_IT_IS = re.compile(
    r"\b(?:until|till|til|'til)\s+(?:it|they|that|this|the\s+(?:\w+\s+)?\w+)?(?:'s|\s+(?:is|are|be|was|has|have|had|feels?|gets?"
    r"|becomes?|comes?|cools?|cooled|gone|fallen|dropped|down|again|to))*\s*(?:\b(?:just|only|barely|about|around|nearly|merely"
    r"|quite|no\s+more\s+than|no\s+(?:hott|warm)er\s+than|not\s+(?:more\s+than|above|over)|below|under|at)\s*){0,2}$",
    re.I,
)


def _until_it_is(text: str, amount: Amount) -> bool:
    return UNTIL_IT_IS.search(text[max(0, amount.start - 48) : amount.start]) is not None


def _reached(text: str, amount: Amount) -> Amount:
    """The heat itself where something goes on until it is no more."""
    until = amount.bound == "most" and _until_it_is(text, amount)
    return amount._replace(bound="") if until else amount


def heat_clause(text: str, amount: Amount) -> str:
    """The clause of a heat, by the words about it."""
    before = text[max(0, amount.start - 48) : amount.start]
    behind = text[amount.end : amount.end + 12]
    if _until_it_is(text, amount):
        return "to"
    if amount.bound == "most" and NEGATED.search(before):
        return "ceiling"
    near = before[-24:]
    if RISING.match(behind) or FROM.search(near):
        return "from"
    return "to" if TO.search(near) else "at"


# "Heat slowly to 80 °C (about 1 hour)": how long the rise takes.
IN_BRACKETS = re.compile(
    r"\b(?:to|till|until)\s+\d{2,3}\s*(?:°|degrees)?\s?[CF]?\s*\(\s*(?:about|around|ca\.?|allow)?\s*$"
)


# "Heat slowly to simmering, about an hour".
SLOWLY_TO = re.compile(
    r"\b(?:slowly|gradually|very\s+gently)\s+(?:up\s+)?to\s+[^.;,()]{1,24},\s*"
    r"(?:about|around|taking|over)\s+$",
    re.I,
)


def time_clause(text: str, amount: Amount) -> str:
    """The clause of a time, by the words about it; empty for what comes round every so often."""
    before = text[max(0, amount.start - 24) : amount.start]
    behind = text[amount.end : amount.end + 16]
    if re.match(r"\s*(?:ago|earlier|old|since|before(?:hand)?\b(?!\s+\w))\b", behind, re.I):
        return ""
    if re.search(r"\b(?:write|tell|(?:call|ring)\s+me|see\s+you|meet)\b[^.;,]*$", before):
        return ""  # what is between people, and no step
    if re.search(r"\bas\s+(?:long|much)\s+as\s+$", before):
        return ""  # how long it may be at most
    if WITHIN_ANOTHER.search(before):
        return ""  # a part of the time of another step
    if EVERY.search(before) or re.match(r"(?:every|each)\b", amount.words, re.I):
        return ""
    if AFTER.search(before) or re.match(r"\s*later\b", behind, re.I):
        return "first"
    rising = (
        OVER.search(before)
        or IN_BRACKETS.search(before)
        or SLOWLY_TO.search(text[max(0, amount.start - 72) : amount.start])
        or re.match(r"\s*(?:up\s+to\b|to\s+(?:get|reach|come)\b)", behind)
    )
    return "over" if rising else "for"


def bare_heat(text: str, sentence: Sentence, amount: Amount) -> bool:
    """True where a number without a unit is a heat: "at 60", "up to 85"."""
    if amount.kind != "number" or amount.low is None or not 15 <= amount.low <= 212:
        return False
    before = text[max(0, amount.start - 20) : amount.start]
    behind = text[amount.end : amount.end + 8]
    if re.match(r"\s*(?:up\s+to\s+\d|-+>)", behind):
        return True
    first = not sentence.text[: amount.start - sentence.start].strip(" -*•")
    if first and re.match(r"\s*,\s*\d+\s*(?:h|hrs?|hours?|m|mins?|minutes?)\b", text[amount.end :]):
        return True  # "80, 1 h."
    of = sentence.of.get(amount.start)
    if of is not None and of.kind not in ("water", "bath"):
        return of.kind == "fibre" and bool(re.search(r"\b(?:at|,\s*(?:up\s+)?to)\s*$", before))
    if amount.words.lower().startswith("between") and amount.low >= limits.LEAST_BARE_HEAT:
        return True
    if re.search(r"\bcount(?:s|ed|ing)?\s+(?:up\s+)?to\s*$", before, re.I):
        return False  # "count to sixty"
    return bool(BEFORE_HEAT.search(before))


ALONE = re.compile(r"\s*(?:[.,;]|more\b|\Z|and\b|then\b|longer\b|gives?\b)", re.I)


OF_SO_MANY = frozenset(("rinse", "wash", "squeeze", "lift", "enter", "put", "gather"))


def elliptic_time(
    text: str, sentence: Sentence, part: Part, amount: Amount, unit: str
) -> Amount | None:
    """A number that leaves out the unit of the time before it: "boil two hours, simmer three"."""
    if not unit or amount.low is None or sentence.of.get(amount.start) is not None:
        return None
    if amount.low < 1:
        return None  # "rinse one half": so much of the fibre
    before = text[max(0, amount.start - 20) : amount.start].lower()
    verb = part.doing.words and before.rstrip().endswith(part.doing.words)
    verb = verb and part.doing.act not in OF_SO_MANY  # "lift three"
    more = re.search(r"\b(?:for|after|another|last|a\s+further)\s+(?:the\s+last\s+)?$", before)
    if (
        (verb or more)
        and amount.low <= limits.LONGEST_ELLIPTIC_TIME
        and ALONE.match(text, amount.end)
    ):
        return amount._replace(kind="time", unit=unit)
    return None


def of_water(text: str, amount: Amount) -> bool:
    """True where a named heat stands before water or a bath: cold water, a hot bath."""
    if amount.words.lower().endswith(" water"):
        return True
    behind = text[amount.end : amount.end + 40]
    return bool(re.match(r",?\s+(?:[\w-]+\s+)?(?:\w*water|suds|lye)\b", behind, re.I))
