"""What is said in other words is no difference: names, order, units, weights, what is followed."""

from __future__ import annotations

import math
import re
from pathlib import Path

import networkx
import pytest
from known_changes import EXAMPLES, Sound

import procedure
from procedure.compare import Compared, TooDifferent, compare, matching
from procedure.pipeline import Judged, read
from procedure.wording import said

TEXT = """procedure "Weld yellow"
  by "Fellside Dye Circle"
  revised 2026-07-05
  source "common practice"
  makes "yellow wool"
  place ventilated
  wearing gloves

fibre
  yarn: wool yarn, 100 g, 2 skeins, scoured

equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  kettle: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 8 L, for dyeing only
  bag: net bag, for dyeing only

materials
  alum: potassium alum
  weld: weld, dried

steps
  wet out yarn in tub with water 30 : 1 of yarn at 30 °C for 1 h
  alum-bath: prepare in pot with water 30 : 1 of yarn, alum 12 % of yarn at 40 °C
  weld-bath: prepare in kettle with water 30 : 1 of yarn, weld 80 % of yarn at 40 °C
  simmer weld-bath at simmer for 1 h
  cool weld-bath to 40 °C
  strain weld-bath through bag
  mordant yarn in alum-bath from 40 °C to 80 °C over 45 min for 1 h
  cool alum-bath to 30 °C
  rinse yarn in tub with water 30 : 1 of yarn at 30 °C until "the water runs clear"
  dye yarn in weld-bath from 40 °C to 80 °C over 45 min for 1 h
  cool weld-bath to 30 °C
  rinse yarn in tub with water 30 : 1 of yarn at 30 °C until "the water runs clear"
  dry yarn
  discard alum-bath to "foul drain"
  discard weld-bath to "foul drain"
  clean pot, kettle, tub, bag
"""


def held(old: str, new: str) -> Compared:
    return compare(procedure.read(old, "old.dye"), procedure.read(new, "new.dye"))


def told(made: Compared) -> list[str]:
    return [said(change.says) for change in made.changes]


def changed(*pairs: tuple[str, str]) -> str:
    text = TEXT
    for one, other in pairs:
        assert one in text, one
        text = text.replace(one, other)
    return text


@pytest.mark.parametrize(
    ("pairs", "why"),
    [
        ([("alum-bath", "first"), ("weld-bath", "second")], "baths renamed"),
        ([("yarn", "skeins"), ("wool skeins", "wool yarn")], "a lot renamed"),
        ([("tub", "basin"), ("plastic basin", "plastic tub")], "a pot renamed"),
        ([("alum 12 %", "alum 12 g"), ("g of yarn", "g")], "12 g of 100 g"),
        ([("alum 12 % of yarn", "alum 12 % wof")], "of the fibre that the bath treats"),
        ([("at 30 °C for 1 h", "at 86 °F for 60 min")], "another scale, another unit"),
        ([("at simmer", "at 80 to 95 °C")], "the heats that the word stands for"),
        ([("mordant yarn", "cook yarn")], "another word for the same treatment"),
        ([("dry yarn", "dry   yarn  # in the shade")], "spaces and a comment"),
        ([("100 g, 2 skeins", "250 g, 5 skeins")], "the same shares of another weight"),
        ([("2026-07-05", "2026-11-26")], "another day of revision"),
    ],
)
def test_said_otherwise_and_meant_the_same(pairs: list[tuple[str, str]], why: str) -> None:
    text = TEXT
    for one, other in pairs:
        text = text.replace(one, other)
    assert text != TEXT
    made = held(TEXT, text)
    assert told(made) == [], why
    assert told(held(text, TEXT)) == [], why


def test_another_weight_and_another_day_are_remarks() -> None:
    made = held(TEXT, changed(("100 g, 2 skeins", "250 g, 5 skeins"), ("2026-07", "2026-08")))
    assert [change.kind for change in made.remarks] == ["head", "weight", "weight"]


def test_what_does_not_grow_with_the_fibre_is_told_once() -> None:
    fixed = TEXT.replace(
        "rinse yarn in tub with water 30 : 1 of yarn", "rinse yarn in tub with 3 L"
    )
    fixed = fixed.replace("with 3 L", "with water 3 L")
    made = held(fixed, fixed.replace("100 g, 2", "200 g, 2"))
    assert [change.kind for change in made.changes] == ["amount"]
    assert told(made)[0].count("3 L of water") == 2


def test_independent_steps_may_stand_in_any_order() -> None:
    rows = TEXT.split("\n")
    first = next(n for n, row in enumerate(rows) if "weld-bath: prepare" in row)
    moved = rows[first : first + 4]
    text = "\n".join([*rows[: first - 2], *moved, *rows[first - 2 : first], *rows[first + 4 :]])
    assert text != TEXT
    assert told(held(TEXT, text)) == []


def test_dependent_steps_may_not() -> None:
    """The dyeing goes up before the mordanting: one step has moved, and no more is said."""
    rows = TEXT.split("\n")
    dye = next(n for n, row in enumerate(rows) if "dye yarn in" in row)
    mordant = next(n for n, row in enumerate(rows) if "mordant yarn in" in row)
    rows.insert(mordant, rows.pop(dye))
    made = held(TEXT, "\n".join(rows))
    assert [change.kind for change in made.changes] == ["moved"]
    assert "dye yarn in weld-bath" in told(made)[0]


