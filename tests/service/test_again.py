"""Reading again gives what a fresh reading gives, whatever was typed, and where."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from procedure import language, pipeline
from procedure.flow import Flow
from procedure.service.again import Again, Dropped
from procedure.trace import Moment

EXAMPLES = Path(__file__).parents[2] / "examples"
MAIN = EXAMPLES / "plans" / "workshop-day.dye"
FOLLOWED = EXAMPLES / "standard" / "alum-on-wool.dye"
WORKSHOP = EXAMPLES / "vatwright.toml"
# What people type: letters, whole words of the trade, line ends, quotation marks, and dust.
PIECES = (
    *'aegt -:,"#\n(=%°.1',
    "\n  ",
    "  ",
    '\n    note "dry"',
    " 12 %",
    " of yarn",
    " wool",
    " alum",
    " in tub",
    " at 85 °C",
    " for 1 h",
    "\n  rinse yarn in tub",
    "\nsteps\n",
    "\nmaterials\n",
    "dye ",
    "mordant ",
    " unstated",
    ' allow bath-left-over because "x"',
    "\tfollow",
    "ü",
    "\r\n",
    "repeat ",
    "\n  repeat 2 times",
    '\n  if "pale"',
    " with wool = yarn",
    "silk",
    "500 g",
    " = ",
    "2026-01-01",
)


def edited(text: str, chance: random.Random) -> str:
    """The text after one edit: typed in, taken out, or a line moved."""
    at = chance.randrange(len(text) + 1)
    kind = chance.random()
    if kind < 0.55:
        return f"{text[:at]}{chance.choice(PIECES)}{text[at:]}"
    if kind < 0.9:
        return text[:at] + text[at + chance.choice((1, 1, 1, 2, 5, 12)) :]
    lines = text.split("\n")
    line = lines.pop(chance.randrange(len(lines)))
    lines.insert(chance.randrange(len(lines) + 1), line)
    return "\n".join(lines)


def hold(edits: int, seed: int) -> None:
    """So many edits in three files of a collection, each answer held against a fresh one."""
    chance = random.Random(seed)
    original = {path: path.read_text(encoding="utf-8") for path in (MAIN, FOLLOWED, WORKSHOP)}
    alone = EXAMPLES / "tansy-gold-and-moss.dye"
    original[alone] = alone.read_text(encoding="utf-8")
    texts = dict(original)
    again = Again()
    for number in range(edits):
        if number % 40 == 0:  # so that the texts do not end as dust
            texts = dict(original)
        path = chance.choice((MAIN, MAIN, FOLLOWED, alone, alone, alone, WORKSHOP))
        texts[path] = edited(texts[path], chance)
        shown = alone if path in (alone, WORKSHOP) else MAIN
        made = again.read(texts[shown], "shown.dye", shown, texts)
        fresh = pipeline.read(texts[shown], "shown.dye", shown, texts)
        assert made.findings == fresh.findings, f"seed {seed}, edit {number}"
        assert made.flow.edges == fresh.flow.edges
        assert len(made.trace.moments) == len(fresh.trace.moments)
        assert made.trace.final == fresh.trace.final


def test_a_dozen_random_edits() -> None:
    hold(12, seed=7)


def test_a_few_hundred_random_edits() -> None:
    hold(40, seed=100)
    hold(100, seed=16)


@pytest.mark.exhaustive
def test_ten_thousand_random_edits() -> None:
    for seed in range(20):
        hold(500, seed)


# What people write on at the end of a step, a letter at a time; ``<`` takes a letter back.
WRITTEN = (
    ' note "label it, and keep it out of the drain"',
    ' note "a cup of vinegar for the bleach" at 80 °C',
    ' until "the water runs clear"',
    " until 85 °C",
    " with alum 12 % of yarn, tartar 6<<3 g",
    " with alum 2 kg",
    " with soda 40 g at 95 °C",
    " in kettle",
    " in tub with water 10 L at 30<5 °C for 15 min",
    " from 30 °C to 80 °C over 45 min for 1 h gently",
    " overnight covered unattended",
    " wearing gloves",
    ' allow no-gloves because "they are on"',
    "\n  dye moss in weld-bath for 1 h\n  dry moss",
    "\n  fresh: prepare in crock with water 5 L, weld 30 g<<<<%<<60 g",
    '\n  discard weld-bath to "the beck"',
    "\n  repeat 3 times\n    rinse yarn in tub\n  dry yarn",
)


def hold_written(rounds: int, seed: int, pieces: tuple[str, ...] = WRITTEN) -> None:
    """So many pieces written on to steps of one text, held against a fresh reading at each key."""
    chance = random.Random(seed)
    path = EXAMPLES / "tansy-gold-and-moss.dye"
    again, text = Again(), path.read_text(encoding="utf-8")
    for number in range(rounds):
        if number % 8 == 0:
            text = path.read_text(encoding="utf-8")
        ends = [
            one.start() for one in re.finditer("\n", text) if one.start() > text.find("\nsteps")
        ]
        at, done = chance.choice(ends), ""
        before, after = text[:at], text[at:]
        for key in chance.choice(pieces):
            done = done[:-1] if key == "<" else done + key
            text = before + done + after
            made = again.read(text, "x.dye", path)
            fresh = pipeline.read(text, "x.dye", path)
            assert made.findings == fresh.findings, f"seed {seed}, piece {number}, {done!r}"
            assert made.trace.moments == _as_here(fresh.trace.moments, made.flow)
            assert made.flow.edges == fresh.flow.edges


def _as_here(moments: tuple[Moment, ...], here: Flow) -> tuple[Moment, ...]:
    """Moments of another reading, with the steps of this one, which are told apart as objects."""
    return tuple(one._replace(node=here.nodes[one.node.id]) for one in moments)


def test_a_piece_written_letter_by_letter() -> None:
    hold_written(2, seed=3, pieces=(" in kettle", ' note "label"'))


@pytest.mark.exhaustive
def test_thousands_of_letters_written_on_to_steps() -> None:
    for seed in range(12):
        hold_written(25, seed)


def test_letters_of_a_note_leave_the_plan_as_it_was() -> None:
    text = FOLLOWED.read_text(encoding="utf-8")
    again = Again()
    for typed in ("", "  dry yarn", '  dry yarn note "in t', '  dry yarn note "in th'):
        again.read(f"{text}{typed}\n", "x.dye")
    whole, ran = again.whole, again.run
    made = again.read(f'{text}  dry yarn note "in the shade\n', "x.dye")
    assert again.whole == whole and again.run - ran < 20
    assert made.findings == pipeline.read(made.text, "x.dye").findings
    assert made.trace.moments[-1].step.note.startswith("in the shade")


def test_a_plan_that_comes_out_the_same_runs_the_rules_that_the_new_words_touch() -> None:
    text = FOLLOWED.read_text(encoding="utf-8")
    again = Again()
    for typed in ("", "  rinse yarn in b"):
        again.read(f"{text}{typed}\n", "x.dye")
    ran = again.run
    for typed in ("  rinse yarn in bo", "  rinse yarn in bow"):
        made = again.read(f"{text}{typed}\n", "x.dye")
        assert made.findings == pipeline.read(made.text, "x.dye").findings
    assert 0 < again.run - ran < 120


def test_a_comment_leaves_the_plan_as_it_was() -> None:
    text = FOLLOWED.read_text(encoding="utf-8")
    again = Again()
    again.read(text, "x.dye")
    ran = again.run
    again.read(text.replace("\nsteps", "\n# by hand\nsteps").replace("# by hand\n", ""), "x.dye")
    assert again.short == 1 and again.run == ran


def test_between_two_words_the_plan_is_as_it_was_between_the_last_two() -> None:
    text = FOLLOWED.read_text(encoding="utf-8")
    again = Again()
    for typed in ("dye", "dye yarn", "dye yarn i"):
        again.read(f"{text}  {typed}\n", "x.dye")
    whole, ran = again.whole, again.run
    made = again.read(f"{text}  dye yarn in\n", "x.dye")
    again.read(f"{text}  dye yarn in tub\n", "x.dye")
    last = again.read(f"{text}  dye yarn in tub a\n", "x.dye")
    assert again.whole == whole + 1, "only the line that can be read is followed anew"
    assert again.run - ran < 2 * ran
    for one in (made, last):
        assert one.findings == pipeline.read(one.text, "x.dye").findings


def test_a_name_that_a_line_fails_to_declare_is_the_new_one() -> None:
    text = """
