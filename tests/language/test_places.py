"""Every token keeps its place: line and column from 1, in characters, and the column after."""

from __future__ import annotations

from expecting import place_in
from hypothesis import given
from shapes import all_lines, tokens_of
from strategies import texts

import procedure
from procedure.language import read

TEXT = """procedure "Größe"
  by "Fellside Dye Circle"

fibre
  yarn: wool yarn, 1½ kg,
        4 skeins   # told again
steps
\tsoak: wet out yarn
\t\tin tub with water 30 : 1 of yarn at 30–35 °C (86–95 °F)
  repeat 3 times
    air yarn for 15 min
"""


def test_each_token_stands_where_it_was_written() -> None:
    lines = TEXT.split("\n")
    tokens = [t for line in all_lines(read(TEXT)) if line.node for t in tokens_of(line.node)]
    assert len(tokens) > 25
    for token in tokens:
        assert lines[token.line - 1][token.column - 1 : token.to - 1] == token.text


def test_places_of_some_tokens_by_hand() -> None:
    tree = read(TEXT)
    said = {t.text: t for line in all_lines(tree) if line.node for t in tokens_of(line.node)}
    assert (said["1½"].line, said["1½"].column, said["1½"].to) == (5, 20, 22)
    assert (said["skeins"].line, said["skeins"].column) == (6, 11)
    assert (said["wet out"].line, said["wet out"].column, said["wet out"].to) == (8, 8, 15)
    assert (said["°F"].line, said["°F"].column) == place_in(TEXT, "°F")[:2]
    assert tree.sections[1].heading[2:4] == (4, 1)


def test_a_tab_is_one_character_in_a_place() -> None:
    tree = read("steps\n\tdry\tyarn\n")
    node = tree.sections[0].lines[0].node
    assert node is not None
    assert [(t.text, t.column) for t in tokens_of(node)] == [("dry", 2), ("yarn", 6)]


def test_the_model_keeps_places() -> None:
    model = procedure.read(TEXT).model
    assert model.title is not None and model.title.place == (1, 11, 18)
    assert model.by is not None and model.by.place == place_in(TEXT, '"Fellside Dye Circle"')
    lot = model.lots["yarn"]
    assert lot.name.place == (5, 3, 7)
    assert lot.weight is not None and lot.weight.place == place_in(TEXT, "1½ kg")
    step = model.body[0]
    assert step.place[:2] == place_in(TEXT, "soak:")[:2]


def test_a_finding_points_at_its_words() -> None:
    text = TEXT.replace("30–35 °C (86–95 °F)", "30 °C (95 °F)").replace(
        "yarn for 15", "yarm for 15"
    )
    found = {f.rule: (f.line, f.column, f.to) for f in procedure.read(text).findings}
    line, column, to = place_in(text, "30 °C (95 °F)")
    assert found["readings-disagree"] in ((line, column, to), (line, column, to - 1))
    assert found["not-declared"] == place_in(text, "yarm")


@given(texts)
def test_tokens_and_faults_lie_inside_the_text(text: str) -> None:
    lines = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    tree = read(text)
    for line in all_lines(tree):
        for token in tokens_of(line.node) if line.node else ():
            assert lines[token.line - 1][token.column - 1 : token.to - 1] == token.text
    for fault in tree.faults:
        assert 1 <= fault.line <= len(lines)
        assert 1 <= fault.column < fault.to <= len(lines[fault.line - 1]) + 2
