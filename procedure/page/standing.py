"""The page as plain files that any host of files can serve: nothing to install, nothing to run.

Python (Pyodide) and Graphviz as WebAssembly are not part of the program. They are taken
from npm's packages at that moment, or from a folder that holds those packages.
"""

from __future__ import annotations

import gzip
import hashlib
import io
import json
import shutil
import subprocess
import tarfile
import tempfile
import zipfile
from collections.abc import Iterator, Mapping
from importlib.util import find_spec
from pathlib import Path

from procedure.collection.writing import write_whole
from procedure.page.serving import BUILT
from procedure.quantity.record import NamedTuple

PACKAGE = Path(__file__).parents[1]
SUFFIXES = frozenset((".py", ".csv", ".css", ".js", ".json", ".svg", ".lark", ".typ"))
# Rooms that the page has no use for: it has its own ways in and out.
NOT_IN_THE_PAGE = frozenset(("command", "page"))
# What the service imports that Pyodide does not bring, and which parts of it; all of it is
# Python alone. It is fetched when it is first needed: a check needs none of it.
LIBRARIES: Mapping[str, tuple[str, ...]] = {
    "graphviz": (),
    "ghs_hazard_pictogram": (),
    "networkx": (),
    "fontTools": ("__init__.py", "config", "misc", "pens", "svgLib"),
}
WASM = "pyodide.asm.wasm"
# Parts of Python's own library that a page never asks for: other ways in, tests, other machines.
NOT_OF_PYTHON = (
    # What C gives ("_datetime"), and what other systems and other processes ask for.
    *("_pydatetime.py", "asyncio/proactor_events.py", "asyncio/windows_", "plistlib.py"),
    *("concurrent/futures/process.py", "xml/dom/expatbuilder.py", "xml/dom/minidom.py"),
    *("_pyio.py", "_pyrepl/", "antigravity.py", "bdb.py", "cmd.py", "compileall.py", "doctest.py"),
    *("fileinput.py", "ftplib.py", "http/cookiejar.py", "http/server.py", "idlelib/"),
    *("imaplib.py", "logging/config.py", "logging/handlers.py", "mailbox.py"),
    *("modulefinder.py", "multiprocessing/", "optparse.py", "pdb.py", "pickletools.py"),
    *("poplib.py", "profile.py", "pstats.py", "pty.py", "pyclbr.py", "pydoc.py", "sched.py"),
    *("shelve.py", "smtplib.py", "socketserver.py", "sqlite3/", "tabnanny.py", "this.py"),
    *("timeit.py", "trace.py"),
    # A console, a command line, a debugger of memory, and what nothing else here imports.
    *("argparse.py", "asyncio/__main__.py", "asyncio/tools.py", "cProfile.py", "code.py"),
    *("concurrent/interpreters/", "concurrent/futures/interpreter.py", "configparser.py"),
    *("ctypes/", "filecmp.py", "getopt.py", "gettext.py", "http/cookies.py", "json/__main__.py"),
    *("json/tool.py", "netrc.py", "py_compile.py", "pyodide/console.py", "rlcompleter.py"),
    *("statistics.py", "symtable.py", "sysconfig/__main__.py", "urllib/robotparser.py"),
    *("xml/dom/pulldom.py", "xml/dom/xmlbuilder.py"),
    # Mail by the later standards, Python's own trees as text, what the ending of a file tells.
    *("email/_header_value_parser.py", "email/headerregistry.py", "email/policy.py"),
    *("email/contentmanager.py", "email/_encoded_words.py", "_ast_unparse.py", "mimetypes.py"),
    *("unittest/", "wave.py", "wsgiref/", "xmlrpc/", "zipapp.py"),
    # Code pages that no text here comes in; those that a draft looks for stay.
    *(
        f"encodings/{name}"
        for name in (
            *("cp0", "cp10", "cp11", "cp1250", "cp1251", "cp1253", "cp1254", "cp1255", "cp1256"),
            *("cp1257", "cp1258", "cp5", "cp7", "cp852", "cp855", "cp857", "cp858", "cp86", "cp87"),
            *("cp9", "koi8_", "mac_arabic", "mac_croatian", "mac_cyrillic", "mac_farsi"),
            *("cp273", "cp424", "cp856", "hp_roman8", "kz1048", "palmos", "ptcp154", "tis_620"),
            *("mac_greek", "mac_iceland", "mac_latin2", "mac_romanian", "mac_turkish"),
        )
    ),
)
WARM = "warm.packed"
POLICY = (
    "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; worker-src 'self'; "
    "style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; connect-src 'self'; "
    "frame-src 'self' blob:; base-uri 'none'; form-action 'none'"
)


