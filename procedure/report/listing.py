"""Lists of what the vocabulary has: dyestuffs by the colour they give and the fibre."""

from __future__ import annotations

from collections.abc import Iterator

from procedure.vocabulary import Vocabulary
from procedure.vocabulary.colours import NO_MORDANT, families, shades
from procedure.wording.spelling import american

LISTS = ("dyestuffs", "mordants", "fibres", "assistants")


class NotListed(ValueError):
    """A colour or fibre that the tables do not have; the text is a plain sentence."""


def fibre_class(fibre: str, words: Vocabulary) -> str:
    """The class of a fibre (protein, silk, cellulose), by its name or by that of the class.

    Raises :class:`NotListed`.
    """
    known = {one.fibre for one in shades()}
    if fibre in known:
        return fibre
    entry = words.find(fibre, "fibres")
    if entry is None:
        raise NotListed(f"“{fibre[:60]}” is no fibre that I know; ask for wool, silk or cotton.")
    if entry.name in known:
        return entry.name
    return entry.facts.get("class", "")


def listed(table: str, words: Vocabulary, colour: str = "", fibre: str = "") -> Iterator[str]:
    """A line for each entry of a table, or for each colour of a family on a class of fibre.

    Raises :class:`NotListed` for a colour or a fibre that is not known.
    """
    if not colour and not fibre:
        yield from sorted(words.tables.get(table, {}))
        return
    colour = {american(family): family for family in families()}.get(colour, colour)
    if colour and colour not in families():
        raise NotListed(f"“{colour[:60]}” is none of the colours: {', '.join(families())}.")
    wanted = fibre_class(fibre, words) if fibre else ""
    for one in shades():
        if colour in ("", one.family) and wanted in ("", one.fibre):
            mordant = "no mordant" if one.mordant == NO_MORDANT else one.mordant
            after = f", {one.after}" if one.after else ""
            swatch = f"  about {one.hex}" if one.hex else ""
            where = "" if wanted else f"on {one.fibre}, "
            said = f"{one.colour} ({where}{mordant}{after}){swatch}  [{one.source}]"
            yield f"{one.dyestuff}{_danger(one.dyestuff, words)}: {said}"


def _danger(dyestuff: str, words: Vocabulary) -> str:
    """What is said beside a plant that harms: its Latin name, and how grave it is."""
    entry = words.material(dyestuff)
    plant = words.danger(entry) if entry is not None else None
    if plant is None:
        return ""
    return f" ({plant.facts['botanical']}, which is {plant.facts['level']})"
