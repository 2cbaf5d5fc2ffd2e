"""The shade card: a box for every sample, by mordant, time and after-bath, and a tag to tie on."""

from __future__ import annotations

from collections.abc import Sequence

from procedure.facts.handling import deadly_words
from procedure.handout.card_grid import GridPlace, after_metal, place_of
from procedure.handout.contents import telling_of
from procedure.handout.fixed_phrases import DRAFT
from procedure.handout.lot_stories import Event, Story, finished, stories
from procedure.handout.swatches import COLOUR_UNKNOWN, paler, shade_of
from procedure.paper.blocks import (
    Block,
    Card,
    Cards,
    Listing,
    Paper,
    PaperSection,
    Para,
    Picture,
    Swatch,
)
from procedure.paper.measures import Voice
from procedure.paper.pieces import Figure, Phrase, Words, phrase, spaced
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.vocabulary.colours import Shade

# What gave a sample its colour is told on the card; rinsing and drying are not.

# So many samples side by side leave each a box of 25 by 40 mm, which a knot of yarn needs
# (the project's choice).
MOST_ACROSS = 4
STRIP = "The strip under a box is about the colour to expect; where none is, nobody knows it."
TIMES = "Times are the whole time in a bath, its warming counted in."


class _Sample(NamedTuple):
    """A sample's story, what on it is not alike for all samples, and where it stands.

    ``early`` is true where its shade is that of before its after-bath; ``faint`` says what is
    to be expected from a used bath.
    """

    story: Story
    own: tuple[Event, ...]
    place: GridPlace
    shade: Shade | None
    early: bool = False
    faint: str = ""


def paper(plan: Judged, voice: Voice, qr: bool = False) -> Paper:
    """The card as a paper: what all samples share, a box for each, and tags to cut out.

    With ``qr`` a QR code (ISO/IEC 18004) holds the title and version as text.
    """
    model = plan.model
    title = model.title.text if model.title else plan.file
    telling = telling_of(plan, voice)
    told = stories(plan, voice)
    alike = _alike([_telling(story) for story in told])
    samples: list[_Sample] = []
    places = [place_of(telling, story) for story in told]
    if len(set(places)) < len(places):  # what tells two apart may be who had the after-bath first
        places = [place_of(telling, story, in_full=True) for story in told]
    for lot, story, place in zip(finished(plan), told, places, strict=True):
        early = bool(place.after) and not after_metal(telling, story)
        own = _telling(story)[len(alike) :]
        faint = paler(plan, lot)
        shade = None if faint else shade_of(plan, lot)
        samples.append(_Sample(story, own, place, shade, early, faint))
    made = ", ".join(
        name.text for name in (model.by, model.revised) if name is not None and name.text
    )
    count = f"{len(samples)} sample{'s' if len(samples) != 1 else ''}"
    weights = {_weight(story) for story in told}
    each = weights.pop() if len(weights) == 1 and len(told) > 1 else ()
    head: list[Block] = [
        *(Para((line,), "warning") for line in deadly_words(plan.study)),
        Para(
            phrase(Words(f"{made}. " if made else ""), count, ", each " if each else "", each, ".")
        ),
    ]
    if any(sample.shade is not None for sample in samples):
        head.append(Para((STRIP,), "quiet"))
    if any(sample.place.dyed for sample in samples):
        head.append(Para((TIMES,), "quiet"))
    if qr:
        version = next((one.text for one in (model.version, model.revised) if one is not None), "")
        head.append(_code(title, version))
    tags = tuple(_tag(sample, title) for sample in samples)
    sections = [
        *_grid(samples, not each, bool(alike)),
        PaperSection("tags", ("Tags to cut out and tie on",), (Cards(tags, MOST_ACROSS, "tags"),)),
    ]
    if alike:
        steps = Listing(tuple((Words(one.in_brief),) for one in alike), numbered=True, role="alike")
        sections.insert(0, PaperSection("alike", ("All of them first",), (steps,)))
    return Paper(
        title=(Words(title),),
        voice=voice,
        look="card",
        stamp=DRAFT if any(found.level == "error" for found in plan.findings) else "",
        head=tuple(head),
        sections=tuple(sections),
    )


