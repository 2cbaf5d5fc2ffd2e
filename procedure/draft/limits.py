"""How near, how much, how long: the numbers by which prose is read that no book gives.

All of them are our own, and each says what it is for. Where "tried" stands, it was changed while
nine sets of open trials were measured (3,716 amounts, 3,027 right and 39 wrong): the figures are
how many more were right and wrong with the other value. Where it does not, it was not tried.
"""

from __future__ import annotations

from fractions import Fraction

# Sentences between a time on a bath and the last words that made, strained or moved something:
# beyond them the time is asked about. Of 20 such times in recipes not seen before, 13 were wrong.
# Tried without fibre 0: 29 fewer right, 1 fewer wrong; 2: 11 more right, 1 more wrong.
SENTENCES_BEHIND_WITHOUT_FIBRE = 1
SENTENCES_BEHIND_WITH_FIBRE = 3  # tried 2: 10 fewer right; 4: 3 more right

# Letters: what was named so long before a heat or a time is not what it is about.
LETTERS_TO_WHAT_IS_NAMED = 1200  # tried 400 and 5000: no difference

# How far a measure in brackets may be rounded: "3 gal (11 L)" are 11.4 L.
ROUNDED = Fraction(1, 10)  # tried 1/20 and 1/5: no difference
# Degrees Celsius by which two scales may be rounded away from each other: "85 °C (180 °F)".
DEGREES_APART = 3  # tried 1 and 6: no difference
# Degrees: "180° to 190° F." is how exactly a heat is kept; from 30 to 85 it rises.
SMALL_SPAN = 15  # tried 8: 1 fewer right, 1 more wrong; 30: no difference
WIDEST_RANGE = 25  # tried 15 and 45: no difference

# Words between an amount and what it measures, where the thing comes behind it and before it.
WORDS_TO_THING_BEHIND = 6
WORDS_TO_THING_BEFORE = 4
# Letters between an amount and its thing that leave no doubt: "100 g of weld".
LETTERS_TO_OWN_THING = 4
# Letters between a stuff and so much of it in so much water: "a vinegar rinse (50 ml in 5 l)".
LETTERS_TO_LIQUOR = 12

# Letters behind "Dye: 1 kg of tansy." in which the bath is strained or the fibre put in.
LETTERS_TO_FIBRE_GOES_IN = 240

# Parts to one of fibre: so much is of water, and of no stuff.
LEAST_LIQUOR = 10
# So many times the weight of the fibre of a salt is no dyer's measure.
MOST_SALT = 4
# A number that counts what was named before it is no smaller: "six of them".
FEWEST_COUNTED = 2
# Sentences from a dip to the words that it is done again: "Dip. Air. Repeat four times."
SENTENCES_OF_A_ROUND = 2
# Degrees a minute: no bath is heated faster, so "80 °C / 1 h" are two amounts.
FASTEST_RISE = 12
# "Boil two hours, simmer three": a number without a unit is no longer than a clock goes round.
LONGEST_ELLIPTIC_TIME = 60

# Letters behind a verb in which the amount itself is said: "cover with 4 litres of water".
LETTERS_TO_WHAT_IS_SAID = 40
# Letters: what goes on for longer is no sentence, and is slow to read.
LONGEST_SENTENCE = 1200
# Letters: no clause of a recipe is longer, and a word that turns the meaning stands within it.
LONGEST_CLAUSE = 120
# Letters of a heading.
LONGEST_HEADING = 48
# Letters of a title.
LONGEST_TITLE = 60
# Letters in which the bracket of a caution is looked for.
LETTERS_OF_A_CAUTION = 120
# How alike a slip of the pen is to the word that is meant, and how long that is at least.
LIKE_ENOUGH = 0.86
LETTERS_OF_A_SLIP = 6
# Letters: shorter formulas are as often numbers of samples.
LETTERS_OF_A_FORMULA = 4
# Letters: a line shorter than this was not broken because it was full.
SHORTEST_WRAP = 30
# Sentences behind the name of a lot in which what is timed is timed for it.
SENTENCES_BEHIND_A_LOT = 2
# Letters between an amount and a word that sets its end: "1 hour or more".
LETTERS_TO_AN_END = 3
# Letters of a note: more is no note but a paragraph.
LONGEST_NOTE = 80

# What follows is of the signs by which a placing is doubted (signs_of_doubt.csv).
# The logarithm of two to five: what has more than two chances in seven to be wrong is taken back.
# Of the 1,484 placings of tests/draft/weighing_signs.py (141 wrong), each set weighed without it,
# those are 43 right and 16 wrong (one in five: 80 and 22; one in three: 33 and 13).
ENOUGH_DOUBT = -0.9163
# From here on two bare numbers, "between 60 and 65", are a heat and no count.
LEAST_BARE_HEAT = 30
# Letters from an amount to the share that says the same: "13 g of alum, which is 12 percent".
LETTERS_TO_A_SHARE = 90
# Letters to what was named last, beyond which "it" is seldom that.
LETTERS_OF_IT = 160
# Steps of one bath, beyond which several baths may have been taken for one.
MUCH_DONE = 10
# Words that nothing was made of: since the last step that moved something, and in one clause.
MUCH_NOT_READ = 10
SOME_NOT_READ = 3
# The share of all words of a recipe that nothing was made of.
SHARE_BADLY_READ = 0.25
SHARE_MOSTLY_NOT_READ = 0.3

# How far before a verb another deed of its sentence is looked for that says what "it" is.
LETTERS_OF_A_DEED_BEFORE = 120

# °C that a room may have in summer: a bath above it has been heated (common practice).
WARM_ROOM = 35

# How far a slip stands before the words that put it right: "150 g of dried weld - no, sorry".
LETTERS_OF_WHAT_IS_CORRECTED = 24

# Litres: what has so much water of its own is as often a bath as a liquor.
LITRES_OF_A_BATH = 3

# In which "and to the last of the waters" stands before its verb.
LETTERS_OF_THE_LAST = 40

# Between an amount and the row that says it again: an aside stands there, and no other thought.
LETTERS_TO_WHAT_IS_RESTATED = 90

# Litres: what stuff is stirred into so much of is a bath of its own, and no paste for another.
LEAST_LITRES_OF_A_BATH = 3
