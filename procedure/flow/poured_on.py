"""The fibre that a bath treats by what it is poured into: a liquor is for all that it colours."""

from __future__ import annotations

from procedure.flow.graph import Flow


def treated_further_on(flow: Flow) -> dict[str, dict[str, None]]:
    """The fibre of each bath, and of the baths that it goes into on its way."""
    treats: dict[str, dict[str, None]] = {
        bath: dict.fromkeys(lots) for bath, lots in flow.treats.items()
    }
    poured = [
        (thing, node.bath)
        for node in flow.nodes
        for thing, _ in (*node.moved, *node.materials)
        if thing in flow.baths and node.bath and thing != node.bath
    ]
    for _ in poured:  # a chain of baths is no longer than the list of pourings
        before = sum(map(len, treats.values()))
        for source, target in poured:
            treats.setdefault(source, {}).update(treats.get(target, {}))
        if sum(map(len, treats.values())) == before:
            break
    return treats
