"""First aid against the wording of ghsystem, the regulation's changes to it, and its tables."""

from __future__ import annotations

import ghsystem
import pytest
from data_tables import REFERENCE, Row, by_name, rows, words

from procedure.vocabulary import vocabulary
from procedure.vocabulary.first_aid import first_aid, wording

PUBLISHED = {row["code"]: row["statement"] for row in rows("ghsystem_precautionary", REFERENCE)}

# ghsystem has the wording of 2008. Regulations (EU) 2016/918 and (EU) 2019/521 (the 8th and 12th
# adaptations) put these in Annex IV, part 2 in its place; P331 is a misprint of the package.
AMENDED = {
    "P310": "Immediately call a POISON CENTER/doctor/…",
    "P311": "Call a POISON CENTER/doctor/…",
    "P312": "Call a POISON CENTER/doctor/…/if you feel unwell.",
    "P331": "Do NOT induce vomiting.",
    "P334": "Immerse in cool water [or wrap in wet bandages].",
    "P340": "Remove person to fresh air and keep comfortable for breathing.",
    "P352": "Wash with plenty of water/…",
    "P353": "Rinse skin with water [or shower].",
    "P361": "Take off immediately all contaminated clothing.",
    "P362": "Take off contaminated clothing.",
}
# Came with the 8th adaptation, after the package's wording.
NEW = {"P364": "And wash it before reuse."}


def coded(row: Row) -> str:
    return row["code"]


@pytest.mark.parametrize("row", rows("precautionary"), ids=coded)
def test_a_statement_has_the_wording_of_the_regulation(row: Row) -> None:
    code = row["code"]
    assert row["statement"] == (AMENDED | NEW).get(code, PUBLISHED.get(code))


def test_only_what_was_amended_differs_from_the_package() -> None:
    differ = {
        row["code"]
        for row in rows("precautionary")
        if row["statement"] != PUBLISHED.get(row["code"])
    }
    assert differ == set(AMENDED) | set(NEW)


@pytest.mark.parametrize("code", ["P305+P351+P338", "P332+P313", "P333+P313", "P337+P313"])
def test_joined_statements_read_as_the_package_joins_them(code: str) -> None:
    assert wording(code) == PUBLISHED[code]


def test_two_that_are_one_sentence_are_joined_as_the_regulation_joins_them() -> None:
    # Annex IV, P362 + P364.
    assert wording("P362+P364") == "Take off contaminated clothing and wash it before reuse."


def test_the_reference_wording_is_that_of_the_installed_ghsystem() -> None:
    package = ghsystem.installed()
    if package is None:
        pytest.skip("ghsystem (Debian: texlive-science) is not installed")
    read = ghsystem.precautions(package.read_text(encoding="utf-8"))
    assert {code: text for code, text in read.items() if code.startswith("P3")} == PUBLISHED


def test_the_reader_of_ghsystem_reads_its_precautions() -> None:
    text = (
        "\\ghsystem_add_statement:nnn {P} { 305 + 351 }\n"
        "  { IF~ IN~ EYES:~ Rinse\\ghsystem_slash: wash~ with~ \\l_ghsystem_dots_tl }\n"
        "\\ghsystem_add_statement:nnn {P} { 411 }\n"
        "  { Store~ at~ \\SI { 50 } { \\GHScelsius } . }\n% end\n"
    )
    assert ghsystem.precautions(text) == {"P305+P351": "IF IN EYES: Rinse/wash with …"}


# Response statements of Annex I, in the tables that label each class (3.1.3, 3.2.5, 3.3.5, 3.4.7,
# 3.8.4 and so on); route and codes in the order in which they are to be done.
LABELS = [
    ("H301", "swallowed", ["P301+P330", "P310"]),
    ("H302", "swallowed", ["P301+P330", "P312"]),
    ("H311", "skin", ["P302+P352", "P361+P364", "P312"]),
    ("H314", "eyes", ["P305+P351+P338", "P310"]),
    ("H314", "skin", ["P303+P361+P353", "P310", "P363"]),
    ("H314", "swallowed", ["P301+P330+P331", "P310"]),
    ("H314", "breathed in", ["P304+P340", "P310"]),
    ("H315", "skin", ["P302+P352", "P332+P313", "P362+P364"]),
    ("H317", "skin", ["P302+P352", "P333+P313", "P362+P364"]),
    ("H318", "eyes", ["P305+P351+P338", "P310"]),
    ("H319", "eyes", ["P305+P351+P338", "P337+P313"]),
    ("H330", "breathed in", ["P304+P340", "P310"]),
    ("H331", "breathed in", ["P304+P340", "P311"]),
    ("H332", "breathed in", ["P304+P340", "P312"]),
    ("H334", "breathed in", ["P304+P340", "P342+P311"]),
    ("H335", "breathed in", ["P304+P340", "P312"]),
    ("H350", "afterwards", ["P308+P313"]),
    ("H372", "afterwards", ["P314"]),
    ("H225", "skin", ["P303+P361+P353"]),
    ("H271", "clothing", ["P306+P360"]),
    ("H250", "skin", ["P302+P335+P334"]),
    ("heats when wet", "skin", ["P302+P335+P352"]),
]


