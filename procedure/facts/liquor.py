"""What rules ask of a bath and of the fibre that meets it."""

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.study import Pointer, Study
from procedure.findings import Heat, Named
from procedure.model import Equipment, Item, Material, Place, Procedure
from procedure.quantity.exact import exactly
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.record import NamedTuple
from procedure.trace import BathState, LotState, Moment, uptake
from procedure.trace.amounts import THOUSAND
from procedure.vocabulary import Entry
from procedure.vocabulary.densities import density
from procedure.vocabulary.estimates import spoon_weights

# Effects by which fibre meets a mordant or a dye.
PROTEIN = frozenset(("protein", "regenerated protein"))
CELLULOSE = frozenset(("cellulose", "regenerated cellulose"))
HUNDRED = exactly(100)


class Stuff(NamedTuple):
    """A material in a bath: the plan's name for it, its declaration, and its entry if known."""

    thing: str
    made: Material
    entry: Entry | None

    @property
    def named(self) -> Named:
        """The material by its name in the trade, as a value of a finding."""
        return Named("material", self.made.called)


def hottest(moment: Moment) -> Heat:
    """The highest heat of a step whose heat is known, as a value of a finding."""
    assert moment.peak is not None
    return Heat(*moment.peak)


def stuff(study: Study, things: object) -> list[Stuff]:
    """The declared materials among the names of things."""
    known = study.once(_all_stuff)
    return [known[thing] for thing in things if thing in known]  # type: ignore[attr-defined]


def _all_stuff(study: Study) -> dict[str, Stuff]:
    """Every declared material by its name: rules ask for the same ones at each step."""
    return {
        thing: Stuff(thing, made, made.entry) for thing, (made, _) in study.flow.materials.items()
    }


def brought(moment: Moment) -> list[str]:
    """What is in the liquor of a step: the contents of its bath, or what it brings itself."""
    bath = moment.bath_after
    if bath is not None:
        return list(bath.contents)
    return [thing for thing, _, _ in moment.amounts]


def metal_of(entry: Entry | None) -> str:
    """The metal that a mordant leaves on fibre, or an empty text."""
    return entry.facts.get("metal", "") if entry is not None else ""


def metals_in(study: Study, things: object) -> set[str]:
    """The metals of the mordants among things."""
    return {metal_of(one.entry) for one in stuff(study, things)} - {""}


def _with_unknown_names(study: Study) -> set[int]:
    """The steps that use a name which nothing has."""
    return {
        slip.node.id
        for slip in study.slips("not declared", "used before made")
        if slip.node is not None
    }


def names_unknown(study: Study, *nodes: int) -> bool:
    """True where one of the steps uses a name that nothing has: who knows what that would be."""
    return not study.once(_with_unknown_names).isdisjoint(nodes)


def has_role(study: Study, things: object, *roles: str) -> bool:
    """True where one of the things plays one of the parts."""
    return any(role in one.made.roles for one in stuff(study, things) for role in roles)


def is_dyestuff(one: Stuff) -> bool:
    """True for what gives colour."""
    return "dyestuff" in one.made.roles or "dye" in one.made.roles


def fact(one: Stuff, column: str) -> str:
    """A fact of a material, empty where its entry lacks it or there is none."""
    return one.entry.facts.get(column, "") if one.entry is not None else ""


def heats_itself(one: Stuff) -> bool:
    """True for the strongest reducers, which heat by themselves (H251) and are soon used up in air.

    They are sodium dithionite and thiourea dioxide; of other reducers it takes far more.
    """
    return "reducer" in one.made.roles and "H251" in fact(one, "hazards").split("; ")


def is_vat(study: Study, bath: BathState) -> bool:
    """True where a vat dye is in the bath, and no strong acid that dissolves it otherwise."""
    return uptake.is_vat(study.flow, bath)


def litres(study: Study, bath: BathState) -> Interval | None:
    """Litres of all that is poured into a bath: its water, and vinegar, spirit or strong acid.

    None where nobody says how much water there is. A liquid has its room by its density at its
    strength; what dissolves in water takes none.
    """
    if bath.volume is None:
        return None
    whole, liquids = bath.volume, study.once(_liquids)
    for thing, content in bath.contents.items():
        if thing in liquids and content.grams is not None:
            whole = whole.plus(content.grams.times(liquids[thing]))
    return whole


