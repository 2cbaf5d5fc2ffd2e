"""Reading again after a keystroke: only what the change can touch is done anew.

Five things are kept from one reading to the next, and each is used only where it must give
what a fresh reading would give:

- the lines of a text, by their words and numbers (:class:`procedure.language.Lines`);
- the model of every file, while its text and its workshop file are the same;
- model, flow and trace of the plan, where the change left every line that can be read as it
  was: inside a line that is half written, in a comment, in spaces at a line's end. Beside the
  last plan those before it are kept: between two words a line is half written again;
- flow and trace with another step in the place of one, where only its free words have changed
  (:mod:`procedure.service.reworded`);
- what a rule found, where all that it looked at is as it was. What it looked at is noted
  while it runs (:mod:`procedure.service.being_written`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from procedure import flow, language, model
from procedure.collection.files import NOTHING_UNSAVED, Collection
from procedure.collection.nearest import workshop_of
from procedure.collection.workshop import WorkshopFile
from procedure.facts.study import Study
from procedure.findings import Finding
from procedure.flow import Flow
from procedure.language import Lines, Tree
from procedure.model import Procedure
from procedure.pipeline import Judged
from procedure.quantity.record import NamedTuple
from procedure.rules import RULES, Rule, judged
from procedure.rules.judging import found_by, reader_of
from procedure.service.alike import same_nodes
from procedure.service.being_written import (
    Read,
    StepNow,
    as_read,
    how_many,
    in_order,
    moment_watched,
    node_watched,
    noting,
    watch,
    watched_in,
    watched_plan,
)
from procedure.service.reworded import (
    only_that_step,
    reworded,
    same_plan,
    same_slips,
    same_written,
)
from procedure.service.watched import AsksForMore, NotingStudy, WatchedStudy
from procedure.trace import Trace, trace
from procedure.wording import Reader

MOST_KEPT = 3  # of each number of steps the last: with a step, and with it half written
# Texts of which plans are kept: more are hardly open at once, and others are read anew.
MOST_TEXTS = 40


class Dropped(Exception):
    """A newer text has come while this one was read: nobody waits for its plan any more."""


def _never() -> bool:
    return False


class _File(NamedTuple):
    """A file as it was read last: its text, the name that findings show, workshop, tree, model."""

    text: str
    name: str
    workshop: WorkshopFile | None
    tree: Tree
    made: Procedure


class _Seen(NamedTuple):
    """What a rule found, and what it looked at.

    ``whole`` holds where it may have looked at the flow or the trace, ``trees`` where it asked for
    the text's own lines; ``parts`` are the parts of procedures that it read, by key and name,
    and ``step`` what it read of the step that is being written.
    """

    found: tuple[Finding, ...]
    whole: bool
    trees: bool
    parts: Mapping[tuple[str, str], Any]
    step: Read


class _Kept(NamedTuple):
    """A plan as it was read last."""

    file: _File
    flow: Flow
    trace: Trace
    seen: dict[str, _Seen]
    keys: tuple[str, ...]
    readers: dict[str, Reader]
    judged: Judged
    step: Read  # what flow and trace have read of the step that is being written


class Again:
    """Reads the texts of a desk again and again; :meth:`read` gives what ``pipeline.read`` would.

    ``whole`` counts the readings in which the plan was followed anew, ``short`` those in
    which it could be left as it was, and ``run`` the rules that ran. Nothing outside the
    folder ``limit`` is read, where one is given.
    """

    def __init__(self, limit: Path | None = None) -> None:
        self.limit = limit
        self._lines: dict[str, Lines] = {}
        self._files: dict[str, _File] = {}
        self._kept: dict[str, list[_Kept]] = {}  # the last few, the newest first
        self._broad: set[str] = set()  # rules that have asked for more than procedures
        self.whole = self.short = self.run = 0

    def forget(self, path: Path) -> None:
        """A text is closed: nothing of its plan is kept."""
        self._kept.pop(str(path.resolve()), None)
        self._let_go()

    def _let_go(self) -> None:
        """Nothing stays of files that no plan is made of which is kept."""
        made_of = {key for plans in self._kept.values() for one in plans for key in one.keys}
        for known in (self._files, self._lines):
            for key in known.keys() - made_of:
                del known[key]

    def read(
        self,
        text: str,
        file: str = "text",
        path: Path | None = None,
        unsaved: Mapping[Path, str] = NOTHING_UNSAVED,
        stale: Callable[[], bool] = _never,
    ) -> Judged:
        """A text read, followed and judged; the other arguments are those of ``pipeline.read``.

        Raises :class:`Dropped` as soon as it is ``stale``, which is asked from time to time.
        """

        def modelled(source: str, name: str, key: str) -> Procedure:
            return self._modelled(source, name, key, shared).made

        collection = Collection(path, modelled, unsaved)
        shared = self._workshop(collection)
        key = file if collection.main is None else collection.main
        now = self._modelled(text, file, key, shared)
        collection.kept[key] = now.made
        kept = self._kept.get(key, [])
        before, again = _nearest(kept, now)
        read: Read = {} if before is None else before.step
        if before is not None and _follows_as_before(before, now, collection):
            self.short += 1
            made, traced = before.flow, before.trace
        elif again is not None:
            self.short += 1
            made, traced = again
        else:
            self.whole += 1
            read = {}
            with noting(read):
                _go_on_unless(stale)
                made = flow.build(now.made, collection.find)
                _go_on_unless(stale)
                traced = watched_plan(made, trace(made))
        trees = {p.key: self._tree(p, now) for p in made.procedures}
        trees |= {k: self._files[k].tree for k in collection.kept if k not in trees}
        study = Study(trees, made, traced, shared)
        readers = {p.key: reader_of(p) for p in study.procedures}
        keys = tuple(p.key for p in study.procedures)
        seen = self._found(study, before, keys, readers, stale)
        findings = judged(study, [one for rule in RULES for one in seen[rule.name].found])
        answer = Judged(text, file, study, tuple(findings), unsaved)
        newest = _Kept(now, made, traced, seen, keys, readers, answer, read)
        others = [one for one in kept if how_many(one.file.made) != how_many(now.made)]
        self._kept.pop(key, None)  # what was asked for last is at the end
        self._kept[key] = [newest, *others[: MOST_KEPT - 1]]
        if len(self._kept) > MOST_TEXTS:
            del self._kept[next(iter(self._kept))]
            self._let_go()
        return answer

    # ------------------------------------------------------------ files

    def _workshop(self, collection: Collection) -> WorkshopFile | None:
        """The workshop of a collection; nothing outside the limit is read, where there is one."""
        root, limit = collection.root, self.limit
        if limit is not None and root is not None and not Path(root).is_relative_to(limit):
            collection.root = str(limit)
            return None
        return workshop_of(collection.main, collection.unsaved)

    def _tree(self, procedure: Procedure, main: _File) -> Tree:
        return main.tree if procedure is main.made else self._files[procedure.key].tree

    def _modelled(self, text: str, name: str, key: str, workshop: WorkshopFile | None) -> _File:
        """A file as it is read; as it was, where nothing that counts in it has changed."""
        old = self._files.get(key)
        same = old is not None and old.workshop is workshop and old.name == name
        if old is not None and same and old.text == text:
            return old
        tree = language.read(text, self._lines.setdefault(key, Lines()))
        for one in (old, *(each.file for each in self._kept.get(key, ()))):
            known = one is not None and one.workshop is workshop and one.name == name
            if one is not None and known and same_nodes(one.tree, tree):
                made = one.made
                break
        else:
            made = model.build(tree, name, None if workshop is None else workshop.workshop, key)
            if old is not None:
                watch(made, _line_of_change(old.text, text))
        self._files[key] = _File(text, name, workshop, tree, made)
        return self._files[key]

    # ------------------------------------------------------------ rules

    def _found(
        self,
        study: Study,
        before: _Kept | None,
        keys: tuple[str, ...],
        readers: dict[str, Reader],
        stale: Callable[[], bool],
    ) -> dict[str, _Seen]:
        """What every rule finds, by its name; those that the change cannot touch are not run."""
        old: dict[str, _Seen] = {}
        same_flow = False
        same_trees = False
        if before is not None and before.keys == keys and before.readers == readers:
            old = before.seen
            same_flow = before.flow is study.flow
            was = before.judged.study
            same_flow = same_flow and was.workshop is study.workshop
            same_trees = same_flow and all(
                was.trees[key].faults == study.trees[key].faults for key in keys
            )
        by_key = {p.key: p for p in study.procedures}
        written = None if before is None or same_flow else _plan_as_before(before, study)
        noted, watched = NotingStudy(study), WatchedStudy(study)
        seen: dict[str, _Seen] = {}
        try:
            for rule in RULES:
                last = old.get(rule.name)
                if last is not None and _holds(last, same_flow, same_trees, by_key, written):
                    seen[rule.name] = last
                    continue
                _go_on_unless(stale)
                self.run += 1
                seen[rule.name] = self._run(rule, watched, noted, readers)
        finally:
            noted.let_go()
        return seen

    def _run(
        self, rule: Rule, study: WatchedStudy, noted: NotingStudy, readers: dict[str, Reader]
    ) -> _Seen:
        called = study.flow.called
        if rule.name not in self._broad:
            noted.begin()
            try:
                with noting(noted.step):
                    found = tuple(found_by((rule,), noted, readers, called))
            except AsksForMore:
                self._broad.add(rule.name)
            else:
                # A finding in another file also tells from where that is followed.
                main = study.procedure
                far = main.key in called or any(one.key != main.key for one in found)
                return _Seen(found, far, noted.trees_read, dict(noted.parts), noted.step)
        study.trees_read = False
        study.step = {}
        with noting(study.step):
            found = tuple(found_by((rule,), study, readers, called))
        return _Seen(found, True, study.trees_read, {}, study.step)


def _go_on_unless(stale: Callable[[], bool]) -> None:
    if stale():
        raise Dropped


def _line_of_change(old: str, new: str) -> int:
    """The first line in which two texts differ."""
    ones, others = old.split("\n"), new.split("\n")
    same = (number for number, (a, b) in enumerate(zip(ones, others, strict=False)) if a != b)
    return next(same, min(len(ones), len(others))) + 1


def _nearest(kept: list[_Kept], now: _File) -> tuple[_Kept | None, tuple[Flow, Trace] | None]:
    """The plan, of those that are kept, which is most like the text; and that plan reworded."""
    same = next((one for one in kept if one.file.made is now.made), None)
    if same is not None or not kept:
        return same, None
    if watched_in(now.made) is not None:
        alike = [one for one in kept if only_that_step(one.file.made, now.made)]
        for one in alike:
            again = _worded_anew(one, now)
            if again is not None:
                return one, again
        return (alike or kept)[0], None
    return kept[0], None


def _worded_anew(before: _Kept, now: _File) -> tuple[Flow, Trace] | None:
    """Flow and trace with the new words of one step, where they follow nothing that has changed."""
    old, new = before.file.made, now.made
    step = None if new is old else watched_in(new)
    if step is None or not as_read(before.step, StepNow(step, None, None, True, True)):
        return None
    if not same_written(old, new):
        return None
    return reworded(before.flow, before.trace, new)


def _plan_as_before(before: _Kept, study: Study) -> StepNow | None:
    """What is new at the step that is being written, where nothing else of the plan is."""
    old, new = before.file.made, study.procedure
    step = None if new is old else watched_in(new)
    if step is None or not only_that_step(old, new) or not same_plan(before.trace, study.trace):
        return None
    return StepNow(
        step,
        node_watched(study.flow),
        moment_watched(study.trace),
        same_written(old, new),
        same_slips(before.flow, study.flow),
    )


def _follows_as_before(before: _Kept, now: _File, collection: Collection) -> bool:
    """True where the plan has the same files, with nothing in them that it would follow otherwise.

    Every file that it follows is looked for again, since it may have come, gone or changed.
    """
    if now.made is not before.file.made:
        return False
    callers = {p.key: p for p in before.flow.procedures}
    return all(
        collection.find(words, callers[key]) is found
        or (isinstance(found, str) and collection.find(words, callers[key]) == found)
        for (key, words), found in before.flow.follows.items()
    )


def _holds(
    seen: _Seen,
    same_flow: bool,
    same_trees: bool,
    procedures: Mapping[str, Procedure],
    written: StepNow | None,
) -> bool:
    """True where all that a rule looked at is as it was."""
    if seen.trees and not same_trees:
        return False
    if same_flow:
        return True
    if seen.whole:
        return written is not None and as_read(seen.step, written)
    return all(
        in_order(getattr(procedures[key], name), value) for (key, name), value in seen.parts.items()
    )