@pytest.mark.parametrize(("hazard", "route", "codes"), LABELS)
def test_a_hazard_calls_for_the_statements_of_its_class(
    hazard: str, route: str, codes: list[str]
) -> None:
    found = {one.route: one for one in first_aid([hazard])}
    assert list(found[route].codes) == codes


def test_the_routes_come_eyes_first_and_breathing_after_swallowing() -> None:
    routes = [one.route for one in first_aid(["H271", "H314", "H350"])]
    assert routes == ["eyes", "skin", "clothing", "swallowed", "breathed in", "afterwards"]


def test_the_most_urgent_of_several_hazards_decides() -> None:
    found = {one.route: one for one in first_aid(["H302", "H314", "H315", "H319", "H335"])}
    assert {one.call for one in found.values()} == {"P310"}
    assert found["swallowed"].do == ("P301+P330+P331",)


def test_what_must_not_be_vomited_is_said_though_another_hazard_is_as_urgent() -> None:
    for listed in (["H301", "H314"], ["H314", "H301"], ["H301", "poison if eaten"]):
        swallowed = next(one for one in first_aid(listed) if one.route == "swallowed")
        assert any("P331" in code for code in swallowed.do), listed


def test_eyes_are_rinsed_before_anyone_is_called_and_lenses_come_out_while_rinsing() -> None:
    for hazard in ("H314", "H318", "H319", "irritates eyes", "toxic plant"):
        eyes = next(one for one in first_aid([hazard]) if one.route == "eyes")
        plain = eyes.plain.lower()
        steps = [plain.index(words) for words in ("rinse with water at once", "contact lenses")]
        steps.append(max(plain.find("call the poison centre"), plain.find("ask a doctor")))
        assert steps == sorted(steps), hazard
        assert "go on rinsing" in plain


def test_hazards_that_call_for_nothing_give_nothing() -> None:
    assert first_aid([]) == ()
    assert first_aid(["H290", "stains skin", "protected"]) == ()


# Nothing to do for a person: they harm metal, water or the law, or only tell of a fire.
NO_AID = {"H251", "H272", "H290", "H400", "H410", "H411", "H412"}
NO_AID_WORDS = {"protected", "stains skin"}
# How dangerous a plant is: these come beside its own hazards, which have the first aid.
LEVELS = {"deadly plant", "harmful plant"}


def test_every_hazard_has_its_first_aid_or_is_named_as_having_none() -> None:
    have = {row["hazard"] for row in rows("first_aid")}
    assert have == (set(by_name("ghs")) - NO_AID) | (
        set(by_name("hazards")) - NO_AID_WORDS - LEVELS
    )


@pytest.mark.parametrize("row", rows("plants_that_harm"), ids=lambda row: row["name"])
def test_a_plant_that_is_poisonous_to_eat_has_its_first_aid_by_its_own_hazards(row: Row) -> None:
    if "swallowed" not in words(row["first_aid"]):
        assert row["level"] != "deadly"
        return
    own = by_name("dyestuffs").get(row["dyestuff"])
    for hazards in (row["hazards"], *([own["hazards"]] if own is not None else [])):
        (aid,) = (one for one in first_aid(words(hazards)) if one.route == "swallowed")
        assert row["level"] != "deadly" or aid.call == "P310"


def test_first_aid_uses_known_routes_and_statements_and_a_call_has_its_rank() -> None:
    routes, codes = set(by_name("first_aid_routes")), by_name("precautionary")
    for row in rows("first_aid"):
        assert row["route"] in routes, row
        used = [*words(row["do"]), *words(row["call"]), *words(row["after"])]
        assert used, row
        for code in used:
            assert set(code.split("+")) <= set(codes), row
        if row["call"]:
            assert codes[row["call"].split("+")[-1]]["call_rank"], row
    ranks = [row["call_rank"] for row in codes.values() if row["call_rank"]]
    assert len(ranks) == len(set(ranks))


def test_no_statement_is_listed_that_no_hazard_calls_for() -> None:
    used = {
        part
        for row in rows("first_aid")
        for cell in (row["do"], row["call"], row["after"])
        for code in words(cell)
        for part in code.split("+")
    }
    assert set(by_name("precautionary")) == used


def test_quicklime_is_brushed_off_before_any_water_comes_to_it() -> None:
    entry = vocabulary().material("quicklime")
    assert entry is not None
    skin = {one.route: one for one in first_aid(entry.words("hazards"))}["skin"]
    assert skin.do[0] == "P302+P335+P352"
    said = skin.plain.lower()
    assert said.index("brush") < said.index("water")