def _liquids(study: Study) -> dict[str, Fraction]:
    """Litres of a gram of each material that is a liquid, by its name."""
    found = {}
    for thing, (made, _) in study.flow.materials.items():
        name = made.entry.name if made.entry is not None else ""
        weighs = spoon_weights().get(name)
        if made.strength is not None or "solvent" in made.roles or (weighs and weighs.liquid):
            found[thing] = 1 / (THOUSAND * density(name, made.percent))
    return found


def is_known(bath: BathState | None) -> bool:
    """True for a bath that was made here; what a kept bath holds is not known."""
    return bath is not None and bath.made >= 0


def kinds_of(study: Study, bath: BathState) -> frozenset[str]:
    """What a bath is for: bright colour, colour, mordant, tannin, iron, vat."""
    kinds = set()
    for one in stuff(study, bath.contents):
        roles = one.made.roles
        if fact(one, "dye_class") == "vat":
            kinds.add("vat" if is_vat(study, bath) else "colour")
        elif is_dyestuff(one):
            kinds.add("colour")
            if fact(one, "iron_sensitive") != "no":
                kinds.add("bright colour")
        elif metal_of(one.entry) == "iron":
            kinds.add("iron")
        elif "mordant" in roles:
            kinds.add("mordant")
        elif "tannin" in roles:
            kinds.add("tannin")
    return frozenset(kinds)


def met_metals(study: Study, lot: LotState) -> set[str]:
    """The metals that fibre has taken up."""
    return metals_in(study, lot.mordants)


def lots_in(moment: Moment) -> dict[str, LotState]:
    """The fibre that is in the liquor at a step, as it came to the step."""
    names = moment.node.present if moment.node.bath else moment.node.lots
    return {name: moment.before.lots[name] for name in names if name in moment.before.lots}


def felts(lot: LotState) -> Entry | None:
    """The fibre of a lot that felts readily, if any."""
    return next((fibre for fibre in lot.fibres if fibre.facts.get("felts") == "yes"), None)


def felts_a_little(lot: LotState) -> Entry | None:
    """The animal hair of a lot that felts less readily, such as alpaca, if any."""
    return next(
        (
            fibre
            for fibre in lot.fibres
            if fibre.facts.get("felts") == "little" and fibre.facts.get("class") == "protein"
        ),
        None,
    )


def sensitive(lot: LotState) -> Entry | None:
    """The fibre of a lot that alkali harms, if any."""
    return next((f for f in lot.fibres if f.facts.get("alkali") == "sensitive"), None)


def only_of(lot: LotState, classes: frozenset[str]) -> bool:
    """True where all that a lot is made of is of those classes."""
    return bool(lot.fibres) and all(f.facts.get("class") in classes for f in lot.fibres)


def whole_fibre(study: Study, bath: str) -> Interval | None:
    """The dry weight in grams of all the fibre that a bath is to treat, each once."""
    return together(study, dict.fromkeys(study.flow.treats.get(bath, ())))


def together(study: Study, names: dict[str, None]) -> Interval | None:
    """The dry weight of lots in grams, of which a part is not counted beside its whole.

    None where a weight is not known, or for no lots.
    """
    whole = ZERO
    for name in names:
        if ancestors(study, name) & names.keys():
            continue
        state = study.trace.final.lots.get(name)
        if state is None or state.weight is None:
            return None
        whole = whole.plus(state.weight)
    return whole if whole.high > 0 else None


def fibre_that_meets(study: Study, bath: str, thing: str) -> Interval | None:
    """The dry weight in grams of all the fibre that meets a thing in a bath, each once.

    What was out of the bath before the thing went in does not count; None where a weight is
    not known, or where nothing meets it.
    """
    return together(study, dict.fromkeys(study.once(_meeters).get((bath, thing), ())))


