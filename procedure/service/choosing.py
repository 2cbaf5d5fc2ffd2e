"""Words to choose from at the cursor: verbs, clauses, names, amounts, units, descriptions.

What can come at a place follows from the words before it, so a line that is half written
is enough. What is known of the rest of the text (which lots are there, which pots are free)
is taken from the plan, which leaves faulty lines out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

from procedure.flow.scope import makers
from procedure.language import Token
from procedure.language.words import BLOCK_WORDS, HEADER_WORDS, SECTIONS
from procedure.model import Material, Procedure
from procedure.pipeline import Judged
from procedure.quantity.number_words import plain, ranged
from procedure.quantity.record import NamedTuple
from procedure.service.clause_help import CLAUSES, clauses_of
from procedure.service.spots import Spot, before, head_of, spots
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES

MOST = 200
_TIMES = ("10 min", "30 min", "45 min", "1 h", "overnight")
_HEATS = ("cold", "tepid", "hand-hot", "simmer", "boil", "30 °C", "40 °C", "60 °C", "80 °C")
_BLOCKS = {
    "do": 'do "WHAT"',
    "follow": 'follow "FILE.dye" with THEIRS = OURS',
    "repeat": "repeat NUMBER times",
    "if": 'if "CONDITION"',
    "for": "for each NAME in LOTS",
}


class Candidate(NamedTuple):
    """A word that can come at the cursor.

    ``kind`` is verb, clause, name, amount, unit, word or section; ``says`` tells what it
    is. It takes the place of the columns ``column`` to ``to`` of its line. The best come first.
    """

    text: str
    kind: str
    says: str
    line: int
    column: int
    to: int


class _Place(NamedTuple):
    plan: Judged
    here: Spot
    column: int
    start: int
    before: tuple[Token, ...]
    typed: str


def choices(plan: Judged, line: int, column: int) -> tuple[Candidate, ...]:
    """What can come at a place; what has been typed of it is taken into account."""
    every = spots(plan.text)
    here = every[min(max(line, 1), len(every)) - 1]
    head = here.raw[: column - 1]
    if _in_quotes(head) or "#" in head:
        return ()
    typed = _typed(head)
    start = column - len(typed)
    place = _Place(plan, here, column, start, before(plan.text, line, start), typed)
    found: dict[str, tuple[str, str, str]] = {}
    for text, kind, says in _offered(place):
        if text.casefold().startswith(typed.casefold()):
            found.setdefault(text, (text, kind, says))
    return tuple(Candidate(*one, here.number, start, column) for one in list(found.values())[:MOST])


def _in_quotes(head: str) -> bool:
    return head.count('"') % 2 == 1 or head.count("“") > head.count("”")


def _typed(head: str) -> str:
    """The word that has been begun before the cursor."""
    at = len(head)
    while at and (head[at - 1].isalnum() or head[at - 1] in "-.%°"):
        at -= 1
    return head[at:]


Offers = Iterator[tuple[str, str, str]]


def _offered(place: _Place) -> Offers:
    section = place.here.section
    indented = place.here.raw[:1].isspace() or (not place.here.raw and section)
    if not indented:
        yield from _sections(place)
    if section == "procedure" and not place.here.heading:
        yield from _header(place)
    elif section == "steps" and not place.here.heading:
        yield from _in_step(place)
    elif section in SECTIONS and not place.here.heading:
        yield from _declaration(place, section)


def _sections(place: _Place) -> Offers:
    had = {one.section for one in spots(place.plan.text) if one.heading}
    for name in ("procedure", *SECTIONS):
        if name not in had or name == place.here.raw.strip():
            yield name, "section", "a section of the procedure"


def _header(place: _Place) -> Offers:
    if not place.before:
        for word in HEADER_WORDS:
            if word != "because":
                yield word, "clause", "a line of the heading"
        return
    first = place.before[0].kind
    table = {"PLACE": "place", "WEARING": "wearing", "AUDIENCE": "audience"}.get(first)
    if table is not None:
        yield from ((name, "word", table) for name in vocabulary().names(table))


# ------------------------------------------------------------------ declarations

_TABLES = {
    "fibre": ("fibres", "form", "state"),
    "equipment": ("metals", "vessel", "tool", "heater", "use"),
    "materials": (*MATERIAL_TABLES, "state", "role"),
}
_AMOUNTS = {"fibre": ("100 g", "2 skeins"), "equipment": ("10 L", "2 kW"), "materials": ()}


def _declaration(place: _Place, section: str) -> Offers:
    if not any(token.kind == "LABEL" for token in place.before[:1]):
        return
    if place.before[-1].kind == "NUMBER":
        yield from _units(("mass", "volume", "count", "power"))
        return
    words = vocabulary()
    for table in _TABLES[section]:
        for name in sorted(words.tables.get(table, {})):
            entry = words.tables[table][name]
            also = "" if entry.name == name else f", that is {entry.name}"
            yield name, "word", f"{table.rstrip('s')}{also}"
    yield from ((text, "amount", "how much") for text in _AMOUNTS[section])


# ------------------------------------------------------------------ steps


def _in_step(place: _Place) -> Offers:
    words, so_far = vocabulary(), place.before
    first = head_of(so_far)
    if first is None:
        for verb in words.verbs.values():
            yield verb.name, "verb", verb.meaning
        for name in BLOCK_WORDS:
            if name in _BLOCKS:
                yield name, "verb", _BLOCKS[name]
        return
    last = so_far[-1].kind
    if last == "NUMBER":
        clause = _clause(so_far)
        yield from _units(_UNIT_KINDS.get(clause, ("mass", "volume", "share")))
        return
    if last == "OF":
        yield from _lots(place)
        return
    yield from _after_clause(place, first, last)


_UNIT_KINDS = {
    "at": ("temperature",),
    "from": ("temperature",),
    "over": ("time",),
    "for": ("time",),
    "to": ("temperature", "volume"),
}


def _after_clause(place: _Place, first: Token, last: str) -> Offers:
    """What follows a clause's word, or else the clauses that may come next."""
    clause = _clause(place.before)
    listing = last in ("COMMA", "AND") or last == clause.upper()
    if clause in ("at", "from") and listing:
        yield from ((text, "amount", "how hot") for text in _HEATS)
    if clause in ("over", "for") and listing:
        yield from ((text, "amount", "how long") for text in _TIMES)
    if listing or (last == "VERB" and not clause):
        yield from _things(place, clause, first)
        if clause in ("with", "in") and _wants_materials(place):
            yield from _materials(place)
    elif last == "NAME":
        yield from _usual(place, place.before[-1].text)
    if not listing and last != "VERB":
        yield from _clauses(place, first)


