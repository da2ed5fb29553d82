"""The sheet Cutting list: every drum and length by name, its pieces in the order to pull them, and what stays.

What was really cut can be written beside each piece; the mark and what is left then go by that.
"""

from dataclasses import dataclass

from estimator.buying.drums import Drum, PartDrums, Pull
from estimator.documents.drum_words import drums_words, left_words
from estimator.documents.key import CUTTING
from estimator.documents.sheets.cells import added, cell
from estimator.documents.sheets.looks import GROUP, INPUT, METRES, PLAIN, QUIET, RULED, SUM, WRAPPED
from estimator.documents.sheets.page import FIRST_ROW, Page
from estimator.documents.words import merchant_words, number
from estimator.result import Estimate
from estimator.routing.model import Leg, RunRoute
from estimator.setout.model import Noggin, PlacedBoard, Point

HEADS = ("Order", "Cut for", "From, or which wall", "To, or where on it", "Cut m", "As cut m", "Mark m", "Left m")
ORDER, FOR, FROM, TO, CUT, BUILT, MARK, LEFT = range(8)
WIDTHS = (7, 42, 28, 34, 10, 10, 10, 10)
RIGHT_HEADS = (CUT, BUILT, MARK, LEFT)
NOTE = (
    "Write its name on every drum and length before work begins. Pull from the drum that is named, leave the tails, and cut at the "
    "second box: the metres are those of the plan, so measure timber before you saw it. The longest piece comes first, so that only "
    "short ones are still to come if a drum runs out early. Mark: from the first end to that cut, saw cuts counted (the cell KERF); where "
    "the sheath has metres printed on it, note the first figure and count from there. Write what was cut into As cut, and Mark and "
    "Left go by it. Left below nought: the drum is too short for what is still to come."
)
NAME = {**GROUP, "text_wrap": False}
OPEN = {**RULED, "bold": True, "valign": "top"}
Ends = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Places:
    """Where pieces go: the two ends of a cable, or the face and the place on it of what is fixed, by what a piece is for."""

    cables: dict[str, Ends]
    noggins: dict[str, Ends]
    fixed: dict[str, Ends]

    def of(self, piece: str) -> Ends:
        """Both texts; empty where there is no place to tell."""
        owner = piece.partition(" ")[2]
        return self.cables.get(piece) or self.noggins.get(piece) or self.fixed.get(owner) or ("", "")


def write_cuts(page: Page, estimate: Estimate) -> None:
    """Write the sheet."""
    page.heading("Cutting list", NOTE, HEADS, RIGHT_HEADS)
    places = _places(estimate)
    row = FIRST_ROW
    for part in estimate.drums():
        row = _part(page, estimate, places, row, part) + 2
    if row == FIRST_ROW:
        page.text(row, FOR, "Nothing in this job is cut from lengths.")
        row += 2
    page.finish(page.words(row - 1, CUTTING) - 1, LEFT)


def _part(page: Page, estimate: Estimate, places: Places, row: int, of: PartDrums) -> int:
    """Heading, what it comes to in a line, every drum, and the sum where there are several; the last row used."""
    part = estimate.catalogue.parts[of.part]
    page.rule(row, LEFT, GROUP)
    page.text(row, ORDER, f"{of.part}: {part.trade_name or part.description}", NAME)
    words = f"{drums_words(of)}; by the plan {left_words(of)}."
    page.text(row + 1, ORDER, words, {**QUIET, "text_wrap": False})
    row += 2
    first, ends = row, []
    for drum in of.drums:
        row = _drum(page, places, row, drum, bool(of.kerf_mm))
        ends.append(cell(row - 1, LEFT))
    if len(of.drums) == 1:
        return row - 1
    page.rule(row, LEFT, SUM)
    page.text(row, FOR, f"{of.part}, all", SUM)
    total = f"ROUND(SUM({cell(first, CUT)}:{cell(row - 1, CUT)}),6)"
    page.formula(row, CUT, total, of.cut_mm.scaleb(-3), SUM, METRES)
    page.formula(row, LEFT, f"ROUND({added(ends)},6)", of.left_mm.scaleb(-3), SUM, METRES)
    return row


