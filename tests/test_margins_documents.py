"""Cutting list, drums in the cable schedule, and what is left, in the workbook and in the quote."""

import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from html import unescape
from io import BytesIO
from typing import Any

import openpyxl
import pytest

from estimator.buying.spare_points import SparePoint, spare_points
from estimator.catalogue.read import read_catalogue
from estimator.documents.quote import render_quote
from estimator.documents.quote_left import LeftRow, left_rows, more_points
from estimator.documents.workbook import render_workbook
from estimator.estimate import estimate
from estimator.job.read import read_job
from estimator.result import Estimate
from estimator.routing.model import Leg, RunRoute
from tests import estimates, houses, recalc
from tests.recalc import Values
from tests.shed import STUDIO

ORDER, FOR, FROM, TO, CUT, AS_CUT, MARK, LEFT = range(8)
Row = tuple[Any, ...]


@cache
def studio() -> Estimate:
    job, _ = read_job(STUDIO)
    return estimate(job, read_catalogue(STUDIO))


@cache
def house() -> Estimate:
    return estimate(houses.house(), read_catalogue(houses.FOLDER))


@cache
def rich() -> Estimate:
    return estimates.rich()


@cache
def stored(of: Callable[[], Estimate]) -> Any:
    return openpyxl.load_workbook(BytesIO(render_workbook(of())), data_only=True)


def rows(of: Callable[[], Estimate], sheet: str) -> list[Row]:
    """The rows below the header row that hold something."""
    every = stored(of)[sheet].iter_rows(min_row=5, values_only=True)
    return [row for row in every if any(value is not None for value in row)]


def place(sheet: Any, words: str, column: int = 1) -> int:
    """The number of the row that says so."""
    return next(row for row in range(1, sheet.max_row + 1) if sheet.cell(row, column).value == words)


def test_every_drum_stands_under_its_part_by_name_with_all_that_is_on_it() -> None:
    told = rows(rich, "Cutting list")
    names = [row[ORDER] for row in told if isinstance(row[ORDER], str) and " of " in row[ORDER] and row[LEFT]]
    assert [drum.name for part in rich().drums() for drum in part.drums] == names
    assert "cable-te-2.5: cable-te-2.5" == told[0][ORDER]
    # hand: 17 + 20 + 24.2 + 23.2 + 17 + 20 of the example = 121.4 from 100 + 50; 28.6 stay
    assert told[1][ORDER].startswith("2 drums: 121.4 m in 6 pieces; by the plan 28.6 m left in all, at most ")


def test_mark_and_left_run_on_from_cut_to_cut() -> None:
    told = rows(studio, "Cutting list")
    at = next(index for index, row in enumerate(told) if row[ORDER] == "te-2.5 drum 1 of 1")
    # hand: 100 m; 11.0, 7.0 and 5.5 come off first: marks 11, 18, 23.5; left 89, 82, 76.5
    assert [100, 89, 82, 76.5] == [row[LEFT] for row in told[at : at + 4]]
    assert [11, 18, 23.5] == [row[MARK] for row in told[at + 1 : at + 4]]
    assert (1, "wheels: CU to WS1", "CU (studio)", "WS1 (studio)", 11) == told[at + 1][:AS_CUT]


def test_timber_is_told_with_the_place_of_its_noggin_and_its_saw_cuts() -> None:
    told = rows(studio, "Cutting list")
    at = next(index for index, row in enumerate(told) if row[ORDER] == "timber-38x89 off-cut in hand 5 of 7")
    # hand: 1.2 m there; 0.562, a saw cut of 3 mm, 0.562: 1.127; 0.073 stay
    assert [(0.562, 0.562, 0.638), (0.562, 1.127, 0.073)] == [
        (row[CUT], row[MARK], row[LEFT]) for row in told[at + 1 : at + 3]
    ]
    noggin = next(of for of in studio().setout.noggins if f"noggin {', '.join(of.points)}" == told[at + 1][FOR])
    where = f"left end at {noggin.left_mm:,f} mm, {noggin.height_mm:,} mm up"
    assert (f"{noggin.room}, {noggin.wall}", where) == told[at + 1][FROM : TO + 1]


