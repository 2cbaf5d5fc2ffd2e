"""A verb is a row: every effect has all its parts, and nothing else knows one by its name."""

from __future__ import annotations

import ast
import csv
import re
import shutil
import sys
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path

import pytest
from sampling import sampled

import procedure
from procedure.chart.symbols import symbols
from procedure.command import main as commands
from procedure.command.main import main
from procedure.flow.build import PARTS
from procedure.handout import prose
from procedure.rules.example_kit import whole
from procedure.trace.walk import HANDLERS
from procedure.vocabulary import data_files, vocabulary
from procedure.vocabulary import effects as records
from procedure.vocabulary.effects import Effect, Unfit, effects, fit, with_traits

ROOT = Path(__file__).parents[2]
HOUSE = ROOT / "procedure"
PAGE = (ROOT / "grammar" / "README.md").read_text("utf-8")
# What is said in more words is read by turns that name their verbs, which a row alone has none of.
PLAIN = re.sub(r"(?ms)^\*\*More ways to say it\.\*\*.*?^(?=Fibre )", "", PAGE)
SNIPPETS = re.findall(r"^```dye\n(.*?)^```$", PLAIN, re.MULTILINE | re.DOTALL)
# Every command that is given a procedure, FILE, and what it makes of it.
COMMANDS = (
    ("check", "--at-least", "note", "FILE"),
    ("chart", "-o", "made.dot", "FILE"),
    ("chart", "--overview", "-o", "made.svg", "FILE"),
    ("weigh", "FILE"),
    ("lots", "FILE"),
    ("card", "-o", "made.html", "FILE"),
    ("handout", "--no-chart", "-o", "made.md", "FILE"),
    ("handout", "--bench", "-o", "made.html", "FILE"),
    ("handout", "--labels", "-o", "made.html", "FILE"),
    ("timetable", "FILE"),
    ("neaten", "--preview", "FILE"),
    ("record", "-o", "made.batch", "FILE"),
    ("compare", "FILE", "FILE"),
)
# Those that take little time are tried with every verb in each run of the tests.
QUICK = ("check", "weigh", "lots", "neaten")
# What the others are given is no procedure, but a word, a rule, an answer, a record or a folder.
OF_OTHER_THINGS = {
    *("why", "know", "new", "draft", "book", "batches", "match"),
    *("write", "completion", "language-server"),
}


def rows(table: str) -> list[dict[str, str]]:
    with Path(data_files.DATA, f"{table}.csv").open(encoding="utf-8", newline="") as lines:
        return list(csv.DictReader(lines))


VERBS = rows("verbs")
FIRST = {row["effect"]: row for row in reversed(VERBS)}
# The effects of which the new verb has one of its own; of the others it has the known one.
OWN = frozenset((*list(effects())[::2], "treat"))


# ------------------------------------------------------------------ every effect has all its parts


@pytest.mark.parametrize("name", effects())
def test_an_effect_has_all_its_parts(name: str) -> None:
    effect = effects()[name]
    assert effect.part in PARTS, "what the flow makes of it"
    assert effect.trace in HANDLERS, "what the trace does"
    assert effect.sentence in prose._SAYINGS, "its sentence in the papers"
    assert not effect.heat or vocabulary().heats[effect.heat].kind == "heat"
    assert name in FIRST, "a verb that has it"
    # A part whose flow makes, moves or cleans something says so as a trait as well.
    by_part = {
        "make bath": "prepares",
        "in water": "in_water",
        "split": "splits",
        "join": "joins",
        "add": "adds",
        "empty": "empties",
        "strain": "strains",
        "draw off": "draws_off",
        "keep": "stores",
        "clean": "cleans",
    }
    for part, trait in by_part.items():
        assert getattr(effect, trait) is (effect.part == part), trait


@pytest.mark.parametrize("row", VERBS, ids=lambda row: row["verb"])
def test_a_verb_has_an_effect_a_symbol_and_words(row: dict[str, str]) -> None:
    verb = vocabulary().verbs[row["verb"]]
    assert verb.effect in effects()
    assert verb.symbol in symbols()
    assert verb.past and verb.meaning
    assert verb.says.count("{it}") == 1 and verb.then.count("{it}") >= 1
    assert bool(verb.wants) is bool(verb.lacks)


@pytest.mark.parametrize(
    ("key", "known"),
    [
        ("part", lambda: PARTS),
        ("trace", lambda: HANDLERS),
        ("sentence", lambda: prose._SAYINGS),
    ],
)
def test_no_room_knows_what_no_effect_asks_for(key: str, known) -> None:  # type: ignore[no-untyped-def]
    assert set(known()) == {getattr(effect, key) for effect in effects().values()}


