"""The workshop file: what ``vatwright.toml`` says for a whole collection."""

from __future__ import annotations

from pathlib import Path

import pytest

import procedure
from procedure import Finding, Plan
from procedure.collection import workshop_file
from procedure.command.main import main
from procedure.findings import say
from procedure.rules import RULES

WORKSHOP = """
[equipment]
kettle = "stainless steel pot, 15 L, lidded, for dyeing only"
tub = "plastic tub, 20 L, for dyeing only"
bucket = "plastic bucket, 10 L, for dyeing only"
hob = "hotplate, 2 kW"

[materials]
alum = "potassium alum"
soap = "neutral soap"

[materials.fell-heather]
part = "dyestuff"
hazards = ["toxic plant"]
dried = [50, 100]
source = "our own trials"
"""
SHARED = """procedure "Alum on wool"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  makes "mordanted wool"
  place outdoors
  wearing gloves, eye protection

fibre
  yarn: wool yarn, 100 g, 1 skein, scoured

"""
STEPS = """steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  alum-bath: prepare in kettle with water 3 L, alum 12 % of yarn at 30 °C
  mordant yarn in alum-bath from 30 °C to 85 °C over 45 min for 1 h
  cool alum-bath to 35 °C overnight covered
  rinse yarn in tub with water 5 L at 30 °C until "the water runs clear"
  dry yarn
  discard alum-bath to "foul drain"
  clean kettle
"""


def collection(folder: Path, text: str, **files: str) -> Path:
    """A collection with a workshop file and some procedures; gives the first of them."""
    (folder / "vatwright.toml").write_text(text, encoding="utf-8")
    made = []
    for name, said in files.items():
        file = folder / f"{name}.dye"
        file.write_text(said, encoding="utf-8")
        made.append(file)
    return made[0]


def plan(folder: Path, text: str, **files: str) -> Plan:
    return procedure.load(collection(folder, text, **files))


def heavy(made: Plan) -> list[tuple[str, int]]:
    return [(f.rule, f.line) for f in made.findings if f.level != "note"]


def test_the_workshop_s_pots_and_materials_need_no_declaration(tmp_path: Path) -> None:
    made = plan(tmp_path, WORKSHOP, a=SHARED + STEPS)
    assert heavy(made) == []
    assert set(made.flow.pots) == {"kettle", "tub", "hob"}
    assert made.model.materials["alum"].called == "potassium alum"


def test_without_the_workshop_the_same_names_are_unknown(tmp_path: Path) -> None:
    made = plan(tmp_path, "", a=SHARED + STEPS)
    assert {rule for rule, _ in heavy(made)} >= {"not-declared"}


def test_the_workshop_serves_folders_below_it(tmp_path: Path) -> None:
    (tmp_path / "greens" / "moss").mkdir(parents=True)
    (tmp_path / "vatwright.toml").write_text(WORKSHOP, encoding="utf-8")
    file = tmp_path / "greens" / "moss" / "a.dye"
    file.write_text(SHARED + STEPS, encoding="utf-8")
    assert heavy(procedure.load(file)) == []


def test_a_thing_of_the_workshop_is_never_said_to_be_unused(tmp_path: Path) -> None:
    made = plan(tmp_path, WORKSHOP, a=SHARED + STEPS)
    assert "never-used" not in {f.rule for f in made.findings}


def test_a_file_s_own_declaration_goes_before_the_workshop_s(tmp_path: Path) -> None:
    own = "equipment\n  kettle: enamel pot, 12 L, lidded, for dyeing only\n\n"
    made = plan(tmp_path, WORKSHOP, a=SHARED + own + STEPS)
    metal = made.model.equipment["kettle"].metal
    assert metal is not None and metal.name == "enamel"


def test_what_a_step_makes_goes_before_the_workshop_s(tmp_path: Path) -> None:
    text = WORKSHOP + '\n[materials.alum-bath]\npart = "acid"\nhazards = []\nsource = "x"\n'
    assert heavy(plan(tmp_path, text, a=SHARED + STEPS)) == []


def test_a_misspelt_name_suggests_the_workshop_s(tmp_path: Path) -> None:
    made = plan(tmp_path, WORKSHOP, a=SHARED + STEPS.replace("clean kettle", "clean buckett"))
    (finding,) = [f for f in made.findings if f.rule == "not-declared"]
    assert "“bucket”" in finding.remedy


