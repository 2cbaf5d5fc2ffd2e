"""Any text at all gives findings or a model, and what is meant is what is read."""

from __future__ import annotations

import json
from collections.abc import Sequence
from pathlib import Path

import jsonschema
import pytest
import strategies
from hypothesis import given, settings
from hypothesis import strategies as st

import procedure
from procedure.findings import LEVELS
from procedure.model import Block, Item, Quantity, Step
from procedure.report import gnu, json_report, text

SCHEMA = json.loads((Path(json_report.__file__).parent / "findings.schema.json").read_text("utf-8"))


@settings(max_examples=300)
@given(strategies.texts)
def test_any_text_gives_findings_or_a_model(written: str) -> None:
    plan = procedure.read(written, "any.dye")
    for finding in plan.findings:
        assert finding.level in LEVELS
        assert finding.line >= 1 and 1 <= finding.column < finding.to
        assert finding.sentence and finding.remedy and finding.source
    assert text.report(plan.findings) and isinstance(gnu.report(plan.findings), str)
    jsonschema.validate(json.loads(json_report.report(plan.findings, ["any.dye"])), SCHEMA)
    assert plan.graph.number_of_nodes() == len(plan.flow.nodes)
    nothing = not plan.model.body and not plan.model.lots
    assert plan.findings or not nothing


@given(st.binary(max_size=200))
def test_any_bytes_are_text_or_refused_in_a_sentence(data: bytes) -> None:
    from procedure.pipeline import NotText, decoded

    try:
        written = decoded(data, "some.dye")
    except NotText as reason:
        assert str(reason).startswith("some.dye is not")
    else:
        procedure.read(written)


# ------------------------------------------------------------ what is meant is what is read


class Names:
    """The names of a text so far; a word of a sort means the only thing of that sort."""

    def __init__(self, written: strategies.Written) -> None:
        self.made = {one.name for one in written.above}
        self.sorts: dict[str, list[str]] = {}
        self.lots: dict[str, list[str]] = {}
        for one in written.above:
            for word in one.sorts:
                self.sorts.setdefault(word, []).append(one.name)
        for one in written.fibre:  # above or below
            for word in one.sorts:
                self.lots.setdefault(word, []).append(one.name)

    def meant(self, word: str) -> str:
        known = self.sorts.get(word, [])
        return known[0] if len(known) == 1 and word not in self.made else word

    def several(self, word: str) -> list[str]:
        """The lots that a word is said of, which may all be meant by it."""
        known = self.lots.get(word, [])
        alone = len(self.sorts.get(word, [])) == 1
        return known if len(known) > 1 and not alone and word not in self.made else []

    def make(self, *names: object) -> None:
        self.made |= {name for name in names if isinstance(name, str)}


class NoNames(Names):
    """In a line that gives a new name nothing is meant by a word but that word."""

    def __init__(self) -> None:
        self.made, self.sorts, self.lots = set(), {}, {}


ITSELF = NoNames()


def holds(meant: strategies.Amount | None, read: Quantity | None, names: Names = ITSELF) -> None:
    """The quantity that was read is the one that was meant."""
    if meant is None:
        assert read is None
        return
    assert read is not None
    assert (read.kind, read.low, read.high) == (meant.kind, meant.low, meant.high)
    lots = names.several(meant.base)
    assert [read.base, *read.more_bases] == (lots or [names.meant(meant.base)])
    assert read.of_fibre == meant.of_fibre


def items_hold(meant: object, read: Sequence[Item], names: Names) -> None:
    assert isinstance(meant, list)
    said = [item.name and item.name.text for item in read]
    lots = names.several(meant[0]["name"]) if len(meant) == 1 else []
    if lots and meant[0]["amount"] is None and said == lots:
        return  # the yarn, where all of several lots are meant
    assert said == [names.meant(one["name"]) for one in meant]
    for one, item in zip(meant, read, strict=True):
        holds(one["amount"], item.quantity, names)


def block_holds(meant: strategies.Meant, block: Step | Block, names: Names) -> None:
    facts = meant.facts
    assert isinstance(block, Block)
    assert block.kind == facts["block"]
    assert block.times == facts.get("times")
    assert block.condition == facts.get("condition", "")
    assert (block.variable and block.variable.text) == facts.get("variable")
    values = facts.get("values", [])
    assert isinstance(values, list)
    assert [i.name and i.name.text for i in block.values] == [names.meant(one) for one in values]
    names.make(facts.get("variable"))
    bodies_hold(meant.body, block.body, names)


