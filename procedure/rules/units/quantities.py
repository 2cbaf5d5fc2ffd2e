"""Units: amounts, heats and times that cannot be read one way only."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.study import Study
from procedure.findings import Heat, InUnit, Says, Span, say
from procedure.model import Lot, Procedure, Quantity, Written
from procedure.rules import edits
from procedure.rules.rule import Found, at_node, rule
from procedure.vocabulary import near, vocabulary

FAMILY = "units"

# The kinds of quantity that fit each part that a quantity can play.
FITTING: dict[str, frozenset[str]] = {
    "heat": frozenset(("temperature",)),
    "time": frozenset(("time",)),
    "from": frozenset(("temperature", "volume", "mass", "share")),
    "to": frozenset(("temperature", "volume", "share", "acidity")),
    "until": frozenset(("temperature", "time", "acidity", "volume")),
    "amount": frozenset(
        (
            *("mass", "volume", "percent", "ratio", "share", "concentration", "spoon", "count"),
            *("acidity", "concentration by volume"),
        )
    ),
    "altitude": frozenset(("length",)),
}
ANYWHERE = frozenset(("loose", "unstated", "number", "unknown"))
SAID = {
    "heat": "a temperature",
    "time": "a time",
    "from": "a temperature",
    "to": "a temperature or a volume",
    "until": "a temperature, a time or a sign to look for",
    "amount": "an amount of material",
    "altitude": "a height, in metres or feet",
    "weight": "a weight",
    "capacity": "a volume",
}
KINDS = {
    "mass": "a weight",
    "volume": "a volume",
    "temperature": "a temperature",
    "time": "a time",
    "length": "a length",
    "percent": "a percentage",
    "ratio": "a ratio",
    "share": "a share",
    "concentration": "a strength",
    "concentration by volume": "a strength",
    "power": "a power",
    "count": "a number of pieces",
    "spoon": "a spoon or cup measure",
    "acidity": "a pH",
    "number": "a number",
}


def found(
    procedure: Procedure,
    written: Written,
    sentence: Says | str,
    remedy: Says | str,
    **more: object,
) -> Found:
    """What a rule found, at a quantity."""
    return Found(procedure, written.quantity.place, sentence, remedy, **more)  # type: ignore[arg-type]


def in_unit_of(quantity: Quantity, like: Quantity) -> InUnit:
    """A quantity said in the unit of another, as a reader would write it."""
    unit = like.unit
    assert unit is not None and quantity.low is not None and quantity.high is not None
    low, high = (end / unit.factor - unit.offset for end in (quantity.low, quantity.high))
    return InUnit(low, high, unit.name)


@rule("unknown-unit", level="error", family=FAMILY, source="common practice")
def unknown_unit(study: Study) -> Iterator[Found]:
    """A unit that the trade does not use, or a number that cannot be read.

    A second person cannot weigh or measure what they cannot read.

    Trips:
        wet out yarn in tub with water 5 litters for 1 h
    Cure:
        wet out yarn in tub with water 5 litres for 1 h
    """
    for procedure, written in study.written():
        for quantity in (written.quantity, written.quantity.reading):
            if quantity is None or quantity.kind != "unknown":
                continue
            meant = near(quantity.word, list(vocabulary().units))
            edit = edits.of_unit(quantity, meant)
            meant = edit.text if edit else meant
            remedy = say("Did you mean “{meant}”?", meant=meant) if meant else _elsewhere(quantity)
            sentence = say("“{word}” is not a unit that I know.", word=quantity.word)
            yield found(procedure, written, sentence, remedy, edit=edit)


def _elsewhere(quantity: Quantity) -> Says | str:
    """What a unit from outside the trade comes to, where pint knows it."""
    from pint import UnitRegistry
    from pint.errors import PintError

    units: UnitRegistry[float] = UnitRegistry()
    bases = {"[mass]": "gram", "[length] ** 3": "litre", "[time]": "minute", "[length]": "metre"}
    try:
        one = units.Quantity(1, quantity.word)
        base = bases[str(one.dimensionality)]
        return say(
            "One {word} is {amount}; write it so.",
            word=quantity.word,
            amount=InUnit(Fraction(one.to(base).magnitude), None, base),
        )
    except (PintError, KeyError, AttributeError, ValueError, TypeError, SyntaxError):
        return "Write a unit such as g, mL, L, min, h or °C."


@rule("wrong-quantity", level="error", family=FAMILY, source="common practice")
def wrong_quantity(study: Study) -> Iterator[Found]:
    """A quantity of the wrong kind for its place: a time where a heat belongs, and so on.

    It is nearly always a slip of the pen, and the true value is lost with it.

    Trips:
        wet out yarn in tub with water 5 L at 30 min for 1 h
    Cure:
        wet out yarn in tub with water 5 L at 30 °C for 1 h
    """
    for procedure, written in study.written():
        fitting = FITTING.get(written.role)
        kind = written.quantity.kind
        if fitting is not None:
            if kind not in fitting | ANYWHERE:
                yield found(
                    procedure,
                    written,
                    say(
                        "“{text}” is {kind}, but {role} belongs here.",
                        text=written.quantity.text,
                        kind=KINDS.get(kind, kind),
                        role=SAID[written.role],
                    ),
                    "Write the right quantity, or put this one into the clause it belongs to.",
                )
        elif written.step is None and written.item is not None:
            declared = procedure.declared(written.item.text)
            wrong = isinstance(declared, Lot) and kind in ("volume", "percent", "temperature")
            if isinstance(declared, Lot) and kind == "percent" and len(declared.fibres) > 1:
                wrong = False  # the shares of a blend
            if wrong:
                yield found(
                    procedure,
                    written,
                    say(
                        "“{text}” is {kind}, but the amount of fibre is given as its weight.",
                        text=written.quantity.text,
                        kind=KINDS[kind],
                    ),
                    "Weigh the fibre dry and write grams, ounces or pounds.",
                )


@rule("readings-disagree", level="error", family=FAMILY, source="NIST SP 811, B.8")
def readings_disagree(study: Study) -> Iterator[Found]:
    """Two readings of one thing that do not agree, such as °C and °F.

    Each reader takes the reading they are used to, so they work at different heats
    or weights. Half a unit of the last non-zero digit is allowed to each reading,
    but never more than 2 % (3 °C for temperatures).

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 80 °C (155 °F)
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 80 °C (176 °F)
        discard gold-bath to "foul drain"
    """
    for procedure, written in study.written():
        first, second = written.quantity, written.quantity.reading
        if second is None or "unknown" in (first.kind, second.kind):
            continue
        if first.word or second.word:
            if first.kind != second.kind:
                yield _two_things(procedure, written, first, second)
            continue  # a heat word against its number has a rule of its own
        if first.kind != second.kind or not first.known or not second.known:
            yield _two_things(procedure, written, first, second)
        elif not first.agrees(second):
            said = first.text.split("(")[0].strip()
            yield found(
                procedure,
                written,
                say(
                    "“{said}” and “{second}” are meant to be the same, but {said} is {converted}.",
                    said=said,
                    second=second.text,
                    converted=in_unit_of(first, second),
                ),
                say(
                    "Write {said} ({converted}), or put the first reading right: "
                    "{second} is {first}.",
                    said=said,
                    converted=in_unit_of(first, second),
                    second=second.text,
                    first=in_unit_of(second, first),
                )
                if first.unit is not None
                else "Put one of the two right.",
            )


def _two_things(procedure: Procedure, written: Written, first: Quantity, second: Quantity) -> Found:
    return found(
        procedure,
        written,
        say(
            "“{second}” in brackets is {kind}, which cannot be another reading of {other}.",
            second=second.text,
            kind=KINDS.get(second.kind, second.kind),
            other=KINDS.get(first.kind, first.kind),
        ),
        "Write the same thing in another unit between the brackets, or remove it.",
    )


@rule("percentage-of-nothing", level="error", family=FAMILY, source="common practice")
def percentage_of_nothing(study: Study) -> Iterator[Found]:
    """A percentage, ratio or share that does not say of what.

    Dyers mean the dry weight of the fibre, bakers the flour and chemists the
    water; the difference can be thirtyfold.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 12 %
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 % of yarn
        wet out yarn in tub with water 5 L for 1 h
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if written.role != "amount" or quantity.base or quantity.of_fibre:
            continue
        if quantity.kind in ("percent", "ratio"):
            lots = list(procedure.lots)
            of = lots[0] if len(lots) == 1 else "the lot"
            yield found(
                procedure,
                written,
                say("“{text}” does not say of what.", text=quantity.text),
                say(
                    "Write “{text} of {of}”, or “wof” for all the fibre that the bath is to treat.",
                    text=quantity.text,
                    of=of,
                ),
            )


