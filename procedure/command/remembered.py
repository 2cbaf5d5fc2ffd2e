"""What a check found, remembered in the user's own cache folder until something changes.

An entry holds the findings of one file under one name, and everything that they were made
from: the text of the file, of the workshop file above it, of each file that it follows, the day
where the workshop has a calendar, and this program with its vocabulary. It is used where all of
that is as it was, so a report is the same with it and without. The folder of the cache is of no
worth: it may be deleted at any time, and where it is spoilt it is made anew.
"""

from __future__ import annotations

import os
import sqlite3
from collections.abc import Iterable
from contextlib import suppress
from datetime import date
from hashlib import blake2b
from pathlib import Path

import procedure
from procedure.collection.files import WORKSHOP_FILE, root_of
from procedure.command.made_from import still_so, sum_in
from procedure.findings import Finding
from procedure.quantity.kept_ready import stamp_of
from procedure.report.stored import Stored, findings_of, may_be_alike

NAME = "vatwright"
FILE = "findings-1.sqlite"
# What has not been asked for so long is forgotten, and so is what was asked longest ago.
DAYS = 60
MOST = 20_000
# How long to wait for another check that writes at the same time, in seconds.
PATIENCE = 0.2
# Errors that say nothing against what is in the file: somebody else writes, a full disk, no leave.
_PASSING = (
    sqlite3.SQLITE_BUSY,
    sqlite3.SQLITE_LOCKED,
    sqlite3.SQLITE_FULL,
    sqlite3.SQLITE_READONLY,
    sqlite3.SQLITE_CANTOPEN,
    sqlite3.SQLITE_IOERR,
    sqlite3.SQLITE_PERM,
)
_TABLE = """
create table if not exists found (
    key blob primary key, day integer, total blob, needs text, words text,
    facts_total blob, facts text
)
"""
_ASKED = "select day, total, needs, words from found where key = ?"
_ASKED_FACTS = "select facts_total, facts from found where key = ?"


