"""No suggestion leads from a harmless word to a thing that harms, nor from one metal to another."""

from __future__ import annotations

import pytest

import procedure
from procedure.model.harm import (
    _all_run_together,
    _harmful,
    _may_name,
    _run_together,
    plants_named,
)
from procedure.pipeline import read
from procedure.rules.example_kit import whole
from procedure.vocabulary import vocabulary
from procedure.vocabulary.library import MATERIAL_TABLES, near
from procedure.vocabulary.suggestions import (
    Suggestion,
    _beginnings,
    _likeness,
    _may_be_like,
    harms,
    metal_named,
    suggestion,
)

TABLES = (*MATERIAL_TABLES, "state", "part")


@pytest.mark.parametrize(
    ("word", "asked"),
    [
        ("hemlock tops", "hemlock"),
        ("hemlok", "hemlock"),
        ("foxglov", "foxglove"),
        ("monkshod leaves", "monkshood"),
    ],
)
def test_a_name_of_a_plant_that_harms_is_asked_about(word: str, asked: str) -> None:
    made = suggestion(word, *TABLES)
    assert made.meant is None
    assert asked in [plant.name for plant in made.ask]


@pytest.mark.parametrize(
    "word", ["lavender", "rosemary", "lupin", "copper", "tin", "mint", "thyme"]
)
def test_a_harmless_word_is_not_turned_into_a_poison_or_another_metal(word: str) -> None:
    made = suggestion(word, *TABLES)
    entry = vocabulary().find(made.meant or "", *TABLES)
    assert not harms(entry, vocabulary())
    metal = metal_named(word, vocabulary())
    assert metal is None or entry is None or entry.facts.get("metal") == metal


@pytest.mark.parametrize(
    ("word", "meant"),
    [
        ("pasqueflower", None),
        ("sumflower", "sunflower"),
        ("sunflwer", "sunflower"),
    ],
)
def test_the_tail_of_a_name_alone_suggests_no_other_plant(word: str, meant: str | None) -> None:
    assert suggestion(word, *TABLES) == Suggestion(meant)


def test_over_all_pairs_that_are_near_nothing_harmful_is_offered() -> None:
    """Each known name in turn is taken for unknown; what is offered instead harms nobody."""
    words = vocabulary()
    names = words.names(*MATERIAL_TABLES)
    wrong = []
    for name in names:
        entry = words.find(name, *MATERIAL_TABLES)
        others = [one for one in names if words.find(one, *MATERIAL_TABLES) is not entry]
        meant = near(name, others)
        if meant is None:
            continue
        offered = suggestion(f"{name[:-1]}", *MATERIAL_TABLES)
        found = words.find(offered.meant or "", *MATERIAL_TABLES)
        if found is not None and found is not entry and harms(found, words):
            wrong.append((name, offered.meant))
    assert wrong == []


def test_the_writer_is_asked_for_the_latin_name() -> None:
    example = """materials
  leaves: hemlok, fresh
steps
  gather leaves 100 g
"""
    plan = procedure.read(whole(example))
    (found,) = [one for one in plan.findings if one.rule == "which-is-meant"]
    assert found.level == "error"
    assert "Conium maculatum" in found.sentence and "Latin name" in found.remedy


def test_nothing_is_asked_where_no_name_is_near() -> None:
    assert suggestion("quartz sand", *TABLES) == Suggestion(None)


