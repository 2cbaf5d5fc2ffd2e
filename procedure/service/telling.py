"""What is under the cursor: what it means, what is in the bath here, what a lot has met."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.findings import Heat, Mass, Volume, say
from procedure.language import Token
from procedure.pipeline import Judged
from procedure.quantity.interval import Interval
from procedure.quantity.record import NamedTuple
from procedure.report.knowing import meanings
from procedure.rules.judging import reader_of
from procedure.service.beside import besides
from procedure.service.clause_help import help_of
from procedure.service.spots import spots
from procedure.trace import Moment
from procedure.trace.states import BathState
from procedure.vocabulary import vocabulary
from procedure.vocabulary.everyday import readings_of
from procedure.wording import Reader, said

MOST_STEPS = 12


class Told(NamedTuple):
    """What is known of a word: a title and sentences, and the columns of the word."""

    title: str
    sentences: tuple[str, ...]
    line: int
    column: int
    to: int


def told(plan: Judged, line: int, column: int) -> Told | None:
    """What there is to say of the word at a place; None where there is nothing."""
    every = spots(plan.text)
    here = every[min(max(line, 1), len(every)) - 1]
    token = here.at(column)
    if token is None:
        return None
    title, sentences = "", ()  # type: tuple[str, tuple[str, ...]]
    if token.kind in ("NAME", "LABEL"):
        title, sentences = _named(plan, token, line)
    elif token.kind == "VERB":
        title, sentences = _verb(token)
    elif token.kind in ("NUMBER", "UNIT"):
        title, sentences = _amount(plan, token)
    if not sentences and token.kind not in ("STRING", "OPEN_STRING"):
        title, sentences = _word(plan, here.tokens, token)
    if not sentences:
        return None
    return Told(title, sentences, token.line, token.column, token.to)


# ------------------------------------------------------------------ words of the trade


def _verb(token: Token) -> tuple[str, tuple[str, ...]]:
    verbs = vocabulary().verbs
    if token.word not in verbs:
        return _everyday(token.word)
    helped = help_of(verbs[token.word])
    clauses = ", ".join(one.form for one in helped.clauses if not one.needed)
    return helped.verb, (f"{helped.meaning.capitalize()}.", helped.form, f"May have: {clauses}.")


def _everyday(word: str) -> tuple[str, tuple[str, ...]]:
    """What an everyday verb is read as: one sentence for each verb that it can mean."""
    meant = dict.fromkeys(reading.verb for reading in readings_of(word))
    said = " or ".join(f"“{verb}”" for verb in meant)
    helped = [help_of(vocabulary().verbs[verb]) for verb in meant]
    told = tuple(f"{one.verb}: {one.meaning.capitalize()}. {one.form}" for one in helped)
    return word, (f"An everyday word for {said}.", *told) if meant else ()


def _word(plan: Judged, tokens: tuple[Token, ...], token: Token) -> tuple[str, tuple[str, ...]]:
    """The longest run of words around this one that the vocabulary knows."""
    words = plan.model.workshop.words if plan.model.workshop else vocabulary()
    at = tokens.index(token)
    for length in (4, 3, 2, 1):
        for start in range(max(0, at - length + 1), at + 1):
            run = tokens[start : start + length]
            if len(run) < length or any(t.kind in ("COMMA", "LABEL") for t in run):
                continue
            for meaning in meanings(" ".join(t.text for t in run), words)[:1]:
                sentences = tuple(one for one in meaning.sentences if one)
                return meaning.name, (*sentences, f"Source: {meaning.source}.")
    return "", ()


def _amount(plan: Judged, token: Token) -> tuple[str, tuple[str, ...]]:
    """What the amount around a number comes to."""
    for one in besides(plan, token.line, token.line):
        if one.column >= token.to:
            return "This comes to", (one.text.removeprefix("= ") + ".",)
    return "", ()


# ------------------------------------------------------------------ names


def _named(plan: Judged, token: Token, line: int) -> tuple[str, tuple[str, ...]]:
    name = token.name
    reader = reader_of(plan.model)
    sentences = [*_declared(plan, name)]
    thing = _thing(plan, name, line)
    moment = _moment(plan, line)
    sentences += _bath(plan, thing, moment, reader)
    sentences += _lot(plan, thing, line)
    return name, tuple(sentences)


def _declared(plan: Judged, name: str) -> Iterator[str]:
    model = plan.model
    if name in model.lots:
        lot = model.lots[name]
        fibres = " and ".join(fibre.name for fibre in lot.fibres) or "fibre"
        yield f"A lot of {fibres}, {lot.weight.text if lot.weight else 'weight not said'}."
    elif name in model.equipment:
        pot = model.equipment[name]
        words = [entry.name for entry in (pot.metal, pot.kind) if entry is not None]
        size = f", {pot.capacity.text}" if pot.capacity else ""
        yield f"{' '.join(words) or 'Equipment'}{size}.".capitalize()
    elif name in model.materials:
        made = model.materials[name]
        yield f"{made.in_full}{', ' + made.state if made.state else ''}.".capitalize()
        for meaning in meanings(made.called, vocabulary())[:1]:
            yield from (one for one in meaning.sentences if one)
            yield f"Source: {meaning.source}."


def _thing(plan: Judged, name: str, line: int) -> str:
    """The plan's name for a name of this file: at this line, or anywhere."""
    for node in plan.flow.nodes:
        if node.procedure is plan.model and node.step.place.line == line:
            for thing in (*node.lots, node.bath, node.pot, *node.makes):
                if plan.study.called(thing) == name:
                    return thing
    return name


