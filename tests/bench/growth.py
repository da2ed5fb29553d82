"""Growth of one job from 20 to 400 points: rooms side by side, each with a circuit of 20 sockets."""

import math
import time
from collections.abc import Iterator

from estimator.catalogue.read import read_catalogue
from estimator.estimate import estimate
from estimator.job.read import parse_job

HEAD = """
title = "Rows of rooms"
ruleset = "uk"
currency = "GBP"
priced_on = 2026-10-01

[frame]
stud = "38 x 89 mm"
centres = "600 mm"

[[board]]
name = "CU"
kind = "consumer-unit-16"
room = "r0"
wall = "left"
along = "2 m"
height = "1.4 m"
"""

ROOM = """
[[room]]
name = "r{i}"
size = ["6.0 m", "4.0 m"]
at = ["{x} mm", "0 mm"]
height = "2.4 m"
ceiling = {{ joist = "47 x 147 mm", centres = "400 mm", span = "along y" }}

[[points]]
name = "P{i}S"
kind = "double-socket"
circuit = "c{i}"
room = "r{i}"
height = "450 mm"
spread = 20

[[circuit]]
name = "c{i}"
board = "CU"
wiring = "radial"
cable = "te-2.5"
device = "rcbo-b20"
"""


def job_text(rooms: int) -> str:
    """A job of so many rooms in a row, 89 mm of wall between them."""
    return HEAD + "".join(ROOM.format(i=i, x=i * 6089) for i in range(rooms))


def run() -> Iterator[str]:
    """Seconds for 20 to 400 points, and the exponent between neighbours."""
    catalogue = read_catalogue(None)
    before: tuple[int, float] | None = None
    for rooms in (1, 2, 5, 10, 20):
        job, _ = parse_job(job_text(rooms))
        start = time.perf_counter()
        worked = estimate(job, catalogue)
        taken = time.perf_counter() - start
        proven = sum(circuit.proven for circuit in worked.routes.circuits)
        exponent = ""
        if before is not None:
            exponent = f", grows as n^{math.log(taken / before[1]) / math.log(rooms / before[0]):.2f}"
        yield f"{20 * rooms:4d} points: {taken:.2f} s, {proven} of {rooms} circuits proven{exponent}"
        before = (rooms, taken)
