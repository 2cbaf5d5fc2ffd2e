"""The shade card: every sample with what it went through, a box for it, and a tag to tie on.

One self-contained page: it prints on A4 or Letter, and needs no network or script.
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import NamedTuple

from procedure.handout.lots import Event, Story, ends, stories
from procedure.pipeline import Judged

# What gave a sample its colour is told on the card; rinsing and drying are not.

STYLE = """
:root { color-scheme: light dark; }
@page { margin: 12mm; }
body { font: 11pt/1.3 Georgia, "DejaVu Serif", serif; margin: 1.5rem auto; max-width: 48rem;
  padding: 0 1rem; overflow-wrap: anywhere; hyphens: auto; }
h1 { font-size: 1.4rem; line-height: 1.2; margin: 0 0 .2rem; }
h2 { font-size: 1.1rem; margin: 1.2rem 0 .4rem; break-after: avoid; }
h3 { font-size: .95rem; line-height: 1.2; margin: 0 0 .2rem; hyphens: none; }
p { margin: 0 0 .3rem; }
ul { list-style: none; padding: 0; margin: 0; display: grid; gap: .6rem;
  grid-template-columns: repeat(auto-fill, minmax(10.5rem, 1fr)); }
li.sample, li.tag { border: 1px solid; padding: .5rem; break-inside: avoid; font-size: .8rem; }
.box { border: 1px dashed; height: 4rem; margin-bottom: .4rem; display: flex; align-items: end;
  justify-content: center; font-size: .7rem; padding-bottom: .2rem; }
ol { margin: 0; padding-left: 1.3rem; }
li.shared { font-style: italic; list-style: none; margin-left: -1.3rem; }
ol.alike { columns: 2 18rem; font-size: .9rem; }
li.tag { padding-left: 2rem; position: relative; border-style: dotted; }
li.tag::before { content: ""; position: absolute; left: .6rem; top: .6rem; width: .7rem;
  height: .7rem; border: 1px solid; border-radius: 50%; }
@media print {
  body { max-width: none; margin: 0; padding: 0 1px; font-size: 10pt; }
  ul { grid-template-columns: repeat(4, 1fr); gap: .4rem; }
  li.sample, li.tag { padding: .35rem; font-size: .72rem; }
  li.tag { padding-left: 1.7rem; }
  h3 { font-size: .8rem; }
  section.tags { break-before: page; }
}
"""


class _Sample(NamedTuple):
    """A sample's story, and what on it is not alike for all samples."""

    story: Story
    own: tuple[Event, ...]


def page(plan: Judged) -> str:
    """The card as HTML. Everything that the writer wrote is escaped."""
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
    each = f", each {weights.pop()}" if len(weights) == 1 and len(told) > 1 else ""
    cards = "\n".join(_card(sample, bool(alike), not each) for sample in samples)
    tags = "\n".join(_tag(sample.story, title) for sample in samples)
    return f"""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(title)}: shade card</title>
<style>{STYLE}</style>
</head>
<body>
<main>
<h1>{escape(title)}</h1>
<p>{escape(f"{made}. " if made else "")}{count}{escape(each)}.</p>
{_for_all(alike)}<section aria-label="Samples">
<ul>
{cards}
</ul>
</section>
<section class="tags">
<h2>Tags to cut out and tie on</h2>
<ul>
{tags}
</ul>
</section>
</main>
</body>
</html>
"""


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


def _for_all(alike: tuple[Event, ...]) -> str:
    if not alike:
        return ""
    steps = "".join(f"<li>{escape(event.in_brief)}</li>" for event in alike)
    return f'<h2>All of them first</h2>\n<ol class="alike">{steps}</ol>\n<h2>Samples</h2>\n'


def _weight(story: Story) -> str:
    return f"{ends(story.weight)} g of {story.fibre}" if story.weight else story.fibre


def _name(story: Story) -> str:
    """A lot's name, which may break behind its dots where a column is narrow."""
    return escape(story.lot).replace(".", ".<wbr>")


def _card(sample: _Sample, alike: bool, weighed: bool) -> str:
    name = _name(sample.story)
    steps = "".join(f"<li>{escape(event.in_brief)}</li>" for event in sample.own)
    if not steps:
        steps = f'<li class="shared">{"Nothing more." if alike else "Left as it was."}</li>'
    weight = f"<p>{escape(_weight(sample.story))}</p>" if weighed else ""
    return (
        f'<li class="sample"><div class="box">fix it here</div><h3>{name}</h3>{weight}'
        f"<ol>{steps}</ol></li>"
    )


def _tag(story: Story, title: str) -> str:
    return (
        f'<li class="tag"><h3>{_name(story)}</h3><p>{escape(_weight(story))}: '
        f"{escape(story.short)}</p><p>{escape(title)}</p></li>"
    )
