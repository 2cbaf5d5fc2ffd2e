"""A book of procedures: contents by plant, colour and fibre, handouts, cards, glossary, sources."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterable, Sequence

from procedure.facts.handling import deadly_words
from procedure.handout import shade_card, short
from procedure.handout.book_words import colours_made, glossary, sources
from procedure.handout.cautions import used
from procedure.handout.lot_stories import finished
from procedure.handout.swatches import not_known, shade_of
from procedure.paper.blocks import Paper, PaperSection, Para, Table, table
from procedure.paper.measures import Voice
from procedure.paper.pieces import Phrase, Words, phrase, spaced
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple

VoiceOf = Callable[[Judged], Voice]
INDEXES = ("plant", "colour", "fibre")
ALL, DRAFTS = "All procedures", "Drafts with errors: nobody should work from these"
UNKNOWN = "not known beforehand"
# Letters of the name of a page, of which one may take four bytes; a folder holds 255 in a name.
LONGEST_PAGE_NAME = 50


class BookEntry(NamedTuple):
    """A procedure in the book. ``name`` is that of its page; ``makes`` may be empty.

    ``plants`` are its dyestuffs by their real names, ``colours`` the plain colours that its
    lots are expected to have and that ``makes`` names, ``fibres`` what its lots are of;
    ``card`` is None where it has one sample only. ``deadly`` are cautions of the plants in it
    that can kill. A ``draft`` has errors, and is listed apart.
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
        """The headings that it is under in an index (plant, colour, fibre): none for a draft."""
        if self.draft:
            return ()
        return {"plant": self.plants, "colour": self.colours, "fibre": self.fibres}[index]


def entry(plan: Judged, name: str, voice: Voice) -> BookEntry:
    """A procedure as the book has it."""
    lots = finished(plan)
    title = plan.model.title.text if plan.model.title else name
    makes = plan.model.makes.text if plan.model.makes else ""
    states = plan.trace.final.lots
    fibres = dict.fromkeys(fibre.name for lot in states.values() for fibre in lot.fibres)
    plants = dict.fromkeys(
        material.called
        for material in used(plan).values()
        if material.entry is not None and material.entry.table == "dyestuffs"
    )
    return BookEntry(
        name=name,
        title=title,
        makes=makes,
        plants=tuple(plants),
        colours=_colours(plan, makes, plants),
        fibres=tuple(fibres),
        draft=any(found.level == "error" for found in plan.findings),
        handout=short.paper(plan, voice),
        card=shade_card.paper(plan, voice) if len(lots) > 1 else None,
        deadly=deadly_words(plan.study),
    )


def _colours(plan: Judged, makes: str, plants: Iterable[str]) -> tuple[str, ...]:
    """The plain colours of the finished lots, and those that its writer says it makes.

    A title is a name: its words, and those of the plants in it, say no colour. So is the name of
    a lot whose colour is known: a rose from madder is among the reds.
    """
    shades = {lot: shade_of(plan, lot) for lot in finished(plan)}
    known = {shade.family for shade in shades.values() if shade is not None}
    for lot in (lot for lot, shade in shades.items() if shade is not None):
        name = re.escape(spaced(plan.flow.lots[lot].name))
        makes = re.sub(rf"(?i)(?<![\w-]){name}(?![\w-])", " ", makes)
    known |= set(colours_made(makes, plants))
    return tuple(sorted(known)) or ((UNKNOWN,) if not_known(plan) else ())


def page_names(paths: Iterable[Sequence[str]]) -> list[str]:
    """A name for the page of each procedure, from the folders to its file and the file itself.

    It is one that any host and any link can carry, and never that of another page: of the
    contents, of a card, or of a file whose name differs in small and capital letters alone.
    """
    taken = {"index"}
    names: list[str] = []
    for parts in paths:
        letters = (char if char.isalnum() or char in "-_." else "-" for char in "-".join(parts))
        name = plain = "".join(letters)[:LONGEST_PAGE_NAME].lstrip(".") or "page"
        number = 1
        while not {name.casefold(), f"{name}-card".casefold()}.isdisjoint(taken):
            number += 1
            name = f"{plain}-{number}"
        taken |= {name.casefold(), f"{name}-card".casefold()}
        names.append(name)
    return names