class PagePackage(NamedTuple):
    """A package of npm that the page needs: its version, its files, and where they go."""

    name: str
    version: str
    files: tuple[str, ...]
    into: str


PARTS = (
    PagePackage(
        "pyodide",
        "314.0.7",
        (
            "pyodide.mjs",
            "pyodide.asm.mjs",
            "pyodide.asm.wasm",
            "python_stdlib.zip",
            "pyodide-lock.json",
        ),
        "pyodide",
    ),
    PagePackage("@hpcc-js/wasm-graphviz", "1.29.2", ("dist/index.js",), "graphviz"),
)


class NotStanding(ValueError):
    """The page cannot be made; its text is one plain sentence."""


class PageWritten(NamedTuple):
    """A page that was written: its size in bytes, and what was left out of it ('' for nothing)."""

    size: int
    said: str


def write(folder: Path, given: Path | None = None) -> PageWritten:
    """Write the page into a folder.

    ``given`` is a folder with npm's packages, unpacked or as ``npm pack`` gives them.
    Raises :class:`NotStanding` where something is missing, ``NotWritten`` or ``OSError``.
    """
    files = dict(_ours())
    with tempfile.TemporaryDirectory() as temporary:
        for part in PARTS:
            home = _found(part, given, Path(temporary))
            for name in part.files:
                if not (home / name).is_file():
                    raise NotStanding(f"{part.name} {part.version} holds no {name}.")
                files[f"{part.into}/{Path(name).name}"] = (home / name).read_bytes()
        files |= dict(_lightened(files))
        archives = {"program": program(), "libraries": libraries()}
        compiled, warm, said = _compiled(archives, files, Path(temporary))
    files |= {f"{name}.packed": _as_one(archive) for name, archive in compiled.items()}
    files[WARM] = gzip.compress(warm, mtime=0)
    python = files.pop(f"{PARTS[0].into}/{WASM}")
    files[f"{PARTS[0].into}/{WASM}.packed"] = gzip.compress(python, mtime=0)
    build = hashlib.sha256(b"".join(files[name] for name in sorted(files))).hexdigest()[:16]
    files["offline.js"] = files["offline.js"].replace(b"BUILD", build.encode())
    for name, data in files.items():
        (folder / name).parent.mkdir(parents=True, exist_ok=True)
        write_whole(folder / name, data)
    return PageWritten(sum(map(len, files.values())), said)


def _lightened(files: Mapping[str, bytes]) -> Iterator[tuple[str, bytes]]:
    """Pyodide's own files without what the page has no use for."""
    into = PARTS[0].into
    lock = json.loads(files[f"{into}/pyodide-lock.json"])
    # No package of Pyodide's is loaded.
    yield f"{into}/pyodide-lock.json", json.dumps({**lock, "packages": {}}).encode()
    held = io.BytesIO()
    library = io.BytesIO(files[f"{into}/python_stdlib.zip"])
    with zipfile.ZipFile(library) as given, zipfile.ZipFile(held, "w") as made:
        for about in given.infolist():
            if not about.filename.startswith(NOT_OF_PYTHON):
                about.compress_type = zipfile.ZIP_DEFLATED
                made.writestr(about, given.read(about), compresslevel=9)
    yield f"{into}/python_stdlib.zip", held.getvalue()


def _compiled(
    archives: dict[str, bytes], files: Mapping[str, bytes], temporary: Path
) -> tuple[dict[str, bytes], bytes, str]:
    """The archives with their modules compiled by the page's Python, or why they are not.

    Between them comes that Python as it is behind its first check; nothing where there is none.
    """
    node = shutil.which("node")
    if node is None:
        said = "Node is not installed, so the page compiles the program when it opens."
        return archives, b"", said
    brought = temporary / "brought"
    brought.mkdir()
    for name in PARTS[0].files:
        (brought / name).write_bytes(files[f"{PARTS[0].into}/{name}"])
    for name, archive in archives.items():
        (temporary / name).write_bytes(archive)
    held = [str(temporary / name) for name in (*archives, WARM)]
    asked = [node, str(BUILT / "compile.mjs"), str(brought), *held]
    try:
        subprocess.run(asked, check=True, capture_output=True, timeout=600)
    except (subprocess.SubprocessError, OSError):
        said = "Node could not compile the program, so the page does when it opens."
        return archives, b"", said
    made = {name: (temporary / name).read_bytes() for name in archives}
    return made, (temporary / WARM).read_bytes(), ""


