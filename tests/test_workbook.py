"""bill-of-quantities.xlsx: right stored values, live formulas that give the engine's figures, print set-up, inert text."""

import random
import re
from collections.abc import Callable, Mapping
from dataclasses import replace
from decimal import Decimal
from io import BytesIO
from pathlib import Path
from typing import Any

import openpyxl
import pytest
from openpyxl.utils import column_index_from_string

from estimator.catalogue.read import read_catalogue
from estimator.documents.workbook import render_workbook
from estimator.estimate import estimate as work_out
from estimator.job.read import read_job
from estimator.result import Estimate
from tests import estimates, recalc
from tests.recalc import Values
from tests.test_quote import studio

D = Decimal
SHEETS = [
    "Summary",
    "Bill",
    "Order",
    "Cable schedule",
    "Cutting list",
    "What is left",
    "Hours",
    "Set-out",
    "Drilling",
    "Findings",
    "Price list",
]
# Functions that were found to work in every program that was tried (the project's notes on file formats).
KNOWN = {"ABS", "IF", "MAX", "MIN", "ROUND", "ROUNDUP", "SUM", "SUMIFS", "SUMPRODUCT"}
NEVER = re.compile(r"\b(compliant|safe|certified|pass(es|ed)?|C1|C2|C3|FI)\b", re.IGNORECASE)


def opened(data: bytes, stored: bool = True) -> Any:
    return openpyxl.load_workbook(BytesIO(data), data_only=stored)


def named(book: Any, name: str) -> Any:
    """The value of a named cell."""
    sheet, at = book.defined_names[name].attr_text.split("!")
    return book[sheet.strip("'")][at.replace("$", "")].value


def figures(book: Any) -> Any:
    """What the sheets say, for comparing with an estimate: the named sums and all bill amounts."""
    names = ("MATERIALS", "DELIVERY", "LABOUR", "SUMS", "EX_VAT", "TOTAL")
    bill = {row[0].value: row[9].value for row in book["Bill"].iter_rows(min_row=5) if is_item(row[0].value)}
    return [round(float(named(book, name)), 6) for name in names], {item: round(of, 6) for item, of in bill.items()}


def is_item(value: Any) -> bool:
    return isinstance(value, str) and re.fullmatch(r"\d+\.\d+", value) is not None


def expected(estimate: Estimate) -> Any:
    """The same, as the stages worked them out."""
    of = estimate.budget
    sums = (of.materials, of.delivery, of.labour, of.sums_total, of.ex_vat, of.total)
    return [float(value) for value in sums], {line.item: float(line.amount) for line in of.bill}


def test_the_sheets_come_in_the_order_of_adding_up_with_the_price_list_last() -> None:
    assert SHEETS == opened(render_workbook(estimates.rich())).sheetnames


@pytest.mark.parametrize("estimate", [estimates.worked_example(), estimates.rich()], ids=["worked", "rich"])
def test_a_program_that_does_not_calculate_shows_the_figures_of_the_estimate(estimate: Estimate) -> None:
    assert expected(estimate) == figures(opened(render_workbook(estimate)))


def test_the_summary_adds_up_in_the_fixed_order() -> None:
    sheet = opened(render_workbook(estimates.worked_example()))["Summary"]
    rows = [(row[0].value, row[1].value) for row in sheet.iter_rows(min_row=6, max_row=15)]

    # hand: the design's example under "Money"; 117.11 x 20 % is not 23.42: VAT is 8.52 + 14.90 of the baskets.
    assert [
        ("Measured: parts as fixed, with waste", 101.98),
        ("Left over in whole packs", 15.13),
        ("Materials", 117.11),
        ("Delivery", 0),
        ("Labour: no rate given, not priced", 0),
        ("Sums: quotes, fees, hire, provisional", 0),
        ("Contingency", 0),
        ("Total ex VAT", 117.11),
        ("VAT at", 23.42),
        ("Total inc VAT (materials only: electrician, fees and hire not in)", 140.53),
    ] == rows


