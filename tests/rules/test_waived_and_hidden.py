"""Asides that waive what keeps one safe, and poisons behind brackets, plurals and conditions."""

from __future__ import annotations

import pytest

import procedure
from procedure import Finding
from procedure.facts.in_words import told_in_words
from procedure.facts.study import Study
from procedure.vocabulary.data_files import parts, rows

FRAME = """procedure "Trial"
  by "Fellside Dye Circle"
  place ventilated
  wearing gloves

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  weld: weld, dried
  {other}

steps
  wet out yarn in tub with water 5 L for 1 h
  weld-bath: prepare in kettle with water 4 L, weld 100 g{more}
"""
PLAIN = ("alum: potassium alum", ", alum 2 g")
CHROME = ("chrome: potassium dichromate", ", chrome 2 g")


def read(*lines: str, of: tuple[str, str] = PLAIN) -> list[Finding]:
    text = FRAME.format(other=of[0], more=of[1]) + "".join(f"  {line}\n" for line in lines)
    return list(procedure.read(text, "x.dye").findings)


@pytest.mark.parametrize(
    "aside",
    [
        "no gloves needed",
        "gloves are not needed",
        "bare hands are fine",
        "no mask needed",
        "eye protection is not needed",
        "windows shut",
        "no need to ventilate",
    ],
)
def test_an_aside_that_waives_what_a_poison_calls_for_is_an_error(aside: str) -> None:
    for line in (f"simmer weld-bath 1 h ({aside})", f'simmer weld-bath 1 h note "{aside}"'):
        found = [one for one in read(line, of=CHROME) if one.rule == "careless-way"]
        assert [one.level for one in found] == ["error"]
        assert aside in str(found[0].sentence)


def test_what_is_not_covered_is_told_behind_a_comma_and_with_a_second_remark() -> None:
    line = "mordant yarn in weld-bath @ 80C 1 h, don't cover (stand back)"
    ammonia = ("ammonia: ammonia, 5 %", ", ammonia 20 mL")
    found = [one for one in read(line, of=ammonia) if one.rule in ("careless-way", "cannot-read")]
    assert [one.rule for one in found] == ["careless-way"]


@pytest.mark.parametrize(
    "aside", ["never without gloves", "without gloves after the last rinse", "keep the lid on"]
)
def test_an_aside_that_waives_nothing_is_let_be(aside: str) -> None:
    rules = {one.rule for one in read(f'simmer weld-bath 1 h note "{aside}"', of=CHROME)}
    assert "careless-way" not in rules


def test_gloves_that_the_head_has_on_and_an_aside_off_are_told_where_nothing_harms() -> None:
    (told,) = [
        one for one in read("simmer weld-bath 1 h (no gloves needed)") if one.rule == "careless-way"
    ]
    assert told.level == "warning"
    assert "wearing gloves" in str(told.sentence)


@pytest.mark.parametrize(
    ("line", "names"),
    [
        ("simmer weld-bath 1 h (with the bryonies)", "bryony"),
        ("simmer weld-bath 1 h (plus 2 white bryonies)", "white bryony"),
        ("simmer weld-bath 1 h (a little hemlock)", "hemlock"),
        ("simmer weld-bath & hemlock 1 h", "hemlock"),
        ("simmer weld-bath 1 h (a pinch of white arsenic)", "arsenic"),
        ("simmer weld-bath 1 h, don't fish out the yew twigs", "yew"),
        ("simmer weld-bath 1 h (do not take the yew out)", "yew"),
        ("simmer weld-bath 1 h (don't leave out the hemlock)", "hemlock"),
        ("simmer weld-bath 1 h (pinch of Pb acetate)", "lead acetate"),
        ('simmer weld-bath 1 h note "a pinch of lead(II) acetate"', "lead acetate"),
        ('if "the lead acetate has dissolved"\n    simmer weld-bath 1 h', "lead acetate"),
        ('if "the hemlock floats"\n    simmer weld-bath 1 h', "hemlock"),
        ('repeat until "the hemlock sinks"\n    simmer weld-bath 1 h', "hemlock"),
    ],
)
def test_a_poison_in_an_aside_or_a_condition_is_told(line: str, names: str) -> None:
    found = [one for one in read(line) if one.rule in ("danger-in-free-words", "deadly-plant")]
    assert found
    assert names in str(found[0].sentence)


