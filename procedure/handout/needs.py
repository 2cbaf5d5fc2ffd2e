"""What you need: fibre, equipment and materials, each with its amount and what it is."""

from __future__ import annotations

import re
from dataclasses import dataclass

from procedure.facts.in_words import told_in_steps
from procedure.flow.graph import WATER
from procedure.handout.phrasebook import Telling
from procedure.model import Equipment, Lot, Material
from procedure.model.types import Past
from procedure.paper.measures import NARROW, Voice
from procedure.paper.pieces import (
    AsWritten,
    Blank,
    Figure,
    Phrase,
    Words,
    joined,
    phrase,
    plain_text,
    spaced,
)
from procedure.quantity.number_words import by_weight, in_words, ranged
from procedure.vocabulary import vocabulary
from procedure.weigh.shopping import FIRE, wants_a_fire
from procedure.weigh.weighing import Row, Total, Weighing

# Of what harms and is no material of the procedure.
IN_WORDS: Phrase = ("in the words of a step alone",)
_HOW = {"buy": "", "gather": "to be gathered", "draw": "", "keep": "kept from before"}


@dataclass(frozen=True, slots=True)
class ListedNeed:
    """A line of the list: ``name`` as the writer calls it, what it is, how much, a remark.

    ``real`` is what the trade calls a material, empty where it is none; ``about`` is the
    rest of what a material is, and all of what a fibre is.
    """

    name: Phrase
    what: Phrase
    amount: Phrase
    remark: Phrase = ()
    real: Phrase = ()
    about: Phrase = ()


@dataclass(frozen=True, slots=True)
class Needs:
    """Everything that has to be there before the work begins."""

    fibre: tuple[ListedNeed, ...]
    equipment: tuple[ListedNeed, ...]
    materials: tuple[ListedNeed, ...]
    besides: Phrase


def needs(telling: Telling, weighing: Weighing) -> Needs:
    """The list for a plan."""
    plan = telling.plan
    fibre = [
        _fibre(telling, origin.declared)
        for origin in plan.flow.lots.values()
        if origin.declared is not None
    ]
    equipment = [_equipment(telling, name, pot) for name, (pot, _) in plan.flow.pots.items()]
    by_thing: dict[str, list[Row]] = {}
    for row in weighing.rows:
        if row.counts:
            by_thing.setdefault(row.thing, []).append(row)
    materials = [
        _material(telling, by_thing.get(total.thing, []), total) for total in weighing.totals
    ]
    materials += [
        ListedNeed((made.in_full,), (), (Blank("amount", telling.voice.mass_unit),), IN_WORDS)
        for made in told_in_steps(plan.study)
    ]
    return Needs(tuple(fibre), tuple(equipment), tuple(materials), _besides(telling))


def _fibre(telling: Telling, lot: Lot) -> ListedNeed:
    words = vocabulary()
    # Wool yarn, whichever of the two the writer puts first.
    kinds = [w for w in lot.words if words.find(w, "fibres") is not None]
    kinds += [w for w in lot.words if w not in kinds and words.find(w, "form") is not None]
    told = {one.done for one in lot.past} | {one.entry.name for one in lot.past}
    others = [w for w in lot.words if w not in kinds and w not in told]
    past = [_before(one) for one in lot.past]
    own = [phrase("called “", Words(breed), "”") for breed in lot.breeds]
    kind: Phrase = (" ".join(kinds),) if kinds else ()
    what = _comma([kind, *own, *(_own(w) for w in others), *past])
    amount: Phrase = (Blank("weight", telling.voice.mass_unit),)
    if lot.weight is not None and lot.weight.known:
        amount = (Figure("mass", *lot.weight.ends),)
    pieces: Phrase = ()
    if lot.pieces is not None:
        count, _, each = lot.pieces.text.partition(" of ")
        if " x " in count:  # 2 x 50 g, which is two of 50 g
            count, each = count.split(" x ", 1)
        pieces = (AsWritten(f"{count} of {each}" if each else _of_each(count)),)
    return ListedNeed((Words(spaced(lot.name.text)),), what, amount, pieces, about=what)


def _of_each(said: str) -> str:
    """``24 samples of 5 g`` for what is written as ``24 samples 5 g``."""
    return re.sub(r"^(\d+ [^\W\d]+) (?=\d)", r"\1 of ", said)


