"""The timetable as a drawing: a row for each pot, ring and person, the days as columns.

Nights are folded into narrow strips. How a row is taken is told by hatch as well as by
colour, and by words in the legend; each bar bears its step's number, and its name where
there is room. Where the days or the rows do not fit one sheet legibly there are several; the
steps by number follow on sheets of their own. Lengths are in points; no letter is smaller
than :data:`SMALL`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from procedure.chart.lettering import width, wrap
from procedure.paper.pieces import in_markup
from procedure.timetable.agenda import Agenda, Day
from procedure.timetable.hours import clock
from procedure.timetable.planned_words import (
    capital,
    day_of,
    ended,
    ending,
    how_good,
    moment_in_words,
    span,
    time_of,
)
from procedure.timetable.shared_out import Bar, ResourceRow, elsewhere
from procedure.timetable.unsure import may_take, stays
from procedure.timetable.work import HANDS

PAPERS = {"a4": (842.0, 595.0), "letter": (792.0, 612.0)}
SMALL = 7.0
_TEXT, _HEADING, _TITLE = 7.5, 9.0, 13.0
_MARGIN, _LABELS, _FOLD = 26.0, 92.0, 18.0
_LEAST_SCALE = 0.55
"""Points for a minute below which fewer days are put on a sheet."""
_HIGHEST_ROW, _LOWEST_ROW, _LANE, _BAR = 48.0, 23.0, 9.0, 12.0
_MORE_HEIGHT = (24.0, 18.0, 12.0, 9.0, 6.0, 3.0, 0.0)
_MOST_LANES, _GAP, _FAR, _TOO_FAR = 5, 18.0, 24.0, 40.0
"""A label is no further from the beginning of its bar where its row can be higher for it."""
_TOP, _LEGEND = 80.0, 20.0
_MOST_NOTES, _NOTE_LINE = 5, 8.0
"""So many lines of notes are at the foot of a sheet; what they have no room for is counted."""
_NO_BREAK = "\u00a0of\u00a0"
_FACE = "DejaVu Sans, Verdana, Arial, Helvetica, sans-serif"
_FILLS = {
    "hands": ("#23405f", "worked at by hand"),
    "watched": ("url(#watched)", "looked at now and then"),
    "alone": ("url(#alone)", "goes on by itself"),
    "held": ("#ffffff", "not free: full, or still to be cleaned"),
}
_PATTERNS = (
    '<defs><pattern id="watched" width="5" height="5" patternUnits="userSpaceOnUse">'
    '<rect width="5" height="5" fill="#fbe3c4"/>'
    '<path d="M-1,1 l2,-2 M0,5 l5,-5 M4,6 l2,-2" stroke="#b25e00" stroke-width="0.9"/></pattern>'
    '<pattern id="alone" width="4" height="4" patternUnits="userSpaceOnUse">'
    '<rect width="4" height="4" fill="#e2f0e4"/>'
    '<circle cx="2" cy="2" r="0.7" fill="#2e6b3a"/></pattern>'
    '<pattern id="closed" width="6" height="6" patternUnits="userSpaceOnUse">'
    '<rect width="6" height="6" fill="#eeeeee"/>'
    '<path d="M0,0 l6,6" stroke="#bdbdbd" stroke-width="0.6"/></pattern></defs>'
)


@dataclass(frozen=True)
class _Scale:
    """Where minutes lie across a sheet: days at one scale, the nights between them folded."""

    days: tuple[Day, ...]
    left: float
    per_minute: float

    @property
    def ends(self) -> tuple[int, int]:
        """The first and the last minute of the sheet."""
        return self.days[0].windows[0].opens, self.days[-1].windows[-1].closes

    def x(self, minute: int) -> float:
        """The place of a minute; what lies outside the sheet lies on its edge."""
        at = self.left
        for i, day in enumerate(self.days):
            opens, closes = day.windows[0].opens, day.windows[-1].closes
            if minute <= closes:
                return at + max(0, minute - opens) * self.per_minute
            at += (closes - opens) * self.per_minute
            if i + 1 < len(self.days):
                next_opens = self.days[i + 1].windows[0].opens
                if minute < next_opens:
                    return at + _FOLD * (minute - closes) / (next_opens - closes)
                at += _FOLD
        return at + (_FOLD if minute > self.ends[1] else 0.0)


def draw(agenda: Agenda, paper: str = "a4") -> tuple[str, ...]:
    """The sheets of the drawing, each an SVG document of the paper's size, landscape.

    The steps by number are beneath the rows of their days where there is room, else on sheets of
    their own.
    """
    whole = PAPERS[paper]
    said, no_room = _told_first(agenda, whole[0])
    notes = [*no_room, *_notes(agenda.made.work.notes, whole[0])]
    size = whole[0], whole[1] - max(0, len(notes) - 1) * _NOTE_LINE
    room = size[1] - _TOP - _LEGEND - _MARGIN
    drawn_rows = [row for row in agenda.rows if row.resource.kind != "power"]
    drawn_rows += filter(None, [elsewhere(agenda.made)])
    keys = sorted(agenda.numbers, key=agenda.numbers.__getitem__)
    bodies: list[str] = []
    left_over: list[str] = []
    for scale in _scales(agenda, size, drawn_rows):
        here = [row for row in drawn_rows if _on_sheet(row, scale)]
        own = [key for key in keys if _begins_on(agenda, key, scale)]
        if bodies and not own and all(row.resource.kind in ("people", "air") for row in here):
            continue  # the last yarn only dries: till when is said where it is hung up
        least = [_height(agenda, scale, row) for row in here]
        more = _more_height(agenda, own, size, least)
        if more is not None:
            heights = [each + more for each in least]
            (beneath,) = _key(agenda, own, size, _TOP + sum(heights) + _GAP, _foot(size))
            bodies.append(_rows(agenda, scale, here, size, heights) + "\n" + beneath)
            continue
        left_over += own
        rows_on_sheet = max(1, int(room // _LOWEST_ROW))
        for i in range(0, max(1, len(here)), rows_on_sheet):
            some = here[i : i + rows_on_sheet]
            high = min(_HIGHEST_ROW, room / max(1, len(some)))
            bodies.append(_rows(agenda, scale, some, size, [high] * len(some)))
    if left_over:
        bodies += _key(agenda, left_over, size, _MARGIN + 40, size[1] - _MARGIN)
    count = len(bodies)
    foot = "\n".join(
        _text(_MARGIN, size[1] - _MARGIN / 2 + i * _NOTE_LINE, line, SMALL)
        for i, line in enumerate(notes)
    )
    return tuple(
        _sheet(agenda, said, f"{foot}\n{body}" if foot else body, whole, (i + 1, count))
        for i, body in enumerate(bodies)
    )


def _foot(size: tuple[float, float]) -> float:
    return size[1] - _MARGIN - _LEGEND


def _more_height(
    agenda: Agenda, own: list[str], size: tuple[float, float], least: list[float]
) -> float | None:
    """How much higher each row can be with the steps beneath; None where they do not fit at all."""
    for more in _MORE_HEIGHT:
        top = _TOP + sum(least) + more * len(least) + _GAP
        if len(_key(agenda, own, size, top, _foot(size))) == 1 and top < _foot(size):
            return more
    return None


def _height(agenda: Agenda, scale: _Scale, row: ResourceRow) -> float:
    """How high a row has to be for its labels to stay near their bars and on the sheet."""
    edge = scale.x(scale.ends[1]) + _FOLD
    for lanes in range(1, _MOST_LANES + 1):
        taken_to = [scale.left] * lanes
        away = max((_put(agenda, scale, bar, taken_to) for bar in _bars(row, scale)), default=0.0)
        if away <= _FAR and max(taken_to) <= edge:
            break
    return lanes * _LANE + _BAR + 4


def _put(agenda: Agenda, scale: _Scale, bar: Bar, taken_to: list[float]) -> float:
    """Put a label where there is room for it; how far that is from the beginning of its bar."""
    left, wide = scale.x(bar.start), scale.x(bar.end) - scale.x(bar.start)
    said = _label(agenda, bar, wide - 4)
    long = width(said, SMALL)
    if not said or long <= wide - 2:
        return 0.0
    lane = _lane(left, taken_to)
    at = max(left, taken_to[lane] + 2)
    taken_to[lane] = at + long
    return at - left


def _lane(left: float, taken_to: list[float]) -> int:
    """The lane in which a label comes nearest to its bar."""
    return min(range(len(taken_to)), key=lambda each: (max(left, taken_to[each] + 2), each))


def _begins_on(agenda: Agenda, key: str, scale: _Scale) -> bool:
    """Whether a step begins on a day of this sheet, or in the night after it."""
    start = agenda.made.at[key].start
    after = [day.windows[0].opens for day in agenda.days if day.number > scale.days[-1].number]
    ahead = scale.days[0].windows[0].opens
    first = scale.days[0].number == agenda.days[0].number
    return (first or start >= ahead) and start < min(after, default=start + 1)


def _on_sheet(row: ResourceRow, scale: _Scale) -> bool:
    first, last = scale.ends
    return row.resource.kind == "people" or any(
        bar.start <= last and first <= bar.end for bar in row.bars
    )


def _scales(
    agenda: Agenda, size: tuple[float, float], drawn_rows: Sequence[ResourceRow]
) -> list[_Scale]:
    """The days of each sheet: as many as are legible, and as its rows have room for their labels.

    Days on which nobody does anything are no reason to have the others smaller.
    """
    room = size[0] - 2 * _MARGIN - _LABELS - _FOLD
    sheets: list[list[Day]] = []
    for day in agenda.days:
        if sheets and _per_minute([*sheets[-1], day], room) >= _LEAST_SCALE:
            sheets[-1].append(day)
        else:
            sheets.append([day])
    found: list[_Scale] = []
    while sheets:
        days = sheets.pop(0)
        scale = _Scale(tuple(days), _MARGIN + _LABELS, _per_minute(days, room))
        if len(days) > 1 and _crowded(agenda, scale, size, drawn_rows):
            half = len(days) // 2
            sheets = [days[:half], days[half:], *sheets]
        else:
            found.append(scale)
    return found


def _crowded(
    agenda: Agenda, scale: _Scale, size: tuple[float, float], drawn_rows: Sequence[ResourceRow]
) -> bool:
    """Whether labels come far from their bars, however the rows of a sheet share its height."""
    here = [row for row in drawn_rows if _on_sheet(row, scale)]
    high = min(_HIGHEST_ROW, (size[1] - _TOP - _LEGEND - _MARGIN) / max(1, len(here)))
    lanes = _lanes(high)
    for row in here:
        taken_to = [scale.left] * lanes
        away = max((_put(agenda, scale, bar, taken_to) for bar in _bars(row, scale)), default=0.0)
        if away > _TOO_FAR:
            return True
    return False


def _lanes(high: float) -> int:
    """How many lanes of labels a row of such a height has."""
    return max(1, min(_MOST_LANES, int((high - _BAR - 2) // _LANE)))


def _per_minute(days: list[Day], room: float) -> float:
    minutes = sum(day.windows[-1].closes - day.windows[0].opens for day in days)
    return (room - _FOLD * (len(days) - 1)) / max(1, minutes)


def _told_first(agenda: Agenda, across: float) -> tuple[str, list[str]]:
    """What is told beneath the title, which is one line, and the lines that have no room there."""
    end, how = ending(agenda.made), how_good(agenda.made)
    room = across - 2 * _MARGIN
    if width(ended(agenda.made), _TEXT) <= room:
        return ended(agenda.made), []
    # A line that is too long for the sheet is told by sentences.
    end, _, more = (end, "", "") if width(end, _TEXT) <= room else end.partition(". ")
    return (
        (f"{end}.", wrap(f"{more} {how}", room, SMALL)) if more else (end, wrap(how, room, SMALL))
    )


def _sheet(
    agenda: Agenda, said: str, body: str, size: tuple[float, float], number: tuple[int, int]
) -> str:
    work = agenda.made.work
    title = work.title or "Timetable"
    lines = [
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size[0]:g}pt" height="{size[1]:g}pt" '
        f'viewBox="0 0 {size[0]:g} {size[1]:g}" role="img" font-family="{_FACE}">',
        f"<title>{in_markup(title)}</title>",
        f"<desc>{in_markup(ended(agenda.made))}</desc>",
        _PATTERNS,
        f'<rect width="{size[0]:g}" height="{size[1]:g}" fill="#ffffff"/>',
        _text(_MARGIN, _MARGIN + 8, wrap(title, size[0] - 150, _TITLE)[0], _TITLE, bold=True),
        _text(_MARGIN, _MARGIN + 20, said, _TEXT),
        *_cautions(work.cautions, size[0]),
    ]
    if number[1] > 1:
        page = f"sheet {number[0]} of {number[1]}"
        lines.append(_text(size[0] - _MARGIN, _MARGIN + 8, page, _TEXT, anchor="end"))
    return "\n".join([*lines, body, "</svg>"]) + "\n"


def _cautions(cautions: tuple[str, ...], across: float) -> list[str]:
    """What can kill, in the room between the title and the rows; the smaller the more there is."""
    step = min(9.0, (_TOP - _MARGIN - 34) / max(1, 2 * len(cautions)))
    lines = [one for caution in cautions for one in wrap(caution, across - 2 * _MARGIN, _TEXT)]
    return [
        _text(_MARGIN, _MARGIN + 30 + i * step, line, min(_TEXT, step), "#9b1c1c", bold=True)
        for i, line in enumerate(lines)
    ]


def _notes(notes: tuple[str, ...], across: float) -> list[str]:
    """What has to be known of the plan as a whole, in lines for the foot: no sentence is cut."""
    found: list[str] = []
    for number, note in enumerate(notes):
        lines = wrap(note, across - 2 * _MARGIN, SMALL)
        last = number == len(notes) - 1
        if len(found) + len(lines) > _MOST_NOTES - (not last):
            left = len(notes) - number
            told = "1 more note is" if left == 1 else f"{left} more notes are"
            return [*found, f"{told} in the timetable as text."]
        found += lines
    return found


def _text(
    x: float,
    y: float,
    said: str,
    size: float,
    fill: str = "#000000",
    anchor: str = "start",
    bold: bool = False,
) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return (
        f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size:g}" fill="{fill}" '
        f'text-anchor="{anchor}"{weight}>{in_markup(said)}</text>'
    )


def _rows(
    agenda: Agenda,
    scale: _Scale,
    here: list[ResourceRow],
    size: tuple[float, float],
    heights: list[float],
) -> str:
    drawn = [_columns(agenda, scale, _TOP + sum(heights))]
    top = _TOP
    for row, high in zip(here, heights, strict=True):
        drawn.append(_row(agenda, scale, row, top, high))
        top += high
    drawn.append(_legend(size[1] - _MARGIN))
    return "\n".join(drawn)


def _columns(agenda: Agenda, scale: _Scale, bottom: float) -> str:
    """The days with their hours, the closed times between, and the folded nights."""
    begins = agenda.made.work.begins
    assert begins is not None
    drawn: list[str] = []
    for i, day in enumerate(scale.days):
        opens, closes = day.windows[0].opens, day.windows[-1].closes
        left, right = scale.x(opens), scale.x(closes)
        head = day_of(clock(begins, opens))
        room = (right - left + _FOLD - 4) / width(head, _HEADING, bold=True)
        size = min(_HEADING, max(SMALL, room * _HEADING))
        drawn.append(_text(left + 2, _TOP - 16, head, size, bold=True))
        for before, after in zip(day.windows, day.windows[1:], strict=False):
            drawn.append(_closed(scale.x(before.closes), scale.x(after.opens), bottom))
        drawn += _hours(begins, scale, (opens, closes), bottom)
        if i + 1 < len(scale.days):
            drawn.append(_closed(right, right + _FOLD, bottom))
            days = scale.days[i + 1].number - day.number
            folded = "night" if days == 1 else f"{days} nights"
            # Beneath the rows, where none of their labels comes.
            drawn.append(_text(right + _FOLD / 2, bottom + SMALL, folded, SMALL, anchor="middle"))
    return "\n".join(drawn)


def _closed(left: float, right: float, bottom: float) -> str:
    return (
        f'<rect x="{left:.1f}" y="{_TOP:g}" width="{right - left:.1f}" '
        f'height="{bottom - _TOP:.1f}" fill="url(#closed)"/>'
    )


def _hours(begins: datetime, scale: _Scale, span: tuple[int, int], bottom: float) -> list[str]:
    """A line and a time for each full hour, for every other one where they would touch."""
    # The first and the last are beside their lines, the others across them.
    apart = 1.5 * width("00:00", SMALL) + 3
    every = next((n for n in (30, 60, 120, 180, 240) if n * scale.per_minute >= apart), 360)
    drawn = []
    first = clock(begins, span[0])
    past = (first.hour * 60 + first.minute) % every
    minute = span[0] + (-past) % every
    while minute <= span[1]:
        x = scale.x(minute)
        drawn.append(
            f'<path d="M{x:.1f},{_TOP:g} V{bottom:.1f}" stroke="#c4c4c4" stroke-width="0.5"/>'
        )
        at_edge = "end" if span[1] - minute < 10 else "start" if minute == span[0] else "middle"
        said = time_of(clock(begins, minute))
        drawn.append(_text(x, _TOP - 4, said, SMALL, fill="#333333", anchor=at_edge))
        minute += every
    return drawn


def _row(agenda: Agenda, scale: _Scale, row: ResourceRow, top: float, high: float) -> str:
    _, last = scale.ends
    name = wrap(capital(row.name.removeprefix("the ")), _LABELS - 6, _TEXT)
    drawn = [
        f'<path d="M{_MARGIN:g},{top + high:.1f} H{scale.x(last) + _FOLD:.1f}" '
        'stroke="#999999" stroke-width="0.4"/>'
    ]
    for i, line in enumerate(name[:2]):
        drawn.append(_text(_MARGIN, top + 11 + i * 9, line, _TEXT, bold=True))
    lanes = _lanes(high)
    taken_to = [scale.left] * lanes
    if row.resource.kind == "people":
        drawn += _near(agenda, scale, row, top + lanes * _LANE + 1.5 + _BAR)
    for bar in _bars(row, scale):
        drawn += _bar(agenda, scale, bar, top, taken_to)
    return "\n".join(drawn)


def _near(agenda: Agenda, scale: _Scale, row: ResourceRow, bottom: float) -> list[str]:
    """A thin strip where nobody works and somebody has to stay near, for what is on the heat.

    So when all work of a day is over, and a bath is too hot to be alone. Who has only a lot of
    their own stays near that.
    """
    work, own = agenda.made.work, row.resource.key
    times = [
        (one.minute, one.until, one.watched)
        for day in scale.days
        for one in day.entries
        if one.kind == "free" and one.watched
    ]
    times += [
        (start, end, (key,))
        for day in scale.days
        for key, start, end in stays(agenda.made, day.windows)
    ]
    if own != HANDS:
        theirs = {
            each.key for each in work.activities if own in {need.resource for need in each.hands}
        }
        times = [each for each in times if theirs & {*each[2]}]
    return [
        f'<rect x="{scale.x(start):.1f}" y="{bottom - _BAR / 3:.1f}" '
        f'width="{max(1.2, scale.x(end) - scale.x(start)):.1f}" '
        f'height="{_BAR / 3:.1f}" fill="{_FILLS["watched"][0]}" stroke="#333333" '
        'stroke-width="0.3"/>'
        for start, end, _ in times
    ]


def _bars(row: ResourceRow, scale: _Scale) -> list[Bar]:
    """The bars of a row that are on a sheet, from left to right."""
    first, last = scale.ends
    there = [bar for bar in row.bars if bar.start <= last and first <= bar.end]
    return sorted(there, key=lambda each: (each.start, each.end))


def _bar(agenda: Agenda, scale: _Scale, bar: Bar, top: float, taken_to: list[float]) -> list[str]:
    """A bar and its label, in it or over it.

    ``taken_to`` is how far labels reach in each of the lanes over the bars, the nearest first.
    """
    left, right = scale.x(bar.start), scale.x(bar.end)
    wide = max(1.2, right - left)
    y = top + len(taken_to) * _LANE + 1.5
    fill = _FILLS[bar.how][0]
    drawn = [
        f'<rect x="{left:.1f}" y="{y:.1f}" width="{wide:.1f}" height="{_BAR:g}" fill="{fill}" '
        'stroke="#333333" stroke-width="0.5"/>'
    ]
    said = _label(agenda, bar, wide - 4)
    if not said:
        return drawn
    long = width(said, SMALL)
    if long <= wide - 2:
        ink = "#ffffff" if bar.how == "hands" else "#000000"
        if bar.how in ("watched", "alone"):
            drawn.append(
                f'<rect x="{left + 1:.1f}" y="{y + 2:.1f}" width="{long + 1:.1f}" '
                f'height="{_BAR - 4:g}" fill="#ffffff" fill-opacity="0.85"/>'
            )
        drawn.append(_text(left + 1.5, y + _BAR - 4, said, SMALL, fill=ink))
        return drawn
    lane = _lane(left, taken_to)
    at = max(left, taken_to[lane] + 2)
    taken_to[lane] = at + long
    foot = y - 2 - lane * _LANE
    drawn.append(_text(at, foot - 1, said, SMALL))
    drawn.append(
        f'<path d="M{at + 1:.1f},{foot:.1f} L{left + wide / 2:.1f},{y:.1f}" '
        'stroke="#333333" stroke-width="0.4" fill="none"/>'
    )
    return drawn


def _label(agenda: Agenda, bar: Bar, room: float) -> str:
    """The step's number and, where there is room, its name; what is held has neither."""
    if bar.key not in agenda.numbers:
        return ""
    number = agenda.printed(bar.key)
    name = f"{number} {agenda.made.work.activity[bar.key].name}"
    if width(name, SMALL) <= room:
        return name
    words = name.split(" ")
    for count in range(len(words) - 1, 2, -1):
        shorter = " ".join(words[:count]) + " …"
        if width(shorter, SMALL) <= room:
            return shorter
    return number


