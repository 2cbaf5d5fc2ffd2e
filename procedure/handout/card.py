"""The shade card: every sample with what it went through, a box for it, and a tag to tie on."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

from procedure.handout.lots import Event, Story, stories
from procedure.paper.blocks import Block, Card, Cards, Listing, Paper, Para, Section
from procedure.paper.measures import Voice
from procedure.paper.pieces import Figure, Phrase, Words, phrase, spaced
from procedure.pipeline import Judged

# What gave a sample its colour is told on the card; rinsing and drying are not.


class _Sample(NamedTuple):
    """A sample's story, and what on it is not alike for all samples."""

    story: Story
    own: tuple[Event, ...]


def paper(plan: Judged, voice: Voice) -> Paper:
    """The card as a paper: what all samples share, a box for each, and tags to cut out."""
    model = plan.model
    title = model.title.text if model.title else plan.file
    told = stories(plan)
    alike = _alike([_telling(story) for story in told])
    samples = [_Sample(story, _telling(story)[len(alike) :]) for story in told]
    made = ", ".join(
        name.text for name in (model.by, model.revised) if name is not None and name.text
    )
    count = f"{len(samples)} sample{'s' if len(samples) != 1 else ''}"
    weights = {_weight(story) for story in told}
    each = weights.pop() if len(weights) == 1 and len(told) > 1 else ()
    head = phrase(Words(f"{made}. " if made else ""), count, ", each " if each else "", each, ".")
    cards = tuple(_card(sample, bool(alike), not each) for sample in samples)
    tags = tuple(_tag(sample.story, title) for sample in samples)
    sections = [
        Section("samples", ("Samples",) if alike else (), (Cards(cards, 4, "samples"),)),
        Section("tags", ("Tags to cut out and tie on",), (Cards(tags, 4, "tags"),), True),
    ]
    if alike:
        steps = Listing(tuple((Words(one.in_brief),) for one in alike), numbered=True, role="alike")
        sections.insert(0, Section("alike", ("All of them first",), (steps,)))
    return Paper(
        title=(Words(title),),
        voice=voice,
        look="card",
        head=(Para(head),),
        sections=tuple(sections),
    )


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


def _card(sample: _Sample, alike: bool, weighed: bool) -> Card:
    nothing = "Nothing more." if alike else "Left as it was."
    blocks: list[Block] = [Para(_weight(sample.story))] if weighed else []
    if sample.own:
        steps = tuple((Words(event.in_brief),) for event in sample.own)
        blocks.append(Listing(steps, numbered=True))
    else:
        blocks.append(Para((nothing,), "quiet"))
    return Card(_name(sample.story), tuple(blocks), "sample", box=("fix it here",))


def _name(story: Story) -> Phrase:
    return (Words(spaced(story.lot)),)


def _tag(story: Story, title: str) -> Card:
    said = phrase(_weight(story), ": ", Words(story.short))
    return Card(_name(story), (Para(said), Para((Words(title),), "quiet")), "tag")
