"""The shade card: every sample with what it went through, a box for it, and a tag to tie on.

One self-contained page: it prints on A4 or Letter, and needs no network or script.
"""

from __future__ import annotations

from html import escape

from procedure.plan import Plan
from procedure.report.lots import Event, Story, stories

# What gave a sample its colour is told on the card; rinsing and drying are not.
TELLING = frozenset(("treat", "dip", "scour", "modify"))

STYLE = """
:root { color-scheme: light dark; }
body { font: 11pt/1.35 Georgia, "DejaVu Serif", serif; margin: 1.5rem auto; max-width: 46rem;
  padding: 0 1rem; }
h1 { font-size: 1.5rem; margin: 0 0 .2rem; }
p.made { margin: 0 0 1.2rem; }
ul.card { list-style: none; padding: 0; display: grid; gap: .8rem;
  grid-template-columns: repeat(auto-fill, minmax(11rem, 1fr)); }
ul.card > li { border: 1px solid; padding: .6rem; break-inside: avoid; }
h2, h3 { font-size: 1rem; margin: 0 0 .3rem; }
.box { border: 1px dashed; height: 5rem; margin-bottom: .5rem; display: flex; align-items: end;
  justify-content: center; font-size: .75rem; }
ol { margin: 0; padding-left: 1.2rem; font-size: .85rem; }
ul.tags > li { padding-left: 2.4rem; position: relative; }
ul.tags > li::before { content: ""; position: absolute; left: .7rem; top: .9rem; width: .8rem;
  height: .8rem; border: 1px solid; border-radius: 50%; }
@media print { body { max-width: none; margin: 0; } section.tags { break-before: page; } }
"""


def page(plan: Plan) -> str:
    """The card as HTML. Everything that the writer wrote is escaped."""
    model = plan.model
    title = model.title.text if model.title else plan.file
    samples = stories(plan)
    made = ", ".join(
        name.text for name in (model.by, model.revised) if name is not None and name.text
    )
    told = {story.lot: _telling(plan, story) for story in samples}
    cards = "\n".join(_sample(story, told[story.lot]) for story in samples)
    tags = "\n".join(_tag(story, told[story.lot], title) for story in samples)
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
<p class="made">{escape(made)}. {len(samples)} samples.</p>
<section aria-label="Samples">
<ul class="card">
{cards}
</ul>
</section>
<section class="tags">
<h2>Tags to tie on</h2>
<ul class="card tags">
{tags}
</ul>
</section>
</main>
</body>
</html>
"""


def _telling(plan: Plan, story: Story) -> list[Event]:
    """The events of a story that gave the colour."""
    lines: dict[tuple[str, int], str] = {}
    for moment in plan.trace.moments:
        key = (moment.node.procedure.file, moment.step.place.line)
        lines[key] = moment.step.effect
    return [event for event in story.events if lines.get((event.file, event.line)) in TELLING]


def _weight(story: Story) -> str:
    from procedure.report.lots import ends

    return f"{ends(story.weight)} g of {story.fibre}" if story.weight else story.fibre


def _steps(events: list[Event]) -> str:
    if not events:
        return "<p>Left as it was.</p>"
    items = "".join(f"<li>{escape(event.said)}</li>" for event in events)
    return f"<ol>{items}</ol>"


def _sample(story: Story, events: list[Event]) -> str:
    name = escape(story.lot)
    return (
        f'<li><div class="box">fix {name} here</div><h2>{name}</h2>'
        f"<p>{escape(_weight(story))}</p>{_steps(events)}</li>"
    )


def _tag(story: Story, events: list[Event], title: str) -> str:
    return f"<li><h3>{escape(story.lot)}</h3><p>{escape(title)}</p>{_steps(events)}</li>"