def _legend(bottom: float) -> str:
    drawn = []
    x = _MARGIN + _LABELS
    for fill, said in _FILLS.values():
        drawn.append(
            f'<rect x="{x:.1f}" y="{bottom - 9:.1f}" width="22" height="10" fill="{fill}" '
            'stroke="#333333" stroke-width="0.5"/>'
        )
        drawn.append(_text(x + 26, bottom, said, _TEXT))
        x += 40 + width(said, _TEXT)
    drawn.append(
        f'<rect x="{x:.1f}" y="{bottom - 9:.1f}" width="22" height="10" fill="url(#closed)"/>'
    )
    drawn.append(_text(x + 26, bottom, "closed; nights are folded", _TEXT))
    return "\n".join(drawn)


def _key(
    agenda: Agenda, keys: list[str], size: tuple[float, float], top: float, bottom: float
) -> list[str]:
    """Steps by number, from ``top`` to ``bottom`` of as many sheets as they need."""
    columns, line = 4, 9.4
    wide = (size[0] - 2 * _MARGIN - 16 * (columns - 1)) / columns
    sheets: list[list[str]] = [[]]
    column, y, on = 0, top, None
    for key in keys:
        said, on = _key_words(agenda, key, on)
        lines = wrap(said, wide - 22, _TEXT)
        if y + len(lines) * line > bottom:
            column, y = column + 1, top
            if column == columns:
                column = 0
                sheets.append([])
        x = _MARGIN + column * (wide + 16)
        sheets[-1].append(_text(x + 16, y, agenda.printed(key), _TEXT, anchor="end", bold=True))
        for each in lines:
            sheets[-1].append(_text(x + 20, y, each, _TEXT))
            y += line
    return ["\n".join(each) for each in sheets]


