"""A recipe in prose to the draft of a procedure, with every amount placed or told of."""

from __future__ import annotations

import re

from procedure.draft.acts import follow
from procedure.draft.aims_and_results import lines_of_aims
from procedure.draft.amount import Amount
from procedure.draft.amount_writing import span, written
from procedure.draft.blends import with_blends_apart
from procedure.draft.cleaning import NotProse, cleaned
from procedure.draft.coded_lots import codes_not_told
from procedure.draft.correcting import corrected
from procedure.draft.course import Course, plain_name
from procedure.draft.deeds_that_are_none import deeds_that_are_none
from procedure.draft.doings import Doing
from procedure.draft.doubting import leave_what_is_doubtful
from procedure.draft.entering import draw_what_is_strained, enter_where_left_out
from procedure.draft.fibres import weighs_a_lot
from procedure.draft.how_it_is_done import Ways, ways_of_doing
from procedure.draft.how_things_are import HowThingsAre, how_things_are
from procedure.draft.hung_up import dry_what_hangs_last
from procedure.draft.idle_words import idle_spans, not_said_already
from procedure.draft.listed_fibres import with_fibres_listed
from procedure.draft.named_by_salt import with_baths_of_salts
from procedure.draft.named_pots import name_pots
from procedure.draft.not_read import CODES, Span
from procedure.draft.noted_ways import noted_ways
from procedure.draft.noting import Note, add_note, noted
from procedure.draft.sentences import Sentence, sentences
from procedure.draft.settled_lots import settle_lots
from procedure.draft.shares import Lot
from procedure.draft.short_names import with_short_names
from procedure.draft.signs_of_doubt import leave_what_signs_speak_against
from procedure.draft.supplies import is_size_of_vessel
from procedure.draft.tending import Tended, tended
from procedure.draft.title import title_of
from procedure.draft.unsettled_steps import Line
from procedure.draft.unstated_stuff import give_what_is_said_elsewhere
from procedure.draft.within_words import within_words
from procedure.draft.words_not_read import words_not_read
from procedure.language.draft_comments import COUNTED, HEAD, NOT_FOLLOWED, NOT_PLACED, NOT_READ
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

BOILS = 100  # °C: no bath is hotter, so a heat above it is in degrees Fahrenheit


class Placed(NamedTuple):
    """An amount of the prose and the line of the draft that holds it, counted from 1."""

    amount: Amount
    line: int


class Draft(NamedTuple):
    """A draft: its text, the even prose, and what became of each amount and each sentence.

    ``noted`` are amounts that the language has no form for, each kept as a note of its step.
    ``left`` are the amounts that stand as comments. ``unread`` are the stretches of the prose
    with words that nothing else tells of, each in a comment that says so, and ``declared`` those
    that say how something is (fresh, scoured) or is done (covered, in the shade) and stand in its
    declaration or its line; ``idle`` are those that a line says already ("turn off the heat" where
    the bath cools), and ``of_lots`` those that speak of some of the fibre, which its lots are named
    for ("the other skein"). ``origin`` gives for each line of the draft the number of the sentence
    it comes from, where it comes from one.
    """

    text: str
    prose: str
    sentences: tuple[Sentence, ...]
    placed: tuple[Placed, ...]
    left: tuple[Amount, ...]
    origin: dict[int, int]
    understood: int
    partly: int
    not_at_all: int
    noted: tuple[Placed, ...] = ()
    unread: tuple[Span, ...] = ()
    declared: tuple[Span, ...] = ()
    idle: tuple[Span, ...] = ()
    of_lots: tuple[Span, ...] = ()


