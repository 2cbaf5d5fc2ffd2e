"""The batches and published colours nearest to a colour, as data (JSON)."""

from __future__ import annotations

import json
from collections.abc import Sequence
from typing import Any

from procedure.batch.batch_reports import stood_words
from procedure.batch.colour_needs import ColourNeed
from procedure.batch.nearest_batches import Near
from procedure.batch.sourced import Ranked, Sourced, on
from procedure.colour import Colour, called, compared, to_srgb
from procedure.wording.visible import escaped


def data(
    colour: Colour, own: Sequence[Near], ranked: Ranked | None, most: int, amiss: Sequence[str]
) -> str:
    """What ``vatwright match`` found, the nearest first; ``most`` of each kind."""
    published = ranked.found[:most] if ranked is not None else ()
    made = {
        "wanted": {"hex": to_srgb(colour).hex, "called": called(colour), **_lab(colour)},
        "own": [_own(colour, one) for one in own],
        "published": [_published(colour, one) for one in published],
        "refused": list(ranked.refused) if ranked is not None else [],
        "amiss": list(dict.fromkeys(amiss)),
    }
    return escaped(json.dumps(made, ensure_ascii=False, indent=2)) + "\n"


def _lab(colour: Colour) -> dict[str, Any]:
    return {
        "L*": round(colour.lightness, 3), "a*": round(colour.a, 3), "b*": round(colour.b, 3),
        "illuminant": colour.light.illuminant, "observer": colour.light.observer,
    }  # fmt: skip


def _own(colour: Colour, one: Near) -> dict[str, Any]:
    assert one.shade.colour is not None
    record = one.batch.record
    return {
        "difference": round(one.difference, 3),
        "compared": compared(colour, one.shade.colour),
        "hex": to_srgb(one.shade.colour).hex,
        **_lab(one.shade.colour),
        "form": one.shade.form,
        "method": one.batch.method,
        "edition": record.edition,
        "batch": record.title,
        "file": str(one.batch.path),
        "lot": one.shade.lot,
        "percent_of_fibre": {name: float(100 * share) for name, share in one.needs.items()},
        "stood": list(stood_words(one.shade)),
    }


def _published(colour: Colour, one: Sourced) -> dict[str, Any]:
    return {
        "difference": round(one.difference, 3),
        "compared": compared(colour, one.colour),
        "hex": one.shade.hex,
        "approximate": True,
        "dyestuff": one.shade.dyestuff,
        "fibre": on(one.shade),
        "colour": one.shade.colour,
        "needs": [_need(need) for need in one.needs],
        "cautions": list(one.cautions),
        "source": one.shade.source,
    }


def _need(need: ColourNeed) -> dict[str, Any]:
    return {
        "part": need.part,
        "name": need.name,
        "percent_of_fibre": [
            {"from": float(share.low), "to": float(share.high), "form": share.form}
            for share in need.shares
        ],
        "remark": need.remark,
        "source": need.source,
    }