class Memory:
    """The cache of one run. Whatever goes wrong with it, it is as if it were empty."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.program = _program()
        self.here = os.fsencode(Path.cwd())
        self._today = date.today()
        self._homes: dict[str, str] = {}
        self._workshops: dict[str, str] = {}
        self._sums: dict[str, str | None] = {}
        self._used: list[bytes] = []
        self._new: list[tuple[bytes, int, bytes, str, str, bytes, str]] = []
        self._base: sqlite3.Connection | None = None
        with suppress(OSError, sqlite3.Error):
            if (folder / FILE).is_file():
                self._base = sqlite3.connect(folder / FILE, PATIENCE, isolation_level=None)

    def findings(self, name: str, facts: bool) -> list[Finding] | None:
        """What was found in a file of that name, where it would be found again now."""
        if self._base is None:
            return None
        try:
            key = self._key(name)
            row = self._base.execute(_ASKED, (key,)).fetchone()
            if row is None:
                return None
            day, total, needs, words = row
            if total != _total(key, needs, words):
                return None
            if not still_so(needs, sum_in(name), self._sum_of):
                return None
            found = [] if facts else findings_of(Stored((words, "")), False)
            if facts or may_be_alike(found):
                found = findings_of(Stored((words, self._facts(key))))
        except (OSError, ValueError, TypeError, KeyError, RuntimeError, sqlite3.Error):
            return None
        if day != self._today.toordinal():
            self._used.append(key)
        return found

    def _facts(self, key: bytes) -> str:
        """The facts behind findings. Raises ``ValueError`` where they are spoilt."""
        assert self._base is not None
        total, facts = self._base.execute(_ASKED_FACTS, (key,)).fetchone()
        if total != _total(key, facts):
            raise ValueError
        return str(facts)

    def keep(self, name: str, needs: str, found: Stored) -> None:
        """Remember what was found in a file of that name, and what it was made from."""
        with suppress(OSError, RuntimeError, ValueError):
            key, (words, facts) = self._key(name), found
            totals = _total(key, needs, words), _total(key, facts)
            day = self._today.toordinal()
            self._new.append((key, day, totals[0], needs, words, totals[1], facts))

    def close(self) -> None:
        """Write what is new, forget what is old, and let go of the file."""
        try:
            if self._changed_meanwhile():
                self._new.clear()
            if self._new or self._used:
                self._write()
        except sqlite3.Error as reason:
            if reason.sqlite_errorcode & 0xFF not in _PASSING:
                self._spoilt()
        except OSError:
            pass  # a full disk, say: the next run remembers
        finally:
            with suppress(sqlite3.Error):
                if self._base is not None:
                    self._base.close()

    def _write(self) -> None:
        if self._base is None:
            self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
            self._base = sqlite3.connect(self.folder / FILE, PATIENCE, isolation_level=None)
        base, today = self._base, self._today.toordinal()
        base.execute("pragma synchronous = off")  # what is lost is found again
        base.execute("begin immediate")
        base.execute(_TABLE)
        base.executemany("update found set day = ? where key = ?", [(today, k) for k in self._used])
        base.executemany("insert or replace into found values (?, ?, ?, ?, ?, ?, ?)", self._new)
        base.execute("delete from found where day < ?", (today - DAYS,))
        (count,) = base.execute("select count(*) from found").fetchone()
        if count > MOST:
            oldest = "select key from found order by day limit ?"
            base.execute(f"delete from found where key in ({oldest})", (count - MOST,))
        base.execute("commit")

    def _changed_meanwhile(self) -> bool:
        """True where a workshop file is no longer what it was when its entries were sought."""
        before = dict(self._workshops)
        self._workshops.clear()
        self._sums.clear()
        return any(self._workshop(home) != was for home, was in before.items())

    def _spoilt(self) -> None:
        """What is there is no cache of ours any more."""
        with suppress(OSError, sqlite3.Error):
            if self._base is not None:
                self._base.close()
            (self.folder / FILE).unlink(missing_ok=True)

    # ------------------------------------------------------------ what findings are made from

    def _key(self, name: str) -> bytes:
        """Which entry is meant: this program, the file, and the names that findings show."""
        home, last = os.path.split(name)
        if home not in self._homes:
            self._homes[home] = os.path.realpath(home or ".")
        path = f"{self._homes[home]}{os.sep}{last}"
        if last in ("", os.curdir, os.pardir) or os.path.islink(path):  # noqa: PTH114 - thousands
            path = os.path.realpath(path)
        parts = os.fsencode("\0".join((name, path, self._workshop(os.path.dirname(path)))))  # noqa: PTH120
        return blake2b(b"\0".join((self.program, self.here, parts)), digest_size=16).digest()

    def _workshop(self, home: str) -> str:
        """The sum of the workshop file that the files of a folder belong to, with its place."""
        if home not in self._workshops:
            file = root_of(Path(home, WORKSHOP_FILE)) / WORKSHOP_FILE
            self._workshops[home] = f"{file} {self._sum_of(str(file))}"
        return self._workshops[home]

    def _sum_of(self, name: str) -> str | None:
        """The sum of what is in a file; None where it is no file that can be read."""
        if name not in self._sums:
            self._sums[name] = sum_in(name)
        return self._sums[name]


def memory_for(named: Iterable[str]) -> Memory | None:
    """The user's cache; None where there is none, or it would be inside a folder that is named."""
    from platformdirs import user_cache_path

    try:
        folder = user_cache_path(NAME, appauthor=False).resolve()
        for name in named:
            path = Path(name).resolve()
            if path == folder or path in folder.parents:
                return None
        return Memory(folder)
    except (OSError, RuntimeError, ValueError):
        return None


def _program() -> bytes:
    """What this program is: its version, its files as they are, and its vocabulary's text."""
    home = Path(procedure.__file__).parent
    made = blake2b(procedure.__version__.encode(), digest_size=16)
    for folder in (home, home.parent / "grammar"):
        for inside, folders, names in os.walk(folder):
            folders[:] = sorted(set(folders) - {"__pycache__", "page"})
            for name in sorted(names):
                file = f"{inside}/{name}"
                made.update(f"{file}\0{stamp_of(file)}\0".encode())
                if name.endswith(".csv"):
                    made.update(Path(file).read_bytes())
    return made.digest()


def _total(key: bytes, *texts: str) -> bytes:
    """A sum over an entry, so that one that was spoilt on the disk is known."""
    return blake2b(key + "\0".join(texts).encode("utf-8"), digest_size=16).digest()