def test_what_is_paid_at_each_merchant_is_the_sum_at_the_till() -> None:
    sheet = opened(render_workbook(estimates.worked_example()))["Summary"]
    paid = {row[0].value: row[5].value for row in sheet.iter_rows() if row[1].value in ("inc VAT", "ex VAT")}

    # hand: the design's example.
    assert {"A": 51.13, "B": 89.40} == paid


def test_every_formula_has_a_stored_value_and_none_is_an_error() -> None:
    data = render_workbook(estimates.rich())
    stored = opened(data)
    count = 0
    for sheet in opened(data, stored=False):
        for row in sheet.iter_rows():
            for cell in row:
                value = stored[sheet.title][cell.coordinate].value
                assert not str(value).startswith("#"), cell
                if cell.data_type == "f":
                    count += 1
                    assert value is not None, cell
    assert count > 200


def test_only_functions_that_work_everywhere_are_used() -> None:
    book = opened(render_workbook(estimates.rich()), stored=False)
    used = {
        name
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.data_type == "f"
        for name in re.findall(r"([A-Z.]+)\(", re.sub(r'"[^"]*"', "", cell.value))
    }

    assert used <= KNOWN
    assert {"ROUND", "SUM"} <= used


def test_rates_stand_in_named_cells_and_not_in_formulas() -> None:
    book = opened(render_workbook(estimates.rich()), stored=False)

    assert {"VAT_RATE", "VAT_RATE_0", "VAT_RATE_5", "CONTINGENCY", "KERF", "TOTAL"} <= set(book.defined_names)
    texts = [cell.value for sheet in book for row in sheet.iter_rows() for cell in row if cell.data_type == "f"]
    assert [] == [text for text in texts if re.search(r"(?<![\d.])(0\.2|1\.2|0\.05|0\.1)(?![\d])", text)]
    assert any("VAT_RATE_5" in text for text in texts)


def test_whole_packs_follow_the_quantity_only_where_one_size_is_bought() -> None:
    sheet = opened(render_workbook(estimates.rich()), stored=False)["Order"]
    packs = {row[0].value: row[7].value for row in sheet.iter_rows(min_row=5) if row[7].value is not None}

    assert packs[estimates.ROSE].startswith("=MAX(0,ROUNDUP(ROUND(")
    assert 1 == packs[estimates.CABLE]
    assert 34 == packs[estimates.ARMOURED]


@pytest.mark.parametrize("title", SHEETS)
def test_every_sheet_is_set_up_for_print(title: str) -> None:
    sheet = opened(render_workbook(estimates.rich()))[title]

    # A missing width means one page; a height of 0 means as many as it takes; paper 9 is A4.
    assert (9, None, 0) == (int(sheet.page_setup.paperSize), sheet.page_setup.fitToWidth, sheet.page_setup.fitToHeight)
    assert sheet.sheet_properties.pageSetUpPr.fitToPage
    assert sheet.print_title_rows
    assert "Page &P of &N" == sheet.oddFooter.center.text
    assert sheet.protection.sheet
    # hand: letters of 10 pt stay at 9 pt or more when the printed columns are fitted to A4 with margins of 0.3 in.
    columns = column_index_from_string(re.sub(r"[$\d]", "", sheet.print_area.split(":")[1]))
    inches = (11.69 if sheet.page_setup.orientation == "landscape" else 8.27) - 0.6
    assert 9 <= 10 * inches * 96 / pixels(sheet, columns)


def pixels(sheet: Any, columns: int) -> float:
    """Width of the first columns: 7 pixels a figure; stored widths have 5 pixels of padding in them."""
    stored: dict[int, float] = {}
    for dimension in sheet.column_dimensions.values():
        for index in range(dimension.min, dimension.max + 1):
            stored[index] = dimension.width
    return sum(stored[index] * 7 for index in range(1, columns + 1))


def test_inputs_are_unlocked_and_framed_and_all_else_is_locked() -> None:
    book = opened(render_workbook(estimates.rich()), stored=False)

    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                framed = cell.border.left.style == "thin" and cell.fill.fgColor.rgb == "FFEDEDED"
                assert framed == (not cell.protection.locked), cell
                if cell.data_type == "f":
                    assert cell.protection.locked, cell


