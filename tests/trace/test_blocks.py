"""Blocks in the trace: both ways of an if, repeats to their fixed point."""

from __future__ import annotations

import time

import pytest
from expecting import between, findings, plan_of

from procedure.trace.states import LotState

HOLDS = "when “it looks dull” holds"
FAILS = "when “it looks dull” does not hold"


def yarn(steps: str) -> LotState:
    return plan_of(steps).trace.final.lots["yarn"]


def test_after_an_if_both_ways_are_possible_and_each_says_its_path() -> None:
    made = yarn("""wet out yarn in tub with water 5 L for 1 h
if "it looks dull"
  dry yarn""")
    assert made.possibly("dry") == HOLDS
    assert made.possibly("wet") == FAILS
    assert made.possibly("damp") is None


def test_what_holds_on_both_ways_has_no_path() -> None:
    made = yarn("""wet out yarn in tub with water 5 L for 1 h
if "it looks dull"
  air yarn for 5 min
  wet out yarn in tub with water 5 L for 1 h""")
    assert made.wetness == (("wet", ""),)


def test_a_rule_speaks_if_either_way_offends_and_says_which() -> None:
    rest = '''
alum-bath: prepare in kettle with water 3 L, alum 12 g
mordant yarn in alum-bath at 85 °C for 1 h
rinse yarn in tub with water 5 L
discard alum-bath to "foul drain"'''
    on_it = 'wet out yarn in tub with water 5 L for 1 h\nif "it looks dull"\n  dry yarn' + rest
    found = [f for f in findings(on_it) if f.level != "note"]
    assert {f.rule for f in found} & {"dried-before-bath", "entered-dry"}
    assert any(HOLDS in f.sentence for f in found)
    not_on_it = 'if "it looks dull"\n  wet out yarn in tub with water 5 L for 1 h' + rest
    found = [f for f in findings(not_on_it) if f.level != "note"]
    assert any(FAILS in f.sentence for f in found)


def test_what_a_bath_may_hold_says_when() -> None:
    plan = plan_of('''alum-bath: prepare in kettle with water 3 L, alum 12 g
if "it looks dull"
  add iron 2 g to alum-bath
discard alum-bath to "foul drain"''')
    contents = plan.trace.final.baths["alum-bath"].contents
    assert contents["alum"].path == "" and contents["iron"].path == HOLDS
    residues = plan.trace.final.pots["kettle"].residues
    assert residues["alum"].path == "" and residues["iron"].path == HOLDS


def test_amounts_on_two_ways_are_a_range() -> None:
    plan = plan_of('''alum-bath: prepare in kettle with water 3 L, alum 12 g
if "it looks dull"
  add alum 8 g to alum-bath
  add water 1 L to alum-bath
discard alum-bath to "foul drain"''')
    bath = plan.trace.final.baths["alum-bath"]
    assert bath.contents["alum"].grams == between(12, 20)
    assert bath.volume == between(3, 4)


def test_an_if_inside_an_if() -> None:
    made = yarn("""wet out yarn in tub with water 5 L for 1 h
if "it looks dull"
  if "it is cold"
    dry yarn""")
    assert made.possibly("wet") is not None
    path = made.possibly("dry")
    assert path is not None and "it is cold" in path


def test_a_repeat_is_followed_until_nothing_changes() -> None:
    plan = plan_of('''vat: prepare in kettle with water 5 L, woad 200 g
wet out yarn in tub with water 5 L for 1 h
repeat 3 times
  dip yarn in vat at 50 °C for 5 min
  air yarn for 15 min
rinse yarn in tub with water 5 L
discard vat to "foul drain"''')
    dips = [m for m in plan.trace.moments if m.node.effect == "dip"]
    assert 1 <= len(dips) <= 3
    assert len({m.node.id for m in dips}) == 1
    assert not [f for f in plan.findings if f.level == "error"]


def test_a_fault_of_the_second_pass_is_found() -> None:
    # On the first pass the yarn is wet; it is dry when the second begins.
    example = '''alum-bath: prepare in kettle with water 3 L, alum 12 g
wet out yarn in tub with water 5 L for 1 h
repeat {} times
  mordant yarn in alum-bath at 85 °C for 1 h
  rinse yarn in tub with water 5 L
  dry yarn
discard alum-bath to "foul drain"'''
    dry = {"dried-before-bath", "entered-dry"}
    assert {f.rule for f in findings(example.format(2))} & dry
    assert not {f.rule for f in findings(example.format(1))} & dry


def test_repeat_until_is_done_at_least_once() -> None:
    plan = plan_of("""wet out yarn in tub with water 5 L for 1 h
repeat until "it is soft"
  squeeze yarn
dry yarn""")
    assert [m.node.effect for m in plan.trace.moments].count("squeeze") >= 1


@pytest.mark.parametrize("head", ["repeat 9 times", 'repeat until "done"', 'if "it looks dull"'])
@pytest.mark.parametrize(
    "inner", ["add iron 5 g to vat", "rinse yarn in tub with water 4 L", "draw off 1/9 of vat"]
)
def test_blocks_inside_one_another_take_bounded_time(head: str, inner: str) -> None:
    nest = "\n".join("  " * depth + head for depth in range(18))
    example = (
        "vat: prepare in kettle with water 9 L, copper 3 g\n"
        "wet out yarn in tub with water 4 L for 1 h\nmordant yarn in vat at 80 °C for 1 h\n"
        f"{nest}\n{'  ' * 18}{inner}\n"
        'rinse yarn in tub with water 4 L\ndiscard vat to "drain"'
    )
    start = time.process_time()
    plan = plan_of(example)
    assert time.process_time() - start < 60  # without a bound it would take years
    assert len(plan.trace.moments) < 2000


def test_for_each_inside_one_another_ends_in_a_finding() -> None:
    nest = "\n".join("  " * d + f"for each a{d} in yarn, silk, cloth" for d in range(15))
    example = f"{nest}\n{'  ' * 15}air a1 for 5 min"
    (found,) = [f for f in findings(example, "error") if f.rule == "cannot-follow"]
    assert "more than anyone can follow" in found.sentence


def test_a_bath_gone_on_one_way_is_left_over_on_the_other() -> None:
    example = """gold-bath: prepare in kettle with water 3 L, onion 50 g
if "it looks dull"
  discard gold-bath to "foul drain"
"""
    (found,) = [f for f in findings(example.strip()) if f.rule == "bath-left-over"]
    assert FAILS in found.sentence
    made_there = """if "it looks dull"
  gold-bath: prepare in kettle with water 3 L, onion 50 g"""
    (found,) = [f for f in findings(made_there) if f.rule == "bath-left-over"]
    assert HOLDS in found.sentence
