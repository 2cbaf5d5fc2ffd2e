"""What differs between two versions of one step, and what is to be done otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from procedure.compare import bearing
from procedure.compare.changes import Change, ChangedLine
from procedure.compare.claims import (
    HEATS,
    TIMES,
    Clause,
    clauses,
    flat,
    free_words,
    heat,
    times,
    waits,
    worn,
)
from procedure.compare.saying import (
    UNSAID,
    as_written,
    brief,
    clothes,
    fibre_of,
    from_to,
    hot,
    long,
    named,
    to_fibre,
    told_apart,
    verb_of,
    weighed,
)
from procedure.compare.sides import ComparedPart, Side, alike, bare
from procedure.facts.handling import right_name_of
from procedure.findings import NOTHING, Liquor, Percent, Says, Span, Value, Word, listed, say
from procedure.model import Block, Step
from procedure.quantity.number_words import between
from procedure.quantity.record import NamedTuple
from procedure.trace import readings
from procedure.vocabulary.effects import Effect

_AT = {"source": "the heat it begins at", "at": "heat", "to": "heat to reach"}
_AT |= {"until": "heat to wait for", "ceiling": "heat never to pass"}
_TO_DO = {"source": "Begin at", "at": "Have it at", "to": "Bring it to"}
_TO_DO |= {"until": "Wait for", "ceiling": "Never go above"}
_PLACES = {"within": "in", "into": "into", "source": "from", "to": "to", "at": "at"}
_PLACES |= {"on": "on", "through": "through", "until": "until"}
_THERE = frozenset(("within", "into", "to", "on"))
_MEASURED = frozenset(("percent", "ratio", "share", "concentration"))


class Both(NamedTuple):
    """One step on both sides."""

    old: Side
    new: Side
    was: ComparedPart
    now: ComparedPart
    pairs: Mapping[int, int]

    def change(
        self,
        kind: str,
        says: Says,
        otherwise: Says = NOTHING,
        *,
        colour: bool = False,
        safety: bool = False,
    ) -> Change:
        """A change of this step."""
        head = say("“{step}”: {what}", step=brief(self.now), what=says)
        return Change(
            kind, "steps", spot(self.was), spot(self.now), head, otherwise, colour, safety
        )

    @property
    def coloured(self) -> bool:
        """Whether the colour hangs on this step, in either version."""
        sides = (self.old, self.was), (self.new, self.now)
        return any(bearing.coloured_in(side, part) for side, part in sides)

    @property
    def harmful(self) -> bool:
        """Whether something that harms is handled here, in either version."""
        sides = (self.old, self.was), (self.new, self.now)
        return any(bearing.keeps_safe(side, part) for side, part in sides)


def spot(part: ComparedPart) -> ChangedLine:
    """Where a part is written."""
    return ChangedLine(part.node.procedure.file, part.line)


def differences(both: Both) -> Iterator[Change]:
    """Every difference of meaning between two versions of a step or block."""
    yield from _often(both)
    yield from _doing(both)
    yield from _who(both)
    yield from _heats(both)
    yield from _times(both)
    yield from _manners(both)
    yield from _worn(both)
    yield from _order(both)
    yield from _words(both)


# ------------------------------------------------------------------ blocks and verbs


def _often(both: Both) -> Iterator[Change]:
    old, new = both.was.step, both.now.step
    if not isinstance(old, Block) or not isinstance(new, Block) or times(old) == times(new):
        return
    told = [_rounds(block) for block in (old, new)]
    yield both.change(
        "times",
        from_to("how often", Word(told[0]), Word(told[1])),
        say("Do it {often}.", often=told[1]),
        colour=True,
    )


def _rounds(block: Block) -> str:
    said = f"{between(*block.times)} times" if block.times is not None else "again and again"
    return f"{said}, every {block.every.text}" if block.every is not None else said


def _meant(does: Effect) -> Effect:
    """What is done, without the traits that only papers ask for."""
    return does._replace(main=False, prepares_fibre=False, gives_colour=False)


def _doing(both: Both) -> Iterator[Change]:
    old, new = both.was.step, both.now.step
    if isinstance(old, Block) or isinstance(new, Block) or _meant(old.does) == _meant(new.does):
        return
    if verb_of(old) == verb_of(new):
        return  # one word that is read otherwise, since something else is declared otherwise
    yield both.change(
        "doing",
        from_to("what is done", Word(verb_of(old)), Word(verb_of(new))),
        say("{Verb} it; do not {old}.", verb=verb_of(new), old=verb_of(old)),
        colour=both.coloured,
        safety=both.harmful,
    )


# ------------------------------------------------------------------ who and what takes part


def _who(both: Both) -> Iterator[Change]:
    old, new = _apart(clauses(both.old, both.was), clauses(both.new, both.now))
    for field in dict.fromkeys(one.field for one in (*old, *new)):
        yield from _field(
            both,
            field,
            [one for one in old if one.field == field],
            [one for one in new if one.field == field],
        )


def _apart(old: list[Clause], new: list[Clause]) -> tuple[list[Clause], list[Clause]]:
    """Both lists without what is the same place after another preposition: to, into or in."""
    there = [one for one in new if one.field in _THERE]
    for one in [one for one in old if one.field in _THERE] if there else ():
        same = next((two for two in there if two in new and _same_place(one, two)), None)
        if same is not None:
            old.remove(one)
            new.remove(same)
    return old, new


def _same_place(one: Clause, two: Clause) -> bool:
    return (
        one.field != two.field
        and {one.field, two.field} <= _THERE
        and one.token == two.token
        and bool(one.token)
        and one.item.quantity is None
        and two.item.quantity is None
    )


def _field(both: Both, field: str, old: list[Clause], new: list[Clause]) -> Iterator[Change]:
    gone = list(old)
    come: list[Clause] = []
    for clause in new:
        same = next((one for one in gone if one.token == clause.token), None)
        if same is None:
            come.append(clause)
            continue
        gone.remove(same)
        yield from _item(both, same, clause)
    if field in _PLACES and field != "into" and gone and come:
        yield _elsewhere(both, field, gone.pop(0), come.pop(0))
    for clause in gone:
        yield _left_out(both, clause)
    for clause in come:
        yield _as_well(both, clause)


def _elsewhere(both: Both, field: str, old: Clause, new: Clause) -> Change:
    what = _PLACES[field]
    return both.change(
        "place",
        say(
            "{where} {new}, not {old}",
            where=what,
            new=_called(both.new, both.now, new),
            old=_called(both.old, both.was, old),
        ),
        say(
            "{Verb} it {where} {new}.",
            verb=verb_of(both.now.step),
            where=what,
            new=_called(both.new, both.now, new),
        ),
        colour=both.coloured,
        safety=both.harmful,
    )


def _called(side: Side, part: ComparedPart, clause: Clause) -> str:
    """What a step takes, with the right name of what harms: no nickname hides it."""
    name = clause.item.name
    made = side.flow.materials.get(side.thing(part, name.text)) if name is not None else None
    right = right_name_of(made[0], name.text) if made is not None and name is not None else ""
    if right:
        return named(clause.item) + " (" + right + ")"
    return named(clause.item) or (clause.item.quantity.text if clause.item.quantity else "nothing")


def _bears(both: Both, side: Side, part: ComparedPart, clause: Clause) -> tuple[bool, bool]:
    """Whether the colour and the safety hang on what takes part."""
    name = clause.item.name
    thing = side.thing(part, name.text) if name is not None else ""
    found = side.flow.materials.get(thing)
    if found is None:
        return both.coloured, clause.field in ("on", "through") and both.harmful
    return bearing.colours(found[0]), bearing.harms(found[0])


def _left_out(both: Both, clause: Clause) -> Change:
    colour, safety = _bears(both, both.old, both.was, clause)
    what = _called(both.old, both.was, clause)
    if clause.field in _PLACES:
        said = say("no longer {where} {what}", where=_PLACES[clause.field], what=what)
    else:
        said = say("{what} no longer takes part", what=what)
    return both.change(
        "taking part", said, say("Leave out {what}.", what=what), colour=colour, safety=safety
    )


def _as_well(both: Both, clause: Clause) -> Change:
    colour, safety = _bears(both, both.new, both.now, clause)
    what: Value = Word(_called(both.new, both.now, clause))
    if clause.item.quantity is not None and clause.item.name is not None:
        share = to_fibre(both.new, both.now, clause.item)
        of = fibre_of(both.new, both.now) if isinstance(share, Percent) else ""
        what = say("{what} ({share}{of})", what=what, share=share, of=of and f" of {of}")
    if clause.field in _PLACES:
        said = say("now {where} {what}", where=_PLACES[clause.field], what=what)
    else:
        said = say("{what} takes part as well", what=what)
    return both.change(
        "taking part", said, say("Use {what} as well.", what=what), colour=colour, safety=safety
    )


def _item(both: Both, old: Clause, new: Clause) -> Iterator[Change]:
    """Two versions of one thing that a step takes: how much, how hot, which water."""
    colour, safety = _bears(both, both.new, both.now, new)
    what = _called(both.new, both.now, new)
    if old.item.water != new.item.water:
        kinds = [one.item.water or "any" for one in (old, new)]
        yield both.change(
            "amount",
            from_to("kind of water", Word(kinds[0]), Word(kinds[1])),
            say("Take {kind} water.", kind=kinds[1]),
            colour=both.coloured,
        )
    if not alike(old.item.heat, new.item.heat):
        yield both.change(
            "heat",
            from_to(f"heat of the {what}", hot(old.item.heat), hot(new.item.heat)),
            say("Bring the {what} at {heat}.", what=what, heat=hot(new.item.heat)),
            colour=both.coloured,
        )
    if _as_much(both, old, new):
        return
    how = (
        say("Take {amount} of {what}.", amount=weighed(both.new, both.now, new.item), what=what)
        if new.item.quantity is not None
        else say("Nothing is said of how much {what}.", what=what)
    )
    yield both.change("amount", _amounts(both, old, new), how, colour=colour, safety=safety)


def _amounts(both: Both, old: Clause, new: Clause) -> Says:
    """``alum: 15 %, not 12 % of yarn``; as they are written where that would read alike."""
    what = _called(both.new, both.now, new)
    first, last = (
        to_fibre(side, part, one.item)
        for side, part, one in ((both.old, both.was, old), (both.new, both.now, new))
    )
    if first == last:
        return from_to(what, as_written(old.item.quantity), as_written(new.item.quantity))
    says = from_to(what, first, last)
    if isinstance(first, Liquor) and isinstance(last, Liquor) and _for_as_much(both):
        before, now = (
            weighed(side, part, one.item)
            for side, part, one in ((both.old, both.was, old), (both.new, both.now, new))
        )
        return from_to(what, before, now)
    if isinstance(first, Percent) or isinstance(last, Percent):
        return say("{says} of {fibre}", says=says, fibre=fibre_of(both.new, both.now))
    return says


def _for_as_much(both: Both) -> bool:
    """Whether a step is for the same weight of fibre in both versions."""
    return both.old.fibre(both.was) == both.new.fibre(both.now)


def _as_much(both: Both, old: Clause, new: Clause) -> bool:
    """Whether it is as much of a thing to the fibre, however it is written."""
    one, two = old.item.quantity, new.item.quantity
    if one is None or two is None:
        return one is two
    if one.kind == two.kind and one.about == two.about and alike(one, two):
        if one.kind not in _MEASURED:
            return True  # what stays where the fibre grows is told with the fibre
        if _base(both.old, both.was, old) == _base(both.new, both.now, new):
            return True
    if bare(one) == bare(two) and not alike(one, two):
        return False  # their second readings differ
    ratios = (
        both.old.ratio(both.was, old.item),
        both.new.ratio(both.now, new.item),
    )
    if None in ratios:
        return False
    (first, share), (second, other) = ratios  # type: ignore[misc]
    if first != second:
        return False
    if share == other:
        return True
    rounded = one.unit != two.unit and one.kind in ("mass", "volume")
    near = share.low and abs(share.low - other.low) / share.low
    return bool(rounded and one.kind == two.kind and near <= _ROUNDED)


# A weight in another unit may be rounded by so much (design: two readings, 2 %).
_ROUNDED = 0.02


def _base(side: Side, part: ComparedPart, clause: Clause) -> tuple[object, ...]:
    quantity = clause.item.quantity
    assert quantity is not None
    bases = frozenset(side.token(part, name) for name in quantity.bases)
    return bases, quantity.of_fibre


# ------------------------------------------------------------------ heat and time


def _heats(both: Both) -> Iterator[Change]:
    old, new = both.was.step, both.now.step
    if isinstance(old, Block) or isinstance(new, Block):
        return
    said = [(field, heat(old, field), heat(new, field)) for field in HEATS]
    differ = [(field, one, two) for field, one, two in said if not alike(one, two)]
    if not differ or _as_hot(both, old, new, [field for field, _, _ in differ]):
        return
    for field, one, two in differ:
        yield both.change(
            "heat",
            from_to(_AT[field], *told_apart(hot, one, two)),
            say(f"{_TO_DO[field]} {{heat}}.", heat=hot(two))
            if two is not None
            else say("Nothing is said of the {what}.", what=_AT[field]),
            colour=both.coloured,
            safety=both.harmful and one is not None and two is not None,
        )


def _as_hot(both: Both, old: Step, new: Step, differ: list[str]) -> bool:
    """Whether a heat word and a number, or the verb's own heat, come to the same."""
    if any(heat(old, one) and bare(heat(old, one)) == bare(heat(new, one)) for one in differ):
        return False  # their second readings differ
    ends = [
        (
            readings.heats(step, None, side.plan.trace.boiling),
            readings.heat_of(step.source),
            readings.heat_of(step.to),
            bare(step.ceiling),
        )
        for step, side in ((old, both.old), (new, both.new))
    ]
    return ends[0] == ends[1] and ends[0][0] is not None


