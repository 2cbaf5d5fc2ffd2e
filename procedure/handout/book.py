"""A book of procedures: contents by plant, colour and fibre, handouts, cards, glossary, sources."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from procedure.facts.handling import deadly_words
from procedure.handout import card, short
from procedure.handout.cautions import used
from procedure.handout.colours import shade_of
from procedure.handout.lots import finished
from procedure.model import Step
from procedure.paper.blocks import Paper, Para, Section, table
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, phrase
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.library import rows

VoiceOf = Callable[[Judged], Voice]
INDEXES = ("plant", "colour", "fibre")


class Entry(NamedTuple):
    """A procedure in the book. ``name`` is that of its page; ``makes`` may be empty.

    ``plants`` are its dyestuffs by their real names, ``colours`` the plain colours that its
    lots are expected to have, ``fibres`` what its lots are of; ``card`` is None where it has
    one sample only. ``deadly`` are cautions of the plants in it that can kill.
    """

    name: str
    title: str
    makes: str
    plants: tuple[str, ...]
    colours: tuple[str, ...]
    fibres: tuple[str, ...]
    draft: bool
    handout: Paper
    card: Paper | None
    deadly: tuple[str, ...] = ()

    def under(self, index: str) -> tuple[str, ...]:
        """The headings that it is under in an index (plant, colour, fibre)."""
        return {"plant": self.plants, "colour": self.colours, "fibre": self.fibres}[index]


def entry(plan: Judged, name: str, voice: Voice) -> Entry:
    """A procedure as the book has it."""
    lots = finished(plan)
    shades = [shade_of(plan, lot) for lot in lots]
    states = plan.trace.final.lots
    fibres = dict.fromkeys(fibre.name for lot in states.values() for fibre in lot.fibres)
    plants = dict.fromkeys(
        material.called
        for material in used(plan).values()
        if material.entry is not None and material.entry.table == "dyestuffs"
    )
    return Entry(
        name=name,
        title=plan.model.title.text if plan.model.title else name,
        makes=plan.model.makes.text if plan.model.makes else "",
        plants=tuple(plants),
        colours=tuple(sorted({shade.family for shade in shades if shade is not None})),
        fibres=tuple(fibres),
        draft=any(found.level == "error" for found in plan.findings),
        handout=short.paper(plan, voice),
        card=card.paper(plan, voice) if len(lots) > 1 else None,
        deadly=deadly_words(plan.study),
    )


def index(entries: Iterable[Entry], by: str) -> dict[str, list[Entry]]:
    """The entries under their plants, colours or fibres, both in the order of the alphabet."""
    found: dict[str, list[Entry]] = {}
    for one in entries:
        for head in one.under(by):
            found.setdefault(head, []).append(one)
    ordered = {head: sorted(found[head], key=lambda one: one.title.casefold()) for head in found}
    return dict(sorted(ordered.items()))


def glossary(plans: Sequence[Judged]) -> tuple[tuple[str, str], ...]:
    """The words of the trade that the procedures use, each with what it means."""
    meaning = {row["verb"]: row["meaning"] for row in rows("verbs")}
    named = {row["name"]: row["meaning"] for row in rows("words") if row["meaning"]}
    said: dict[str, str] = {}
    for plan in plans:
        for node in plan.flow.nodes:
            step = node.step
            if not isinstance(step, Step):
                continue
            if step.verb is not None and (means := meaning.get(step.verb.name)):
                said[step.verb.name] = means
            heats = [item.quantity for item in (step.at, step.to, step.source) if item is not None]
            words = [one.text for one in step.manners]
            words += [heat.word for heat in heats if heat is not None and heat.word]
            said |= {word: named[word] for word in words if word in named}
        for material in used(plan).values():
            said |= {role: named[role] for role in material.roles if role in named}
    return tuple(sorted(said.items()))


def sources(plans: Sequence[Judged]) -> tuple[str, ...]:
    """Where the methods come from, and what their facts rest on."""
    titles = {row["key"]: row["title"] for row in rows("sources")}
    found: dict[str, None] = {}
    for plan in plans:
        for made in plan.study.procedures:
            if made.source is not None and made.title is not None:
                found.setdefault(f"{made.title.text}: {made.source.text}")
    keys = ("Mairet 1916", "Mairet 1938", "Regulation (EC) No 1272/2008", "NBS SP 440")
    return (*sorted(found), *(titles[key] for key in keys if key in titles))


# ------------------------------------------------------------ front and back of a printed book


def front(title: str, entries: Sequence[Entry], pages: dict[str, int], voice: Voice) -> Paper:
    """The first pages: every procedure with its page, then by plant, colour and fibre."""
    listed: list[tuple[Phrase, ...]] = [
        (
            (Words(one.title),),
            (Words(" ".join((one.makes, *one.deadly)).strip()),),
            (str(pages[one.name]),),
        )
        for one in sorted(entries, key=lambda one: one.title.casefold())
    ]
    heads: tuple[Phrase, ...] = (("procedure",), ("makes",), ("page",))
    sections = [Section("all", ("All procedures",), (table((), heads, listed, (2, 3, 0.4)),))]
    for by in INDEXES:
        found = index(entries, by)
        if found:
            lines: list[tuple[Phrase, ...]] = [
                ((head,), _titles(under, pages)) for head, under in found.items()
            ]
            blank: tuple[Phrase, ...] = ((by,), ("procedure and page",))
            sections.append(Section(by, (f"By {by}",), (table((), blank, lines, (1, 4)),)))
    return Paper((Words(title),), voice, "handout", (), tuple(sections), size="short")


def _titles(listed: list[Entry], pages: dict[str, int]) -> Phrase:
    said: Phrase = ()
    for one in listed:
        said = phrase(said, "; " if said else "", Words(one.title), f" {pages[one.name]}")
    return said


def back(plans: Sequence[Judged], voice: Voice) -> Paper:
    """The last pages: the words of the trade, and the sources."""
    words: list[tuple[Phrase, ...]] = [((word,), (said,)) for word, said in glossary(plans)]
    blank: tuple[Phrase, ...] = (("word",), ("what it means",))
    cited = tuple(Para((Words(f"{one}."),)) for one in sources(plans))
    return Paper(
        ("Words and sources",),
        voice,
        "handout",
        (),
        (
            Section("glossary", ("Words of the trade",), (table((), blank, words, (1, 4)),)),
            Section("sources", ("Sources",), cited),
        ),
        size="short",
    )
