"""What may go wrong with a plan: the troubles of its dyestuffs, mordants and fibres."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.handout.cautions import used
from procedure.paper.blocks import Block, table
from procedure.paper.pieces import Phrase
from procedure.pipeline import Judged
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.troubles import Trouble, troubles


def _met(plan: Judged) -> tuple[dict[str, set[str]], set[str]]:
    """The words of the work by which troubles are chosen, and its classes of fibre."""
    met: dict[str, set[str]] = {
        kind: set() for kind in ("dyestuff", "metal", "class", "effect", "role", "state")
    }
    colours = _colours_met(plan)
    for thing, material in used(plan).items():
        entry = material.entry
        met["role"].update(material.roles)
        met["state"].add(material.state)
        if entry is None:
            continue
        # Madder that feeds a vat gives no red, and so has none of its troubles.
        feeds = thing not in colours and bool({"food for ferment", "reducer"} & set(material.roles))
        if entry.table == "dyestuffs" and not feeds:
            met["dyestuff"].add(entry.name)
            met["class"].add(entry.facts.get("dye_class", ""))
        metal = entry.facts.get("metal", "")
        if metal:
            met["metal"].add(metal)
    for node in plan.flow.nodes:
        met["effect"].add(node.effect)
        if node.does.puts_fibre_in and node.bath and (met["metal"] or "dyestuff" in met["role"]):
            met["effect"].add("treat")  # it lies in a bath that colours it
        verb = getattr(node.step, "verb", None)
        if verb is not None:
            met["effect"].add(verb.name)
    declared = [one.declared for one in plan.flow.lots.values() if one.declared is not None]
    if declared and all(lot.scoured for lot in declared):
        met["state"].add("declared scoured")
    for words in met.values():
        words.discard("")
    classes: set[str] = set()
    for lot in plan.trace.final.lots.values():
        for fibre in lot.fibres:
            classes |= _kinds(fibre)
    return met, classes


def _colours_met(plan: Judged) -> set[str]:
    """The dyestuffs that fibre takes up anywhere, by the plan's names."""
    lots = (lot for moment in plan.trace.moments for lot in moment.after.lots.values())
    return {thing for lot in lots for thing in lot.dyes}


def _kinds(fibre: Entry) -> set[str]:
    """What a fibre is called in ``troubles.csv``: silk is no wool, though both are protein."""
    kinds = {fibre.name}
    for part in fibre.words("made_of") or (fibre.name,):
        entry = vocabulary().find(part, "fibres") or fibre
        kinds |= {entry.name, "silk" if "silk" in entry.name else entry.facts.get("class", "")}
    if fibre.facts.get("felts") in ("yes", "little"):
        kinds.add("felting")
    return kinds


def troubles_of(plan: Judged) -> tuple[Trouble, ...]:
    """The troubles of a plan, by what it uses and does to which fibre."""
    met, classes = _met(plan)
    return troubles(met, classes)


def table_of(plan: Judged) -> Iterator[Block]:
    """A table of what a dyer sees, likely why, and what to do; nothing where nothing is known."""
    several = len(_met(plan)[0]["dyestuff"]) > 1
    rows: list[tuple[Phrase, ...]] = [
        (
            (f"{one.dyestuff}: {one.trouble}" if several and one.dyestuff else one.trouble,),
            (f"{one.why}.",),
            (f"{one.cure}.",),
        )
        for one in troubles_of(plan)
    ]
    if rows:
        heads: tuple[Phrase, ...] = (("what you see",), ("likely why",), ("what to do",))
        yield table((), heads, rows, (1, 2, 2.2), "wrong")
