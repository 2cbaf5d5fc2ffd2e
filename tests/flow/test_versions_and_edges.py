"""The flow graph: versions of lots, baths and pots, and what flows along each edge."""

from __future__ import annotations

from pathlib import Path

import networkx
import pytest
from expecting import findings, plan_of
from strategies import EXAMPLES

import procedure
from procedure import Plan
from procedure.model import Step

EDGE_KINDS = {"lot", "bath", "material", "matter", "pot", "order", "block"}
SOUND = sorted(path for path in EXAMPLES.rglob("*.dye") if "faulty" not in path.parts)

PLAN = '''soak: wet out yarn in tub with water 5 L for 1 h
alum-bath: prepare in kettle with water 3 L, alum 12 g
mordanting: mordant yarn in alum-bath at 85 °C for 1 h
first: rinse yarn in tub with water 5 L
away: discard alum-bath to "foul drain"
scrub: clean kettle
gold-bath: prepare in kettle with water 3 L, onion 50 g
dyeing: dye yarn in gold-bath at 85 °C for 1 h
last: rinse yarn in tub with water 5 L
gone: discard gold-bath to "foul drain"'''


def labels(plan: Plan) -> dict[int, str]:
    """What each node is called: its label, or its verb."""
    said: dict[int, str] = {}
    for node in plan.flow.nodes:
        step = node.step
        verb = step.verb.name if isinstance(step, Step) and step.verb else node.kind
        said[node.id] = step.label.text if step.label and node.kind != "end" else verb
        if node.kind == "end":
            said[node.id] = "end"
    return said


def edges(plan: Plan, *kinds: str) -> set[tuple[str, str, str]]:
    """The edges of those kinds as (before, after, thing), by the steps' labels."""
    said = labels(plan)
    return {
        (said[edge.before], said[edge.after], edge.thing)
        for edge in plan.flow.edges
        if not kinds or edge.kind in kinds
    }


def test_a_lot_flows_from_each_step_to_the_next_that_takes_it() -> None:
    assert edges(plan_of(PLAN), "lot") == {
        ("soak", "mordanting", "yarn"),
        ("mordanting", "first", "yarn"),
        ("first", "dyeing", "yarn"),
        ("dyeing", "last", "yarn"),
    }


def test_a_bath_flows_until_it_is_thrown_away() -> None:
    found = edges(plan_of(PLAN), "bath")
    # The yarn lies in the bath until it is rinsed, so the rinse comes before the discarding.
    assert found == {
        ("alum-bath", "mordanting", "alum-bath"),
        ("mordanting", "first", "alum-bath"),
        ("first", "away", "alum-bath"),
        ("gold-bath", "dyeing", "gold-bath"),
        ("dyeing", "last", "gold-bath"),
        ("last", "gone", "gold-bath"),
    }


def test_a_pot_is_freed_for_its_next_use() -> None:
    graph = plan_of(PLAN).graph
    said = {name: number for number, name in labels(plan_of(PLAN)).items()}
    for before, after in (("away", "gold-bath"), ("scrub", "gold-bath"), ("away", "scrub")):
        assert networkx.has_path(graph, said[before], said[after]), (before, after)


def test_what_is_in_the_kettle_when_the_yarn_goes_in_has_one_answer() -> None:
    plan = plan_of(PLAN)
    steps = {labels(plan)[m.node.id]: m for m in plan.trace.moments}
    assert steps["mordanting"].node.bath == "alum-bath"
    assert steps["dyeing"].node.bath == "gold-bath"
    assert steps["mordanting"].node.pot == steps["dyeing"].node.pot == "kettle"
    named_by_pot = plan_of(PLAN.replace("dye yarn in gold-bath", "dye yarn in kettle"))
    steps = {labels(named_by_pot)[m.node.id]: m for m in named_by_pot.trace.moments}
    assert steps["dyeing"].node.bath == "gold-bath"


def test_every_edge_says_what_flows() -> None:
    plan = plan_of(PLAN)
    for before, after, data in plan.graph.edges(data=True):
        assert data["kind"] in EDGE_KINDS
        assert data["thing"] or data["kind"] == "block"
        assert before != after


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_the_graph_of_a_sound_example_has_no_circle(path: Path) -> None:
    plan = procedure.load(path)
    assert networkx.is_directed_acyclic_graph(plan.graph)
    assert plan.flow.cycle == ()
    assert {data["kind"] for *_, data in plan.graph.edges(data=True)} <= EDGE_KINDS
    in_text = [node.id for node in plan.flow.nodes]
    assert all(edge.before in in_text and edge.after in in_text for edge in plan.flow.edges)


@pytest.mark.parametrize("path", SOUND, ids=lambda path: path.stem)
def test_flow_runs_with_the_text_unless_an_order_was_added(path: Path) -> None:
    flow = procedure.load(path).flow
    place = {node.id: i for i, node in enumerate(n for n in flow.nodes if n.kind != "end")}
    for edge in flow.edges:
        if edge.kind != "order" and edge.before in place and edge.after in place:
            assert place[edge.before] < place[edge.after]


# ------------------------------------------------------------ independence and order

TWO = """one: wet out yarn in tub with water 5 L for 1 h
two: wet out silk in jar with water 1 L for 1 h
three: dry yarn
four: dry silk{}"""


def reachable(example: str, before: str, after: str) -> bool:
    plan = plan_of(example)
    said = {name: number for number, name in labels(plan).items()}
    return bool(networkx.has_path(plan.graph, said[before], said[after]))