def told_apart(entries: Sequence[BookEntry], files: Sequence[str]) -> list[BookEntry]:
    """The entries, each that has its title in common with another with its file's name behind."""
    often = Counter(one.title.casefold() for one in entries)
    return [
        one._replace(title=f"{one.title} ({file})") if often[one.title.casefold()] > 1 else one
        for one, file in zip(entries, files, strict=True)
    ]


def in_order(entries: Iterable[BookEntry]) -> list[BookEntry]:
    """By title, the drafts last."""
    return sorted(entries, key=lambda one: (one.draft, one.title.casefold()))


def index(entries: Iterable[BookEntry], by: str) -> dict[str, list[BookEntry]]:
    """The entries under their plants, colours or fibres, both in the order of the alphabet."""
    found: dict[str, list[BookEntry]] = {}
    for one in entries:
        for head in one.under(by):
            found.setdefault(head, []).append(one)
    ordered = {head: sorted(found[head], key=lambda one: one.title.casefold()) for head in found}
    return dict(sorted(ordered.items()))


# ------------------------------------------------------------ front and back of a printed book


def front(title: str, entries: Sequence[BookEntry], pages: dict[str, int], voice: Voice) -> Paper:
    """The first pages: every procedure with its page, then by plant, colour and fibre."""
    sound = [one for one in entries if not one.draft]
    drafts = [one for one in entries if one.draft]
    sections = [
        PaperSection(role, (head,), (_listed(of, pages),))
        for role, head, of in (("all", ALL, sound), ("drafts", DRAFTS, drafts))
        if of
    ]
    for by in INDEXES:
        found = index(entries, by)
        if found:
            lines: list[tuple[Phrase, ...]] = [
                ((head,), _titles(under, pages)) for head, under in found.items()
            ]
            blank: tuple[Phrase, ...] = ((by,), ("procedure and page",))
            sections.append(PaperSection(by, (f"By {by}",), (table((), blank, lines, (1, 4)),)))
    return Paper((Words(title),), voice, "handout", (), tuple(sections), size="short")


def _listed(entries: Iterable[BookEntry], pages: dict[str, int]) -> Table:
    """Procedures with what they make and their pages."""
    lines: list[tuple[Phrase, ...]] = [
        (
            (Words(one.title),),
            (Words(". ".join(unparted(part) for part in (one.makes, *one.deadly) if part)),),
            (str(pages[one.name]),),
        )
        for one in in_order(entries)
    ]
    return table((), (("procedure",), ("makes",), ("page",)), lines, (2, 3, 0.4))


def unparted(said: str) -> str:
    """A writer's words with each number on one line with what follows it."""
    return re.sub(r"(?<=\d) (?=\S)", "\u00a0", said)


def _titles(listed: list[BookEntry], pages: dict[str, int]) -> Phrase:
    said: Phrase = ()
    for one in listed:
        said = phrase(said, "; " if said else "", Words(one.title), f", {pages[one.name]}")
    return said


def papers_of(entries: Iterable[BookEntry]) -> list[Paper]:
    """The handouts and cards of a book."""
    return [made for one in entries for made in (one.handout, one.card) if made is not None]


def back(entries: Sequence[BookEntry], plans: Sequence[Judged], voice: Voice) -> Paper:
    """The last pages: the words of the trade, and the sources."""
    explained = glossary(papers_of(entries))
    words: list[tuple[Phrase, ...]] = [((word,), (said,)) for word, said in explained]
    blank: tuple[Phrase, ...] = (("word",), ("what it means",))
    cited = tuple(Para((Words(f"{one}."),)) for one in sources(plans))
    return Paper(
        ("Words and sources",),
        voice,
        "handout",
        (),
        (
            PaperSection("glossary", ("Words of the trade",), (table((), blank, words, (1, 4)),)),
            PaperSection("sources", ("Sources",), cited),
        ),
        size="short",
    )