def _key_words(agenda: Agenda, key: str, on: datetime | None) -> tuple[str, datetime]:
    """A step with its times; the day is said where it is another than the last one's."""
    work = agenda.made.work
    assert work.begins is not None
    placed, activity = agenda.made.at[key], work.activity[key]
    starts = clock(work.begins, placed.start)
    at = moment_in_words(work, placed.start, on)
    until = moment_in_words(work, placed.end, starts)
    several = len({each.project for each in work.activities}) > 1
    about = f" ({activity.project})" if several and activity.project else ""
    told = activity.name + activity.told.removeprefix(activity.name).replace(" of ", _NO_BREAK)
    return f"{at} to {until}: {told}{about}{_unsure(agenda, key, starts)}", starts


def _unsure(agenda: Agenda, key: str, on: datetime) -> str:
    """How long a step may take that is estimated, until when somebody stays near its bath, and
    that somebody sees to it every day.
    """
    made = agenda.made
    longest = may_take(made, key)
    said = f"; may take {span(longest)}" if longest else ""
    cool = [each.end for day in agenda.days for each in stays(made, day.windows) if each.key == key]
    if any(each == key for each, _ in made.seen_to):
        said += f"; every day: {made.work.activity[key].daily}"
    return said + "".join(
        f"; hot, stay near until {moment_in_words(made.work, each, on)}" for each in cool
    )