@pytest.mark.parametrize("which", [rich, studio, house], ids=["rich", "studio", "house"])
def test_every_leg_of_the_cable_schedule_names_the_drum_that_the_cutting_list_has_it_on(
    which: Callable[[], Estimate],
) -> None:
    told = rows(which, "Cutting list")
    on: set[tuple[str, str]] = set()
    name = ""
    for row in told:
        if isinstance(row[ORDER], int):
            on.add((name.rsplit(" of ", 1)[0], row[FOR]))
        elif row[ORDER]:
            name = row[ORDER]
    schedule = {row[0]: row for row in rows(which, "Cable schedule") if row[1]}
    cables = which().catalogue.cables
    routed: list[Leg | RunRoute] = [*which().routes.legs, *which().routes.runs]
    # The rich example takes its control cable into no take-off.
    taken = {piece.of for piece in which().takeoff.pieces}
    for piece in routed:
        drum = schedule[piece.id][8]
        assert ((f"{cables[piece.cable].part} {drum}", piece.id) in on) == (piece.id in taken)
        assert bool(drum) == (piece.id in taken)
    assert len(schedule) == len(routed)


def test_money_left_of_all_parts_is_what_the_budget_has_left_over() -> None:
    for which in (rich, studio, house):
        told = rows(which, "What is left")
        total = next(row for row in told if row[1] == "All parts: left over in whole packs")
        assert (float(which().budget.left_over_total), "The same as on the Summary.") == (total[8], total[9])
        parts = told[: told.index(total)]
        assert [margin.part for margin in which().margins()] == [row[0] for row in parts]
        assert [float(margin.money_left) for margin in which().margins()] == [row[8] for row in parts]


def test_a_part_is_told_in_figures_and_in_words() -> None:
    told = {row[0]: row for row in rows(estimates.worked_example, "What is left")}
    # hand: the design's example: 100 clips less 65 are 35; net 2.66 less 1.73; none at all would save the bag
    assert ("nr", 35, None, 35, 65, 3.19, 0.93) == told["clip-te-2.5"][2:9]
    assert told["clip-te-2.5"][9] == "35 more fit what you buy; 65 fewer would save £3.19 inc VAT"
    assert ("nr", 0, None, 0, 1, 7.99, 0) == told["socket-2g-dp"][2:9]


def more_bought(sockets: int) -> Estimate:
    """The studio with much more of everything and so many more of the double socket itself."""
    of = studio()
    bought = tuple(
        replace(one, units=one.units + (sockets if one.part == "socket-2g-dp" else 1000)) for one in of.order.bought
    )
    return replace(of, order=replace(of.order, bought=bought))


def test_points_that_fit_once_more_are_told_with_what_runs_out_first() -> None:
    of = more_bought(3)
    socket = of.catalogue.parts["socket-2g-dp"].trade_name
    line = f"Double socket: 3 more fit what you buy, cable and timber apart (first to run out: {socket})"
    assert SparePoint("double-socket", 3, "socket-2g-dp") in of.spare_points()
    assert line in more_points(of)
    assert line in unescape(render_quote(of))


def test_where_no_point_fits_once_more_one_line_says_so() -> None:
    assert {0} == {point.fits for point in studio().spare_points()}
    (line,) = more_points(studio())
    assert line.startswith("No more points of any kind")
    assert unescape(render_quote(studio())).count(line) == 1


@pytest.mark.parametrize(
    "which", [studio, house, rich, lambda: more_bought(2)], ids=["studio", "house", "rich", "more"]
)
def test_points_that_fit_do_not_hang_on_which_parts_are_worked_out(which: Callable[[], Estimate]) -> None:
    of = which()
    assert spare_points(of.job, of.catalogue, of.takeoff, of.order) == of.spare_points()


@pytest.mark.parametrize("which", [studio, house, rich])
def test_what_the_quote_asks_for_is_what_the_workbook_has(which: Callable[[], Estimate]) -> None:
    of, every = which(), which().margins()
    with_money = [margin for margin in every if margin.money_left]
    assert of.most_left(5) == tuple(sorted(with_money, key=lambda one: (-one.money_left, one.part))[:5])
    last = every[-1]
    assert (last,) == of.margins([last.part])


