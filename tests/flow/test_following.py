"""Procedures that follow others: in place, inside their collection, findings in both files."""

from __future__ import annotations

from pathlib import Path

import networkx
import pytest
from expecting import between

import procedure
from procedure import Finding, Plan
from procedure.rules.example_kit import whole

MAIN = """wet out yarn in tub with water 5 L for 1 h
mordanting: follow "with-alum.dye" with wool = yarn, boiler = kettle, basin = tub
dry yarn"""
ALUM = """procedure "Alum on wool"
  by "Fellside Dye Circle"
  revised 2026-06-14
  source "our own workshop"
  place outdoors
  wearing gloves
fibre
  wool: wool yarn, 100 g, scoured
equipment
  boiler: stainless steel pot, 15 L, for dyeing only
  basin: plastic tub, 20 L, for dyeing only
materials
  alum: potassium alum
steps
  alum-bath: prepare in boiler with water 3 L, alum 12 % of wool
  mordant wool in alum-bath at 85 °C for 1 h
  rinse wool in basin with water 5 L
  discard alum-bath to "foul drain"
  clean boiler
"""


def load(folder: Path, main: str = MAIN, name: str = "main.dye", **files: str) -> Plan:
    """Write a main procedure and its neighbours (their names with - for _), and load it."""
    for stem, text in files.items():
        (folder / f"{stem.replace('_', '-')}.dye").write_text(text, encoding="utf-8")
    path = folder / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(whole(main), encoding="utf-8")
    return procedure.load(path)


def errors(plan: Plan) -> list[Finding]:
    return [f for f in plan.findings if f.level == "error"]


def heavy(plan: Plan) -> list[tuple[str, str]]:
    return [(Path(f.file).name, f.rule) for f in plan.findings if f.level != "note"]


def test_a_followed_procedure_is_done_in_place(tmp_path: Path) -> None:
    plan = load(tmp_path, with_alum=ALUM)
    assert heavy(plan) == []
    verbs = [m.step.verb.name for m in plan.trace.moments if m.step.verb]
    assert verbs == ["wet out", "prepare", "mordant", "rinse", "discard", "clean", "dry"]
    mordant = plan.trace.moments[2]
    assert mordant.node.lots == ("yarn",) and mordant.node.pot == "kettle"
    assert "mordanting.alum" in plan.trace.final.lots["yarn"].mordants
    assert networkx.is_directed_acyclic_graph(plan.graph)
    assert [len(p.body) for p in plan.flow.procedures] == [3, 5]


def test_its_amounts_are_of_the_fibre_that_it_is_given(tmp_path: Path) -> None:
    main = "fibre\n  yarn: wool yarn, 600 g, scoured\nsteps\n  " + MAIN.replace("\n", "\n  ")
    plan = load(tmp_path, main, with_alum=ALUM)
    amounts = {thing: a for thing, _, a in plan.trace.moments[1].amounts}
    alum = amounts["mordanting.alum"]
    assert alum is not None and alum.grams == between(72)  # 12 % of 600 g


def test_its_findings_point_to_both_files(tmp_path: Path) -> None:
    plan = load(tmp_path, with_alum=ALUM.replace("at 85 °C", "at 110 °C"))
    (found,) = errors(plan)
    assert (Path(found.file).name, found.rule, found.line) == (
        "with-alum.dye",
        "hotter-than-boiling",
        16,
    )
    plan = load(
        tmp_path, MAIN.replace("wet out yarn in tub with water 5 L for 1 h\n", ""), with_alum=ALUM
    )
    (found,) = [f for f in plan.findings if f.rule == "entered-dry"]
    assert (Path(found.file).name, found.line) == ("with-alum.dye", 16)
    (caller,) = [r for r in found.related if Path(r.file).name == "main.dye"]
    assert "followed from here" in caller.sentence
    written = (tmp_path / "main.dye").read_text("utf-8").split("\n")
    assert "follow" in written[caller.line - 1]


def test_a_faulty_line_in_it_is_a_finding_there(tmp_path: Path) -> None:
    plan = load(tmp_path, with_alum=ALUM.replace("  clean boiler", "  cleen boiler"))
    (found,) = errors(plan)
    assert (Path(found.file).name, found.rule, found.line) == ("with-alum.dye", "cannot-read", 19)