@rule("loose-measure", level="note", family=FAMILY, source="common practice")
def loose_measure(study: Study) -> Iterator[Found]:
    """A measure that differs from hand to hand: some, a handful, a teaspoon of a solid.

    A teaspoon of alum may weigh four grams or seven, by how it is ground and heaped.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 1 tsp
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 5 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if quantity.kind == "loose" or (quantity.kind == "spoon"):
            of = (
                say(" of {item}", item=written.item.text)
                if written.item and quantity.kind == "spoon"
                else Says("")
            )
            yield found(
                procedure,
                written,
                say(
                    "“{text}”{of} is a loose measure: everyone's is different.",
                    text=quantity.text,
                    of=of,
                ),
                "Weigh it once and write the grams.",
            )


@rule("which-gallon", level="error", family=FAMILY, source="NIST SP 811, B.8")
def which_gallon(study: Study) -> Iterator[Found]:
    """A gallon, quart, pint or fluid ounce that does not say US or imperial.

    An imperial gallon is a fifth larger than a US one.

    Trips:
        wet out yarn in tub with water 2 gal for 1 h
    Cure:
        wet out yarn in tub with water 2 US gal for 1 h
    """
    for procedure, written in study.written():
        for quantity in (written.quantity, written.quantity.reading):
            if quantity is not None and quantity.unit is not None and quantity.unit.vague:
                assert quantity.low is not None and quantity.high is not None
                choices = quantity.unit.ask.replace("; ", "” or “")
                yield found(
                    procedure,
                    written,
                    say(
                        "“{text}” may be US or imperial, which is {low} or {high}.",
                        text=quantity.text,
                        low=InUnit(quantity.low, None, "L"),
                        high=InUnit(quantity.high, None, "L"),
                    ),
                    say("Write “{choices}”.", choices=choices),
                )


@rule("number-without-unit", level="error", family=FAMILY, source="common practice")
def number_without_unit(study: Study) -> Iterator[Found]:
    """A number with no unit after it.

    Thirty may be degrees, minutes or grams.

    Trips:
        wet out yarn in tub with water 5 for 1 h
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for procedure, written in study.written():
        if written.quantity.kind == "number":
            yield found(
                procedure,
                written,
                say("“{text}” has no unit.", text=written.quantity.text),
                "Write the unit after the number.",
            )