def _clause(so_far: tuple[Token, ...]) -> str:
    return next((t.text for t in reversed(so_far) if t.kind.lower() in CLAUSES), "")


def _clauses(place: _Place, first: Token) -> Offers:
    verb = vocabulary().verbs.get(first.word)
    if verb is None:
        return
    had = {token.text for token in place.before}
    needed = [word for need in verb.needs for word in need.split("|")]
    for word in (*needed, *(word for word in CLAUSES if word in clauses_of(verb))):
        if word not in had:
            yield word, "clause", CLAUSES[word][1]
    for name in vocabulary().names("manner"):
        yield name, "word", "how it is done"


def _things(place: _Place, clause: str, first: Token) -> Offers:
    verb = vocabulary().verbs.get(first.word)
    objects = verb.objects if verb is not None else ()
    if clause == "after":
        for token in _labels(place):
            yield token, "name", "an earlier step"
    if not clause and "lot" in objects:
        yield from _lots(place)
    if (not clause and "bath" in objects) or clause in ("in", "to", "from") or "thing" in objects:
        yield from _baths(place)
    if clause in ("in", "into", "on", "through") or "equipment" in objects:
        yield from _equipment(place, clause, bool(verb and verb.does.makes_bath))
    if not clause and set(objects) & {"material", "thing"}:
        yield from _materials(place)


def _lots(place: _Place) -> Offers:
    for lot in _model(place).lots.values():
        weight = lot.weight.text if lot.weight else "weight not said"
        yield lot.name.text, "name", f"a lot of fibre, {weight}"
    for name, step in makers(_model(place).body).items():
        if step.does.makes_lots and step.place.line < place.here.number:
            yield name, "name", f"a lot of fibre, made in line {step.place.line}"


