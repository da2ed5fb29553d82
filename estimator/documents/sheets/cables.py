"""The sheet Cable schedule: every leg and run with its lengths and holes, and how much of each cable that is."""

from collections.abc import Mapping, Sequence
from decimal import Decimal

from estimator.documents.key import CABLES
from estimator.documents.sheets.cells import cell
from estimator.documents.sheets.looks import APART, GROUP, METRES, PLAIN, QUIET, RULED, SUM, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import PROVEN, metres
from estimator.result import Estimate
from estimator.routing.model import CircuitRoute, ControlRoute, Leg, RunRoute

HEADS = (
    "Leg or run",
    "Use",
    "Cable",
    "From",
    "To",
    "Route m",
    "Length m",
    "Cut m",
    "Drum",
    "Studs",
    "Plates",
    "Joists",
    "Walls",
    "Supports",
    "As built m",
)
WIDTHS = (35, 9, 10, 10, 10, 9, 9, 9, 12, 6.5, 6.5, 6.5, 6.5, 9, 10)
RIGHT_HEADS = (5, 6, 7, *range(9, 15))
NAME, USE, CABLE, START, END, ROUTE, LENGTH, CUT, DRUM, STUDS, PLATES, JOISTS, WALLS, SUPPORTS, BUILT = range(15)
NOTE = (
    "Route is the way through the frame; length adds the tails at both ends; cut is what comes off the drum, in one piece with no "
    "joint. Drum is the one of that cable to pull from, by its name in the Cutting list. Studs, plates, joists and walls are those that the cable goes through."
)


def write_cables(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    page.heading("Cable schedule", f"{NOTE} {PROVEN}", HEADS, RIGHT_HEADS, (DRUM,))
    row, routes, drums = FIRST_ROW, estimate.routes, _drums(estimate)
    for circuit in routes.circuits:
        row = _owner(page, row, _circuit(circuit), circuit.legs, drums)
    for control in routes.controls:
        row = _owner(page, row, _control(control), control.legs, drums)
    row = _owner(page, row, "Runs", routes.runs, drums) if routes.runs else row
    if row == FIRST_ROW:
        page.text(row, NAME, "No cable in this job.")
        row += 2
    page.finish(page.words(_totals(page, estimate, row) + 1, CABLES) - 1, BUILT)


def _drums(estimate: Estimate) -> Mapping[tuple[str, str], str]:
    """Which drum each leg and run comes from, by cable and id."""
    labels = {(of.part, pull.of): drum.label for of in estimate.drums() for drum in of.drums for pull in drum.pulls}
    pieces: list[Leg | RunRoute] = [*estimate.routes.legs, *estimate.routes.runs]
    cables = estimate.catalogue.cables
    return {(piece.cable, piece.id): labels.get((cables[piece.cable].part, piece.id), "") for piece in pieces}


def _circuit(circuit: CircuitRoute) -> str:
    word = "proven shortest" if circuit.proven else f"not proven shortest; lower bound {metres(circuit.bound_mm)} m"
    return (
        f"Circuit {circuit.name}: board {circuit.board}, {circuit.wiring}, route {metres(circuit.route_mm)} m, {word}"
    )


def _control(control: ControlRoute) -> str:
    return f"Control {control.name}: board {control.board}, drops {', '.join(control.drops)}"


def _owner(
    page: Page, row: int, words: str, pieces: Sequence[Leg | RunRoute], drums: Mapping[tuple[str, str], str]
) -> int:
    page.rule(row, BUILT, GROUP)
    page.text(row, NAME, words, {**GROUP, "text_wrap": False})
    for at, piece in enumerate(pieces, row + 1):
        _piece(page, at, piece, drums[piece.cable, piece.id])
    return row + len(pieces) + 2


def _piece(page: Page, row: int, piece: Leg | RunRoute, drum: str) -> None:
    page.rule(row, BUILT, RULED)
    page.text(row, NAME, piece.id, RULED, WRAPPED)
    page.text(row, USE, piece.use if isinstance(piece, Leg) else "run", RULED, PLAIN)
    for col, words in ((CABLE, piece.cable), (START, piece.start), (END, piece.end)):
        page.text(row, col, words, RULED, WRAPPED)
    for col, length_mm in ((ROUTE, piece.route_mm), (LENGTH, piece.length_mm), (CUT, piece.cut_mm)):
        page.number(row, col, Decimal(length_mm).scaleb(-3), RULED, PLAIN, METRES)
    page.text(row, DRUM, drum, RULED, WRAPPED, APART)
    holes = piece.holes
    counts = (holes.stud, holes.plate, holes.joist, holes.wall, piece.supports)
    for col, count in enumerate(counts, STUDS):
        page.number(row, col, count, RULED, PLAIN)


def _totals(page: Page, estimate: Estimate, row: int) -> int:
    """What each cable comes to; the last row used."""
    pieces: list[Leg | RunRoute] = [*estimate.routes.legs, *estimate.routes.runs]
    cables = sorted({piece.cable for piece in pieces})
    if not cables:
        return row
    page.rule(row, BUILT, GROUP)
    page.text(row, NAME, "In all, by cable", GROUP)
    last = row - 1
    for at, cable in enumerate(cables, row + 1):
        part = estimate.catalogue.parts.get(estimate.catalogue.cables[cable].part)
        page.rule(at, BUILT, RULED)
        page.text(at, NAME, part.description if part else cable, RULED, QUIET)
        page.text(at, CABLE, cable, RULED, WRAPPED)
        mine = [piece for piece in pieces if piece.cable == cable]
        for col, total_mm in (
            (ROUTE, sum(piece.route_mm for piece in mine)),
            (LENGTH, sum(piece.length_mm for piece in mine)),
            (CUT, sum(piece.cut_mm for piece in mine)),
        ):
            same = f"({cell(FIRST_ROW, CABLE)}:{cell(last, CABLE)}={cell(at, CABLE)})"
            total = f"ROUND(SUMPRODUCT({same}*{cell(FIRST_ROW, col)}:{cell(last, col)}),3)"
            page.formula(at, col, total, Decimal(total_mm).scaleb(-3), RULED, PLAIN, METRES)
    page.rule(row + len(cables) + 1, BUILT, SUM)
    return row + len(cables) + 1
