"""What differs in what both plans declare: their heads, fibre, equipment and materials."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.compare import bearing
from procedure.compare.changes import Change, ChangedLine
from procedure.compare.claims import clauses, flat
from procedure.compare.paired_things import Things
from procedure.compare.saying import UNSAID, as_written, brief, clothes, from_to, mass
from procedure.compare.sides import ComparedPart, Side, alike, factor
from procedure.findings import NOTHING, Says, Value, Word, listed, say
from procedure.model import Equipment, Lot, Material, Name, Procedure, Quantity
from procedure.quantity.interval import Interval, known

# Lines of the head that tell where a text comes from; how the work is done stays the same.
ORIGIN = ("title", "by", "revised", "version", "source", "licence")
_HEAD = {"setting": "place", "makes": "makes", "water": "water"}


def head(old: Side, new: Side) -> Iterator[tuple[bool, Change]]:
    """Differences of the heads; the first of each pair is True where it is only a remark."""
    one, two = old.plan.model, new.plan.model
    for field in ("title", "revised", "version", "by", "source", "licence"):
        change = _line(one, two, field, field)
        if change is not None:
            yield field in ("title", "revised", "version"), change
    for field, said in _HEAD.items():
        change = _line(one, two, field, said)
        if change is not None:
            safe = field == "setting"
            yield False, change._replace(safety=safe, colour=field == "water")
    for field in ("water_acidity", "altitude"):
        first, last = getattr(one, field), getattr(two, field)
        if not alike(first, last):
            said = "acidity of the water" if field == "water_acidity" else "altitude"
            says = from_to(said, as_written(first), as_written(last))
            yield False, _change("head", "head", _spot(one), _spot(two), says, colour=True)
    yield from ((False, change) for change in _lists(one, two))


def _lists(one: Procedure, two: Procedure) -> Iterator[Change]:
    for field, said in (("wearing", "wearing"), ("audience", "for"), ("notes", "note")):
        first = {flat(name.text): name for name in getattr(one, field)}
        last = {flat(name.text): name for name in getattr(two, field)}
        less, more = [w for w in first if w not in last], [w for w in last if w not in first]
        if not less and not more:
            continue
        places = (
            _spot(one, first[less[0]] if less else next(iter(first.values()), None)),
            _spot(two, last[more[0]] if more else next(iter(last.values()), None)),
        )
        parts = [
            say(f"{word} {said} {{what}}", what=listed(_quoted(words, field)))
            for word, words in (("no longer", less), ("now", more))
            if words
        ]
        says = say("{What}", what=listed(parts, ", "))
        otherwise = NOTHING
        if field == "wearing":
            wear = say("Wear {what}.", what=clothes(more))
            no_more = say("Nothing asks for {what} any more.", what=clothes(less))
            otherwise = wear if more else no_more
        kind = "worn" if field == "wearing" else "words" if field == "notes" else "head"
        yield _change(kind, "head", *places, says, otherwise, safety=field != "notes")


def _quoted(words: list[str], field: str) -> list[str]:
    return [f"“{word}”" for word in words] if field == "notes" else words


def _line(one: Procedure, two: Procedure, field: str, said: str) -> Change | None:
    first, last = getattr(one, field), getattr(two, field)
    words = [flat(name.text) if name is not None else "" for name in (first, last)]
    if words[0] == words[1]:
        return None
    told = [Word(f"“{text}”" if text else "nothing") for text in words]
    spots = _spot(one, first), _spot(two, last)
    return _change("head", "head", *spots, from_to(said, told[0], told[1]))


def _spot(procedure: Procedure, name: Name | None = None) -> ChangedLine:
    place = name.place if name is not None else None
    if place is None and procedure.title is not None:
        place = procedure.title.place
    return ChangedLine(procedure.file, place.line if place is not None else 1)


def _change(
    kind: str,
    section: str,
    old: ChangedLine | None,
    new: ChangedLine | None,
    says: Says,
    otherwise: Says = NOTHING,
    *,
    colour: bool = False,
    safety: bool = False,
) -> Change:
    return Change(kind, section, old, new, says, otherwise, colour, safety)


# ------------------------------------------------------------------ declared things

Declared = Lot | Equipment | Material
_SECTIONS = {"lots": "fibre", "pots": "equipment", "materials": "materials"}


def _listed(side: Side, kind: str) -> dict[str, tuple[Declared, Procedure]]:
    """What a plan declares by itself or in what it follows, by the plan's names."""
    if kind == "lots":
        lots = side.flow.lots.items()
        return {lot: (o.declared, o.procedure) for lot, o in lots if o.declared is not None}
    found = side.flow.pots if kind == "pots" else side.flow.materials
    return {name: pair for name, pair in found.items() if _is_declared(pair)}


def _is_declared(pair: tuple[Declared, Procedure]) -> bool:
    """False for what is in no section: water, or what a lot was mordanted with before."""
    made, procedure = pair
    return procedure.declared(made.name.text) is made


