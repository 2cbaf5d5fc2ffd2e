"""What makes one sample of a card differ from another: its mordant, its time, its after-bath."""

from __future__ import annotations

from procedure.handout.lots import Event, Story
from procedure.handout.phrasebook import Telling
from procedure.paper.measures import minutes
from procedure.paper.pieces import Phrase, joined, plain_text
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.record import NamedTuple

# What a material must be to give colour, by its roles in the vocabulary.
_GIVES = frozenset(("dyestuff", "dye"))


class Place(NamedTuple):
    """Where a sample is in the grid, in words that may be empty.

    ``mordant`` is what it took up before any colour, ``dyed`` what gave the colour and how
    long, ``after`` what came after.
    """

    mordant: str
    dyed: str
    after: str


def place_of(telling: Telling, story: Story) -> Place:
    """The place of a sample, by what its lot met and when."""
    taken = [event for event in story.events if event.does.gives_colour]
    coloured = [place for place, event in enumerate(taken) if _colours(telling, event)]
    if not coloured:
        return Place(_all(telling, taken), "", "")
    first, last = coloured[0], coloured[-1]
    return Place(
        _all(telling, taken[:first]),
        _dyed(telling, taken[first : last + 1], taken[last + 1 :]),
        _all(telling, [event for event in taken[last + 1 :] if event.took]),
    )


def _colours(telling: Telling, event: Event) -> bool:
    things = telling.plan.flow.materials
    return any(_GIVES & set(things[one][0].roles) for one in event.took if one in things)


def _real(telling: Telling, took: tuple[str, ...]) -> Phrase:
    return joined(telling.real_name(thing) for thing in took)


def _all(telling: Telling, events: list[Event]) -> str:
    said = [_real(telling, event.took) for event in events if event.took]
    return plain_text(joined(said, word="then", between=", "), telling.voice)


def _dyed(telling: Telling, events: list[Event], more: list[Event]) -> str:
    """``madder 1¼ hours``: a lot that stayed on while the bath was held has that time too."""
    said: list[str] = []
    for place, event in enumerate(events):
        if not event.took:
            continue
        name = plain_text(_real(telling, event.took), telling.voice)
        if event.does.dips:
            often = event.times[1]
            said.append(f"{often} dip{'s' if often > 1 else ''} in {name}")
            continue
        time = event.minutes or ZERO
        for later in (*events[place + 1 :], *more):
            if later.took or later.bath != event.bath:
                break
            time = time.plus(later.minutes or ZERO)
        said.append(f"{name} {_time(time)}".rstrip())
    return ", then ".join(dict.fromkeys(said))


def _time(time: Interval) -> str:
    return minutes(time[0], time[1]).replace("\u00a0", " ") if time[1] else ""