def test_only_the_total_has_the_accent() -> None:
    book = opened(render_workbook(estimates.rich()))
    coloured = [
        (sheet.title, cell.value)
        for sheet in book
        for row in sheet.iter_rows()
        for cell in row
        if cell.value is not None and cell.font.color is not None and cell.font.color.rgb == "FF6A2B57"
    ]

    assert [("Summary", named(book, "TOTAL"))] == coloured


HOSTILE = (
    "=1+1",
    "+1",
    "-1+2",
    "@SUM(1)",
    "<r><t>x</t></r>",
    "<r>&",
    "http://example.org",
    "\u202edrow",
    "a" * 40000,
    "tab\there",
    "_x0041_",
    "\U0001f50c plug",
)


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_text_of_the_user_stays_text_in_every_place(text: str) -> None:
    part = replace(estimates.PARTS[0], description=text, section=text)
    estimate = estimates.rich(parts=[part], title=text)
    findings = tuple(replace(finding, message=text, subject=text) for finding in estimate.findings)
    data = render_workbook(replace(estimate, findings=findings))

    book = opened(data, stored=False)
    for sheet, at in (("Summary", "A1"), ("Findings", "B7")):
        cell = book[sheet][at]
        assert ("s", text[:30].strip()) == (cell.data_type, cell.value.strip()[:30])
        assert cell.hyperlink is None


def test_no_word_says_that_the_work_is_right() -> None:
    book = opened(render_workbook(estimates.rich()))
    said = [str(cell.value) for sheet in book for row in sheet.iter_rows() for cell in row if cell.value]

    assert [] == [words for words in said if NEVER.search(words)]
    assert any("qualified electrician designs, inspects, tests and certifies" in words for words in said)
    assert any("prove dead" in words for words in said)


def test_findings_stand_under_their_headings() -> None:
    sheet = opened(render_workbook(estimates.rich()))["Findings"]
    column = [row[0].value for row in sheet.iter_rows(min_row=5) if row[0].value]
    assert column.pop().startswith("Words. ")

    assert [
        "Stop: settle before buying",
        "CU",
        "Ask your electrician",
        "sockets",
        "Note",
        "S1",
        "Not checked",
        "wall back",
    ] == column


def told(estimate: Estimate, sheet: str) -> list[list[Any]]:
    """The rows under the header row, empty ones left out, and the words at the foot."""
    rows = opened(render_workbook(estimate))[sheet].iter_rows(min_row=5, values_only=True)
    full = (list(row) for row in rows if any(value is not None for value in row))
    return [row for row in full if not str(row[0]).startswith("Words. ")]


def test_set_out_goes_round_the_walls_and_then_over_the_ceiling() -> None:
    none = None
    rows = told(estimates.rich(), "Set-out")

    # hand: places of the example; a socket box is 72 mm high: 1400 - 36. The noggin is not among the points.
    assert ["Points and boards", *[none] * 13] == rows[0]
    assert ["CU", "ES1", "S1", "S2", "S3", "S4", "S5", "S6", "DL1"] == sorted_by_place(rows)
    first = next(row for row in rows if row[0] == "S1")
    assert ["greenhouse", "back", 21700, 1400, 1364, none, none, none, 0] == first[2:11]
    light = next(row for row in rows if row[0] == "DL1")
    assert ["greenhouse", "ceiling", none, none, none, 3000, 2000, none, 12] == light[2:11]


def sorted_by_place(rows: list[list[Any]]) -> list[str]:
    start = rows.index(next(row for row in rows if row[0] == "Noggins"))
    return [row[0] for row in rows[1:start]]


def test_set_out_has_every_noggin_with_set_back_and_spacer() -> None:
    rows = told(estimates.rich(), "Set-out")
    noggin = rows[-1]

    # hand: the example's noggin, 562 mm from 21638 mm.
    assert ["S1", "greenhouse", "back", 21638, 1400] == [noggin[0], *noggin[2:6]]
    assert [562, 22.5, 28.5] == noggin[11:]