def test_every_trait_is_one_of_some_verb() -> None:
    used = {
        t for verb in vocabulary().verbs.values() for t in records.TRAITS if getattr(verb.does, t)
    }
    assert used == set(records.TRAITS)


# ------------------------------------------------------------------ faults in the data are loud


def test_an_effect_that_a_room_has_nothing_for_stops_the_program() -> None:
    with pytest.raises(Unfit, match=r"the trace has nothing for the trace of: .*lift"):
        fit("trace", {"nothing": None}, "the trace")


def test_a_misspelt_trait_stops_the_program() -> None:
    with pytest.raises(Unfit, match=r"verbs\.csv, crush: “rases dust” is no trait"):
        with_traits(Effect("ready"), ["rases dust"], "verbs.csv, crush")


def test_a_verb_can_lack_a_trait_of_its_effect() -> None:
    assert effects()["ready"].raises_dust
    assert vocabulary().verbs["grind"].does.raises_dust
    assert not vocabulary().verbs["chop"].does.raises_dust


# ------------------------------------------------------------------ a verb added by a row alone


def test_every_command_that_is_given_a_procedure_is_tried() -> None:
    tried = {command for command, *_ in COMMANDS}
    assert tried | OF_OTHER_THINGS == set(commands.COMMANDS)
    assert not tried & OF_OTHER_THINGS


def _forget() -> None:
    """Let every module read the data files again."""
    for name, module in list(sys.modules.items()):
        if name.split(".")[0] == "procedure":
            for thing in list(vars(module).values()):
                if hasattr(thing, "cache_clear") and not isinstance(thing, type):
                    thing.cache_clear()


@pytest.fixture(scope="module")
def grown(tmp_path_factory: pytest.TempPathFactory) -> Iterator[None]:
    """The vocabulary with a verb more for each effect, and ``crush``, by rows alone.

    Every other verb has an effect of its own, which is a row as well: what it does is what a
    known one does, but no code and no other data file has heard of its name.
    """
    data = tmp_path_factory.mktemp("words") / "data"
    shutil.copytree(data_files.DATA, data)
    bare = dict.fromkeys(("traits", "says", "then", "wants", "lacks"), "")
    with (data / "verbs.csv").open("a", encoding="utf-8", newline="") as lines:
        writer = csv.DictWriter(lines, list(VERBS[0]), lineterminator="\n")
        for effect, row in FIRST.items():
            new = {"verb": _new(row["verb"]), "past": _new(row["past"])}
            if effect in OWN:
                new["effect"] = _new(effect)
            writer.writerow({**row, **bare, **new})
        writer.writerow({**FIRST["ready"], **bare, "verb": "crush", "past": "crushed"})
        own = {"effect": _new("treat"), "verb": "macerate", "past": "macerated"}
        writer.writerow({**FIRST["treat"], **own})
    known = rows("effects")
    with (data / "effects.csv").open("a", encoding="utf-8", newline="") as lines:
        writer = csv.DictWriter(lines, list(known[0]), lineterminator="\n")
        writer.writerows(
            {**row, "effect": _new(row["effect"])} for row in known if row["effect"] in OWN
        )
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(data_files, "DATA", data)
        _forget()
        yield
    _forget()


def _new(verb: str) -> str:
    return f"mock{verb}"


def _using(verb: str, called: str) -> str:
    """The first example of the language that shows a verb, with another in its place."""
    head = re.compile(rf"^(\s*(?:[\w-]+:\s*)?){verb}(?![\w-])(?!\s*:)", re.MULTILINE)
    found = next(one for one in SNIPPETS if head.search(one) and "follow" not in one)
    return whole(head.sub(rf"\g<1>{called}", found))


def _hold_alike(effect: str, asked: Sequence[tuple[str, ...]], said: Callable[[], str]) -> str:
    """Every command ends alike with a known verb and with the new one, which is returned."""
    verb = FIRST[effect]["verb"]
    Path("old.dye").write_text(_using(verb, verb), encoding="utf-8")
    Path("new.dye").write_text(_using(verb, _new(verb)), encoding="utf-8")
    for command, *options in asked:
        codes, told = [], []
        for file in ("old.dye", "new.dye"):
            Path("made.batch").unlink(missing_ok=True)
            codes.append(main([command, *[file if one == "FILE" else one for one in options]]))
            told.append(said())
        assert codes[0] == codes[1], (command, told)
    # “Top it up”: what is meant may stand between the words of a verb.
    assert _new(verb).split(" ")[0] in Path("made.md").read_text("utf-8").lower()
    return _new(verb)