def test_neighbours_that_share_nothing_are_swapped_in_the_examples() -> None:
    """No path in the flow graph between two neighbours: then their order says nothing."""
    tried = 0
    for path in sorted(EXAMPLES.glob("*.dye"))[::8]:
        sound = Sound(path, procedure.load(path))
        graph = networkx.DiGraph((edge.before, edge.after) for edge in sound.plan.flow.edges)
        for one, other in zip(sound.steps, sound.steps[1:], strict=False):
            places = [sound.moments.get(step.place.line) for step in (one, other)]
            nodes = [moment.node.id for moment in places if moment is not None]
            if len(nodes) != 2 or sound.extent(one.place.line)[-1] + 1 != other.place.line:
                continue
            depths = {re.match(r" *", sound.lines[s.place.line - 1])[0] for s in (one, other)}  # type: ignore[index]
            if len(depths) != 1 or not all(node in graph for node in nodes):
                continue
            if networkx.has_path(graph, *nodes):
                continue
            text, _, _ = sound.swapped(one.place.line, other.place.line)
            made = compare(sound.plan, procedure.read(text, str(path), path))
            assert told(made) == [], f"{path.name}, lines {one.place.line}, {other.place.line}"
            tried += 1
            break
    assert tried >= 2


def test_a_followed_method_written_out_is_the_same(tmp_path: Path) -> None:
    """What stands in another file and what is written in place are one thing to do."""
    head, _ = TEXT.split("steps\n")
    (tmp_path / "weld.dye").write_text(TEXT, encoding="utf-8")
    follow = head + 'steps\n  follow "weld.dye" with yarn = yarn, alum = alum, weld = weld\n'
    path = tmp_path / "day.dye"
    made = compare(procedure.read(follow, "day.dye", path), procedure.read(TEXT, "day.dye", path))
    assert told(made) == []


def _long(steps: int, litres: int, *, named: bool = True) -> Judged:
    """Many steps that are told apart by their names, or by nothing but their water."""
    made = "".join(
        f"  rinse thing-{at} in basin-{at} with water {litres} L\n"
        if named
        else f"  rinse thing in basin with water {litres}.{at:04} L\n"
        for at in range(steps)
    )
    return read(f'procedure "Long"\nsteps\n{made}', "long.dye")


def test_very_many_steps_that_all_differ_are_not_held_against_each_other() -> None:
    most = math.isqrt(matching.MOST_PAIRS)
    one, other = (_long(most + 1, litres, named=False) for litres in (4, 5))
    with pytest.raises(TooDifferent, match=r"differ\. Compare them in parts\."):
        compare(one, other)
    # Where they are the same their number is no matter.
    assert compare(one, one).same


def test_very_many_steps_that_differ_in_what_they_say_are_paired_by_who_takes_part() -> None:
    many = math.isqrt(matching.MOST_PAIRS) + 1
    made = compare(_long(many, 4), _long(many, 5))
    # The steps begin in the third line; each is held against the one with the same names.
    lines = [(one.old.line, one.new.line) for one in made.changes if one.old and one.new]
    assert lines == [(at, at) for at in range(3, 3 + many)]


def test_many_steps_that_are_the_same_are_told_apart_by_their_turn() -> None:
    head = (
        'procedure "Long"\nfibre\n  yarn: wool yarn, 100 g\n'
        "equipment\n  tub: plastic tub, 12 L\nsteps\n"
    )
    step = "  rinse yarn in tub with water 4 L\n"
    made = compare(read(head + step * 150, "old.dye"), read(head + step * 151, "new.dye"))
    assert [(one.kind, one.old) for one in made.changes] == [("new", None)]


def _rinsed_and_dried(rounds: int, between: str = "") -> Judged:
    head = (
        'procedure "Long"\nfibre\n  yarn: wool yarn, 100 g\n'
        "equipment\n  tub: plastic tub, 12 L\nsteps\n"
    )
    step = "  rinse yarn in tub with water 4 L\n  dry yarn\n"
    half = rounds // 2
    return read(head + step * half + between + step * (rounds - half), "long.dye")


def test_one_step_more_in_the_middle_of_many_moves_none_of_them() -> None:
    made = compare(_rinsed_and_dried(150), _rinsed_and_dried(150, "  air yarn\n"))
    assert [one.kind for one in made.changes] == ["new"]


def test_one_thing_more_that_is_in_danger_is_a_finding_that_is_gained() -> None:
    head = (
        'procedure "Dry"\nfibre\n  yarn: wool yarn, 100 g\n  more: wool yarn, 100 g\n'
        "equipment\n  tub: plastic tub, 12 L\n  pot: stainless steel pot, 12 L\n"
        "materials\n  weld: weld, dried\nsteps\n"
    )
    bath = "  bath: prepare in pot with water 4 L, weld 50 g\n"
    one = (
        "  wet out more in tub with water 4 L for 1 h\n"
        + bath
        + "  dye yarn, more in bath at 60 °C for 1 h\n"
    )
    both = bath + "  dye yarn, more in bath at 60 °C for 1 h\n"
    old, new = read(head + one, "old.dye"), read(head + both, "new.dye")
    dry = [finding.sentence for finding in new.findings if finding.rule == "entered-dry"]
    assert len(dry) == 1 and "The same is true of more." in dry[0], [f.rule for f in new.findings]
    assert dry[0] in [finding.sentence for finding in compare(old, new).gained]
