"""A small job as text and the whole pipeline behind it, for tests that ask about the end of it."""

from functools import cache
from pathlib import Path

from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import read_catalogue
from estimator.estimate import estimate
from estimator.job.crosscheck import crosscheck
from estimator.job.read import parse_job
from estimator.result import Estimate

ROOT = Path(__file__).resolve().parent.parent
STUDIO = ROOT / "examples" / "pottery-studio"

HEAD = """
title = "Shed"
ruleset = "uk"
currency = "GBP"
priced_on = 2026-10-01

[frame]
stud = "38 x 89 mm"
centres = "600 mm"
inside = ["12.5 mm plasterboard"]
outside = ["11 mm sheathing", "20 mm cladding"]
insulation = "none"

[[board]]
name = "CU"
kind = "consumer-unit-8"
room = "shed"
wall = "left"
along = "2.3 m"
height = "1.4 m"

[[room]]
name = "shed"
size = ["6.0 m", "4.0 m"]
height = "2.4 m"
ceiling = { joist = "47 x 147 mm", centres = "400 mm", span = "along y" }

  [[room.opening]]
  kind = "door"
  wall = "front"
  along = "0.6 m"
  width = "0.9 m"
  sill = "0 m"
  head = "2.1 m"
"""

SOCKETS = """
[[points]]
name = "S"
kind = "double-socket"
circuit = "sockets"
room = "shed"
height = "1.1 m"
spread = {count}

[[circuit]]
name = "sockets"
board = "CU"
wiring = "{wiring}"
cable = "te-2.5"
device = "rcbo-b20"
"""


@cache
def shipped() -> Catalogue:
    """The catalogue as it ships."""
    return read_catalogue(None)


def sockets(count: int = 12, wiring: str = "radial", more: str = "") -> str:
    """A shed with `count` double sockets spread round it, on one circuit."""
    return HEAD + SOCKETS.format(count=count, wiring=wiring) + more


def worked(text: str, catalogue: Catalogue | None = None) -> Estimate:
    """The estimate of a job text with the shipped catalogue."""
    of = catalogue or shipped()
    job, _ = parse_job(text, catalogue=of)
    assert crosscheck(job, of) == ()
    return estimate(job, of)
