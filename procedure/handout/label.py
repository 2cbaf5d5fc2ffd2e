"""One label: what it holds, and first aid in brief."""

from __future__ import annotations

from dataclasses import dataclass

from procedure.handout.cautions import Danger
from procedure.paper.pieces import Phrase
from procedure.vocabulary import Entry
from procedure.vocabulary.first_aid import first_aid

# Article 28(3): not more than six precautionary statements, unless the hazard asks for more.
MOST_STATEMENTS = 6


@dataclass(frozen=True, slots=True)
class Label:
    """One label. ``title`` is the real name with its strength, ``own`` the writer's name;
    ``lines`` say what is in it and how much; ``danger`` what it does, ``aid`` what to do."""

    title: Phrase
    own: Phrase
    lines: tuple[Phrase, ...]
    danger: Danger | None
    aid: tuple[str, ...] = ()

    @property
    def calls_the_poison_centre(self) -> bool:
        """Whether its first aid says to call the poison centre, whose number it has then."""
        return any("poison centre" in line for line in self.aid)


def aid(found: tuple[Entry, ...]) -> tuple[str, ...]:
    """First aid in brief for each way that it gets at someone, as its hazards ask for it.

    A statement that several ways share counts once. Where every way asks for the same
    call, that is a line of its own at the end.
    """
    ways = first_aid(entry.name for entry in found)
    kept = []
    statements: set[str] = set()
    for one in ways:
        more = statements | {*one.do, *([one.call] if one.call else [])}
        if len(more) <= MOST_STATEMENTS:
            statements = more
            kept.append(one)
    at_once = [one for one in kept if one.do]
    calling = [one for one in at_once if one.call]
    if len(calling) > 1 and len({one.call for one in calling}) == 1:
        later = [one for one in kept if not one.do]
        called = f"Then {calling[0].calling}."
        return (
            *(one.brief(call=False) for one in at_once),
            called,
            *(one.brief() for one in later),
        )
    return tuple(one.brief() for one in kept)
