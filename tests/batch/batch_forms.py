"""A plan as a procedure would give it, and what a person says to each of its blanks."""

from __future__ import annotations

from procedure.batch import FormBlank, PlannedBatch, PlannedStep
from procedure.batch.asking import Question
from procedure.batch.side_of_form import PlannedUse, content_hash

PLANNED = PlannedBatch(
    "weld-yellow-wool.dye",
    "Weld yellow on wool",
    "2026-07-05",
    content_hash("procedure"),
    (PlannedUse("yarn", "100 g"),),
    (PlannedUse("alum", "15 g"), PlannedUse("weld", "100 g")),
    (
        PlannedStep(
            "1",
            "wet out yarn in tub",
            "wet out",
            ("yarn",),
            (FormBlank("at", "", "temperature", "30 °C"), FormBlank("for", "", "time", "1 h")),
        ),
        PlannedStep(
            "2",
            "mordant yarn in alum-bath",
            "mordant",
            ("yarn", "alum-bath"),
            (
                FormBlank("from", "", "temperature", "40 °C"),
                FormBlank("to", "", "temperature", "85 °C (185 °F)"),
                FormBlank("over", "", "time", "45 min"),
                FormBlank("with", "alum", "mass", "15 g"),
            ),
            timed=True,
        ),
        PlannedStep(
            "3",
            "if the gold is too pale",
            "",
            (),
            (FormBlank("taken", "", "choice", "", choices=("yes", "no")),),
        ),
        PlannedStep(
            "4",
            "rinse yarn in tub",
            "rinse",
            ("yarn",),
            (FormBlank("until", "", "words", "the water runs clear"),),
        ),
        PlannedStep(
            "5", "dip yarn in vat", "dip", ("yarn",), (FormBlank("times", "", "count", "3"),)
        ),
    ),
    ("yarn",),
)

# What a person might say to each blank of the form, by its line.
REPLIES = {
    "day": "2026-04-18",
    "place": "the wash-house",
    "by": "Ash",
    "weather": "dry and still",
    "source": "the spring",
    "hardness": "4 °dH",
    "pH": "7.2",
    "yarn": "102",
    "alum": "14.4 g",
    "weld": "98",
    "at": "28",
    "for": "70 min",
    "from": "38",
    "to": "92",
    "over": "40",
    "taken": "no",
    "until": "three waters",
    "times": "4",
    "begun": "09:10",
    "ended": "2026-04-18 11:20",
    "seen": 'a little "froth"',
    "colour": "#d2bb3a",
    "weight": "101 g",
    "evenness": "even",
    "hand": "soft",
}


def reply(question: Question) -> str:
    last = question.what.split()
    if "supplier" in last:
        return "our own bed"
    return REPLIES[last[1] if last[0] == "with" else last[0]]
