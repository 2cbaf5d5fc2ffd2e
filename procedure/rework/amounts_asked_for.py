"""What the user asks for on the command line, read with the language's own rules."""

from __future__ import annotations

from fractions import Fraction

from procedure.model import Material, Procedure, Quantity
from procedure.weigh.cannot import CannotWeigh

_LONGEST = 120


def described(text: str) -> Material:
    """A material as a declaration says it. Raises ``CannotWeigh`` where it says none."""
    made = _declared(text)
    material = made.materials.get("it")
    if material is None or (made.unknown and material.entry is None):
        word = made.unknown[0].word.text if made.unknown else text
        meant = made.unknown[0].nearest if made.unknown else None
        hint = f" Did you mean “{meant}”?" if meant else ""
        harmful = [one.name for one in made.unknown[0].ask] if made.unknown else []
        if harmful:  # what harms is never offered, only asked about
            named = " or ".join(f"“{name}”, which harms" for name in harmful)
            hint = f" It may be the name of {named}: write in full which one you have."
        raise CannotWeigh(f"“{word[:40]}” is no material or state that is known here.{hint}")
    known = material.entry is not None or material.state or material.strength is not None
    if not known and "solution" not in material.words:
        raise CannotWeigh(f"“{text[:40]}” names no material or state to swap for.")
    return material


def amount(text: str, of: str) -> Quantity:
    """A weight or a volume above nothing. Raises ``CannotWeigh`` for anything else.

    ``of`` is what it is an amount of, for the sentence.
    """
    quantity = _quantity(text, of)
    if quantity.kind == "number":
        raise CannotWeigh(f"“{text}” of {of} has no unit; write for example “{text} g”.")
    if quantity.kind not in ("mass", "volume") or not quantity.known:
        raise CannotWeigh(f"“{text}” is no amount of {of}; write for example “600 g”.")
    if quantity.unit is not None and quantity.unit.vague:
        raise CannotWeigh(
            f"“{text}” of {of} fits two units; write {' or '.join(quantity.unit.ask.split('; '))}."
        )
    if quantity.ends[0] < 0:
        raise CannotWeigh(f"“{text}” of {of} is less than nothing.")
    if quantity.ends[0] == 0:
        raise CannotWeigh(f"“{text}” of {of} is nothing to work with.")
    return quantity


def weight(text: str, of: str) -> Quantity:
    """A weight above nothing. Raises ``CannotWeigh`` for anything else."""
    quantity = amount(text, of)
    if quantity.ends[0] != quantity.ends[1] and not quantity.about:
        raise CannotWeigh(f"“{text}” is a range; say one weight of {of}.")
    if quantity.kind != "mass":
        raise CannotWeigh(f"{of} is weighed, so “{text}” cannot be right; write for example 600 g.")
    return quantity


def count(text: str, of: str) -> Fraction:
    """A count above nothing. Raises ``CannotWeigh`` for anything else."""
    quantity = _quantity(text, of, "12")
    if quantity.kind not in ("number", "count") or not quantity.known:
        raise CannotWeigh(f"“{text}” is no count of {of}; write a number, for example 12.")
    low, high = quantity.ends
    if low != high:
        raise CannotWeigh(f"“{text}” is a range; say one number of {of}.")
    if low <= 0:
        raise CannotWeigh(f"“{text}” of {of} is nothing to dye.")
    return low


def _quantity(text: str, of: str, example: str = "600 g") -> Quantity:
    written = _declared(text).written
    if len(written) != 1:
        raise CannotWeigh(f"“{text[:40]}” is no amount of {of}; write for example “{example}”.")
    quantity = written[0].quantity
    if quantity.kind == "unknown" and quantity.word not in text:
        raise CannotWeigh(f"“{text[:40]}” of {of} is no amount: it has {quantity.word}.")
    if quantity.kind == "unknown":
        raise CannotWeigh(f"“{quantity.word[:40]}” in “{text[:40]}” is no unit that is known here.")
    if quantity.base or (quantity.of_fibre and not quantity.taken) or quantity.each is not None:
        raise CannotWeigh(f"“{text[:40]}” of {of} must be an amount by itself, such as 600 g.")
    return quantity


def _declared(text: str) -> Procedure:
    from procedure import language, model

    if len(text) > _LONGEST or not text.isprintable() or "#" in text:
        raise CannotWeigh(f"“{text[:40]}...” cannot be read as an amount or a material.")
    tree = language.read(f'procedure "asked"\n\nmaterials\n  it: {text}\n')
    made = model.build(tree, "asked")
    if tree.faults or "it" not in made.materials:
        raise CannotWeigh(f"“{text[:40]}” cannot be read as an amount or a material.")
    return made
