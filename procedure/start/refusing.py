"""Why there is no method: reasons of the trade, each in a sentence with what would serve."""

from __future__ import annotations

from procedure.start.wish import NoMethod, Wish, usual_range
from procedure.vocabulary import Entry, vocabulary
from procedure.vocabulary.thresholds import related

# Vat dyes that are sold as a powder of their blue, as a first vat is made with.
POWDERS = {"indigo": "", "woad": "powder"}


def refuse(asked: Wish) -> None:
    """Raises :class:`NoMethod` where the vocabulary says that a method cannot work."""
    _fibre(asked)
    _danger(asked.dye)
    if asked.over is not None:
        _danger(asked.over)
        _vat(asked.over)
    if asked.in_vat:
        _vat(asked.dye)
        _in_a_vat(asked)
        return
    _dyestuff(asked)
    _mordant(asked)
    _after(asked)
    if asked.over is not None and asked.over.facts["dye_class"] != "vat":
        raise NoMethod(
            f"{asked.over.name} is no vat dye, and only a vat goes under another colour; "
            "indigo would serve."
        )


def _fibre(asked: Wish) -> None:
    kind = asked.fibre.facts["class"]
    if kind == "synthetic" and asked.fibre.name != "nylon":
        raise NoMethod(f"{asked.fibre.name} takes no natural dye; wool, silk or cotton would.")
    for one in filter(None, (asked.dye, asked.over)):
        if one.facts["dye_class"] == "acid extract" and asked.plant_fibre:
            raise NoMethod(
                f"{one.name} colours wool and silk only; for {asked.fibre.name}, indigo in a vat "
                "would serve."
            )
        for way in related("does not hold on", one.name):
            if way.second == asked.fibre.name or kind.endswith(way.second):
                raise NoMethod(
                    f"{one.name} {way.note}; for {asked.fibre.name}, weld or madder on tannin and "
                    "alum would serve."
                )


def _danger(dye: Entry) -> None:
    danger = vocabulary().danger(dye)
    if danger is None:
        return
    serves = danger.facts["instead"]
    instead = f"; {serves} gives a like colour" if serves else "; weld would serve"
    if danger.facts["refuse"] == "yes" or danger.facts["level"] == "deadly":
        raise NoMethod(f"{dye.name} is too dangerous to begin with{instead}.")
    if not _known_amount(dye):
        raise NoMethod(
            f"{dye.name} is known as a plant that harms, and no source says how much of it "
            f"dyes{instead}."
        )


def _known_amount(dye: Entry) -> bool:
    return any(usual_range(dye, column) for column in ("dried", "fresh"))


def _vat(dye: Entry) -> None:
    if dye.facts["dye_class"] != "vat":
        return
    if dye.name not in POWDERS or usual_range(dye, "dried") is None:
        why = dye.facts["cautions"] or "its blue must be won from it first, which is another work"
        raise NoMethod(f"{dye.name} is not for a first vat ({why}); indigo would serve.")


def _in_a_vat(asked: Wish) -> None:
    name = asked.dye.name
    if asked.mordant is not None:
        raise NoMethod(
            f"{name} holds in a vat without a mordant, and its alkali takes {asked.mordant.name} "
            "off again; “none” would serve."
        )
    if asked.over is not None:
        raise NoMethod(f"{name} over {asked.over.name} is blue on blue; dip more often instead.")
    if asked.after is not None:
        raise NoMethod(
            f"{asked.after.name} does nothing for the blue of {name}; dip more often for a "
            "darker one."
        )


def _dyestuff(asked: Wish) -> None:
    dye = asked.dye
    if not _known_amount(dye):
        raise NoMethod(
            f"no source says how much {dye.name} dyes; weld, madder or another whose usual "
            "amount is known would serve."
        )
    if asked.mordant is None and dye.facts["mordant"] == "needed":
        what = "tannin and alum" if asked.wants_tannin else "alum"
        raise NoMethod(
            f"{dye.name} holds only on a mordant; {asked.fibre.name} takes it with {what}."
        )


def _mordant(asked: Wish) -> None:
    mordant = asked.mordant
    if mordant is None:
        return
    if mordant.facts["restricted"]:
        safer = mordant.facts["safer"] or "alum"
        raise NoMethod(f"{mordant.name} is restricted; {safer} would serve.")
    column = "cellulose" if asked.plant_fibre else "protein"
    other = "protein" if asked.plant_fibre else "cellulose"
    if usual_range(mordant, column) is None and usual_range(mordant, other) is not None:
        used = "wool and silk" if asked.plant_fibre else "cotton and linen"
        raise NoMethod(
            f"{mordant.name} is used on {used}; on {asked.fibre.name}, alum would serve."
        )
    if usual_range(mordant, column) is None:
        raise NoMethod(
            f"no usual amount of {mordant.name} on {asked.fibre.name} is known; alum would serve."
        )


def _after(asked: Wish) -> None:
    after = asked.after
    if after is None:
        return
    if after.facts["restricted"]:
        raise NoMethod(f"{after.name} is restricted; iron would serve after the dye.")
    column = "cellulose" if asked.plant_fibre else "protein"
    metal = after.facts.get("metal", "")
    if "modifier" not in after.words("role") or not metal or usual_range(after, column) is None:
        raise NoMethod(
            f"{after.name} is no usual after-bath on {asked.fibre.name}; iron would serve."
        )