def _as_one(archive: bytes) -> bytes:
    """The files of a zip archive packed all together, like beside like, which is smaller."""
    held = io.BytesIO()
    with (
        zipfile.ZipFile(io.BytesIO(archive)) as given,
        tarfile.open(fileobj=held, mode="w", format=tarfile.USTAR_FORMAT) as made,
    ):
        for name in sorted(given.namelist(), key=lambda name: (Path(name).suffix, name)):
            data = given.read(name)
            about = tarfile.TarInfo(name)
            about.size = len(data)
            made.addfile(about, io.BytesIO(data))
    return gzip.compress(held.getvalue(), mtime=0)


def _ours() -> Iterator[tuple[str, bytes]]:
    page = (BUILT / "page.html").read_text(encoding="utf-8")
    policy = f'<meta http-equiv="Content-Security-Policy" content="{POLICY}">'
    page = page.replace('<meta charset="utf-8">', f'<meta charset="utf-8">\n{policy}')
    yield "index.html", page.encode()
    yield "page.js", (BUILT / "page-static.js").read_bytes()
    for name in ("page.css", "worker.js", "offline.js", "licences.txt"):
        yield name, (BUILT / name).read_bytes()


def program() -> bytes:
    """The program, as a zip archive; the same each time."""
    return _archive(_program_files())


def libraries() -> bytes:
    """The libraries that the program needs, as a zip archive; the same each time.

    Raises :class:`NotStanding` where one is not installed.
    """
    return _archive(_library_files())


def _archive(found: Iterator[tuple[str, Path]]) -> bytes:
    held = io.BytesIO()
    with zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, path in sorted(found):
            about = zipfile.ZipInfo(name, (2026, 1, 1, 0, 0, 0))
            about.compress_type = zipfile.ZIP_DEFLATED
            archive.writestr(about, path.read_bytes())
    return held.getvalue()


def _program_files() -> Iterator[tuple[str, Path]]:
    for path in _below(PACKAGE):
        inside = path.relative_to(PACKAGE)
        if inside.parts[0] not in NOT_IN_THE_PAGE:
            yield f"procedure/{inside.as_posix()}", path
    from procedure.language.table import GRAMMAR_FOLDER

    for name in ("vatwright.lark", "table.json"):
        yield f"procedure/grammar/{name}", Path(GRAMMAR_FOLDER, name)


def _library_files() -> Iterator[tuple[str, Path]]:
    for library, parts in LIBRARIES.items():
        spec = find_spec(library)
        if spec is None or spec.origin is None:
            raise NotStanding(f"{library} is not installed; install the program again.")
        home = Path(spec.origin).parent
        for path in _below(home):
            inside = path.relative_to(home)
            if not parts or inside.parts[0] in parts:
                yield f"{library}/{inside.as_posix()}", path


def _below(folder: Path) -> Iterator[Path]:
    for path in folder.rglob("*"):
        left_out = {"node_modules", "tests", "__pycache__"} & set(path.relative_to(folder).parts)
        if path.suffix in SUFFIXES and not left_out and path.is_file():
            yield path


def _found(part: PagePackage, given: Path | None, temporary: Path) -> Path:
    """The folder of a package: from the folder that is given, or from npm."""
    if given is not None:
        unpacked = given / part.name
        if unpacked.is_dir():
            return unpacked
        packed = given / _packed(part)
        if packed.is_file():
            return _unpacked(packed, temporary / part.into)
        raise NotStanding(f"{given} holds neither {part.name} nor {_packed(part)}.")
    npm = shutil.which("npm")
    if npm is None:
        raise NotStanding(
            "npm is not installed, and the page needs its packages "
            f"{' and '.join(f'{one.name} {one.version}' for one in PARTS)}; "
            "name a folder that holds them with --parts."
        )
    asked = [npm, "pack", "--silent", f"{part.name}@{part.version}"]
    try:
        subprocess.run(asked, cwd=temporary, check=True, capture_output=True, timeout=600)
    except (subprocess.SubprocessError, OSError):
        raise NotStanding(f"npm could not give {part.name} {part.version}.") from None
    return _unpacked(temporary / _packed(part), temporary / part.into)


def _packed(part: PagePackage) -> str:
    return f"{part.name.removeprefix('@').replace('/', '-')}-{part.version}.tgz"


def _unpacked(packed: Path, into: Path) -> Path:
    with tarfile.open(packed) as archive:
        # Python 3.11 knows the filter from 3.11.4 on.
        archive.extraction_filter = getattr(tarfile, "data_filter", lambda member, _: member)
        archive.extractall(into)
    return into / "package"
