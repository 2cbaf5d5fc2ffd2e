"""Safety of a vat that is poured away while its reducer is still at work."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.facts.handling import called
from procedure.facts.liquor import heats_itself, stuff
from procedure.facts.study import Study
from procedure.findings import say
from procedure.quantity.ready_patterns import pattern
from procedure.rules.rule import Found, at_node, rule
from procedure.rules.safety.places_for_waste import place_said, ways_named
from procedure.rules.safety.protection import FAMILY
from procedure.trace import Moment
from procedure.vocabulary.thresholds import threshold

# How words say that it is used up: “once it is blue”, “stirred in the air”, “spent”.
_SPENT = r"\b(blue|air|aired|spent|exhausted|oxidi[sz]ed|used up|worked out|stirred|dead)\b"


@rule("vat-poured-away-live", level="warning", family=FAMILY, source="common practice")
def vat_poured_away_live(study: Study) -> Iterator[Found]:
    """A vat of dithionite or thiourea dioxide poured away, and nobody says that it is used up.

    What is left of the reducer takes the air from the water, and with the acid of a drain it
    gives off a gas that chokes. It is stirred blue in the air first, or stands open for a day.

    Trips:
        materials
          hydros: sodium dithionite
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 5 g, soda 10 g, hydros 8 g at 50 °C
          stand vat for 1 h covered
          dip yarn in vat at 50 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain"
    Cure:
        materials
          hydros: sodium dithionite
        steps
          wet out yarn in tub with water 5 L for 1 h
          vat: prepare in kettle with water 5 L, indigo 5 g, soda 10 g, hydros 8 g at 50 °C
          stand vat for 1 h covered
          dip yarn in vat at 50 °C for 10 min
          air yarn for 15 min
          rinse yarn in tub with water 5 L
          rinse yarn in tub with water 5 L, vinegar 50 mL
          discard vat to "foul drain, once it has been stirred blue in the air and is cold"
    """
    for at, moment in enumerate(study.moments):
        bath = moment.bath_before
        objects = moment.step.objects
        if not moment.node.does.empties or bath is None or not bath.dips:
            continue
        if objects and objects[0].quantity is not None:
            continue  # a part of it, and the rest goes on
        live = [one for one in stuff(study, bath.contents) if heats_itself(one)]
        words = place_said(moment)
        if not live or words is None or "waste point" in ways_named(words.text.lower()):
            continue
        if not _used_up(study, at):
            yield at_node(
                moment.node,
                say(
                    "{vat} is poured away, and nobody says that its {reducer} is used up.",
                    vat=study.thing(moment.node.bath),
                    reducer=called(study, live[0].thing),
                ),
                "Stir it in the air until all of it is blue, or let it stand open for a day, and "
                "write that: “foul drain, once it is blue and cold”.",
            )


def _used_up(study: Study, at: int) -> bool:
    """Whether words, or a long time in the open, say that a vat's reducer is used up.

    They stand at a step after the last dip, or in a note on the vat at the head.
    """
    said = [note.text for made in study.procedures for note in made.notes if "vat" in note.text]
    end = study.moments[at]
    for moment in reversed(study.moments[: at + 1]):
        step, here = moment.step, moment.node.bath == end.node.bath
        if here and moment.node.does.dips:
            break
        if here and "uncovered" in step.manner and _for_long(moment):
            return True
        until = step.until.words if step.until is not None else None
        if here or step.words is not None:
            said.append(step.note)
            said += [one.text for one in (until, step.words, place_said(moment)) if one is not None]
    return any(pattern(_SPENT).search(text.lower()) for text in said)


def _for_long(moment: Moment) -> bool:
    if moment.step.manner & {"overnight", "until-next-day"}:
        return True
    return moment.minutes is not None and moment.minutes.high >= threshold("longest watch").value


RULES = (vat_poured_away_live,)
