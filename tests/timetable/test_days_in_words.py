"""A day of a plan in words: which steps begin when, and whose a followed step is."""

from procedure.timetable.days_in_words import day_in_words
from procedure.timetable.taking import DayTaken, LeftGoing, Taking

# Step 2 follows a procedure of three steps; steps 4 and 5 are done meanwhile.
NUMBERS = {0: "1", 1: "2.1", 2: "2.2", 3: "2.3", 4: "3", 5: "4", 6: "5"}


def taking(*days: DayTaken, begins: dict[int, tuple[int, int]]) -> Taking:
    return Taking(0, 0, 0, days, len(days), begins, "9:00-18:00", 1, True, ())


def test_a_followed_step_is_said_to_be_of_its_procedure_once() -> None:
    first = DayTaken(1, 540, 720, 60, (0, 1, 2, 5, 6), (LeftGoing(2, "goes on", 2),))
    second = DayTaken(2, 540, 600, 60, (3, 4))
    begins = {0: (1, 540), 1: (1, 550), 2: (1, 560), 5: (1, 640), 6: (1, 650), 3: (2, 540)}
    begins[4] = (2, 560)
    made = taking(first, second, begins=begins)
    titles = {"2": "Alum on wool"}
    assert day_in_words(made, first, NUMBERS, titles) == (
        "Day 1, 9:00 to 12:00: steps 1 and 2.1 to 2.2 (of “Alum on wool”); from 10:40 steps "
        "4 and 5; step 2.2 left going overnight."
    )
    assert day_in_words(made, second, NUMBERS, titles) == ("Day 2, 9:00 to 10:00: steps 2.3 and 3.")


def test_what_is_followed_whole_on_a_day_counts_as_one_step() -> None:
    day = DayTaken(1, 540, 720, 60, (0, 1, 2, 3, 4))
    made = taking(day, begins={node: (1, 540 + 10 * node) for node in day.nodes})
    titles = {"2": "Alum on wool"}
    assert day_in_words(made, day, NUMBERS, titles) == "Day 1, 9:00 to 12:00: steps 1 to 3."
    assert titles == {"2": "Alum on wool"}


def test_a_number_on_two_days_says_for_which_lots() -> None:
    # Steps 2 and 3 are done for each of two lots, step 3 of the second on the day after.
    numbers = {0: "1", 1: "2", 2: "3", 3: "2", 4: "3", 5: "4"}
    turns = {1: "gold", 2: "gold", 3: "leaf", 4: "leaf"}
    first, second = DayTaken(1, 540, 720, 60, (0, 1, 3, 2)), DayTaken(2, 540, 600, 60, (4, 5))
    begins = {0: (1, 540), 1: (1, 600), 3: (1, 610), 2: (1, 620), 4: (2, 540), 5: (2, 545)}
    made = taking(first, second, begins=begins)
    assert day_in_words(made, first, numbers, {}, turns=turns) == (
        "Day 1, 9:00 to 12:00: steps 1 and 2; from 10:20 step 3 for gold."
    )
    assert day_in_words(made, second, numbers, {}, turns=turns) == (
        "Day 2, 9:00 to 10:00: step 3 for leaf; from 9:05 step 4."
    )


def test_what_goes_on_longer_than_its_step_says_is_told_by_its_end_not_in_hours() -> None:
    left = LeftGoing(0, "goes on", 2, over=9 * 60 + 12)
    day = DayTaken(1, 540, 960, 60, (0,), (left,))
    following = DayTaken(2, 540, 960, 60, (1,))
    made = taking(day, following, begins={0: (1, 540), 1: (2, 550)})
    assert day_in_words(made, day, NUMBERS, {}) == (
        "Day 1, 9:00 to 16:00: step 1; step 1 left going overnight, until 9:10 on day 2, longer "
        "than usual."
    )
    later = day._replace(left=(left._replace(day=4),))
    assert "step 1 left going until 9:10 on day 4, longer than usual." in (
        day_in_words(made, later, NUMBERS, {})
    )
