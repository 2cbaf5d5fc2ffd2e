"""Texts of records for tests, and strategies for any text."""

from __future__ import annotations

from hypothesis import strategies as st

FULL = """\
# All of this is invented.
batch "Spring gold"
  of "weld-yellow-wool.dye"
  titled "Weld yellow on wool"
  edition 2026-07-05
  content "0123456789abcdef"
  day 2026-04-18 to 2026-04-19
  place "the wash-house"
  by "Ash", "Rowan"
  weather "dry, 12 °C"
  photograph "spring-gold.jpg"
  note "the first of the year"
water
  source "the spring"
  hardness 4 °dH
  pH 7.2
  note "after rain"
fibre
  yarn: 102 g planned 100 g, supplier "the hill flock", "two-ply"
materials
  weld: 98 g planned 100 g, supplier "our own bed",
    harvested 2025-07-20, from "the walled garden", age "nine months"
  alum: 14.4 g planned 15 g, lot "A 17"
steps
  step 1 "wet out yarn"
    begun 09:10
    for 1 h 10 min planned 1 h
    at ____ planned 30 °C
  step 4 "mordant yarn in alum-bath"
    from 38 °C planned 40 °C
    to 92 °C planned 85 °C
    over 40 min planned 45 min
    for 1 h planned 1 h
    with alum 14.4 g planned 15 g
    heats 23:50 40 °C, 00:35 85 °C, 01:35 92 °C
    logger "kettle.csv" time "Time" heat "Probe"
    ended 2026-04-19 01:40
    seen "froth"
  step 5 "if the gold is too pale"
    taken "no" planned "yes or no"
  step 6 "dip yarn in vat"
    times 4 planned 3
    photograph "dip.jpg"
  step 7 "cool alum-bath"
    skipped "no time"
    otherwise "it was poured off hot"
  added "rinsed again in the beck"
    for 5 min
    note "cold"
results
  yarn
    colour Lab 78.2 2.1 64 under D65 at 10°
    colour hex "#d2bb3a"
    colour sRGB 210 187 58
    colour XYZ 50 54 12 under C at 2°
    colour Munsell 5Y 7.5/9
    colour meter "meter.csv" row "yarn 1"
    weight 101 g
    evenness "even"
    hand "soft"
    photograph "gold.jpg"
    note "a good one"
    wash test
      day 2026-05-02
      washed "neutral soap at 40 °C"
      before Lab 78.2 2.1 64 under D65 at 10°
      after Lab 78.9 2.0 62 under D65 at 10°
      change 4-5
      cloth "cotton" staining 4
    light test
      begun 2026-05-01
      ended 2026-08-01
      sun 310 h
      covered Lab 78.2 2.1 64 under D65 at 10°
      exposed Lab 80.1 0.5 52 under D65 at 10°
      change 3
      reference 3 change 2-3
      reference 4 change 3-4
      grade 3-4
      note "in the south window"
"""

_PIECES = (
    "batch water fibre materials steps results of titled edition content day place by weather "
    "photograph note source hardness pH step added at from to over for until with times taken "
    "way begun ended heats logger skipped otherwise seen colour weight evenness hand wash light "
    "test sun covered exposed change reference grade cloth staining washed before after planned "
    "supplier lot harvested age Lab XYZ sRGB hex Munsell meter row under D65 10° 2° yarn: weld: "
    "alum 12 g 85 °C 1 h 30 min ____ unstated yes 3-4 4 °dH 7.2 09:10 2026-04-18 2026-13-40 25:61 "
    '"words" “words” " “ # , : ; 3,5 -1 1/0 5Y 7.5/9 #c8a232 \t \u00a0'
).split(" ")

_lines = st.builds(
    lambda indent, words: " " * indent + " ".join(words),
    st.integers(0, 8),
    st.lists(st.sampled_from(_PIECES) | st.text(max_size=6), max_size=9),
)
texts = st.one_of(
    st.text(max_size=300),
    st.lists(_lines, max_size=25).map("\n".join),
)


@st.composite
def spoilt(draw: st.DrawFn, text: str = FULL) -> str:
    """A record (the full one) with some characters taken out, put in or changed."""
    for _ in range(draw(st.integers(1, 6))):
        at = draw(st.integers(0, len(text)))
        length = draw(st.integers(0, 12))
        new = draw(st.text(max_size=4) | st.sampled_from(_PIECES))
        text = text[:at] + new + text[at + length :]
    return text