class _Page:
    """The text of the draft, a line at a time, with what each line holds."""

    def __init__(self, prose: str) -> None:
        self.prose = prose
        self.lines: list[str] = []
        self.placed: list[Placed] = []
        self.noted: list[Placed] = []
        self.unread: list[Span] = []
        self.idle: list[Span] = []
        self.origin: dict[int, int] = {}
        self.starts: set[int] = set()
        self.states = HowThingsAre({}, {}, ())
        self.ways = Ways([], (), ())
        self.of_pots: list[Span] = []
        self.tended = Tended({}, (), ())
        self.of_lots: list[Span] = []
        self.codes: list[Span] = []  # of lots, of which no line tells

    def note(self, note: Note | None) -> None:
        """Keep the amounts of a note of the line added last."""
        if note is not None:
            self.noted += [Placed(amount, len(self.lines)) for amount in note.amounts]

    def add(self, text: str = "", sentence: int = 0, placed: tuple[Amount, ...] = ()) -> None:
        self.lines.append(text)
        number = len(self.lines)
        here = list({one.start: one for one in placed if one.start not in self.starts}.values())
        self.starts.update(one.start for one in here)
        self.placed += [Placed(amount, number) for amount in here]
        if sentence:
            self.origin[number] = sentence


def drafted(text: str, *, place_unsure: bool = False) -> Draft:
    """The draft of a recipe in prose.

    The same text gives the same draft. What the words tell too unsurely to be placed is left as a
    comment, unless ``place_unsure`` says to place it all the same. Raises :class:`NotProse` where
    the text is no prose (empty, a web page with its tags, a procedure) or names no fibre, bath,
    material or act.
    """
    prose = cleaned(text)
    told = sentences(prose)
    if not any(part.things or part.doing.act for one in told for part in one.parts):
        raise NotProse("no fibre, dyestuff, bath or step of dyeing is named in this text.")
    if not any(part.amounts or part.doing.act for one in told for part in one.parts):
        raise NotProse("the text names no amount and no step; it cannot be drafted.")
    told = with_baths_of_salts(with_blends_apart(with_short_names(corrected(told))))
    told = with_fibres_listed(prose, told)
    course = Course(prose, _scale(told))
    course.weighed = any(weighs_a_lot(prose, sentence) for sentence in told)
    course.added_in = _added_in(told)
    course.none_done = deeds_that_are_none(prose, told)
    course.aims = lines_of_aims(prose, told)
    for sentence in told:
        follow(course, sentence)
    if not course.steps and not any(part.things for one in told for part in one.parts):
        raise NotProse("no fibre, dyestuff, bath or step of dyeing is named in this text.")
    course.number = told[-1].number
    course.begin()
    give_what_is_said_elsewhere(course)
    draw_what_is_strained(course)
    enter_where_left_out(course)
    settle_lots(course)
    dry_what_hangs_last(course)
    leave_what_is_doubtful(course)
    if not place_unsure:
        leave_what_signs_speak_against(course)
    return _page(prose, told, course)


ADDS = re.compile(r"add|stir|sprinkle|put|pour|tip|drop", re.I)


def _added_in(told: list[Sentence]) -> dict[str, int]:
    """For each material, the last sentence that adds it and measures none: "add the vinegar"."""
    return {
        thing.name: sentence.number
        for sentence in told
        for part in sentence.parts
        for thing in part.things
        if thing.kind == "material"
        and (ADDS.match(part.doing.words) or part.doing.act == "dissolve")
        and not any(of.start == thing.start for of in sentence.of.values())
    }


def _scale(told: list[Sentence]) -> str:
    """The scale of heats that name none: that of the others, or of the other measures."""
    found = [amount for one in told for part in one.parts for amount in part.amounts]
    scales = {amount.unit for amount in found if amount.kind == "temperature" and amount.unit}
    if len(scales) == 1:
        return scales.pop()
    if any(re.search(r"\bcelsius|centigrade\b", one.words, re.I) for one in told):
        return "°C"
    metric = any(amount.unit in ("g", "kg", "L", "mL") for amount in found)
    customary = any(amount.unit in ("lb", "oz", "gal", "qt", "pt") for amount in found)
    if metric and not customary:
        return "°C"
    hottest = max((a.high or 0 for a in found if a.kind == "temperature" and not a.unit), default=0)
    return "°F" if customary and hottest > BOILS else ""


