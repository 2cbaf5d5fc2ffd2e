"""A series of heats drawn as a curve, with the plan's band behind it, as SVG."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from procedure.batch.heat_series import Band
from procedure.batch.types import HeatReading
from procedure.paper.pieces import in_markup
from procedure.quantity.day import A_DAY

WIDTH, HEIGHT = 640, 320
LONGEST = 80
LEFT, RIGHT, TOP, BOTTOM = 52, 24, 48, 40


def curve(
    series: Sequence[HeatReading], band: Sequence[Band] = (), title: str = "Heat of the bath"
) -> str:
    """The curve as an SVG document with a title and a description.

    The band is laid from the first reading on. Line and band differ in more than their
    colour: the line is solid with dots, the band hatched with a dashed edge. Raises
    ``ValueError`` where the series has no reading.
    """
    if not series:
        raise ValueError("a curve needs one reading at least")
    start = series[0].minute
    last = max([series[-1].minute - start, *(point.minute for point in band), Fraction(1)])
    heats = [one.heat for one in series]
    heats += [end for point in band for end in (point.low, point.high)]
    low, high = _round_out(min(heats), max(heats))

    def across(minute: Fraction) -> float:
        return LEFT + float(minute / last) * (WIDTH - LEFT - RIGHT)

    def down(heat: Fraction) -> float:
        return TOP + float((high - heat) / (high - low)) * (HEIGHT - TOP - BOTTOM)

    points = " ".join(f"{across(one.minute - start):.1f},{down(one.heat):.1f}" for one in series)
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDTH} {HEIGHT}" role="img" '
        f'aria-label="{in_markup(title)}" font-family="serif" font-size="12">',
        f"<title>{in_markup(title)}</title>",
        f"<desc>{in_markup(told(series, band))}</desc>",
        '<defs><pattern id="plan" width="6" height="6" patternUnits="userSpaceOnUse" '
        'patternTransform="rotate(45)"><path d="M0 0V6" stroke="#777" stroke-width="1"/>'
        "</pattern></defs>",
        f'<rect width="{WIDTH}" height="{HEIGHT}" fill="#fff"/>',
        f'<text x="{LEFT}" y="16" font-weight="bold">{in_markup(_short(title))}</text>',
        *_axes(low, high, start, last, across, down),
        *_band(band, across, down),
        f'<polyline points="{points}" fill="none" stroke="#a03000" stroke-width="2"/>',
    ]
    if len(series) <= 60:
        parts += [
            f'<circle cx="{across(one.minute - start):.1f}" cy="{down(one.heat):.1f}" r="3" '
            'fill="#a03000"/>'
            for one in series
        ]
    parts += _legend(bool(band))
    return "\n".join([*parts, "</svg>"]) + "\n"


def _short(title: str) -> str:
    """A heading that fits above the curve."""
    return title if len(title) <= LONGEST else f"{title[: LONGEST - 1].rstrip()}…"


def told(series: Sequence[HeatReading], band: Sequence[Band]) -> str:
    """The curve in words, for those who cannot see it."""
    top = max(series, key=lambda one: one.heat)
    first, last = series[0], series[-1]
    said = (
        f"From {_degrees(first.heat)} at {_clock(first.minute)} to {_degrees(last.heat)} at "
        f"{_clock(last.minute)}, {_degrees(top.heat)} at the hottest."
    )
    if band:
        said += f" Planned: up to {_degrees(max(point.high for point in band))}."
    return said


def _degrees(heat: Fraction) -> str:
    return f"{float(heat):.4g} °C"


def _clock(minute: Fraction) -> str:
    hours, rest = divmod(int(minute), 60)
    return f"{hours % 24:02}:{rest:02}"


def _round_out(low: Fraction, high: Fraction) -> tuple[Fraction, Fraction]:
    """A scale of whole tens that holds both, with some room."""
    least = (low - 3) // 10 * 10
    most = -((-high - 3) // 10) * 10
    return Fraction(least), Fraction(max(most, least + 10))


def _axes(low, high, start, last, across, down) -> list[str]:  # type: ignore[no-untyped-def]
    made = []
    for heat in range(int(low), int(high) + 1, 10):
        y = down(Fraction(heat))
        made.append(f'<path d="M{LEFT} {y:.1f}H{WIDTH - RIGHT}" stroke="#ddd"/>')
        made.append(f'<text x="{LEFT - 6}" y="{y + 4:.1f}" text-anchor="end">{heat} °C</text>')
    step = next((s for s in (5, 10, 15, 30, 60, 120, 240, 720, A_DAY) if last / s <= 8), 2 * A_DAY)
    minute = -start % step
    while minute <= last:
        x = across(Fraction(minute))
        made.append(f'<path d="M{x:.1f} {TOP}V{HEIGHT - BOTTOM}" stroke="#eee"/>')
        made.append(
            f'<text x="{x:.1f}" y="{HEIGHT - BOTTOM + 16}" text-anchor="middle">'
            f"{_clock(start + minute)}</text>"
        )
        minute += step
    return made


def _band(band, across, down) -> list[str]:  # type: ignore[no-untyped-def]
    if len(band) < 2:
        return []
    if all(one.low == one.high for one in band):  # one heat and not a range: a line
        line = " ".join(f"{across(one.minute):.1f},{down(one.low):.1f}" for one in band)
        dashes = 'fill="none" stroke="#555" stroke-width="2" stroke-dasharray="5 3"'
        return [f'<polyline points="{line}" {dashes}/>']
    over = [f"{across(one.minute):.1f},{down(one.high) - 1.5:.1f}" for one in band]
    under = [f"{across(one.minute):.1f},{down(one.low) + 1.5:.1f}" for one in reversed(band)]
    shape = " ".join(over + under)
    return [f'<polygon points="{shape}" fill="url(#plan)" stroke="#555" stroke-dasharray="5 3"/>']


def _legend(planned: bool) -> list[str]:
    made = [
        f'<path d="M{LEFT} 32H{LEFT + 28}" stroke="#a03000" stroke-width="2"/>'
        f'<circle cx="{LEFT + 14}" cy="32" r="3" fill="#a03000"/>'
        f'<text x="{LEFT + 34}" y="36">measured</text>'
    ]
    if planned:
        x = LEFT + 120
        made.append(
            f'<path d="M{x} 32H{x + 28}" stroke="#555" stroke-width="2" stroke-dasharray="5 3"/>'
            f'<text x="{x + 34}" y="36">planned</text>'
        )
    return made
