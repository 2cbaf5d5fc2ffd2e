"""The words of the trade, read from the data files beside this one.

Everything a dyer might correct is in ``data/*.csv``, each row with its source.
"""

from procedure.vocabulary.effects import Effect
from procedure.vocabulary.entries import Entry, HeatWord, Unit, Verb
from procedure.vocabulary.library import Vocabulary, near, vocabulary

__all__ = ["Effect", "Entry", "HeatWord", "Unit", "Verb", "Vocabulary", "near", "vocabulary"]
