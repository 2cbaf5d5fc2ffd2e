"""How long a bath takes to a heat, told before it: "taking two hours to get to 60 °C"."""

from __future__ import annotations

from procedure.draft.sentences import Part
from procedure.quantity.ready_patterns import pattern

TO = pattern(r"\s+to\s+", 0)


def with_times_to_get_there(text: str, parts: list[Part]) -> list[Part]:
    """The parts, each time that is told right before a heating with that heating."""
    made: list[Part] = []
    for part in parts:
        before = made[-1] if made else None
        times = [
            one
            for one in (before.amounts if before is not None else ())
            if one.kind == "time" and TO.fullmatch(text, one.end, part.doing.start)
        ]
        if before is None or part.doing.act != "heat" or not times:
            made.append(part)
        elif before.doing.act == "heat":  # "heat slowly, taking an hour to get to 80 °C"
            made[-1] = before._replace(
                things=(*before.things, *part.things),
                amounts=(*before.amounts, *part.amounts),
                end=part.end,
                words=text[before.start : part.end],
            )
        else:
            kept = tuple(one for one in before.amounts if one not in times)
            made[-1] = before._replace(amounts=kept)
            made.append(part._replace(amounts=(*times, *part.amounts)))
    return made
