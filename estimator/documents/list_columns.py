"""The columns of a list to be priced, what its head asks, and the words for trips and counters; a reader of priced lists goes by these."""

COLUMNS = (
    "Line",
    "What",
    "Trade name",
    "Size and finish",
    "Your code",
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
WIDTHS = (4.5, 21, 17, 14, 6, 8.5, 5.5, 16, 6.5, 7.5, 9.5, 9.5, 8.5, 8.5, 17)
"""In characters; together so wide that a page of A4 prints them at about nine points."""
QUANTITY, UNIT, PACK, PACKS, ONE_LENGTH, SAME_KIND, PRICE, NOTE = 5, 6, 7, 8, 9, 10, 11, 14

ASK = "Please price every line, or say n/a."
ASK_OPEN = (
    "Please price every line, or say n/a. Where the pack is left to you, or you sell another, write how many under Packs "
    "and what is in one under Note."
)
GOOD_UNTIL, EX_OR_INC = "Prices good until", "Prices ex or inc VAT"
MARK = "List mark"
"""The head of what tells this list, as it was written, from any other."""
CSV_COLUMNS = (
    "Line",
    "Counter",
    "Shelf",
    *COLUMNS[1:],
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
