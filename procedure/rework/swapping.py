"""Swaps: another mordant by its metal, another tannin, fresh for dried, powder for solution.

A swap gives a new plan in which the material is declared as the new one and its
amounts are multiplied; it is followed and judged again like any other.
"""

from __future__ import annotations

from fractions import Fraction

from procedure.model import Item, Material, Procedure, Quantity, Step
from procedure.pipeline import Judged
from procedure.quantity.interval import ONE, Interval
from procedure.quantity.record import NamedTuple
from procedure.rework.rewriting import again, rewritten, times
from procedure.vocabulary import Entry, formula_weights, near, vocabulary
from procedure.vocabulary.library import rows
from procedure.weigh import stock_solutions
from procedure.weigh.cannot import CannotWeigh
from procedure.weigh.shown_arithmetic import ends, exact

# Kinds of quantity that a swap multiplies.
_MULTIPLIED = frozenset(("mass", "percent", "ratio", "concentration", "share"))


class Swapped(NamedTuple):
    """A plan with one material in place of another; ``sentence`` says by what sum."""

    plan: Judged
    by: Interval
    sentence: str


class _Wanted(NamedTuple):
    material: Material | None
    formula: str


def swap(plan: Judged, name: str, wanted: str) -> Swapped:
    """The plan with what it calls ``name`` swapped for ``wanted``.

    ``wanted`` is written as a declaration is (``aluminium sulphate``, ``dried``,
    ``solution 10 % by volume``) or is a formula. Raises ``CannotWeigh`` where there is
    no sum that makes one of the other.
    """
    old = plan.model.materials.get(name)
    if old is None:
        meant = near(name, list(plan.model.materials))
        hint = f" Did you mean “{meant}”?" if meant else ""
        raise CannotWeigh(f"The procedure declares no material “{name[:40]}” to swap.{hint}")
    asked = _wanted(wanted)
    if asked.material is None:
        return _by_formula(plan, old, asked.formula)
    new = asked.material
    if reason := stock_solutions.unclear(new._replace(name=old.name)):
        raise CannotWeigh(f"{reason}.")
    if new.entry is None or new.entry is old.entry:
        return _same_stuff(plan, old, new, wanted)
    made = old._replace(
        entry=new.entry,
        roles=new.roles,
        state=new.state,
        gathered="",
        strength=new.strength,
        strength_by=new.strength_by,
        words=new.words,
    )
    by, sentence = _other_stuff(old, new.entry)
    return _swapped(plan, old, made, by, sentence)


def _by_formula(plan: Judged, old: Material, formula: str) -> Swapped:
    """A salt by the formula on its label, water of crystals as it may be."""
    name = old.name.text
    metal = old.entry.facts.get("metal", "") if old.entry is not None else ""
    if not metal:
        raise CannotWeigh(f"{name} is not a mordant, so a formula says nothing for it.")
    bare = formula_weights.without_water(formula)
    for entry in vocabulary().tables["mordants"].values():
        known = entry.facts.get("formula", "")
        if known and formula_weights.without_water(known) == bare:
            if entry.facts.get("metal") != metal:
                raise CannotWeigh(f"{formula} holds no {metal}, which {name} brings.")
            by, sentence = _by_metal(old, metal, entry.name, formula)
            return _swapped(plan, old, old._replace(entry=entry), by, sentence)
    raise CannotWeigh(f"{formula} is no mordant that is known here.")


def _wanted(text: str) -> _Wanted:
    """A material as a declaration says it, or a formula."""
    from procedure.rework.amounts_asked_for import described

    if (text[:1].isupper() and "(" in text) or "·" in text:
        try:
            formula_weights.weight(text)
        except ValueError as reason:
            raise CannotWeigh(f"{reason}.") from None
        return _Wanted(None, text)
    return _Wanted(described(text), "")


def _swapped(plan: Judged, old: Material, new: Material, by: Interval, sentence: str) -> Swapped:
    name = old.name.text
    thing = next((t for t, (m, p) in plan.flow.materials.items() if m is old), name)
    using: set[tuple[str, int, int]] = set()
    for node in plan.flow.nodes:
        for used, item in (*node.materials, *node.moved):
            if used == thing:
                using.add((node.procedure.key, node.step.number, item.place.column))

    def change(procedure: Procedure, step: Step, item: Item, quantity: Quantity) -> Quantity:
        key = (procedure.key, step.number, item.place.column)
        if key not in using or quantity.kind not in _MULTIPLIED or by == ONE:
            return quantity
        factor = ends(*by)
        said = f"({factor})" if " to " in factor else factor.removeprefix("about ")
        return times(quantity, by[0], by[1], f"{quantity.text} × {said}")

    models = {}
    for procedure in plan.study.procedures:
        materials = {name: new} if procedure.key == plan.model.key else None
        models[procedure.key] = rewritten(procedure, change, materials=materials)
    return Swapped(again(plan, models), by, sentence)