def _moment(plan: Judged, line: int) -> Moment | None:
    """What happens at a line, or last before it."""
    last = None
    for moment in plan.trace.moments:
        if moment.node.procedure is plan.model and moment.step.place.line <= line:
            last = moment
    return last


def _bath(plan: Judged, thing: str, now: Moment | None, reader: Reader) -> Iterator[str]:
    """What is in a bath, or in the bath of a pot, after the step at hand."""
    line = now.step.place.line if now is not None else 0
    found: BathState | None = None
    for moment in plan.trace.moments:
        if moment.node.procedure is plan.model and moment.step.place.line > line:
            continue
        for bath, state in moment.after.baths.items():
            if thing in (bath, state.pot):
                found = state
    if found is None:
        return
    parts = [
        plan.study.called(name) + (f" {_measure(one.grams, reader)}" if one.grams else "")
        for name, one in found.contents.items()
    ]
    if found.volume is not None:
        high = None if found.volume.low == found.volume.high else found.volume.high
        parts.insert(0, said(say("{v} of liquor", v=Volume(found.volume.low, high)), reader))
    yield f"After line {line} it holds {', '.join(parts) or 'an amount that is not said'}."
    if found.heat is not None:
        high = None if found.heat.low == found.heat.high else found.heat.high
        yield said(say("It is at {h}.", h=Heat(found.heat.low, high, worded=False)), reader)
    if found.treated:
        yield f"It has treated {', '.join(map(plan.study.called, found.treated))}."


def _measure(grams: Interval, reader: Reader) -> str:
    high = None if grams.low == grams.high else grams.high
    return said(say("{m}", m=Mass(grams.low, high)), reader)


def _lot(plan: Judged, thing: str, line: int) -> Iterator[str]:
    """What a lot has been through up to a line."""
    met = [
        moment
        for moment in plan.trace.moments
        if thing in moment.node.lots
        and (moment.node.procedure is not plan.model or moment.step.place.line <= line)
    ]
    if not met:
        return
    verbs = [
        f"{moment.step.verb.past} (line {moment.step.place.line})"
        for moment in met
        if moment.step.verb is not None
    ]
    told_of = list(dict.fromkeys(verbs))
    more = f"{len(told_of) - MOST_STEPS} earlier steps, then " if len(told_of) > MOST_STEPS else ""
    yield f"So far: {more}{', '.join(told_of[-MOST_STEPS:])}."
