"""What prose says is done: the verbs of a sentence, told from the nouns that look like them."""

from __future__ import annotations

import re

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.draft.carrying import Moved, carried, ways_of
from procedure.draft.heat_off import HEAT_OFF, PLATE
from procedure.draft.lexicon import meanings
from procedure.draft.things import Thing, also_verb, known_words
from procedure.quantity.record import NamedTuple


class Doing(NamedTuple):
    """A verb of the prose with the act it stands for; ``act`` is empty where no verb is said."""

    act: str
    words: str
    start: int
    end: int


NOT = re.compile(
    r"(?:\b(?:don't|do not|doesn't|does not|didn't|did not|not|never)\s+(?:need|have|use|want)"
    r"\s+(?:to\s+)?(?:an?\s+|any\s+)?|"
    r"\b(?:not|never|don't|without|cannot|can't|nor)\s+(?:let|letting|allow|allowing|to let)\s+(?:it|them|the\s+\w+)\s+(?:come\s+to\s+|to\s+|get\s+to\s+|reach\s+)?(?:the\s+|a\s+)?|\b(?:not|never|don't|doesn't|didn't|wasn't|weren't|couldn't|wouldn't|haven't|hadn't|won't|shouldn't|mustn't|needn't|hates? to be|do not|without|nor|avoid|no|cannot|can't|don't bother|instead of|before|before (?:they|it|you|we)|if|when it|than)\s+(?:to\s+|be\s+|even\s+|\w+ly\s+)?)$",  # noqa: E501
    re.I,
)
NONE = re.compile(r"\b(?:no|not even|not any|without(?: any| the)?|nor|never any|not)\s+$", re.I)
WRAPPED = re.compile(
    r"\b(?:wr[ua]ng|wrap\w*|tied?|ties|squeezed?|press(?:ed)?|lay|laid|folded|rolled|sewn|sewed)\b"
    r"[^.;,]{0,24}\bin\s+an?\s+(?:\w+\s+)?$",
    re.I,
)
THROUGH = re.compile(r"\bthrough\s+(?:an?\s+|the\s+)?(?:\w+\s+)?$", re.I)
OUT = re.compile(r"\s+(?:it|them|the\s+[\w-]+|[\w-]+)\s+(?:out|forth)\b", re.I)
BAG_OUT = re.compile(
    r"\s+(?:the|your|that)\s+(?:net|bag|tea\s?bag|sock|muslin|stocking|plants?|solids)\s+out\b",
    re.I,
)
NOUN = re.compile(
    r"\b(?:an?|the|scalding|gentle|boiling|same|strong|moderate|low|high|slow|good|this|that|full|steady|gentler|of)\s+$",
    re.I,
)
ADJECTIVE = re.compile(
    r"(?:^|\b(?:the|of|your|a|an|some|with|in|on|onto|over|upon|from|into|and|my|fresh|dry|wet)\s+)$",
    re.I,
)

# "Bring to boil again": the boil is where it goes, and nothing is boiled yet.
TO_THE = re.compile(
    r"\b(?:bring|brings|brought|bringing|come|comes|came|raise|raised|heat|heated|back|up|return)\b"
    r"[^.;:,]{0,20}\bto\s+(?:a\s+|the\s+)?$",
    re.I,
)
TO_REACH = re.compile(
    r"(?:get|gets|got|come|comes|take|takes|took|taken|go|goes|went)\s+(?:it\s+|them\s+)?(?:back\s+)?(?:up\s+|down\s+)?to\s+(?:\d|a\s+(?:boil|simmer)|the\s+(?:boil|simmer))",
    re.I,
)
# "Put the yarn to soak", "leave it to cool": the second verb says what is done.
POSTPONES = frozenset(
    (
        "put",
        "leave",
        "left",
        "set",
        "hang",
        "hung",
        "hung up",
        "hang up",
        "allow",
        "let",
        "laid",
        "lay",
    )
)
POSTPONED = re.compile(
    r"(?:\s+[\w-]+){1,5}?\s+to\s+(?:soak|steep|cool|dry|drain|stand|settle|simmer|boil|rest|dissolve|wet|air)\b",
    re.I,
)


class Named(NamedTuple):
    """What a sentence names: things, what is done, and what is not to be done."""

    things: list[Thing]
    doings: list[Doing]
    denied: list[Doing]


TAKES_OUT = frozenset(("take", "took", "pull", "draw", "bring", "brought", "get", "taken"))
# "Pour it through a cloth", "pour the bath away", "swish it through clean water".
THROUGH_A_CLOTH = re.compile(
    r"\s+(?:(?:it|this|the\s+(?:[\w-]+\s+)?(?:dye|liquor|liquid|bath|dyebath|lot))\s+)?(?:off\s+)?through\s+(?:an?\s+|the\s+|some\s+)?"
    r"(?:[\w-]+\s+){0,2}(?:sieve|muslin|cheesecloth|cloth|colander|strainer|tea\s*-?towel|filter|net|pillowcase|tights|stocking)\b",
    re.I,
)
BATH_AWAY = re.compile(
    r"\s+(?:it|(?:the|your|this)\s+(?:(?:spent|old|used|exhausted|left-?over|iron|alum|mordant|dye|vinegar|whole)\s+)*"
    r"(?:bath|liquor|liquid|dyebath|dye|mordant|water|vat))\s+"
    r"(?:away|down\s+the\s+(?:foul\s+)?(?:drain|sink|toilet|loo)|(?:on|onto|over)\s+(?:the|your)\s+(?:compost|garden|soil|roses|flower\s*beds?|lawn|grass|earth|ground))\b",
    re.I,
)
THROUGH_WATER = re.compile(
    r"\s+(?:(?:it|them|the\s+\w+)\s+)?(?:about\s+|around\s+)?(?:in|through)\s+(?:some\s+)?(?:clean|fresh|clear|cool|cold|warm|plain|lukewarm)\s+(?:\w+\s+)?water\b",
    re.I,
)
IN_THE_AIR = re.compile(r"\s+the\s+(?:shade|sun|open|air)\b", re.I)
POURS = frozenset(("pour", "pours", "poured", "tip", "tips", "tipped", "throw", "threw", "empty"))
SWISHES = frozenset(("swish", "swished", "slosh", "swirl", "swirled"))
# "Lay it on the grass an hour": in the air, and in no bath.
LAYS = frozenset(("lay", "laid", "lays", "spread", "put", "leave", "left"))
ON_THE_GRASS = re.compile(
    r"(?:\s+(?:it|them|mine|(?:the|one|a|each)\s+(?:(?:wet|damp|dyed|wrung|squeezed)\s+)?[\w-]+"
    r"(?:\s+(?:from|of)\s+[\w ]{1,16}?)?))?\s+"
    r"(?:out\s+|an?\s+\w+\s+|\w+\s+\w+\s+)?(?:on|upon|over)\s+(?:the|a)\s+"
    r"(?:grass|lawn|hedge|bushes|line|window[\s-]?sill|sill|rack|radiator|fence|rail)\b"
    r"|\s+(?:it|them|mine|(?:the|your)\s+[\w-]+)\s+(?:out\s+)?(?:in\s+the\s+(?:shade|open)|out\s+of\s+(?:the|direct)\s+(?:sun|light)|outside|outdoors)\b",
    re.I,
)
# "Give a decoction of logwood", "gave it a bath of copperas": the fibre gets what is named.
GIVES = frozenset(("give", "gives", "gave", "given"))
A_BATH_OF = re.compile(
    r"\s+(?:(?:it|them|(?:the|your)\s+[\w-]+)\s+)?(?:an?|the|one|another)\s+(?:[a-z]+\s+){0,2}?"
    r"(?:decoction|bath|liquor|solution|steep|soak|bottom|ground|mordant)\s+(?:of|in|with)\s+(?!(?:it|that|this)\b)",
    re.I,
)
# "Let it take the colour for ten minutes": it stays in its bath.
THE_COLOUR = re.compile(
    r"\s+(?:up\s+)?(?:the|its|their)\s+(?:colou?r|dye)\b(?!-?\s?(?:bath|pot))", re.I
)
# "Make the dye liquor up to 9 litres", "add cold water up to 6 L".
A_VOLUME = (
    r"\s+(?:about\s+|around\s+|a\s+total\s+of\s+)?(?:[\d½¼¾.,/]+|[a-z]+(?:\s+and\s+a\s+half)?)\s*"
    r"(?:l|ml|dl|lit(?:re|er)s?|gal(?:lon)?s?|pints?|quarts?)\b"
)
FILLS = frozenset(("make", "made", "fill", "filled", "bring", "brought", "dilute", "diluted"))
UP_TO_SO_MUCH = re.compile(
    r"(?:\s+(?:it|them|(?:the|your|my)\s+(?:[\w-]+\s+){0,2}?"
    r"(?:liquor|liquid|bath|dye-?bath|dye|pot|pan|kettle|vat|volume|water|quantity|whole|lot)))?"
    rf"(?:\s+(?:back|up|out))?(?:\s+with\s+(?:[\w-]+\s+){{0,2}}water)?\s+(?:up\s+)?to{A_VOLUME}",
    re.I,
)
ADDS = frozenset(("add", "added", "pour", "poured"))
WATER_UP_TO = re.compile(
    rf"\s+(?:in\s+)?(?:[\w-]+\s+){{0,2}}water\s+(?:up\s+)?to{A_VOLUME}(?!\s+of\b)", re.I
)
TAKES_TIME = frozenset(("take", "takes", "took", "taking"))
# "It took me about forty minutes".
SO_LONG = re.compile(
    r"\s+(?:(?:me|us|you|mine|it|them)\s+)?(?:[a-z]{1,7}\s+|the\s+(?:better|best)\s+part\s+of\s+)?",
    re.I,
)
# Verbs, the words behind them, and what they mean together.
BY_WORDS_BEHIND = (
    (SWISHES, THROUGH_WATER, "rinse"),
    (POURS, BATH_AWAY, "discard"),
    (POURS, THROUGH_A_CLOTH, "strain"),
    (GIVES, A_BATH_OF, "treat"),
    (TAKES_TIME, THE_COLOUR, "hold"),
    (FILLS, UP_TO_SO_MUCH, "fill up"),
    (ADDS, WATER_UP_TO, "fill up"),
)


