"""What the prose has listed or taken and not yet used: the ingredients that steps draw on."""

from __future__ import annotations

import re

from procedure.draft.amount import Amount
from procedure.draft.things import Thing
from procedure.quantity.record import NamedTuple
from procedure.vocabulary import vocabulary


class Measured(NamedTuple):
    """A thing with the amounts that the prose gives for it, and the sentence that does.

    ``purpose`` is mordant or dye where the prose says for which bath it is.
    """

    thing: Thing
    amounts: tuple[Amount, ...]
    sentence: int = 0
    purpose: str = ""  # the kind of bath that the prose says it is for


def trade_role(name: str) -> str:
    """What a material is: dyestuff, mordant, or something else.

    What no list knows is taken for a dyestuff, since recipes name plants by a hundred names.
    """
    entry = vocabulary().material(name)
    if entry is None:
        return "dyestuff"
    if entry.table == "dyestuffs":
        return "dyestuff"
    return "mordant" if entry.table == "mordants" else "assistant"


def is_tannin(name: str) -> bool:
    """True for a material that gives tannin: galls, sumac."""
    entry = vocabulary().material(name)
    return entry is not None and "tannin" in entry.words("role")


def part_played(thing: Thing) -> str:
    """What a thing of the prose is in the work: water, dye, mordant or assistant."""
    if thing.kind == "water":
        return "water"
    role = trade_role(thing.name)
    return "dye" if role == "dyestuff" else role


def role_of(stuff: list[Measured]) -> str:
    """What materials make of a bath together: dye, mordant, or empty where neither is in it."""
    roles = [part_played(one.thing) for one in stuff]
    return "dye" if "dye" in roles else "mordant" if "mordant" in roles else ""


def is_suds(names: list[str]) -> bool:
    """True for what makes a bath of soap, with soda or not, in which only fibre is ever kept."""
    names = [one.replace("-", " ") for one in names if one != "water"]
    entries = [vocabulary().material(name) for name in names]
    if not names or not all(entries):
        return False
    roles = [one.words("role") for one in entries if one is not None]
    soap = any("detergent" in one for one in roles)
    return soap and all(
        "detergent" in one or "soda" in name for one, name in zip(roles, names, strict=True)
    )


def _is_meant_for_another(item: Measured) -> bool:
    """True for the water, or the tartar, that the prose says is for the dye."""
    return bool(item.purpose) and part_played(item.thing) != item.purpose


MAIN = frozenset(("mordant", "dye", "after"))
# Salts that change a colour afterwards as often as they mordant: a group of their own.
LATER = re.compile(r"ferrous|iron|copper|stannous", re.I)


class Stock:
    """The ingredients at hand, in the order in which the prose names them."""

    def __init__(self) -> None:
        self.items: list[Measured] = []

    def __bool__(self) -> bool:
        return bool(self.items)

    def put(self, item: Measured) -> None:
        """Lay an ingredient by."""
        self.items.append(item)

    def named(self, name: str, kind: str = "") -> Measured | None:
        """Take the ingredient of this name, if it is there and not meant for another bath."""
        for index, item in enumerate(self.items):
            if item.thing.name == name and item.purpose in ("", kind or item.purpose):
                del self.items[index]
                return item
        return None

    def the_same(self, name: str, amounts: tuple[Amount, ...]) -> Measured | None:
        """Take the ingredient of this name and these amounts: "the 5 L", where 5 L is listed."""
        said = [(one.low, one.high, one.unit) for one in amounts]
        for index, item in enumerate(self.items):
            here = [(one.low, one.high, one.unit) for one in item.amounts]
            if said and item.thing.name == name and here == said:
                del self.items[index]
                return item
        return None

    def has(self, role: str) -> bool:
        """True where an ingredient plays this part."""
        return any(part_played(one.thing) == role for one in self.items)

    def of_sentence(self, sentence: int) -> list[Measured]:
        """Take what this sentence has listed: it goes where the rest of the sentence goes."""
        now = [item for item in self.items if item.sentence == sentence]
        self.items = [one for one in self.items if one not in now]
        return now

    def groups(self) -> list[list[Measured]]:
        """The ingredients by the bath that they seem to be for.

        A group has one main part, mordant or dye; what is no main part goes with the main
        one before it, or after it at the beginning.
        """
        made: list[list[Measured]] = []
        main = ""
        meant = [item for item in self.items if _is_meant_for_another(item)]
        for item in [one for one in self.items if one not in meant]:
            role = part_played(item.thing)
            if role == "mordant" and LATER.search(item.thing.name):
                role = "after"
            if not made or (role in MAIN and main not in ("", role)):
                made.append([])
                main = ""
            if role in MAIN:
                main = role
            made[-1].append(item)
        for item in meant:
            group = next((one for one in made if role_of(one) == item.purpose), None)
            if group is None:
                made.append([item])
            else:
                group.append(item)
        return made

    def take(self, role: str, sentence: int) -> list[Measured]:
        """Take the group for a bath of this kind, or the one that the sentence itself lists.

        Where the kind is open and several groups are at hand, the mordant's comes first, since
        fibre is mordanted before it is dyed.
        """
        groups = self.groups()
        now = [item for item in self.items if item.sentence == sentence]
        if now and not role:
            self.items = [one for one in self.items if one not in now]
            return now
        here = [one for one in groups if any(item.sentence == sentence for item in one)]
        for wanted in (role, "mordant", "dye", ""):
            if role and wanted != role:
                break
            for group in here or groups:
                after = LATER.search(group[0].thing.name) and len(groups) > 1
                if role_of(group) == wanted and not after:
                    self.items = [one for one in self.items if one not in group]
                    return group
        return []