def test_a_fault_of_a_workshop_pot_stands_where_it_is_used_and_points_to_the_workshop(
    tmp_path: Path,
) -> None:
    text = WORKSHOP.replace("plastic tub, 20 L, for dyeing only", "plastic tub, 20 L, for cooking")
    made = plan(tmp_path, text, a=SHARED + STEPS)
    (finding,) = [f for f in made.findings if f.rule == "used-for-cooking"]
    line = (SHARED + STEPS).split("\n")[finding.line - 1]
    assert line[finding.column - 1 : finding.to - 1] == "tub" and "wet out" in line
    pointer = finding.related[-1]
    assert pointer.file.endswith("vatwright.toml")
    declared = text.split("\n")[pointer.line - 1]
    assert declared[pointer.column - 1 : pointer.to - 1] == "tub"


def test_a_plant_of_the_workshop_brings_its_hazards(tmp_path: Path) -> None:
    steps = """steps
  brown-bath: prepare in kettle with water 3 L, fell-heather 50 % of yarn at 30 °C
  simmer brown-bath for 1 h
  discard brown-bath to "foul drain"
  clean kettle
  dry yarn
"""
    bare = (SHARED + steps).replace("  wearing gloves, eye protection\n", "")
    made = plan(tmp_path, WORKSHOP, a=bare)
    entry = made.model.materials["fell-heather"].entry
    assert entry is not None and entry.words("hazards") == ("toxic plant",)
    assert any("glove" in f.sentence.casefold() + f.remedy.casefold() for f in made.findings)


def test_a_word_of_the_workshop_serves_in_declarations(tmp_path: Path) -> None:
    text = WORKSHOP + (
        '\n[materials."shore lichen"]\npart = "dyestuff"\nhazards = []\nsource = "x"\n'
        'plant-parts = ["whole crusts"]\n'
    )
    own = "materials\n  lichen: shore lichen whole crusts, dried\n\n"
    made = plan(tmp_path, text, a=SHARED + own + STEPS + "  chop lichen\n")
    assert "unknown-word" not in {f.rule for f in made.findings}
    assert made.model.materials["lichen"].called == "shore lichen"
    assert procedure.vocabulary.vocabulary().material("shore lichen") is None


def test_files_that_follow_one_another_share_the_workshop_s_pots(tmp_path: Path) -> None:
    outer = (
        SHARED
        + 'steps\n  first: follow "b.dye" with yarn\n'
        + "".join(
            f"  {line}\n"
            for line in (
                "wet out yarn in tub with water 5 L at 30 °C for 1 h",
                "soap-bath: prepare in kettle with water 3 L",
                'discard soap-bath to "drain"',
                "clean kettle",
                "dry yarn",
            )
        )
    )
    made = plan(tmp_path, WORKSHOP, a=outer, b=SHARED + STEPS)
    assert "follow-needs" not in {f.rule for f in made.findings}
    assert sorted(made.flow.pots) == ["hob", "kettle", "tub"]


def test_one_kettle_is_shared_by_two_followed_files_that_alone_name_it(tmp_path: Path) -> None:
    left = STEPS.replace('  discard alum-bath to "foul drain"\n  clean kettle\n', "")
    outer = SHARED + 'steps\n  one: follow "b.dye" with yarn\n  two: follow "c.dye" with yarn\n'
    made = plan(tmp_path, WORKSHOP, a=outer, b=SHARED + left, c=SHARED + STEPS)
    full = [f for f in made.findings if f.rule == "pot-not-free"]
    assert full and full[0].file.endswith("c.dye")


def test_text_that_is_in_no_file_has_no_workshop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    collection(tmp_path, WORKSHOP, a=SHARED + STEPS)
    monkeypatch.chdir(tmp_path)
    assert procedure.read(SHARED + STEPS).findings


def test_a_workshop_that_changes_is_read_again(tmp_path: Path) -> None:
    file = collection(tmp_path, "", a=SHARED + STEPS)
    assert heavy(procedure.load(file))
    (tmp_path / "vatwright.toml").write_text(WORKSHOP, encoding="utf-8")
    assert not heavy(procedure.load(file))


# ------------------------------------------------------------------ levels

LOOSE = STEPS.replace("alum 12 % of yarn", "alum 1 tsp")


def levels_of(folder: Path, levels: str, rule: str, text: str = SHARED + LOOSE) -> list[str]:
    made = plan(folder, f"[levels]\n{levels}\n{WORKSHOP}", a=text)
    return [f.level for f in made.findings if f.rule == rule]


@pytest.mark.parametrize("level", ["error", "warning", "note"])
def test_a_level_is_raised_and_lowered(level: str, tmp_path: Path) -> None:
    assert levels_of(tmp_path, f'loose-measure = "{level}"', "loose-measure") == [level]


def test_a_rule_is_hidden(tmp_path: Path) -> None:
    assert levels_of(tmp_path, 'loose-measure = "hidden"', "loose-measure") == []


