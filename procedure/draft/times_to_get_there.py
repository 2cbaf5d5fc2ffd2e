"""How long a bath takes to a heat, told before it: "taking two hours to get to 60 °C"."""

from __future__ import annotations

from procedure.draft.sentences import Part
from procedure.quantity.ready_patterns import pattern

TO = pattern(r"\s+to\s+", 0)


def with_times_to_get_there(text: str, parts: list[Part]) -> list[Part]:
    """The parts, each time that is told right before a heating with that heating."""
    made = list(parts)
    for at in range(1, len(made)):
        before, part = made[at - 1], made[at]
        times = [
            one
            for one in before.amounts
            if one.kind == "time" and TO.fullmatch(text, one.end, part.doing.start)
        ]
        if part.doing.act != "heat" or not times:
            continue
        made[at - 1] = before._replace(
            amounts=tuple(one for one in before.amounts if one not in times)
        )
        made[at] = part._replace(amounts=(*times, *part.amounts))
    return made