@rule("nothing-of-it", level="error", family=FAMILY, source="common practice")
def nothing_of_it(study: Study) -> Iterator[Found]:
    """An amount or a time that is zero or less.

    Nothing can be weighed out from it; most often a digit is missing.

    Trips:
        wet out yarn in tub with water 0 L for 1 h
    Cure:
        wet out yarn in tub with water 10 L for 1 h
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if quantity.kind in ("temperature", "unknown", "length") or quantity.low is None:
            continue
        if quantity.high is not None and (quantity.high <= 0 or quantity.low < 0):
            yield found(
                procedure,
                written,
                say("“{text}” is nothing, or less than nothing.", text=quantity.text),
                "Write the amount that is used, or leave the item out.",
            )


@rule("hotter-than-boiling", level="error", family=FAMILY, source="IAPWS-95 (boiling of water)")
def hotter_than_boiling(study: Study) -> Iterator[Found]:
    """A heat above the boiling point of water at the altitude of the place.

    No open pot gets there; the number is wrong, or it is meant in °F.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 110 °C
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath to 90 °C
        discard gold-bath to "foul drain"
    """
    top = study.trace.boiling
    for procedure, written in study.written():
        quantity = written.quantity
        if quantity.kind != "temperature" or quantity.high is None or quantity.word:
            continue
        if quantity.high - quantity.slack_high > top:
            here = "" if study.procedure.altitude is None else " at this altitude"
            remedy = Says("Write a heat that water can reach, or “boil”.")
            if quantity.unit is not None and quantity.unit.name == "°C":
                remedy = say(
                    "Write a heat that water can reach, or “boil”. If °F was meant, {number} °F is "
                    "{heat}.",
                    number=quantity.text[:-2].strip(),
                    heat=InUnit((quantity.high - 32) * Fraction(5, 9), None, "°C"),
                )
            yield found(
                procedure,
                written,
                say(
                    "“{text}” is hotter than boiling water, which is {top}{here}.",
                    text=quantity.text,
                    top=Heat(top),
                    here=here,
                ),
                remedy,
            )


@rule("below-freezing", level="error", family=FAMILY, source="common practice")
def below_freezing(study: Study) -> Iterator[Found]:
    """A heat below the freezing point of water.

    A bath cannot be that cold; most often °C was written for °F or a minus slipped in.

    Trips:
        wet out yarn in tub with water 5 L at -5 °C for 1 h
    Cure:
        wet out yarn in tub with water 5 L at 15 °C for 1 h
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if quantity.kind == "temperature" and quantity.low is not None and quantity.low < 0:
            yield found(
                procedure,
                written,
                say("“{text}” is below freezing.", text=quantity.text),
                "Write the heat of the bath in °C or °F.",
            )


