"""What a paper says to do first, and whom to call, which the group fills in before it begins."""

from __future__ import annotations

from procedure.facts.handling import hazards
from procedure.handout.cautions import met
from procedure.paper.blocks import PaperSection, Para
from procedure.paper.pieces import Blank, Phrase, phrase
from procedure.pipeline import Judged
from procedure.vocabulary.first_aid import first_aid
from procedure.vocabulary.thresholds import threshold

# Kent Fire and Rescue Service, "First aid: burns and scalds": running tap water for 20 minutes;
# clothing and jewellery off unless they stick; no ice, butter or toothpaste; then call for help.
SCALDS = (
    "Scalds: cool running water at once, for 20 minutes; clothes and rings off unless they "
    "stick; no ice, no fat; then ask a doctor."
)


def whom_to_call() -> Phrase:
    """The line that the group fills in before it begins."""
    return phrase(
        "Poison centre: ",
        Blank("number", wide=True),
        "; doctor: ",
        Blank("number", wide=True),
        "; emergency: ",
        Blank("number", wide=True),
        ". Fill this in before you begin.",
    )


def what_to_do_first(plan: Judged) -> tuple[str, ...]:
    """What to do first, way by way, for all that a plan uses and that harms, and for scalds."""
    every = [entry.name for made in met(plan).values() for entry in hazards(made)]
    return (*(one.said for one in first_aid(every)), *((SCALDS,) if scalds(plan) else ()))


def scalds(plan: Judged) -> bool:
    """True where a bath is so hot that it scalds at once."""
    baths = (bath for moment in plan.trace.moments for bath in moment.after.baths.values())
    hot = threshold("scalding bath").value
    return any(bath.heat is not None and bath.heat[1] >= hot for bath in baths)


def aid_section(said: tuple[str, ...], numbers: bool = True) -> tuple[PaperSection, ...]:
    """The first aid of a sheet with whom to call; none where nothing that is used harms.

    Without ``numbers`` it points to the handout for them, so that a record has no blanks but its
    own.
    """
    if not said:
        return ()
    whom = whom_to_call() if numbers else ("Whom to call is on the handout.",)
    lines = (*(Para((line,)) for line in said), Para(whom))
    return (PaperSection("help", ("First aid",), lines),)
