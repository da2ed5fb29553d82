"""The sheet Drilling: every hole in walking order with its bit and what goes through it, then how many holes each bit makes."""

from collections import Counter
from collections.abc import Mapping, Sequence
from decimal import Decimal
from itertools import groupby
from types import MappingProxyType

from estimator.documents.hole_words import which_of_several
from estimator.documents.key import DRILLING
from estimator.documents.sheets.looks import APART, GENERAL, GROUP, PLAIN, QUIET, RIGHT, RULED, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.result import Estimate
from estimator.routing.model import AskFirst, BitTotal, Drilled, Passage

HEADS = (
    "Nr",
    "Member",
    "From the\nleft end mm",
    "Height\nmm",
    "Bit mm",
    "Cables",
    "Legs and runs through it",
    "What set the bit",
)
NUMBER, MEMBER, ALONG, HEIGHT, BIT, CABLES, LEGS, RULE = range(8)
WIDTHS = (6, 25, 11, 9, 7, 17, 33, 53)
RIGHT_HEADS = (NUMBER, ALONG, HEIGHT, BIT)
LEFT_HEADS = (MEMBER, CABLES)
NOTE = (
    "Holes in walking order: room by room, walls clockwise from the back wall, then ceiling and floor. To the centre of the hole, "
    "along the wall from its left end as seen from inside and up from the room's finished floor; in ceilings and floors as each "
    "heading says. Where one hole does not take all cables, the next ones are set off along the timber, and their figures say "
    "where. Ask your electrician before you drill: this is a list of the plan. Do not drill a hole marked ASK FIRST until the "
    "frame's designer has answered: it is at the very end of a joist, or outside the zone along it where holes belong (see Findings)."
)
ASKED: Mapping[AskFirst, str] = MappingProxyType({"end": "ASK FIRST: end of joist", "zone": "ASK FIRST: outside zone"})
TOTAL_HEADS = ("Holes", "In", "", "", "Bit mm", "Bit", "", "")
MANY = {"stud": "studs", "joist": "joists", "plate": "plates", "wall": "walls"}
BITS = "bit-sizes"
"""The table whose columns are parts, and its values their sizes."""
NO_BIT = "none fits: see Findings"


def write_drilling(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    page.heading("Drilling", NOTE, HEADS, RIGHT_HEADS, LEFT_HEADS)
    row, number = FIRST_ROW, 1
    for heading, holes in groupby(estimate.routes.drilled, key=lambda hole: _where(hole.passage)):
        page.rule(row, RULE, GROUP)
        page.text(row, NUMBER, heading, {**GROUP, "text_wrap": False})
        row += 1
        for hole in holes:
            _hole(page, row, number, hole)
            row, number = row + 1, number + 1
        row += 1
    if not estimate.routes.drilled:
        page.text(row, NUMBER, "No hole in this job.", {**QUIET, "text_wrap": False})
        page.finish(row, RULE)
        return
    page.finish(page.words(_totals(page, estimate, row), DRILLING) - 1, RULE)


def _where(passage: Passage) -> str:
    """The room and the wall; in a void also what the two figures are measured from."""
    where = f"{passage.room}, {passage.face}"
    if passage.joist_axis == "x":
        return f"{where}: joists by x from the left, holes by the way along the joist from its front end"
    if passage.joist_axis == "y":
        return f"{where}: joists by y from the front, holes by the way along the joist from its left end"
    return where


def _hole(page: Page, row: int, number: int, hole: Drilled) -> None:
    up = hole.on_member_mm if hole.height_mm is None else hole.height_mm
    page.rule(row, RULE, RULED)
    page.number(row, NUMBER, number, RULED, PLAIN)
    page.text(row, MEMBER, _member(hole), RULED, WRAPPED, APART)
    page.number(row, ALONG, hole.along_mm, RULED, PLAIN, GENERAL)
    page.number(row, HEIGHT, up, RULED, PLAIN, GENERAL)
    _bit(page, row, hole.bit_mm)
    page.text(row, CABLES, _cables(hole.cables), RULED, WRAPPED, APART)
    page.text(row, LEGS, "; ".join(hole.legs), RULED, WRAPPED)
    page.text(row, RULE, hole.bound_by, RULED, QUIET)


def _member(hole: Drilled) -> str:
    """`stud 38 x 89 mm`; what is gone through square to it says so itself: `wall 145 mm`; under it what to ask first, and which of several it is."""
    passage = hole.passage
    named = passage.member.startswith(passage.kind)
    member = passage.member if named else f"{passage.kind} {passage.member}".strip()
    asked = (ASKED[hole.ask_first],) if hole.ask_first else ()
    which = (which_of_several(hole.set_off, passage),) if hole.set_off else ()
    return "\n".join((member, *asked, *which))


def _cables(cables: Sequence[str]) -> str:
    """`2 x te-1.5, te3-1.5`."""
    return ", ".join(name if count == 1 else f"{count} x {name}" for name, count in Counter(cables).items())


def _bit(page: Page, row: int, bit_mm: Decimal | None) -> None:
    if bit_mm is None:
        page.text(row, BIT, "none", RULED, PLAIN, RIGHT)
    else:
        page.number(row, BIT, bit_mm, RULED, PLAIN, GENERAL)


def _totals(page: Page, estimate: Estimate, row: int) -> int:
    """How many holes of each bit, member by member; the first row after them."""
    page.head_row(row, TOTAL_HEADS, RIGHT_HEADS, LEFT_HEADS)
    before: BitTotal | None = None
    for at, total in enumerate(estimate.routes.bits, row + 1):
        first = before is None or before.bit_mm != total.bit_mm
        page.rule(at, RULE, RULED)
        page.number(at, NUMBER, total.count, RULED, PLAIN)
        page.text(at, MEMBER, MANY[total.kind], RULED, PLAIN, APART)
        _bit(page, at, total.bit_mm)
        words = bit_words(estimate, total.bit_mm) if first else "as above"
        page.text(at, CABLES, words, RULED, WRAPPED if first else QUIET, APART)
        before = total
    return row + 1 + len(estimate.routes.bits)


def bit_words(estimate: Estimate, bit_mm: Decimal | None) -> str:
    """The bit as a merchant calls it, by the table of bits of the job's rules; its size where that names no part."""
    if bit_mm is None:
        return NO_BIT
    named = (
        column
        for (ruleset, table, _, column), cell in estimate.catalogue.cells.items()
        if (ruleset, table, cell.value) == (estimate.job.ruleset, BITS, bit_mm)
    )
    part = next((estimate.catalogue.parts[name] for name in named if name in estimate.catalogue.parts), None)
    return (part.trade_name or part.description) if part else f"{bit_mm.normalize():f} mm"
