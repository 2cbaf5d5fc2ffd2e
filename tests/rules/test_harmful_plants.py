"""Every plant that harms, handled in each way with one thing left out: an error at its line.

The plants and how dangerous they are stand in ``plants_that_harm.csv`` with their sources;
what is asked of them is the list of a careful dyer (common practice): gloves from
gathering to the last wash, eye protection when chopping, fresh air, a lid, no children, tools
for dyeing only, the plant strained out before the night, a wash with mild soap, compost out of
reach. Plants that only sting, burn in sunlight or bring a rash are asked for gloves, no more.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from expecting import place_in

import procedure
from procedure import Finding
from procedure.command.main import main
from procedure.facts.handling import hazards
from procedure.handout.label import aid
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.extension import Refused, entry_of, with_entries
from procedure.vocabulary.first_aid import first_aid

SOUND = """procedure "A trial of a plant"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "a sample"
  place outdoors
  audience experienced dyers

fibre
  yarn: wool yarn, 100 g, scoured

equipment
  kettle: stainless steel pot, 15 L, lidded, for dyeing only
  tub: plastic tub, 20 L, for dyeing only
  knife: knife, for dyeing only
  net: net bag, for dyeing only

materials
  alum: potassium alum
  greens: {declared}
  soap: neutral soap

steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  gather greens 300 g wearing gloves, eye protection
  chop greens with knife wearing gloves, eye protection
  bath: prepare in kettle with water 6 L, greens 300 g, alum 9 g wearing gloves, eye protection
  heat bath to 85 °C over 1 h covered wearing gloves, eye protection
  simmer bath at 85 °C for 1 h covered wearing gloves, eye protection
  cool bath to 40 °C covered wearing gloves, eye protection
  strain bath through net wearing gloves, eye protection
  squeeze net into bath wearing gloves, eye protection
  empty net to "the hazardous waste point" wearing gloves, eye protection
  cool bath to 20 °C overnight covered labelled wearing gloves, eye protection
  dye yarn in bath from 20 °C to 85 °C over 1 h for 1 h covered wearing gloves, eye protection
  cool bath to 30 °C covered wearing gloves, eye protection
  rinse yarn in tub with water 5 L at 30 °C for 10 min wearing gloves, eye protection
  wash yarn in tub with water 5 L, soap 3 g at 30 °C for 10 min wearing gloves, eye protection
  rinse yarn in tub with water 5 L at 30 °C for 10 min
  dry yarn
  discard bath to "the hazardous waste point" wearing gloves, eye protection
  clean kettle, tub, knife, net wearing gloves, eye protection