@rule("heat-word-mismatch", level="warning", family=FAMILY, source="common practice")
def heat_word_mismatch(study: Study) -> Iterator[Found]:
    """A word for a heat beside a number that it does not mean, as in simmer at 45 °C.

    One of the two is wrong, and the reader cannot tell which.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 45 °C for 1 h
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        simmer gold-bath at 85 °C for 1 h
        discard gold-bath to "foul drain"
    """
    heats = vocabulary().heats
    for procedure, written in study.written():
        quantity, step = written.quantity, written.step
        word, number = "", quantity
        if step is not None and step.does.heat and written.role == "heat":
            word = step.does.heat
        elif quantity.word in heats and quantity.reading is not None:
            word, number = quantity.word, quantity.reading
        elif quantity.reading is not None and quantity.reading.word in heats:
            word = quantity.reading.word
        if not word or number.low is None or number.high is None:
            continue
        heat = heats[word]
        if heat.kind == "heat" and number.kind != "temperature":
            continue
        low, high = heat.low, heat.high
        temperature = heat.kind == "heat"
        if word == "boil":
            low, high = min(low, study.trace.boiling - 3), max(high, study.trace.boiling)
        if number.high < low - number.slack_low or number.low > high + number.slack_high:
            yield found(
                procedure,
                written,
                say(
                    "“{word}” means {range}, but “{number}” is written beside it.",
                    word=word,
                    range=Heat(low, high, worded=False) if temperature else Span(low, high),
                    number=number.text,
                ),
                "Change the word or the number.",
                source=heat.source,
            )


