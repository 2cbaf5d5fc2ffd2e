"""The lines: what flows where, and what goes without saying."""

from __future__ import annotations

from drawn import dot_of, of_steps, plan

from procedure.chart.links import links
from procedure.chart.placed_symbols import figures


def ways(steps: str) -> set[tuple[str, str, str]]:
    """The ways of a plan: the names of both figures and the kind."""
    made = of_steps(steps)
    drawing = figures(made.flow, made.trace)
    return {
        (drawing.figures[way.before].name, drawing.figures[way.after].name, way.kind)
        for way in links(drawing)
        if way.before >= 0 and way.after >= 0
    }


def test_fibre_and_liquor_have_lines_of_their_own() -> None:
    drawn = dot_of(plan(), sheet="roll")
    assert ("step 1", "step 3") in drawn.between("lot")
    assert ("step 2", "step 3") in drawn.between("bath")


def test_fibre_goes_with_the_bath_it_lies_in() -> None:
    """The wool lies in the alum bath while that cools."""
    lines = {(e.before, e.after, e.kind) for e in dot_of(plan(), sheet="roll").lines}
    assert ("step 3", "step 4", "lot") in lines
    assert ("step 3", "step 4", "bath") in lines
    assert ("step 3", "step 5", "lot") not in lines


def test_a_decision_has_a_yes_and_a_no_and_the_ways_meet_again() -> None:
    drawn = dot_of(plan(), sheet="roll", lanes="none")
    said = {(line.before, line.after): line.carries for line in drawn.lines}
    assert said["step 12", "step 13"].startswith("yes")
    assert said["step 12", "end of 12"].startswith("no")
    assert ("step 14", "end of 12") in said
    assert ("end of 12", "step 16") in said


def test_a_decision_without_fibre_has_both_answers_too() -> None:
    found = ways('if "it rains"\n  clean kettle\nclean tub\n')
    assert ("step 1", "step 2", "order") in found
    assert ("step 1", "end of 1", "order") in found
    assert ("step 2", "end of 1", "order") in found or ("step 2", "end of 1", "pot") in found


def test_a_loop_is_entered_at_its_start_and_left_at_its_end() -> None:
    found = ways("repeat 3 times\n  rinse yarn in tub with water 5 L\ndry yarn\n")
    assert ("step 1", "step 2", "lot") in found
    assert ("step 2", "end of 1", "lot") in found
    assert ("end of 1", "step 3", "lot") in found
    assert not any(one == "step 2" and two == "step 3" for one, two, _ in found)


def test_a_material_flows_from_where_it_was_made_ready() -> None:
    found = ways(
        "chop weld\n"
        "one: prepare in kettle with water 5 L, weld 10 g\n"
        "two: prepare in pan with water 5 L, weld 10 g\n"
    )
    assert ("step 1", "step 2", "material") in found
    assert ("step 1", "step 3", "material") in found
    assert not any(one == "step 2" and kind == "material" for one, _, kind in found)


def test_a_material_that_nobody_made_ready_has_no_line() -> None:
    """That two baths take alum from one jar orders nothing."""
    found = ways(
        "one: prepare in kettle with water 5 L, alum 10 g\n"
        "two: prepare in pan with water 5 L, alum 10 g\n"
    )
    assert not any(kind == "material" for _, _, kind in found)


def test_a_pot_is_free_when_its_bath_is_gone() -> None:
    found = ways(
        "alum-bath: prepare in kettle with water 5 L, alum 10 g\n"
        "heat alum-bath to 50 °C\n"
        'discard alum-bath to "foul drain"\n'
        "clean kettle\n"
    )
    assert ("step 3", "step 4", "pot") in found
    assert not any(one == "step 1" and kind == "pot" for one, _, kind in found)


def test_nothing_flows_from_a_bath_that_was_thrown_away() -> None:
    steps = (
        "repeat 2 times\n"
        "  alum-bath: prepare in kettle with water 5 L, alum 10 g\n"
        "  mordant yarn in alum-bath at 80 °C for 1 h\n"
        "  rinse yarn in tub with water 5 L\n"
        '  discard {}alum-bath to "foul drain"\n'
        "  clean tub\n"
    )
    assert not any(one == "step 5" and kind == "bath" for one, _, kind in ways(steps.format("")))
    part = ways(steps.format("1/2 of "))
    assert ("step 5", "end of 1", "bath") in part


def test_what_other_lines_say_already_is_not_drawn() -> None:
    """Two rinses of one lot in one tub: the fibre's line says the order."""
    found = ways("rinse yarn in tub with water 5 L\nrinse yarn in tub with water 5 L\n")
    assert ("step 1", "step 2", "lot") in found
    assert ("step 1", "step 2", "pot") not in found


def test_several_things_between_two_steps_share_one_line() -> None:
    drawn = dot_of(plan(), sheet="roll", lanes="none")
    both = [e for e in drawn.lines if (e.before, e.after) == ("step 16", "step 17")]
    assert [line.carries for line in both] == ["gold, moss"]


def test_a_for_each_is_drawn_once() -> None:
    made = of_steps(
        "split yarn into one 40 g, two 60 g\n"
        "for each s in one, two\n"
        "  bath: prepare in kettle with water 5 L, alum 10 % of s\n"
        "  dye s in bath at 80 °C for 1 h\n"
        '  discard bath to "drain"\n'
    )
    drawn = dot_of(made, sheet="roll")
    assert drawn.says("step 2") == "2. for each s in one and two"
    assert [label for label in drawn.labels() if "dye s" in label] == ["4. dye s"]
    # 10 % of 40 g and of 60 g
    assert "alum: 10 % of s = 4 g or 6 g" in drawn.says("step 3 details")
    assert "back to 2 for the next s" in drawn.says("end of 2 details")


def test_a_circle_made_by_hand_is_drawn() -> None:
    found = ways(
        "first: rinse yarn in tub with water 5 L after second\n"
        "second: rinse yarn in tub with water 5 L\n"
    )
    assert ("step 2", "step 1", "order") in found