"""

GATHER = "gather greens 300 g"
CHOP = "chop greens with knife"
SIMMER = "simmer bath at 85 °C"
NIGHT = "cool bath to 20 °C overnight"
STRAIN = "strain bath through net"
SQUEEZE = "squeeze net into bath"
OUT = "discard bath to"
WASH = (
    "  wash yarn in tub with water 5 L, soap 3 g at 30 °C for 10 min"
    " wearing gloves, eye protection\n"
)


def line_of(text: str, begins: str) -> int:
    """The number of the line that begins so."""
    return place_in(text, begins)[0]


def without(begins: str, words: str, instead: str = "") -> tuple[str, str]:
    """The sound text with words of one line left out, and the beginning of that line."""
    lines = SOUND.split("\n")
    at = next(i for i, line in enumerate(lines) if line.strip().startswith(begins))
    assert words in lines[at]
    lines[at] = lines[at].replace(words, instead)
    return "\n".join(lines), begins


def changed(words: str, instead: str, at: str) -> tuple[str, str]:
    """The sound text with words changed, and the beginning of the line of the finding."""
    assert SOUND.count(words) == 1
    return SOUND.replace(words, instead), at


def only(*kept: str) -> tuple[str, str]:
    """A text for children that does no more with the plant than the steps kept."""
    head, steps = SOUND.split("steps\n")
    lines = [line for line in steps.split("\n") if any(line.strip().startswith(k) for k in kept)]
    text = head.replace("experienced dyers", "children") + "steps\n" + "\n".join(lines) + "\n"
    return text, "audience"


COOKING = ("lidded, for dyeing only", "lidded, for cooking")

# What is done × what is left out, for plants that poison.
CELLS: dict[str, tuple[str, str]] = {
    "gathered, no gloves": without(GATHER, " wearing gloves, eye protection"),
    "chopped, no gloves": without(CHOP, "gloves, "),
    "simmered, no gloves": without(SIMMER, " wearing gloves, eye protection"),
    "left overnight, no gloves": without(NIGHT, " wearing gloves, eye protection"),
    "strained, no gloves": without(STRAIN, " wearing gloves, eye protection"),
    "squeezed, no gloves": without(SQUEEZE, " wearing gloves, eye protection"),
    "squeezed, no eye protection": without(SQUEEZE, ", eye protection"),
    "squeezed loose, no gloves": changed(
        "squeeze net into bath wearing gloves,",
        "press greens 50 g into bath wearing",
        "press greens",
    ),
    "thrown away, no gloves": without(OUT, " wearing gloves, eye protection"),
    "chopped, no eye protection": without(CHOP, ", eye protection"),
    "simmered, no lid": without(SIMMER, " covered"),
    "left overnight, no lid": without(NIGHT, " covered"),
    "left overnight, no label": without(NIGHT, " labelled"),
    "gathered, children": only(GATHER),
    "chopped, children": only(GATHER, CHOP),
    "simmered, children": only("bath:", SIMMER),
    "strained, children": only("bath:", STRAIN),
    "squeezed, children": only("bath:", STRAIN, SQUEEZE),
    "left overnight, children": only("bath:", STRAIN, NIGHT),
    "thrown away, children": only("bath:", OUT),
    "simmered indoors": without(SIMMER, "wearing gloves", "indoors wearing gloves"),
    "chopped with a food knife": changed("knife: knife, for dyeing only", "knife: knife", CHOP),
    "chopped with a kitchen knife": changed(
        "knife: knife, for dyeing only", "knife: knife, for cooking", "knife:"
    ),
    "simmered in a food pot": changed(*COOKING, "kettle:"),
    "strained through a food cloth": changed("net bag, for dyeing only", "net bag", STRAIN),
    "left overnight with the plant in it": (
        SOUND.replace("  strain bath through net wearing gloves, eye protection\n", "").replace(
            "  dye yarn", "  strain bath through net wearing gloves, eye protection\n  dye yarn"
        ),
        NIGHT,
    ),
    "no extra wash": (SOUND.replace(WASH, ""), "dry yarn"),
    "composted": without(
        OUT, '"the hazardous waste point"', '"foul drain; the spent plants to the compost"'
    ),
    "bath to the compost": without(OUT, "the hazardous waste point", "the compost"),
}
# Of a plant that is poisonous or deadly, fresh air is asked for from the first cut.
GRAVE_CELLS = {
    "gathered indoors": without(GATHER, "wearing", "indoors wearing"),
    "chopped indoors": without(CHOP, "wearing", "indoors wearing"),
    "left overnight indoors": without(NIGHT, "wearing", "indoors wearing"),
    "squeezed indoors": without(SQUEEZE, "wearing", "indoors wearing"),
    "strained indoors": without(STRAIN, "wearing", "indoors wearing"),
    "thrown away indoors": without(OUT, "wearing", "indoors wearing"),
    "for beginners": changed("experienced dyers", "beginners", "audience"),
}


@cache
def plants(*levels: str) -> tuple[Entry, ...]:
    """The plants that poison, of those levels."""
    every = {one.name: one for one in vocabulary().tables["plants_that_harm"].values()}
    return tuple(
        one
        for one in every.values()
        if one.facts["level"] in levels
        and (one.facts["level"] != "harmful" or "poison" in one.words("harm"))
    )


def declared(plant: Entry) -> str:
    """The plant with its part, and how to tell it from what it looks like."""
    known = vocabulary()
    name = plant.facts["dyestuff"] or plant.name
    if "'" in name:
        return f'dyestuff, "{name}"'
    entry = known.material(name)
    assert entry is not None
    parts = [part for part in plant.words("parts") if known.material(f"{name} {part}") is entry]
    return f"{name} {parts[0]}" if parts else name


@cache
def found_in(text: str, said: str) -> tuple[Finding, ...]:
    return procedure.read(text.replace("{declared}", said), "example.dye").findings


def amiss(text: str, at: str, said: str) -> str:
    """What is wrong with what is said of a cell; empty where there is an error at its line."""
    line = line_of(text, f"  {at}")
    found = found_in(text, said)
    if any(one.level == "error" and one.line == line for one in found):
        return ""
    return f"{said}: {[(one.line, one.level, one.rule) for one in found]}, wanted {line}"


def of_each_kind(*levels: str) -> list[Entry]:
    """One plant for each set of hazards and level: the rules know no more of a plant."""
    kinds: dict[tuple[str, str], Entry] = {}
    for plant in plants(*levels):
        kinds.setdefault((plant.facts["level"], plant.facts["hazards"]), plant)
    return list(kinds.values())


LEVELS = ("deadly", "poisonous", "harmful")


def cells_amiss(cells: dict[str, tuple[str, str]], tried: list[Entry]) -> list[str]:
    told = [amiss(*cells[cell], declared(plant)) for plant in tried for cell in cells]
    return [one for one in told if one]


@pytest.mark.parametrize("cell", CELLS)
def test_what_is_left_out_is_an_error_at_its_line(cell: str) -> None:
    assert cells_amiss({cell: CELLS[cell]}, of_each_kind(*LEVELS)) == []


@pytest.mark.parametrize("cell", GRAVE_CELLS)
def test_a_poisonous_plant_is_worked_in_the_open_by_those_who_know(cell: str) -> None:
    assert cells_amiss({cell: GRAVE_CELLS[cell]}, of_each_kind("deadly", "poisonous")) == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("plant", plants(*LEVELS), ids=lambda plant: plant.name)
def test_the_whole_matrix(plant: Entry) -> None:
    """Every plant that poisons, in every cell."""
    grave = plant.facts["level"] != "harmful"
    assert cells_amiss({**CELLS, **(GRAVE_CELLS if grave else {})}, [plant]) == []


def safety(found: tuple[Finding, ...]) -> list[tuple[int, str, str]]:
    return [
        (one.line, one.rule, one.sentence)
        for one in found
        if one.family == "safety" and one.level != "note"
    ]


def test_the_sound_version_is_silent() -> None:
    for plant in vocabulary().tables["plants_that_harm"].values():
        assert safety(found_in(SOUND, declared(plant))) == [], plant.name


def test_a_deadly_plant_is_told_of_even_where_all_is_in_order() -> None:
    for plant in plants("deadly"):
        (note,) = [one for one in found_in(SOUND, declared(plant)) if one.rule == "deadly-plant"]
        assert note.level == "note"
        assert plant.facts["botanical"] in note.sentence
        assert plant.facts["instead"] in note.remedy


WAYS = ('dyestuff, "{name}"', 'mordant, "{name} leaves"', 'dyestuff, "fresh {name} from the wood"')


@pytest.mark.parametrize("way", WAYS)
def test_free_words_bring_the_same_errors(way: str) -> None:
    """Beside “dyestuff”, the name of a plant that poisons is what the material is."""
    for plant in plants("deadly", "poisonous"):
        said = way.format(name=plant.name)
        for cell in ("gathered, no gloves", "simmered indoors", "no extra wash"):
            assert amiss(*CELLS[cell], said) == ""


def test_the_writers_own_name_brings_the_same_errors() -> None:
    for plant in plants("deadly", "poisonous"):
        own = plant.name.replace(" ", "-").replace("'", "")
        if vocabulary().danger(plant) is None or "'" in plant.name:
            continue
        for said in ("dyestuff, fresh", "weld, fresh"):
            text, at = CELLS["chopped, no gloves"]
            text, at = text.replace("greens", own), at.replace("greens", own)
            assert amiss(text, at, said) == "", own


@pytest.mark.parametrize(
    "said",
    [
        'weld, dried, "never foxglove"',
        'weld, fresh, "told from foxglove by its smell"',
        'dyestuff, "not hemlock; from the market"',
        "hemlock bark, dried",
    ],
)
def test_what_is_denied_or_another_plant_is_no_poison(said: str) -> None:
    found = found_in(CELLS["gathered, no gloves"][0], said)
    assert not {"deadly-plant", "no-gloves"} & {one.rule for one in found}


def test_no_reason_makes_a_deadly_plant_quiet() -> None:
    text = CELLS["no extra wash"][0].replace(
        "  greens: {declared}",
        '  greens: {declared}\n    allow deadly-plant because "I know it"',
    )
    levels = [one.level for one in found_in(text, "oleander leaves") if one.rule == "deadly-plant"]
    assert levels == ["error"]


def test_a_plant_in_a_step_of_free_words_is_found() -> None:
    text = SOUND.replace("  dry yarn\n", '  do "stir in the monkshood"\n  dry yarn\n')
    found = [one for one in found_in(text, "weld tops") if one.rule == "deadly-plant"]
    assert [one.level for one in found] == ["error"]
    assert "Aconitum" in found[0].sentence


@pytest.mark.parametrize(
    ("was", "now"),
    [
        ("  strain bath through net", '  strain bath through net note "and a sprig of yew"'),
        ("  audience experienced dyers", '  note "we dye with yew"\n  audience experienced dyers'),
        ("  dry yarn\n", '  do "stir in the yew clippings" allow deadly-plant because "I know"\n'),
    ],
)
def test_a_deadly_plant_in_free_words_alone_stays_an_error(was: str, now: str) -> None:
    found = found_in(SOUND.replace(was, now), "weld tops")
    assert [one.level for one in found if one.rule == "deadly-plant"] == ["error"]


def test_a_poison_that_is_not_declared_is_told_by_its_name() -> None:
    text = SOUND.replace("greens 300 g, alum 9 g", "greens 300 g, oleander-leaves 30 g, alum 9 g")
    (one,) = [one for one in found_in(text, "weld tops") if one.rule == "not-declared"]
    assert "Nerium oleander" in one.remedy and "do not use it" in one.remedy


def test_a_workshop_cannot_make_a_poison_harmless() -> None:
    said = {"part": "dyestuff", "hazards": [], "source": "ours", "botanical": "Digitalis purpurea"}
    with pytest.raises(Refused, match="foxglove"):
        entry_of("fell-yellow", said, "vatwright.toml")
    words = with_entries(
        {"fell foxglove": entry_of("fell foxglove", {**said, "botanical": "Calluna vulgaris"}, "")}
    )
    assert words.material("fell foxglove") is not None


def papers_amiss(name: str, paper: str, folder: Path) -> list[str]:
    """What a paper of the sound version leaves out of the plant's caution and first aid."""
    file, out = folder / "trial.dye", folder / f"paper{paper}.txt"
    text = SOUND.replace("{declared}", name)
    file.write_text(text, encoding="utf-8")
    assert main(["handout", str(file), paper, "-o", str(out)]) == 0
    said = " ".join(out.read_text(encoding="utf-8").split()).lower()
    made = procedure.read(text, "trial.dye").flow.materials["greens"][0]
    assert made.entry is not None
    harm = vocabulary().danger(made.entry)
    assert harm is not None
    wanted = [made.entry.name]
    if paper != "--bench":
        found = hazards(made)
        # A label has no room for more than six statements, the most urgent (Article 28(3)).
        ways = [one.plain for one in first_aid(one.name for one in found)]
        wanted += [one.split(";")[0] for one in (aid(found) if paper == "--labels" else ways)]
        wanted.append(found[0].facts["plain"].split(":")[0])
    head = f"deadly: {made.entry.name} ({harm.facts['botanical']})".lower()
    deadly = harm.facts["level"] == "deadly"
    missing = [one for one in wanted if one.lower() not in said]
    return [*missing, *([] if (head in said) is deadly else [head])]