@rule("range-backwards", level="error", family=FAMILY, source="common practice")
def range_backwards(study: Study) -> Iterator[Found]:
    """A range whose first number is the larger.

    It may be a slip in either number.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum 8 to 3 % of yarn
        wet out yarn in tub with water 5 L for 1 h
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 3 to 8 % of yarn
        wet out yarn in tub with water 5 L for 1 h
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        quantity = written.quantity
        if not quantity.backwards:
            continue
        first, mark, second, after = _range_parts(quantity.text)
        turned = say(
            "{second} {mark} {first}{after}", second=second, mark=mark, first=first, after=after
        )
        yield found(
            procedure,
            written,
            say("“{text}” runs backwards.", text=quantity.text),
            say("Write “{turned}”, if both numbers are right.", turned=turned),
        )


def _range_parts(text: str) -> tuple[str, str, str, str]:
    """The two numbers of a range, its mark, and what comes after."""
    import re

    found = re.match(r"(?:about )?(\S+(?: \d+/\d+)?) (to|[-–—−]) (\S+(?: \d+/\d+)?)(.*)", text)
    return found.groups() if found else (text, "to", "", "")  # type: ignore[return-value]


@rule("wrong-direction", level="error", family=FAMILY, source="common practice")
def wrong_direction(study: Study) -> Iterator[Found]:
    """A bath that is heated to a lower heat, or cooled to a higher one.

    The two numbers have changed places, or one is wrong.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath from 80 °C to 20 °C
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        heat gold-bath from 20 °C to 80 °C
        discard gold-bath to "foul drain"
    """
    for moment in study.moments:
        step = moment.step
        if not step.does.changes_heat:
            continue
        target = step.to or (step.at if step.does.to_a_heat else None)
        if target is None or target.quantity is None or target.quantity.low is None:
            continue
        if target.quantity.kind != "temperature" or target.quantity.high is None:
            continue
        start = step.source.quantity if step.source else None
        ends = None
        if start is not None and start.kind == "temperature" and start.low is not None:
            assert start.high is not None
            ends = (start.low, start.high)
        elif step.does.to_a_heat and moment.bath_before is not None:
            ends = moment.bath_before.heat
        if ends is None:
            continue
        if not step.does.cools and target.quantity.high < ends[0]:
            word = "heated"
        elif step.does.cools and target.quantity.low > ends[1]:
            word = "cooled"
        else:
            continue
        started = Heat(ends[0] if word == "heated" else ends[1])
        yield at_node(
            moment.node,
            say(
                "The bath is {word} from {started} to “{target}”, which is the wrong way.",
                word=word,
                started=started,
                target=target.quantity.text,
            ),
            "Swap the two numbers, or use the other verb.",
        )


@rule("ounces-of-water", level="warning", family=FAMILY, source="common practice")
def ounces_of_water(study: Study) -> Iterator[Found]:
    """Water in ounces: they may be of weight or fluid ounces, and of two sizes.

    An ounce is a weight here. Kitchen books mean fluid ounces, US or imperial.

    Trips:
        wet out yarn in tub with water 40 oz for 1 h
    Cure:
        wet out yarn in tub with water 40 US fl oz for 1 h
    """
    for procedure, written in study.written():
        unit = written.quantity.unit
        water = written.item is not None and written.item.text == "water"
        water = water or (written.item is None and written.quantity.base == "water")
        if water and unit is not None and unit.name == "oz":
            said = say(
                "“{text}”{item}",
                text=written.quantity.text,
                item=" of water" if written.item else "",
            )
            yield found(
                procedure,
                written,
                say("{said} is a weight as written; fluid ounces may be meant.", said=said),
                "Write “US fl oz”, “imp fl oz” or millilitres.",
            )


@rule("amount-unstated", level="note", family=FAMILY, source="common practice")
def amount_unstated(study: Study) -> Iterator[Found]:
    """A material without an amount, or an amount given as unstated.

    The reader must guess, and the colour follows the guess.

    Trips:
        alum-bath: prepare in kettle with water 3 L, alum
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        if written.quantity.kind == "unstated" and written.role == "amount":
            what = written.item.text if written.item else "this"
            if what != "water":
                yield found(
                    procedure,
                    written,
                    say("The source does not say how much {what}.", what=what),
                    "Try it out, and write down what worked.",
                )
    for moment in study.moments:
        brought = [*moment.node.materials]
        brought += [pair for pair in moment.node.moved if moment.node.does.adds]
        for thing, item in brought:
            if item.quantity is not None or item.name is None or thing == "water":
                continue
            if thing in study.flow.baths:
                continue
            yield Found(
                moment.node.procedure,
                item.place,
                say("It is not said how much {item}.", item=item.name.text),
                "Write the amount after the name, such as 12 % of the fibre.",
                moment.node.calls,
            )


@rule("weight-unstated", level="warning", family=FAMILY, source="common practice")
def weight_unstated(study: Study) -> Iterator[Found]:
    """Fibre without a weight, where amounts are measured by it.

    Without it no percentage can be worked out.

    Trips:
        procedure "An example"
        fibre
          yarn: wool yarn, scoured
        steps
          wet out yarn in tub with water 20 : 1 of yarn for 1 h
    Cure:
        procedure "An example"
        fibre
          yarn: wool yarn, 100 g, scoured
        steps
          wet out yarn in tub with water 20 : 1 of yarn for 1 h
    """
    for procedure in study.procedures:
        for lot in procedure.lots.values():
            if lot.weight is None:
                yield Found(
                    procedure,
                    lot.name.place,
                    say("The weight of {lot} is not said.", lot=lot.name.text),
                    "Weigh it dry and write the weight.",
                )


