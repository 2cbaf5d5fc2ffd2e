"""Rows to totals, to buy and to gather; and the fibre that they are for."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from procedure.pipeline import Judged
from procedure.weigh.weighed import Fibre, Row, Total


def fibres(plan: Judged) -> Iterator[Fibre]:
    """Every lot of the plan, declared or made on the way."""
    flow = plan.flow
    for name, origin in flow.lots.items():
        state = plan.trace.final.lots.get(name)
        if origin.declared is not None:
            lot = origin.declared
            pieces = lot.pieces
            yield Fibre(
                name,
                plan.study.called(name),
                " and ".join(fibre.name for fibre in lot.fibres),
                state.weight if state else None,
                pieces.ends if pieces is not None and pieces.known else None,
                (),
                lot.line,
                pieces.unit.name if pieces is not None and pieces.unit is not None else "piece",
            )
        else:
            node = flow.nodes[origin.node] if origin.node is not None else None
            line = node.step.place.line if node is not None else 0
            weight = state.weight if state else None
            parts = tuple(plan.study.called(part) for part in origin.parts)
            yield Fibre(name, plan.study.called(name), "", weight, None, parts, line)


def _how(plan: Judged, row: Row) -> str:
    if row.part == "water":
        return "draw"
    if row.part == "kept":
        return "keep"
    found = plan.flow.materials.get(row.thing)
    if found is None:
        return "buy"
    material = found[0]
    if "bought" in material.words:
        return "buy"
    fresh = material.state == "fresh" and "dyestuff" in material.roles
    return "gather" if material.gathered or "gathered" in material.words or fresh else "buy"


def totals(plan: Judged, rows: tuple[Row, ...]) -> tuple[Total, ...]:
    """What the rows of each thing come to, by kind of measure and condition."""
    found: dict[tuple[str, str, str], Total] = {}
    for row in rows:
        as_kept = row.part == "kept"
        if not row.counts or (row.low is None and not row.gap and not as_kept):
            continue
        key = (row.thing, row.kind if row.low is not None else "", row.condition)
        total = found.get(key) or Total(
            row.thing,
            row.called,
            row.material,
            row.state,
            _how(plan, row),
            key[1],
            row.condition,
            Fraction(0),
            Fraction(0),
            0,
        )
        if row.low is None or row.high is None:
            found[key] = total._replace(gaps=total.gaps + (0 if as_kept else 1))
        else:
            found[key] = total._replace(low=total.low + row.low, high=total.high + row.high)
    return tuple(_gaps_joined(found))


def _gaps_joined(found: dict[tuple[str, str, str], Total]) -> Iterator[Total]:
    """Gaps go with the known total of the same thing and condition, if there is one."""
    known = {(thing, condition): kind for thing, kind, condition in found if kind}
    blanks = {
        (thing, condition): total.gaps
        for (thing, kind, condition), total in found.items()
        if not kind
    }
    for (thing, kind, condition), total in found.items():
        if kind and known[thing, condition] == kind:
            yield total._replace(gaps=blanks.get((thing, condition), 0))
        elif kind or (thing, condition) not in known:
            yield total
