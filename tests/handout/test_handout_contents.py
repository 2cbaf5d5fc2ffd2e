"""What a handout holds: the order, the cautions, the days, and every number of the work."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest
from papers import EXAMPLES, METRIC, contents_of, handout, html_of, in_words, loaded, markdown_of

import procedure
from procedure import Plan
from procedure.handout.contents import OTHER_WEIGHTS, POUND, contents, work_of
from procedure.handout.other_weights import figures
from procedure.model import Item, Quantity
from procedure.paper.measures import Voice
from procedure.rework.scaling import scale, shared_out

TANSY = next(path for path in EXAMPLES if path.stem == "tansy-gold-and-moss")


def test_the_contents_come_in_the_order_that_a_reader_needs() -> None:
    page = markdown_of(contents(loaded(TANSY), METRIC, no_chart="No chart."))
    assert re.findall(r"^##? (.+)$", page, re.M) == [
        "Tansy gold and moss green",
        "Cautions",
        "What you need",
        "Before you start",
        "The steps",
        "The chart",
        "How much for other weights",
        "What could go wrong",
        "Sources and licence",
    ]


# ------------------------------------------------------------------ a stranger's test

_NUMBER = r"(\d+(?:\.\d+)?|\d*[¼½¾])"
_MEASURED = re.compile(
    rf"{_NUMBER}(?: to {_NUMBER})? (mg|g|kg|mL|L|°C|seconds?|minutes?|hours?|days?)"
    rf"(?: {_NUMBER} (minutes?|hours?))?"
)
_BASE: dict[str, tuple[str, Fraction | int]] = {
    "g": ("mass", 1), "kg": ("mass", 1000), "mL": ("volume", Fraction(1, 1000)),
    "L": ("volume", 1), "°C": ("heat", 1), "second": ("time", Fraction(1, 60)),
    "minute": ("time", 1), "hour": ("time", 60), "day": ("time", 1440),
}  # fmt: skip
_PARTS = {"¼": Fraction(1, 4), "½": Fraction(1, 2), "¾": Fraction(3, 4)}


def _value(text: str) -> Fraction:
    part = _PARTS.get(text[-1:], Fraction(0))
    return Fraction(text.rstrip("¼½¾") or 0) + part


def numbers_on(paper: str) -> dict[str, set[Fraction]]:
    """Every measure that a reader finds on a paper, by its kind, in g, L, °C and minutes."""
    found: dict[str, set[Fraction]] = {"mass": set(), "volume": set(), "heat": set(), "time": set()}
    for low, high, unit, more, more_unit in _MEASURED.findall(paper):
        kind, size = _BASE[unit.rstrip("s") if len(unit) > 2 else unit]
        extra = _value(more) * _BASE[more_unit.rstrip("s")][1] if more else Fraction(0)
        for number in (low, high):
            if number:
                found[kind].add(_value(number) * size + extra)
    return found


def asked_of(plan: Plan) -> list[tuple[str, Fraction]]:
    """Every amount, heat and time that the model and the trace have for the work."""
    wanted: list[tuple[str, Fraction]] = []

    def take(quantity: Quantity | None) -> None:
        if quantity is None or not quantity.known or quantity.kind not in ("temperature", "time"):
            return
        kind = "heat" if quantity.kind == "temperature" else "time"
        low, high = quantity.ends
        if quantity.about:
            low = high = (low + high) / 2
        top = plan.trace.boiling if quantity.word else high
        wanted.extend((kind, min(end, top) if kind == "heat" else end) for end in (low, high))

    for moment in plan.trace.moments:
        step = moment.step
        for item in (step.at, step.to, step.source, step.until):
            if isinstance(item, Item):
                take(item.quantity)
        take(step.over)
        take(step.lasting)
        for _, item, amount in moment.amounts:
            if amount is None or item.quantity is None:
                continue
            about = item.quantity.about
            ends = (amount.low, amount.high)
            middle = sum(ends, Fraction(0)) / 2
            wanted.extend((amount.kind, middle if about else end) for end in ends)
    return wanted


def _is_there(kind: str, value: Fraction, there: set[Fraction]) -> bool:
    room = Fraction(1, 2) if kind == "heat" else value / 50
    return any(abs(value - one) <= room for one in there)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_number_of_the_work_is_on_the_paper(path: Path) -> None:
    plan, made = loaded(path), contents_of(path)
    steps = "\n".join(
        in_words(one.text, METRIC) for step in made.work.steps for one in step.every()
    )
    there = numbers_on(steps)
    wanted = asked_of(plan)
    assert len(wanted) >= 10
    missing = [(kind, float(v)) for kind, v in wanted if not _is_there(kind, v, there[kind])]
    assert not missing


def test_the_strangers_test_would_see_a_number_that_is_missing() -> None:
    made = contents_of(TANSY)
    steps = [in_words(one.text, METRIC) for step in made.work.steps for one in step.every()]
    without = "\n".join(step for step in steps if "28.8 g" not in step)
    there = numbers_on(without)
    assert not _is_there("mass", Fraction("28.8"), there["mass"])


def test_a_blank_stands_for_what_the_source_does_not_say() -> None:
    path = next(path for path in EXAMPLES if path.stem == "catechu-brown")
    page = markdown_of(contents_of(path))
    assert "\\_\u00a0L of water (the source does not say how much)" in page
    assert "0 L of water" not in page.replace("15 L", "")


# ------------------------------------------------------------------ other weights


@pytest.mark.parametrize("path", EXAMPLES[::4], ids=lambda path: path.stem)
@pytest.mark.parametrize("grams", [Fraction(37), Fraction(640), POUND])
def test_amounts_grow_just_as_the_sums_make_them(path: Path, grams: Fraction) -> None:
    plan = loaded(path)
    here = list(figures(contents_of(path).work))
    there = list(figures(work_of(scale(plan, shared_out(plan, grams)).plan, METRIC)))
    assert len(here) == len(there)
    for one, other in zip(here, there, strict=True):
        assert one.grows is not None
        assert one.grows.at(grams) == (other.low, other.high)


def test_the_table_of_other_weights_is_what_weigh_says() -> None:
    from procedure.weigh.weighing import weigh

    plan, gathering = loaded(TANSY), contents_of(TANSY).gathering
    assert gathering is not None and gathering.weights == (*OTHER_WEIGHTS, POUND)
    for i, grams in enumerate(gathering.weights):
        totals = weigh(scale(plan, shared_out(plan, grams)).plan).totals
        shown = [next(figures(cells[i])) for _, cells in gathering.rows]
        assert [(f.low, f.high) for f in shown] == [(t.low, t.high) for t in totals]
    # 12 % of a pound of yarn is 54.4 g of alum.
    alum = next(cells for name, cells in gathering.rows if in_words(name) == "alum")
    assert in_words(alum[-1]) == "54.4 g"


def test_fibre_of_no_stated_weight_gives_no_table_and_no_box() -> None:
    made = handout(
        'procedure "x"\nfibre\n  yarn: wool yarn, scoured\nsteps\n'
        "  wet out yarn in tub with water 5 L for 1 h\n  dry yarn"
    )
    assert made.fibre is None and made.gathering is None
    assert 'id="fibre-box"' not in html_of(made)


# ------------------------------------------------------------------ before you start


def test_nights_make_days() -> None:
    before = contents_of(TANSY).before
    # Two baths cool overnight: three days of work. The skeins dry by themselves over a third.
    assert [day.starts for day in before.days] == [(1, 1), (2, 2), (3, 3)]
    said = [in_words(line) for line in before.sentences]
    assert any("someone has to be there on 3 of them" in line for line in said)
    assert "left going overnight" in before.days[0].said


def test_repeats_count_as_often_as_they_come_round() -> None:
    made = handout(
        "v: prepare in kettle with water 3 L\nrepeat 3 times\n  dip yarn in v for 5 min\n"
        "  air yarn for 15 min"
    )
    # Preparing takes up to 20 min; a dip all of its 5 min and an airing 5 min of hands.
    assert made.before.work == (Fraction(20 + 3 * 10), Fraction(20 + 3 * 10))


def test_what_needs_no_fibre_may_be_done_the_day_before() -> None:
    made = handout("wet out yarn in tub with water 5 L for 1 h\ngather onion 100 g\nchop onion")
    assert made.before.ready == ("2", "3")


def test_a_poison_is_not_chopped_the_day_before() -> None:
    made = handout("wet out yarn in tub with water 5 L for 1 h\ngather tansy 100 g\nchop tansy")
    assert made.before.ready == ("2",)


def test_what_spoils_is_not_gathered_the_day_before() -> None:
    path = next(one for one in EXAMPLES if one.stem == "walnut-brown-wool")
    # E. M. Mairet, Vegetable Dyes (1938), ch. VIII: husks that have browned in the air are lost.
    assert contents_of(path).before.ready == ()


# ------------------------------------------------------------------ cautions


def test_cautions_are_for_what_is_really_used() -> None:
    made = handout(
        'procedure "x"\nmaterials\n  jar-three: caustic soda\n'
        "  never-used: potassium dichromate\nsteps\n"
        "  a: prepare in kettle with water 3 L, jar-three 5 g"
    )
    assert [one.called for one in made.cautions.dangers] == ["caustic soda"]
    (lye,) = made.cautions.dangers
    # Sodium hydroxide is labelled H314, Danger, GHS05 (Regulation (EC) No 1272/2008, Annex VI).
    assert "Causes severe skin burns and eye damage (H314)" in lye.statements
    assert (lye.signal, lye.pictograms) == ("Danger", ("GHS05",))


def test_local_rules_come_first_and_first_aid_is_left_to_those_who_know() -> None:
    page = markdown_of(handout("dry yarn"))
    first, _, _ = page.partition("## What you need")
    assert first.index("Your local rules and the supplier's safety data sheets") < len(first)
    assert "ask a poison centre or a doctor" in first
    assert "drink" not in page and "vomit" not in page


def test_poisons_keep_children_away_and_harmless_things_do_not() -> None:
    poisonous = handout("a: prepare in kettle with water 3 L, tansy 100 g")
    harmless = handout("a: prepare in kettle with water 3 L, onion 100 g")
    said = [in_words(line) for line in poisonous.cautions.general]
    assert any(line.startswith("Not for children") for line in said)
    said = [in_words(line) for line in harmless.cautions.general]
    assert not any(line.startswith("Not for children") for line in said)


def test_a_skull_takes_the_place_of_the_exclamation_mark() -> None:
    # Regulation (EC) No 1272/2008, Article 26(1)(b).
    from procedure.paper.hazard_signs import pictograms
    from procedure.vocabulary import vocabulary

    ghs = vocabulary().tables["ghs"]
    assert pictograms([ghs["H301"], ghs["H319"]]) == ("GHS06",)
    assert pictograms([ghs["H314"], ghs["H315"]]) == ("GHS05",)
    assert pictograms([ghs["H314"], ghs["H302"]]) == ("GHS05", "GHS07")
    assert pictograms([ghs["H319"]]) == ("GHS07",)


def test_what_must_never_meet_is_said_where_both_are_used() -> None:
    made = handout(
        'procedure "x"\nmaterials\n  bleach: bleach\nsteps\n'
        "  a: prepare in kettle with water 3 L, vinegar 50 mL\n"
        "  b: prepare in pan with water 3 L, bleach 50 mL"
    )
    said = [in_words(line) for line in made.cautions.general]
    assert any("must never meet" in line and "chlorine" in line for line in said)


# ------------------------------------------------------------------ drafts


def test_errors_make_a_draft_with_the_errors_first() -> None:
    made = handout("a: prepare in kettle with water 3 L at 130 °C\ndry yarn")
    assert made.draft
    page = markdown_of(made)
    assert page.index("must be put right first") < page.index("## Cautions")
    for form in (page, html_of(made)):
        assert "DRAFT" in form
        assert form.index("130") < form.index("Cautions")


def test_a_sound_procedure_is_no_draft() -> None:
    shown, script, _ = html_of(contents(loaded(TANSY), Voice())).partition("<script")
    assert script and "DRAFT" not in shown  # the script has the word for another weight


UNREAD = """\
fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L
materials
  lye: caustic soda
  tin: stannous chloride
steps
  bath: prepare in pot with water 4 L, tin 1,5 g
  add lye 10 g to bath
"""


def test_what_a_line_that_cannot_be_read_holds_is_no_step_and_no_silence() -> None:
    """The bath is not known, and nobody adds lye to lye; tin may be in the line, and harms."""
    told = markdown_of(contents(procedure.read(UNREAD, "a.dye"), METRIC))
    assert "Add 10 g of caustic soda to the bath." in " ".join(told.split())
    assert "stannous chloride" in told
