"""Stock solutions: how much to pour so that it holds what the fibre is to have.

An amount by the weight of fibre means the dry stuff in the solution, not the water;
an amount in grams or millilitres is of the solution as it stands (common practice).
"""

from __future__ import annotations

from procedure.model import Material, Quantity
from procedure.quantity.interval import ENDLESS
from procedure.quantity.number_words import between
from procedure.quantity.record import NamedTuple
from procedure.trace.amounts import THOUSAND, Amount
from procedure.vocabulary.estimates import figure
from procedure.weigh.shown_arithmetic import exact, measured


class Poured(NamedTuple):
    """So much of a solution, with the sum and a word on it.

    ``amount`` is None where the text does not say how strong it is; the word on it tells why.
    """

    amount: Amount | None
    working: str
    note: str


def poured(material: Material, quantity: Quantity, dry: Amount) -> Poured | None:
    """What to pour of a solution for so much dry stuff; None where it is no solution.

    By volume, 10 % is 10 g in each 100 mL; by weight, 10 g in each 100 g, whose volume
    is only known roughly.
    """
    if "solution" not in material.words or dry.kind != "mass":
        return None
    if quantity.kind not in ("percent", "ratio", "concentration"):
        return None
    if reason := unclear(material):
        return Poured(None, "", reason)
    strength = material.strength
    assert strength is not None
    low, high = strength.ends
    if strength.kind == "concentration" or material.strength_by == "by volume":
        in_litre = (low, high) if strength.kind == "concentration" else (low * 1000, high * 1000)
        made = Amount("volume", dry.low / in_litre[1], dry.high / in_litre[0])
        line = f"{measured(dry)} ÷ {exact(in_litre[0])} g/L = {measured(made)}"
        if low != high:
            line = f"{measured(dry)} ÷ ({strength.text}) = {measured(made)}"
        return Poured(made, line, f"holds {measured(dry)} of the dry stuff")
    made = Amount("mass", dry.low / high, dry.high / low)
    light, heavy = figure("solution density")
    litres = Amount("volume", made.low / heavy / THOUSAND, made.high / light / THOUSAND)
    line = f"{measured(dry)} ÷ {strength.text} = {measured(made)}"
    rough = f"roughly {_millilitres(litres)}; holds {measured(dry)} of the dry stuff"
    return Poured(made, line, rough)


def unclear(material: Material) -> str:
    """Why nobody can tell how much to pour of a solution; empty where it can be told."""
    strength, name = material.strength, material.name.text
    if "solution" not in material.words:
        return ""
    if strength is None or not strength.known:
        return (
            f"{name} is a solution, but its strength is not said; "
            "write for example “solution 10 % by volume”"
        )
    if strength.ends.low <= 0:
        return f"{name} is a solution of no strength ({strength.text})"
    if strength.kind == "concentration" or material.strength_by:
        return ""
    return (
        f"{name} is a solution of {strength.text}, but is that by weight or by volume? "
        f"Write “solution {strength.text} by volume” (grams in 100 mL) or “... by weight”"
    )


def _millilitres(amount: Amount) -> str:
    if amount.high == ENDLESS:
        return f"at least {_millilitres(amount._replace(high=amount.low))}"
    low, high = (round(end * THOUSAND) for end in (amount.low, amount.high))
    return f"{between(low, high)} mL"
