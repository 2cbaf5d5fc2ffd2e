"""A procedure that just does not go into one day from nine to six."""

ONION = """procedure "Onion in one short day"
  makes "dyed wool"
  place ventilated

fibre
  yarn: wool yarn, 100 g, scoured
equipment
  pot: stainless steel pot, 8 L, lidded, for dyeing only
  tub: plastic tub, 10 L, for dyeing only
  hob: hotplate, 1500 W
materials
  skins: onion skins, dried
steps
  soak: wet out yarn in tub with water 5 L at 30 °C for 1 h
  gold-bath: prepare in pot with water 4 L, skins 50 g
  brew: simmer gold-bath at 85 °C for 1 h covered
  cool gold-bath to 40 °C
  strain gold-bath
  dye yarn in gold-bath from 40 °C to 85 °C over 45 min for 1 h
  cool gold-bath to 40 °C
  rinse yarn in tub with water 5 L at 30 °C until "the water runs clear"
  dry yarn
  discard gold-bath to "foul drain"
  clean pot, tub
"""
