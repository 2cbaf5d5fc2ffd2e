"""Questions in plain data and answers in plain data: what a page asks, over any transport.

A question is ``{"ask": NAME, ...}``; an answer holds only text, numbers, lists and
dictionaries. Lines and columns count from 1, in characters. A question that cannot be
answered gets ``{"why": SENTENCE}``.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from pathlib import Path
from typing import Any

from procedure.collection.files import NotText
from procedure.findings import LEVELS, Edit, Finding
from procedure.pipeline import Judged
from procedure.rework.mend import edited
from procedure.service.again import Dropped
from procedure.service.beginning import FIELDS, CannotBegin, begun
from procedure.service.beside import besides
from procedure.service.choosing import choices
from procedure.service.clause_help import clause_help
from procedure.service.colouring import coloured
from procedure.service.desk import Desk
from procedure.service.panels import PANELS, PanelChoices, panel
from procedure.service.remedies import every_safe, remedies
from procedure.service.renaming import CannotRename, declared_at, name_at, rename, uses
from procedure.service.shape import OutlineEntry, outline
from procedure.service.telling import told

Data = dict[str, Any]
# Some thirty thousand lines, which take half a minute: nobody's procedure, and nobody waits for it.
LONGEST_TEXT = 1_000_000
_WORDS_OF_A_PANEL = ("fibre", "gathered", "start", "hours", "days", "hands")


def answer(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    """The answer to a question about a text of the desk.

    A question may bring the text as it stands (``text``), which is put on the desk first.
    Where a newer text comes while this one is read, the answer is ``{"dropped": True}``.
    """
    ask = ANSWERS.get(str(question.get("ask")))
    if ask is None:
        return {"why": f"There is no question “{str(question.get('ask'))[:40]}”."}
    if isinstance(question.get("text"), str):
        if len(question["text"]) > LONGEST_TEXT:
            return {"why": f"A text of more than {LONGEST_TEXT:,} letters is no procedure."}
        desk.put(path, question["text"])
    try:
        return ask(desk, path, question)
    except Dropped:
        return {"dropped": True}
    except (NotText, CannotBegin, CannotRename) as reason:
        return {"why": str(reason)}
    except OSError as reason:
        return {"why": f"{path.name} cannot be read: {(reason.strerror or str(reason)).lower()}."}


# ------------------------------------------------------------------ what is wrong


def _findings(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    plan = desk.plan(path)
    return {
        "findings": [finding(plan, one) for one in plan.findings],
        "amounts": list(map(list, besides(plan))),
        "colours": list(map(list, coloured(plan.text))),
        "title": plan.model.title.text if plan.model.title else "",
    }


def finding(plan: Judged, one: Finding) -> Data:
    """A finding as data; ``here`` holds where it is in the text itself."""
    return {
        "rule": one.rule,
        "level": one.level,
        "here": one.key == plan.model.key,
        "file": one.file,
        "line": one.line,
        "column": one.column,
        "to": one.to,
        "sentence": one.sentence,
        "remedy": one.remedy,
        "source": one.source,
        "allowed": one.allowed,
        "related": [
            {"file": r.file, "here": r.key == plan.model.key, "line": r.line, "says": r.sentence}
            for r in one.related
        ],
    }


def _remedies(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    plan = desk.plan(path)
    line = _number(question, "line")
    return {
        "remedies": [
            {
                "says": one.says,
                "rule": one.rule,
                "safe": one.safe,
                "edits": _edits(one.edits),
                "fill": list(one.fill) if one.fill else None,
            }
            for one in remedies(plan, line, _number(question, "last", line))
        ]
    }


def _mended(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    return {"edits": _edits(every_safe(desk.plan(path)))}


def _why(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    from procedure.rules import rule_named

    rule = rule_named(str(question.get("rule")))
    if rule is None:
        return {"why": "There is no rule of that name."}
    return {
        "rule": rule.name,
        "what": rule.what,
        "reason": rule.why,
        "trips": rule.trips,
        "cure": rule.cure,
        "source": rule.source,
    }


# ------------------------------------------------------------------ what is here


def _choices(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    found = choices(desk.plan(path), _number(question, "line"), _number(question, "column"))
    return {"choices": [one._asdict() for one in found]}


def _told(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    found = told(desk.plan(path), _number(question, "line"), _number(question, "column"))
    return {"told": found._asdict() if found else None}


def _clauses(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    found = clause_help(desk.text(path), _number(question, "line"), _number(question, "column"))
    if found is None:
        return {"verb": None}
    return {**found._asdict(), "clauses": [one._asdict() for one in found.clauses]}


def _outline(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    return {"outline": [_heading(one) for one in outline(desk.text(path))]}


def _heading(one: OutlineEntry) -> Data:
    return {**one._asdict(), "inside": [_heading(each) for each in one.inside]}


def _declared(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    found = declared_at(desk, path, _number(question, "line"), _number(question, "column"))
    return {"places": [_use(one.file, path, one.line, one.column, one.to) for one in found]}


def _uses(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    named = name_at(desk, path, _number(question, "line"), _number(question, "column"))
    found = uses(desk, *named) if named else ()
    return {"places": [_use(one.file, path, one.line, one.column, one.to) for one in found]}


def _use(file: Path, path: Path, line: int, column: int, to: int) -> Data:
    here = file == path.resolve()
    return {"file": str(file), "here": here, "line": line, "column": column, "to": to}


def _rename(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    line, column = _number(question, "line"), _number(question, "column")
    made = rename(desk, path, line, column, str(question.get("name", "")))
    return {"files": [{"file": str(file), "edits": _edits(edits)} for file, edits in made.items()]}


# ------------------------------------------------------------------ the whole


def _format(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    return {"text": formatted(desk, path)}


def formatted(desk: Desk, path: Path) -> str:
    """The text in its neat layout; a line that cannot be read yet stays as it is.

    Raises as :meth:`Desk.text` does.
    """
    from procedure.neaten import neat

    shared = desk.plan(path).study.workshop
    return neat(desk.text(path), None if shared is None else shared.workshop).text


def _panel(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    name = str(question.get("panel"))
    if name not in PANELS:
        return {"why": f"There is no panel “{name[:40]}”."}
    words = {field: str(question.get(field) or "")[:200] for field in _WORDS_OF_A_PANEL}
    asked = PanelChoices(
        units=str(question.get("units", "metric")),
        draw=bool(question.get("draw", True)),
        bench=bool(question.get("bench", False)),
        old=str(question.get("old") or ""),
        **words,
    )
    return panel(name, desk.plan(path), asked)


def _number(question: Mapping[str, Any], name: str, usual: int = 1) -> int:
    value = question.get(name, usual)
    return value if isinstance(value, int) and value >= 1 else usual


def _edits(edits: Iterable[Edit]) -> list[list[Any]]:
    return [list(one) for one in edits]


def _kept(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    """Nothing: the text that came with it is on the desk now, for whatever follows it."""
    return {}


def _begin(desk: Desk, path: Path, question: Mapping[str, Any]) -> Data:
    """The first text of a procedure, and a sentence on it where one is due."""
    words = {field: str(question.get(field) or "").strip() for field in FIELDS}
    return begun(str(question.get("way")), words)._asdict()


ANSWERS: Mapping[str, Callable[[Desk, Path, Mapping[str, Any]], Data]] = {
    "findings": _findings,
    "remedies": _remedies,
    "mended": _mended,
    "why": _why,
    "choices": _choices,
    "told": _told,
    "clauses": _clauses,
    "outline": _outline,
    "declared": _declared,
    "uses": _uses,
    "rename": _rename,
    "format": _format,
    "panel": _panel,
    "begin": _begin,
    "kept": _kept,
}

__all__ = ["ANSWERS", "LEVELS", "answer", "edited", "finding", "formatted"]
