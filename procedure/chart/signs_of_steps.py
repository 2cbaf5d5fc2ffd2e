"""Which hazard signs a step has: of all that somebody meets there, the diluted baths among it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from procedure.facts.handling import declared, grave, handled, hazards
from procedure.paper.hazard_signs import pictograms
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping

    from procedure.facts.study import Study
    from procedure.trace import Moment
    from procedure.vocabulary import Entry

DILUTED = "GHS07"
_BAD_FOR_YEARS = "GHS08"


def signs(study: Study, stands_for: Mapping[int, int]) -> dict[int, tuple[str, ...]]:
    """The GHS codes (GHS01 to GHS09) of what each figure has people meet, by its key.

    What is weighed out has the signs of its label, a bath those of its strength. Where it is too
    weak for any, and hands, wet fibre or steam bring somebody to it, what was put in and hurts
    badly has the exclamation mark all the same, or, where it may harm for years, its own sign:
    no limit of a label makes a lime vat fit to dip bare hands in.
    """
    met: dict[int, dict[str, Entry]] = {}
    weak: dict[int, set[str]] = {}
    for one in handled(study):
        key = stands_for.get(one.moment.node.id)
        if key is not None:
            steam = one.how == "steam"
            entries = [entry for entry in one.hazards if entry.yes("air") or not steam]
            label = () if steam else (entry for entry in entries if entry.table == "ghs")
            met.setdefault(key, {}).update((entry.name, entry) for entry in label)
            weak.setdefault(key, set()).update(_by_word(entries, steam=steam))
    for moment in study.moments:
        key = stands_for.get(moment.node.id)
        if key is not None:
            for thing in _diluted(study, moment):
                weak.setdefault(key, set()).add(_sign_of(hazards(declared(study, thing))))
    found = {}
    for key, codes in weak.items():
        shown = _together(pictograms(list(met.get(key, {}).values())), codes)
        if shown:
            found[key] = shown
    return found


def signs_of_bath(study: Study, things: Iterable[str], carried: Iterable[Entry]) -> tuple[str, ...]:
    """The GHS codes of a bath with these things in it, as a step that hands are in has them.

    ``carried`` are the hazards that it has at its strength.
    """
    found = list(carried)
    weak = set(_by_word(found, steam=False))
    weak |= {_sign_of(hazards(declared(study, one))) for one in things if _hurts(study, one)}
    return _together(pictograms([one for one in found if one.table == "ghs"]), weak)


def _together(shown: tuple[str, ...], weak: set[str]) -> tuple[str, ...]:
    """The signs of a strength and those for what is too weak for any; the exclamation mark
    only where there is no other."""
    more = weak - {""} - ({DILUTED} if shown or len(weak - {"", DILUTED}) else set())
    return tuple(sorted({*shown, *more}))


def _by_word(found: Iterable[Entry], *, steam: bool) -> Iterator[str]:
    """The signs of hazards that no label has: poisonous plants, harmful metals, bad fumes.

    Steam has little of what is in its bath: for that as for a weak bath.
    """
    for entry in found:
        if entry.table == "ghs":
            yield DILUTED if steam else ""
        elif steam or entry.facts["air_when"] != "hot":
            yield entry.facts["sign"]


def _sign_of(found: Iterable[Entry]) -> str:
    """The sign of a bath that has a little of a thing with these hazards."""
    for_years = (entry for entry in found if entry.facts.get("pictogram") == _BAD_FOR_YEARS)
    return _BAD_FOR_YEARS if any(grave(entry) for entry in for_years) else DILUTED


def _diluted(study: Study, moment: Moment) -> Iterator[str]:
    """The things that hurt badly in liquor that hands or wet fibre bring somebody to."""
    does, node = moment.node.does, moment.node
    liquors = [moment.before.baths[bath] for bath, _ in node.moved if bath in moment.before.baths]
    if does.hands_in or does.adds or does.tops_up or does.moves_liquor:
        liquors += [bath for bath in (moment.bath_before,) if bath is not None]
    for bath in liquors:
        yield from (thing for thing in bath.contents if _hurts(study, thing))
    if does.fibre_in_hand:
        for lot in node.lots:
            state = moment.before.lots.get(lot)
            loose = state.carried.values() if state is not None else ()
            yield from (one.thing for one in loose if not one.rinses and _hurts(study, one.thing))


def _hurts(study: Study, thing: str) -> bool:
    """True for what hurts badly in liquor; dust and fire are over once it is in."""
    return any(
        grave(entry) and (entry.table == "hazards" or entry.name.startswith("H3"))
        for entry in hazards(declared(study, thing))
    )