def _baths(place: _Place) -> Offers:
    gone = _emptied(place)
    for name, step in makers(_model(place).body).items():
        if step.does.makes_lots or step.place.line >= place.here.number or name in gone:
            continue
        yield name, "name", f"a bath, made in line {step.place.line}"
    for name in _model(place).materials:
        if name in place.plan.flow.baths:
            yield name, "name", "a bath that was kept"


def _emptied(place: _Place) -> set[str]:
    """Baths that were discarded above the cursor."""
    return {
        node.names.get(node.bath, node.bath)
        for node in place.plan.flow.nodes
        if node.procedure is _model(place)
        and node.does.empties
        and node.step.place.line < place.here.number
    }


def _occupied(place: _Place) -> dict[str, str]:
    """Pots with a bath in them just above the cursor, with the bath."""
    held: dict[str, str] = {}
    for moment in place.plan.trace.moments:
        node = moment.node
        if node.procedure is _model(place) and node.step.place.line >= place.here.number:
            break
        for bath in moment.before.baths:
            held = {pot: one for pot, one in held.items() if one != bath}
        held |= {state.pot: bath for bath, state in moment.after.baths.items() if state.pot}
    return held


def _equipment(place: _Place, clause: str, makes_bath: bool) -> Offers:
    full = _occupied(place)
    things = list(_model(place).equipment.values())
    things.sort(key=lambda pot: pot.name.text in full)
    for pot in things:
        kind = pot.kind.table if pot.kind is not None else "vessel"
        if (clause == "on" and kind != "heater") or (clause == "through" and kind != "tool"):
            continue
        if clause in ("in", "into") and not pot.holds:
            continue
        name = pot.name.text
        size = f", {pot.capacity.text}" if pot.capacity else ""
        state = f", holds {full[name]} here" if name in full else ", free here"
        yield (
            name,
            "name",
            f"{'a pot' if pot.holds else 'a tool'}{size}{state if pot.holds else ''}",
        )


def _labels(place: _Place) -> Iterable[str]:
    for one in spots(place.plan.text):
        if one.section == "steps" and one.number < place.here.number and one.tokens:
            first = one.tokens[0]
            if first.kind == "LABEL":
                yield first.name


def _model(place: _Place) -> Procedure:
    return place.plan.model


# ------------------------------------------------------------------ amounts


def _wants_materials(place: _Place) -> bool:
    return "with" in {token.text for token in place.before}


def _materials(place: _Place) -> Offers:
    yield "water", "name", "water from the tap or the butt"
    for made in _model(place).materials.values():
        for text, says in usual_amounts(place.plan, made):
            yield f"{made.name.text} {text}", "amount", says
        yield made.name.text, "name", f"a material: {made.in_full}"


def _usual(place: _Place, name: str) -> Offers:
    made = _model(place).materials.get(name)
    if made is not None:
        for text, says in usual_amounts(place.plan, made):
            yield text, "amount", says


def usual_amounts(plan: Judged, made: Material) -> Iterator[tuple[str, str]]:
    """What is usually taken of a material, for each lot that is declared, and its source."""
    entry = made.entry
    if entry is None:
        return
    for lot in plan.model.lots.values():
        classes = {fibre.facts.get("class", "") for fibre in lot.fibres}
        protein = classes == {"protein"}
        columns = ("protein" if protein else "cellulose",)
        if entry.table == "dyestuffs":
            columns = ("fresh",) if made.state == "fresh" else ("dried",)
        elif not classes:
            continue
        low, high = (entry.number(f"{columns[0]}_{end}") for end in ("low", "high"))
        if low is None or high is None:
            continue
        source = entry.facts.get("source", "").split(";")[0]
        yield (
            f"{_range(low, high)} % of {lot.name.text}",
            f"usual for {made.in_full} on {' and '.join(f.name for f in lot.fibres)} ({source})",
        )


def _range(low: Fraction, high: Fraction) -> str:
    return ranged(plain(low), plain(high))


def _units(kinds: Iterable[str]) -> Offers:
    if "share" in kinds:
        yield "% of", "unit", "hundredths of the dry weight of a lot"
    for unit in dict.fromkeys(vocabulary().units.values()):
        if unit.kind in kinds:
            yield unit.name, "unit", f"a unit of {unit.kind}"