def named(text: str, start: int, end: int, here: list[Amount]) -> Named:
    """The things and the verbs of a stretch of text, in order."""
    pattern, known = known_words()
    found = Named([], [], [])
    at = reach = start
    while match := pattern.search(text, at, end):
        at = match.end()
        over = next((a for a in here if a.start < match.end() and match.start() < a.end), None)
        if over is not None and over.kind not in ("relative", "odd"):
            at = max(over.end, match.start() + 1)
            continue
        word = " ".join(match[0].lower().split())
        kind, means = known[word]
        if _metal_of_pot(text, match, kind) or _after_amount(text, here, match, word):
            continue
        moved = carried(text, word, match.end(), end) if ways_of(word) else None
        if moved is not None and kind == "carries":
            kind, means = "verb", moved.act
        elif kind == "carries":
            continue
        act = means if kind == "verb" else also_verb(word)
        if kind == "verb" and match.end() <= reach and word.endswith(" in"):
            act = None  # the "wool in" of "drop the wool in"
        if act is not None and over is None and _is_verb(text, match, start, kind):
            _done(text, match, start, end, here, Doing(act, word, *match.span()), found, moved)
            reach = moved.end if moved is not None else reach
        elif kind == "verb":
            named = word.rpartition(" ")[0]
            if word.endswith((" in", " back")) and named in known:
                ends = match.start() + len(named)
                found.things.append(Thing(*known[named], named, match.start(), ends))
        elif not _unmeant(text, match, start, kind, over):
            found.things.append(Thing(kind, means, word, *match.span()))
            goes = (
                _goes_in(text, match, start, end, found) if kind in ("fibre", "material") else None
            )
            if goes is not None:
                act = "enter" if kind == "fibre" else "put"
                found.doings.append(Doing(act, goes[0].strip(), match.end(), goes.end()))
                at = goes.end()
    return found


# "Scarves in.", "wet yarn in at 40 °C", "chalk in": what goes in, without a verb.
IN = re.compile(
    r"\s+(?:straight\s+|back\s+)?in(?=\s*(?:[.,;:)\n]|$)|\s+(?:at\s+\S|for\s+(?:\d|an?\b)"
    r"|(?:and|then|next|again|now|damp|wet|cold|warm|loose|loosely|gently|slowly)\b"
    r"|from\s+(?:the\s+)?(?:start|beginning|cold|first)\b))",
    re.I,
)
BEGINS = re.compile(
    r"(?:^|[.,;:(\n]|\d[.)]|[-*]|\band|\bthen|\bnext|\bnow)\s*"
    r"(?:(?:\d+[.)]|[-*]|then|next|now|the|your|all|both|two|three|four|five|six|wet|wetted|damp|rest\s+of\s+the)\s+){0,3}$",
    re.I,
)


def _goes_in(
    text: str, match: re.Match[str], start: int, end: int, found: Named
) -> re.Match[str] | None:
    """The "in" of a clause that is nothing but a thing and it; None where there is none."""
    goes = IN.match(text, match.end(), end)
    if goes is None or not BEGINS.search(
        text[max(start, match.start() - limits.LONGEST_CLAUSE) : match.start()]
    ):
        return None
    return goes


def _act_of(word: str, behind: str, moved: Moved | None) -> str:
    """The act that the words behind a verb make of it; empty where they leave it as it is."""
    if TO_REACH.match(word + behind[:24]):
        return "heat"
    lays = word in LAYS and ON_THE_GRASS.match(behind)
    if lays or (word.endswith(" in") and word.split()[0] in LAYS and IN_THE_AIR.match(behind)):
        return "air"
    for words, pattern, act in BY_WORDS_BEHIND:
        if word in words and pattern.match(behind):
            return act
    if word in TAKES_OUT and OUT.match(behind):
        return "strain" if BAG_OUT.match(behind) else "lift"
    return moved.act if moved is not None else ""


# "We made a fresh bath with 5 g of iron", "I made up a dip of": what is made of something.
MADE_A_BATH = re.compile(
    r"\s+(?:up\s+)?(?:(?:an?|another|the|my|our)\s+)(?:(?!\b(?:with|of|in|for|from)\b)[a-z-]+\s+){0,3}?"
    r"(?:bath|vat|dip|liquor|solution|dye-?bath|after-?bath|dye-?pot|lye)\s+(?:with|of|from|using|out\s+of|by)\b",
    re.I,
)
THE_TIP = re.compile(r"\b(?:an?|the|our|council|town|rubbish|local)\s+$", re.I)
BOILED_BEFORE = re.compile(
    r"\b(?:silk|cotton|linen|wool|yarn|cloth|goods|thread)\b[\s,(]+(?:previously|already)\s+$", re.I
)
SOMEONE = re.compile(r"\b(?:i|we|you|they|she|he|[A-Z][a-z]+)\s+(?:then\s+|also\s+)?$", re.I)


IT = re.compile(r"\bit\s+$", re.I)