def _times(both: Both) -> Iterator[Change]:
    old, new = both.was.step, both.now.step
    if isinstance(old, Block) or isinstance(new, Block):
        return
    words = waits(old), waits(new)
    told = {field: (getattr(old, field), getattr(new, field)) for field in TIMES}
    if words[0] == words[1]:
        for field, (one, two) in told.items():
            if not alike(one, two):
                name = "time to get there" if field == "over" else "time"
                yield _time(both, name, *told_apart(long, one, two))
        return
    if readings.minutes(old) != readings.minutes(new):
        yield _time(both, "time", *(_whole_time(step) for step in (old, new)))


def _whole_time(step: Step) -> Value:
    words = [*(one.text for one in (step.over, step.lasting) if one is not None)]
    return listed([*words, *sorted(waits(step))] or [UNSAID])


def _time(both: Both, name: str, old: Value, new: Value) -> Change:
    verb = verb_of(both.now.step)
    how = (
        say("{Verb}, for {time}.", verb=verb, time=new)
        if name == "time" and isinstance(new, Span)
        else say("{Verb}: {name} is {time}.", verb=verb, name=name, time=new)
    )
    return both.change(
        "time",
        from_to(name, old, new),
        how if new != Word(UNSAID) else say("Nothing is said of the {name}.", name=name),
        colour=both.coloured,
    )


