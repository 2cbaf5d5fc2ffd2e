"""Who touches or breathes what: the hazards that each step brings to those who do it.

A hazard is a row of ``hazards.csv`` or ``ghs.csv``. What is weighed out or put in
has the hazards of the substance as sold; a bath has those that it still carries at
its strength; fibre and pots have what only a wash takes off.
"""

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import lru_cache

from procedure.facts.in_words import told_in_words
from procedure.facts.study import Study
from procedure.findings import Named, Says, listed, say
from procedure.language import once_for_each_node
from procedure.model import Material
from procedure.model.harm import (
    clauses_of,
    named_pieces,
    own_hazard_words,
    plants_in,
    plants_named,
    undenied,
    words_in,
)
from procedure.quantity.interval import ENDLESS
from procedure.quantity.ready_patterns import pattern
from procedure.quantity.record import NamedTuple
from procedure.trace import BathState, Carried, Moment, Residue
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.mixtures import hazards_at
from procedure.vocabulary.thresholds import threshold

OPEN_AIR = frozenset(("outdoors", "ventilated"))


class Handled(NamedTuple):
    """A material that someone meets at a step, and the hazards that it brings there.

    ``how`` is sold (as it comes from the shop or the field), ground, bath, steam,
    fibre or pot; ``path`` the way through an ``if`` on which it is so.
    """

    moment: Moment
    thing: str
    how: str
    hazards: tuple[Entry, ...]
    path: str


@lru_cache(maxsize=1024)
def _entries(listed: tuple[str, ...]) -> tuple[Entry, ...]:
    known = vocabulary().tables
    found = [known["hazards"].get(word) or known["ghs"].get(word) for word in listed]
    return tuple(entry for entry in found if entry is not None)


@once_for_each_node
def hazards(material: Material | None) -> tuple[Entry, ...]:
    """Everything that the vocabulary warns of in a material as it is declared.

    A solution of a stated strength carries only what such a mixture carries.
    """
    if material is None or not (material.entry or material.suspects or material.mixed):
        return ()
    found = own_hazard_words(material)
    strength = material.strength
    # Of a strength by volume or in grams to the litre no limit is known; percents are taken as
    # they are written, as the regulation's limits are wide.
    if strength is not None and strength.kind == "percent" and strength.high is not None:
        found = hazards_at(material.called, found, strength.high * 100)
    mixed = (word for other in material.mixed for word in other.words("hazards"))
    return _entries(tuple(dict.fromkeys((*found, *mixed))))


def named(material: Material) -> bool:
    """Whether it is known, or its name or free words speak of something that is."""
    if material.entry is not None or material.suspects or material.mixed:
        return True
    known = vocabulary()
    said = (material.name.text, *material.free)
    return any(known.material(words) is not None for text in said for words in named_pieces(text))


def declared(study: Study, thing: str) -> Material | None:
    """The declaration of a material of the plan."""
    found = study.flow.materials.get(thing)
    return found[0] if found else None


def strength(bath: BathState, thing: str) -> Fraction | None:
    """How strong a bath is in a material, in % by weight at the most; None where not known."""
    grams = bath.contents[thing].grams
    if grams is None or bath.volume is None:
        return None
    if grams[1] >= ENDLESS:
        return Fraction(100)  # "at least 5 L": how much it may be at the most has no end
    stuff, of = grams[1].as_integer_ratio()
    litres, parts = bath.volume[0].as_integer_ratio()
    # grams / (litres * 1000 + grams) * 100, made a fraction once: each bath goes through here.
    whole = litres * 1000 * of + stuff * parts
    return Fraction(stuff * parts * 100, whole) if whole > 0 else Fraction(100)


def stays(hazard: Entry) -> bool:
    """Whether it stays in liquor, fibre and pots until it is washed off."""
    return hazard.yes("extra_wash")