def _it_needed(text: str, match: re.Match[str], start: int, here: list[Amount]) -> bool:
    """True for "it took one gallon": how much went in, and nothing that is taken."""
    behind = [a for a in here if a.kind == "volume" and a.start >= match.end()]
    return (
        IT.search(text[max(start, match.start() - len("it ")) : match.start()]) is not None
        and bool(behind)
        and SO_LONG.fullmatch(text, match.end(), behind[0].start) is not None
    )


def _done(
    text: str,
    match: re.Match[str],
    start: int,
    end: int,
    here: list[Amount],
    doing: Doing,
    found: Named,
    moved: Moved | None,
) -> None:
    """Note a verb, with the act that the words behind it make of it."""
    pattern, known = known_words()
    word, behind = doing.words, text[match.end() : end]
    doing = doing._replace(act=_act_of(word, behind, moved) or doing.act)
    if word in TAKES_TIME and any(
        a.kind == "time" and SO_LONG.fullmatch(text, match.end(), a.start) for a in here
    ):
        return
    if word in TAKES_TIME and _it_needed(text, match, start, here):
        return
    if word in POSTPONES and POSTPONED.match(behind):
        return
    said = text[max(start, match.start() - limits.LONGEST_CLAUSE) : match.start()]
    denied = NOT.search(said) or (doing.act in ("boil", "simmer") and IF_IT.search(said))
    (found.denied if denied else found.doings).append(doing)
    inner = pattern.search(text, match.start(), match.end() - 1) if " " in word else None
    if inner and known[inner[0].lower()][0] in ("fibre", "material"):
        found.things.append(Thing(*known[inner[0].lower()], inner[0], *inner.span()))


def _unmeant(text: str, match: re.Match[str], start: int, kind: str, over: Amount | None) -> bool:
    """True for a thing that is not there: denied, or only what an amount is said by."""
    before = text[max(start, match.start() - limits.LONGEST_CLAUSE) : match.start()]
    if NONE.search(before) or (
        kind == "fibre" and (THROUGH.search(before) or WRAPPED.search(before))
    ):
        return True
    if kind == "fibre" and CLOTH.fullmatch(match[0]) and IN_A_CLOTH.search(before):
        return True
    if kind == "material" and _is_no_stuff(text, match, before, over):
        return True
    if kind == "water" and match[0].lower().endswith("spring") and IN_SPRING.search(before):
        return True  # "mordanted in the spring"
    if kind == "fibre" and (_holds_stuff(text, match.end()) or _is_of_a_bag(text, match, before)):
        return True
    if over is None and WORN.fullmatch(match[0]) and not DYED_GLOVES.search(before):
        return True
    if over is None:
        return False
    if over.kind == "relative":
        return "long" in over.words
    return kind != "material"


def _is_no_stuff(text: str, match: re.Match[str], before: str, over: Amount | None) -> bool:
    """True for the name of a material that is a likeness, a shade, a purpose, or of fibre."""
    if _is_likeness(before) or _is_shade(text, match):
        return True
    if FOR_A.search(before) and COLOUR_ENDS.match(text, match.end()):
        return True
    if OUT_OF_IT.match(text, match.end()) and GETS_THE.search(before):
        return True  # "to get the starch out"
    if MORDANTED.match(text, match.end()) or _is_of_a_skein(text, match):
        return True
    return over is None and _is_of_mordanted_fibre(text, match, before)


# "The alum skein": which skein it is, by what it was mordanted with.
A_SKEIN = re.compile(r"[\s-]+(?:skein|hank|one|half|piece|lot|batch)s?\b(?!\s+of\b)", re.I)
MORDANTS = frozenset("alum iron copper tin chrome tannin rhubarb symplocos".split())


def _is_of_a_skein(text: str, match: re.Match[str]) -> bool:
    """True for the alum of "the alum skein", and not for "put alum one hour"."""
    word = match[0].lower().removeprefix("the ")
    told = THE.search(text[max(0, match.start() - 8) : match.end() - len(word)])
    return word in MORDANTS and bool(told) and A_SKEIN.match(text, match.end()) is not None


# "Crush them in a tea towel": what it is done with, and nothing that is dyed.
CLOTH = re.compile(
    r"(?:tea[\s-]?)?towels?|dish\s?cloths?|pillow\s?case|muslin|cheese\s?cloth|stockings?|socks?|tights|nylons?"
    r"|hand\s?kerchief|cloth|net|calico",
    re.I,
)
IN_A_CLOTH = re.compile(
    r"\b(?:in|inside|between|with|using|on|onto|over|under)\s+an?\s+(?:(?:old|clean|dry|damp|folded|thick)\s+)*$",
    re.I,
)
# "Replace the wool" puts it back; "replace half of the water" is about another liquor.
OTHER_WATER = re.compile(
    r"\W+(?:half|some|part|most|a\s+\w+|\d\S*\s*\w*)\W|\W+(?:of\s+)?(?:the|this|that)\s+"
    r"(?:\w+\s+)?(?:water|liquor|bath|lid)\b",
    re.I,
)
# "Gloves!": they are worn, unless the words say that it is they that are dyed.
WORN = re.compile(r"gloves?", re.I)
DYED_GLOVES = re.compile(
    r"\b(?:pairs?\s+of|the|your|my|wool(?:len)?|knitted|silk|cotton|white)\s+(?:\w+\s+)?$", re.I
)
MORDANTED = re.compile(r"[\s-]+(?:pre-?)?mordanted\b", re.I)  # "a skein, alum mordanted"


# "The two alum skeins", "put in the chrome wool": fibre that has been mordanted, and no salt.
MORDANTED_SO = re.compile(r"(?:alum|tin|chrome|iron|copper|tannin)", re.I)
FIBRE_SO = re.compile(
    r"[ -](?:skeins?|hanks?|yarns?|wools?|fleece|cloths?|silks?|cottons?|pieces?|lots?"
    r"|samples?)\b(?!\s*:)",
    re.I,
)
SAID_OF_FIBRE = re.compile(
    r"\b(?:the|your|my|other|plain|more|one|two|three|four|five|six|seven|eight|nine|ten|last|first|second|third|an?|\d)\s+$",
    re.I,
)


def _is_of_mordanted_fibre(text: str, match: re.Match[str], before: str) -> bool:
    return (
        MORDANTED_SO.fullmatch(match[0]) is not None
        and SAID_OF_FIBRE.search(before) is not None
        and FIBRE_SO.match(text, match.end()) is not None
    )


def _is_of_a_bag(text: str, match: re.Match[str], before: str) -> bool:
    return IN_ONE.search(before) is not None and BAG_OF_IT.match(text, match.end()) is not None


IN_ONE = re.compile(
    r"\b(?:in|into|inside|through|tied?\s+in)\s+(?:an?|the|your)\s+(?:\w+\s+)?$", re.I
)
BAG_OF_IT = re.compile(
    r"[\s-]+(?:bags?|sacks?|pouch(?:es)?|nets?|strainers?|filters?)\b", re.I
)  # "muslin bag"
HOLDS = re.compile(r"(?:ful)?\s+of\s+(?:the\s+|fresh\s+|dried\s+|dry\s+)?", re.I)


def _holds_stuff(text: str, at: int) -> bool:
    """True for "a pillowcase of onion skins", which is no fibre to be dyed."""
    gap = HOLDS.match(text, at)
    pattern, known = known_words()
    found = pattern.match(text, gap.end()) if gap else None
    return found is not None and known[" ".join(found[0].lower().split())][0] in (
        "material",
        "part",
    )


def _metal_of_pot(text: str, match: re.Match[str], kind: str) -> bool:
    """True for the metal of "an iron pot", which is nothing that goes in."""
    if kind not in ("material", "pot"):
        return False
    after = re.match(r"\s+([\w-]+)", text[match.end() : match.end() + 24])
    if kind == "material" and TOOL.match(text, match.end()):
        return True
    if METAL.fullmatch(match[0]) and _is_one_of_two_metals(text, match):
        return True
    return bool(
        METAL.fullmatch(match[0]) and after and after[1].lower().rstrip("s") in meanings("pot")
    )


