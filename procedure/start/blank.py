"""An empty form: every section, with comments that say what goes where."""

from __future__ import annotations

from datetime import date


def blank(title: str) -> str:
    """An empty form with comments that say what goes where."""
    return f"""procedure "{title}"
  # Whose it is, how old, and where it comes from. Take the # away to use a line.
  # by "your name"
  # revised {date.today().isoformat()}
  # source "a book and its page, a person, or your own trials"
  # makes "what comes out, such as 100 g of gold wool"
  # place ventilated        (or outdoors, or indoors)
  # wearing gloves          (eye protection, mask, apron: with commas between)
  # audience beginners      (children, adults: who is taught by it)
  # note "what a stranger must know, such as that your water is hard"

fibre
  # A name, then what it is, its dry weight, and whether it is clean.
  # yarn: wool yarn, 100 g, scoured

equipment
  # Every pot: what it is made of, how much it holds, a lid, and that it is never used for food.
  # pot: stainless steel pot, 8 L, lidded, for dyeing only
  # tub: plastic tub, 8 L, for dyeing only
  # bag: net bag, for dyeing only

materials
  # Plants with their part, fresh or dried; salts by their names in the trade.
  # alum: potassium alum
  # skins: onion skins, dried
  # soap: neutral soap

steps
  # One step a line, in order. Amounts by the fibre (10 % of yarn) grow with it.
  # wet out yarn in tub with water 30 : 1 of yarn at 30 °C for 1 h

  # A bath is named by the word before the colon.
  # alum-bath: prepare in pot with water 30 : 1 of yarn, alum 12 % of yarn at 40 °C
  # mordant yarn in alum-bath from 40 °C to 80 °C over 45 min for 1 h
  # cool alum-bath to 30 °C
  # rinse yarn in tub with water 30 : 1 of yarn at 30 °C until "the water runs clear"
  # discard alum-bath to "foul drain, never the garden"
  # clean pot

  # gold-bath: prepare in pot with water 30 : 1 of yarn, skins 50 % of yarn
  # simmer gold-bath at 85 °C for 1 h covered
  # cool gold-bath to 40 °C
  # strain gold-bath through bag
  # dye yarn in gold-bath from 40 °C to 80 °C over 45 min for 45 min
  # cool gold-bath to 30 °C

  # What is loose goes out; then say where every bath goes, and clean what was used.
  # wash yarn in tub with water 30 : 1 of yarn, soap 1 g/L at 30 °C for 10 min
  # rinse yarn in tub with water 30 : 1 of yarn at 30 °C until "the water runs clear"
  # dry yarn
  # discard gold-bath to "foul drain; the spent skins are composted"
  # clean pot, tub, bag
"""