def _before(one: Past) -> Phrase:
    """What was done to a lot before: ``mordanted with potassium alum, 10 %``."""
    share: Phrase = (", ", Words(one.share.text.partition(" of ")[0])) if one.share else ()
    return phrase(f"{one.done} with {one.entry.name}", share)


def _own(word: str) -> Phrase:
    """A word of a declaration: ours where the vocabulary has it, else the writer's."""
    known = vocabulary().find(word, "state", "form", "use", "metals", "vessel", "heater", "tool")
    return (word,) if known is not None else (Words(word),)


def _comma(parts: list[Phrase]) -> Phrase:
    made: Phrase = ()
    for part in parts:
        if part:
            made = phrase(made, ", " if made else "", part)
    return made


def _equipment(telling: Telling, name: str, pot: Equipment) -> ListedNeed:
    words = vocabulary()
    stuff = [
        w for w in pot.words if words.find(w, "metals", "vessel", "heater", "tool") is not None
    ]
    uses = [w for w in pot.words if words.find(w, "use") is not None]
    others = [w for w in pot.words if w not in stuff and w not in uses]
    what = _comma([(" ".join(stuff),) if stuff else (), *(_own(w) for w in others)])
    amount: Phrase = ()
    if pot.capacity is not None and pot.capacity.known:
        amount = (telling.voice.amount("volume", *pot.capacity.ends),)
    elif pot.power is not None and pot.power.known:
        amount = (f"{_watts(pot)}",)
    use = {
        "dyeing": "for dyeing only",
        "cooking": "for cooking",
        "both": "for cooking and dyeing",
    }.get(pot.use, "")
    return ListedNeed(
        (Words(spaced(telling.plan.study.called(name))),), what, amount, (use,) if use else ()
    )


def _watts(pot: Equipment) -> str:
    assert pot.power is not None
    low, high = (float(end) for end in pot.power.ends)
    if low >= 1000:
        return f"{ranged(f'{low / 1000:g}', f'{high / 1000:g}')}{NARROW}kW"
    return f"{ranged(f'{low:g}', f'{high:g}')}{NARROW}W"


def described(made: Material) -> Phrase:
    """What a material is: its trade name, its state, its strength, when it was gathered."""
    return _comma([(made.in_full,) if made.entry is not None else (), about(made)])


def about(made: Material) -> Phrase:
    """The same but for its trade name."""
    parts: list[Phrase] = []
    for word in made.words:
        if made.entry is not None and word == made.entry.name:
            continue
        if word in ("gathered", "by weight", "by volume"):
            continue
        parts.append(_own(word) if made.entry is None else _stated(word))
    if made.strength is not None:
        by = f" {made.strength_by}" if made.strength_by else ""
        parts.append(phrase(Words(made.strength.text), by))
    if made.gathered:
        parts.append(phrase("gathered ", Words(made.gathered)))
    return _comma(parts)


def _stated(word: str) -> Phrase:
    return (word,) if vocabulary().find(word, "state", "part") is not None else (Words(word),)


def _material(telling: Telling, counted: list[Row], total: Total) -> ListedNeed:
    """What is needed of a thing, by the rows of it that count."""
    declared = telling.plan.flow.materials.get(total.thing)
    if declared is not None:
        what = described(declared[0])
    else:
        what = ("clean water",) if total.thing == WATER else ()
    rows = [row for row in counted if row.condition == total.condition]
    remark: list[Phrase] = []
    amount = amount_of_total(total, telling.voice, telling.pours(total.thing))
    if total.kind and telling.too_little(total.kind, total.low, total.high):
        amount = joined((Words(text),) for text in dict.fromkeys(row.written for row in rows))
    elif total.thing != WATER:
        remark.append(_written(telling, rows))
    dated = declared is not None and total.how == "gather" and bool(declared[0].gathered)
    if _HOW[total.how] and not dated:  # its date tells already that it is gathered
        remark.append((_HOW[total.how],))
    if total.condition:
        remark.append((Words(total.condition),))
    name = (telling.own_name(total.thing),)
    known = declared is not None and declared[0].entry is not None
    return ListedNeed(
        name,
        what,
        amount,
        _comma(remark),
        telling.real_name(total.thing) if known else (),
        about(declared[0]) if declared is not None else (),
    )


