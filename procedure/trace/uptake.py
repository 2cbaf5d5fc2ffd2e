"""What fibre takes up from a bath, carries loose, and loses to a rinse or a wash."""

from __future__ import annotations

from collections.abc import Mapping

from procedure.flow.graph import Flow
from procedure.model import Material
from procedure.model.harm import hazard_words
from procedure.quantity.interval import Interval
from procedure.trace.amounts import Amount
from procedure.trace.states import BathState, Carried, LotState, TakenUp
from procedure.vocabulary import vocabulary
from procedure.vocabulary.estimates import spoon_weights
from procedure.vocabulary.thresholds import related, threshold

_LOOSE = {
    "mordant": "mordant",
    "modifier": "mordant",
    "tannin": "tannin",
    "dyestuff": "dye",
    "dye": "dye",
    "detergent": "soap",
    "alkali": "alkali",
    "acid": "acid",
    "reducer": "reducer",
    "oxidiser": "oxidiser",
}


def material(flow: Flow, thing: str) -> Material | None:
    """The declaration of a material of the plan."""
    found = flow.materials.get(thing)
    return found[0] if found else None


def has_role(flow: Flow, bath: BathState, role: str) -> bool:
    """True where something in the bath plays that part."""
    return any(
        role in made.roles for thing in bath.contents if (made := material(flow, thing)) is not None
    )


def is_solid(flow: Flow, thing: str) -> bool:
    """True for plant matter, which a bath holds until it is strained."""
    made = material(flow, thing)
    return made is not None and "dyestuff" in made.roles


# What is declared or known by such a word pours, whatever it is of.
_POURS = frozenset(("extract", "liquor", "liquid", "juice", "solution"))


def is_poured(made: Material) -> bool:
    """True of what the vocabulary or its declaration tells to be a liquid."""
    name = made.entry.name if made.entry is not None else ""
    if made.strength is not None or not _POURS.isdisjoint((*made.words, *name.split())):
        return True
    weighs = spoon_weights().get(name)
    return "solvent" in made.roles or (weighs is not None and weighs.liquid)


def is_dry(made: Material) -> bool:
    """True of a salt, a powder or a plant, declared as no solution: what a scale weighs."""
    if made.entry is None or is_poured(made):
        return False
    salt = bool(made.entry.facts.get("metal")) and bool(made.entry.facts.get("formula"))
    dry = made.entry.table == "dyestuffs" or (made.entry.table == "mordants" and salt)
    return dry or made.entry.name in spoon_weights()


def grams_of(flow: Flow, thing: str, amount: Amount | None) -> Interval | None:
    """How much of a material there is by weight, in grams.

    None where nobody says, and where a thing is measured by the spoon or the handful and no
    table tells what that weighs. A strong acid, lye or spirit has its density at its strength;
    other liquids weigh as water does.
    """
    made = material(flow, thing)
    if amount is None or amount.kind == "mass" or made is None:
        return amount.grams if amount else None
    weighs = spoon_weights().get(made.called)
    if weighs is not None and not is_poured(made):
        return amount.grams.times(weighs.grams)
    if is_dry(made) or (amount.spooned and not is_poured(made)):
        return None
    from procedure.vocabulary.densities import density

    return amount.grams.times(density(made.called, made.percent))


def poisonous(made: Material) -> bool:
    """True where the vocabulary says that what it leaves in fibre must be washed out."""
    words = vocabulary().tables.get("hazards", {})
    return any(words[word].yes("extra_wash") for word in hazard_words(made) if word in words)


def heatable(flow: Flow, pot: str) -> bool:
    """True where a pot may stand over heat, as far as its declaration says."""
    found = flow.pots.get(pot)
    if found is None:
        return True
    made = found[0]
    if made.metal is not None:
        return made.metal.facts.get("heatable") != "no"
    return made.kind is None or made.kind.facts.get("meaning") != "unheated vessel"