PAPERS = ("--labels", "--bench", "--no-chart")


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("name", ["foxglove leaves", "yew needles", "bracken fronds"])
def test_papers_have_the_caution_its_first_aid_and_the_full_name(
    name: str, paper: str, tmp_path: Path
) -> None:
    """Regulation (EC) No 1272/2008, Annex IV (P301, P330): what is swallowed first of all."""
    assert papers_amiss(name, paper, tmp_path) == []


@pytest.mark.exhaustive
@pytest.mark.parametrize("plant", plants(*LEVELS), ids=lambda plant: plant.name)
def test_the_papers_of_every_plant(plant: Entry, tmp_path: Path) -> None:
    assert [one for paper in PAPERS for one in papers_amiss(plant.name, paper, tmp_path)] == []


EMPTIED = '  empty net to "the hazardous waste point" wearing gloves, eye protection\n'
NOT_IN_ORDER = {
    "into the bin": (EMPTIED, EMPTIED.replace("the hazardous waste point", "the bin")),
    "into a carrier bag": (EMPTIED, EMPTIED.replace("the hazardous waste point", "a carrier bag")),
    "nowhere that is named": (EMPTIED, ""),
    "children pick": ("  chop greens", '  do "let the children pick the leaves"\n  chop greens'),
    "kept in the kitchen": ("{declared}", '{declared}, "kept in the kitchen fridge"'),
    "dried in the kitchen": ("  dry yarn", '  do "lay the yarn by the kitchen table"\n  dry yarn'),
}


@pytest.mark.parametrize("case", NOT_IN_ORDER)
def test_all_is_in_order_only_where_it_truly_is(case: str) -> None:
    text = SOUND.replace(*NOT_IN_ORDER[case])
    assert text != SOUND
    (told,) = [one for one in found_in(text, "foxglove leaves") if one.rule == "deadly-plant"]
    assert told.level == "error" and "in order" not in told.sentence


def test_children_and_food_that_are_kept_away_are_no_fault() -> None:
    words = '{declared}, "kept locked away from children and from the kitchen"'
    text = SOUND.replace("{declared}", words)
    (told,) = [one for one in found_in(text, "foxglove leaves") if one.rule == "deadly-plant"]
    assert told.level == "note"