class DrawnOff(NamedTuple):
    """What a bath that was drawn off brought with it: the things in it, and the lots it had had."""

    contents: frozenset[str]
    treated: frozenset[str]


def drawn_off(study: Study) -> dict[str, DrawnOff]:
    """What each bath that was drawn off from another brought with it, by its name."""
    return study.once(_drawn_off)


def _drawn_off(study: Study) -> dict[str, DrawnOff]:
    found: dict[str, DrawnOff] = {}
    for moment in study.trace.moments:
        for name in moment.node.makes if moment.node.does.draws_off else ():
            bath = moment.after.baths.get(name)
            if bath is not None:
                found[name] = DrawnOff(frozenset(bath.contents), frozenset(bath.treated))
    return found


def _meeters(study: Study) -> dict[tuple[str, str], tuple[str, ...]]:
    """The lots that meet each thing in each bath."""
    found: dict[tuple[str, str], dict[str, None]] = {}
    for moment in study.trace.moments:
        node, bath = moment.node, moment.bath_after
        if bath is None:
            continue
        treated = study.flow.treats.get(node.bath, ())
        here = [lot for lot in (*node.lots, *node.present) if lot in treated]
        for thing in bath.contents if here else ():
            found.setdefault((node.bath, thing), {}).update(dict.fromkeys(here))
    return {key: tuple(lots) for key, lots in found.items()}


def ancestors(study: Study, lot: str) -> set[str]:
    """The lots that a lot was split from or joined of, however far back."""
    found: set[str] = set()
    waiting = [lot]
    while waiting:
        origin = study.flow.lots.get(waiting.pop())
        for part in origin.parts if origin is not None else ():
            if part not in found:
                found.add(part)
                waiting.append(part)
    return found


def pure(grams: Interval | None, made: Material) -> Interval | None:
    """The weight of the stuff itself in a solution of a stated strength.

    All of it where the strength is said as less than nothing, which a rule tells; None for a
    solution of which no strength is said.
    """
    strength = made.strength
    if strength is None and "solution" in made.words:
        return None
    if grams is None or strength is None or strength.low is None or strength.high is None:
        return grams
    if strength.low < 0:
        return grams
    per = HUNDRED * 10 if strength.kind == "concentration" else Fraction(1)
    return grams.times(strength.ends).over(per)


def pot_of(study: Study, pot: str) -> Equipment | None:
    """The declaration of a pot."""
    found = study.flow.pots.get(pot)
    return found[0] if found is not None else None


def pot_here(moment: Moment) -> str:
    """The pot in which a step happens."""
    bath = moment.bath_after
    return (bath.pot if bath is not None else "") or moment.node.to_pot or moment.node.pot


def declared(study: Study, pot: str, says: str) -> tuple[Pointer, ...]:
    """A pointer at the declaration of a pot."""
    found = study.flow.pots.get(pot)
    if found is None:
        return ()
    return (Pointer(found[1], found[0].name.place, says),)


def item_of(study: Study, number: int, thing: str) -> Item | None:
    """The item by which a step brings a thing."""
    node = study.node(number)
    for name, item in (*node.materials, *node.moved):
        if name == thing:
            return item
    return None


def put_in(study: Study, number: int, thing: str) -> tuple[Procedure, Place]:
    """Where the amount of a thing that a step brings is written."""
    node = study.node(number)
    item = item_of(study, number, thing)
    place = node.step.place if item is None else item.place
    if item is not None and item.quantity is not None:
        place = item.quantity.place
    return node.procedure, place


Meeting = tuple[Moment, str, LotState, BathState]


def meetings(study: Study) -> tuple[Meeting, ...]:
    """Every time that a lot goes into a bath: the step, the lot before it, the bath after it."""
    return study.once(_meetings)


def _meetings(study: Study) -> tuple[Meeting, ...]:
    return tuple(_each_meeting(study))


def _each_meeting(study: Study) -> Iterator[Meeting]:
    for moment in study.moments:
        bath = moment.bath_after
        if bath is None or not moment.node.does.meets_bath:
            continue
        for lot in moment.entering:
            state = moment.before.lots.get(lot)
            if state is not None:
                yield moment, lot, state, bath
