"""Equipment: what has held dye never holds food again."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.rules.frame import Found, Study, rule

FAMILY = "equipment"


@rule("used-for-cooking", level="error", family=FAMILY, source="common practice")
def used_for_cooking(study: Study) -> Iterator[Found]:
    """A pot or tool for dyeing that is also used for food.

    Mordants and many dye plants are poisonous, and metal, enamel and plastic keep
    traces that no scrubbing takes out.

    Trips:
        equipment
          tub: plastic tub, 20 L, for cooking
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        equipment
          tub: plastic tub, 20 L, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for thing in procedure.equipment.values():
            if thing.use in ("cooking", "both"):
                said = "for food" if thing.use == "cooking" else "for food and for dyeing"
                yield Found(
                    procedure,
                    thing.use_place or thing.name.place,
                    f"{thing.name.text} is used {said}; nothing that dyes may touch food.",
                    "Use a pot or tool that is kept for dyeing only, and mark it so.",
                )


@rule("use-unstated", level="warning", family=FAMILY, source="common practice")
def use_unstated(study: Study) -> Iterator[Found]:
    """A pot or tool that touches dye, without a word on whether food goes into it.

    A reader takes the pot that is at hand, and that is the one from the kitchen.

    Trips:
        equipment
          tub: plastic tub, 20 L
        steps
          wet out yarn in tub with water 5 L for 1 h
    Cure:
        equipment
          tub: plastic tub, 20 L, for dyeing only
        steps
          wet out yarn in tub with water 5 L for 1 h
    """
    for procedure in study.procedures:
        for thing in procedure.equipment.values():
            heater = thing.kind is not None and thing.kind.table == "heater"
            if not thing.use and not heater:
                yield Found(
                    procedure,
                    thing.name.place,
                    f"It is not said whether {thing.name.text} is for dyeing only.",
                    "Write “for dyeing only”.",
                )


RULES = (used_for_cooking, use_unstated)
