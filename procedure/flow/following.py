"""What a followed procedure needs to be told: its fibre, its vessels, the baths kept for it."""

from procedure.flow.names import KEPT_BATH
from procedure.model import Block, Equipment, Lot, Material, Name, Procedure, Step
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

KINDS = {
    "lot": "a lot of fibre",
    "bath": "a kept bath",
    "pot": "a pot",
    "tool": "a heater or a tool",
    "material": "a material",
}


class Want(NamedTuple):
    """Something that a procedure declares and a caller may say what it is.

    ``said`` is what the declaration says of it; ``must`` holds where the procedure
    cannot be followed without being told.
    """

    kind: str
    name: Name
    said: str
    must: bool

    @property
    def told(self) -> str:
        """What is wanted, in words: its name, its kind, what it says of itself."""
        said = f" ({self.said})" if self.said else ""
        return f"“{self.name.text}”, {KINDS[self.kind]}{said}"


def wants(callee: Procedure) -> dict[str, Want]:
    """All that a caller may tell a procedure, by the procedure's own names.

    A material is brought by the procedure itself unless it is told of another, and so is
    a heater or a tool; a vessel of the workshop is there already.
    """
    found: dict[str, Want] = {}
    for name, lot in callee.lots.items():
        found[name] = Want("lot", lot.name, _of_lot(lot), True)
    for name, pot in callee.equipment.items():
        kind = "pot" if pot.holds else "tool"
        must = pot.holds and name not in callee.brought
        found[name] = Want(kind, pot.name, _of_equipment(pot), must)
    for name, made in callee.materials.items():
        kept = KEPT_BATH in made.roles
        found[name] = Want("bath" if kept else "material", made.name, _of_material(made), kept)
    return found


def _joined(*words: str) -> str:
    return ", ".join(dict.fromkeys(word for word in words if word))


def _of_lot(lot: Lot) -> str:
    fibres = [fibre.name for fibre in lot.fibres]
    known = vocabulary().tables.get("form", ())
    forms = [word for word in lot.words if word in known and word not in fibres]
    what = " ".join((" and ".join(fibres), *forms[:1])).strip()
    rest = [word for word in lot.words if word not in (*fibres, *forms)]
    return _joined(what, lot.weight.text if lot.weight else "", *rest)


def _of_equipment(pot: Equipment) -> str:
    what = " ".join(entry.name for entry in (pot.metal, pot.kind) if entry is not None)
    return _joined(what, pot.capacity.text if pot.capacity else "", "lidded" if pot.lidded else "")


def _of_material(made: Material) -> str:
    words = [word for word in made.words if word != KEPT_BATH]
    return _joined(*words)


def other_part(theirs: Material, ours: Material) -> bool:
    """True where a material plays no part of the one that it is given for."""
    return bool(theirs.roles) and bool(ours.roles) and not set(theirs.roles) & set(ours.roles)


def other_fibre(callee: Procedure, name: str, ours: Lot) -> bool:
    """True where a procedure scours or mordants a lot, and is written for another class of fibre.

    What it does besides (washing, dipping, an after-bath) is done alike to every fibre.
    """
    classes = [
        {fibre.facts.get("class", "").removeprefix("regenerated ") for fibre in lot.fibres}
        for lot in (callee.lots[name], ours)
    ]
    return all(classes) and not classes[0] & classes[1] and _prepares(callee.body, name)


def _prepares(body: tuple[Step | Block, ...], lot: str) -> bool:
    for step in body:
        if isinstance(step, Block):
            if _prepares(step.body, lot):
                return True
        elif step.does.prepares_fibre and any(
            item.name is not None and item.name.text == lot for item in step.objects
        ):
            return True
    return False