def _page(prose: str, told: list[Sentence], course: Course) -> Draft:
    page = _Page(prose)
    page.add(f'procedure "{title_of(course, told)}"')
    for line in HEAD:
        page.add(f"  # {line}")
    page.add()
    page.ways = ways_of_doing(prose, told, course.lines())
    lines = page.ways.lines
    held = {placed.start for line in lines for placed in line.placed}
    page.tended = tended(told, lines)
    held.update(one.start for one in page.tended.amounts)
    page.states = how_things_are(course, told)
    page.of_pots = name_pots(course, told)
    page.of_lots = [(one.start, one.end) for one in course.lots_told]
    page.codes = codes_not_told(course)
    if page.ways.worn:
        page.lines[-1:] = [f"  wearing {', '.join(page.ways.worn)}", ""]
    _declarations(page, course, held)
    page.add("steps")
    left = _steps(page, told, course, lines, held | {p.amount.start for p in page.placed})
    counts = _counts(course, left, lines, page)
    page.add()
    page.add(
        f"# {COUNTED}{counts[0]}, partly: {counts[1]}, not at all: {counts[2]};"
        f" amounts placed: {len(page.placed)}, kept as notes: {len(page.noted)},"
        f" not placed: {len(left)}."
    )
    return Draft(
        "\n".join(page.lines) + "\n",
        prose,
        tuple(told),
        tuple(page.placed),
        tuple(left),
        page.origin,
        *counts,
        tuple(page.noted),
        tuple(page.unread),
        (*page.states.spans, *page.ways.spans, *page.of_pots),
        tuple(page.idle),
        tuple(page.of_lots),
    )


def _declarations(page: _Page, course: Course, held: set[int]) -> None:
    if course.lots:
        page.add("fibre")
        for lot in course.lots.values():
            text, placed = _lot(lot)
            state = page.states.lots.get(lot.name, "")
            page.add(f"  {lot.name}: {text}{', ' if state else ''}{state}", 0, placed)
        page.add()
    capacities = _capacities(course, held)
    if course.pots:
        page.add("equipment")
    pots = dict(course.pots)
    for name, words in pots.items():
        amounts: tuple[Amount, ...] = ()
        if name.startswith("pot") and capacities:
            one = capacities.pop(0)
            said = written(one, "", "")
            if one.bound:  # the size of a pot has no bound in the language: it is free words
                page.add(f'  {name}: "{said}", {words}')
                page.note(Note(one.words, (one,)))
                continue
            amounts = (one,)
            words = f"{said}, {words}" if words.startswith('"') else f"{words}, {said}"
        page.add(f"  {name}: {words}", 0, amounts)
    page.add()
    if course.materials:
        page.add("materials")
        for name, words in course.materials.items():
            state = page.states.materials.get(name, "")
            declared, *remark = _writable(words).partition("  #")
            said = f"{declared}{', ' if state else ''}{state}"
            page.add(f"  {name}: {said}{''.join(remark)}")
        page.add()


def _writable(name: str) -> str:
    """The name of a material as the language can have it, which takes no apostrophes."""
    entry = vocabulary().material(name)
    if entry is None:
        said = name.replace('"', "'")
        return f'dyestuff, "{said}"  # taken for a dyestuff: no list knows this name'
    if "'" not in name:
        return name
    aliases = entry.words("aliases") if entry else ()
    return next((alias for alias in aliases if "'" not in alias), f'"{name}"')


OF_SO_MUCH = re.compile(r"s?\s+of\s+(?:about\s+)?", re.I)  # "a vessel of 30 l capacity"
FULL_OF = re.compile(r"\s*(?:ful|full|filled)?\s*of\b(?!\s+(?:[\w-]+\s+){0,2}water)", re.I)


IN_ALL = re.compile(r",?\s*(?:altogether|in\s+all|in\s+total|all\s+told|all\s+together)\b", re.I)