def test_walls_are_walked_in_order_and_nothing_is_left_out() -> None:
    of = pottery_studio()
    rows = told(of, "Set-out")
    names = sorted_by_place(rows)
    inside = [row[3] for row in rows[1:] if row[3] in of.job.rooms[0].wall_names and row[10] is not None]

    assert sorted([*(point.id for point in of.setout.points), *(board.name for board in of.setout.boards)]) == sorted(
        names
    )
    assert ["back", "right", "front", "left"] == list(dict.fromkeys(inside))
    assert len(of.setout.noggins) == len(rows) - 2 - len(names)
    for wall in of.job.rooms[0].wall_names:
        alongs = [row[4] for row in rows[1 : 1 + len(names)] if row[3] == wall]
        assert sorted(alongs) == alongs


def test_drilling_tells_place_bit_cables_and_what_set_the_bit() -> None:
    of = pottery_studio()
    rows = told(of, "Drilling")
    first = of.routes.drilled[0]

    # hand: a lane at 450 mm passes the stud in the corner, 38 mm thick, at its middle; 11.5 + 2 mm need a bit of 14.
    assert "studio, back" == rows[0][0]
    assert [1, "stud 38 x 89 mm", 19, 450, 14, "te-2.5", "wheels: CU to WS1", first.bound_by] == rows[1]
    joists = next(index for index, row in enumerate(rows) if str(row[0]).startswith("studio, ceiling: joists by x"))
    holes = [row for row in rows if isinstance(row[0], int) and row[7]]
    assert len(of.routes.drilled) == len(holes)
    assert [hole.passage.on_member_mm for hole in of.routes.drilled if hole.passage.kind == "joist"] == [
        row[3] for row in rows[joists + 1 :] if str(row[1]).startswith("joist ")
    ]
    assert "2 x te-1.5" in {row[5] for row in holes}


def test_drilling_ends_with_the_holes_of_each_bit_by_its_name() -> None:
    of = pottery_studio()
    rows = told(of, "Drilling")
    head = next(index for index, row in enumerate(rows) if row[0] == "Holes")
    totals = rows[head + 1 :]

    assert ["Holes", "In", "Bit mm", "Bit"] == [words for words in rows[head] if words]
    assert [(of_bit.count, float(of_bit.bit_mm or 0)) for of_bit in of.routes.bits] == [
        (row[0], row[4]) for row in totals
    ]
    assert len(of.routes.drilled) == sum(row[0] for row in totals)
    # published: the shipped parts list calls it so.
    assert [40, "joists", None, None, 12, "12 mm auger bit", None, None] == totals[0]
    assert "as above" == totals[1][5]


def test_a_hole_that_no_bit_makes_says_so() -> None:
    rows = told(estimates.rich(), "Drilling")

    assert [["none", "swa-3c-10"]] == [row[4:6] for row in rows if row[4] == "none" and row[6]]
    assert [1, "walls", None, None, "none", "none fits: see Findings", None, None] == rows[-1]


def test_invented_prices_are_told_beside_the_total() -> None:
    of = estimates.rich()
    words = []
    for invented in ((0, 11), (3, 11)):
        book = opened(render_workbook(replace(of, budget=replace(of.budget, invented=invented))))
        said = [cell.value for row in book["Summary"].iter_rows() for cell in row]
        at = said.index(named(book, "TOTAL"))
        words.append(said[at + 1])

    assert [None, "3 of 11 prices in this order are invented or samples: put in your own."] == words


def test_the_same_estimate_gives_the_same_bytes() -> None:
    assert render_workbook(estimates.rich()) == render_workbook(estimates.rich())


def test_an_estimate_with_nothing_in_it_still_makes_a_workbook() -> None:
    empty = estimates.empty()
    book = opened(render_workbook(empty))

    assert ([0.0] * 6, {}) == figures(book)
    assert [] == [cell for sheet in book for row in sheet.iter_rows() for cell in row if str(cell.value)[:1] == "#"]