# "A coffee filter", "the vinegar bottle": what the word is part of, and nothing that goes in.
TOOL = re.compile(
    r"[\s-]+(?:mill|filters?|grinder|maker|strainer|press|cups?|mugs?|spoons?|bottles?|tins?|jars?|table|plate)\b(?!\s+of\b)",
    re.I,
)


# "In a tin or well tinned copper kettle": two metals that a pot may be of.
OR_METAL = re.compile(
    r"\s+or\s+(?:an?\s+|well[\s-]+|very\s+|good\s+|clean\s+)*(?:[a-z]+\s+){1,3}?(?P<pot>[a-z]+)\b",
    re.I,
)
IN_A = re.compile(r"\b(?:in|into|use|take|of)\s+(?:an?|the)\s+(?:[a-z]+\s+)?$", re.I)


def _is_one_of_two_metals(text: str, match: re.Match[str]) -> bool:
    behind = OR_METAL.match(text, match.end())
    pot = behind is not None and behind["pot"].lower().rstrip("s") in meanings("pot")
    return pot and IN_A.search(text[max(0, match.start() - 24) : match.start()]) is not None


METAL = re.compile(r"iron|copper|tin|brass|steel|aluminium|aluminum", re.I)


def _after_amount(text: str, here: list[Amount], match: re.Match[str], word: str) -> bool:
    """True for "400 g dry", "400 g scoured wool", which say what was weighed."""
    measured = any(
        0 <= match.start() - a.end <= 2 and a.kind in ("mass", "count", "share") for a in here
    )
    if not measured or word in ("dry", "wet", "dried"):
        return measured
    pattern, known = known_words()
    after = pattern.match(text, match.end() + 1) if word.endswith("ed") else None
    return bool(after and known[" ".join(after[0].lower().split())][0] in ("fibre", "material"))


# "It will look lighter when dry".
WHEN_SO = re.compile(
    r"\b(?:when|while|once|until|till|if|nearly|almost|completely|fully)\s+$", re.I
)
SO_ENDS = re.compile(r"\s*(?:[).,;:!]|$)")
# "The silk is degummed already": how it comes, and nothing that is done.
MADE_READY = frozenset(("degummed", "scoured", "washed", "wetted", "bleached"))
IS_SO = re.compile(r"\b(?:is|are|was|were|came|comes|come)\s+(?:already\s+)?$", re.I)
ALREADY = re.compile(r"\balready\s+\||\|\s+already\b", re.I)
GOES_IN_SO = re.compile(r"\b(?:goes|go|went|put|enter(?:ed)?)\s+in\s+$")  # "went in wet"


# "Clean spun wool", "hand spun": how the yarn was made, and no water that is spun out.
SPUN_SO = re.compile(
    r"\s+(?:\d|fine|thick|at\s+home|by\s+(?:hand|me|my|the|our)|from|(?:\w+\s+)?(?:yarn|worsted|woollen|wool|cotton|linen|flax|silk|hemp|thread)\b)",
    re.I,
)
BY_HAND = re.compile(r"\b(?:hand|home|mill|machine)[\s-]$", re.I)


# "To 3 lb of stockings, clean scoured: ...": how fibre comes that is named just before.
COMES_SO = MADE_READY | {"boiled", "rinsed"}
HOW_IT_COMES = re.compile(
    r"\b(?P<fibre>[a-z]+),?\s+(?:(?:clean|well|ready|newly|freshly|thoroughly|previously|very)\s+)+"
    r"(?:[a-z]+ed\s+and\s+)?$",
    re.I,
)
SO_ENDS_OR_AND = re.compile(r"\s*(?:[,:;)]|$|and\s+(?:rinsed|wetted|dried|boiled|bleached)\b)")


def _comes_so(word: str, before: str, behind: str) -> bool:
    found = HOW_IT_COMES.search(before) if word in COMES_SO else None
    fibre = found is not None and _kind_of(found["fibre"].lower()) == "fibre"
    return fibre and SO_ENDS_OR_AND.match(behind) is not None


def _is_state(word: str, before: str, behind: str) -> bool:
    """True for how fibre is: "a pound of wool, scoured, into", "weigh the skeins dry"."""
    if word == "dry" and re.search(r"\bweigh\w*\b[^.;]*$", before, re.I):
        return True
    if word == "dry" and re.search(r"\b(?:wt|weight)\.?:?\s*$", before, re.I):
        return True
    if word == "spun" and (SPUN_SO.match(behind) or BY_HAND.search(before)):
        return True
    if word == "dry" and re.match(r"\s+(?:is|are|ones?)\b", behind, re.I):
        return True
    if word in ("dry", "wet", "damp") and WHEN_SO.search(before) and SO_ENDS.match(behind):
        return True
    if word in ("wet", "damp") and GOES_IN_SO.search(before):
        return True
    if word == "dried" and AMOUNT_BEFORE.search(before) and re.match(r"\s*,", behind):
        return True
    if word in MADE_READY and IS_SO.search(before) and ALREADY.search(before + "|" + behind):
        return True
    act = meanings("verb").get(word)
    plain = re.search(r"([\w-]+)\s+(?:in\s+)?$", before)
    if word in ("wet", "wetted", "damp", "dry") and plain and _kind_of(plain[1].lower()) == "fibre":
        return (
            bool(re.match(r"\s*(?:[,.;)]|$|at\b|into\b|and\b)", behind)) and "," not in before[-2:]
        )
    if (
        act in (*STATES, "rinse")
        and word.endswith(("ed", "wrung"))
        and STATES_BEFORE.search(before)
    ):
        return bool(re.match(r"\s*[,)]", behind))
    if act not in STATES or not word.endswith(("ed", "wrung")):
        return False
    noun = re.search(
        r"([\w-]+)(?:\s+(?:in|next|now|then))?(?:,?\s*[\d./½¼¾]+\s?\w+(?:\s+each)?)?(?:,|\s*\()\s*"
        r"(?:(?:well|newly|already|previously|clean|pre-?)\s*)?$",
        before,
    )
    kinds = ("material", "part") if word == "dried" else ("fibre",)
    return bool(
        noun
        and _kind_of(noun[1].lower()) in kinds
        and re.match(
            r"\s*[,().;\n]|\s*$|\s+(?:but|and)\s+not\b|\s+(?:before|out)\b"
            r"|\s+and\s+(?:already\s+)?(?:pre-?)?(?:mordanted|alumed|dyed)\s+with\b"
            r"|\s+and\s+(?:wet|damp|dry|clean|wrung|rinsed|ready)\b",
            behind,
        )
    )


# "The scoured, wetted wool": states one behind the other, and what they are of.
WITH_STATES = re.compile(
    r"(?:\s*,?\s+(?:and\s+)?(?:wet|wetted|damp|washed|rinsed|mordanted|alumed|scoured|clean|dry)\b)*"
    r"\s+([\w-]+)",
    re.I,
)
# "I scoured wool", "and washed yarn": what somebody did, and not what the wool is.
SOMEBODY = re.compile(
    r"\b(?:i|we|you|he|she|they|who|then|and|have|has|had|having|be|been|is|are|was|were|also|first)\s+$",
    re.I,
)
# "Wool 100 g, washed", "8 avocado pits, washed": an item of a list, and how it is.
ITEM = re.compile(
    r"^\W*(?:[\w½¼¾/.()°%'-]+[:,]?\s+){1,7}[\w½¼¾/.()°%'-]+,\s*(?:both\s+|all\s+)?(?:already\s+|well\s+|\w+ly\s+)?$"
)
# "You need two skeins, A and B, both scoured".
BOTH_SO = re.compile(
    r"^\W*(?:you|we|i)(?:'ll|\s+will)?\s+(?:need|have|had|want)\b[^.;:]*,\s*(?:both|all|each)\s+(?:well\s+|already\s+)?$",
    re.I,
)
ITEM_ENDS = re.compile(
    r"(?:\s+(?:beforehand|already|in\s+advance))?\s*(?:$|[\n.;)])|,?\s+(?:and|but)\s+(?:not\s+)?(?:pre-?)?"
    r"(?:wet|damp|dry|dried|clean|ready|scoured|washed|rinsed|mordanted|wetted|alumed|dyed|bleached|boiled)\b"
)