def declared(old: Side, new: Side, pairs: Things) -> Iterator[Change]:
    """New, gone and changed lots, pots and materials; weights are told apart."""
    for kind, section in _SECTIONS.items():
        ours, theirs = _listed(old, kind), _listed(new, kind)
        same: dict[str, str] = getattr(pairs, kind)
        for name, (made, procedure) in ours.items():
            here = ChangedLine(procedure.file, made.line)
            other = theirs.get(same.get(name, ""))
            if other is None:
                says = say("{what} is gone: {is_}", what=made.name.text, is_=_is(made))
                no_more = say("Nothing is done with {what}.", what=made.name.text)
                yield _borne(_change("gone", section, here, None, says, no_more), made)
            else:
                there = ChangedLine(other[1].file, other[0].line)
                yield from _differ(section, made, other[0], here, there)
        taken = set(same.values())
        for name, (made, procedure) in theirs.items():
            if name not in taken:
                here = ChangedLine(procedure.file, made.line)
                says = say("{what} is new: {is_}", what=made.name.text, is_=_is(made))
                get = say("Have {is_} ready.", is_=_is(made))
                yield _borne(_change("new", section, None, here, says, get), made)


def _borne(change: Change, *made: Declared) -> Change:
    """With what hangs on the thing: a material that colours or harms, fibre, a pot's use."""
    materials = [one for one in made if isinstance(one, Material)]
    return change._replace(
        colour=any(isinstance(one, Lot) for one in made)
        or any(isinstance(one, Equipment) and one.holds for one in made)
        or any(bearing.colours(one) for one in materials),
        safety=any(isinstance(one, Equipment) for one in made)
        or any(bearing.harms(one) for one in materials),
    )


def _is(made: Declared) -> str:
    """What a thing is, in the words of the trade."""
    return ", ".join(text for text in _facts(made).values() if text) or "nothing is said of it"


def _facts(made: Declared) -> dict[str, str]:
    if isinstance(made, Lot):
        past = [f"{one.done} with {one.entry.name}" for one in made.past]
        past = [
            f"{said} {one.share.text}" if one.share is not None else said
            for said, one in zip(past, made.past, strict=True)
        ]
        clean = {True: "scoured", False: "unscoured", None: ""}[made.scoured]
        told = {one.name for one in made.fibres} | {"scoured", "unscoured", "damp"}
        done = {name for one in made.past for name in (one.done, one.entry.name)}
        return {
            "fibre": " and ".join(one.name for one in made.fibres),
            "form": ", ".join(word for word in made.words if word not in told | done),
            "clean": clean,
            "damp": "damp" if made.damp else "",
            "before": ", ".join(past) or ("mordanted" if made.mordanted else ""),
        }
    if isinstance(made, Equipment):
        names = [one.name for one in (made.metal, made.kind) if one is not None]
        use = {"dyeing": "for dyeing only", "both": "for cooking and dyeing"}
        return {
            "what": " ".join(names),
            "lid": "lidded" if made.lidded else "",
            "use": use.get(made.use, f"for {made.use}" if made.use else "use not said"),
        }
    return {
        "what": made.in_full if made.entry is not None else ", ".join(made.roles),
        "state": made.state,
        "gathered": "gathered on a day" if made.gathered else "",
        "words": ", ".join(word for word in made.words if not _known_of(made, word)),
    }


def _known_of(made: Material, word: str) -> bool:
    entry = made.entry
    names = (entry.name, *entry.words("aliases")) if entry is not None else ()
    return word in (*names, made.part, made.state, *made.roles, "gathered")


def _differ(
    section: str, old: Declared, new: Declared, here: ChangedLine, there: ChangedLine
) -> Iterator[Change]:
    if type(old) is not type(new):
        return
    first, last = _facts(old), _facts(new)
    for field in first:
        if first[field] != last[field]:
            told = [Word(facts[field] or UNSAID) for facts in (first, last)]
            what = new.name.text
            says = from_to(what, told[0], told[1])
            get = (
                say("Have {new} as {what}.", new=told[1], what=what)
                if last[field]
                else say("Nothing says of {what} that it is {old}.", what=what, old=told[0])
            )
            yield _borne(_change("another", section, here, there, says, get), old, new)
    for said, one, two in _measures(old, new):
        if not alike(one, two):
            before, now = (
                as_written(size) if size is not None else Word(UNSAID) for size in (one, two)
            )
            says = from_to(f"{new.name.text}, {said}", before, now)
            get = (
                say("Have {name} of {new}.", name=new.name.text, new=now)
                if two is not None
                else say("Nothing says of what {said} {name} is.", said=said, name=new.name.text)
            )
            yield _borne(_change("another", section, here, there, says, get), old, new)


def _measures(
    old: Declared, new: Declared
) -> Iterator[tuple[str, Quantity | None, Quantity | None]]:
    if isinstance(old, Equipment) and isinstance(new, Equipment):
        yield "size", old.capacity, new.capacity
        yield "power", old.power, new.power
    elif isinstance(old, Material) and isinstance(new, Material):
        yield "strength", old.strength, new.strength


