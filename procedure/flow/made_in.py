"""What a lot has been through in another procedure: ``from "alum-on-wool.dye"``."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.flow.scope import Scope
from procedure.flow.walk import Walk
from procedure.model import Block, Item, Lot, Procedure, Step
from procedure.model.types import Past

# How the part that a material plays is told of fibre that has met it.
_DONE = {"mordant": "mordanted", "tannin": "tannined", "dyestuff": "dyed", "dye": "dyed"}


def with_its_past(walk: Walk, scope: Scope, lot: Lot) -> Lot:
    """The lot with what the procedure that it comes from did to it; a slip where there is none.

    Its mordants, tannins and dyestuffs are taken with their percentages; an amount in grams
    is for other fibre, and stays unsaid.
    """
    if lot.made_in is None:
        return lot
    found = walk.find(lot.made_in.text, scope.procedure)
    walk.flow.follows[scope.procedure.key, lot.made_in.text] = found
    if isinstance(found, str):
        walk.slip(f"follow {found}", scope, lot.made_in)
        return lot._replace(mordanted=True)
    place = lot.made_in.place
    past = list(lot.past)
    for item in _put_in(found.body):
        made = found.materials.get(item.name.text) if item.name is not None else None
        if made is None or made.entry is None or any(one.entry is made.entry for one in past):
            continue
        done = next((_DONE[role] for role in made.roles if role in _DONE), "")
        share = item.quantity if item.quantity and item.quantity.kind == "percent" else None
        if done:
            past.append(Past(done, made.entry, share, place))
    scoured = lot.scoured if lot.scoured is not None else _scoured(found)
    return lot._replace(past=tuple(past), scoured=scoured)


def _steps(body: tuple[Step | Block, ...]) -> Iterator[Step]:
    for one in body:
        if isinstance(one, Block):
            yield from _steps(one.body)
        else:
            yield one


def _put_in(body: tuple[Step | Block, ...]) -> Iterator[Item]:
    for step in _steps(body):
        yield from (*step.using, *step.objects)


def _scoured(found: Procedure) -> bool | None:
    """Whether fibre leaves a procedure scoured: it was before, or is in it."""
    before = any(one.scoured for one in found.lots.values())
    done = any(step.does.scours for step in _steps(found.body))
    return True if before or done else None