def test_the_quote_tells_the_five_parts_with_most_money_left() -> None:
    text = unescape(re.sub(r"<[^>]+>", "|", render_quote(house())))
    told = left_rows(house())
    # regression: what the sample prices leave of the house
    lights = "3 more fit what you buy; 2 fewer would save £54.60 inc VAT"
    assert LeftRow("LED downlight, integral, IP65, warm white", lights, "£27.30") == told[0]
    # hand: 1,288.98 kg in two bags of 800 at 54.00 inc; 38.98 less are 800 + 18 x 25 at 2.99: 107.82, 0.18 below 108.00;
    # 311.02 of 1600 kg are left, of 90.00 ex VAT: 17.49
    assert LeftRow("soft sand", "311.02 kg spare; 38.98 kg less would save £0.18 inc VAT", "£17.49") == told[1]
    assert len(told) == 5
    for row in told:
        assert f"|{row.name}|" in text
        assert f"|{row.words}|" in text
        assert f"|{row.money}|" in text


def test_nothing_bought_is_told_without_a_table() -> None:
    of = estimates.empty()
    assert ((), ()) == (left_rows(of), more_points(of))
    page = render_quote(of)
    assert 'id="left"' in page
    assert "Where most money stays" not in page
    assert "Nothing is bought." in [row[1] for row in rows(estimates.empty, "What is left")]


# From here on LibreOffice works everything out anew, all files in one go.


@pytest.fixture(scope="module")
def worked_out(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, Values]:
    """The studio after what was cut was written in, and the rich example at another price of a drum."""
    folder = tmp_path_factory.mktemp("books")
    cut = openpyxl.load_workbook(BytesIO(render_workbook(studio())))
    sheet = cut["Cutting list"]
    row = place(sheet, "te-2.5 drum 1 of 1")
    sheet.cell(row + 2, AS_CUT + 1).value = 6.4
    timber = place(sheet, "timber-38x89 off-cut in hand 5 of 7")
    cut["Price list"][cut.defined_names["KERF"].attr_text.split("!")[1].replace("$", "")].value = 0.005
    cut.save(folder / "cut.xlsx")
    priced = openpyxl.load_workbook(BytesIO(render_workbook(rich())))
    prices = priced["Price list"]
    for line in prices.iter_rows():
        if (line[0].value, line[2].value, line[3].value) == (estimates.CABLE, "B", 100):
            line[5].value = 99
    priced.save(folder / "priced.xlsx")
    made = recalc.convert([folder / "cut.xlsx", folder / "priced.xlsx"], folder, "xlsx")
    return dict(zip(("cut", "priced"), map(recalc.values, made), strict=True)) | {"rows": {("", ""): (row, timber)}}


@pytest.mark.office
def test_what_was_cut_moves_mark_and_left_of_all_that_follows(worked_out: Mapping[str, Values]) -> None:
    row, timber = worked_out["rows"]["", ""]
    values = {at: of for (sheet, at), of in worked_out["cut"].items() if sheet == "Cutting list"}
    # hand: 11 as planned, 6.4 instead of 7, then 5.5: marks 11, 17.4, 22.9; of 100 m left 89, 82.6, 77.1
    assert [11, 17.4, 22.9] == pytest.approx([values[f"G{at}"] for at in range(row + 1, row + 4)])
    assert [89, 82.6, 77.1] == pytest.approx([values[f"H{at}"] for at in range(row + 1, row + 4)])
    # hand: a saw cut of 5 mm: 0.562 + 0.005 + 0.562 = 1.129 of 1.2 m
    assert [1.129, 0.071] == pytest.approx([values[f"G{timber + 2}"], values[f"H{timber + 2}"]])


@pytest.mark.office
def test_money_left_follows_a_price_and_still_agrees_with_the_summary(worked_out: Mapping[str, Values]) -> None:
    values = {at: of for (sheet, at), of in worked_out["priced"].items() if sheet == "What is left"}
    total = next(at[1:] for at, of in values.items() if of == "All parts: left over in whole packs")
    assert values[f"J{total}"] == "The same as on the Summary."
    # hand: the packs stay: 99.00 + 26.50 = 125.50 for 150 m; 121.4 m take 101.571..., 101.57; 23.93 are left
    cable = next(at[1:] for at, of in values.items() if of == estimates.CABLE and at[0] == "A")
    assert 23.93 == pytest.approx(values[f"I{cable}"])


def test_the_note_says_that_measures_are_of_the_plan() -> None:
    assert "the metres are those of the plan" in stored(rich)["Cutting list"]["A2"].value
