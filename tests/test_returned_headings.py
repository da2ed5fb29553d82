"""Headings that merchants write over their columns: which of them are found, what they hold, and which are asked about."""

from collections.abc import Callable
from io import BytesIO
from typing import Any

import openpyxl
import pytest

from estimator.returned.heading_words import basis_said, held_by, is_net, per_said
from tests.test_returned_lists import FILE, LIST_B, PRICES_B, D, cell, column, filled, head_row, messages, of, put, read

# Common practice: how counters head their columns, as far as we know it; no source lists them.
HEADINGS = [
    ("price", "Nett £ each"), ("price", "Net price"), ("price", "Cost ea"), ("price", "Your price"), ("price", "Trade price ex VAT"),
    ("price", "Unit £"), ("price", "Price"), ("price", "PRICE (£)"), ("price", "£"), ("price", "£ each"), ("price", "£/each"),
    ("price", "Unit Cost"), ("price", "Our price each"), ("price", "Price per 100"), ("price", "Price/m"), ("price", "Quoted price"),
    ("price", "Price GBP"), ("price", "Sell price"), ("price", "Selling"  " price"), ("price", "Nett price"), ("price", "Rate"), ("price", "Each"),
    ("price", "Price inc. VAT"), ("price", "Nett £"), ("price", "Special price"), ("price", "Net unit price"), ("price", "Pack price"), ("price", "Cost per pack"),
    ("total", "Total £"), ("total", "Ext."), ("total", "Ext"), ("total", "Amount"), ("total", "Value"), ("total", "Line total"),
    ("total", "Goods value"), ("total", "Net amount"), ("total", "Extended price"), ("total", "Total ex VAT"), ("total", "Line £ total"),
    ("total", "Sum"), ("total", "Nett total"), ("total", "Subtotal"),
    ("list", "List price"), ("list", "List £"), ("list", "RRP"), ("list", "Gross price"), ("list", "Trade list"),
    ("discount", "Disc %"), ("discount", "Discount"), ("discount", "Less"),
    ("tax", "VAT"), ("tax", "VAT £"), ("tax", "VAT rate"), ("tax", "VAT amount"),
    ("stock", "Qty avail"), ("stock", "Lead time"), ("stock", "Availability"), ("stock", "In stock"), ("stock", "Stock qty"),
    ("stock", "Lead time (days)"), ("stock", "Delivery"), ("stock", "Days"), ("stock", "ETA"), ("stock", "Available"),
    ("note", "Comments/Remarks"), ("note", "Comments"), ("note", "Remarks"), ("note", "Your notes"), ("note", "Supplier's comments"),
    ("note", "Alternative offered"), ("note", "Substitute"), ("note", "Notes / Comments"),
    ("line", "Item"), ("line", "Line no."), ("line", "No."), ("line", "#"), ("line", "Ln"),
    ("what", "Description"), ("what", "Item description"), ("what", "Product"), ("what", "Desc."), ("what", "Goods"),
    ("code", "Product code"), ("code", "SKU"), ("code", "Stock code"), ("code", "Part no"), ("code", "Our ref"),
    ("quantity", "Qty"), ("quantity", "QTY"), ("quantity", "Qty required"), ("quantity", "Total qty"),
    ("pack", "Pack size"), ("unit", "UOM"), ("vat", "Prices ex or inc VAT"), ("good", "Price valid until"), ("priced", "Quote date"),
    ("ours", "One length"), ("ours", "Same kind accepted"),
    (None, "Bin"), (None, "Brand"), (None, "Our £s"), (None, "ex VAT"), (None, "Price list 2026"), (None, "Margin"), (None, "Weight"), (None, ""),
]  # fmt: skip


@pytest.mark.parametrize(("holds", "heading"), HEADINGS)
def test_a_heading_is_known_by_its_words(holds: str | None, heading: str) -> None:
    assert holds == held_by(heading)


def test_a_heading_says_what_a_price_is_for_its_basis_and_whether_it_is_net() -> None:
    hundred, metre = per_said("Price per 100"), per_said("£/m")
    assert hundred is not None
    assert metre is not None
    assert (D(100), "m") == (hundred.units, metre.measure)
    assert (None, None) == (per_said("Nett £ each"), per_said("Trade price ex VAT"))
    assert ("ex", "inc", None) == (
        basis_said("Trade price ex VAT"),
        basis_said("Total (incl. VAT)"),
        basis_said("Ext. price"),
    )
    assert (True, False) == (is_net("Nett £"), is_net("Trade price"))


def renamed(**names: str) -> Callable[[Any], None]:
    """Our headings, by their words with _ for blanks, called otherwise."""

    def change(book: Any) -> None:
        for sheet in book:
            for ours, theirs in names.items():
                sheet.cell(head_row(sheet), column(sheet, ours.replace("_", " "))).value = theirs

    return change


