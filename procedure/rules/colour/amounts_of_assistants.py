"""Colour: amounts of chalk, soda and soap against the most or the least that the books have."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.facts.liquor import HUNDRED, Stuff, fact, is_known, kinds_of, pure, stuff
from procedure.facts.study import Study
from procedure.findings import Percent, say
from procedure.quantity.interval import ZERO, Interval
from procedure.rules.colour.share_of_fibre import at_material, fibre_of, uses
from procedure.rules.rule import Found, at_node, rule
from procedure.trace import Moment
from procedure.vocabulary.thresholds import threshold

FAMILY = "colour"


@rule("too-much-assistant", level="warning", family=FAMILY, source="Mairet 1938, ch. I, VII and X")
def too_much_assistant(study: Study) -> Iterator[Found]:
    """Far more chalk in a dye bath, or soda in the water of fibre, than any book has.

    Most likely a slip of the pen. So much chalk takes the alum from the colour and dulls it, and
    so much soda harms hands and is hard to rinse out. Of chalk twice the most that Mairet has
    beside weld is too much; soda is told of where it is much both in a litre and beside the fibre.

    Trips:
        scour cloth in kettle with water 5 L, soda 80 g to 90 °C for 1 h
        rinse cloth in tub with water 5 L
    Cure:
        scour cloth in kettle with water 5 L, soda 8 g to 90 °C for 1 h
        rinse cloth in tub with water 5 L
    """
    most, slip = threshold("most chalk"), threshold("slip of the pen").value
    told: set[tuple[int, str]] = set()
    for use in uses(study):
        chalk = use.one.made.called == "chalk" and "colour" in kinds_of(study, use.bath)
        if not chalk or use.least is None or use.least <= most.value * slip:
            continue
        if (use.node, use.one.thing) in told:
            continue
        told.add((use.node, use.one.thing))
        yield at_material(
            study,
            use,
            say(
                "{least} of {material} on {fibre} is far more than {most}, the most that is usual.",
                least=Percent(use.least),
                material=use.one.named,
                fibre=fibre_of(use.state),
                most=Percent(most.value),
            ),
            "See whether a figure slipped.",
        )._replace(source=most.source)
    yield from _soda_in_water(study)


def _soda_in_water(study: Study) -> Iterator[Found]:
    """Soda in the water in which fibre is scoured or washed, where there is far too much of it."""
    most, strong = threshold("most soda beside fibre"), threshold("much soda")
    slip = threshold("slip of the pen").value
    told: set[int] = set()
    for moment in study.moments:
        node = moment.node
        if node.id in told or not node.does.own_water or not (node.does.scours or node.does.washes):
            continue
        fibre = _weight(moment)
        water = [made.litres for thing, _, made in moment.amounts if thing == "water" and made]
        for thing, _, made in moment.amounts:
            one = next(iter(stuff(study, [thing])), None)
            if one is None or made is None or not _soda(one) or fibre is None or not water:
                continue
            grams, litres = pure(made.grams, one.made), water[0]
            if grams is None or litres is None or fibre.high <= 0:
                continue
            share = grams.low / fibre.high * HUNDRED
            if share <= most.value * slip or grams.low <= strong.value * litres.high:
                continue
            told.add(node.id)
            yield at_node(
                node,
                say(
                    "{share} of {material} beside the fibre is far more than {most}, the most that "
                    "is usual.",
                    share=Percent(share),
                    material=one.named,
                    most=Percent(most.value),
                ),
                "See whether a figure slipped.",
                source=most.source,
            )


def _soda(one: Stuff) -> bool:
    """True for an alkali of middling strength that is weighed: soda, washing soda, potash."""
    return "alkali" in one.made.roles and fact(one, "strength") == "moderate"


def _weight(moment: Moment) -> Interval | None:
    """What the fibre of a step weighs, dry and in grams; None where that is not known."""
    whole = ZERO
    for lot in moment.node.lots:
        state = moment.before.lots.get(lot)
        if state is None or state.weight is None:
            return None
        whole = whole.plus(state.weight)
    return whole if whole.high > 0 else None


def _brings_off_gum(moment: Moment) -> bool:
    """True for a verb that scours, and of which the vocabulary says that it is about gum."""
    verb = moment.step.verb
    return verb is not None and verb.does.scours and "until the gum" in verb.meaning


@rule("too-little-soap-to-degum", level="warning", family=FAMILY, source="Mairet 1938, ch. XI")
def too_little_soap_to_degum(study: Study) -> Iterator[Found]:
    """Silk that is degummed with far less soap than brings the gum off.

    Mairet takes 2 to 8 oz of soap to the pound of silk, by how much gum is on it: less than half
    of the least is most likely a slip, and the gum that stays takes the dye in patches. Where
    soda or another alkali helps, less soap does.

    Trips:
        fibre
          silk: raw silk yarn, 100 g, unscoured
        steps
          degum silk in kettle with water 4 L, soap 2 g from 40 °C to 95 °C over 1 h for 1 h
          rinse silk in tub with water 5 L at 60 °C
          rinse silk in tub with water 5 L at 40 °C
    Cure:
        fibre
          silk: raw silk yarn, 100 g, unscoured
        steps
          degum silk in kettle with water 4 L, soap 25 g from 40 °C to 95 °C over 1 h for 1 h
          rinse silk in tub with water 5 L at 60 °C
          rinse silk in tub with water 5 L at 40 °C
    """
    least, most = threshold("least soap to degum"), threshold("most soap to degum")
    slip = threshold("slip of the pen").value
    for moment in study.moments:
        fibre = _weight(moment)
        if not _brings_off_gum(moment) or fibre is None or fibre.low <= 0:
            continue
        if moment.bath_after is not None and not is_known(moment.bath_after):
            continue
        soap: Fraction | None = Fraction(0)
        named = None
        for thing, _, made in moment.amounts:
            for one in stuff(study, [thing]):
                if "alkali" in one.made.roles or not one.made.roles:
                    soap = None
                elif "detergent" in one.made.roles and soap is not None:
                    known = made is not None and made.grams is not None
                    soap = soap + made.grams.high if known and made and made.grams else None
                    named = one
        if soap is None or named is None:
            continue
        share = soap / fibre.low * HUNDRED
        if share * slip < least.value:
            yield at_node(
                moment.node,
                say(
                    "{share} of {soap} does not bring the gum off silk, which takes {usual}.",
                    share=Percent(share),
                    soap=named.named,
                    usual=Percent(least.value, most.value),
                ),
                "See whether a figure slipped.",
                source=least.source,
            )


RULES = (too_much_assistant, too_little_soap_to_degum)