def _same_stuff(plan: Judged, old: Material, new: Material, wanted: str) -> Swapped:
    """The same stuff in another state: fresh, dried, or as a solution."""
    name = old.name.text
    if new.strength is not None or "solution" in new.words:
        words = tuple(dict.fromkeys((*old.words, "solution")))
        made = old._replace(strength=new.strength, strength_by=new.strength_by, words=words)
        sentence = f"{name} as a solution of {new.strength.text if new.strength else ''}"
        if new.strength_by:
            sentence += f" {new.strength_by}"
        return _swapped(plan, old, made, ONE, f"{sentence}: poured so that it holds as much.")
    if new.state and old.state and new.state != old.state:
        part, drops, source = drying(old)
        by = ONE.over(drops) if new.state == "dried" else drops
        words = tuple(w for w in old.words if w not in ("fresh", "dried", "gathered"))
        made = old._replace(state=new.state, words=(*words, new.state), gathered="")
        sentence = (
            f"{name} {new.state} for {old.state}: {ends(*drops)} g of {part} fresh "
            f"dry to 1 g, which is rough ({source})."
        )
        return _swapped(plan, old, made, by, sentence)
    if new.state and not old.state:
        raise CannotWeigh(
            f"The file does not say whether {name} is fresh or dried, so it cannot be swapped."
        )
    raise CannotWeigh(f"{name} is {wanted} already; there is nothing to swap.")


def drying(material: Material) -> tuple[str, Interval, str]:
    """How much of a plant's part dries to one gram: the part, grams fresh, the source."""
    table = rows("fresh_to_dried")
    said = {word for word in material.words for word in (word, *word.split())}
    if material.entry is not None:
        said.update(w for w in material.entry.facts.get("part", "").split("; ")[:1])
    for row in (*table[:-1], table[-1]):
        names = {row["part"], *row["aliases"].split("; ")}
        if row is table[-1] or names & said:
            return row["part"], Interval(Fraction(row["low"]), Fraction(row["high"])), row["source"]
    raise KeyError("fresh_to_dried has no rows")


def _other_stuff(old: Material, new: Entry) -> tuple[Interval, str]:
    name = old.name.text
    if old.entry is None:
        raise CannotWeigh(
            f"{name} is not in the vocabulary, so there is no sum that makes {new.name} of it."
        )
    parts = {row["name"]: row for row in rows("tannin_equivalents")}
    if old.entry.name in parts and new.name in parts:
        have, want = Fraction(parts[old.entry.name]["parts"]), Fraction(parts[new.name]["parts"])
        by = want / have
        return Interval.of(by), (
            f"{new.name} for {old.entry.name}: {exact(want)} parts do the work of {exact(have)}, "
            f"so × {exact(by)} ({parts[new.name]['source']})."
        )
    old_metal, new_metal = old.entry.facts.get("metal", ""), new.facts.get("metal", "")
    if old_metal and old_metal == new_metal:
        return _by_metal(old, new_metal, new.name, _formula(new))
    if old_metal and new_metal:
        raise CannotWeigh(
            f"{name} brings {old_metal} and {new.name} brings {new_metal}: that is another "
            "colour, not a swap by weight."
        )
    one, two = old.entry.facts.get("formula", ""), new.facts.get("formula", "")
    if one and two and formula_weights.without_water(one) == formula_weights.without_water(two):
        by = formula_weights.weight(two) / formula_weights.weight(one)
        return Interval.of(by), (
            f"{new.name} ({two}) for {old.entry.name} ({one}): the same stuff with other "
            f"water in it, {_ratio(two, one, by)}."
        )
    raise CannotWeigh(
        f"There is no sum that makes {new.name} of {old.entry.name}: they are neither mordants "
        "of one metal, nor tannins of the handbook's table, nor one stuff in two states."
    )


def _formula(entry: Entry) -> str:
    """The formula of a salt as the shop sells it."""
    for row in rows("salts_as_sold"):
        if row["name"] == entry.name:
            return row["formula"]
    return entry.facts.get("formula", "")


def _by_metal(old: Material, metal: str, called: str, formula: str) -> tuple[Interval, str]:
    assert old.entry is not None
    had = _formula(old.entry)
    symbol = formula_weights.symbols().get(metal, "")
    if not had or not formula:
        missing = old.entry.name if not had else called
        raise CannotWeigh(f"{missing} has no fixed formula, so its metal cannot be weighed.")
    here, there = (
        formula_weights.atoms(had).get(symbol, 0),
        formula_weights.atoms(formula).get(symbol, 0),
    )
    if not here or not there:
        raise CannotWeigh(f"{formula if here else had} holds no {metal}.")
    by = formula_weights.weight(formula) / there / (formula_weights.weight(had) / here)
    lead = f"{called} ({formula})" if called != formula else formula
    return Interval.of(by), (
        f"{lead} for {old.entry.name} ({had}), with as much {metal}: "
        f"{_per_metal(formula, there)} for {_per_metal(had, here)}, so × {float(by):.4g}. "
        "With other water in its crystals it weighs otherwise: the label has the formula."
    )


def _per_metal(formula: str, count: int) -> str:
    grams = float(formula_weights.weight(formula))
    return f"{grams:.2f} g" if count == 1 else f"{grams:.2f} ÷ {count} g"


def _ratio(new: str, old: str, by: Fraction) -> str:
    return (
        f"{float(formula_weights.weight(new)):.2f} g for "
        f"{float(formula_weights.weight(old)):.2f} g, "
        f"so × {float(by):.4g}"
    )