def _capacities(course: Course, held: set[int]) -> list[Amount]:
    """Volumes that measure a pot."""
    found: list[Amount] = []
    for sentence in course.told:
        for part in sentence.parts:
            for amount in part.amounts:
                of = sentence.of.get(amount.start)
                if (
                    of is None
                    and amount.kind == "volume"
                    and is_size_of_vessel(course.text, amount)
                ):
                    found.append(amount)  # "for one bucket of 10 litres"
                    continue
                if IN_ALL.match(course.text, amount.end):
                    continue  # "into the pot, 8 litres altogether" says how much is in it
                if of is None or of.kind != "pot":
                    continue
                behind = amount.start > of.end and (  # "a pot of at least 8 litres"
                    amount.bound or OF_SO_MUCH.fullmatch(course.text, of.end, amount.start)
                )
                if not behind and FULL_OF.match(course.text, of.end):
                    continue  # "a 5-gallon bucket of heads" says how many heads
                if amount.kind == "volume" and amount.bound != "most":  # noqa: SIM102
                    if amount.start not in held and written(amount, "", "") is not None:
                        found.append(amount)
    return found


def _lot(lot: Lot) -> tuple[str, tuple[Amount, ...]]:
    said = " ".join(one for one in (lot.fibre, lot.form) if one) or "fibre"
    placed: list[Amount] = []
    pieces = lot.pieces if lot.pieces and not lot.pieces.about and _one_end(lot.pieces) else None
    exact = lot.each is not None and _one_end(lot.each)
    in_pieces = pieces.unit == "piece" if pieces is not None else "cloth" in said
    named = "piece" if in_pieces else "skein"
    named += "" if pieces is None or pieces.low == 1 else "s"
    if lot.each is not None and pieces is not None and exact:
        each = written(lot.each, "", "")
        said += f", {span(pieces)} {named} of {each}"
        placed += [pieces, lot.each]
    elif pieces is not None:
        said += f", {span(pieces)} {named}"
        placed.append(pieces)
    elif lot.each is not None and (many := lot.as_many_as_weigh_it) is not None:
        said += f", {many} {named}s of {written(lot.each, '', '')}"
        placed.append(lot.each)
    elif lot.counted and not lot.by_labels:
        said += f", {lot.counted} skeins"
        if lot.each is not None and exact:
            said += f" of {written(lot.each, '', '')}"
            placed.append(lot.each)
    told, count = (
        lot.of_a_weight_each
        if pieces is None and lot.each is None and not lot.counted
        else (None, 1)
    )
    if told is not None and told.low is not None and _one_end(told):
        one = told._replace(low=told.low / count, high=told.low / count)
        said += f", {count} {named}s of {written(one, '', '')}"
        placed.append(told)
    if lot.weight is not None and lot.weight is not told:
        weight = written(lot.weight, "", "")
        if weight is not None:
            said += f", {weight}"
            placed += [lot.weight, *lot.again]
    if lot.is_mordanted:
        with_what, amounts = _mordanted(lot)
        said += f", mordanted{with_what}"
        placed += amounts
    return said, tuple(placed)


def _mordanted(lot: Lot) -> tuple[str, list[Amount]]:
    """What the fibre was mordanted with before the recipe begins, and the amounts of it."""
    said: list[str] = []
    placed: list[Amount] = []
    for one in lot.mordanted:
        amounts = [text for each in one.amounts if (text := written(each, "", ""))]
        said.append(" ".join([one.thing.name, *(text.removesuffix(" wof") for text in amounts)]))
        placed += [each for each in one.amounts if written(each, "", "")]
    return (f" with {' and '.join(said)}" if said else "", placed)


def _one_end(amount: Amount) -> bool:
    return amount.high in (None, amount.low)


