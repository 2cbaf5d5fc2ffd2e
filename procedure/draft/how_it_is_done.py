"""How a thing is done: with the lid on, in the shade, gently, stirring; and what is worn for it.

The words stay with the line of the deed beside which they stand, where its verb can have them.
What is worn is worn for all that its sentence does, or with the stuff that it names ("wear gloves
with iron"); "wear gloves for this" means what was told before it, and what is said of no deed at
all ("always wear gloves") is worn from first to last.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import cache

from procedure.draft.amount import Amount
from procedure.draft.lexicon import meanings, one_of
from procedure.draft.not_read import Span
from procedure.draft.sentences import Sentence
from procedure.draft.unsettled_steps import Line
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

# "Do not cover", "no gloves", "if you have no mask": it is not so, or may not be.
NOT_SO = re.compile(
    r"\b(?:not|never|no|nor|don['’]t|needn['’]t|without|avoid|instead\s+of|rather\s+than|if|unless)\b"
    r"[^.;:()\n]{0,40}$",
    re.I,
)
WEARS = re.compile(
    r"\b(?:wear(?:s|ing)?|wore|(?:use|using)(?!\s+(?:it\s+|them\s+)?(?:on|for)\b)|put\s+on|don|pull\s+on|keep|with|in)\b[^.;:()\n]{0,48}$",
    re.I,
)
WITH_STUFF = re.compile(
    r"\s+(?:with(?!\s+(?:a|the|its)\s+lid)|by|in\s+(?!the\b))\b", re.I
)  # "covered with water"
AS_A_SIGN = re.compile(r"\b(?:until|till|so\s+that|enough|when|once)\b[^.;:,()\n]{0,40}$", re.I)
OF_WHAT_WAS_TOLD = re.compile(r"\b(?:this|that|here|these|it)\b", re.I)
VERB = re.compile(r"\s*(?:[\w-]+: )?(?P<verb>wet out|draw off|top up|\w+)\b")


class Ways(NamedTuple):
    """Lines with how they are done, what is worn from first to last, and the words that say so."""

    lines: list[Line]
    worn: tuple[str, ...]
    spans: tuple[Span, ...]

    def said_in(self, sentence: Sentence) -> list[Span]:
        """The words of a sentence that say how something is done."""
        return [one for one in self.spans if sentence.start <= one[0] < sentence.end]


def ways_of_doing(text: str, told: Iterable[Sentence], lines: list[Line]) -> Ways:
    """How the lines of a draft are done, as far as its sentences say."""
    found = _Found({}, [], [], {})
    of_sentence: dict[int, list[int]] = {}
    for at, line in enumerate(lines):
        if not line.text.startswith(("repeat ", "split ")):
            of_sentence.setdefault(line.sentence, []).append(at)
    before: list[int] = []
    for sentence in told:
        here = of_sentence.get(sentence.number, [])
        _manners(text, sentence, lines, here, found)
        _signs(text, sentence, lines, here, found)
        _below_the_boil(sentence, lines, here or before, found)
        _worn(text, sentence, lines, (here, before), found)
        before = here or before
    done = [
        _with_ways(line, tuple(dict.fromkeys(found.of_line.get(at, ()))), found.held.get(at, ()))
        for at, line in enumerate(lines)
    ]
    return Ways(done, tuple(dict.fromkeys(found.worn)), tuple(found.spans))


def _with_ways(line: Line, said: tuple[str, ...], held: Sequence[Amount]) -> Line:
    worn = [one for one in said if one in _what_is_worn().values()]
    manners = [one for one in said if one not in worn and f" {one}" not in line.text]
    manners.sort(key=lambda one: not one.startswith("until "))
    wearing = [f"wearing {', '.join(worn)}"] if worn else []
    text = "".join([line.text, *(f" {one}" for one in [*manners, *wearing])])
    return line._replace(text=text, placed=(*line.placed, *held))


class _Found(NamedTuple):
    of_line: dict[int, list[str]]
    worn: list[str]
    spans: list[Span]
    held: dict[int, list[Amount]]

    def add(self, at: int, said: str) -> None:
        self.of_line.setdefault(at, []).append(said)


@cache
def _manner_words() -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{one_of(meanings('manner'))})(?![\w-])", re.I)


@cache
def _verbs_of() -> dict[str, frozenset[str]]:
    """The verbs that may be done so, for each manner."""
    rows = meanings("verbs of a manner").items()
    return {manner: frozenset(verbs.split("/")) for manner, verbs in rows}


def _manners(
    text: str, sentence: Sentence, lines: list[Line], here: list[int], found: _Found
) -> None:
    for match in _manner_words().finditer(text, sentence.start, sentence.end):
        ahead = text[sentence.start : match.start()]
        if NOT_SO.search(ahead) or AS_A_SIGN.search(ahead):
            continue
        if "cover" in match[0].lower() and WITH_STUFF.match(text, match.end()):
            continue
        if not ahead.strip() and text[match.end() : match.end() + 1] == ",":
            continue  # "Well, rinse it."
        manner = meanings("manner")[" ".join(match[0].lower().split())]
        at = line_beside(lines, here, match.span(), _verbs_of()[manner])
        if at is not None:
            found.add(at, manner)
            found.spans.append(match.span())
            found.held.setdefault(at, []).extend(_within(sentence, lines, *match.span()))


# "Until the water runs clear": a sign without a measure, which ends the step.
SIGN = re.compile(
    r"\b(?:until|till|'til)\s+(?P<sign>[^.;:,()\n\"]{3,60}?)(?=\s*(?:[.;:,()\n]|$|\b(?:and\s+)?then\b))",
    re.I,
)
# "Until the following evening": a time, and no sign.
TIME_OF_DAY = re.compile(
    r"\b(?:morn\w*|morrow|noon|afternoon|evening|night|day|days|week|weekend|tomorrow|bedtime|supper|lunch|dinner|breakfast|tea)\b",
    re.I,
)
# "Till it runs clear and dry": what comes next is no part of the sign.
FURTHER = re.compile(r"\s+and\s+(?:dry|hang|wash|lift|squeeze|wring|rinse)\b", re.I)
NEXT_DEED = re.compile(r"\s+and\s+", re.I)


OF_A_SIGN = re.compile(
    r"(?:un)?till?\s+(?:it|they|them|(?:the|your)\s+\w+|clear|no|most|all|you)\b", re.I
)  # odd measures


def _signs(
    text: str, sentence: Sentence, lines: list[Line], here: list[int], found: _Found
) -> None:
    """Give a line the sign that it is done until, where the words of it are no measure."""
    for match in SIGN.finditer(text, sentence.start, sentence.end):
        low, high = match.span("sign")
        if TIME_OF_DAY.search(match["sign"]):
            continue
        deeds = [part.doing.start for part in sentence.parts if low < part.doing.start < high]
        if deeds:
            ends = [one.start() for one in NEXT_DEED.finditer(text, low, max(deeds))]
            if not ends:
                continue
            high = ends[-1]
        further = FURTHER.search(text, low, high)
        high = further.start() if further else high
        amounts = [one for part in sentence.parts for one in part.amounts]
        over = [one for one in amounts if one.start < high and low < one.end]
        over = [one for one in over if one.kind != "loose" or one.start < low or one.end > high]
        loose = [one for one in amounts if one.kind == "loose" and low <= one.start < high]
        if any(one.end > high for one in over):
            continue
        if any(
            (one.start == match.start() and not OF_A_SIGN.match(one.words))
            or one.kind not in ("odd", "figure", "verb heat", "named heat")
            or (one.start != match.start() and one.kind == "odd")
            for one in over
        ):
            continue
        over += loose
        cold = COLD.search(match["sign"]) is not None
        may = _COOLS if cold else _may_end_so()
        at = line_beside(lines, here, (match.start(), match.start()), may)
        sign = " ".join(text[low:high].split()).replace('"', "'")
        if at is not None and f'until "{sign}"' in lines[at].text:
            found.spans.append((match.start(), high))
            found.held.setdefault(at, []).extend(over)
            continue
        if at is None or " until " in lines[at].text or NOT_SO.search(text[sentence.start : low]):
            continue
        found.add(at, f'until "{sign}"')
        found.spans.append((match.start(), high))
        found.held.setdefault(at, []).extend(over)


# "Until it was cold": the sign of what cools, and of no boiling and no dyeing.
COLD = re.compile(r"\b(?:cold|cool|cooled)\b", re.I)
_COOLS = frozenset(("cool", "stand"))


@cache
def _may_end_so() -> frozenset[str]:
    return frozenset(name for name, verb in vocabulary().verbs.items() if "until" in verb.may)


# "Don't let it boil": the last step of the bath that has a heat stays below it.
MAY_BOIL = frozenset(("heat", "simmer", "hold", "dye", "mordant", "enter", "steep"))
BELOW = "below the boil"


def _below_the_boil(sentence: Sentence, lines: list[Line], near: list[int], found: _Found) -> None:
    denied = [one for one in sentence.left_out if one.act == "boil"]
    may = [at for at in near if (verb := VERB.match(lines[at].text)) and verb["verb"] in MAY_BOIL]
    for doing in denied:
        begun = [at for at in may if lines[at].begins <= doing.start]
        if not begun or "below" in lines[begun[-1]].text or "never above" in lines[begun[-1]].text:
            continue
        found.add(begun[-1], BELOW)
        found.spans.append((doing.start, doing.end))
        found.held.setdefault(begun[-1], []).extend(
            _within(sentence, lines, doing.start, doing.end)
        )


def _within(sentence: Sentence, lines: list[Line], low: int, high: int) -> list[Amount]:
    """The "often" of "stirring often": measures that are said by how it is done."""
    taken = {one.start for line in lines for one in line.placed}
    return [
        one
        for part in sentence.parts
        for one in part.amounts
        if low <= one.start and one.end <= high and one.start not in taken
    ]


def line_beside(
    lines: list[Line], here: list[int], span: Span, verbs: frozenset[str]
) -> int | None:
    """The line of the deed that a place of a sentence is about; None where it can have no manner.

    It is the last one that begins before the place, or the only one.
    """
    place, ends = span
    may = [at for at in here if (verb := VERB.match(lines[at].text)) and verb["verb"] in verbs]
    next_to = [at for at in may if place < lines[at].begins <= ends + 1]
    if next_to:
        return next_to[0]  # "and slowly heat"
    begun = [at for at in may if lines[at].begins <= place]
    if not begun:
        return may[0] if len(may) == 1 == len(here) else None
    last = max(lines[at].begins for at in here if lines[at].begins <= place)
    near = [at for at in begun if lines[at].begins == last]
    return near[-1] if near else None


NAMED_BATH = re.compile(r"(?P<bath>[\w-]+): (?:prepare|dissolve) ")


WITH_IT = re.compile(r"\s+(?:with|for|against|near|around)\b", re.I)


def _lines_with(sentence: Sentence, text: str, lines: list[Line], at: int) -> list[int]:
    """The lines with the stuff that is named behind a place of a sentence: "gloves with iron".

    So are those on what is made of it, but for "a mask when you weigh the alum".
    """
    names = {
        thing.name.replace(" ", "-")
        for part in sentence.parts
        for thing in part.things
        if thing.kind == "material" and thing.start >= at
    }
    found: list[int] = []
    for number, line in enumerate(lines):
        if not names & set(re.findall(r"[\w-]+", line.text)):
            continue
        found.append(number)
        made = NAMED_BATH.match(line.text)
        if made is not None and WITH_IT.match(text, at):
            names.add(made["bath"])
    return found


@cache
def _worn_words() -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{one_of(_what_is_worn())})(?![\w-])", re.I)


@cache
def _what_is_worn() -> dict[str, str]:
    worn = vocabulary().tables["wearing"]
    return {name.lower(): entry.name for name, entry in worn.items()} | meanings("worn")


ALONE_ENDS = re.compile(
    r"\s*(?:[.,;!)\n]|$|(?:and|on|for|at|should|must|are|please|throughout|when(?:ever)?|while|from|needed)\b)",
    re.I,
)
# "Equipment: a kettle, a scale, rubber gloves": what is had ready is worn.
IS_NEEDED = re.compile(
    r"\W*(?:(?:you(?:'ll|\s+will|\s+also)?\s+(?:need|provide|want)|equipment|tools|utensils)\b[^.:]{0,24}:)",
    re.I,
)
ARTICLE = re.compile(r"\ban?\s+\Z", re.I)
BETWEEN = re.compile(r"\W+|\band\b", re.I)


def _worn(
    text: str,
    sentence: Sentence,
    lines: list[Line],
    near: tuple[list[int], list[int]],
    found: _Found,
) -> None:
    """What is worn for the lines of a sentence, for those before it, or from first to last."""
    here, before = near
    for match in _worn_words().finditer(text, sentence.start, sentence.end):
        ahead = text[sentence.start : match.start()]
        alone = not BETWEEN.sub("", _worn_words().sub("", ahead))  # "Gloves!", "Gloves, goggles"
        alone = alone and ALONE_ENDS.match(text, match.end()) is not None
        listed = IS_NEEDED.match(sentence.words) is not None
        if NOT_SO.search(ahead) or not (alone or listed or WEARS.search(ahead)):
            continue
        worn = _what_is_worn()[" ".join(match[0].lower().split())]
        verb = None if alone or listed else WEARS.search(ahead)
        begins = sentence.start + verb.start() if verb else match.start()
        ends = begins + len(verb[0].split()[0]) if verb else match.end()
        article = ARTICLE.search(ahead)
        low = sentence.start + article.start() if article else match.start()
        found.spans.extend([(begins, ends), (low, match.end())])
        with_stuff = _lines_with(sentence, text, lines, match.end())
        if here and not listed:
            for at in here:
                found.add(at, worn)
        elif with_stuff and not listed:
            for at in with_stuff:
                found.add(at, worn)
        elif before and not listed and OF_WHAT_WAS_TOLD.search(text, match.end(), sentence.end):
            for at in before:
                found.add(at, worn)
        else:
            found.worn.append(worn)
