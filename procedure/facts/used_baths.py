"""Which lots met a mordant or a dyestuff in a bath that other fibre had been in before."""

from __future__ import annotations

from procedure.flow import Flow
from procedure.trace import Moment

_OFTEN = {1: "once", 2: "twice"}


def family(flow: Flow, lot: str) -> list[str]:
    """A lot and the lots that it came from, itself first."""
    found = {lot: None}
    waiting = [lot]
    while waiting:
        for part in flow.lots[waiting.pop()].parts:
            if part not in found:
                found[part] = None
                waiting.append(part)
    return list(found)


def used_before(flow: Flow, moment: Moment, lot: str, thing: str) -> int:
    """How often fibre had gone into the bath of a moment when a lot met a thing there.

    0 where the thing was put in afterwards, where the lot itself or what it came from had
    been in, and for a vat, in which lots are dipped by turns.
    """
    bath = moment.bath_before
    content = bath.contents.get(thing) if bath is not None else None
    if bath is None or content is None or not content.spent or moment.node.does.dips:
        return 0
    return 0 if set(family(flow, lot)) & set(bath.treated) else bath.uses


def in_words(uses: int) -> str:
    """``in the bath used once already``; empty for a bath of its own."""
    if not uses:
        return ""
    return f"in the bath used {_OFTEN.get(uses, f'{uses} times')} already"