def _drum(page: Page, places: Places, row: int, drum: Drum, sawn: bool) -> int:
    """Its name and what is on it, then its pieces; the row after them."""
    page.rule(row, LEFT, OPEN)
    page.text(row, ORDER, drum.name, {**OPEN, "text_wrap": False})
    page.text(row, TO, merchant_words(drum.merchant) if drum.merchant else "what is there", RULED, WRAPPED)
    page.number(row, LEFT, drum.stock_mm.scaleb(-3), OPEN, METRES)
    for index, pull in enumerate(drum.pulls, 1):
        _pull(page, places, row, row + index, pull, sawn and index > 1)
    if not drum.pulls:
        page.text(row, FROM, "nothing is cut from it", RULED, QUIET)
    return row + len(drum.pulls) + 1


def _pull(page: Page, places: Places, drum_row: int, row: int, pull: Pull, saw_before: bool) -> None:
    page.rule(row, LEFT, RULED)
    page.number(row, ORDER, row - drum_row, RULED, PLAIN, {"align": "left"})
    for col, words in zip((FOR, FROM, TO), (pull.of, *places.of(pull.of)), strict=True):
        page.text(row, col, words, RULED, WRAPPED)
    page.number(row, CUT, pull.length_mm.scaleb(-3), RULED, PLAIN, METRES)
    page.rule(row, BUILT, INPUT, METRES, first=BUILT)
    so_far = "" if row == drum_row + 1 else f"{cell(row - 1, MARK)}+"
    kerf = "KERF+" if saw_before else ""
    taken = f'IF({cell(row, BUILT)}="",{cell(row, CUT)},{cell(row, BUILT)})'
    page.formula(row, MARK, f"ROUND({so_far}{kerf}{taken},6)", pull.mark_mm.scaleb(-3), RULED, PLAIN, METRES)
    left = f"ROUND({cell(drum_row, LEFT)}-{cell(row, MARK)},6)"
    page.formula(row, LEFT, left, pull.left_mm.scaleb(-3), RULED, PLAIN, METRES)


def _places(estimate: Estimate) -> Places:
    placed = estimate.setout
    rooms = {of.id: of.room for of in placed.points} | {of.name: of.room for of in placed.boards}

    def end(name: str) -> str:
        return f"{name} ({rooms[name]})" if rooms.get(name) else name

    routed: list[Leg | RunRoute] = [*estimate.routes.legs, *estimate.routes.runs]
    cables = {of.id: (end(of.start), end(of.end)) for of in routed}
    noggins = {f"noggin {', '.join(of.points)}": _noggin_place(of) for of in placed.noggins}
    fixed = {of.id: _point_place(of) for of in placed.points} | {of.name: _board_place(of) for of in placed.boards}
    return Places(cables, noggins, fixed)


def _noggin_place(of: Noggin) -> Ends:
    return f"{of.room}, {of.wall}", f"left end at {number(of.left_mm)} mm, {number(of.height_mm)} mm up"


def _board_place(of: PlacedBoard) -> Ends:
    return f"{of.room}, {of.wall}", f"at {number(of.along_mm)} mm, {number(of.height_mm)} mm up"


def _point_place(of: Point) -> Ends:
    face = f"{of.wall}, {of.surface}" if of.wall and of.surface != "wall" else of.wall or of.surface
    if of.along_mm is None:
        return f"{of.room}, {face}", f"plan x {number(of.at[0])}, y {number(of.at[1])} mm"
    up = "" if of.height_mm is None else f", {number(of.height_mm)} mm up"
    return f"{of.room}, {face}", f"at {number(of.along_mm)} mm{up}"
