"""Hard recalculation of a workbook by LibreOffice: an .xlsx file goes in, the value of every cell comes out.

LibreOffice trusts the values stored beside formulas unless a profile tells it to work everything out anew.
"""

import os
import shutil
import subprocess
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import openpyxl
import pytest

PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry" xmlns:xs="http://www.w3.org/2001/XMLSchema">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode" oor:op="fuse"><value>0</value>
</prop></item></oor:items>
"""
Values = dict[tuple[str, str], Any]


def office() -> str:
    """The program; without it a test is skipped, but fails where the environment says CI=true."""
    program = shutil.which("soffice") or shutil.which("libreoffice")
    if program is None:
        message = "LibreOffice is not installed"
        if os.environ.get("CI") == "true":
            pytest.fail(message)
        pytest.skip(message)
    return program


def convert(sources: Sequence[Path], work: Path, to: str, infilter: str = "") -> list[Path]:
    """The files converted by LibreOffice in one go, everything worked out anew, in `work`."""
    user = work / "profile" / "user"
    user.mkdir(parents=True, exist_ok=True)
    (user / "registrymodifications.xcu").write_text(PROFILE, encoding="utf-8")
    out = work / "converted"
    command = [office(), f"-env:UserInstallation={(work / 'profile').resolve().as_uri()}", "--headless"]
    command += [f"--infilter={infilter}"] if infilter else []
    command += ["--convert-to", to, "--outdir", str(out), *(str(source) for source in sources)]
    subprocess.run(command, check=True, capture_output=True, timeout=180)
    return [out / f"{source.stem}.{to}" for source in sources]


def recalculated(sources: Sequence[Path], work: Path, infilter: str = "") -> list[Values]:
    """Every cell that holds something, by sheet and name, after a hard recalculation of each file."""
    return [values(path) for path in convert(sources, work, "xlsx", infilter)]


def differences(stored: Values, worked_out: Values, formulas_of: Values) -> list[str]:
    """Cells with a formula whose stored value is not what the recalculation gives."""
    return [
        f"{sheet}!{name}: stored {stored.get((sheet, name))}, worked out {worked_out.get((sheet, name))}, {formula}"
        for (sheet, name), formula in formulas_of.items()
        if not same(stored.get((sheet, name)), worked_out.get((sheet, name)))
    ]


def same(one: Any, other: Any) -> bool:
    """Equal words, or figures nearer than a billionth."""
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= 1e-9 * max(1.0, abs(one))
    return one is not None and one == other


def values(path: Path) -> Values:
    """Every cell that holds something, as stored: a formula's cell gives its stored value."""
    return _cells(path, data_only=True)


def formulas(path: Path) -> Values:
    """The cells that hold a formula, with the formula."""
    return {at: value for at, value in _cells(path, data_only=False).items() if str(value).startswith("=")}


def _cells(path: Path, data_only: bool) -> Values:
    book = openpyxl.load_workbook(path, data_only=data_only)
    return {
        (sheet.title, cell.coordinate): cell.value
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None
    }