def _grid(samples: list[_Sample], weighed: bool, alike: bool) -> list[PaperSection]:
    """A section for each mordant; in it a row for each time and a column for each after-bath."""
    by_mordant: dict[str, list[_Sample]] = {}
    for sample in samples:
        by_mordant.setdefault(sample.place.mordant, []).append(sample)
    made: list[PaperSection] = []
    for number, (mordant, group) in enumerate(by_mordant.items()):
        title: Phrase = ("Samples",) if alike else ()
        if len(by_mordant) > 1:
            title = phrase("With ", Words(mordant)) if mordant else ("Without a mordant",)
        rows = list(dict.fromkeys(one.place.dyed for one in group))
        columns = list(dict.fromkeys(one.place.after for one in group))
        whole = len(rows) * len(columns) == len(group) == len({one.place for one in group})
        if whole:
            group.sort(key=lambda one: (rows.index(one.place.dyed), columns.index(one.place.after)))
        across = len(columns) if whole and 1 < len(columns) <= MOST_ACROSS else MOST_ACROSS
        cards = tuple(_card(sample, weighed) for sample in group)
        role = "samples" if not number else f"samples-{number + 1}"
        made.append(PaperSection(role, title, (Cards(cards, across, "samples"),)))
    return made or [PaperSection("samples", (), (Cards((), MOST_ACROSS, "samples"),))]


def _code(title: str, version: str) -> Picture:
    from io import BytesIO

    import segno

    text = f"{title}, {version}" if version else title
    svg = BytesIO()
    segno.make(text, error="m", micro=False).save(svg, kind="svg", scale=4, border=2)
    return Picture(svg.getvalue().decode(), f"QR code: {text}")


def _telling(story: Story) -> tuple[Event, ...]:
    """The events of a story that gave the colour."""
    return tuple(event for event in story.events if event.does.gives_colour)


def _alike(told: Sequence[tuple[Event, ...]]) -> tuple[Event, ...]:
    """What all samples went through before they part; nothing where there is only one."""
    if len(told) < 2:
        return ()
    shared: list[Event] = []
    for events in zip(*told, strict=False):
        if any(event.said != events[0].said for event in events):
            break
        shared.append(events[0])
    return tuple(shared)


def _weight(story: Story) -> Phrase:
    if story.weight is None:
        return (Words(story.fibre),)
    return phrase(Figure("mass", *story.weight), " of ", Words(story.fibre))


def _title(sample: _Sample) -> Phrase:
    """What the sample is, in a few words: ``madder 1¼ hours, then ferrous sulphate``."""
    dyed, after = sample.place.dyed, sample.place.after
    said = (
        f"{dyed}, then {after}" if dyed and after else dyed or sample.place.mordant or "as it was"
    )
    return (Words(said[:1].upper() + said[1:]),) if said else ()


def _card(sample: _Sample, weighed: bool) -> Card:
    blocks: list[Block] = []
    if sample.shade is not None:
        when = f"before the {sample.place.after}: " if sample.early else ""
        guess = ", an estimate" if sample.shade.estimate else ""
        blocks.append(Swatch(sample.shade.hex, phrase(f"{when}about {sample.shade.colour}{guess}")))
    else:
        blocks.append(Para((sample.faint or COLOUR_UNKNOWN,), "quiet"))
    if weighed:
        blocks.append(Para(_weight(sample.story)))
    if sample.own:
        steps = tuple((Words(event.in_brief),) for event in sample.own)
        blocks.append(Listing(steps, numbered=True))
    blocks.append(Para(phrase("lot: ", _name(sample.story)), "quiet"))
    return Card(_title(sample), tuple(blocks), "sample", box=("fix it here",))


def _name(story: Story) -> Phrase:
    return (Words(spaced(story.lot)),)


def _tag(sample: _Sample, title: str) -> Card:
    story = sample.story
    said = phrase(_weight(story), ": ", Words(story.short))
    lot = phrase(_name(story), ", ", Words(title))
    mordant = f"{sample.place.mordant}: " if sample.place.mordant and sample.place.dyed else ""
    mordant = mordant[:1].upper() + mordant[1:]
    return Card(
        phrase(Words(mordant) if mordant else (), _title(sample)),
        (Para(said), Para(lot, "quiet")),
        "tag",
    )
