"""The language service: what is asked over sound, faulty and half-written texts."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from procedure import pipeline
from procedure.findings import Edit
from procedure.rework.mend import edited
from procedure.service.answers import ANSWERS, answer, formatted
from procedure.service.choosing import choices
from procedure.service.clause_help import clause_help
from procedure.service.desk import Desk
from procedure.service.remedies import remedies
from procedure.service.renaming import CannotRename, declared_at, rename, uses
from procedure.service.shape import folds, outline
from procedure.service.spots import spots
from procedure.service.telling import told

EXAMPLES = Path(__file__).parents[2] / "examples"
TANSY = EXAMPLES / "tansy-gold-and-moss.dye"
WHOLE = """procedure "Gold"
  place outdoors
  wearing gloves

fibre
  yarn: wool yarn, 240 g, scoured

equipment
  kettle: stainless steel pot, 15 L, for dyeing only
  tub: plastic tub, 20 L, for dyeing only

materials
  alum: potassium alum

steps
  wet out yarn in tub with water 10 L at 30 °C for 1 h
  alum-bath: prepare in kettle with water 30 : 1 of yarn, alum 12 % of yarn
  mordant yarn in alum-bath from 40 °C to 85 °C over 45 min for 1 h
"""


def offered(text: str) -> dict[str, str]:
    """What is offered where ``|`` stands in the text, by its words."""
    line = text[: text.index("|")].count("\n") + 1
    column = text.index("|") - text.rfind("\n", 0, text.index("|"))
    plan = pipeline.read(text.replace("|", ""), "x.dye")
    return {one.text: one.says for one in choices(plan, line, column)}


def test_verbs_at_the_head_of_a_step() -> None:
    found = offered(WHOLE + "  mor|")
    assert list(found) == ["mordant"]
    assert {"dye", "rinse", "repeat", "follow"} <= set(offered(WHOLE + "  |"))


def test_clauses_that_the_verb_needs_come_first_and_none_that_it_cannot_have() -> None:
    found = [one for one in offered(WHOLE + "  dye yarn |") if one.islower()]
    assert found[0] == "in"
    assert "through" not in found and "for" in found
    assert "in" not in offered(WHOLE + "  dye yarn in alum-bath |")


def test_pots_that_are_free_come_before_those_that_are_full() -> None:
    found = offered(WHOLE + "  new-bath: prepare in |")
    names = [one for one in found if one in ("kettle", "tub")]
    assert names == ["tub", "kettle"]
    assert "holds alum-bath" in found["kettle"] and "free" in found["tub"]


def test_usual_amounts_are_those_for_this_fibre() -> None:
    # Mairet 1938, ch. II and VII: 8 to 25 % of alum on protein; on cellulose 10 to 25 %.
    found = offered(WHOLE + "  two: prepare in tub with water 5 L, |")
    assert any(one.startswith("alum 8 to 25 % of yarn") for one in found)
    assert "Mairet 1938" in next(says for one, says in found.items() if one.startswith("alum 8"))
    cotton = offered(WHOLE.replace("wool yarn", "cotton yarn") + "  two: prepare in tub with |")
    assert any(one.startswith("alum 10 to 25 % of yarn") for one in cotton)


def test_nothing_is_offered_inside_quotation_marks_and_comments() -> None:
    assert not offered(WHOLE + '  do "mor|')
    assert not offered(WHOLE + "  # mor|")


def test_words_of_declarations() -> None:
    found = offered(WHOLE.replace("potassium alum", "potassium al|"))
    assert set(offered(WHOLE.replace("potassium alum", "wel|"))) >= {"weld"}
    assert "weld" not in found


def at(text: str, word: str, nth: int = 0) -> tuple[int, int]:
    """Line and column of the nth time that a word stands in a text."""
    offset = -1
    for _ in range(nth + 1):
        offset = text.index(word, offset + 1)
    return text[:offset].count("\n") + 1, offset - text.rfind("\n", 0, offset)


def test_what_is_in_the_bath_here_and_what_a_lot_went_through() -> None:
    plan = pipeline.read(WHOLE, "x.dye")
    bath = told(plan, *at(WHOLE, "alum-bath", 1))
    assert bath is not None
    said = " ".join(bath.sentences)
    assert "7.2 L of liquor" in said and "alum 28.8 g" in said
    lot = told(plan, *at(WHOLE, "yarn in alum"))
    assert lot is not None and any("wetted out (line 16)" in one for one in lot.sentences)
    verb = told(plan, *at(WHOLE, "mordant yarn"))
    assert verb is not None and "mordant FIBRE in BATH or POT" in verb.sentences[1]
    amount = told(plan, *at(WHOLE, "12 %"))
    assert amount is not None and amount.sentences == ("28.8 g.",)


def test_a_word_of_the_trade_is_told_with_its_source() -> None:
    found = told(pipeline.read(WHOLE, "x.dye"), *at(WHOLE, "potassium"))
    assert found is not None and found.title == "potassium alum"
    assert found.sentences[-1].startswith("Source: ")


def test_amounts_beside_the_words() -> None:
    desk, path = Desk(), EXAMPLES / "new.dye"
    made = answer(desk, path, {"ask": "findings", "text": WHOLE})
    line = WHOLE.split("\n")[16]
    assert [17, line.index("% of yarn") + 10, "= 28.8 g"] in made["amounts"]


def test_a_half_written_line_blanks_nothing_else() -> None:
    desk, path = Desk(), EXAMPLES / "new.dye"
    before = answer(desk, path, {"ask": "findings", "text": WHOLE})
    half = answer(desk, path, {"ask": "findings", "text": WHOLE + "  rinse yarn in tub wi th"})
    assert half["amounts"] == before["amounts"]
    found = told(desk.plan(path), *at(WHOLE, "alum-bath", 1))
    assert found is not None and "28.8 g" in " ".join(found.sentences)


def test_clause_help_knows_what_is_said_and_where_the_cursor_is() -> None:
    text = WHOLE + "  dye yarn in alum-bath at "
    made = clause_help(text, text.count("\n") + 1, 99)
    assert made is not None and made.verb == "dye"
    said = {one.word: one for one in made.clauses}
    assert said["in"].needed and said["in"].said and said["at"].now and not said["for"].said


def test_outline_and_folds() -> None:
    made = outline(TANSY.read_text(encoding="utf-8"))
    assert [one.name for one in made][1:] == ["fibre", "equipment", "materials", "steps"]
    blocks = [one for one in made[-1].inside if one.kind == "block"]
    assert blocks and all(one.inside for one in blocks)
    lines = folds(TANSY.read_text(encoding="utf-8"))
    assert all(one.first < one.last for one in lines)


# ------------------------------------------------------------------ names


def collection(folder: Path) -> tuple[Desk, Path, Path]:
    """A desk over a collection of two files, one of which follows the other."""
    desk = Desk()
    (folder / "vatwright.toml").write_text("", encoding="utf-8")
    main, other = folder / "main.dye", folder / "alum.dye"
    other.write_text(WHOLE, encoding="utf-8")
    main.write_text(
        WHOLE.split("steps")[0].replace("yarn: wool", "moss: wool")
        + 'steps\n  first: follow "alum.dye" with yarn = moss, kettle = kettle, tub = tub\n'
        + "  discard first.alum-bath\n  clean kettle\n",
        encoding="utf-8",
    )
    return desk, main.resolve(), other.resolve()


def applied(path: Path, edits: list[Edit]) -> str:
    return edited(path.read_text(encoding="utf-8"), edits)


def test_a_lot_is_renamed_in_the_file_that_follows_too(tmp_path: Path) -> None:
    desk, main, other = collection(tmp_path)
    was = [one.rule for one in desk.plan(main).findings]
    made = rename(desk, other, *at(WHOLE, "yarn: wool"), "hank")
    assert set(made) == {main, other}
    for path, edits in made.items():
        desk.put(path, applied(path, edits))
    assert "with hank = moss" in desk.text(main) and "yarn:" not in desk.text(other)
    assert "wool yarn, 240 g" in desk.text(other)  # the form of the fibre is no name
    assert [one.rule for one in desk.plan(main).findings] == was


def test_a_bath_is_renamed_through_the_label_of_the_follow(tmp_path: Path) -> None:
    desk, main, other = collection(tmp_path)
    made = rename(desk, other, *at(WHOLE, "alum-bath:"), "first-bath")
    assert "discard first.first-bath" in applied(main, made[main])
    made = rename(desk, main, *at(main.read_text(), "first: "), "ground")
    assert "ground.alum-bath" in applied(main, made[main]) and other not in made


def test_a_bath_said_in_two_words_is_renamed_with_it(tmp_path: Path) -> None:
    main = tmp_path / "gold.dye"
    text = WHOLE.replace("mordant yarn in alum-bath", "mordant yarn in the alum  bath")
    text = text.replace(
        "  alum: potassium alum\n", "  alum: potassium alum\n  tartar: cream of tartar\n"
    )
    text = text.replace("alum 12 % of yarn", "alum 12 % of yarn, cream of tartar 5 % of yarn")
    main.write_text(text)
    desk = Desk()
    made = rename(desk, main, *at(text, "alum  bath"), "first-bath")
    renamed = edited(text, made[main])
    assert "mordant yarn in the first-bath" in renamed and "alum-bath" not in renamed
    # What only tells what the thing is stays as it was written, and still means the thing.
    made = rename(desk, main, *at(text, "tartar:"), "argol")
    renamed = edited(text, made[main])
    assert "argol: cream of tartar" in renamed and ", cream of tartar 5 %" in renamed
    was = [one.rule for one in pipeline.read(text, "x.dye").findings]
    assert [one.rule for one in pipeline.read(renamed, "x.dye").findings] == was


def test_a_name_handed_over_under_the_same_name_is_said_twice(tmp_path: Path) -> None:
    desk, main, other = collection(tmp_path)
    text = main.read_text().replace("kettle = kettle", "kettle")
    main.write_text(text)
    made = rename(desk, other, *at(WHOLE, "kettle:"), "copper-pot")
    assert "copper-pot = kettle" in applied(main, made[main])
    made = rename(desk, main, *at(text, "kettle:"), "big-pot")
    assert "kettle = big-pot" in applied(main, made[main])


@pytest.mark.parametrize("new", ["", "two words", "in", "kettle", "9lives", "x" * 61])
def test_a_name_that_would_mean_something_else_is_refused(tmp_path: Path, new: str) -> None:
    desk, _, other = collection(tmp_path)
    with pytest.raises(CannotRename, match=r"\.$"):
        rename(desk, other, *at(WHOLE, "yarn: wool"), new)


def test_go_to_through_a_follow(tmp_path: Path) -> None:
    desk, main, other = collection(tmp_path)
    text = main.read_text()
    assert declared_at(desk, main, *at(text, "alum.dye"))[0].file == other
    place = declared_at(desk, main, *at(text, "alum-bath"))[0]
    assert (place.file, place.line) == (other, 17)
    assert {use.file for use in uses(desk, other, "yarn")} == {main, other}


def test_a_pot_that_two_files_share_by_its_name_is_not_parted(tmp_path: Path) -> None:
    desk, main, other = collection(tmp_path)
    main.write_text(main.read_text().replace(", tub = tub", ""))
    with pytest.raises(CannotRename, match="which are one"):
        rename(desk, other, *at(WHOLE, "tub: plastic"), "bucket")


# ------------------------------------------------------------------ remedies and form


def test_a_safe_remedy_cures_and_an_allow_stands_below_its_step() -> None:
    text = WHOLE.replace("mordant yarn", "mordnt yarn")
    plan = pipeline.read(text, "x.dye")
    safe = next(one for one in remedies(plan, 18) if one.safe)
    assert edited(text, safe.edits) == WHOLE
    sound = pipeline.read(WHOLE, "x.dye")
    found = next(one for one in sound.findings if one.rule == "bath-left-over")
    allow = next(one for one in remedies(sound, found.line) if one.rule == "bath-left-over")
    after = pipeline.read(edited(WHOLE, allow.edits), "x.dye")
    assert "bath-left-over" not in {one.rule for one in after.findings}
    assert allow.fill is not None
    line, column, to = allow.fill
    assert edited(WHOLE, allow.edits).split("\n")[line - 1][column - 1 : to - 1] == "say why"


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.dye")), ids=lambda path: path.stem)
def test_tidying_changes_nothing_that_is_understood(path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    rough = text.replace("\n", "  \r\n").replace("\n  ", "\n\t") + "\n\n"
    desk = Desk()
    desk.put(path, rough)
    made = formatted(desk, path)
    desk.put(path, made)
    assert formatted(desk, path) == made
    rules = [one.rule for one in pipeline.read(made, "x", path).findings]
    assert sorted(rules) == sorted(one.rule for one in pipeline.read(rough, "x", path).findings)


# ------------------------------------------------------------------ everything everywhere


@pytest.mark.parametrize("path", [TANSY, EXAMPLES / "faulty" / "names-and-order.dye"])
def test_every_question_has_a_plain_answer_at_every_word(path: Path) -> None:
    desk = Desk()
    text = path.read_text(encoding="utf-8")
    for ask in set(ANSWERS) - {"panel"}:
        slow = ask in ("rename", "uses", "declared")
        for line in spots(text)[:: 25 if slow else 6]:
            for token in line.tokens[::2][:3] or (None,):
                column = token.column if token else 1
                made = answer(desk, path, question(ask, line.number, column))
                json.dumps(made)


def question(ask: str, line: int, column: int) -> dict[str, Any]:
    return {"ask": ask, "line": line, "column": column, "name": "other", "rule": "entered-dry"}


@pytest.mark.parametrize("panel", ["chart", "amounts", "paper", "lots"])
def test_panels(panel: str) -> None:
    desk = Desk()
    made = answer(desk, TANSY, {"ask": "panel", "panel": panel, "fibre": "600 g"})
    assert "why" not in made
    json.dumps(made)
    nothing = {"ask": "panel", "panel": panel, "text": ""}
    json.dumps(answer(desk, TANSY, nothing))


def test_amounts_for_the_harvest_at_hand() -> None:
    desk = Desk()
    made = answer(desk, TANSY, {"ask": "panel", "panel": "amounts", "gathered": "tansy = 360 g"})
    # Three parts of tansy to one of yarn: 360 g are enough for 120 g of wool.
    assert any("120" in one["amount"] for one in made["fibre"])
    made = answer(desk, TANSY, {"ask": "panel", "panel": "amounts", "fibre": "a lot"})
    assert made["why"].endswith(".")


@pytest.mark.parametrize("at", [-1, 0, 10**9, True, 1.5, "x", None])
def test_a_place_that_no_text_has_is_no_place_to_fail_at(at: object, tmp_path: Path) -> None:
    desk, path = Desk(), tmp_path / "gold.dye"
    for ask in ANSWERS.keys() - {"panel", "begin", "format"}:
        said = answer(desk, path, {"ask": ask, "text": WHOLE, "line": at, "column": at, "last": at})
        json.dumps(said)