def _is_attribute(word: str, before: str, behind: str) -> bool:
    """True for the scoured of "both scoured wool", "200 g of cotton, scoured and mordanted"."""
    made_ready = meanings("verb").get(word) in STATES or word == "boiled"
    if not made_ready or not word.endswith("ed"):
        return False
    following = WITH_STATES.match(behind)
    if following and _kind_of(following[1].lower()) in ("fibre", "material", "part"):
        return not SOMEBODY.search(before) and bool(before.strip(" \n-*•"))
    if not ((ITEM.match(before) or BOTH_SO.search(before)) and ITEM_ENDS.match(behind)):
        return False
    words = re.findall(r"[a-z]+", before.lower())
    return not any(_kind_of(one) == "verb" and one not in KEPT_SO for one in words)


KEPT_SO = frozenset("dry wet clean warm cool dried washed scoured cut".split())
# "Hang it to dry in the shade", "let the skeins dry in the shade": a deed, and no state.
DRIES = re.compile(
    r"(?:[,.;]|\band|\bthen|\bto|\bthen|\b(?:let|leave)\s+(?:it|them|(?:the|your)\s+\w+))\s*$", re.I
)
LETS_DRY = re.compile(r"\b(?:let|leave|allow)\s+(?:the|your|both|all)\s+\w+(?:\s+to)?\s*$", re.I)
SIGN_BEFORE = re.compile(r"\b(?:un)?till?\s[^.;,]*$", re.I)


# "Or the brown will come out", "it comes out a bright lime": a colour, and nothing that is lifted.
COMES_OUT = re.compile(r"(?:comes?|came)\s+out", re.I)
WHAT_COMES = re.compile(
    r"(?P<what>[\w-]+)(?:,)?\s+(?:(?:can|may|will|should|must|then|now|all|has|have|had|is|are|to|each|just)\s+)*$",
    re.I,
)
WHEN_OUT = re.compile(
    r"\s*(?:[.,;:)]|$|(?:of|and|after|at|when|now|then|for|to|before|again|once|dripping|with)\b)",
    re.I,
)
WORK = re.compile(r"\b(?:is|of|the|hard|day's|this|that)\s+$", re.I)


def _fibre_comes_out(before: str, behind: str) -> bool:
    """True where it is fibre that comes out, and no shade: "out of the bath", "and is rinsed"."""
    found = WHAT_COMES.search(before)
    what = found["what"].lower() if found else ""
    if what in (
        "it",
        "they",
        "that",
        "this",
        "these",
        "those",
        "one",
        "ones",
        "both",
        "all",
        "first",
        "second",
        "other",
        "others",
        "half",
    ):
        return WHEN_OUT.match(behind) is not None
    return not what or (_kind_of(what) in ("fibre", "", "pot") and what not in SHADES_SAID)


SHADES_SAID = frozenset(
    "brown red yellow blue green orange grey gray black pink purple colour color dye shade dirt"
    " grease bits plants smell iron alum".split()
)


def means_lift(word: str) -> bool:
    """True for a verb of what comes out of a bath."""
    return meanings("verb").get(word) == "lift"


AMOUNT_BEFORE = re.compile(r"\b(?:ounces?|pounds?|grams?|kilos?|g|kg|oz|lbs?|%)\.?,\s*$", re.I)
# "The silk, soaked for 20 minutes and wrung, ...".
STATES_BEFORE = re.compile(
    r",\s+(?:already\s+|well\s+|newly\s+)*"
    r"(?:soaked|wetted|wet|scoured|washed|rinsed|damp|mordanted)\b[^,;.]{0,30}\band\s+(?:well\s+)?$",
    re.I,
)
STATES = frozenset(("scour", "soak", "dry", "wash", "squeeze"))
# "Thick as treacle", "it looks like stout": nothing that goes in.
LIKE = re.compile(
    r"\b(?:\w+\s+as|like|the\s+(?:colour|color|shade|size|bigness|bulk)\s+of)"
    r"\s+(?:an?\s+|the\s+)?(?:small\s+|large\s+|good\s+)?$",
    re.I,
)
# "For a plum, add iron", "for a walnut brown": what it is to look like.
FOR_A = re.compile(
    r"\b(?:for|towards?|gives|makes)\s+an?\s+(?:(?:deep|dark|pale|soft|rich|good|real)\s+)*$", re.I
)
SUCH = re.compile(r"\b(?:such|used?|same)\s+as\s+(?:an?\s+|the\s+)?$", re.I)


# "A lime green": a shade, and no lime. Dyestuffs are not among these: "weld yellow" tells of weld.
SHADE = re.compile(r"\s+(?:green|yellow|red|brown|grey|gray|blue|orange|pink)\b", re.I)
COLOUR_ENDS = re.compile(
    r"\s*(?:[,.;:!)]|$)|\s+(?:green|yellow|red|brown|grey|gray|blue|orange|pink|colou?r|shade|tone)\b",
    re.I,
)
SHADES = frozenset("lime lemon chalk rust copper iron ash".split())


def _is_shade(text: str, match: re.Match[str]) -> bool:
    return match[0].lower() in SHADES and bool(SHADE.match(text, match.end()))


def _is_likeness(before: str) -> bool:
    return bool(LIKE.search(before)) and not SUCH.search(before)


# Verbs that are as often nouns, and what stands before them then.
NOUNS = frozenset(
    "place draw run set rest stand heat boil simmer wash rinse dip soak press spin cool warm cover"
    " stew air dye dry steep strain hold".split()
)
# "Finish with a wash at 35 °C", "give it a cold rinse": what is done, as a noun.
WASHES = frozenset(("wash", "rinse"))
GIVEN = re.compile(
    r"\b(?:finish(?:ed)?|end(?:ed)?|follow(?:ed)?|giv(?:e|en|ing)|gave|has|have|get|gets)\s+"
    r"(?:(?:it|them|off|up|all|the\s+\w+)\s+)?(?:with\s+|by\s+)?an?\s+(?:[a-z]+\s+)?$",
    re.I,
)
# "Afterwards a good wash at 50 °C": a clause that is nothing but the deed, as a noun.
BEGINS_WITH_A = re.compile(
    r"(?:^|[.,;:(\n]|\b(?:and|then|next|now|afterwards?|after\s+that|finally|lastly|last)[,:]?)\s*"
    r"(?:(?:and|then|next|finally|lastly|last)\s+)?(?:an?|one)\s+(?:[a-z-]+\s+)?$",
    re.I,
)
DEED_GOES_ON = re.compile(
    r"\s*(?:$|[.,;:(\n]|(?:in|at|with|of|for|until|till|and|then|through)\b)", re.I
)
DETERMINED = re.compile(
    r"\b(?:an?|the|this|that|some|any|no|your|my|its|their|first|second|third|last|another|each|every)\s+"
    r"(?P<adjective>[a-z-]+\s+)?$",
    re.I,
)


