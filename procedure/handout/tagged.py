"""Lots that nobody can tell apart by their look, where they first go into one water together.

A split has its tags by itself; lots that were declared of one fibre and one form want them where
their ways differ, before they lie in one tub.
"""

from __future__ import annotations

from procedure.facts.study import Study
from procedure.model import Lot

TAGS = "First tie a tag with its name to each: they look alike."


def first_together(study: Study) -> dict[int, bool]:
    """The steps, by their ids, that are the first to take lots which look alike and go other
    ways: that of each such set of lots."""
    ways: dict[str, list[int]] = {}
    for node in study.flow.nodes:
        for lot in node.lots:
            ways.setdefault(lot, []).append(node.id)
    found: dict[int, bool] = {}
    tagged: set[str] = set()
    for node in study.flow.nodes:
        alike: dict[tuple[object, ...], list[str]] = {}
        for lot in node.lots if len(node.lots) > 1 else ():
            declared = study.flow.lots[lot].declared
            if declared is not None:
                alike.setdefault(_look(declared), []).append(lot)
        for lots in alike.values():
            stories = {(tuple(ways[lot]), _past(study.flow.lots[lot].declared)) for lot in lots}
            if len(stories) > 1 and not tagged.issuperset(lots):
                found[node.id] = True
                tagged.update(lots)
    return found


def _look(lot: Lot) -> tuple[object, ...]:
    """What shows of a lot: its fibres, its form, and the colour that it had."""
    dyed = tuple(one.entry.name for one in lot.past if one.done == "dyed")
    return tuple(entry.name for entry in lot.fibres), _form(lot), dyed


def _form(lot: Lot) -> tuple[str, ...]:
    from procedure.vocabulary import vocabulary

    forms = (vocabulary().find(word, "form") for word in lot.words)
    return tuple(sorted({one.name for one in forms if one is not None}))


def _past(lot: Lot | None) -> tuple[tuple[str, str, str], ...]:
    """What was done to it before, which does not show."""
    past = () if lot is None else lot.past
    return tuple((one.done, one.entry.name, one.share.text if one.share else "") for one in past)