def plants(study: Study, thing: str) -> tuple[Entry, ...]:
    """The plants that harm and that a material of the plan is or may be, the worst first."""
    made = declared(study, thing)
    levels = ("deadly", "poisonous", "harmful")
    found = plants_in(made) if made is not None else ()
    return tuple(sorted(found, key=lambda plant: levels.index(plant.facts["level"])))


def plants_left_in(study: Study, bath: BathState) -> tuple[Entry, ...]:
    """The plants that harm and that are still in pieces in a bath."""
    solid = (thing for thing, content in bath.contents.items() if content.solid)
    return tuple(plant for thing in solid for plant in plants(study, thing))


def deadly(plant: Entry) -> bool:
    """Whether a plant that harms can kill who swallows a little of it."""
    return plant.facts["level"] == "deadly"


def instead(study: Study, thing: str) -> Says:
    """A sentence that names a harmless plant of a like colour; empty where none is known."""
    named = dict.fromkeys(
        plant.facts["instead"] for plant in plants(study, thing) if plant.facts["instead"]
    )
    if not named:
        return Says("")
    return say(" A harmless plant of a like colour: {instead}.", instead=listed(named))


def deadly_words(study: Study) -> tuple[str, ...]:
    """A caution for the head of every paper, for each plant in the plan that can kill."""
    found: dict[str, str] = {}
    every = [plant for thing in study.flow.materials for plant in plants(study, thing)]
    every += [plant for made in told_in_words(study) for plant in plants_in(made)]
    for plant in every:
        if deadly(plant):
            found[plant.name] = (
                f"DEADLY: {plant.name} ({plant.facts['botanical']}) can kill who swallows a "
                "little of it. Not for children or beginners; a careful teacher uses "
                f"{plant.facts['instead']} instead."
            )
    return tuple(found.values())


def grave(hazard: Entry) -> bool:
    """Whether someone is badly hurt by it: GHS danger, a toxic plant, a harmful metal."""
    return hazard.facts.get("signal") == "Danger" or (stays(hazard) and hazard.yes("gloves"))


def in_bath(study: Study, bath: BathState, thing: str) -> tuple[Entry, ...]:
    """The hazards of a material that a bath carries at its strength."""
    made = declared(study, thing)
    if made is None or not hazards(made):
        return ()
    # A bath that stands as it is from step to step carries the same, and fractions take long.
    grams, volume = bath.contents[thing].grams, bath.volume
    known, key = study.once(_carried), (thing, id(grams), id(volume))
    if key not in known:
        known[key] = (_carries(made, bath, thing), grams, volume)
    return known[key][0]


def _carried(_study: Study) -> dict[tuple[str, int, int], tuple[tuple[Entry, ...], object, object]]:
    """What baths carry by their very amounts, which are kept so that no other has their place."""
    return {}


def _carries(made: Material, bath: BathState, thing: str) -> tuple[Entry, ...]:
    percent = strength(bath, thing)
    if percent is not None and made.strength is not None and made.strength.kind == "percent":
        percent *= made.strength.high if made.strength.high is not None else 1
    words = hazards_at(made.called, own_hazard_words(made), percent)
    for other in made.mixed:  # how much of it there is, nobody says: as if all of it were that
        words += hazards_at(other.name, other.words("hazards"), strength(bath, thing))
    found = _entries(tuple(dict.fromkeys(words)))
    # Of the words for what has no label, a bath has those that stay; where its strength is
    # not known, no limit says what else it carries.
    return tuple(
        one for one in found if (stays(one) if one.table == "hazards" else percent is not None)
    )


def steaming(moment: Moment) -> bool:
    """Whether the step is hot enough for its bath to give off what is volatile."""
    if moment.heat is not None:
        return moment.heat[1] >= threshold("fumes heat").value
    return bool(moment.node.does.heat)


def handled(study: Study) -> list[Handled]:
    """Every meeting of a person with a hazard, in the order of the plan."""
    return study.once(_all_handled)