SOMEBODY_DOES = frozenset(("i", "we", "you", "they", "he", "she", "one"))
SOAKS = frozenset(("soak", "steep"))
FOR_ITS = re.compile(
    r"\b(?:for|after|before|during|of)\s+(?:the|your|an?)\s+(?:[a-z-]+\s+)?$", re.I
)


# "In the morning strain it": when it is done.
WHEN = re.compile(
    r"\b(?:in|on|by)\s+the\s+(?:(?:next|following)\s+)?(?:morning|evening|afternoon|day)\s+$", re.I
)
# "First wash it": what is done first, and no first wash.
IN_ORDER = re.compile(r"(?:^|[.;:(\n])\W*(?:first|second|third|last)\s+$", re.I)
TO_WHAT = re.compile(r"\s+(?:it|them|all|both|everything|the|your|my)\b", re.I)


def _is_noun(before: str, behind: str = "") -> bool:
    """True after an article, with at most an adjective between: "a warm place"."""
    found = DETERMINED.search(before)
    done = IN_ORDER.search(before) is not None and TO_WHAT.match(behind) is not None
    if found is None or done or WHEN.search(before):
        return False
    between = (found["adjective"] or "").strip().lower()
    if between in SOMEBODY_DOES:
        return False  # "after that we wash it"
    if FOR_ITS.search(before) and _kind_of(between) == "material":
        return True  # "for the soy soak:", "after the tannin soak"
    return not between or _kind_of(between) in ("", "verb")


def _kind_of(word: str) -> str:
    return known_words()[1].get(word, ("", ""))[0]


# "Wash, and dye with ...": what follows a verb.
GOES_ON = re.compile(r"\s+(?:with|in|for|it|them|at|as|until|till|\d)\b", re.I)


# "A handful of dried petals", "cochineal will look washed out": how a thing is.
OF_STATE = re.compile(r"\bof\s+(?:(?:the|well|finely|freshly)\s+)?$", re.I)
CLAUSE_BEGINS = re.compile(r"(?:^|[,.;:(]|\band|\bthen|\bagain)\s*$", re.I)  # "In at 40 °C."
LOOKS = re.compile(
    r"\b(?:look|looks|looked|looking|seem|seems)\s+(?:a\s+(?:bit|little)\s+)?$", re.I
)


# "A bath of 10 gallons, in which 3 oz of alum have been dissolved": what the bath is made of.
OF_LIQUORS = frozenset(("dissolve", "put"))
IN_WHICH = re.compile(
    r"\b(?:(?:in|into|to)\s+which|where(?:in|into|to))\s+(?:(?:i|we|you|they|she|he)\s+)?(?:(?:have|has|had|is|are|was|were|been|you|previously|first|'ve|'d)\s+)*"
    r"$|\b(?:in|into|to)\s+which\b[^.;:]{1,60}\b(?:have|has|had|is|are|was|were)\s+(?:been\s+)?$",
    re.I,
)
NO_MORDANT = re.compile(r"\bwithout(?:\s+(?:any|a))?\s+$", re.I)
# "The blanket we dyed weighed 2 lb": which blanket it is, and nothing that is done.
WE_DID = re.compile(
    r"(?:^|[.;\n(]\s*)the\s+[a-z]+\s+(?:that\s+)?(?:we|i|you|they)\s+(?:had\s+)?$", re.I
)
# "The Leicester I mordanted with rhubarb": fibre that is named first, and what was done to it.
DONE_SO = re.compile(
    r"\s+(?:with|in|for|at|on|until|till|and|twice|once|again|overnight|first|then|by|out|through)\b|[,;:]",
    re.I,
)
# "Put on your gloves": what is worn, and nothing that goes in.
PUTS_ON = re.compile(
    r"(?:put|pull|slip)\w*\s+on\s+(?:(?:a|an|the|your|some|rubber|pair\s+of|safety|dust)\s+)*"
    r"(?:gloves?|goggles|mask|apron|glasses|wellingtons|boots|overall)",
    re.I,
)
# "Put the pot back on the heat": no fibre goes in.
ON_THE_PLATE = re.compile(
    rf"(?:put|place|set|return|move|stand)\w*\s+(?:(?:it|everything|(?:the|your)\s+(?:\w+\s+)?(?:pot|pan|kettle|bath|dyebath|dyepot|lot))\s+)(?:back\s+)?"
    rf"(?:on|over|onto)\s+(?:(?:the|a)\s+)?(?:(?:low|gentle|medium|small)\s+)?{PLATE}\b",
    re.I,
)
# "Each brings a skein of 50 g": people do, and no bath is brought to a heat.
BRINGS = frozenset(("bring", "brings", "brought"))
WHO_BRINGS = re.compile(
    r"\b(?:each|every(?:body|one)|people|students?|participants?|persons?|child|children|they|who)\s+$",
    re.I,
)
BRINGS_TO = re.compile(
    r"\s+(?:(?:it|them|the\s+\w+)\s+)?(?:slowly\s+|gently\s+|just\s+)*(?:up|to|back)\b", re.I
)
# "Let it stand an hour, covered": how it is kept, and nothing that is done.
LIDDED = frozenset(("covered", "lidded"))
IS_LIDDED = re.compile(
    r"(?:,|\b(?:keep|kept|leave|left|stand|it|them|bath|pot|tightly|loosely|well))\s*$", re.I
)
LIDDED_ENDS = re.compile(r"\s*(?:[.,;:)]|$|overnight|for\b|until\b|and\b|in\s+the\b)", re.I)
# Words that are a verb only where a clause begins: "Back for 3 minutes.", but "back in May".
AT_FIRST = frozenset(("in at", "in for", "out for", "back in", "back for", "back into"))
THE = re.compile(r"\b(?:the|your|my|our)\s+$", re.I)


def _is_participle(word: str, before: str, behind: str) -> bool:
    """True for the strained of "the strained spirit", whatever stands behind it."""
    noun = re.match(r"\s+([a-z]{4,})\b", behind)
    return bool(word.endswith("ed") and noun and THE.search(before)) and not GOES_ON.match(behind)


# "From the mordant pot to the dye pot": which pot it is, and nothing that is done.
# "While the dye is simmering, mordant the wool": what goes on beside it.
MEANWHILE = re.compile(
    r"\b(?:while|whilst|as)\s+(?:the|your|that|this|it|they|those)\b[^,;.]{0,24}?(?:\b(?:is|are)|'s|'re)\s+$",
    re.I,
)
# "3 litres of water for the mordant": what is measured is meant for that bath.
MEANT_FOR = re.compile(r"\d[^.;:\n]*\bfor\s+(?:the|your)\s+$", re.I)
# "Use 12 g of alum to mordant the wool".
OF_THE_FIBRE = re.compile(
    r"\s+(?:it|them|(?:the|your|my)\s+(?:\w+\s+)?(?:wool|yarn|skeins?|silk|fib(?:re|er)|fleece|cotton|linen"
    r"|cloth|fabric|hanks?|scar(?:f|ves)))\b",
    re.I,
)
# "Dip it five minutes in an iron bath to sadden it": what the dip is for, and no second deed.
FOR_WHICH_IT_IS_DIPPED = re.compile(
    r"\b(?:dip(?:ped|s)?|put|enter(?:ed)?|plunged?|immersed?|soak(?:ed)?)\b[^.;]*\b(?:in|into)\b[^.;]*\bto\s+$",
    re.I,
)
BATHS_OF = frozenset(("mordant", "dye", "rinse", "soak", "alum", "tannin", "wash"))
OF_BATH = re.compile(r"\s+(?:pot|vat|tub|bucket|pan)s?\b", re.I)


