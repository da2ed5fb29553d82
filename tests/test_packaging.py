"""What a user installs: the wheel holds every shipped file and nothing else, and works away from the checkout."""

import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from tests.shed import ROOT, STUDIO

pytestmark = pytest.mark.slow


def git_files(*folders: str) -> set[str]:
    listed = subprocess.run(["git", "ls-files", *folders], capture_output=True, text=True, cwd=ROOT, check=True)
    return set(listed.stdout.split())


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "pip", "wheel", "-q", "--no-deps", "-w", str(folder), str(ROOT)],
        check=True,
        capture_output=True,
    )
    return next(folder.glob("*.whl"))


def test_the_wheel_holds_just_the_shipped_tables_and_templates(wheel: Path) -> None:
    with zipfile.ZipFile(wheel) as archive:
        names = archive.namelist()
    data = {name.removeprefix("estimator/") for name in names if re.match(r"estimator/(catalogues|templates)/", name)}
    assert data == git_files("catalogues", "templates")
    assert {name for name in names if name.endswith(".py")} == {
        name for name in git_files("estimator") if name.endswith(".py")
    }


def test_the_installed_package_works_out_a_job_from_another_folder(wheel: Path, tmp_path: Path) -> None:
    site, elsewhere = tmp_path / "site", tmp_path / "elsewhere"
    elsewhere.mkdir()
    # A decoy: the program must not take a stranger's tables that happen to lie where it is run.
    (elsewhere / "catalogues").mkdir()
    (elsewhere / "catalogues" / "parts.csv").write_text("no table of ours\n", encoding="utf-8")
    subprocess.run(
        [sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", str(site), str(wheel)],
        check=True,
        capture_output=True,
    )
    run = {"cwd": elsewhere, "env": {**os.environ, "PYTHONPATH": str(site)}, "capture_output": True, "text": True}
    where = subprocess.run([sys.executable, "-c", "import estimator; print(estimator.__file__)"], check=True, **run)  # type: ignore[call-overload]
    assert where.stdout.startswith(str(site))
    done = subprocess.run([sys.executable, "-m", "estimator", "estimate", str(STUDIO), "-o", "out"], **run)  # type: ignore[call-overload]
    assert done.returncode == 0, done.stderr
    assert (elsewhere / "out" / "estimate.json").stat().st_size > 1000


def test_the_readme_has_the_two_commands_that_are_run_here() -> None:
    commands = [
        subprocess.run(
            [sys.executable, ".ci/readme_command.py", which], capture_output=True, text=True, cwd=ROOT, check=True
        )
        for which in ("job", "tests")
    ]
    job, tests = (command.stdout for command in commands)
    assert "studbay estimate examples/pottery-studio" in job
    assert "pytest" in tests