def test_the_same_pot_name_needs_no_telling(tmp_path: Path) -> None:
    told = ALUM.replace("boiler:", "kettle:").replace("basin:", "tub:")
    told = told.replace("in boiler", "in kettle").replace("in basin", "in tub")
    told = told.replace("clean boiler", "clean kettle")
    plan = load(
        tmp_path,
        'wet out yarn in tub with water 5 L for 1 h\nfollow "with-alum.dye" with wool = yarn\n'
        "clean kettle\ndry yarn",
        with_alum=told,
    )
    assert heavy(plan) == []


def test_following_twice_takes_what_it_made_along(tmp_path: Path) -> None:
    main = MAIN.replace(
        "dry yarn",
        'follow "with-alum.dye" with wool = silk, boiler = kettle, basin = tub\ndry yarn, silk',
    ).replace("wet out yarn", "wet out yarn, silk")
    plan = load(tmp_path, main, with_alum=ALUM)
    assert heavy(plan) == []
    assert len(plan.trace.moments) == 12


def test_following_in_a_repeat(tmp_path: Path) -> None:
    main = MAIN.replace("mordanting: follow", "repeat 2 times\n  mordanting: follow")
    plan = load(tmp_path, main, with_alum=ALUM)
    # The second time the wool comes out of a rinse that nobody warmed, into a bath still hot.
    assert heavy(plan) == [("with-alum.dye", "heat-shock")]


# ------------------------------------------------------------ where files are looked for


def follow(name: str) -> str:
    return f'wet out yarn in tub with water 5 L for 1 h\nfollow "{name}"\ndry yarn'


def test_a_missing_file(tmp_path: Path) -> None:
    (found,) = errors(load(tmp_path, follow("nowhere.dye")))
    assert found.rule == "cannot-follow" and "nowhere.dye" in found.sentence


@pytest.mark.parametrize("name", ["../out.dye", "sub/../../out.dye"])
def test_a_path_that_leaves_the_collection(tmp_path: Path, name: str) -> None:
    (tmp_path / "out.dye").write_text(ALUM, encoding="utf-8")
    (found,) = errors(load(tmp_path, follow(name), "home/main.dye"))
    assert found.rule == "cannot-follow" and "outside this collection" in found.sentence


def test_a_link_that_leaves_the_collection(tmp_path: Path) -> None:
    (tmp_path / "out.dye").write_text(ALUM, encoding="utf-8")
    (tmp_path / "home").mkdir()
    (tmp_path / "home" / "link.dye").symlink_to(tmp_path / "out.dye")
    (found,) = errors(load(tmp_path, follow("link.dye"), "home/main.dye"))
    assert "outside this collection" in found.sentence


@pytest.mark.parametrize("name", ["/etc/hostname", "C:\\\\a.dye", "http://a/b.dye"])
def test_a_path_of_another_kind(tmp_path: Path, name: str) -> None:
    (found,) = errors(load(tmp_path, follow(name)))
    assert found.rule == "cannot-follow" and "not a path inside" in found.sentence


def test_the_house_file_marks_the_collection(tmp_path: Path) -> None:
    (tmp_path / "vatwright.toml").write_text("", encoding="utf-8")
    main = MAIN.replace("with-alum.dye", "../shared/with-alum.dye")
    (tmp_path / "shared").mkdir()
    (tmp_path / "shared" / "with-alum.dye").write_text(ALUM, encoding="utf-8")
    assert heavy(load(tmp_path, main, "plans/deep/../main.dye")) == []
    (tmp_path / "vatwright.toml").unlink()
    (found,) = errors(load(tmp_path, main, "plans/main.dye"))
    assert "outside this collection" in found.sentence


def test_the_path_is_read_from_the_file_that_says_it(tmp_path: Path) -> None:
    inner = ALUM.replace(
        "  clean boiler\n", '  clean boiler\n  follow "wash.dye" with lot = wool\n'
    )
    wash = 'procedure "Airing"\nfibre\n  lot: wool yarn, 1 g\nsteps\n  air lot for 1 h\n'
    (tmp_path / "sub").mkdir()
    (tmp_path / "sub" / "with-alum.dye").write_text(inner, encoding="utf-8")
    (tmp_path / "sub" / "wash.dye").write_text(wash, encoding="utf-8")
    plan = load(tmp_path, MAIN.replace("with-alum.dye", "sub/with-alum.dye"))
    assert errors(plan) == []
    airing = next(m for m in plan.trace.moments if m.node.effect == "air")
    assert airing.node.lots == ("yarn",)
    assert [Path(call.procedure.file).name for call in airing.node.calls] == [
        "main.dye",
        "with-alum.dye",
    ]