@pytest.mark.usefixtures("grown")
@pytest.mark.parametrize("effect", sampled(list(FIRST), 12))
def test_every_command_knows_a_verb_that_is_a_row_alone(
    effect: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    verb = _hold_alike(effect, COMMANDS, lambda: capsys.readouterr().out)
    assert verb in Path("made.dot").read_text("utf-8")


@pytest.mark.usefixtures("grown")
@pytest.mark.parametrize("effect", FIRST)
def test_each_new_verb_is_known_checked_weighed_and_told(
    effect: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    quick = [one for one in COMMANDS if one[0] in QUICK or "made.md" in one]
    assert len(quick) == len(QUICK) + 1
    verb = _hold_alike(effect, quick, lambda: capsys.readouterr().out)
    assert main(["know", verb]) == 0
    assert "verb" in capsys.readouterr().out


@pytest.mark.usefixtures("grown")
@pytest.mark.parametrize("when", ["at 80 °C for 1 h", "at 30 °C overnight covered", "for 45 min"])
def test_a_verb_with_an_effect_of_its_own_is_fitted_into_the_day_and_the_night(
    when: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    known, new = FIRST["treat"]["verb"], "macerate"
    assert vocabulary().verbs[new].effect not in {row["effect"] for row in rows("hands_on_times")}
    said = []
    for verb in (known, new):
        steps = (
            "wet out yarn in tub with water 4 L for 1 h\n"
            "bath: prepare in kettle with water 3 L, alum 10 g\n"
            f"{verb} yarn in bath {when}\n"
            'rinse yarn in tub with water 4 L\ndry yarn\ndiscard bath to "foul drain"'
        )
        Path("plan.dye").write_text(whole(steps), encoding="utf-8")
        assert main(["timetable", "plan.dye"]) == 0
        said.append(re.findall(r"\d+:\d\d", capsys.readouterr().out))
    assert said[0] == said[1] != []


@pytest.mark.usefixtures("grown")
def test_a_new_verb_of_readying_warns_of_dust_and_keeps_its_own_word(tmp_path: Path) -> None:
    steps = (
        'procedure "An example"\n  by "Fellside Dye Circle"\n  revised 2026-06-14\n'
        "  place outdoors\n  wearing gloves, eye protection\nsteps\n"
        "  crush madder\n  red-bath: prepare in kettle with water 3 L, madder 50 g\n"
        '  discard red-bath to "foul drain"\n'
    )
    plan = procedure.read(whole(steps), "example.dye")
    said = [one.sentence for one in plan.findings if "mask" in one.sentence]
    assert said and "madder is ground without a mask" in said[0]
    main(["handout", "--no-chart", "-o", str(tmp_path / "made.md"), _saved(tmp_path, steps)])
    paper = (tmp_path / "made.md").read_text("utf-8")
    assert "Crush the madder." in paper and "Grind the madder" not in paper


def _saved(folder: Path, steps: str) -> str:
    (folder / "example.dye").write_text(whole(steps), encoding="utf-8")
    return str(folder / "example.dye")


# ------------------------------------------------------------------ nothing else knows their names


def _names_in_code() -> Iterator[str]:
    """Where code compares with the name of a verb or an effect, or lists such names."""
    names = set(effects()) | {row["verb"] for row in VERBS}
    # Who reads prose sorts the verbs of English, many of which are verbs of the language too.
    prose = HOUSE / "draft"
    for file in sorted(file for file in HOUSE.rglob("*.py") if prose not in file.parents):
        for node in ast.walk(ast.parse(file.read_text("utf-8"))):
            where = f"{file.relative_to(ROOT)}:{getattr(node, 'lineno', 0)}"
            if isinstance(node, ast.Compare) and not isinstance(node.ops[0], ast.Is | ast.IsNot):
                if not isinstance(node.left, ast.Attribute | ast.Name):
                    continue  # neither a name nor what something has
                asked = ast.unparse(node.left)
                if ast.unparse(node.comparators[0]).endswith(".effect"):
                    continue  # two steps are held against each other, and no effect is named
                if asked.endswith((".effect", "verb.name")) or asked == "effect":
                    yield where
            if isinstance(node, ast.Tuple | ast.List | ast.Set) and len(node.elts) > 1:
                said = [e.value for e in node.elts if isinstance(e, ast.Constant)]
                if len(said) == len(node.elts) and set(said) <= names:
                    yield where


def test_no_verb_and_no_set_of_effects_is_named_in_code() -> None:
    assert list(_names_in_code()) == []
