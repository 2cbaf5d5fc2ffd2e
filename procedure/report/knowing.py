"""What the vocabulary knows of a word, in sentences: one function for each kind of word."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping

from procedure.quantity.number_words import listed, ranged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import Entry, Unit, Verb, Vocabulary
from procedure.vocabulary.colours import FIBRES, NO_MORDANT, Shade, colours_of, fastness
from procedure.vocabulary.library import MATERIAL_TABLES, rows

DEFERRAL = (
    "Local rules and the supplier's safety data sheet come first. Questions of health or "
    "disposal go to those licensed to answer them."
)


class Meaning(NamedTuple):
    """One meaning of a word: its name, what kind of word it is, what is known, and the source."""

    name: str
    kind: str
    sentences: tuple[str, ...]
    source: str


def meanings(word: str, words: Vocabulary) -> list[Meaning]:
    """Every meaning that the vocabulary has for a word; none where it is not known.

    A dyestuff may be named with its part (``tansy tops``), by its botanical name, and
    a chemical by its formula or CAS number. Capitals matter only in units and codes.
    """
    found: list[Meaning] = []
    for table, said in _TABLES.items():
        for entry in _entries(word, table, words):
            sentences = tuple(said(entry, words))
            part = _part_of(word, entry)
            if part:
                sentences = (f"“{part}” is a part of it that is used.", *sentences)
            found.append(Meaning(entry.name, _KINDS[table], sentences, _sources(entry)))
    found += _units(word, words)
    found += _verbs(word, words)
    found += _other_words(word)
    return found


def names(words: Vocabulary) -> list[str]:
    """Every word that can be asked about."""
    known = [*words.units, *words.verbs, *words.heats]
    return list(
        dict.fromkeys([*known, *(name for table in words.tables.values() for name in table)])
    )


# ------------------------------------------------------------------ looking up


def _entries(word: str, table: str, words: Vocabulary) -> list[Entry]:
    here = words.tables.get(table, {})
    folded = word.casefold()
    entry = here.get(word) or here.get(folded) or here.get(word.upper())
    if entry is None and table == "dyestuffs":
        entry = words.material(folded)
        if entry is not None and entry.table != table:
            entry = None
    if entry is not None:
        return [entry]
    identities = ("botanical", "formula", "cas")
    found = {
        id(one): one
        for one in here.values()
        if any(folded == one.facts.get(column, "").casefold() != "" for column in identities)
    }
    return list(found.values())


def _part_of(word: str, entry: Entry) -> str:
    folded = word.casefold()
    if entry.table != "dyestuffs":
        return ""
    for stem in (entry.name, *entry.words("aliases")):
        part = folded.removeprefix(stem + " ")
        if part != folded and part in entry.words("part"):
            return part
    return ""


def _sources(entry: Entry) -> str:
    return entry.facts.get("source", "") or "common practice"


# ------------------------------------------------------------------ wording


def _list(items: tuple[str, ...] | list[str], last: str = "and") -> str:
    return listed(list(items), last)


def _sentence(text: str) -> str:
    """Free words from a data file as a sentence."""
    text = text.strip()
    return f"{text[0].upper()}{text[1:]}." if text else ""


def _a(phrase: str) -> str:
    return f"{'an' if phrase[0] in 'aeiou' else 'a'} {phrase}"


def _range(low: str, high: str, unit: str) -> str:
    return f"{ranged(low, high or low)} {unit}"


def _aliases(entry: Entry) -> Iterator[str]:
    if entry.words("aliases"):
        yield f"Also called {_list(entry.words('aliases'))}."


def _identity(entry: Entry) -> Iterator[str]:
    formula, cas = entry.facts.get("formula", ""), entry.facts.get("cas", "")
    said = [f"formula {formula}"] if formula else []
    said += [f"CAS number {cas}"] if cas else []
    if said:
        yield _sentence(_list(said))


_CALLS = {
    "gloves": "gloves",
    "eyes": "eye protection",
    "air": "fresh air",
    "cover": "a lid on the bath",
    "extra_wash": "one washing more at the end",
}


def hazards(entry: Entry, words: Vocabulary) -> Iterator[str]:
    """A sentence for each hazard of a material, in GHS wording where it has a code, then what
    they call for."""
    called: dict[str, None] = {}
    away = False
    for word in entry.words("hazards"):
        code = words.find(word, "ghs")
        hazard = code or words.find(word, "hazards")
        if hazard is None:
            yield f"Hazard: {word}."
            continue
        plain = hazard.facts.get("plain", "")
        if code is not None:
            yield f"Hazard {word} (GHS): {code.facts['statement']}. In plain words: {plain}."
        else:
            yield f"Hazard: {word}: {plain}."
        called |= dict.fromkeys(said for column, said in _CALLS.items() if hazard.yes(column))
        away = away or hazard.yes("children") or hazard.yes("no_children")
    if called:
        yield f"It calls for {_list(list(called))}."
    if away:
        yield "Children keep away."


def _meetings(entry: Entry) -> Iterator[str]:
    """The things that a material must not meet, by its name, its roles and its metal."""
    roles = {*entry.words("role"), *entry.words("also")}
    metal = entry.facts.get("metal", "")
    mine = {("material", entry.name), *(("role", role) for role in roles)}
    mine |= {("mordant metal", metal)} if metal else {("pot", entry.name)}
    if entry.table == "metals":
        mine = {("pot", entry.name)}
    elif entry.table == "fibres":
        mine = {("fibre class", entry.facts["class"])}
    else:
        mine.discard(("pot", entry.name))
    for row in rows("meetings"):
        sides = (row["first_kind"], row["first"]), (row["second_kind"], row["second"])
        for this, (kind, other) in (sides, sides[::-1]):
            if this in mine:
                said = {"role": f"any {other}", "mordant metal": f"{other} mordants"}
                said |= {"pot": f"a pot of {other}", "fibre class": f"{other} fibre"}
                what, remedy = row["what"], _sentence(row["remedy"])
                yield f"Keep it from {said.get(kind, other)}: {what}. {remedy} ({row['source']})"
                break


def _deferral(entry: Entry) -> Iterator[str]:
    facts = entry.facts
    if any(facts.get(column) for column in ("hazards", "cas", "formula", "restricted", "harm")):
        yield DEFERRAL


# ------------------------------------------------------------------ the tables

_CLASSES = {
    "mordant": "Its colour is made by the mordant.",
    "substantive": "Its colour holds by itself, or by a tannin of its own.",
    "vat": "It goes on in a vat without oxygen and comes out in the air.",
    "acid extract": "It goes on from an acid bath.",
}
_MORDANT_NEED = {
    "needed": "It needs a mordant.",
    "helps": "It holds without a mordant, and better with one.",
    "not needed": "It needs no mordant.",
}


def _dyestuff(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    botanical = facts.get("botanical", "")
    danger = words.danger(entry)
    level = danger.facts["level"] if danger is not None else ""
    if danger is not None and not danger.facts["dyestuff"]:
        yield f"A plant, {botanical}; how it dyes is not told here."
    else:
        yield f"A dyestuff{f', {botanical}' if botanical else ''}."
    if danger is not None and level in ("deadly", "poisonous"):
        yield from _grave(danger)
    yield from _aliases(entry)
    if entry.words("part"):
        yield f"Parts used: {_list(entry.words('part'))}."
    dyes = danger is None or danger.facts["dyestuff"]
    yield _CLASSES.get(facts.get("dye_class", ""), "") if dyes else ""
    if entry.words("also"):
        yield f"It also serves as {_list([_a(role) for role in entry.words('also')])}."
    amounts = [
        f"{state} {_range(facts[f'{state}_low'], facts[f'{state}_high'], '%')}"
        for state in ("fresh", "dried")
        if facts.get(f"{state}_low")
    ]
    if amounts:
        yield f"Usual amounts on the dry weight of the fibre: {_list(amounts)}."
    yield _MORDANT_NEED.get(facts.get("mordant", ""), "") if dyes else ""
    limit, least = facts.get("heat_limit_c", ""), facts.get("minutes_above", "")
    if limit:
        more = f"; it bears more for {least} min" if least else ""
        yield f"Heat above {limit} °C spoils its colour{more}."
    if facts.get("heat_limit_cellulose_c"):
        yield f"On cellulose the bath stays below {facts['heat_limit_cellulose_c']} °C."
    yield _sentence(facts.get("heat_note", ""))
    yield from _colours(entry)
    yield from _in_light(entry)
    if entry.yes("iron_sensitive"):
        yield "Iron dulls it."
    yield _sentence(facts.get("cautions", ""))
    yield from hazards(entry, words)
    yield from _meetings(entry)
    yield from _deferral(entry)


def _grave(plant: Entry) -> Iterator[str]:
    """How dangerous a plant is, first of all, and what to take in its stead."""
    kills = "It is deadly: a little of it can kill."
    yield kills if plant.facts["level"] == "deadly" else "It is poisonous."
    refused = "A careful teacher refuses it outright. " if plant.yes("refuse") else ""
    yield f"{refused}Harmless, and of a like colour: {plant.facts['instead']}."


def _in_light(entry: Entry) -> Iterator[str]:
    """How fast it is in light: as dyers say, as was published, and why those may differ."""
    called = entry.facts.get("lightfast", "")
    if called:
        on_alum = ", on an alum mordant" if entry.facts.get("dye_class") == "mordant" else ""
        yield f"In light dyers call it {called}{on_alum}."
    found = fastness(entry.name)
    for one in found:
        where = " ".join(
            part for part in (one.fibre and f"on {one.fibre}", _on(one.mordant)) if part
        )
        measured = f" ({one.grade})" if one.grade else ""
        yield f"Published{f', {where}' if where else ''}: {one.word}{measured}. {one.source}."
    if len({one.word for one in found} | ({called} if called else set())) > 1:
        yield (
            "Where these lines differ they speak of another fibre, mordant or way of testing: go "
            "by the one nearest to your work."
        )


def _on(mordant: str) -> str:
    if not mordant:
        return ""
    return "without a mordant" if mordant == NO_MORDANT else f"with {mordant}"


def _colours(entry: Entry) -> Iterator[str]:
    """A sentence for each class of fibre on what the dyestuff gives, then the sources."""
    found = colours_of(entry.name)
    for fibre in dict.fromkeys(one.fibre for one in found):
        said = [_colour(one) for one in found if one.fibre == fibre]
        yield f"Colours on {FIBRES.get(fibre, fibre)}: {'; '.join(said)}."
    if found:
        sources = "; ".join(dict.fromkeys(one.source.partition("; ")[0] for one in found))
        yield f"The swatches after # are approximate. From {sources}."


def _colour(one: Shade) -> str:
    after = f", after {one.after}" if one.after and not one.after.startswith("overdye") else ""
    over = (
        f", over or under {one.after.partition(': ')[2]}" if one.after.startswith("overdye") else ""
    )
    swatch = f" ({one.hex})" if one.hex else ""
    part = f" from its {listed(one.part.split('; '))}" if one.part else ""
    return f"{_on(one.mordant)}{after}{over} {one.colour}{swatch}{part}"


def _usual(facts: Mapping[str, str]) -> Iterator[str]:
    """The usual amounts of a mordant on each class of fibre, and when it is too much."""
    for fibre in ("protein", "cellulose"):
        if facts.get(f"{fibre}_low"):
            usual = _range(facts[f"{fibre}_low"], facts[f"{fibre}_high"], "%")
            said = f"On {fibre} fibre {usual} of its dry weight is usual"
            excess, effect = facts.get(f"{fibre}_excess", ""), facts.get("excess_effect", "")
            if excess and effect and not (fibre == "cellulose" and "wool" in effect):
                said += f"; above {excess} % it {effect}"
            elif excess:
                said += f"; above {excess} % is too much"
            yield f"{said}."


def _mordant(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    yield _sentence(_list([_a(role) for role in entry.words("role")]))
    yield from _aliases(entry)
    yield from _identity(entry)
    if entry.words("also"):
        yield f"It also serves as {_list([_a(role) for role in entry.words('also')])}."
    if facts.get("metal"):
        yield f"It leaves {facts['metal']} on the fibre."
    yield from _usual(facts)
    if facts.get("heat_limit_c"):
        yield f"Its bath stays below {facts['heat_limit_c']} °C."
    if entry.yes("rinse_first"):
        yield "It is rinsed off before the dyebath."
    for row in rows("tannin_equivalents"):
        if row["name"] == entry.name and row["parts"] != "1":
            yield (
                f"{row['parts']} parts of it by weight do the work of 1 of tannic acid "
                f"({row['source']})."
            )
    if facts.get("restricted"):
        yield f"Restricted: {facts['restricted']}."
    if facts.get("safer"):
        yield f"Safer: {facts['safer']}."
    yield from hazards(entry, words)
    yield from _meetings(entry)
    yield from _deferral(entry)


def _assistant(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    strength = f"{facts['strength']} " if facts.get("strength") else ""
    roles = [_a(f"{strength}{role}") for role in entry.words("role") if role != "other"]
    yield _sentence(_list(roles)) or "Something that goes in a bath."
    yield from _aliases(entry)
    yield from _identity(entry)
    if entry.words("also"):
        yield f"It also serves as {_list([_a(role) for role in entry.words('also')])}."
    yield _sentence(facts.get("heat_note", ""))
    yield _sentence(facts.get("in_water", ""))
    yield from hazards(entry, words)
    yield from _meetings(entry)
    yield from _deferral(entry)


def _fibre(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    made = f" of {_list(entry.words('made_of'))}" if entry.words("made_of") else ""
    fibre = facts["class"] if facts["class"] == "blend" else f"{facts['class']} fibre"
    yield f"{_a(fibre).capitalize()}{made}."
    yield from _aliases(entry)
    felting = {"yes": "It felts.", "little": "It felts little.", "no": "It does not felt."}
    yield felting.get(facts.get("felts", ""), "")
    if facts.get("heat_limit_c"):
        yield f"The hottest bath for it is {facts['heat_limit_c']} °C."
    alkali = {"sensitive": "Alkali harms it.", "tolerant": "It bears alkali."}
    yield alkali.get(facts.get("alkali", ""), "")
    if facts.get("wetting_min"):
        yield f"It is wetted out for at least {facts['wetting_min']} min before a bath."
    tannin = {"wanted": "It wants tannin before a mordant.", "not wanted": "It wants no tannin."}
    yield tannin.get(facts.get("tannin", ""), "")
    yield _sentence(facts.get("note", ""))
    yield from _meetings(entry)


def _metal(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    yield "What a vessel is made of."
    yield from _aliases(entry)
    heat = {
        "yes": "It can stand on a hob.",
        "gently": "It bears gentle heat only.",
        "no": "It cannot be heated.",
    }
    yield heat.get(facts.get("heatable", ""), "")
    if facts.get("acts_as"):
        yield f"It acts on the dye as {facts['acts_as']} does."
    if entry.words("attacked_by"):
        yield f"It is attacked by {_list(entry.words('attacked_by'))}."
    yield _sentence(facts.get("note", ""))
    yield from _meetings(entry)


def _plant(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    harms = {
        "poison": "poisons",
        "sting": "stings",
        "burn in sunlight": "makes skin burn in sunlight",
        "irritate": "irritates",
        "allergy": "brings on allergies",
    }
    yield f"A plant that {_list([harms.get(harm, harm) for harm in entry.words('harm')])}."
    yield f"It is {facts['level']}."
    if entry.yes("refuse"):
        yield "A careful teacher refuses it outright."
    if facts["instead"]:
        yield f"A harmless plant of a like colour: {facts['instead']}."
    yield from _aliases(entry)
    if facts.get("botanical"):
        yield f"Its botanical name is {facts['botanical']}."
    if entry.words("part"):
        yield f"What harms: {_list(entry.words('part'))}."
    if entry.words("looks_like"):
        yield f"It is taken for {_list(entry.words('looks_like'), 'or')}."
    yield _sentence(facts.get("care", ""))
    yield from _deferral(entry)


def _hazard(entry: Entry, words: Vocabulary) -> Iterator[str]:
    facts = entry.facts
    if entry.table == "ghs":
        signal = f" (signal word: {facts['signal']})" if facts.get("signal") else ""
        yield f"A hazard statement of the GHS: {facts['statement']}{signal}."
        if facts.get("pictogram"):
            yield f"Its label bears the pictogram {facts['pictogram']}."
        yield f"In plain words: {facts['plain']}."
    else:
        yield _sentence(facts["plain"])
    called = [said for column, said in _CALLS.items() if entry.yes(column)]
    if called:
        yield f"It calls for {_list(called)}."
    if entry.yes("children") or entry.yes("no_children"):
        yield "Children keep away."
    held = {
        one.name: None
        for table in MATERIAL_TABLES
        for one in words.tables.get(table, {}).values()
        if entry.name in one.words("hazards")
    }
    if held:
        yield f"So are marked: {_list(list(held))}."
    yield DEFERRAL


_TABLES: dict[str, Callable[[Entry, Vocabulary], Iterator[str]]] = {
    "fibres": _fibre,
    "dyestuffs": _dyestuff,
    "mordants": _mordant,
    "assistants": _assistant,
    "metals": _metal,
    "plants_that_harm": _plant,
    "hazards": _hazard,
    "ghs": _hazard,
}
_KINDS = {
    "fibres": "fibre",
    "dyestuffs": "dyestuff",
    "mordants": "mordant, modifier or tannin",
    "assistants": "assistant",
    "metals": "vessel material",
    "plants_that_harm": "plant that harms",
    "hazards": "hazard",
    "ghs": "hazard statement",
}


# ------------------------------------------------------------------ units, verbs, other words

_BASES = {
    "mass": "g",
    "volume": "L",
    "spoon": "L",
    "time": "min",
    "length": "m",
    "concentration": "g/L",
    "power": "W",
    "concentration by volume": "L/L",
}


def _units(word: str, words: Vocabulary) -> Iterator[Meaning]:
    unit = words.units.get(word) or words.units.get(word.casefold())
    if unit is not None:
        aliases = [name for name, one in words.units.items() if one is unit and name != unit.name]
        yield Meaning(unit.name, "unit", tuple(_unit(unit, aliases)), unit.source)


def _unit(unit: Unit, aliases: list[str]) -> Iterator[str]:
    kinds = {"mass": "weight", "count": "number of pieces", "spoon": "spoon or cup measure"}
    yield f"A unit of {kinds.get(unit.kind, unit.kind)}."
    if aliases:
        yield f"Also written {_list(aliases)}."
    if unit.vague:
        low, high = (_figure(float(one)) for one in (unit.factor, unit.factor_high))
        choices = unit.ask.replace("; ", " or ")
        yield f"It may be {low} or {high} {_BASES[unit.kind]}: write {choices}."
    elif unit.kind == "temperature":
        if unit.offset:
            yield f"A reading in {unit.name} plus {unit.offset}, times {unit.factor}, is °C."
    elif unit.factor != 1 and unit.kind in _BASES:
        yield f"1 {unit.name} is {_figure(float(unit.factor))} {_BASES[unit.kind]}."
    if unit.kind == "spoon":
        yield "It is a loose measure for solids."


def _figure(value: float) -> str:
    return f"{value:.10g}"


def _verbs(word: str, words: Vocabulary) -> Iterator[Meaning]:
    verb = words.verbs.get(word) or words.verbs.get(word.casefold())
    if verb is not None:
        source = "the language reference"
        yield Meaning(verb.name, f"verb, on {verb.group}", tuple(_verb(verb)), source)


def _verb(verb: Verb) -> Iterator[str]:
    yield _sentence(verb.meaning)
    if verb.objects:
        things = [{"thing": "material, water or bath"}.get(one, one) for one in verb.objects]
        yield f"It comes before {_list([_a(one) for one in things], 'or')}."
    for need in verb.needs:
        yield f"It needs {_list([f'“{one}”' for one in need.split('|')], 'or')}."
    may = sorted(verb.may - {one for need in verb.needs for one in need.split("|")})
    if may:
        yield f"It may have {_list([f'“{one}”' for one in may])}."
    if verb.asks:
        yield f"A reader will ask for the {_list(verb.asks)}."


_WORD_KINDS = {
    "audience": "who the procedure is for",
    "form": "the form of fibre",
    "look of equipment": "how a pot or a tool looks",
    "look of fibre": "how fibre looks",
    "look of materials": "how a material looks",
    "loose": "loose measure",
    "manner": "how a step is done",
    "part": "the part that a material plays",
    "place": "where the work is done",
    "state": "the state of a thing",
    "use": "what a pot is used for",
    "wearing": "what is worn",
}


def _other_words(word: str) -> Iterator[Meaning]:
    for row in rows("words"):
        aliases = [one.strip() for one in row["aliases"].split(";") if one.strip()]
        if word.casefold() not in {one.casefold() for one in (row["name"], *aliases)}:
            continue
        sentences = [_sentence(row["meaning"])]
        if row["low"]:
            unit = "°C" if row["kind"] == "heat" else "min"
            sentences.append(f"It stands for {_range(row['low'], row['high'], unit)}.")
            if row["name"] == "boil":
                sentences.append("Water boils cooler the higher the place lies.")
        if aliases:
            sentences.append(f"Also said: {_list(aliases)}.")
        kind = _WORD_KINDS.get(row["kind"], row["kind"])
        yield Meaning(row["name"], kind, tuple(sentences), row["source"])