# From here on LibreOffice works everything out anew, all files in one go.

Edit = tuple[Callable[[Any], None], Callable[[], Estimate]]


def price_cell(book: Any, part: str, merchant: str, pack: float) -> Any:
    for row in book["Price list"].iter_rows(min_row=5):
        if (row[0].value, row[2].value, row[3].value) == (part, merchant, pack):
            return row
    raise AssertionError(part)


def set_price(part: str, merchant: str, pack: float, value: float) -> Callable[[Any], None]:
    def change(book: Any) -> None:
        price_cell(book, part, merchant, pack)[5].value = value

    return change


def set_waste(part: str, merchant: str, pack: float, value: float) -> Callable[[Any], None]:
    def change(book: Any) -> None:
        price_cell(book, part, merchant, pack)[8].value = value

    return change


def set_named(name: str, value: float) -> Callable[[Any], None]:
    def change(book: Any) -> None:
        sheet, at = book.defined_names[name].attr_text.split("!")
        book[sheet.strip("'")][at.replace("$", "")].value = value

    return change


def more_waste(part: str, waste: str) -> Estimate:
    row = next(of for of in estimates.RICH_PARTS if of.part == part)
    return estimates.rich(parts=[replace(row, waste=D(waste))])


EDITS: Mapping[str, Edit] = {
    "price inc VAT": (
        set_price(estimates.SOCKET, "A", 1, 8.49),
        lambda: estimates.rich(prices=[estimates.price(estimates.SOCKET, "A", "1", "8.49", "inc")]),
    ),
    "price ex VAT below a penny": (
        set_price(estimates.ROSE, "B", 1, 0.0355),
        lambda: estimates.rich(prices=[estimates.price(estimates.ROSE, "B", "1", "0.0355", "ex")]),
    ),
    "price of a drum": (
        set_price(estimates.CABLE, "B", 100, 51.25),
        lambda: estimates.rich(prices=[estimates.price(estimates.CABLE, "B", "100", "51.25", "ex")]),
    ),
    "waste that needs more packs": (
        set_waste(estimates.ROSE, "B", 1, 0.25),
        lambda: more_waste(estimates.ROSE, "0.25"),
    ),
    "waste with packs in hand": (
        set_waste("screw-wood-5x70", "A", 100, 0.02),
        lambda: more_waste("screw-wood-5x70", "0.02"),
    ),
    "waste of a duct": (set_waste("duct-50", "B", 10, 0.4), lambda: more_waste("duct-50", "0.4")),
    "VAT down": (set_named("VAT_RATE", 0.175), lambda: estimates.rich(vat="0.175")),
    "VAT up": (set_named("VAT_RATE", 0.225), lambda: estimates.rich(vat="0.225")),
    "contingency": (set_named("CONTINGENCY", 0.075), lambda: estimates.rich(contingency="0.075")),
}
SEEDS = range(4)
BOOKS = ("worked", "rich", "empty", "pottery studio", "two trips", "delivered free")


def pottery_studio() -> Estimate:
    """The example that ships, worked out whole."""
    folder = Path(__file__).resolve().parent.parent / "examples" / "pottery-studio"
    job, _ = read_job(folder)
    return work_out(job, read_catalogue(folder))


def varied(seed: int) -> Estimate:
    """The rich estimate at prices, wastes and rates drawn by chance; half pennies come up."""
    draw = random.Random(seed)
    prices = [
        replace(row, price=D(draw.randrange(1, 9000)).scaleb(-draw.choice((2, 2, 3)))) for row in estimates.RICH_PRICES
    ]
    parts = [
        replace(row, waste=D(draw.randrange(0, 30)) / 100) if row.sold_as == "piece" else row
        for row in estimates.RICH_PARTS
    ]
    vat = draw.choice(("0.2", "0.175", "0.05", "0.125"))
    return estimates.rich(parts=parts, prices=prices, vat=vat, contingency=draw.choice(("0", "0.1", "0.125")))