def test_a_level_decides_the_exit_status(tmp_path: Path) -> None:
    file = collection(tmp_path, f'[levels]\nloose-measure = "error"\n{WORKSHOP}', a=SHARED + LOOSE)
    assert main(["check", "--at-least", "error", str(file)]) == 1
    collection(tmp_path, WORKSHOP, a=SHARED + LOOSE)
    assert main(["check", "--at-least", "error", str(file)]) == 0


def test_a_safety_rule_is_lowered_with_a_reason_and_stays_visible(tmp_path: Path) -> None:
    bare = (
        (SHARED + STEPS)
        .replace("alum 12 % of yarn", "chrome 2 % of yarn")
        .replace("  wearing gloves, eye protection\n", "")
    )
    text = WORKSHOP.replace("[materials]\n", '[materials]\nchrome = "potassium dichromate"\n')
    errors = {
        f.rule
        for f in plan(tmp_path, text, a=bare).findings
        if f.level == "error" and _family(f.rule) == "safety"
    }
    assert errors
    rule = sorted(errors)[0]
    lowered = f'[levels]\n{rule} = {{ level = "note", because = "the door says it" }}\n{text}'
    left = [f for f in plan(tmp_path, lowered, a=bare).findings if f.rule == rule]
    assert left and {f.level for f in left} == {"note"}
    assert left[0].allowed == "the door says it"


def _family(name: str) -> str:
    return next((rule.family for rule in RULES if rule.name == name), "")


# ------------------------------------------------------------------ faults


def faults(made: Plan) -> list[Finding]:
    return [f for f in made.findings if f.rule == "faulty-workshop-file"]


def refusal(folder: Path, text: str) -> list[Finding]:
    found = faults(plan(folder, text, a=SHARED + STEPS))
    for finding in found:
        assert Path(finding.file).resolve() == (folder / "vatwright.toml").resolve()
        assert finding.level == "error" and finding.remedy
    return found


SAFETY = next(r.name for r in RULES if r.family == "safety" and r.level == "error")
PLANT = '[materials.heath]\npart = "dyestuff"\nhazards = []\nsource = "x"\n'


@pytest.mark.parametrize(
    ("text", "line", "said"),
    [
        ("[level]\n", 1, "Did you mean “levels”?"),
        ("\n[pots]\n", 2, "The keys are levels, equipment, materials, prices, stock"),
        ('levels = "x"\n', 1, "Write [levels]"),
        ('[levels]\n\nloose-mesure = "note"\n', 3, "Did you mean “loose-measure”?"),
        ('[levels]\nloose-measure = "grave"\n', 2, "one of “error”"),
        ("[levels]\nloose-measure = 3\n", 2, "one of “error”"),
        ('[levels]\nloose-measure = { level = "note", why = "x" }\n', 2, "“why” means nothing"),
        ('[levels]\ncannot-read = "note"\n', 2, "not judged at all"),
        (f'[levels]\n{SAFETY} = "note"\n', 2, "only with a reason"),
        (f'[levels]\n{SAFETY} = "hidden"\n', 2, "never hidden"),
        (f'[levels]\n{SAFETY} = {{ level = "hidden", because = "x" }}\n', 2, "never hidden"),
        ('[equipment]\nkettle = "stainles steel pot"\n', 2, "“stainles”"),
        ('[equipment]\nkettle = "steel pot, 15 gal"\n', 2, "US or imperial"),
        ('[equipment]\nkettle = "steel pot, 15 galoons"\n', 2, "no amount that I can read"),
        ("[equipment]\nkettle = 15\n", 2, "in words as in a procedure"),
        ('[equipment]\nkettle = "pot,, 15 L"\n', 2, "I expected"),
        ('[equipment]\n"big kettle" = "steel pot"\n', 2, "cannot be a name"),
        ('[equipment]\nfor = "steel pot"\n', 2, "cannot be a name"),
        ('[equipment]\nx = "pot"\n[materials]\nx = "potassium alum"\n', 4, "declared twice"),
        ('[equipment]\nx = "pot\\n  y: pan"\n', 2, "in words as in a procedure"),
        ('[materials]\ndregs = "kept bath"\n', 2, "belongs to a procedure"),
        ('[materials.heath]\npart = "dyestuff"\nsource = "x"\n', 1, "needs “hazards”"),
        (PLANT + 'colour = "brown"\n', 5, "“colour” means nothing here"),
        (PLANT + "mordent = 1\n", 5, "Did you mean “mordant”?"),
        (PLANT + 'mordant = "perhaps"\n', 5, "one of: needed, helps, not needed"),
        (PLANT + "dried = [100, 50]\n", 5, "two numbers"),
        (PLANT + 'cas = "7732-18-5"\n', 5, "means nothing for a dyestuff"),
        (PLANT.replace("[]", '["H999"]'), 3, "“H999”"),
        (PLANT.replace('"dyestuff"', '"herb"'), 2, "The part of heath is one of"),
        (PLANT.replace("heath", "weld"), 1, "is in the vocabulary already"),
        (PLANT.replace("heath", '"Fell Heath"'), 1, "lower-case words"),
        (PLANT + 'aliases = ["madder"]\n', 1, "“madder” is in the vocabulary already"),
        ("[levels\n", 1, "This is not TOML"),
        ("[levels]\n\nloose-measure =\n", 3, "This is not TOML"),
        ('[levels]\na = "x"\na = "y"\n', 3, "This is not TOML"),
    ],
)
def test_a_faulty_workshop_is_told_with_its_line(
    text: str, line: int, said: str, tmp_path: Path
) -> None:
    found = refusal(tmp_path, text)
    assert any(said in f"{f.sentence} {f.remedy}" and f.line == line for f in found), found