def added(heading: str, values: dict[int, object], at: int = 16) -> Callable[[Any], None]:
    """A column of the merchant's own at the right."""

    def change(book: Any) -> None:
        for sheet in book:
            sheet.cell(head_row(sheet), at).value = heading
        for line, value in values.items():
            put(line, heading, value)(book)

    return change


@pytest.mark.parametrize("heading", [heading for holds, heading in HEADINGS if holds == "price" and "/" not in heading and "100" not in heading])  # fmt: skip
def test_a_price_is_found_under_every_such_heading(heading: str) -> None:
    returned = read(
        filled(LIST_B, PRICES_B, renamed(Price_of_one_pack=heading), basis=None),
        vat="inc" if "inc" in heading else "ex",
    )

    assert ([], D("22.5")) == (messages(returned), of(returned, 6).price)


def test_a_net_price_counts_before_one_of_the_list_and_that_is_told() -> None:
    doubled: dict[int, object] = {line: float(str(price)) * 2 for line, price in PRICES_B.items()}
    changes = renamed(Price_of_one_pack="Nett £"), added("List £", doubled)
    returned = read(filled(LIST_B, PRICES_B, *changes))

    assert ([], D(49)) == (messages(returned), of(returned, 2).price)
    top = head_row(openpyxl.load_workbook(BytesIO(filled(LIST_B, PRICES_B))).worksheets[0])
    assert f'{FILE}:Electrical!P{top}: the column "List £" (P{top}) is before discount, not taken' in [
        str(one) for one in returned.told
    ]


def test_of_prices_ex_and_inc_vat_the_one_ex_is_taken() -> None:
    with_vat: dict[int, object] = {line: float(str(price)) * 1.2 for line, price in PRICES_B.items()}
    changes = renamed(Price_of_one_pack="Price ex VAT"), added("Price inc VAT", with_vat)
    returned = read(filled(LIST_B, PRICES_B, *changes, basis=None))

    assert ([], D(49), "ex") == (messages(returned), of(returned, 2).price, of(returned, 2).basis)


def test_a_discount_beside_a_price_that_is_not_said_to_be_net_is_asked() -> None:
    changes = renamed(Price_of_one_pack="List price"), added("Disc %", {2: 0.4, 6: "nett"})

    assert [
        f"{cell(2, 'Price of one pack')}: line 2: a discount of 40 % stands in {cell(2, 'Note').replace('!M', '!P').rpartition('!')[2]}: is "
        '49.00 before or after it?; write the price after it, and call its column "Net price"'
    ] == messages(read(filled(LIST_B, PRICES_B, *changes)))


def test_a_column_of_prices_that_is_not_known_is_named_with_its_cell() -> None:
    def only(book: Any) -> None:
        for sheet in book:
            top = head_row(sheet)
            sheet.cell(top, column(sheet, "Price of one pack")).value = "Our £s"
            sheet.cell(top, column(sheet, "Line price")).value = "Bin"

    top = head_row(openpyxl.load_workbook(BytesIO(filled(LIST_B, PRICES_B))).worksheets[0])
    assert [
        f'{FILE}:Electrical!A{top}: no column of prices was found; not understood: "Our £s" (J{top}), "Bin" (K{top}); call it '
        '"Price of one pack"'
    ] == messages(read(filled(LIST_B, PRICES_B, only)))


def test_a_column_that_is_not_read_is_told_once() -> None:
    told = [one.text for one in read(filled(LIST_B, PRICES_B, added("Bin", {1: "B7", 2: "B8"}))).told]

    assert 1 == sum("not read" in text for text in told)
    assert any(text.startswith('not read: the column "Bin" (P') for text in told)


def test_words_beside_the_table_and_over_our_own_words_are_notes() -> None:
    def scribbled(book: Any) -> None:
        for line, at, text in ((1, 18, "only 25 m coils left"), (5, 18, "in stock"), (7, 18, 11.4)):
            sheet, row = next((sheet, row) for sheet in book for row in range(head_row(sheet) + 1, sheet.max_row + 1) if sheet.cell(row, 1).value == line)  # fmt: skip
            sheet.cell(row, at).value = text
        put(3, "One length", "in 2 pieces")(book)
        put(6, "Same kind accepted", "yes")(book)

    returned = read(filled(LIST_B, PRICES_B, scribbled))
    assert ("held", "only 25 m coils left") == (of(returned, 1).status, of(returned, 1).said)
    assert ("held", "in 2 pieces") == (of(returned, 3).status, of(returned, 3).said)
    assert ["priced", "priced", "priced"] == [of(returned, line).status for line in (5, 6, 7)]
    assert any(
        one.text.startswith("not read: figures in a column without a heading: 11.4 in R") for one in returned.told
    )


def test_an_alternative_in_a_column_of_its_own_is_never_taken_for_ours() -> None:
    returned = read(filled(LIST_B, PRICES_B, added("Alternative offered", {2: "2 x 50 m drums", 5: "n/a", 6: "-"})))

    assert ["held", "priced", "priced"] == [of(returned, line).status for line in (2, 5, 6)]
    assert D(50) == of(returned, 2).pack
