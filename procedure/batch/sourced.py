"""From a colour to the published colours of the vocabulary that came nearest to it.

They are swatches made from words (a dyer's book names a colour, the dictionary of colour
names has its centre), so that each is approximate; a batch of one's own tells more.
"""

from __future__ import annotations

from collections.abc import Iterator

from procedure.batch.colour_needs import ColourNeed, needs_of
from procedure.colour import Colour, ciede2000, from_hex
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import near, vocabulary
from procedure.vocabulary.colours import FIBRES, Shade, shades

# The word of mordants.csv for a metal that harms those who meet it and the drain.
_HARMFUL = "harmful metal"


class Sourced(NamedTuple):
    """A published colour, how far it is from the wanted one (CIEDE2000), and what it needs.

    ``colour`` is that of its swatch; ``needs`` dyestuff, mordant and what follows, with usual
    amounts; ``cautions`` are sentences about what may hurt someone.
    """

    shade: Shade
    colour: Colour
    difference: float
    needs: tuple[ColourNeed, ...]
    cautions: tuple[str, ...]


class Ranked(NamedTuple):
    """Published colours, the nearest first; ``refused`` are dyestuffs that nobody should use."""

    found: tuple[Sourced, ...]
    refused: tuple[str, ...]


class NoFibre(ValueError):
    """A fibre that the vocabulary does not know; the text is a plain sentence."""


def sourced(colour: Colour, fibre: str = "") -> Ranked:
    """Every published colour on a fibre (or on any), the nearest first.

    ``fibre`` is a fibre (wool) or a class of them (protein). Where the table has no colours
    of just that fibre, those of its class are taken. Raises :class:`NoFibre`.
    """
    wanted = _kind(fibre)
    found: list[Sourced] = []
    refused: dict[str, None] = {}
    for shade in shades():
        if not shade.hex or wanted not in ("", shade.fibre):
            continue
        plant = _danger(shade.dyestuff)
        if plant.get("refuse", "no") != "no":
            refused.setdefault(shade.dyestuff)
            continue
        own = from_hex(shade.hex)
        found.append(
            Sourced(shade, own, ciede2000(colour, own), needs_of(shade), tuple(_cautions(shade)))
        )
    # Many names share a swatch: of equals, what may hurt nobody comes first.
    ranked = sorted(found, key=lambda one: (round(one.difference, 6), len(one.cautions)))
    return Ranked(tuple(ranked), tuple(refused))


def on(shade: Shade) -> str:
    """The fibres that a published colour is of: “wool (protein)”, “silk”."""
    usual = FIBRES.get(shade.fibre, shade.fibre)
    return usual if usual == shade.fibre else f"{usual} ({shade.fibre})"


def _kind(fibre: str) -> str:
    """The word of the table for a fibre: its own name or its class; empty for any."""
    name = fibre.casefold().strip()
    in_table = {one.fibre for one in shades()}
    if not name or name in in_table:
        return name
    entry = vocabulary().find(name, "fibres")
    if entry is None:
        fibres = vocabulary().names("fibres")
        meant = near(name, fibres)
        hint = f" Did you mean “{meant}”?" if meant else " Write one such as wool, silk or linen."
        raise NoFibre(
            f"The vocabulary knows no fibre “{fibre[:40]}”, so it ranks no published colours.{hint}"
        )
    return entry.name if entry.name in in_table else entry.facts.get("class", "")


def _cautions(shade: Shade) -> Iterator[str]:
    for dyestuff in (shade.dyestuff, *_others(shade)):
        plant = _danger(dyestuff)
        if plant:
            care = f": {plant['care']}" if plant.get("care") else ""
            yield f"{dyestuff} is {plant['level']}{care}. In its place: {plant['instead']}."
    words = {shade.mordant, *shade.after.split("; ")}
    for entry in vocabulary().tables["mordants"].values():
        metal = entry.facts.get("metal", "")
        if metal in words and _HARMFUL in entry.words("hazards"):
            words.discard(metal)
            limit = f"; {entry.facts['restricted']}" if entry.facts.get("restricted") else ""
            safer = entry.facts.get("safer", "")
            instead = f" In its place: {safer}." if safer else ""
            yield f"{metal} is a harmful metal ({entry.name}{limit}).{instead}"


def _others(shade: Shade) -> Iterator[str]:
    for each in shade.after.split("; "):
        _, _, other = each.partition(": ")
        if other:
            yield other


def _danger(dyestuff: str) -> dict[str, str]:
    """What plants_that_harm.csv says of a dyestuff; nothing where it does not harm."""
    words = vocabulary()
    entry = words.find(dyestuff, "dyestuffs", "plants_that_harm")
    plant = words.danger(entry) if entry is not None else None
    return dict(plant.facts) if plant is not None else {}
