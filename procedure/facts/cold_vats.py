"""Vats that are too cold to dip in: what reduces them stops, and the blue falls out."""

from __future__ import annotations

from procedure.facts.liquor import fact, has_role, is_vat, metal_of, stuff
from procedure.facts.study import Study
from procedure.quantity.interval import Interval
from procedure.trace import BathState, Moment
from procedure.vocabulary.thresholds import threshold


def cold_for_vat(study: Study, moment: Moment, bath: BathState) -> Interval | None:
    """The heat in °C at which fibre is said to go into a vat, where none of its kind works so cold.

    Vats of copperas, tin or zinc are worked cold, and fresh leaves in cold water are no vat
    (``cold vat`` in ``thresholds.csv``).
    """
    at = moment.step.at
    if at is None or at.quantity is None or at.quantity.kind != "temperature":
        return None
    said = at.quantity.ends if at.quantity.known else None
    if said is None or said[1] >= threshold("cold vat").value or not is_vat(study, bath):
        return None
    reduced = has_role(study, bath.contents, "reducer", "food for ferment")
    return said if reduced and not _of_metal(study, bath) else None


def _of_metal(study: Study, bath: BathState) -> bool:
    return any(
        metal_of(one.entry) or (one.entry is not None and one.entry.name == "zinc dust")
        for one in stuff(study, bath.contents)
        if "reducer" in (*one.made.roles, fact(one, "also"))
    )
