"""What makes one sample of a card differ from another: its mordant, its time, its after-bath."""

from __future__ import annotations

from procedure.facts.study import Study
from procedure.handout.lot_stories import Event, Story
from procedure.handout.phrasebook import Telling
from procedure.paper.measures import SPELLINGS, minutes
from procedure.paper.pieces import Phrase, joined, plain_text
from procedure.quantity.interval import ZERO, Interval
from procedure.quantity.record import NamedTuple
from procedure.wording.spelling import in_spelling

# What a material must be to give colour, by its roles in the vocabulary.
# The least of a night, in minutes (common practice).
NIGHT = 8 * 60
_GIVES = frozenset(("dyestuff", "dye"))


class GridPlace(NamedTuple):
    """Where a sample is in the grid, in words that may be empty.

    ``mordant`` is what it took up before any colour, ``dyed`` what gave the colour and how
    long, ``after`` what came after.
    """

    mordant: str
    dyed: str
    after: str


def place_of(telling: Telling, story: Story, in_full: bool = False) -> GridPlace:
    """The place of a sample, by what its lot met and when.

    That an after-bath had been used before is told ``in_full`` only: on a card of many samples
    they go through it one after the other, and are in one column all the same.
    """
    taken = [event for event in story.events if event.does.gives_colour]
    coloured = [place for place, event in enumerate(taken) if _colours(telling, event)]
    past = _past(telling, story)
    if not coloured:
        return GridPlace(_in_turn(past, _all(telling, taken)), "", "")
    first, last = coloured[0], coloured[-1]
    return GridPlace(
        _in_turn(past, _all(telling, taken[:first])),
        _dyed(telling, story, taken[first : last + 1], taken[last + 1 :]),
        _all(telling, [event for event in taken[last + 1 :] if event.took], in_full),
    )


def _in_turn(*said: str) -> str:
    return ", then ".join(part for part in said if part)


def _past(telling: Telling, story: Story) -> str:
    """What was done to the fibre before the procedure begins: ``potassium alum 10 %``."""
    lots = telling.plan.flow.lots
    origin = next((one for one in lots.values() if one.name == story.lot), None)
    while origin is not None and origin.declared is None:
        origin = lots.get(origin.parts[0]) if origin.parts else None
    if origin is None or origin.declared is None:
        return ""
    past = origin.declared.past
    shares = ((one, one.share.text.partition(" of ")[0] if one.share else "") for one in past)
    return _in_turn(*(f"{one.entry.name} {share}".rstrip() for one, share in shares))


def after_metal(telling: Telling, story: Story) -> bool:
    """True where the last thing that a lot met is a metal, whose colours the tables know."""
    took = [name for event in story.events if event.does.gives_colour for name in event.took]
    made = telling.plan.flow.materials.get(_material(telling, took[-1])) if took else None
    entry = made[0].entry if made is not None else None
    return entry is not None and bool(entry.facts.get("metal", ""))


def _material(telling: Telling, name: str) -> str:
    """The plan's name of a material that a story calls by its own or by its name in the trade."""
    return telling.plan.study.once(_by_any_name)[telling.voice.spelling].get(name, name)


def _by_any_name(study: Study) -> dict[str, dict[str, str]]:
    """By spelling, the materials by whatever a story may call them, the first of several."""
    found: dict[str, dict[str, str]] = {spelling: {} for spelling in SPELLINGS}
    for thing, (made, _) in study.flow.materials.items():
        for spelling, known in found.items():
            trade = in_spelling(made.trade_name, spelling)
            for name in (thing, made.name.text, made.trade_name, trade, made.in_full):
                known.setdefault(name, thing)
    return found


def _colours(telling: Telling, event: Event) -> bool:
    things = telling.plan.flow.materials
    found = [_material(telling, one) for one in event.took]
    return any(_GIVES & set(things[one][0].roles) for one in found if one in things)


def _real(telling: Telling, took: tuple[str, ...]) -> Phrase:
    return joined(telling.real_name(_material(telling, thing)) for thing in took)


def _all(telling: Telling, events: list[Event], used: bool = True) -> str:
    """What was met, one after the other, with its share of the fibre where that is said."""
    return _in_turn(*(_with_share(telling, event, used) for event in events if event.took))


def _with_share(telling: Telling, event: Event, used: bool) -> str:
    said = plain_text(_real(telling, event.took), telling.voice)
    if used and event.used:
        return f"{said} {event.used}"
    return f"{said} {event.share.strip(' ()')}".rstrip()


def _dyed(telling: Telling, story: Story, events: list[Event], more: list[Event]) -> str:
    """``madder 1¼ hours``: a lot that stayed on while the bath was held has that time too."""
    said: list[str] = []
    dips: dict[str, tuple[int, int]] = {}
    open_ended: set[str] = set()
    for place, event in enumerate(events):
        if not event.took:
            continue
        name = plain_text(_real(telling, event.took), telling.voice)
        if event.does.dips:
            if name not in dips:
                said.append(name)
            few, many = dips.get(name, (0, 0))
            dips[name] = few + int(event.times[0]), many + int(event.times[1])
            open_ended |= {name} if event.rounds else set()
            continue
        time = event.minutes or ZERO
        for later in (*events[place + 1 :], *more):
            if later.took or later.bath != event.bath:
                break
            time = time.plus(later.minutes or ZERO)
        night = ", left in overnight" if _overnight(story, event) else ""
        used = f" {event.used}" if event.used else ""
        said.append(f"{name} {_time(time)}".rstrip() + used + night)
    told = (
        _dips(dips[one], one, one in open_ended) if one in dips else one
        for one in dict.fromkeys(said)
    )
    return ", then ".join(told)


def _dips(often: tuple[int, int], name: str, more: bool) -> str:
    """``2 to 3 dips in indigo``: which it was is for whoever made them to say.

    ``1 or more dips`` where they go on until something is seen.
    """
    few, many = often
    if more:
        return f"{few} or more dips in {name}"
    said = f"{many}" if few == many else f"{few} to {many}"
    return f"{said} dip{'s' if many > 1 else ''} in {name}"


def _overnight(story: Story, met: Event) -> bool:
    """True for a lot that stayed in its bath for a night, as the bath cooled."""
    at = story.events.index(met)
    for event in story.events[at + 1 :]:
        if event.bath != met.bath or event.does.takes_out:
            return False
        if not event.does.gives_colour and event.minutes and event.minutes[0] >= NIGHT:
            return True
    return False


def _time(time: Interval) -> str:
    return minutes(time[0], time[1]).replace("\u00a0", " ") if time[1] else ""