# Ways in which a person writes a deadly plant; each is that plant and nothing milder.
WRITTEN = {
    # The folk names are those of Grieve 1931, foxglove.
    "foxglove": (
        "fairy gloves",
        "witches' gloves",
        'dyestuff, "dead-man\'s-bells"',
        "Foxglove",
        "leaves of foxglove",
        "Digitalis purpurea",
    ),
    "yew": (
        "yews",
        "yewtree bark",
        "Taxus baccata twigs",
        'dyestuff, "T. baccata"',
        'mordant, "yew clippings"',
    ),
    "lily of the valley": ("lily-of-the-valley leaves", 'dyestuff, "lily-of-the-valley"'),
    "monkshood": ('dyestuff, "wolfs bane"', 'weld, "leaves of monks-hood"', "aconite roots"),
    "datura": ('dyestuff, "thornapple"', "thorn apple seeds"),
    "hemlock": ('dyestuff, "hemlock, not yet in flower"', "poison hemlock", "Conium, fresh"),
    "death cap": ("death cap", 'dyestuff, "Amanita phalloides"'),
    "funeral bell": ('dyestuff, "galerina"',),
    "glory lily": ("gloriosa lily", 'dyestuff, "glory lily flowers"'),
    "jequirity": ("precatory beans",),
    "yellow oleander": ("Thevetia", 'dyestuff, "yellow oleander"'),
}


@pytest.mark.parametrize(
    ("plant", "said"), [(plant, said) for plant, every in WRITTEN.items() for said in every]
)
def test_a_deadly_plant_is_found_however_it_is_written(plant: str, said: str) -> None:
    example = f"materials\n  greens: {said}\nsteps\n  gather greens 100 g\n"
    found = [one for one in procedure.read(whole(example)).findings if one.rule == "deadly-plant"]
    assert [one.level for one in found] == ["error"]
    assert f"{plant} (" in found[0].sentence


@pytest.mark.parametrize(
    ("said", "asked"),
    [
        (
            'dyestuff, "foxgluv leaves"',
            "Digitalis purpurea",
        ),
        ('dyestuff, "nightshade"', "Solanum dulcamara"),
        ('dyestuff, "fern fronds"', "Pteridium aquilinum"),
        ("labernum bark", "Laburnum anagyroides"),
        ('dyestuff, "lily of the vallley"', "Convallaria majalis"),
        ("coppersulfat", "copper sulphate"),
        ("potasium dichromate", "potassium dichromate"),
    ],
)
def test_what_may_be_a_poison_is_asked_and_never_guessed(said: str, asked: str) -> None:
    example = f"materials\n  greens: {said}\nsteps\n  gather greens 100 g\n"
    found = procedure.read(whole(example)).findings
    (one,) = [one for one in found if one.rule == "which-is-meant"]
    assert one.level == "error" and asked in one.sentence


@pytest.mark.parametrize(
    "said",
    [
        'dyestuff, "oak leaves"',
        'dyestuff, "lavender tops"',
        'dyestuff, "pansy flowers"',
        'dyestuff, "fern fronds, Dryopteris filix-mas"',
        "rosemary",
        "parsley",
        "mint leaves",
        "Tsuga canadensis bark",
        'dyestuff, "sage leaves"',
        'dyestuff, "parsley from the garden"',
        "sage leaves",
        "rose hips",
    ],
)
def test_a_harmless_plant_is_not_asked_about(said: str) -> None:
    example = f"materials\n  greens: {said}\nsteps\n  gather greens 100 g\n"
    found = {one.rule for one in procedure.read(whole(example)).findings}
    assert not found & {"which-is-meant", "deadly-plant"}


@pytest.mark.parametrize(
    ("said", "called"),
    [
        ("dog's mercury leaves", "dog's mercury"),
        ("dog’s mercury", "dog's mercury"),
        ("lady’s bedstraw roots", "lady's bedstraw"),
        ("dyers' broom tops", "dyer's greenweed"),
    ],
)
def test_an_apostrophe_is_part_of_a_name(said: str, called: str) -> None:
    example = f"materials\n  greens: {said}\nsteps\n  gather greens 100 g\n"
    plan = read(whole(example), "example.dye")
    assert not {"cannot-read", "unknown-word"} & {one.rule for one in plan.findings}
    assert plan.model.materials["greens"].called == called