def test_the_sound_part_of_a_faulty_workshop_file_still_serves(tmp_path: Path) -> None:
    made = plan(tmp_path, WORKSHOP + "\n[rooms]\n", a=SHARED + STEPS)
    assert heavy(made) == [("faulty-workshop-file", (WORKSHOP + "\n").count("\n") + 1)]
    assert set(made.flow.pots) == {"kettle", "tub", "hob"}


def test_a_fault_is_found_at_its_key(tmp_path: Path) -> None:
    (finding,) = refusal(tmp_path, '[levels]\n  loose-mesure = "note"\n')
    assert (finding.line, finding.column, finding.to) == (2, 3, 15)


def test_a_faulty_workshop_file_cannot_be_made_lighter(tmp_path: Path) -> None:
    (finding,) = refusal(tmp_path, '[levels]\nfaulty-workshop-file = "note"\n')
    assert "cannot weigh less" in finding.sentence


def test_what_a_writer_wrote_is_kept_apart_from_what_is_said_of_it() -> None:
    made = workshop_file.read(Path("workshop.toml"), '[workshop]\n"{altitud}" = "3 m"\n')
    (fault,) = made.faults
    assert fault.sentence == say("“{key}” means nothing here.", key="{altitud}")


def test_every_fault_of_a_workshop_is_told_at_once(tmp_path: Path) -> None:
    reason = refusal(tmp_path, '[levels]\nx = "note"\n[equipment]\nkettle = "pt"\n[rooms]\n')
    assert len(reason) == 3


def test_a_faulty_workshop_stops_a_check_with_one_plain_message(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    collection(tmp_path, "[levle]\n", a=SHARED + STEPS, b=SHARED + STEPS)
    assert main(["check", str(tmp_path)]) == 2
    said = capsys.readouterr()
    assert said.err.count("\n") == 1 and "“levels”" in said.err
    assert said.out == ""


@pytest.mark.parametrize("data", [b"\xff\xfe[\x00", b"a" * 1_000_001, b"x = " + b"[" * 5000])
def test_a_workshop_file_that_is_no_toml_is_told_in_a_sentence(data: bytes, tmp_path: Path) -> None:
    file = collection(tmp_path, "", a=SHARED + STEPS)
    (tmp_path / "vatwright.toml").write_bytes(data)
    (finding,) = faults(procedure.load(file))
    said = f"{finding.sentence} {finding.remedy}"
    assert "\n" not in said and len(said) < 300


def test_the_workshop_page_s_example_is_a_collection(tmp_path: Path) -> None:
    page = Path(__file__).parents[2] / "grammar" / "workshop.md"
    lines = page.read_text("utf-8").split("\n")
    start = lines.index("    [levels]")
    end = next(i for i, line in enumerate(lines) if i > start and line[:1].strip())
    example = "\n".join(line[4:] for line in lines[start:end])
    made = plan(tmp_path, example, a=SHARED + STEPS)
    assert heavy(made) == []
    assert made.model.workshop is not None
    assert "fell-heather" in made.model.workshop.materials


def test_every_key_that_the_page_names_is_one() -> None:
    import re

    from procedure.vocabulary.extension import KEYS

    page = (Path(__file__).parents[2] / "grammar" / "workshop.md").read_text("utf-8")
    table = page.split("| key |")[1].split("\n\n")[0]
    named = {
        key for row in table.split("\n")[2:] for key in re.findall(r"`([^`]+)`", row.split("|")[1])
    }
    assert named == set(KEYS)