# ------------------------------------------------------------------ manners, order, words


# Words that say when or how well, and change nothing in the bath.
_NO_MATTER = frozenset(("meanwhile", "thoroughly"))


def _manners(both: Both) -> Iterator[Change]:
    old, new = both.was.step, both.now.step
    if isinstance(old, Block) or isinstance(new, Block):
        return
    first, last = (
        one.manner - waits(one) | ({"meanwhile"} if one.beside is not None else set())
        for one in (old, new)
    )
    for word in sorted(first - last):
        yield both.change(
            "manner",
            say("no longer {word}", word=word),
            say("{Verb}: not {word}.", verb=verb_of(new), word=word),
            colour=word not in _NO_MATTER | bearing.SAFE_MANNERS and both.coloured,
            safety=word in bearing.SAFE_MANNERS,
        )
    for word in sorted(last - first):
        yield both.change(
            "manner",
            say("now {word}", word=word),
            say("{Verb} {word}.", verb=verb_of(new), word=word),
            colour=word not in _NO_MATTER | bearing.SAFE_MANNERS and both.coloured,
            safety=word in bearing.SAFE_MANNERS,
        )


def _worn(both: Both) -> Iterator[Change]:
    old, new = both.was.step, both.now.step
    if isinstance(old, Block) or isinstance(new, Block):
        return
    # What the head of a plan asks for is told there, once.
    own = [frozenset(name.text for name in step.wearing) for step in (old, new)]
    all_worn = worn(both.old, both.was), worn(both.new, both.now)
    less, more = (own[0] - all_worn[1]), (own[1] - all_worn[0])
    if less:
        yield both.change(
            "worn",
            say("no longer wearing {what}", what=clothes(less)),
            say("Nothing asks for {what} any more.", what=clothes(less)),
            safety=True,
        )
    if more:
        yield both.change(
            "worn",
            say("now wearing {what}", what=clothes(more)),
            say("Wear {what}.", what=clothes(more)),
            safety=True,
        )