CARRIED = re.compile(r"\bcarr(?:y|ied)\s+$", re.I)
# "Again to the dye liquor, 20 minutes", but "back to the boil".
AGE = re.compile(
    r"s?\s*:?\s*\d{1,2}(?:\s*(?:-|to|and|or)\s*(?:\d{1,2}|up|over))?\s*(?:years\b|[.,;)]|$)", re.I
)
# "Stir 10 g of galls into 3 litres of water", "stir the soda into the bath".
STIRS = frozenset(("stir", "stirred"))
STIRS_INTO = re.compile(
    r"\s+(?:well\s+|gently\s+|slowly\s+)?(?:it|this|that|them|these|both|the\s+(?:solution|mixture|paste|liquid))"
    r"\s+(?:well\s+|gently\s+|slowly\s+)?into\s+"
    r"|\s+(?:in\s+)?(?:the\s+)?(?:\d|½|¼|an?\s|half\s|one\s|two\s|three\s|four\s|five\s)[^.;,]{1,48}\binto\s"
    r"|\s+(?:the|your)\s+(?:[a-z]+\s+){1,3}?into\s+(?:the|it|your|this)\b",
    re.I,
)
SPREADS = frozenset(("spread", "drape", "draped"))
BACK_TO = frozenset(("back to", "again to", "again into", "then to", "then into"))
TO_A_BATH = re.compile(
    r"\s+the\s+(?:[a-z]+\s+){0,2}?(?:liquor|liquid|bath|dye-?bath|dye|vat|pot|mordant|solution|decoction)\b",
    re.I,
)
TAKES_PLACE = re.compile(r"\b(?:takes?|took|taking)\s+$", re.I)
# "Water, mordant: 8 L", "mordant water: 8 L": for which bath it is, in a list.
IN_A_LIST = re.compile(r"\bwater\s*[,(]\s*$", re.I)
BETWEEN = re.compile(r"\bbetween\s+(?:(?:the|each|every|two|all)\s+)*$", re.I)
IS_STUFF = re.compile(r"\s+(?:is|was|will\s+be)\s", re.I)
WATER_FOR = re.compile(r"[\s-]+water\b", re.I)
# "After-treatment with copperas", "pre-treatment was performed with galls": a deed, as a noun.
TREATED = re.compile(
    r"\s+(?:of\s+(?:[\w-]+\s+){1,3}?)?(?:(?:is|was|were|took|takes)\b|(?:with|in|by)\s+(?!care\b))",
    re.I,
)
# "Add water to make 4 gallons": how much there is then, and nothing that is done.
WATER_TO = re.compile(r"\bwater\s+to\s+$", re.I)
SO_MUCH = re.compile(
    r"\s+(?:(?:it|them|the\s+\w+)\s+)?(?:up\s+)?(?:to\s+)?(?:about\s+)?"
    r"(?:[\d½¼¾]\S*(?!\s*(?:°|deg))\s*[a-z]|(?:an?|one|two|three|four|five|six|ten)\s+(?:half\s+)?(?:gal|lit|pint|quart))",
    re.I,
)


# "Fixing: chalk 5 g/L", "fix it in chalk", but not "a fixed heat".
FIXED_IN = re.compile(
    r"(?<=ing)\s*:|\s+(?:(?:it|them|the\s+(?:wool|yarn|cotton|cloth|fabric|mordant|skeins))\s+)?(?:in|with)\s+",
    re.I,
)
# "In dilute vinegar", "a very dilute acid".
DILUTED_SO = re.compile(r"\b(?:in|with|of|through|into|an?|very|some|more)\s+$", re.I)


PUTS = re.compile(
    r"\b(?:put|place|lay|laid|pop|popped|hang|hung)\s+(?:(?:the|your|my|our)\s+)?$", re.I
)
IN_BRACKETS = frozenset(("dry", "dried"))
NEEDS = re.compile(r"\s+(?:needs?|wants?|takes?|will|would|is|are|gives?|weighs?|has|have)\b", re.I)
# "To get the starch out": what a deed is for.
GETS = re.compile(
    r"\b(?:to|will|should|does|helps?)\s+(?:get|bring|draw|take|wash|boil|drive)$", re.I
)
GETS_THE = re.compile(
    r"\b(?:get|getting|bring|draw|wash|boil|drive)s?\s+(?:(?:the|any|all|its|most|of|last)\s+){0,3}$",
    re.I,
)
IN_SPRING = re.compile(r"\b(?:in|last|this|since|until|till|every|each|late|early)\s+$", re.I)
OUT_OF_IT = re.compile(r"\s+(?:out|off|away)\b", re.I)
DIRT_OUT = re.compile(
    r"\s+(?:out\s+)?(?:(?:the|any|all|its|most|of|last)\s+){0,3}(?:starch|size|dressing|grease|dirt|wax|gum|oil|lanolin"
    r"|smell|excess|loose\s+\w+|dust|grit|mud)\b",
    re.I,
)
# "The wool came out a mustard".
SHADE_BEHIND = re.compile(r"\s+(?:an?|quite|very|rather|really)\b", re.I)
# "After straining I added chalk": a deed of the recipe that nothing else tells of.
STRAINS = frozenset(("straining", "sieving", "filtering"))
AFTER = re.compile(r"(?:^|[.;]\s*)(?:after|on|once\s+you\s+have\s+finished)\s+$", re.I)
# "Silk loses its shine if it boils": what is not to happen.
IF_IT = re.compile(r"\bif\s+(?:it|they|the\s+[\w-]+)\s+(?:ever\s+|even\s+)?$", re.I)


# "Through a hair sieve": what is poured so is strained.
THROUGH_ONE = re.compile(
    r"\b(?:through|on|onto|over|into|in|with|using|by|thro)\s+(?:an?|the|your)\s+(?:[\w-]+\s+)?$",
    re.I,
)
# "Take it out, shake it, and hang it up": the water is shaken out of it, and nothing goes in.
SHAKES = frozenset(("shake", "shaken"))
SHAKEN_OUT = re.compile(
    r"(?:\s+(?:it|them|the\s+(?:skeins?|hanks?|wool|yarn|cloth|silk|cotton|fleece)))?(?:\s+(?:out|well|off|hard|gently|loose))*"
    r"\s*(?:[.,;)]|\band\b|$)",
    re.I,
)


