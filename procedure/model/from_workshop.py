"""What a file takes from its workshop: the things that it names and does not declare."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.model.types import Block, Equipment, Item, Material, Name, Procedure, Step, Workshop
from procedure.quantity.record import TYPE_CHECKING

if TYPE_CHECKING:
    from typing import TypeVar

    Thing = TypeVar("Thing", Equipment, Material)


def bring(made: Procedure, workshop: Workshop) -> None:
    """Enter the workshop's things that the file names, with the place where it first does so.

    A thing that the file itself declares or makes goes before one of the workshop.
    """
    own = set(_made(made.body))
    for name, line in _named(made.body):
        text = name.text
        if text in own or text in made.brought or made.declared(text) is not None:
            continue
        if text in workshop.equipment:
            pot = workshop.equipment[text]
            made.brought[text] = pot.name.place
            made.equipment[text] = _here(pot, name, line)
        elif text in workshop.materials:
            material = workshop.materials[text]
            made.brought[text] = material.name.place
            made.materials[text] = _here(material, name, line)
    _heaters(made, workshop)


def _heaters(made: Procedure, workshop: Workshop) -> None:
    """Heaters of the workshop serve without being named, where the file has none of its own."""
    first = next((step for step in made.body if isinstance(step, Step)), None)
    heats = any(pot.kind and pot.kind.table == "heater" for pot in made.equipment.values())
    if first is None or heats:
        return
    for text, pot in workshop.equipment.items():
        if pot.kind and pot.kind.table == "heater" and made.declared(text) is None:
            made.brought[text] = pot.name.place
            made.equipment[text] = _here(pot, Name(text, first.verb_place), first.place.line)


def _here(thing: Thing, name: Name, line: int) -> Thing:
    """The thing as if declared where it is first named: findings about it belong there."""
    if isinstance(thing, Equipment):
        use = name.place if thing.use_place else None
        return thing._replace(name=name, line=line, use_place=use)
    return thing._replace(name=name, line=line)


def _made(body: tuple[Step | Block, ...]) -> Iterator[str]:
    """The names that a file gives to what it makes."""
    for step in body:
        if step.label is not None:
            yield step.label.text
        if isinstance(step, Block):
            if step.variable is not None:
                yield step.variable.text
            yield from _made(step.body)
            continue
        if step.named is not None:
            yield step.named.text
        if step.does.makes_lots:
            yield from (item.name.text for item in step.into if item.name is not None)


def _named(body: tuple[Step | Block, ...]) -> Iterator[tuple[Name, int]]:
    """Every name in the steps, with the line that its step begins on."""
    for step in body:
        items: list[Item | None]
        items = [*step.values] if isinstance(step, Block) else _items(step)
        for item in items:
            if item is None:
                continue
            name = item.given or item.name
            if name is not None:
                yield name, step.place.line
            if item.quantity is not None and item.quantity.base_place is not None:
                yield Name(item.quantity.base, item.quantity.base_place), step.place.line
        if isinstance(step, Block):
            yield from _named(step.body)
        else:
            yield from ((name, step.place.line) for name in (step.on, step.through) if name)


def _items(step: Step) -> list[Item | None]:
    return [*step.objects, step.within, *step.into, step.source, *step.using, step.to]
