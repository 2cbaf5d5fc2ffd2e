"""What a step says, clause by clause, in names that both plans share."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.compare.sides import ComparedPart, Side, bare
from procedure.model import Block, Item, Quantity, Step
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary

# The clauses that may say a heat, and those that say a time.
HEATS = ("source", "at", "to", "until", "ceiling")
TIMES = ("over", "lasting")


class Clause(NamedTuple):
    """One thing that a step takes or names.

    ``field`` is the clause it is in, ``token`` the shared name of the thing (empty
    where only an amount or words are there).
    """

    field: str
    token: str
    item: Item


def clauses(side: Side, part: ComparedPart) -> list[Clause]:
    """The things of a step, in their clauses: what is acted on, where, with what."""
    step = part.step
    if isinstance(step, Block):
        return []
    found: list[Clause] = []
    for field, items in _listed(step):
        for item in items:
            token = side.token(part, item.name) if item.name is not None else ""
            if not token and item.quantity is not None and item.quantity.base:
                token = side.token(part, item.quantity.base)
            found.append(Clause(field, token, item))
    for field in ("on", "through"):
        name = getattr(step, field)
        if name is not None:
            item = Item(name, None, None, None, name.place)
            found.append(Clause(field, side.token(part, name), item))
    return found


def _listed(step: Step) -> Iterator[tuple[str, tuple[Item, ...]]]:
    yield "objects", step.objects
    yield "into", step.into
    if step.kind != "follow":  # what a follow is told is what its steps are done to
        yield "using", step.using
    for field in ("within", "source", "to", "until", "at"):
        item = getattr(step, field)
        if item is not None and item.name is not None:
            yield field, (item,)


def heat(step: Step | Block, field: str) -> Quantity | None:
    """The heat that a clause says."""
    said = getattr(step, field, None)
    quantity = said.quantity if isinstance(said, Item) else said
    if isinstance(said, Item) and said.name is not None:
        return None
    return quantity if isinstance(quantity, Quantity) else None


def free_words(step: Step | Block) -> dict[str, str]:
    """The writer's own words, by the clause they are in."""
    if isinstance(step, Block):
        return {"condition": flat(step.condition)} if step.condition else {}
    found = {"note": step.note, "words": step.words.text if step.words is not None else ""}
    for field in ("within", "source", "to", "until", "at"):
        item = getattr(step, field)
        if item is not None and item.words is not None:
            found[field] = item.words.text
    return {field: flat(text) for field, text in found.items() if text}


def flat(text: str) -> str:
    """Words without what only layout makes of them."""
    return " ".join(text.split())


def waits(step: Step | Block) -> frozenset[str]:
    """The waits that a step names, such as overnight."""
    if isinstance(step, Block):
        return frozenset()
    known = vocabulary().heats
    return frozenset(word for word in step.manner if word in known)


def worn(side: Side, part: ComparedPart) -> frozenset[str]:
    """What is worn at a step, by the step itself or the heads of its file and the plan."""
    step = part.step
    if isinstance(step, Block):
        return frozenset()
    heads = (side.plan.model.wearing, part.node.procedure.wearing, step.wearing)
    return frozenset(name.text for names in heads for name in names)


def times(step: Step | Block) -> tuple[object, ...]:
    """How often a block is done, and how far apart."""
    if not isinstance(step, Block):
        return ()
    return (*(step.times or ()), *bare(step.every))


def values(side: Side, part: ComparedPart) -> frozenset[str]:
    """All that a step says besides what takes part, as words to compare."""
    step = part.step
    said = [f"{field} {words}" for field, words in free_words(step).items()]
    said.append(f"times {times(step)}")
    if isinstance(step, Block):
        return frozenset(said)
    said += [f"{field} {bare(heat(step, field))}" for field in HEATS if heat(step, field)]
    said += [f"{field} {bare(getattr(step, field))}" for field in TIMES if getattr(step, field)]
    said += [f"manner {word}" for word in step.manner]
    said += ["meanwhile"] if step.beside is not None else []
    said += [f"wearing {name.text}" for name in step.wearing]
    for clause in clauses(side, part):
        if clause.item.quantity is not None:
            ratio = side.ratio(part, clause.item)
            how_much = ratio if ratio is not None else bare(clause.item.quantity)
            said.append(f"{clause.field} {clause.token} {how_much}")
    return frozenset(said)
