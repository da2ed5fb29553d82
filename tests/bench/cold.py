"""The example's whole cold estimate, files and all, against a bare import of the libraries it stands on."""

import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent.parent
BARE = "import pandas, pint, openpyxl, typer, jinja2"
ROUNDS = 5
USERS = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
"""As a user has it: compiled modules are kept from run to run."""


def seconds(*command: str) -> float:
    """Wall time of one run of a command, in seconds."""
    start = time.perf_counter()
    subprocess.run(command, check=True, capture_output=True, cwd=ROOT, env=USERS)
    return time.perf_counter() - start


def run() -> Iterator[str]:
    """Medians of alternating runs, so that what else the machine does falls on both."""
    bare, whole = [], []
    with tempfile.TemporaryDirectory() as folder:
        job = str(ROOT / "examples" / "pottery-studio")
        for _ in range(ROUNDS + 1):
            bare.append(seconds(sys.executable, "-c", BARE))
            whole.append(seconds(sys.executable, "-m", "estimator", "estimate", job, "-o", folder))
    first, second = statistics.median(bare[1:]), statistics.median(whole[1:])
    yield f"bare import {first:.2f} s, estimate {second:.2f} s: ratio {second / first:.2f} (aim: under 1.5)"