# ------------------------------------------------------------------ how much fibre


def weights(old: Side, new: Side, pairs: Things) -> Iterator[tuple[bool, Change]]:
    """Other weights of fibre: a remark where all lots go together, else a change of each lot.

    What is measured by the fibre goes with it; what stays as it is written, is told.
    """
    ours, theirs = _listed(old, "lots"), _listed(new, "lots")
    both = [(ours[a], theirs[b]) for a, b in pairs.lots.items() if a in ours and b in theirs]
    shares: list[Fraction | None] = []
    for (one, _), (two, _) in both:
        assert isinstance(one, Lot) and isinstance(two, Lot)
        shares.append(factor(_grams(one), _grams(two)))
    whole = len(both) == len(ours) == len(theirs) and None not in shares
    together = whole and len(set(shares)) == 1
    if not together or shares[0] != 1:
        for ((one, file), (two, other)), share in zip(both, shares, strict=True):
            assert isinstance(one, Lot) and isinstance(two, Lot)
            spots = ChangedLine(file.file, one.line), ChangedLine(other.file, two.line)
            if share == 1 or _unchanged(one, two):
                continue
            says = from_to(f"{two.name.text}, dry weight", mass(_grams(one)), mass(_grams(two)))
            get = say("Have {new} of {lot}.", new=mass(_grams(two)), lot=two.name.text)
            yield together, _change("weight", "fibre", *spots, says, get, colour=not together)
    for ((one, file), (two, other)), share in zip(both, shares, strict=True):
        assert isinstance(one, Lot) and isinstance(two, Lot)
        if not alike(one.pieces, two.pieces):
            spots = ChangedLine(file.file, one.line), ChangedLine(other.file, two.line)
            pieces = as_written(one.pieces), as_written(two.pieces)
            says = from_to(f"{two.name.text}, pieces", *pieces)
            yield share is not None and share != 1, _change("weight", "fibre", *spots, says)


def _unchanged(one: Lot, two: Lot) -> bool:
    return alike(one.weight, two.weight)


def _grams(lot: Lot) -> Interval | None:
    weight = lot.weight
    if weight is None or weight.kind != "mass":
        return None
    return known(weight.low, weight.high)


def gathered(old: Side, new: Side, pairs: Things) -> Iterator[Change]:
    """Other days of gathering: remarks, for the next year's plants are as good."""
    for a, b in pairs.materials.items():
        (one, file), (two, other) = old.flow.materials[a], new.flow.materials[b]
        if one.gathered and two.gathered and one.gathered != two.gathered:
            spots = ChangedLine(file.file, one.line), ChangedLine(other.file, two.line)
            says = from_to(f"{two.name.text}, gathered", Word(one.gathered), Word(two.gathered))
            yield _change("another", "materials", *spots, says)


def not_grown(
    old: Side, new: Side, pairs: dict[int, int], causes: list[Change]
) -> Iterator[Change]:
    """Amounts that stay as they were though their fibre does not: one change for all of them.

    It is told where the fibre changes, which is the place of the first of ``causes``.
    """
    stayed: list[tuple[ComparedPart, ComparedPart, str]] = []
    shares: set[Fraction | None] = set()
    for i, j in sorted(pairs.items(), key=lambda pair: pair[1]):
        was, now = old.parts[i], new.parts[j]
        before, after = old.fibre(was), new.fibre(now)
        share = factor(before, after)
        if before is None or after is None or share == 1:
            continue
        first = {one.token: one for one in clauses(old, was)}
        for clause in clauses(new, now):
            same = first.get(clause.token)
            if same is None or same.field != clause.field or not clause.token:
                continue
            one, two = same.item.quantity, clause.item.quantity
            if one is None or two is None or two.kind not in ("mass", "volume", "spoon"):
                continue
            if alike(one, two) and not _tells_weight(now, clause.field):
                stayed.append((was, now, f"{two.text} of {clause.item.name.text}"))  # type: ignore[union-attr]
                shares.add(share)
    if not stayed:
        return
    told: list[Value | str] = []
    for _, part, what in stayed[:_MOST_TOLD]:
        told.append(f"{what} (“{brief(part)}”, line {part.line})")
    if len(stayed) > _MOST_TOLD:
        told.append(f"{len(stayed) - _MOST_TOLD} more")
    says = say(
        "As much as before for another weight of fibre, so another share of it: {what}",
        what=listed(told),
    )
    was, now, _ = stayed[0]
    spots = (
        ChangedLine(was.node.procedure.file, was.line),
        ChangedLine(now.node.procedure.file, now.line),
    )
    section = "steps"
    if causes:
        section, spots = causes[0].section, (causes[0].old, causes[0].new)  # type: ignore[assignment]
    yield _change("amount", section, *spots, says, colour=True)


_MOST_TOLD = 6


def _tells_weight(part: ComparedPart, field: str) -> bool:
    """True for the parts of a split or of what is taken: they are fibre themselves."""
    return field in ("objects", "into") and bool(part.node.lots) and not part.node.does.adds
