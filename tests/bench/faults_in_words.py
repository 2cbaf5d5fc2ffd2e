"""Faults of the pen: units, amounts, ranges, readings, names."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faults import Fault, fault, kind
from sound import Sound, written_unit

from procedure.model import Quantity, Step
from procedure.model.types import Written

# What an amount that is far too large or small does, whatever it is an amount of.
AMOUNTS = (
    "too-much-mordant too-little-mordant too-much-dyestuff too-little-dyestuff "
    "too-much-of-it too-little-liquor pot-too-small pot-too-full split-does-not-add-up "
    "readings-disagree tin-without-oxalic-acid bath-worn-out unlikely-size "
    "vat-out-of-proportion more-ready-than-used more-than-there-is pieces-do-not-add-up"
)


def _unit_changed(
    sound: Sound, old: str, new: str, *roles: str
) -> Iterator[tuple[Written, Quantity, str]]:
    for written in sound.model.written:
        quantity = written.quantity
        place = written_unit(quantity)
        if place is None or quantity.unit is None or (roles and written.role not in roles):
            continue
        if sound.lines[place.line - 1][place.column - 1 : place.to - 1] == old:
            yield written, quantity, sound.put(place, new)


def _concerned(sound: Sound, written: Written) -> set[int]:
    """The line of a quantity, the declaration of what it measures, and where that is used."""
    lines = {written.quantity.place.line}
    if written.step is not None:
        lines |= set(sound.extent(written.step.place.line))
        if written.step.label is not None:
            lines |= sound.lines_of(sound.using(written.step.label.text))
    else:
        words = sound.lines[written.quantity.place.line - 1].split(":")[0].strip()
        lines |= sound.lines_of(sound.using(words))
    return lines


def _said(written: Written, new: str) -> str:
    return f"“{written.quantity.text}” becomes {new}"


@kind("grams become kilograms", "units", finds=AMOUNTS, follows="weight-unstated")
def grams_to_kilograms(sound: Sound) -> Iterator[Fault]:
    """A weight a thousand times too heavy. Found where it stands or where the thing is used."""
    for written, _, text in _unit_changed(sound, "g", "kg"):
        yield fault(text, _concerned(sound, written), _said(written, "kg"))


@kind("millilitres become litres", "units", finds=AMOUNTS)
def millilitres_to_litres(sound: Sound) -> Iterator[Fault]:
    """A volume a thousand times too large. Found where it stands."""
    for written, _, text in _unit_changed(sound, "mL", "L"):
        yield fault(text, _concerned(sound, written), _said(written, "L"))


@kind("litres become millilitres", "units", finds=AMOUNTS)
def litres_to_millilitres(sound: Sound) -> Iterator[Fault]:
    """A volume a thousand times too small. Found where it stands or where the pot is used."""
    for written, _, text in _unit_changed(sound, "L", "mL"):
        yield fault(text, _concerned(sound, written), _said(written, "mL"))


HEATS = (
    "readings-disagree below-freezing heat-word-mismatch wrong-direction heat-in-other-scale "
    "range-backwards hotter-than-boiling"
)
# A heat that is not what was meant: colder or hotter than the work wants.
FROM_HEAT = (
    "heat-shock heat-changed-fast bath-still-hot too-hot-for-fibre dyestuff-too-hot gone-cold"
)


@kind("°C becomes °F", "units", finds=HEATS, follows=FROM_HEAT)
def celsius_to_fahrenheit(sound: Sound) -> Iterator[Fault]:
    """Eighty-five degrees, but of the other scale. Found where it stands."""
    for written, quantity, text in _unit_changed(sound, "°C", "°F"):
        yield fault(text, [quantity.place.line], _said(written, "°F"))


@kind(
    "°F becomes °C",
    "units",
    finds=HEATS,
    follows=FROM_HEAT + " vat-too-hot tannin-too-hot boiled-too-long stirred-hot hot-alkali "
    "no-fresh-air cannot-be-heated",
)
def fahrenheit_to_celsius(sound: Sound) -> Iterator[Fault]:
    """A hundred and five degrees, and of the hotter scale. Found where it stands."""
    for written, quantity, text in _unit_changed(sound, "°F", "°C"):
        yield fault(text, [quantity.place.line], _said(written, "°C"))


TIMES = (
    "unlikely-time soaked-too-briefly aired-too-briefly heat-changed-fast "
    "boiled-too-long heated-unattended range-backwards stirred-hot dyestuff-too-hot"
)
# Work that goes on for days is left alone, and what is left alone wants a lid and a label.
LEFT_ALONE = " left-uncovered left-unlabelled"


# Of “1 h 30 min” it makes “1 h 30 h”, in which no unit can be read.
@kind("minutes become hours", "units", finds=TIMES + " unknown-unit", follows=LEFT_ALONE)
def minutes_to_hours(sound: Sound) -> Iterator[Fault]:
    """A time sixty times too long. Found at its step.

    Wool that hangs in the air, lies wet, rests or dries for hours takes no harm, and a vat
    may stand for days; nor do two or three hours of rinsing water harm anything.
    """
    patient = ("air", "rest", "dry", "stand", "wet")
    for written, quantity, text in _unit_changed(sound, "min", "h", "time"):
        effect = written.step.effect if written.step is not None else ""
        hours = quantity.low or 0
        if effect in patient or (effect in ("rinse", "wash") and hours <= 3):
            continue
        yield fault(text, _concerned(sound, written), _said(written, "h"))


@kind("hours become minutes", "units", finds=TIMES, follows="heat-shock")
def hours_to_minutes(sound: Sound) -> Iterator[Fault]:
    """A time sixty times too short.

    Found at its step, or for a soak where the fibre goes into the next bath.
    """
    for written, _, text in _unit_changed(sound, "h", "min", "time"):
        step = written.step
        if step is None or "min" in written.quantity.text:
            continue
        lines = set(sound.extent(step.place.line))
        if step.effect == "wet":
            entering = next((s for s in sound.after(step) if s.effect in ("treat", "dip")), None)
            if entering is None:
                continue  # a soak before scouring may be short
            lines.add(entering.place.line)
        yield fault(text, lines, _said(written, "min"))


def _in_vat(sound: Sound, step: Step) -> bool:
    moment = sound.moments.get(step.place.line)
    made = sound.contents(moment) if moment is not None else []
    return any(m.entry is not None and m.entry.facts.get("dye_class") == "vat" for m in made)


def _times_ten(sound: Sound, up: bool) -> Iterator[tuple[Written, str]]:
    for written in sound.model.written:
        quantity, name = written.quantity, written.item
        if name is None or quantity.reading is not None or quantity.low is None:
            continue
        made = sound.material(name.text)
        if made is None or made.entry is None or written.step is None:
            continue
        if written.step.effect in ("gather", "ready"):
            continue
        # A salt in a vat is a reducer there, and no range on the fibre is known for it.
        judged = made.entry.table == "dyestuffs" or (
            made.entry.table == "mordants" and not _in_vat(sound, written.step)
        )
        if not judged:
            continue
        numbers = re.compile(r"\d+(?:\.\d+)?(?:\s\d/\d|/\d+)?")
        shown = re.split(r"\s+of\s|\s:\s", quantity.text)[0]

        def scaled(found: re.Match[str]) -> str:
            if "/" in found.group():
                return found.group() if not up else "10 " + found.group()
            value = float(found.group()) * (10 if up else 0.1)
            return f"{value:g}"

        new = numbers.sub(scaled, shown)
        if "/" not in shown and new != shown:
            start = quantity.place.column
            place = quantity.place._replace(column=start, to=start + len(shown))
            yield written, sound.put(place, new)


@kind(
    "an amount times ten",
    "amounts",
    least="note",
    finds="too-much-mordant too-much-dyestuff too-much-of-it pot-too-small pot-too-full "
    "vat-out-of-proportion",
    follows="must-not-meet wrong-order-of-pouring",
)
def times_ten(sound: Sound) -> Iterator[Fault]:
    """A dyestuff or mordant with a nought too many. Found where it stands."""
    for written, text in _times_ten(sound, True):
        yield fault(text, _concerned(sound, written), _said(written, "ten times that"))


@kind(
    "an amount divided by ten",
    "amounts",
    least="note",
    finds="too-little-mordant too-little-dyestuff more-ready-than-used vat-out-of-proportion",
    follows="bath-worn-out",
)
def tenth(sound: Sound) -> Iterator[Fault]:
    """A dyestuff or mordant with its point slipped. Found where it stands."""
    for written, text in _times_ten(sound, False):
        yield fault(text, _concerned(sound, written), _said(written, "a tenth of that"))


@kind(
    "a percentage of nothing",
    "units",
    least="note",
    finds="""
    percentage-of-nothing share-of-no-fibre taken-of-the-fibre number-without-unit cannot-read""",
    follows="wrong-kind-of-thing",
)
def base_taken_away(sound: Sound) -> Iterator[Fault]:
    """“12 % of yarn” loses “of yarn”. Found where it stands."""
    for written in sound.model.written:
        quantity = written.quantity
        if quantity.base and quantity.base_place is not None:
            line, column, to = quantity.base_place
            row = sound.lines[line - 1]
            start = row.rindex(" of ", 0, column - 1)
            for other in quantity.more_bases:  # “of pale and dark” loses both
                more = re.match(rf"(?: and|,) {re.escape(other)}\b", row[to - 1 :])
                to += more.end() if more is not None else 0
            text = sound.with_line(line, row[:start] + row[to - 1 :])
            yield fault(text, [line], f"“{quantity.text}” loses its base")


@kind(
    "a number without its unit",
    "units",
    # “60 covered” has a word for a unit; “20 to 75 °C (167 °F)” is a range whose readings differ.
    finds="number-without-unit unknown-unit readings-disagree cannot-read",
    # A heat, a time or an amount is then not said.
    follows="weight-unstated heat-shock bath-without-fibre wrong-direction",
)
def unit_stripped(sound: Sound) -> Iterator[Fault]:
    """“240 g” becomes “240”. Found where it stands."""
    for written in sound.model.written:
        quantity = written.quantity
        place = written_unit(quantity)
        if place is None or quantity.kind in ("percent", "count") or quantity.reading is not None:
            continue
        if quantity.each is not None or "%" in quantity.text:
            continue
        behind = sound.lines[place.line - 1][place.to - 1 :]
        if re.match(r" to [\d.]+ °", behind):
            continue  # “from 40 to 85 °C” is how people say it
        yield fault(sound.put(place, ""), [place.line], f"“{quantity.text}” loses its unit")


@kind("a range backwards", "units", finds="range-backwards")
def range_backwards(sound: Sound) -> Iterator[Fault]:
    """“8 to 10 %” becomes “10 to 8 %”. Found where it stands."""
    for written in sound.model.written:
        quantity = written.quantity
        found = re.match(r"(\d[\d.]*) to (\d[\d.]*)(?!\s*\d/)\s", quantity.text)
        if found is None or "/" in quantity.text.split("to")[1][:8]:
            continue
        place = quantity.place._replace(to=quantity.place.column + found.end(2))
        text = sound.put(place, f"{found.group(2)} to {found.group(1)}")
        yield fault(text, [place.line], f"“{quantity.text}” backwards")


@kind("two readings that disagree", "units", finds="readings-disagree")
def readings_disagree(sound: Sound) -> Iterator[Fault]:
    """The second reading, in brackets, is of another heat or weight. Found where it stands."""
    for written in sound.model.written:
        reading = written.quantity.reading
        if reading is None or reading.low is None:
            continue
        number = re.match(r"[\d.]+", reading.text)
        if number is None:
            continue
        other = f"{float(number.group()) * 1.2:.0f}"
        place = reading.place._replace(to=reading.place.column + number.end())
        yield fault(sound.put(place, other), [place.line], f"“{reading.text}” becomes {other}")


@kind(
    "a heat of both scales swapped",
    "units",
    finds="readings-disagree " + HEATS,
    follows=FROM_HEAT + " cannot-be-heated vat-dipped-cold",
)
def readings_swapped(sound: Sound) -> Iterator[Fault]:
    """“85 °C (185 °F)” becomes “85 °F (185 °C)”. Found where it stands."""
    for written in sound.model.written:
        quantity = written.quantity
        if quantity.kind != "temperature" or quantity.reading is None:
            continue
        new = quantity.text.replace("°C", "°K").replace("°F", "°C").replace("°K", "°F")
        yield fault(sound.put(sound.whole(quantity), new), [quantity.place.line], f"now “{new}”")


def _misspelt(word: str) -> str:
    """A word with its second and third letters changed about, or one doubled."""
    turned = word[0] + word[2] + word[1] + word[3:]
    return turned if turned != word else word[0] + word[1] * 2 + word[2:]


@kind(
    "a misspelt word in a declaration",
    "names",
    finds="unknown-word unknown-unit part-unstated which-is-meant",
    # Nothing is known of the thing then: whether it is scoured, what it dyes, what it holds.
    follows="clean-or-not-unstated use-unstated covered-without-lid stuff-unstated "
    "nothing-to-dye-with no-mordant vat-without-alkali vat-without-reducer no-tannin "
    "cannot-be-heated pot-too-small scoured-in-plain-water alkali-left never-used "
    # “satinless steel” is read as steel.
    "pot-acts-as-mordant water-in-rusty-pot weight-unstated "
    # “oak glals” is read as oak.
    "too-little-dyestuff too-much-dyestuff",
)
def misspelt(sound: Sound) -> Iterator[Fault]:
    """Two letters of a trade word are changed about. Found at that declaration."""
    for number, row in enumerate(sound.lines, 1):
        found = re.match(r"  ([\w-]+):\s+(\S.*)$", row)
        if found is None or found.group(1) not in (
            sound.model.lots | sound.model.equipment | sound.model.materials
        ):
            continue
        if sound.lines[number - 1].strip().startswith("#") or number in sound.lines_of(sound.steps):
            continue
        first = re.search(r"[a-z]{5,}", found.group(2))
        if first is None or '"' in found.group(2)[: first.start()]:
            continue
        start = found.start(2) + first.start()
        word = first.group()
        text = sound.with_line(number, row[:start] + _misspelt(word) + row[start + len(word) :])
        yield fault(text, [number], f"“{word}” becomes “{_misspelt(word)}”")


@kind("a word written twice", "names", finds="cannot-read")
def doubled(sound: Sound) -> Iterator[Fault]:
    """The verb of a step is written twice. Found at that step."""
    for step in sound.steps:
        if step.verb is not None and step.word:
            place = step.verb_place
            written = sound.lines[place.line - 1][place.column - 1 : place.to - 1]
            yield fault(sound.put(place, f"{written} {written}"), [place.line], "twice")


@kind(
    "a misspelt verb",
    "names",
    finds="cannot-read",
    follows="""
    used-before-made not-declared left-in-bath fibre-still-in-it bath-left-over never-used
    ends-unrinsed entered-dry soaked-too-briefly no-mordant no-tannin bath-without-fibre
    heat-shock bath-still-hot mordant-not-rinsed dye-carried-over soap-carried-over alkali-left
    poison-not-washed-out vat-not-aired pot-not-cleaned pot-not-free used-after-emptied
    unscoured-fibre wrong-direction nothing-to-dye-with vat-without-reducer rinsed-together
    dried-before-bath stirred-hot plants-left-loose plant-left-in""",
)
def misspelt_verb(sound: Sound) -> Iterator[Fault]:
    """Two letters of a verb are changed about. Found at that step.

    Whatever follows where that step is not done follows here.
    """
    for step in sound.steps:
        if step.verb is None or len(step.verb.name) < 3:
            continue
        place = step.verb_place
        text = sound.put(place, _misspelt(step.verb.name))
        yield fault(text, [place.line], f"“{step.verb.name}” misspelt")


# What is not done to a thing because another name stands in its place.
NOT_DONE = """
    never-used bath-left-over left-in-bath fibre-still-in-it pot-not-free used-before-made
    entered-dry ends-unrinsed mordant-not-rinsed dye-carried-over soap-carried-over alkali-left
    poison-not-washed-out no-mordant no-tannin bath-without-fibre vat-not-aired heat-shock
    pot-not-cleaned bath-still-hot split-does-not-add-up something-missing lot-in-two-places
    percentage-of-nothing share-of-no-fibre weight-unstated nothing-to-dye-with
    wrong-direction soaked-too-briefly
    rinsed-together unscoured-fibre stirred-hot too-much-mordant plants-left-loose"""


@kind("one use of a name renamed", "names", finds="not-declared", follows=NOT_DONE)
def renamed(sound: Sound) -> Iterator[Fault]:
    """One use of a lot, a bath, a pot or a material bears a name that nothing has.

    Found where it stands.
    """
    for step in sound.steps:
        if step.kind == "follow":
            continue
        items = [*step.objects, *step.using]
        items += [one for one in (step.within,) if one is not None]
        for item in items:
            if item.name is None or item.name.text == "water":
                continue
            place = item.name.place
            text = sound.put(place, item.name.text + "-x")
            yield fault(text, [place.line], f"“{item.name.text}” becomes “{item.name.text}-x”")


@kind("a name declared twice", "names", finds="declared-twice", follows="never-used")
def declared_twice(sound: Sound) -> Iterator[Fault]:
    """A declaration stands there a second time. Found at either."""
    for table in (sound.model.lots, sound.model.equipment, sound.model.materials):
        for thing in table.values():
            line = thing.name.place.line
            if thing.name.text in sound.model.brought:
                continue
            text = sound.with_before(line, sound.lines[line - 1].strip().rstrip(","))
            yield fault(text, [line, line + 1], f"“{thing.name.text}” declared twice")


@kind(
    "an amount left out",
    "unstated",
    least="note",
    finds="""
    amount-unstated water-unstated weight-unstated something-missing""",
    follows="""
    percentage-of-nothing share-of-no-fibre too-little-liquor used-after-emptied""",
)
def amount_left_out(sound: Sound) -> Iterator[Fault]:
    """“alum 12 % of yarn” becomes “alum”: a gap, which the reader must fill.

    Found where it stands. Rinsing and washing water is as much as covers the fibre, and
    topping up is to the old height; neither needs a number.
    """
    for written in sound.model.written:
        quantity, step = written.quantity, written.step
        if written.item is None or step is None or step.effect in ("split", "discard", "gather"):
            continue
        if step.effect == "ready":
            continue  # how much is ground is said where it is put in
        if written.item.text == "water" and step.effect in ("rinse", "wash", "top up"):
            continue
        line, column, to = sound.whole(quantity)
        row = sound.lines[line - 1]
        if row[column - 2] != " ":
            continue
        text = sound.with_line(line, row[: column - 2] + row[to - 1 :])
        yield fault(text, [line], f"“{quantity.text}” left out")


@kind("a time left out", "unstated", least="note", finds="time-unstated something-missing")
def time_left_out(sound: Sound) -> Iterator[Fault]:
    """A step that takes time loses its “for ...”. Found at the step."""
    for step in sound.steps:
        if step.lasting is None or step.verb is None or step.until is not None:
            continue
        if "time" not in step.verb.asks and "for" not in " ".join(step.verb.needs):
            continue
        if step.manner & {"overnight", "until-next-day"}:
            continue
        line, column, to = step.lasting.place
        row = sound.lines[line - 1]
        start = row.rindex(" for ", 0, column)
        text = sound.with_line(line, row[:start] + row[to - 1 :])
        yield fault(text, sound.extent(step.place.line), f"“for {step.lasting.text}” left out")


@kind("a heat left out", "unstated", least="note", finds="heat-unstated something-missing")
def heat_left_out(sound: Sound) -> Iterator[Fault]:
    """A mordant or dye bath loses all word of its heat. Found at the step."""
    for step, moment in sound.of("treat", "scour"):
        item = step.at
        if item is None or step.source is not None or step.to is not None:
            continue
        if step.verb is None or "heat" not in step.verb.asks:
            continue
        bath = moment.bath_before
        if bath is not None and bath.heat is not None and bath.heat_said:
            continue  # the bath's own heat has been said
        line, column, to = item.place
        row = sound.lines[line - 1]
        start = row.rindex(" at ", 0, column)
        text = sound.with_line(line, row[:start] + row[to - 1 :])
        yield fault(text, sound.extent(step.place.line), f"“{row[start : to - 1]}” left out")