def bought_anew(**changes: Any) -> Estimate:
    """The rich estimate, bought and added up again with other terms of buying or other merchants."""
    of = estimates.rich()
    merchants = {**of.catalogue.merchants, **changes.pop("merchants", {})}
    job = replace(of.job, buying=replace(of.job.buying, **changes))
    catalogue = replace(of.catalogue, merchants=merchants)
    return estimates.worked_out(job, catalogue, of.setout, of.routes, of.takeoff)


def two_trips() -> Estimate:
    """Both merchants charge for bringing goods, and second fix is bought later."""
    of = estimates.rich().catalogue.merchants
    return bought_anew(trips=2, merchants={"B": replace(of["B"], delivery=D("11.25"))})


def delivered_free() -> Estimate:
    """A makes delivery free a little above what the job needs of it."""
    of = estimates.rich()
    value = sum((line.amount for line in of.order.lines if line.merchant == "A"), D(0))
    return bought_anew(merchants={"A": replace(of.catalogue.merchants["A"], free_over=value + 1)})


def test_baskets_of_two_trips_are_told_apart_and_add_up() -> None:
    of = two_trips()
    sheet = opened(render_workbook(of))["Summary"]
    paid = [(row[0].value, row[5].value) for row in sheet.iter_rows() if row[1].value in ("inc VAT", "ex VAT")]

    assert {"A, first trip", "A, second trip", "B, first trip"} <= {name for name, _ in paid}
    assert [float(basket.net + basket.vat) for basket in of.order.baskets] == [money for _, money in paid]
    assert 3 <= len(of.order.delivery)
    assert expected(of) == figures(opened(render_workbook(of)))
    # the price of a delivery stands once for each merchant
    book = opened(render_workbook(of))["Price list"]
    carried = [row[2].value for row in book.iter_rows(min_row=5) if row[1].value == "Delivery"]
    assert ["A", "B"] == carried


def test_a_pack_bought_to_make_delivery_free_is_in_the_order_and_left_over() -> None:
    of, plain = delivered_free(), estimates.rich()

    assert ["A"] == [line.merchant for line in plain.order.delivery]
    assert [] == [line.merchant for line in of.order.delivery]
    assert of.order.cost < plain.order.cost
    assert any("it makes delivery at A free" in finding.message for finding in of.order.findings)
    assert of.budget.left_over_total > plain.budget.left_over_total
    assert expected(of) == figures(opened(render_workbook(of)))


@pytest.fixture(scope="module")
def books(tmp_path_factory: pytest.TempPathFactory) -> Mapping[str, tuple[Path, Values]]:
    """Every file of the tests below with what LibreOffice makes of it."""
    folder = tmp_path_factory.mktemp("books")
    plain = render_workbook(estimates.rich())
    files = {
        "worked": render_workbook(estimates.worked_example()),
        "rich": plain,
        "empty": render_workbook(estimates.empty()),
    }
    files["pottery studio"] = render_workbook(pottery_studio())
    files["two trips"] = render_workbook(two_trips())
    files["delivered free"] = render_workbook(delivered_free())
    files |= {f"seed {seed}": render_workbook(varied(seed)) for seed in SEEDS}
    for name, (change, _) in EDITS.items():
        book = opened(plain, stored=False)
        change(book)
        edited = BytesIO()
        book.save(edited)
        files[name] = edited.getvalue()
    paths = []
    for name, data in files.items():
        paths.append(folder / f"{name}.xlsx")
        paths[-1].write_bytes(data)
    worked_out = recalc.convert(paths, folder, "xlsx")
    return {name: (path, recalc.values(done)) for name, path, done in zip(files, paths, worked_out, strict=True)}


@pytest.mark.office
@pytest.mark.parametrize("name", [*BOOKS, *(f"seed {seed}" for seed in SEEDS)])
def test_every_stored_value_is_what_a_recalculation_gives(name: str, books: Mapping[str, tuple[Path, Values]]) -> None:
    path, worked_out = books[name]

    assert [] == recalc.differences(recalc.values(path), worked_out, recalc.formulas(path))


