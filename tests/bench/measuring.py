"""Runs the bench: every sound procedure, every fault, one at a time."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections import Counter
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from pathlib import Path
from typing import NamedTuple

import faults_in_care_and_colour
import faults_in_equipment
import faults_in_order
import faults_in_safety
import faults_in_sharing
import faults_in_soaking_and_rinsing
import faults_in_words
import faults_of_beginners
import faults_that_passed
from faults import KINDS, Fault, Kind
from sound import EXAMPLES, Sound, sound_ones

import procedure
from procedure import Finding
from procedure.findings import LEVELS, at_least

# The files that hold the kinds; each enters its own as it is read.
KIND_FILES = (
    faults_in_words,
    faults_in_order,
    faults_in_soaking_and_rinsing,
    faults_in_equipment,
    faults_in_care_and_colour,
    faults_in_safety,
    faults_in_sharing,
    faults_that_passed,
    faults_of_beginners,
)


class Outcome(NamedTuple):
    """What became of one fault.

    ``alarms`` are the unrelated findings in words, ``follows`` how many findings of warning
    or error level are consequences that the kind allows for; ``else_said`` what was said where it
    was missed.
    """

    kind: str
    file: str
    lines: tuple[int, ...]
    said: str
    found: bool
    alarms: tuple[str, ...]
    follows: int
    else_said: tuple[str, ...]


def _key(finding: Finding, texts: dict[str, list[str]]) -> tuple[str, str, str]:
    """What tells a finding from another, whatever lines have moved."""
    lines = texts.get(finding.file, [])
    row = lines[finding.line - 1].strip() if 0 < finding.line <= len(lines) else ""
    return finding.file, finding.rule, row


def _says(finding: Finding) -> str:
    return f"{finding.line} {finding.rule}"


def _at(finding: Finding, file: str, lines: frozenset[int]) -> bool:
    """Whether a finding stands at one of those lines of a file, or points to one."""
    places = [(finding.file, finding.line)]
    places += [(other.file, other.line) for other in finding.related]
    return any(place == file and line in lines for place, line in places)


def judged(
    kind: Kind,
    fault: Fault,
    shown: str,
    file: str,
    before: Iterable[Finding],
    after: Iterable[Finding],
    texts: tuple[dict[str, list[str]], dict[str, list[str]]],
    caller: str = "",
) -> Outcome:
    """Hold what is found in a faulty text against what its kind promises.

    ``texts`` are the lines of each file before and after. Where a ``caller`` follows the
    faulty file, the finding must name both.
    """
    known = Counter(_key(one, texts[0]) for one in before)
    new: list[Finding] = []
    for one in after:
        key = _key(one, texts[1])
        if known[key] > 0:
            known[key] -= 1
        else:
            new.append(one)
    found = any(
        one.rule in kind.finds
        and at_least(one.level, kind.least)
        and _at(one, file, fault.lines)
        and (not caller or caller in {one.file, *(other.file for other in one.related)})
        for one in new
    )
    alarms = [
        one for one in new if one.level != "note" and one.rule not in kind.finds | kind.follows
    ]
    follows = [one for one in new if one.level != "note" and one.rule in kind.follows - kind.finds]
    new.sort(key=lambda one: (LEVELS.index(one.level), one.line))
    return Outcome(
        kind.name,
        shown,
        tuple(sorted(fault.lines)),
        fault.said,
        found,
        tuple(_says(one) for one in alarms),
        len(follows),
        () if found else tuple(_says(one) for one in new[:6]),
    )


def _chosen(faults: list[Fault], most: int | None, turn: int) -> list[Fault]:
    """At the most so many of the faults, the same each time, spread over them all."""
    if most is None or len(faults) <= most:
        return faults
    step = len(faults) / most
    return [faults[int(at * step + turn) % len(faults)] for at in range(most)]


def bench_one(
    path: Path, turn: int, most: int | None, kinds: frozenset[str] | None = None
) -> list[Outcome]:
    """Every fault of every kind, or of those named, in one sound procedure."""
    shown = path.relative_to(EXAMPLES).as_posix()
    sound = Sound(path, procedure.load(path))
    name = str(path)
    found = []
    for kind in KINDS:
        if kinds is not None and kind.name not in kinds:
            continue
        for one in _chosen(list(kind.put(sound)), most, turn):
            after = procedure.read(one.text, name, path).findings
            texts = ({name: sound.lines}, {name: one.text.split("\n")})
            found.append(judged(kind, one, shown, name, sound.plan.findings, after, texts))
    return found


# Why some faults of a kind are missed, and rightly so or not.
MISSED_BECAUSE = {
    "an amount times ten": "the tenfold of a small amount may still be usual: a strong vat is "
    "made for many lots, and of some woods 20 to 100 % are taken; what goes into a bag is told of "
    "where the bag goes into its bath",
    "an amount divided by ten": "the tenth of a large amount may still be usual: a weak vat gives "
    "a pale blue, 3 to 5 % of logwood a lilac or a grey, a pinch of iron a breath of grey, and "
    "what feeds a ferment may be little; what goes into a bag is told of where the bag goes in",
    "minutes become hours": "a few minutes become a few hours, which a cool bath takes without "
    "harm; where no heat is said, a mordant may be cold and take days",
    "no rinse after the dye": "what a kept bath holds is not known, so neither is what is loose "
    "in fibre that was dipped in it",
    "a declaration left out": "where one pot or tub is left, “pot” is that one: what is then amiss "
    "with it is told in its place, as that it is not free, not rinsed, too small or full of iron",
    "an amount left out": "what is gathered or ground for a bath is weighed where the bath "
    "is made, and the line of the bath says how much",
    "a clause left out": "where there is one bath alone, it is the one that is meant, and every "
    "paper names it",
}

# Faults that stand in the steps of a followed file and are the same for whoever follows it.
IN_FOLLOWED = frozenset(
    (
        "a percentage of nothing",
        "a number without its unit",
        "a range backwards",
        "a misspelt verb",
        "one use of a name renamed",
        "a bath left over",
        "no disposal stated",
        "a time left out",
        "wool kept at the boil for hours",
        "tannin above 60 °C on cotton",
        "no reducer in the vat",
        "no alkali in the vat",
        "iron at 40 %",
        "the airing left out",
        "a vat too hot for wool",
    )
)
FOLLOWED = "a fault in a followed file"


def bench_followed(path: Path, turn: int, most: int | None) -> list[Outcome]:
    """Faults in the files that a procedure follows, found by checking the procedure.

    The collection is copied, since what is followed is read from its file. A finding must
    name both files.
    """
    found = []
    with tempfile.TemporaryDirectory() as folder:
        root = Path(folder) / "collection"
        shutil.copytree(EXAMPLES, root)
        here = root / path.relative_to(EXAMPLES)
        before = procedure.load(here)
        names = {
            made.file: Path(made.file).resolve()
            for made in before.study.procedures
            if made is not before.model
        }
        texts = {name: at.read_text("utf-8").split("\n") for name, at in names.items()}
        for name, at in names.items():
            text = at.read_text("utf-8")
            alone = Sound(at, procedure.load(at))
            first = alone.lines.index("steps") + 1
            for kind in KINDS:
                if kind.name not in IN_FOLLOWED:
                    continue
                faults = [one for one in kind.put(alone) if min(one.lines) > first]
                for one in _chosen(faults, most, turn):
                    at.write_text(one.text, "utf-8")
                    after = procedure.load(here).findings
                    changed = texts | {name: one.text.split("\n")}
                    shown = f"{at.relative_to(root.resolve()).as_posix()}, followed by {here.name}"
                    found.append(
                        judged(
                            kind._replace(name=FOLLOWED),
                            one._replace(said=f"{kind.name}: {one.said}"),
                            shown,
                            name,
                            before.findings,
                            after,
                            (texts, changed),
                            before.file,
                        )
                    )
                at.write_text(text, "utf-8")
    return found


def _task(task: tuple[bool, Path, int, int | None]) -> list[Outcome]:
    followed, path, turn, most = task
    return (bench_followed if followed else bench_one)(path, turn, most)


def run(most: int | None = None, followed: int | None = None) -> tuple[list[Outcome], list[str]]:
    """All outcomes, and the examples that were left out with the reason.

    ``most`` faults of a kind are tried in a file, all where it is None; so are
    ``followed`` faults of a kind in a followed file.
    """
    sound, left_out = sound_ones()
    tasks = [(False, one.path, turn, most) for turn, one in enumerate(sound)]
    tasks += [(True, one.path, turn, followed) for turn, one in enumerate(sound) if one.follows]
    tasks.sort(key=lambda task: -task[1].stat().st_size)  # long ones first
    with ProcessPoolExecutor(os.cpu_count()) as pool:
        outcomes = [one for found in pool.map(_task, tasks) for one in found]
    return outcomes, left_out


def _shared_out(sound: Sequence[Sound], files: int) -> list[frozenset[str]]:
    """The kinds to be tried in each procedure, so that each is tried in so many, or in all it fits.

    Of the procedures that a kind fits, some all through the list are taken, other ones for
    the next kind.
    """
    chosen: list[set[str]] = [set() for _ in sound]
    for turn, kind in enumerate(KINDS):
        fits = [at for at, one in enumerate(sound) if next(kind.put(one), None) is not None]
        for at in range(min(files, len(fits))):
            chosen[fits[(at * len(fits) // files + turn) % len(fits)]].add(kind.name)
    return [frozenset(each) for each in chosen]


def sample(files: int, followed: int) -> tuple[list[Outcome], list[str]]:
    """One fault of each kind in so many files, and faults in what so many files follow.

    Returned as :func:`run` does; in this process, since tests run side by side already.
    """
    sound, left_out = sound_ones()
    outcomes = []
    for turn, (one, kinds) in enumerate(zip(sound, _shared_out(sound, files), strict=True)):
        outcomes += bench_one(one.path, turn, 1, kinds)
    callers = [(turn, one.path) for turn, one in enumerate(sound) if one.follows]
    for turn, path in callers[:: max(1, len(callers) // followed)]:
        outcomes += bench_followed(path, turn, 1)
    return outcomes, left_out


class Row(NamedTuple):
    """A line of the table: how many of a kind were tried, found, missed, and false alarms."""

    kind: str
    family: str
    tried: int
    found: int
    missed: int
    alarms: int


def table(outcomes: list[Outcome]) -> list[Row]:
    """A row for each kind, in the order of the kinds."""
    families = {kind.name: kind.family for kind in KINDS} | {FOLLOWED: "follow"}
    rows = []
    for name, family in families.items():
        ours = [one for one in outcomes if one.kind == name]
        right = sum(one.found for one in ours)
        alarms = sum(len(one.alarms) for one in ours)
        rows.append(Row(name, family, len(ours), right, len(ours) - right, alarms))
    return rows


def total(rows: Iterable[Row], name: str = "all") -> Row:
    """Several rows as one."""
    listed = list(rows)
    return Row(
        name,
        "",
        *(sum(row[column] for row in listed) for column in (2, 3, 4, 5)),  # type: ignore[misc]
    )


def mean_share(rows: Iterable[Row]) -> float:
    """The share found, each kind counted alike however often it was tried."""
    shares = [row.found / row.tried for row in rows if row.tried]
    return sum(shares) / len(shares)


def lines_of(rows: list[Row]) -> list[str]:
    """The table as text."""
    wide = max(len(row.kind) for row in rows)
    head = f"{'kind':{wide}}  tried  found  missed  unrelated"
    families = dict.fromkeys(row.family for row in rows)
    lines = []
    for family in families:
        ours = [row for row in rows if row.family == family]
        lines += ["", family.upper(), head]
        lines += [_line(row, wide) for row in ours]
        lines.append(_line(total(ours, f"all of {family}"), wide))
    every = total(rows)
    share = 100 * every.found / every.tried if every.tried else 0
    alarms = 100 * every.alarms / every.tried if every.tried else 0
    return [
        *lines,
        "",
        _line(every, wide),
        f"found at the right place {share:.2f} %; unrelated alarms {alarms:.2f} % of the faults",
        f"each of the {len(rows)} kinds counted alike, {100 * mean_share(rows):.2f} % are found",
    ]


def _line(row: Row, wide: int) -> str:
    return f"{row.kind:{wide}}  {row.tried:5}  {row.found:5}  {row.missed:6}  {row.alarms:9}"


def report(outcomes: list[Outcome], left_out: list[str]) -> str:
    """The table, what was missed and what was an alarm without reason."""
    lines = lines_of(table(outcomes))
    follows = sum(one.follows for one in outcomes)
    lines.append(f"findings that are consequences of a fault, by its kind: {follows}")
    missed = [one for one in outcomes if not one.found]
    if missed:
        lines += ["", f"MISSED ({len(missed)})"]
        for name in dict.fromkeys(one.kind for one in missed):
            lines.append(f"{name}: {MISSED_BECAUSE.get(name, 'no reason known')}.")
        for one in missed:
            lines.append(f"{one.kind} | {one.file} {_few(one.lines)} | {one.said}")
            if one.else_said:
                lines.append(f"    said instead: {'; '.join(one.else_said)}")
    alarmed = [one for one in outcomes if one.alarms]
    if alarmed:
        lines += ["", f"UNRELATED ALARMS ({sum(len(one.alarms) for one in alarmed)})"]
        lines += [
            f"{one.kind} | {one.file} {_few(one.lines)} | {one.said} | {'; '.join(one.alarms)}"
            for one in alarmed
        ]
    if left_out:
        lines += ["", "LEFT OUT", *left_out]
    return "\n".join(lines)


def _few(lines: tuple[int, ...]) -> str:
    shown = ",".join(str(line) for line in lines[:4])
    return f"line {shown}{'...' if len(lines) > 4 else ''}"
