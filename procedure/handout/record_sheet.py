"""The record sheet: the blanks of every step, as a record of the batch asks them, and no more."""

from __future__ import annotations

from procedure.facts.handling import deadly_words
from procedure.handout import fixed_phrases as say
from procedure.handout.contents import telling_of
from procedure.handout.stages import stages
from procedure.handout.steps import Told, tell
from procedure.paper.blocks import Block, Heading, Paper, Para, Section, StepCard, Steps
from procedure.paper.measures import Voice
from procedure.paper.pieces import Blank, Phrase, Words, phrase
from procedure.pipeline import Judged


def paper(plan: Judged, voice: Voice) -> Paper:
    """The record sheet of a plan."""
    telling = telling_of(plan, voice)
    blocks: list[Block] = []
    for stage in stages(telling, tell(telling)):
        if stage.title:
            blocks.append(Heading(stage.title))
        blocks.append(Steps(tuple(_card(plan, told) for told in stage.steps)))
    title = plan.model.title.text if plan.model.title else "Untitled procedure"
    version = plan.model.version or plan.model.revised
    head = phrase("Batch ", Blank("batch"), "  Date ", Blank("date"), "  By ", Blank("name"))
    written = phrase("Method of ", Words(version.text), ".") if version is not None else ()
    return Paper(
        title=phrase("Record: ", Words(title)),
        voice=voice,
        look="handout",
        head=(
            *(Para((line,), "warning") for line in deadly_words(plan.study)),
            *(para for para in (Para(head), Para(written, "quiet")) if para.text),
        ),
        sections=(Section("steps", (), tuple(blocks)),),
        stamp=say.DRAFT if any(found.level == "error" for found in plan.findings) else "",
        size="record",
    )


def _card(plan: Judged, told: Told) -> StepCard:
    return StepCard(
        number=told.number,
        text=_title(plan, told),
        blanks=told.blanks,
        boxes=told.boxes,
        inner=tuple(_card(plan, one) for one in told.inner),
    )


def _title(plan: Judged, told: Told) -> Phrase:
    """What the step is, in its first words."""
    from procedure.handout.bench import in_short

    node = plan.flow.nodes[told.node]
    return told.text if told.inner else in_short(telling_of(plan, Voice("metric")), node)