@pytest.mark.office
@pytest.mark.parametrize("name", EDITS)
def test_an_edit_of_an_input_gives_the_engines_own_figures(name: str, books: Mapping[str, tuple[Path, Values]]) -> None:
    path, worked_out = books[name]
    book = openpyxl.load_workbook(path)
    for (sheet, at), value in worked_out.items():
        book[sheet][at].value = value

    wanted = expected(EDITS[name][1]())
    assert wanted == figures(book)
    assert wanted != expected(estimates.rich())


@pytest.mark.office
def test_a_stored_value_that_is_wrong_is_found(
    tmp_path: Path, books: Mapping[str, tuple[Path, Values]], monkeypatch: pytest.MonkeyPatch
) -> None:
    from estimator.documents.sheets.page import Page

    right = Page.formula

    def wrong(self: Page, row: int, col: int, formula: str, value: Any, *styles: Any) -> None:
        right(self, row, col, formula, 999 if formula == "CONTINGENCY" else value, *styles)

    monkeypatch.setattr(Page, "formula", wrong)
    planted = tmp_path / "planted.xlsx"
    planted.write_bytes(render_workbook(estimates.rich()))

    found = recalc.differences(recalc.values(planted), books["rich"][1], recalc.formulas(planted))
    assert 1 == len(found)
    assert "stored 999, worked out 0.1" in found[0]


def test_the_workbook_and_the_lists_are_the_same_bytes_again() -> None:
    from estimator.documents.shopping import list_files

    estimate = estimates.rich()
    assert render_workbook(estimate) == render_workbook(estimate)
    assert list_files(estimate, blank=True) == list_files(estimate, blank=True)


def test_hours_stand_by_task_and_add_up_by_formula_to_those_of_the_budget() -> None:
    of = estimates.rich()
    sheet = opened(render_workbook(of))["Hours"]
    rows = [row[:6] for row in sheet.iter_rows(min_row=6, values_only=True) if row[0]]
    # hand: minutes of the tasks by 60: 28, 42, 70; 100, 200, 400; 60, 95, 150
    assert [
        ("Cut and fix a noggin", "your own", "First fix", *(pytest.approx(of / 60) for of in (28, 42, 70))),
        ("Drill and pull", "your own", "First fix", *(pytest.approx(of / 60) for of in (100, 200, 400))),
        ("Connect a socket", "the electrician's", "Second fix", *(pytest.approx(of / 60) for of in (60, 95, 150))),
    ] == rows[:3]
    hours = of.budget.hours_self
    assert [float(value) for value in (hours.low, hours.likely, hours.high)] == pytest.approx(rows[3][3:])
    formulas = opened(render_workbook(of), stored=False)["Hours"]
    assert "=SUMIFS($E$6:$E$8,$B$6:$B$8,B9)" == formulas["E9"].value


def test_a_warning_beside_the_total_does_not_make_its_row_high() -> None:
    of = estimates.rich()
    sheet = opened(render_workbook(replace(of, budget=replace(of.budget, invented=(9, 9)))))["Summary"]
    row = next(row[0].row for row in sheet.iter_rows() if str(row[0].value).startswith("Total inc VAT"))
    # hand: room for the figure of 16 points and for two lines of 10
    assert 33.75 == sheet.row_dimensions[row].height


def test_a_price_of_nobody_is_marked_where_a_merchant_has_named_one_and_only_there() -> None:
    of = studio()
    sheet = opened(render_workbook(of))["Price list"]
    sellers: dict[str, set[str]] = {}
    for line in of.order.lines:
        sellers.setdefault(line.part, set()).add(line.merchant)
    rows = [(row[0], row[2], str(row[11])) for row in sheet.iter_rows(min_row=6, values_only=True) if row[2] and row[9]]
    marked = {(part, merchant) for part, merchant, source in rows if source.startswith("does not count: ")}
    wanted = {
        (part, merchant) for part, merchant, _ in rows if merchant == "any" and "any" not in sellers.get(part, {"any"})
    }
    assert marked == wanted
    assert ("te-2.5", "any") in marked  # measured: the studio's electrical merchant has named a price for this cable
