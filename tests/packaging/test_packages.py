"""The sdist and the wheel: whole, and working where nothing else of ours is."""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
import venv
import zipfile
from collections.abc import Iterable
from importlib.metadata import Distribution, distribution
from pathlib import Path

import pytest
from lowest import dependencies
from packaging.requirements import Requirement

ROOT = Path(__file__).parents[2]
EXAMPLE = ROOT / "examples" / "tansy-gold-and-moss.dye"

pytestmark = pytest.mark.slow


def run(*command: str | Path, cwd: Path) -> str:
    """Run a command; its standard output, or a failure that shows all that it said."""
    # Nothing of this interpreter's own surroundings may help the one that is tested.
    clean = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    done = subprocess.run(
        [str(word) for word in command],
        cwd=cwd,
        capture_output=True,
        text=True,
        timeout=600,
        check=False,
        stdin=subprocess.DEVNULL,
        env=clean,
    )
    assert done.returncode == 0, f"{command}\n{done.stdout}\n{done.stderr}"
    return done.stdout


@pytest.fixture(scope="module")
def built(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Path]:
    """The sdist of the checkout, and the wheel that is built from that sdist."""
    out = tmp_path_factory.mktemp("built")
    run(sys.executable, "-m", "build", "--no-isolation", "--outdir", out, ROOT, cwd=out)
    (sdist,) = out.glob("*.tar.gz")
    (wheel,) = out.glob("*.whl")
    return sdist, wheel


def ours(folder: str) -> set[str]:
    """The files of one of our folders, without what Python leaves there."""
    return {
        str(path.relative_to(ROOT))
        for path in (ROOT / folder).rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and path.suffix != ".pyc"
    }


def test_the_wheel_holds_the_whole_program(built: tuple[Path, Path]) -> None:
    inside = set(zipfile.ZipFile(built[1]).namelist())
    wanted = ours("procedure") | {f"procedure/{name}" for name in ours("grammar")}
    assert wanted <= inside
    assert {
        "procedure/py.typed",
        "procedure/grammar/vatwright.lark",
        "procedure/grammar/table.json",
        "procedure/vocabulary/data/units.csv",
        "procedure/report/findings.schema.json",
    } <= inside
    top = {name.split("/")[0] for name in inside}
    assert {name for name in top if not name.endswith(".dist-info")} == {"procedure"}


def test_the_wheel_says_what_it_is(built: tuple[Path, Path]) -> None:
    wheel = zipfile.ZipFile(built[1])
    (name,) = [n for n in wheel.namelist() if n.endswith(".dist-info/METADATA")]
    said = wheel.read(name).decode("utf-8")
    assert "Name: vatwright\n" in said and "License-Expression: MIT\n" in said
    assert "Requires-Python: >=3.11\n" in said and "Requires-Dist: lark" in said
    assert built[1].name.endswith("-py3-none-any.whl")


def test_the_sdist_holds_what_a_packager_needs(built: tuple[Path, Path]) -> None:
    with tarfile.open(built[0]) as sdist:
        names = {name.split("/", 1)[-1] for name in sdist.getnames()}
    assert ours("procedure") | ours("grammar") | ours("examples") | ours("tests") <= names
    assert {"README.md", "LICENSE", "pyproject.toml"} <= names


def _asked_for(requirement: Requirement, extras: set[str]) -> bool:
    """Whether a requirement applies here, where those extras are asked for."""
    marker = requirement.marker
    return marker is None or any(marker.evaluate({"extra": extra}) for extra in extras or {""})


def needed_by(wanted: Iterable[Requirement]) -> dict[str, Distribution]:
    """The packages that those requirements bring with them, as they are installed here, by name."""
    found: dict[str, Distribution] = {}
    seen: set[str] = set()
    left = [one for one in wanted if _asked_for(one, set())]
    while left:
        one = left.pop()
        if str(one) in seen:
            continue
        seen.add(str(one))
        package = distribution(one.name)
        found[package.metadata["Name"]] = package
        further = [Requirement(text) for text in package.requires or ()]
        left += [each for each in further if _asked_for(each, one.extras)]
    return found


def environment(home: Path, wanted: Iterable[Requirement]) -> Path:
    """An environment with what is wanted and what that needs, and nothing else; its commands.

    The packages are links to those of the interpreter that runs the tests, so nothing is fetched.
    That an installation fetches them is seen by ``.ci/run``, which begins with one.
    """
    venv.create(home)
    commands = home / ("Scripts" if sys.platform == "win32" else "bin")
    where = "import sysconfig; print(sysconfig.get_path('purelib'))"
    packages = Path(run(commands / "python", "-c", where, cwd=home.parent).strip())
    for package in needed_by(wanted).values():
        tops = {file.parts[0] for file in package.files or ()} - {"..", "__pycache__"}
        assert tops, package.name
        for top in tops:
            link = packages / top
            if not link.exists():
                link.symlink_to(Path(str(package.locate_file(top))).resolve())
    return commands


@pytest.mark.parametrize("which", [0, 1], ids=["sdist", "wheel"])
def test_installed_in_a_fresh_environment(
    built: tuple[Path, Path], which: int, tmp_path: Path
) -> None:
    home = tmp_path / "env"
    builders = [Requirement("hatchling")] if which == 0 else []
    commands = environment(home, [*dependencies(), *builders])
    # No index: whatever the package does not ask for is not there, and pip says so.
    pip = (sys.executable, "-m", "pip", "--python", commands / "python", "install", "-q")
    alone = ("--no-index", "--no-build-isolation", "--disable-pip-version-check")
    run(*pip, *alone, built[which], cwd=tmp_path)
    # Far from the checkout: an example of one's own, and the command that was installed.
    bench = tmp_path / "bench"
    bench.mkdir()
    (bench / "plan.dye").write_bytes(EXAMPLE.read_bytes())
    where = run(commands / "python", "-c", "import procedure; print(procedure.__file__)", cwd=bench)
    assert Path(where.strip()).is_relative_to(home)
    vatwright = commands / "vatwright"
    assert run(vatwright, "check", "plan.dye", cwd=bench).startswith("Nothing to mend")
    assert "which-gallon" in run(vatwright, "why", cwd=bench)
    run(vatwright, "chart", "plan.dye", "-o", "plan.svg", cwd=bench)
    drawn = (bench / "plan.svg").read_text("utf-8")
    assert "<svg" in drawn and "yarn" in drawn
    typed = "import procedure, pathlib; print(pathlib.Path(procedure.__file__).parent / 'py.typed')"
    assert Path(run(commands / "python", "-c", typed, cwd=bench).strip()).is_file()
