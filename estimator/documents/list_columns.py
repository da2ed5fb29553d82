"""The columns of a list to be priced, what its head asks, and the words for trips and counters; a reader of priced lists goes by these."""

COLUMNS = (
    "Line",
    "Your code",
    "What",
    "Quantity",
    "Unit",
    "Pack wanted",
    "Packs",
    "One length",
    "Same kind accepted",
    "Price of one pack",
    "Line price",
    "In stock, or days",
    "Note",
)
"""Of the workbook: what a thing is, its trade name and its size stand in one column, and say nothing twice."""
WIDTHS = (4.4, 5.5, 43.5, 8, 4.7, 20.5, 5.8, 7.5, 10.8, 10, 9.2, 8.6, 20)
"""In characters; together so wide that a page of A4 prints them at 8.5 to 9 points."""
CODE, WHAT, QUANTITY, UNIT, PACK, PACKS, ONE_LENGTH, SAME_KIND, PRICE, LINE_PRICE, STOCK, NOTE = range(1, 13)

ONE_LENGTH_EACH = "one length each"
"""What a line says of its length where pieces of it are no good."""
ASK = (
    "Please price every line, or say n/a. Another pack is welcome where it comes cheaper: write it under Note, "
    "e.g. 2 x 50 m."
)
ASK_OPEN = (
    "Please price every line, or say n/a. If Packs is empty, price the cheapest pack: write how many under Packs and "
    "what is in one under Note."
)
GOOD_UNTIL, EX_OR_INC = "Prices good until", "Prices ex or inc VAT"
MARK = "List mark"
"""The head of what tells this list, as it was written, from any other."""
CSV_COLUMNS = (
    "Line",
    "Counter",
    "Shelf",
    "What",
    "Trade name",
    "Size and finish",
    "Your code",
    *COLUMNS[QUANTITY:],
    "To",
    "Trip",
    "Job",
    "Reference",
    MARK,
    "Date",
    "Wanted by",
    "Collect or deliver",
    "Contact",
    "Please",
    GOOD_UNTIL,
    EX_OR_INC,
)

COUNTER_TITLES = {
    "electrical": "Electrical",
    "timber": "Timber and sheet",
    "ground": "Sand, duct, tape",
    "hire": "Hire",
}
TRIP_TITLES = {1: "First trip: supply and first fix", 2: "Second trip: second fix"}