@rule("time-unstated", level="note", family=FAMILY, source="common practice")
def time_unstated(study: Study) -> Iterator[Found]:
    """A step that takes time without saying how long.

    The reader must guess.

    Trips:
        wet out yarn in tub with water 5 L
    Cure:
        wet out yarn in tub with water 5 L for 1 h
    """
    for procedure, written in study.written():
        if written.quantity.kind == "unstated" and written.role == "time":
            yield found(
                procedure,
                written,
                "The source does not say how long.",
                "Try it out, and write down what worked.",
            )
    for moment in study.moments:
        verb, step = moment.step.verb, moment.step
        if verb is None or "time" not in verb.asks:
            continue
        waits = moment.minutes is not None and step.over is None
        held = moment.held is not None and (moment.held[1] > 0 or step.lasting is not None)
        if not waits and not held and step.until is None and step.lasting is None:
            yield at_node(
                moment.node,
                say("It is not said how long to {verb}.", verb=verb.name),
                "Say it with “for”, or say what to look for with “until”.",
            )


@rule("heat-unstated", level="note", family=FAMILY, source="common practice")
def heat_unstated(study: Study) -> Iterator[Found]:
    """A step whose heat matters, in a bath whose heat nobody has said.

    The reader must guess.

    Trips:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        wet out yarn in tub with water 5 L for 1 h
        dye yarn in gold-bath for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    Cure:
        gold-bath: prepare in kettle with water 3 L, onion 50 g
        wet out yarn in tub with water 5 L for 1 h
        dye yarn in gold-bath at 85 °C for 1 h
        rinse yarn in tub with water 5 L
        discard gold-bath to "foul drain"
    """
    for procedure, written in study.written():
        if written.quantity.kind == "unstated" and written.role in ("heat", "from", "to"):
            yield found(
                procedure,
                written,
                "The source does not say how hot.",
                "Try it out, and write down what worked.",
            )
    heated: set[str] = set()
    for moment in study.moments:
        verb, step = moment.step.verb, moment.step
        if verb is None:
            continue
        said = step.at or step.to or step.source or step.until
        if (verb.does.warms or verb.does.cools) or (said and verb.group != "material"):
            heated.add(moment.node.bath)
        # What brings its own water each time has to say its heat each time.
        unsaid = moment.node.own_water or moment.node.bath not in heated
        if "heat" in verb.asks and not said and unsaid:
            yield at_node(
                moment.node,
                say("It is not said how hot to {verb}.", verb=verb.name),
                "Say it with “at”, or with “from” and “to”.",
            )


@rule("water-unstated", level="note", family=FAMILY, source="common practice")
def water_unstated(study: Study) -> Iterator[Found]:
    """A bath that is prepared without saying how much water.

    The strength of the bath and the size of the pot hang on it.

    Trips:
        alum-bath: prepare in kettle with alum 12 g
        discard alum-bath to "foul drain"
    Cure:
        alum-bath: prepare in kettle with water 3 L, alum 12 g
        discard alum-bath to "foul drain"
    """
    for procedure, written in study.written():
        water = written.item is not None and written.item.text == "water"
        if written.quantity.kind == "unstated" and written.role == "amount" and water:
            yield found(
                procedure,
                written,
                "The source does not say how much water.",
                "Write a liquor ratio such as 30 : 1 of the fibre.",
            )
    for moment in study.moments:
        node = moment.node
        if not (node.does.prepares or node.does.first_water) or (node.bath and not node.makes):
            continue
        liquid = [
            item for thing, item in node.materials if thing == "water" or thing in study.flow.baths
        ]
        if not liquid or any(
            item.quantity is None
            for item in liquid
            if item.name is not None and item.name.text == "water"
        ):
            yield at_node(
                node,
                "It is not said how much water.",
                "Write a liquor ratio such as “water 30 : 1 of yarn”, or litres.",
            )


RULES = (
    unknown_unit,
    wrong_quantity,
    readings_disagree,
    percentage_of_nothing,
    loose_measure,
    which_gallon,
    number_without_unit,
    nothing_of_it,
    hotter_than_boiling,
    below_freezing,
    heat_word_mismatch,
    range_backwards,
    wrong_direction,
    ounces_of_water,
    amount_unstated,
    weight_unstated,
    time_unstated,
    heat_unstated,
    water_unstated,
)