def amount_of_total(total: Total, voice: Voice, liquid: bool = False) -> Phrase:
    """What a total comes to, with a blank for what the procedure does not say.

    The blank is for litres of water, millilitres of another liquid and grams of the rest, or
    for the reader's units in place of these.
    """
    unit = voice.volume_unit if total.thing == WATER else voice.mass_unit
    if liquid and total.thing != WATER:
        unit = voice.small_volume_unit
    known: Phrase = (Figure(total.kind, total.low, total.high),) if total.kind else ()
    if not total.gaps:
        return known
    # “2 gal and ____ pt” would be one amount.
    return phrase(known, ", and besides that " if known else "", Blank("amount", unit))


def _written(telling: Telling, rows: list[Row]) -> Phrase:
    """How the amounts are written, where that says more than the amount: 12 % of yarn."""
    # “Half of the alum” says nothing of all the alum there is to be.
    rows = [row for row in rows if not _of_itself(telling, row)]
    said = dict.fromkeys(_with_lots(telling, row) for row in rows if _says_more(row))
    written = {_by_weight(row) for row in rows if _says_more(row)}
    if len(said) > 1 and len(written) == 1:  # one step for each of several lots
        share, of, _ = written.pop().rpartition(" of ")
        if of:
            return (f"{share} of each lot",)
    if len(said) > 1:  # a sum of unlike parts: the steps tell them
        return (f"in {in_words(len(rows))} steps",)
    return _comma([(Words(text),) for text in said])


def _of_itself(telling: Telling, row: Row) -> bool:
    """True for a share of the thing itself: half of the alum, the rest of it."""
    base = row.written.rpartition(" of ")[2]
    return bool(row.written) and _thing(telling, row, base) == row.thing


def _with_lots(telling: Telling, row: Row) -> str:
    """An amount as written, its lots as the plan calls them; “of all six lots” where it is all."""
    written = _by_weight(row)
    share, of, names = written.rpartition(" of ")
    things = tuple(
        _thing(telling, row, name.strip(",")) for name in names.split(" ") if name != "and"
    )
    if of and telling.is_every_lot(things):
        return f"{share} of all {in_words(len(things))} lots"
    return " ".join(_lot_of(telling, row, word) for word in written.split(" "))


def _thing(telling: Telling, row: Row, word: str) -> str:
    return telling.plan.flow.nodes[row.node].names.get(word, word)


def _lot_of(telling: Telling, row: Row, word: str) -> str:
    """A word of an amount as written; where it is a lot, what the plan calls that lot.

    A procedure that is followed has a name of its own for what it is given.
    """
    flow = telling.plan.flow
    thing = _thing(telling, row, word.rstrip(","))
    if thing not in flow.lots:
        return word
    said = plain_text(telling.the(thing), telling.voice)
    said = said if said.endswith(" lot") else spaced(flow.lots[thing].name)
    return said + "," * word.endswith(",")


def _by_weight(row: Row) -> str:
    return by_weight(row.written) if row.kind == "mass" else row.written


def _says_more(row: Row) -> bool:
    if not row.written:
        return False
    units = (vocabulary().units.get(word) for word in row.written.split())
    if row.kind == "volume" and any(unit and unit.kind == "spoon" for unit in units):
        return True
    by_volume = any(one.isalpha() for one in row.written.partition("/")[2][:2].strip()[:1])
    return by_volume or any(sign in row.written for sign in ("%", ":", " of ", "wof"))


def _besides(telling: Telling) -> Phrase:
    """What the work needs and nobody declared: scales, a thermometer, a clock."""
    kinds = {pot.kind.name for pot, _ in telling.plan.flow.pots.values() if pot.kind is not None}
    written = [w for procedure in telling.plan.study.procedures for w in procedure.written]
    wanted: list[Phrase] = []
    if "scale" not in kinds and any(w.quantity.kind in ("mass", "percent") for w in written):
        wanted.append(("scales",))
    if "thermometer" not in kinds and any(w.quantity.kind == "temperature" for w in written):
        wanted.append(("a thermometer",))
    if any(w.quantity.kind == "time" for w in written):
        wanted.append(("a clock",))
    if wants_a_fire(telling.plan):
        wanted.append((FIRE,))
    if "spoon" not in kinds:
        wanted.append(("something to stir with",))
    wanted.append(("labels and a waterproof pen",))
    return phrase("You also need ", joined(wanted), ".")