def _all_handled(study: Study) -> list[Handled]:
    risky = {
        thing: listed
        for thing, (material, _) in study.flow.materials.items()
        if (listed := hazards(material))
    }
    if not risky:
        return []
    seen: set[tuple[int, str, str]] = set()
    found: list[Handled] = []
    for moment in study.moments:
        for one in _at(study, moment, risky):
            key = (moment.node.id, one.thing, one.how)
            if one.hazards and key not in seen:
                seen.add(key)
                found.append(one)
    return found


def _at(study: Study, moment: Moment, risky: dict[str, tuple[Entry, ...]]) -> Iterator[Handled]:
    node, does = moment.node, moment.node.does
    if node.materials or node.moved:
        for thing in dict.fromkeys([thing for thing, _ in (*node.materials, *node.moved)]):
            if thing in risky:
                how = "ground" if does.raises_dust else "sold"
                yield Handled(moment, thing, how, risky[thing], "")
    if moment.step.words is not None:
        for thing in _in_words(study, moment):
            if thing in risky:
                yield Handled(moment, thing, "sold", risky[thing], "")
    bag = moment.before.pots.get(node.bag) if node.bag else None
    for thing in bag.matter if bag is not None else ():
        if thing in risky:  # a bag is handled as what is in it
            yield Handled(moment, thing, "sold", risky[thing], "")
    yield from _in_liquor(study, moment, risky)
    if does.fibre_in_hand:
        loose = (
            one
            for lot in node.lots
            if lot in moment.before.lots
            for one in moment.before.lots[lot].carried.values()
            if one.kind == "poison"
        )
        yield from _that_stay(moment, "fibre", loose, risky)
    for pot in node.cleaned:
        if pot in moment.before.pots:
            residues = moment.before.pots[pot].residues.values()
            yield from _that_stay(moment, "pot", residues, risky)


# What hands do with a plant, where free words alone say so: “squeeze the last out of the greens”.
_BY_HAND = (
    r"\b(carr|stor|keep|squeez|wring|press|crush|tear|strip|pick|sort|shred|rub|pound|pull|lift|take|"
    r"put|scoop|fish|tip|spread|hang|dry|pack|bundle|pour|strain|wash|rins|chop|cut|gather|stir|shake|"
    r"empty|turn|knead|bruis|mash|grat|fill|weigh|bring|hold|handl)"
)

_BAG = r"\b(bag|net|sieve|muslin|sack)\b"


def _in_words(study: Study, moment: Moment) -> Iterator[str]:
    """The plants that harm and that a step of free words has in hand, by any of their names."""
    words = moment.step.words
    if words is None:
        return
    harmful = {thing: plants(study, thing) for thing in study.flow.materials}
    if not any(harmful.values()):
        return
    for clause in clauses_of(words.text.lower()):
        left = undenied(clause)
        if not pattern(_BY_HAND).search(left):
            continue
        named = {plant.name for plant, _ in plants_named(left)}
        plain = f" {' '.join(words_in(left.replace('-', ' ')))} "
        for thing, harm in harmful.items():
            made, _ = study.flow.materials[thing]
            nickname = f" {made.name.text.lower().replace('-', ' ')} "
            if harm and (nickname in plain or not named.isdisjoint(one.name for one in harm)):
                yield thing
        for bag, held in study.once(_bagged).items():
            if f" {bag.lower().replace('-', ' ')} " in plain or pattern(_BAG).search(left):
                yield from held


def _bagged(study: Study) -> dict[str, tuple[str, ...]]:
    """The plants that harm and that are in each bag or sieve at some step of a plan.

    A step of free words knows nothing of the bags, so that its own state does not tell.
    """
    found: dict[str, tuple[str, ...]] = {}
    for moment in study.moments:
        for bag, state in moment.after.pots.items():
            more = tuple(thing for thing in state.matter if plants(study, thing))
            if more:
                found[bag] = tuple(dict.fromkeys((*found.get(bag, ()), *more)))
    return found