def step_holds(meant: strategies.Meant, step: Step | Block, names: Names) -> None:
    facts = meant.facts
    if "follow" in facts:
        assert isinstance(step, Step) and step.kind == "follow"
        return
    if "block" in facts:
        block_holds(meant, step, names)
        return
    assert isinstance(step, Step) and step.verb is not None
    naming = facts["verb"] in ("split", "join") or "named" in facts
    of = ITSELF if naming else names
    # A bath that has the name of a lot is left to stand where the lot would rest.
    assert facts["verb"] in (step.verb.name, step.word)
    assert (step.label and step.label.text) == facts["label"]
    items_hold(facts.get("objects", []), step.objects, of)
    items_hold(facts.get("into", []), step.into, of)
    items_hold(facts.get("using", []), step.using, of)
    within = [step.within] if step.within else []
    # The word for a lot stands in the same line for what is named there, or for the lot.
    placed = facts.get("within")
    same = isinstance(placed, dict) and placed["name"] == facts.get("named")
    lot = any(item.name is not None and item.name.text != facts.get("named") for item in within)
    items_hold([placed] if "within" in facts else [], within, names if same and lot else of)
    for clause in ("source", "at", "to"):
        item = getattr(step, clause)
        assert (item is None) == (clause not in facts)
        holds(facts.get(clause), item and item.quantity)  # type: ignore[arg-type]
    holds(facts.get("over"), step.over)  # type: ignore[arg-type]
    holds(facts.get("lasting"), step.lasting)  # type: ignore[arg-type]
    until = step.until and step.until.words and step.until.words.text
    assert until == facts.get("until")
    assert step.note == facts.get("note", "")
    assert [name.text for name in step.after] == facts.get("after", [])
    assert [name.text for name in step.wearing] == facts.get("wearing", [])
    assert (step.named and step.named.text) == facts.get("named")
    assert [name.text for name in step.manners] == facts.get("manners", [])
    assert step.twice == ()
    names.make(facts["label"], facts.get("named"))


def bodies_hold(
    meant: Sequence[strategies.Meant], body: Sequence[Step | Block], names: Names
) -> None:
    assert len(body) == len(meant)
    for one, step in zip(meant, body, strict=True):
        step_holds(one, step, names)


@settings(max_examples=150)
@given(strategies.procedures())
def test_a_procedure_reads_back_to_what_it_was_written_from(
    written: strategies.Written,
) -> None:
    plan = procedure.read(written.text, "meant.dye")
    assert not [f for f in plan.findings if f.rule in ("cannot-read", "unknown-word")]
    model = plan.model
    assert model.title is not None and model.title.text == written.title
    for header in ("by", "revised", "setting"):
        name = getattr(model, header)
        assert (name and name.text) == written.header.get(header)
    assert [name.text for name in model.wearing] == written.header.get("wearing", [])
    assert list(model.lots) == [one.name for one in written.fibre]
    for one in written.fibre:
        lot = model.lots[one.name]
        assert tuple(entry.name for entry in lot.fibres) == one.facts["fibres"]
        assert lot.weight is not None and lot.weight.ends == one.facts["weight"]
        assert lot.scoured is one.facts["scoured"]
        assert (lot.pieces and lot.pieces.low) == one.facts["pieces"]
    assert list(model.equipment) == [one.name for one in written.equipment]
    for one in written.equipment:
        pot = model.equipment[one.name]
        assert pot.metal is not None and pot.metal.name == one.facts["metal"]
        assert pot.kind is not None and pot.kind.name == one.facts["kind"]
        assert pot.capacity is not None and pot.capacity.ends == one.facts["capacity"]
        assert (pot.use, pot.lidded) == (one.facts["use"], one.facts["lidded"])
    assert list(model.materials) == [one.name for one in written.materials]
    for one in written.materials:
        stuff = model.materials[one.name]
        assert stuff.entry is not None and stuff.entry.name == one.facts["entry"]
        assert (stuff.state, stuff.gathered) == (one.facts["state"], one.facts["gathered"])
    bodies_hold(written.steps, model.body, Names(written))


def test_the_strategy_writes_every_verb() -> None:
    from procedure.vocabulary import vocabulary

    assert set(strategies._VERBS) == {verb.name for verb in vocabulary().verbs.values()}


@pytest.mark.parametrize("nothing", ["", "\n", "\ufeff", "   \n\t\n", "# only a comment"])
def test_a_text_with_nothing_in_it_is_a_finding(nothing: str) -> None:
    (finding,) = [f for f in procedure.read(nothing).findings if f.level == "error"]
    assert finding.rule == "no-procedure" and (finding.line, finding.column) == (1, 1)