procedure "A"
fibre
  {}
steps
  rinse yarn in tub
"""
    again = Again()
    for line in ("yarn: wool yarn, 100 g", "yarn wool, , ", "yar wool, , ", "yarn wool, , "):
        made = again.read(text.format(line), "x.dye")
        assert made.findings == pipeline.read(made.text, "x.dye").findings, line


def test_a_step_leaves_rules_that_read_declarations_alone() -> None:
    text = FOLLOWED.read_text(encoding="utf-8")
    again = Again()
    again.read(text, "x.dye")
    ran = again.run
    again.read(text + '  do "sit down"\n', "x.dye")
    assert again.whole == 2 and 0 < again.run - ran < ran


def test_a_new_name_leaves_the_other_lines_as_they_were_and_is_known_in_them() -> None:
    head = 'procedure "A"\nfibre\n  yarn: wool yarn, 100 g\nsteps\n  {}: prepare in kettle\n'
    text = head + "  rinse yarn in tub\n  discard gold bath\n"
    lines = language.Lines()
    first = language.read(text.format("pale-bath"), lines).sections[-1].lines
    second = language.read(text.format("gold-bath"), lines).sections[-1].lines
    assert second[1].node is first[1].node
    assert second[0].node is not first[0].node
    # “gold bath” is a name now, and was two words before.
    alone = language.read(text.format("gold-bath")).sections[-1].lines
    assert second[2].node == alone[2].node != first[2].node


def test_a_newer_text_drops_the_reading_of_an_older_one() -> None:
    text = FOLLOWED.read_text(encoding="utf-8")
    again = Again()
    again.read(text, "x.dye")
    asked = 0

    def stale() -> bool:
        nonlocal asked
        asked += 1
        return asked == 50  # in the middle of the rules

    with pytest.raises(Dropped):
        again.read(text.replace("for 1 h", "for 2 h"), "x.dye", stale=stale)
    newest = text.replace("for 1 h", "for 3 h")
    assert again.read(newest, "x.dye").findings == pipeline.read(newest, "x.dye").findings


def test_a_followed_file_that_comes_and_goes_is_noticed(tmp_path: Path) -> None:
    main = tmp_path / "main.dye"
    text = 'procedure "A"\nsteps\n  follow "b.dye"\n'
    again = Again()
    other = tmp_path / "b.dye"

    def rules() -> set[str]:
        made = again.read(text, "main.dye", main)
        assert made.findings == pipeline.read(text, "main.dye", main).findings
        return {one.rule for one in made.findings}

    without = rules()
    other.write_text('procedure "B"\nsteps\n  do "wait"\n', encoding="utf-8")
    assert rules() != without
    other.unlink()
    assert rules() == without


def test_what_is_said_of_a_thing_is_read_again_when_it_changes() -> None:
    text = (EXAMPLES / "first-onion-skins.dye").read_text("utf-8")
    again = Again()
    line = next(line for line in text.split("\n") if line.startswith("  dry "))
    for said in ("", "rinsed ", "dyed ", "mordanted ", "rinsed ", "the mordanted ", ""):
        changed = text.replace(line, line.replace("  dry ", f"  dry {said}"))
        fresh = pipeline.read(changed, "text").findings
        assert again.read(changed, "text").findings == fresh