def _is_verb(text: str, match: re.Match[str], start: int, kind: str) -> bool:  # noqa: C901
    if WATER_TO.search(text[max(0, match.start() - 12) : match.start()]) and SO_MUCH.match(
        text, match.end()
    ):
        return False
    before, behind = (
        text[max(start, match.start() - limits.LONGEST_CLAUSE) : match.start()],
        text[match.end() : match.end() + 25],
    )
    word = match[0].lower()
    if word in STRAINS and AFTER.search(before):
        return True
    if word.endswith(" back") and PUTS.search(before):
        return False  # "put the wool back for ten minutes": one deed
    if word in IN_BRACKETS and before.endswith("(") and behind.startswith(")"):
        return False  # "200 g of broom (dry)"
    if word in ("dried", "dry") and NEEDS.match(behind) and CLAUSE_BEGINS.search(before):
        return False  # "dried needs double"
    if GETS.search(before + word) and DIRT_OUT.match(behind):
        return False
    if COMES_OUT.fullmatch(word) and SHADE_BEHIND.match(behind):
        return False
    if word in ("boiled", "scoured", "washed") and before.lower().endswith(("ready ", "ready-")):
        return False  # "silk, ready boiled"
    if word.startswith("replace") and OTHER_WATER.match(text, match.end()):
        return False
    if word == "tip" and THE_TIP.search(before):
        return False  # "a can for the council tip"
    if word.startswith("boiled") and BOILED_BEFORE.search(before):
        return False  # "silk, previously boiled off"
    if word == "made" and not (SOMEONE.search(before) and MADE_A_BATH.match(text, match.end())):
        return False
    if word.startswith("out") and CARRIED.search(before):
        return False  # "the dyeing was carried out with 5 % of madder"
    if word in ("dip", "dips", "dipping", "dippings") and BETWEEN.search(before):
        return False  # "ten minutes in the air between dips"
    if word in ("mordant", "dye") and IS_STUFF.match(behind):
        return False  # "dye is 150 g of madder"
    if word in ("mordant", "dye") and (IN_A_LIST.search(before) or WATER_FOR.match(behind)):
        return False
    if word == "dilute" and DILUTED_SO.search(before):
        return False
    if word in ("age", "ages", "aged") and AGE.match(text, match.end()):
        return False
    if word in STIRS and not STIRS_INTO.match(text, match.end()):
        return False
    if word == "sieve" and _is_noun(before) and not THROUGH_ONE.search(before):
        return False  # "a pot, a sieve, a thermometer"
    if word in SHAKES and SHAKEN_OUT.match(text, match.end()):
        return False
    if word in SPREADS and not ON_THE_GRASS.match(text, match.end()):
        return False
    if word in BACK_TO and not (CLAUSE_BEGINS.search(before) and TO_A_BATH.match(behind)):
        return False
    if word == "place" and TAKES_PLACE.search(before):
        return False
    if word in TAKES_OUT and behind.startswith(" place"):
        return False  # "mordanting took place at 80 °C"
    if word.startswith("fix") and not FIXED_IN.match(text, match.end()):
        return False
    if word.endswith("treatment") and not TREATED.match(text, match.end()):
        return False
    if word in (
        "heat",
        "boil",
        "simmer",
        "rest",
        "stand",
        "cool",
        "press",
        "scald",
    ) and NOUN.search(before):
        return False
    if word in ("wet", "wetted", "damp", "dampened") and re.match(
        r"(?:-(?:out|through))?\s+(?!the|your|my|our|his|a\b)(?:\w+\s+)?(?:wool|yarn|silk|cotton|skeins?|fibre|cloth|goods|linen|hanks?|fabric)\b(?!\s+out\b)",
        behind,
    ):
        return False
    if word == "mordants" and _is_noun(before):
        return False
    if word == "mordant" and NO_MORDANT.search(before):
        return False
    if meanings("verb").get(word) in OF_LIQUORS and IN_WHICH.search(before):
        return False
    if word.endswith("ed") and WE_DID.search(before) and not DONE_SO.match(behind):
        return False
    if ON_THE_PLATE.match(text, match.start()):
        return False
    if PUTS_ON.match(word + behind) or HEAT_OFF.match(text, match.start()):
        return False
    if word in BRINGS and behind.startswith(":"):
        return False  # "Bring: an apron, a notebook."
    if word in BRINGS and WHO_BRINGS.search(before) and not BRINGS_TO.match(behind):
        return False
    if word in LIDDED and IS_LIDDED.search(before) and LIDDED_ENDS.match(behind):
        return False
    if word == "dry" and re.search(r"\bboil\w*\s+$", before, re.I):
        return False  # "see that it does not boil dry"
    if word in ("tip", "tips") and behind.startswith(":"):
        return False
    if word in AT_FIRST and not CLAUSE_BEGINS.search(before):
        return False
    if word in BATHS_OF and (OF_BATH.match(behind) or MEANT_FOR.search(before)):
        return False
    if word.endswith("ing") and MEANWHILE.search(before):
        return False
    if OF_STATE.search(before) and word.endswith(("ed", "en")):
        return False
    if LOOKS.search(before) or _is_participle(word, before, behind):
        return False
    if word in ("boil", "simmer") and TO_THE.search(before):
        return False
    if meanings("verb").get(word) == "modify" and FOR_WHICH_IT_IS_DIPPED.search(before):
        return False
    if word == "dry" and LETS_DRY.search(before):
        return True
    if _comes_so(word, before, behind) or _is_state(word, before, behind):
        return False
    if _is_attribute(word, before, behind):
        return False
    if means_lift(word) and SIGN_BEFORE.search(before):
        return False  # "until no more colour comes out"
    if COMES_OUT.fullmatch(word) and not _fibre_comes_out(before, behind):
        return False
    if word in ("work", "works") and WORK.search(before):
        return False
    if word in SOAKS and behind.startswith(":") and FOR_ITS.search(before):
        return False  # "for the soy soak: 100 g of beans, 4 litres of water"
    if word in NOUNS and not behind.startswith(":") and _is_noun(before, behind):
        given = word in WASHES and GIVEN.search(before) is not None
        alone = word in WASHES and BEGINS_WITH_A.search(before) and DEED_GOES_ON.match(behind)
        return given or bool(alone)
    if word in meanings("kind of bath") and re.search(r"\w\s+to\s+$", before):
        return word == "mordant" and OF_THE_FIBRE.match(behind) is not None
    if (
        word in meanings("state or deed")
        and re.match(r"\s*[,;]|\s+(?:in|and|mind|wool|yarn|silk|cotton)\b", behind)
        and before.strip()
    ):
        return word == "dry" and DRIES.search(before) is not None
    if word.endswith(" in") and (word == "both in" or _kind_of(word[:-3]) == "fibre"):  # noqa: SIM102
        if not re.match(
            r"\s*(?:[.,;:]|$|for\b|at\b|and\b|then\b|wet\b|damp\b|boiling|together|from\s+the\s+start\b|\d+/?\d*\s*(?:h|m)|a?n? ?hour)",  # noqa: E501
            behind,
        ):
            return False
    if kind != "verb" and re.search(r"\b(?:and|then|to)\s+$", before) and GOES_ON.match(behind):
        return True
    if word == "dye" and re.search(r"\b(?:and|then)\s+$", before) and OF_THE_FIBRE.match(behind):
        return True  # "simmer the skins an hour and dye the wool in it"
    if kind != "verb" and re.search(
        r"\b(?:the|of|a|an|with|some|mild|in|your|no|into|from|dye|this|their|and)\s+$",
        before,
        re.I,
    ):
        return False
    if (
        kind != "verb"
        and before.strip()
        and not re.search(r"[.,;:)]\s*$|\b(?:then|to)\s+$", before)
    ):
        return False
    if word in (
        "dye",
        "dye for",
        "soap",
        "air",
        "feed",
        "rest",
        "press",
        "need",
        "buy",
    ) and re.search(r"\b(?:the|a|of|in|into|your|with|some|to the)\s+$", before, re.I):
        return False
    following = re.match(r"\s+(?:\w+\s+)?(\w[\w-]*)", behind)
    one_word = " " not in word  # "stir in chalk" is no adjective
    adjective = (
        one_word
        and word.endswith(("ed", "t", "n", "y", "d"))
        and word
        not in (
            "put",
            "melt",
            "lift",
            "wet out",
            "add",
            "let",
            "take",
            "return",
        )
    )
    direct = re.match(r"\s+([\w-]+)", behind)
    if adjective and ADJECTIVE.search(before) and direct and following:
        known = known_words()[1]
        if known.get(direct[1].lower(), ("", ""))[0] in (
            "material",
            "fibre",
            "water",
            "bath",
            "part",
        ):
            return False
        if word.endswith("ed") and known.get(direct[1].lower(), ("", ""))[0] == "pot":
            return False  # "in a covered bucket"
    if re.match(r"\s+(?:it\s+)?for\s", behind) and word.endswith("ing") and word != "dyeing":
        return True
    return not (
        word.endswith("ing")
        and re.search(r"\b(?:before|after|for|of|while|the|natural)\s+$", before, re.I)
    )
