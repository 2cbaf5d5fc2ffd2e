"""What no dyer would measure so: an amount that is surely another thing's."""

from __future__ import annotations

from procedure.draft import limits
from procedure.draft.amount import Amount
from procedure.vocabulary import vocabulary

POURED = ("liquor", "acetate", "vinegar", "acid", "lye", "oil", "ammonia", "solution", "spirit")
# What is sold by its strength: "vinegar, 5 %" is how strong it is.
SOLUTIONS = ("vinegar", "ammonia", "acetic acid", "peroxide")


def may_measure(amount: Amount, name: str) -> bool:
    """False where an amount cannot be one of this material: 150 gallons of alum."""
    entry = vocabulary().material(name.replace("-", " "))
    if entry is None or name == "water" or amount.low is None:
        return True
    if amount.kind == "count" and amount.unit == "skein":
        return False  # skeins are of fibre
    if entry.table == "dyestuffs":
        return True
    if amount.kind == "ratio":
        return ":" not in amount.words and amount.low <= limits.MOST_SALT
    if (
        entry.name.endswith(SOLUTIONS)
        and amount.kind == "share"
        and not amount.base
        and "%" in amount.unit
    ):
        return False
    poured = any(word in entry.name for word in POURED) or entry.table != "mordants"
    return amount.kind != "volume" or poured
