"""What fibre carries back into the bath that it came from has met there already."""

from expecting import findings

VAT = """fibre
  yarn: wool yarn, 100 g, scoured
materials
  zinc: zinc dust
  lime: slaked lime
  indigo: natural indigo
equipment
  second: stainless steel pot, 15 L, for dyeing only
steps
  wet out yarn in tub with water 5 L at 30 °C for 1 h
  vat: prepare in kettle with water 6 L, lime 10 g, zinc 10 g, indigo 5 g at 50 °C
"""


def places(steps: str) -> list[tuple[int, str]]:
    head = VAT.count("\n")
    found = findings(VAT + steps)
    return [(f.line, f.sentence) for f in found if f.rule == "must-not-meet" and head]


def test_told_once_where_the_two_go_in() -> None:
    steps = "  dip yarn in vat for 5 min\n  air yarn for 5 min\n  dip yarn in vat for 5 min\n"
    told = places(steps)
    assert len(told) == 1 and "not rinsed" not in told[0][1]


def test_another_bath_meets_what_fibre_brings() -> None:
    other = VAT.replace(", zinc 10 g", "").replace("lime 10 g, indigo 5 g", "lime 10 g, indigo 5 g")
    steps = (
        "  dip yarn in vat for 5 min\n  zinc-bath: prepare in second with water 6 L, zinc 10 g\n"
        "  dip yarn in zinc-bath for 5 min\n"
    )
    told = [f for f in findings(other + steps) if f.rule == "must-not-meet"]
    assert any("not rinsed" in one.sentence for one in told)