def _order(both: Both) -> Iterator[Change]:
    """What ``after`` says, where nothing else in the plan says it already."""
    old, new = both.was.step, both.now.step
    if isinstance(old, Block) or isinstance(new, Block):
        return
    first = {both.old.labels.get(name.text, -1): name.text for name in old.after}
    last = {both.new.labels.get(name.text, -1): name.text for name in new.after}
    kept = {both.pairs.get(one, -1) for one in first} & last.keys()
    gone = [name for one, name in first.items() if both.pairs.get(one, -1) not in kept]
    come = [name for one, name in last.items() if one not in kept]
    if gone == come:
        return
    for name in gone:
        yield both.change(
            "order",
            say("need not wait for “{name}” any more", name=name),
            say("{Verb} whenever it suits.", verb=verb_of(new)),
            colour=both.coloured,
        )
    for name in come:
        yield both.change(
            "order",
            say("must now wait for “{name}”", name=name),
            say("{Verb} only after “{name}”.", verb=verb_of(new), name=name),
            colour=both.coloured,
        )


def _words(both: Both) -> Iterator[Change]:
    old, new = free_words(both.was.step), free_words(both.now.step)
    for field in dict.fromkeys((*old, *new)):
        was, now = flat(old.get(field, "")), flat(new.get(field, ""))
        if was == now:
            continue
        before, after = (Word(f"“{one}”" if one else "no words") for one in (was, now))
        name = "note" if field == "note" else "words"
        yield both.change(
            "words",
            from_to(name, before, after),
            say("Go by {now}.", now=after) if now else NOTHING,
            colour=both.coloured and field != "to",
            safety=both.harmful or bearing.a_way_out(both.now.step),
        )