def test_a_file_that_is_not_text(tmp_path: Path) -> None:
    (tmp_path / "b.dye").write_bytes(b"\x00\x01")
    (found,) = errors(load(tmp_path, follow("b.dye")))
    assert found.rule == "cannot-follow" and "cannot be read as text" in found.sentence


def test_a_text_that_is_in_no_file_follows_nothing() -> None:
    (found,) = errors(procedure.read(whole(follow("a.dye"))))
    assert found.rule == "cannot-follow" and "not in a file" in found.sentence


# ------------------------------------------------------------ circles of follows


def test_a_procedure_that_follows_itself(tmp_path: Path) -> None:
    (found,) = errors(load(tmp_path, follow("main.dye")))
    assert found.rule == "follows-itself" and "circle" in found.sentence
    assert Path(found.file).name == "main.dye"


def test_a_circle_of_three(tmp_path: Path) -> None:
    def inner(name: str) -> str:
        return f'procedure "x"\nsteps\n  do "stir"\n  follow "{name}.dye"\n'

    plan = load(tmp_path, follow("b.dye"), b=inner("c"), c=inner("d"), d=inner("b"))
    (found,) = errors(plan)
    assert found.rule == "follows-itself" and "circle" in found.sentence
    assert Path(found.file).name == "d.dye"
    assert {Path(r.file).name for r in found.related} == {"main.dye", "b.dye", "c.dye"}


def test_many_follows_inside_one_another_end_in_a_finding(tmp_path: Path) -> None:
    for n in range(18):
        body = f'  follow "p{n + 1}.dye"\n' * 3 + '  do "stir"\n'
        (tmp_path / f"p{n}.dye").write_text(f'procedure "x"\nsteps\n{body}', encoding="utf-8")
    (tmp_path / "p18.dye").write_text('procedure "x"\nsteps\n  do "stir"\n', encoding="utf-8")
    found = [f for f in errors(load(tmp_path, follow("p0.dye"))) if f.rule == "cannot-follow"]
    assert found and "more than anyone can follow" in found[0].sentence


# ------------------------------------------------------------ what it is told

BINDINGS = {
    "": ("follow-needs", "wool"),
    "with wool": ("not-declared", "wool"),
    "with wool = kettle": ("follow-needs", "“wool”, a lot of fibre (wool yarn, 100 g"),
    "with wool = yarn, boiler = yarn": ("follow-needs", "“boiler”, a pot (stainless steel pot"),
    "with wool = yarm": ("not-declared", "yarn"),
    "with wooll = yarn": ("follow-needs", "wool"),
    "with wool = yarn, boiler = kettle, basin = tub, spoon = tub": ("follow-needs", "spoon"),
    "with wool = yarn, basin = tub": ("follow-needs", "boiler"),
    "with wool = yarn, 5 g": ("follow-needs", "amounts"),
}


@pytest.mark.parametrize(("told", "said"), BINDINGS.items())
def test_binding(tmp_path: Path, told: str, said: tuple[str, str]) -> None:
    rule, words = said
    main = MAIN.replace("with wool = yarn, boiler = kettle, basin = tub", told)
    plan = load(tmp_path, main, with_alum=ALUM)
    found = [f for f in errors(plan) if f.rule == rule]
    assert any(words in f"{f.sentence} {f.remedy}" for f in found), errors(plan)
    assert {Path(f.file).name for f in found} == {"main.dye"}


def test_one_lot_cannot_be_given_for_two(tmp_path: Path) -> None:
    two = ALUM.replace("equipment", "  silk: silk yarn, 50 g, scoured\nequipment")
    two = two.replace("mordant wool in", "mordant wool, silk in").replace(
        "rinse wool", "rinse wool, silk"
    )
    main = MAIN.replace("wool = yarn", "wool = yarn, silk = yarn")
    found = errors(load(tmp_path, main, with_alum=two))
    assert "given-twice" in {f.rule for f in found}