def _steps(  # noqa: C901
    page: _Page, told: list[Sentence], course: Course, lines: list[Line], held: set[int]
) -> list[Amount]:
    left: list[Amount] = []
    numbered = 0
    by_sentence: dict[int, list[Line]] = {}
    tending: dict[int, dict[int, Note]] = {}  # by the sentence, and the line of it
    for number, line in enumerate(lines):
        here = by_sentence.setdefault(line.sentence, [])
        if number in page.tended.notes:
            tending.setdefault(line.sentence, {})[len(here)] = page.tended.notes[number]
        here.append(line)
    not_followed: dict[int, list[str]] = {}
    for number, words in (one for one in course.not_followed if one not in course.declared):
        not_followed.setdefault(number, []).append(words)
    for sentence in told:
        page.add(f'  # "{sentence.words}"', sentence.number)
        here = by_sentence.get(sentence.number, [])
        ways = [*page.ways.said_in(sentence), *page.of_pots]
        free = [a for part in sentence.parts for a in part.amounts if a.start not in held]
        notes = noted(page.prose, sentence, free, here)
        for at, note in tending.get(sentence.number, {}).items():
            add_note(notes, at, note.words, *note.amounts)
        for at, line in enumerate(here):
            if line.note[0]:
                add_note(notes, at, line.note[0], *line.note[1])
                first = line.note[1][0]
                page.of_lots.append((first.start - len("after "), first.end))
        free = [one for one in free if not any(one in line.note[1] for line in here)]
        ways += noted_ways(page.prose, sentence, free, here, notes, ways)
        weighed = _is_weighed(sentence, course)
        elsewhere = not free and any(part.amounts for part in sentence.parts)
        idle = idle_spans(page.prose, sentence, here, _pieces(course), weighed, elsewhere)
        idle += [one for one in ways if one not in page.ways.spans]
        if sentence.number in page.tended.said:
            page.idle.append((sentence.start, sentence.end))
            continue
        page.idle += idle
        for at, line in enumerate(here):
            remarks = "".join(f"  # {one}" for one in line.remarks)
            said = f' note "{notes[at].words}"' if at in notes else ""
            page.add(f"  {line.text}{said}{remarks}", sentence.number, line.placed)
            page.note(notes.get(at))
        held.update(one.start for note in notes.values() for one in note.amounts)
        for amount in _not_in_a_line(sentence, held, idle, page.of_lots):
            if amount.kind == "figure" and _number_of_step(amount.words) in (1, numbered + 1):
                numbered = _number_of_step(amount.words)
                continue
            left.append(amount)
            of = sentence.of.get(amount.start)
            thing = f", of {of.words}" if of else ""
            ask = _question(course, amount)
            page.add(f'  # {NOT_PLACED}"{amount.words}"{thing}{ask}', sentence.number)
        for within in within_words(page.prose, sentence, here, page.starts):
            told_of = within.start in held or _overlaps(within, page.of_lots)
            if not told_of and not _is_idle(within, [*idle, *ways]):
                left.append(within)
                page.add(f'  # {NOT_PLACED}"{within.words}"', sentence.number)
        unfollowed = not_followed.get(sentence.number, [])
        denied = [one.words for one in sentence.left_out if not _is_within(one, ways)]
        unfollowed = not_said_already(page.prose, unfollowed, idle)
        for words in [*denied, *unfollowed]:
            which = course.which_lot.get((sentence.number, words), "")
            ask = f": which of the fibre is “{which}”?" if which else ""
            page.add(f'  # {NOT_FOLLOWED}"{words}"{ask}', sentence.number)
        _tell_what_is_not_read(page, sentence, idle)
    for line in [one for one in lines if one.sentence == 0]:
        page.add(f"  {line.text}", 0, line.placed)
    return left


def _pieces(course: Course) -> int:
    """How many pieces the one lot has; 0 where it does not say, or there are more lots."""
    pieces = [lot.pieces for lot in course.lots.values() if lot.pieces is not None]
    if len(course.lots) != 1 or not pieces or course.by_label or pieces[0].low is None:
        return 0
    if pieces[0].about or pieces[0].high not in (None, pieces[0].low):
        return 0  # its declaration does not say it
    return int(pieces[0].low)


def _is_weighed(sentence: Sentence, course: Course) -> bool:
    """True where a sentence says the weight of a lot."""
    weights = [lot.weight for lot in course.lots.values() if lot.weight is not None]
    return any(sentence.start <= one.start < sentence.end for one in weights)


def _is_within(doing: Doing, spans: list[Span]) -> bool:
    return any(low <= doing.start and doing.end <= high for low, high in spans)


SUB_NUMBER = re.compile(r"\d{1,2}\.\d{1,2}\.?")
STEP_NUMBER = re.compile(r"\(?(?P<list>\d{1,2})[.)]{0,2}|(?:step|stage)\s+(?P<step>\d{1,2})", re.I)