def holds_traces(flow: Flow, pot: str) -> bool:
    """True for a vessel whose stuff keeps dye and mordant when it has been scrubbed."""
    found = flow.pots.get(pot)
    metal = found[0].metal if found is not None else None
    return metal is not None and bool(related("holds", metal.name))


def is_vat(flow: Flow, bath: BathState) -> bool:
    """True where something in the bath dyes as indigo does.

    Indigo in strong acid is no vat: it is dissolved there without alkali or reducer.
    """
    vat = False
    for thing in bath.contents:
        made = material(flow, thing)
        if made is None or made.entry is None:
            continue
        facts = made.entry.facts
        if facts.get("strength") == "strong" and "acid" in made.roles:
            return False
        vat = vat or facts.get("dye_class") == "vat"
    return vat


def loose_kinds(made: Material) -> list[str]:
    """The kinds under which fibre carries a material until it is rinsed out."""
    kinds = [_LOOSE[role] for role in made.roles if role in _LOOSE]
    if not kinds and made.entry is not None and made.entry.table == "assistants":
        kinds.append("other")  # glycerine, urea: harmless loose, but not with everything
    if poisonous(made):
        kinds.append("poison")
    return list(dict.fromkeys(kinds))


def meet(
    flow: Flow, lot: LotState, bath: BathState, node: int, skip: tuple[str, ...] = ()
) -> LotState:
    """The lot after lying in the bath: what it took up and what it carries loose."""
    mordants, dyes, carried = dict(lot.mordants), dict(lot.dyes), dict(lot.carried)
    vat = is_vat(flow, bath)
    if carried and _washes(flow, bath):
        carried = rinsed(carried, washing=True, acid=False)
    if carried and any(_fixes(flow, thing) for thing in bath.contents):
        carried = {k: v for k, v in carried.items() if v.kind not in ("mordant", "tannin")}
    for thing, content in bath.contents.items():
        made = material(flow, thing)
        if made is None:
            continue
        taken = TakenUp(content.grams, lot.weight, node, content.path)
        if {"mordant", "tannin", "modifier"} & set(made.roles):
            mordants[thing] = taken
        # In a vat, madder, henna and the like feed or reduce the vat and give no colour.
        feeds = vat and bool({"food for ferment", "reducer"} & set(made.roles))
        if ("dyestuff" in made.roles or "dye" in made.roles) and not feeds:
            dyes[thing] = taken
        for kind in loose_kinds(made):
            if kind not in skip:
                carried[kind, thing] = Carried(kind, thing, node, content.path, 0)
    return lot._replace(mordants=mordants, dyes=dyes, carried=carried)


def _washes(flow: Flow, bath: BathState) -> bool:
    """True for a bath of soap and nothing that fibre takes up: it takes out what a wash does."""
    made = [one for thing in bath.contents if (one := material(flow, thing)) is not None]
    roles = {role for one in made for role in one.roles}
    return "detergent" in roles and roles.isdisjoint(_TAKEN_UP)


_TAKEN_UP = ("dyestuff", "dye", "mordant", "modifier", "tannin")


def _fixes(flow: Flow, thing: str) -> bool:
    """True for lime and chalk, which make the mordant that fibre carries loose fast in it."""
    made = material(flow, thing)
    return made is not None and bool(related("fixes", made.called))


def rinsed(
    carried: Mapping[tuple[str, str], Carried], washing: bool, acid: bool
) -> dict[tuple[str, str], Carried]:
    """What is still loose in fibre after a rinse, or after a wash with soap.

    A rinse takes out loose mordant, dye, soap and acid; poison and metal need a wash;
    alkali needs an acid water or two waters.
    """
    left: dict[tuple[str, str], Carried] = {}
    waters = int(threshold("waters for alkali").value)
    for key, thing in carried.items():
        if thing.kind == "poison":
            if not washing:
                left[key] = thing._replace(rinses=min(thing.rinses + 1, waters))
        elif thing.kind == "alkali" and not acid and thing.rinses + 1 < waters:
            left[key] = thing._replace(rinses=thing.rinses + 1)
    return left