def _in_liquor(
    study: Study, moment: Moment, risky: dict[str, tuple[Entry, ...]]
) -> Iterator[Handled]:
    """What hands or breath meet of a bath."""
    bath = moment.bath_before or moment.bath_after
    full = moment.bath_after or moment.bath_before
    if bath is None or full is None:
        return
    if risky.keys().isdisjoint(full.contents):
        return
    hot = steaming(moment)
    for thing, content in full.contents.items():
        if thing not in risky:
            continue
        carried = in_bath(study, bath if thing in bath.contents else full, thing)
        if moment.node.does.hands_in and thing in bath.contents:
            yield Handled(moment, thing, "bath", carried, content.path)
        elif plant := tuple(one for one in carried if one.facts.get("plant_level")):
            # A pot of a poisonous plant is stirred, lifted and carried at every step.
            yield Handled(moment, thing, "bath", plant, content.path)
        if hot:
            yield Handled(moment, thing, "steam", risky[thing], content.path)


def _that_stay(
    moment: Moment,
    how: str,
    found: Iterable[Carried | Residue],
    risky: dict[str, tuple[Entry, ...]],
) -> Iterator[Handled]:
    """What is left in fibre or in a pot, with the hazards that stay with it."""
    for one in found:
        if one.thing in risky:
            kept = tuple(hazard for hazard in risky[one.thing] if stays(hazard))
            yield Handled(moment, one.thing, how, kept, one.path)


# ------------------------------------------------------------------ words for sentences


def called(study: Study, thing: str) -> Named:
    """What the writer calls a material, with its name in the trade where that differs."""
    name = study.called(thing)
    made = declared(study, thing)
    if made is None:
        return Named("material", name)
    full = made.trade_name
    if full == name:
        return Named("material", made.called)
    if full.casefold() == name.casefold():
        return Named("material", full)
    if name in full.split():
        return Named("material", full)
    return Named("material", name, full)


def told_apart(study: Study, thing: str) -> Named:
    """What the writer calls a thing, and its full name where it is a material that harms."""
    return called(study, thing) if hazards(declared(study, thing)) else study.thing(thing)


def right_name(study: Study, thing: str) -> str:
    """The full name of a material of the plan; see :func:`right_name_of`."""
    made = declared(study, thing)
    return right_name_of(made, study.called(thing)) if made is not None else ""


def right_name_of(made: Material, nickname: str) -> str:
    """The full name of a material that harms, where the writer's nickname does not say it.

    “lime” may be slaked lime, quicklime or chalk, and “soda” one of three: whoever reads a
    paper must not have to guess. Empty for what harms nobody, and where the nickname is
    the name.
    """
    if not hazards(made) or "bath" in made.roles:
        return ""  # a kept bath has its writer's name: nobody dips into the lime itself
    if made.entry is not None and made.entry.table == "dyestuffs" and not plants_in(made):
        return ""
    full = made.trade_name
    said = nickname.replace("-", " ").replace("_", " ")
    return "" if full.casefold() in said.casefold() else full


def plainly(found: tuple[Entry, ...]) -> str:
    """What the hazards do, in a few words: the two gravest, harm to the body before fire."""
    ranked = sorted(found, key=lambda one: (not grave(one), one.name.startswith("H2")))
    said = [one.facts["plain"].split(":")[0] for one in ranked]
    return "; ".join(dict.fromkeys(said[:2]))


def sources(found: tuple[Entry, ...], material: Material | None = None) -> str:
    """Where the hazards come from, and where it comes from that a material has them."""
    codes = [one.name for one in found if one.table == "ghs"]
    cited = dict.fromkeys(
        part for one in found for part in one.words("source") if "mixture limit" not in part
    )
    said = "; ".join(cited) + (f" ({', '.join(codes)})" if codes else "")
    entry = material.entry if material is not None else None
    if codes and entry is not None:
        for part in entry.words("source"):
            # “Regulation (EC) No 1272/2008 (hazards)”: the last bracket says what for.
            bare, _, about = part.rpartition(" (")
            if "hazards" in about or part.startswith("from memory"):
                said += f"; that it has them: {bare or part}"
                break
    return said