def _is_sub_number(sentence: Sentence, amount: Amount) -> bool:
    """True for the "2.1" at the head of a step of a step."""
    return amount.start == sentence.start and SUB_NUMBER.fullmatch(amount.words) is not None


def _number_of_step(words: str) -> int:
    """The number of a step in a list, "3.", "(3)" or "Step 3"; 0 for other figures."""
    found = STEP_NUMBER.fullmatch(words)
    return int(found["list"] or found["step"]) if found else 0


def _overlaps(amount: Amount, spans: list[Span]) -> bool:
    return any(low < amount.end and amount.start < high for low, high in spans)


def _not_in_a_line(
    sentence: Sentence, held: set[int], idle: list[Span], of_lots: list[Span]
) -> list[Amount]:
    """The amounts of a sentence that no line holds, and none says otherwise."""
    every = [amount for part in sentence.parts for amount in part.amounts]
    return [
        one
        for one in every
        if one.start not in held
        and not _is_idle(one, idle)
        and not _is_sub_number(sentence, one)
        and not any(low <= one.start and _ends(one) <= high for low, high in of_lots)
    ]


def _ends(amount: Amount) -> int:
    """Where an amount ends, without the full stop of "label them W1 to W4."."""
    return amount.end - (amount.kind == "figure" and amount.words.endswith("."))


def _is_idle(amount: Amount, idle: list[Span]) -> bool:
    """True for a heat without a figure whose words a line says already."""
    figure = amount.kind in ("verb heat", "named heat", "odd", "loose", "count")
    figure = figure or amount.low is None
    return figure and any(low <= amount.start and amount.end <= high for low, high in idle)


def _tell_what_is_not_read(page: _Page, sentence: Sentence, idle: list[Span]) -> None:
    """A comment with the words of a sentence that no line and no other comment tells of."""
    states, ways = page.states.said_in(sentence), page.ways.said_in(sentence)
    also = [*states, *ways, *page.of_pots, *page.of_lots, *idle]
    spans = words_not_read(page.prose, sentence, also, CODES)
    spans = sorted([*spans, *_within(page.codes, sentence, spans)])
    page.unread += spans
    words = [" ".join(page.prose[low:high].split()).replace('"', "'") for low, high in spans]
    if words:
        said = ", ".join(f'"{one}"' for one in words)
        page.add(f"  # {NOT_READ}{said}", sentence.number)


def _within(codes: list[Span], sentence: Sentence, others: list[Span]) -> list[Span]:
    """The codes of lots in a sentence, where no other stretch has them."""
    return [
        (low, high)
        for low, high in codes
        if sentence.start <= low < sentence.end
        and not any(low < end and start < high for start, end in others)
    ]


def _question(course: Course, amount: Amount) -> str:
    """What is asked about an amount that is not placed; empty where it is only told."""
    guess = course.guessed.get(amount.start)
    if guess is not None:
        return f": for “{guess}”? The words do not surely say it"
    if amount.start in course.for_each:
        return ": for each of them"
    if amount.start in course.asked_about:
        return ": for the bath alone, or for the fibre?"
    return ""


def _counts(
    course: Course, left: list[Amount], lines: list[Line], page: _Page
) -> tuple[int, int, int]:
    """Sentences understood, partly understood and not understood.

    One with a verb that is not followed or an amount that has no line is understood in part.
    """
    lagging = {number for number, _ in course.not_followed}
    placed = {one.amount.start for one in page.placed}
    lined = {line.sentence for line in lines}
    counts = [0, 0, 0]
    for sentence in course.told:
        here = [a.start for part in sentence.parts for a in part.amounts]
        missing = [a for a in left if sentence.start <= a.start < sentence.end]
        some = sentence.number in lined or any(start in placed for start in here)
        some = some or sentence.number in course.headings
        lacks = missing or sentence.left_out or sentence.number in lagging
        counts[2 if not some else 1 if lacks else 0] += 1
    return counts[0], counts[1], counts[2]


__all__ = ["Draft", "NotProse", "Placed", "drafted", "plain_name"]