def test_steps_that_share_nothing_are_independent() -> None:
    example = TWO.format("")
    for one in ("one", "three"):
        for other in ("two", "four"):
            assert not reachable(example, one, other) and not reachable(example, other, one)
    assert reachable(example, "one", "three") and reachable(example, "two", "four")


def test_after_adds_an_order_by_hand() -> None:
    example = TWO.format(" after three")
    assert reachable(example, "three", "four") and not reachable(example, "one", "two")
    assert edges(plan_of(example), "order") == {("three", "four", "three")}
    assert not [f for f in findings(example) if f.level == "error"]


def test_after_a_block_is_after_all_of_it() -> None:
    example = TWO.format(" after airing").replace(
        "three: dry", "airing: repeat 2 times\n  air yarn for 5 min\nthree: dry"
    )
    assert edges(plan_of(example), "order") == {("end", "four", "airing")}


def test_the_same_pot_makes_an_order() -> None:
    assert reachable(TWO.format("").replace("in jar", "in tub"), "one", "two")


# ------------------------------------------------------------ circles


def test_a_circle_is_named_in_order() -> None:
    example = """one: wet out yarn in tub with water 5 L for 1 h after three
two: rinse yarn in tub with water 5 L
three: dry yarn"""
    plan = plan_of(example)
    said = labels(plan)
    names = [said[node.id] for node in plan.flow.cycle]
    start = names.index("one")
    assert names[start:] + names[:start] == ["one", "two", "three"]
    assert not networkx.is_directed_acyclic_graph(plan.graph)
    (found,) = [f for f in findings(example) if f.rule == "in-a-circle"]
    assert found.level == "error"
    lines = [plan.flow.nodes[n].step.place.line for n in range(3)]
    assert found.line == lines[0]  # the line with the order by hand
    words = [f"line {line}" for line in lines]
    turns = [words[i:] + words[:i] for i in range(3)]
    assert any(", then ".join(turn) in found.sentence for turn in turns)
    assert {related.line for related in found.related} <= set(lines)


def test_two_orders_by_hand_may_make_a_circle_between_lots() -> None:
    example = """one: wet out yarn in tub with water 5 L for 1 h after four
two: wet out silk in jar with water 1 L for 1 h after three
three: dry yarn
four: dry silk"""
    assert [f.rule for f in findings(example, "error")] == ["in-a-circle"]


def test_a_step_after_itself_is_a_circle() -> None:
    found = findings("one: wet out yarn in tub with water 5 L for 1 h after one\ndry yarn", "error")
    assert [f.rule for f in found] == ["in-a-circle"]


# ------------------------------------------------------------ splits, joins, moves


def test_split_and_join_make_lots_of_their_own() -> None:
    plan = plan_of("""wet out yarn in tub with water 5 L for 1 h
parting: split yarn into gold 60 g, moss
airing: air gold for 5 min
joining: join gold, moss as all-yarn
drying: dry all-yarn""")
    assert edges(plan, "lot") == {
        ("wet out", "parting", "yarn"),
        ("parting", "airing", "gold"),
        ("airing", "joining", "gold"),
        ("parting", "joining", "moss"),
        ("joining", "drying", "all-yarn"),
    }
    assert plan.flow.lots["gold"].parts == ("yarn",)
    assert plan.flow.lots["all-yarn"].parts == ("gold", "moss")


def test_a_bath_strained_into_another_pot_frees_the_first() -> None:
    example = '''gold-bath: prepare in kettle with water 3 L, onion 50 g
simmer gold-bath for 1 h
straining: strain gold-bath into pan
scrub: clean kettle
next-bath: prepare in kettle with water 3 L, alum 12 g
discard gold-bath to "foul drain"
discard next-bath to "foul drain"'''
    assert not findings(example, "error", "warning")
    assert reachable(example, "straining", "next-bath")


def test_a_bath_added_to_another_is_gone() -> None:
    example = '''gold-bath: prepare in kettle with water 3 L, onion 50 g
alum-bath: prepare in pan with water 1 L, alum 12 g
add alum-bath to gold-bath
discard gold-bath to "foul drain"'''
    assert not findings(example, "error", "warning")
    again = example + '\ndiscard alum-bath to "foul drain"'
    assert [f.rule for f in findings(again, "error")] == ["used-after-emptied"]


def test_a_kept_bath_goes_by_its_new_name() -> None:
    example = """gold-bath: prepare in kettle with water 3 L, onion 50 g
keep gold-bath as old-gold in jar
wet out yarn in tub with water 5 L for 1 h
dye yarn in old-gold at 80 °C for 1 h
rinse yarn in tub with water 5 L"""
    plan = plan_of(example)
    assert not [f for f in plan.findings if f.rule in ("not-declared", "bath-left-over")]
    dyeing = next(n for n in plan.flow.nodes if n.step.place.line and n.effect == "treat")
    assert dyeing.bath == "gold-bath"


def test_for_each_does_the_steps_with_every_value() -> None:
    plan = plan_of("""for each lot in yarn, silk
  wet out lot in tub with water 5 L for 1 h
  dry lot""")
    assert [m.node.lots for m in plan.trace.moments] == [
        ("yarn",),
        ("yarn",),
        ("silk",),
        ("silk",),
    ]
    assert not [f for f in plan.findings if f.level == "error"]