@pytest.mark.parametrize(
    "line",
    [
        "simmer weld-bath 1 h (not to be taken for bryony)",
        'simmer weld-bath 1 h note "bryonies grow near the weld"',
        'if "no foxglove is in it"\n    simmer weld-bath 1 h',
        "simmer weld-bath 1 h (never pick yew)",
    ],
)
def test_a_poison_that_is_kept_out_is_not_told(line: str) -> None:
    rules = {one.rule for one in read(line)}
    assert rules.isdisjoint(("danger-in-free-words", "deadly-plant"))


@pytest.mark.parametrize(
    ("aside", "kills"),
    [
        ("add vinegar if it smells", True),
        ("plus lemon juice", True),
        ("never add vinegar", False),
        ("then rinse", False),
        ("smells of vinegar", False),
    ],
)
def test_an_aside_that_puts_acid_to_bleach_is_an_error(aside: str, kills: bool) -> None:
    line = f"rinse yarn in tub with water 5 L, bleach 5 mL ({aside})"
    found = [
        one
        for one in read(line, of=("bleach: chlorine bleach, 5 %", ""))
        if aside in str(one.sentence)
    ]
    assert [(one.rule, one.level) for one in found] == [("must-not-meet", "error")] * kills


def test_put_back_asks_for_the_fibre_where_there_is_no_bag() -> None:
    silk = FRAME.replace("scoured", "scoured\n  silk: silk yarn, 50 g, scoured", 1)
    lines = ("enter yarn, silk in weld-bath", "put back for 10 min")
    text = silk.format(other=PLAIN[0], more=PLAIN[1]) + "".join(f"  {one}\n" for one in lines)
    told = [one for one in procedure.read(text).findings if one.rule == "something-missing"]
    assert [str(one.sentence) for one in told] == ["“put back” does not say the fibre."]


def test_bryonies_behind_a_material_are_asked_about() -> None:
    found = read(of=('berries: dyestuff, "bryonies from the hedge"', ""))
    assert any("bryony" in str(one.sentence) and one.level == "error" for one in found)


@pytest.mark.parametrize("name", ["sugar of lead", "Sugar Of Lead", "white arsenic"])
def test_a_salt_that_nobody_should_use_is_not_offered_as_a_material(name: str) -> None:
    (told,) = [one for one in read(f"add {name} 5 g to weld-bath") if one.rule == "not-declared"]
    assert "is not to be used" in str(told.remedy)
    assert "among the materials" not in str(told.remedy)


@pytest.mark.parametrize(
    ("line", "thing"),
    [("add FOXGLOVE 20 g to weld-bath", "foxglove"), ("add sugar of lead 5 g", "lead acetate")],
)
def test_papers_warn_of_a_poison_that_is_not_declared(line: str, thing: str) -> None:
    text = FRAME.format(other=PLAIN[0], more=PLAIN[1]) + f"  {line}\n"
    study: Study = procedure.read(text, "x.dye").study
    assert thing in [one.name.text for one in told_in_words(study)]


WAIVED = [
    (row["calls"], said.replace("...", "the").replace("ventilat", "ventilate").strip())
    for row in rows("done_without")
    for said in (*parts(row["said"]), *(f"no {gear}" for gear in parts(row["gear"])))
]


@pytest.mark.parametrize(("calls", "said"), WAIVED, ids=[said for _, said in WAIVED])
def test_each_way_of_the_table_to_do_without_is_told(calls: str, said: str) -> None:
    harms = ("ammonia: ammonia, 5 %", ", ammonia 20 mL") if calls == "cover" else CHROME
    found = [one.rule for one in read(f'simmer weld-bath 1 h note "{said}"', of=harms)]
    assert found.count("careless-way") == 1


@pytest.mark.parametrize(
    "aside", ["close the jar and open the window", "shut the tap by the window", "never no gloves"]
)
def test_other_things_are_closed_too(aside: str) -> None:
    rules = {one.rule for one in read(f'simmer weld-bath 1 h note "{aside}"', of=CHROME)}
    assert "careless-way" not in rules


@pytest.mark.parametrize(
    "line",
    [
        'do "suck on the drain pipe"',
        'do "siphon the bath off with a hose pipe"',
        'do "start the siphon with your pipe"',
    ],
)
def test_a_pipe_of_any_kind_is_no_straw(line: str) -> None:
    found = [one for one in read(line) if one.rule == "careless-way"]
    assert ["to the mouth" in one.sentence for one in found] == [True]