@pytest.mark.parametrize(
    ("said", "may_be"),
    [
        ("soda", "washing soda"),
        ("lime", "quicklime"),
        ("vitriol", "copper sulphate"),
        ("acid", "oxalic acid"),
        ("oxidiser", "bleaching powder"),
    ],
)
def test_a_word_that_several_share_is_asked_about(said: str, may_be: str) -> None:
    example = f"materials\n  powder: {said}\nsteps\n  grind powder 10 g\n"
    found = procedure.read(whole(example)).findings
    (one,) = [one for one in found if one.rule == "shared-word"]
    assert may_be in one.sentence


@pytest.mark.parametrize(
    ("said", "called"),
    [
        ("alkali", "lye"),
        ('acid, "oxalic"', "oxalic acid"),
        ('mordant, "bichrome from the old jar"', "potassium dichromate"),
    ],
)
def test_a_salt_told_by_its_own_name_or_free_words_alone_has_its_hazards(
    said: str, called: str
) -> None:
    example = f"materials\n  caustic-soda: {said}\nsteps\n  grind caustic-soda 10 g\n"
    made = read(whole(example), "example.dye").model.materials["caustic-soda"]
    assert made.called == called


def test_wild_parsley_is_told_from_hemlock_where_it_is_gathered() -> None:
    """Conium maculatum and Aethusa cynapium are taken for parsley: PHS 1220; Giftinformasjonen."""
    example = 'materials\n  greens: dyestuff, "parsley"\nsteps\n  gather greens 100 g\n'
    found = procedure.read(whole(example)).findings
    (told,) = [one for one in found if one.rule == "easily-confused"]
    assert "hemlock" in told.sentence and "fool's parsley" in told.sentence


@pytest.mark.parametrize(
    "word", ["bay leaves", "chromic acid", "barium chloride", "coper", "irom sulphate"]
)
def test_a_last_word_in_common_makes_no_suggestion_nor_does_another_metal(word: str) -> None:
    meant = suggestion(word, *TABLES).meant
    assert meant not in ("sumac leaves", "carminic acid", "ammonium chloride", "copperas")


@pytest.mark.parametrize("said", ["elder bark", "elder leaves", 'dyestuff, "Juniperus communis"'])
def test_a_common_tree_is_not_taken_for_its_poisonous_cousin(said: str) -> None:
    example = f"materials\n  greens: {said}\nsteps\n  gather greens 100 g\n"
    found = procedure.read(whole(example)).findings
    assert not [one for one in found if one.rule in ("which-is-meant", "deadly-plant")]


def test_no_name_that_is_like_a_word_is_passed_over() -> None:
    """Names are looked up by how they begin; held against a look at every one of them."""
    plants = vocabulary().tables["plants_that_harm"]
    names = [one for name, plant in plants.items() for one in (name, *plant.words("shared_names"))]
    begun = _beginnings(names)
    for name in names[::12]:
        heard = name.replace("f", "ph").replace("k", "ck").replace("c", "k")
        changed = name[1] + name[0] + name[2:]
        slips = (name, name[1:], f"x{name}", f"x{name[1:]}", name[0] + name[2:], changed, heard)
        for word in (*slips, name[:-1], f"{name}s"):
            every = {one for one in names if _likeness(word, one) > 0}
            assert every == {one for one in _may_be_like(word, begun) if _likeness(word, one) > 0}


def test_many_names_are_run_together_as_one_is() -> None:
    names = vocabulary().names("plants_that_harm", "dyestuffs")
    assert _all_run_together(names) == [_run_together(name) for name in names]


@pytest.mark.parametrize("text", ("add foxglove/tansy", "fox/glove leaves", "“fox” glove", "ivies"))
def test_a_mark_inside_a_name_hides_it_from_nobody(text: str) -> None:
    assert plants_named(text)


def test_what_may_name_a_plant_that_harms_is_what_has_such_a_name_in_it() -> None:
    every = set(_all_run_together(_harmful()))
    for name in every:
        assert _may_name(f"stirin{name}") and _may_name(f"{name}s") and _may_name(name)
    for text in ("hanguptheapron", "fo", "", "stirgently", "thewaterrunsclear"):
        assert _may_name(text) is any(name in text for name in every)
