"""Returned lists as a terminal shows them and as programs read them."""

import json

from estimator.documents.returned import as_text
from estimator.documents.returned_data import as_data
from estimator.returned.model import Outcome
from tests.test_returned_changes import ran
from tests.test_returned_lists import LIST_B, filled, label, put


def outcome() -> Outcome:
    prices: dict[int, object] = {1: 27.1, 2: "alt: 2 x 50 m", 3: 171, 4: 0.032, 5: "POA", 6: 22.5, 7: "1,5"}
    until = label("Prices good until", "end of November")
    return ran(filled(LIST_B, prices, put(6, "In stock, or days", "2 days"), until), merchant="North Yard")


TEXT = """\
North Yard: north.xlsx
  prices of 2026-11-02, good until end of November
  list: B, mark TXR-2829; 4 of 7 lines priced

Line  What                                Pack               Packs      Before         Now  Difference
   1  cable-te-2.5                        drum of 50 m           1       26.50    27.10 ex      +£0.60
   3  SWA XLPE/PVC, "3 core" 10 mm2       cut, 34 m              1      164.90   171.00 ex      +£6.10
                                            a metre                       4.85      5.0294
   6  rcbo-b20                            each                   1       21.40    22.50 ex      +£1.10

1 line as before.

The 4 lines with a price before and now
  ex VAT: £213.98 before, £221.78 now (+£7.80)
  inc VAT: £256.78 before, £266.14 now (+£9.36)

What they say
  - 6 rcbo-b20: 2 days

Not priced
  - 2 cable-te-2.5, drum of 100 m: something else is offered; not taken as a price: alt: 2 x 50 m
  - 5 consumer-unit-8, each: price on asking: POA
  - 7 duct-50, 10 m: cannot be read: see the problems
  - If something else that they offer will do, give its price with the command: --price
    "cable-te-2.5@100=PRICE ex", with what one pack of theirs holds after the @.

To know
"""


def test_the_text_shows_what_changed_what_has_no_price_and_what_to_know() -> None:
    # hand: before 26.50 + 34 x 4.85 + 37 x 0.032 + 21.40 = 213.984, now 27.10 + 171 + 1.184 + 22.50 = 221.784; x 1.2 is
    # 256.7808 and 266.1408.
    text = as_text(outcome())

    assert text.startswith(TEXT)
    assert "  - north.xlsx:Electrical!J15: line 3: 171.00 is kept as the price of one length of 34 m\n" in text


def test_the_data_holds_lines_changes_and_problems() -> None:
    data = json.loads(as_data(outcome()))
    [of] = data["lists"]

    assert ["comparison", "kept", "lists", "problems", "told"] == sorted(data)
    assert ("North Yard", "B", "2026-11-02") == (of["merchant"], of["list_of"], of["priced_on"])
    assert ["priced", "another", "priced", "priced", "on-asking", "priced", "unreadable"] == [
        line["status"] for line in of["lines"]
    ]
    assert ("27.10", "50", 1) == (of["lines"][0]["price"], of["lines"][0]["pack"], of["lines"][0]["packs"])
    # hand: as in the text; labels did not change.
    assert ["0.60", "6.10", "0.00", "1.10"] == [change["difference"] for change in of["changes"]]
    assert ("213.98", "221.78", "266.14") == tuple(of["sums"][key] for key in ("before", "after", "after_inc"))
    assert [
        {
            "place": "north.xlsx:Sand, duct, tape!J12",
            "where": "line 7",
            "found": '"1,5" may be read in two ways',
            "write": "write a decimal point, as in 1.5",
        }
    ] == data["problems"]
    assert data["comparison"] is None


def test_no_mark_of_a_terminal_gets_through() -> None:
    text = as_text(ran(filled(LIST_B, {1: 27.1}, put(1, "In stock, or days", "a\u202eb\u200b\u0085c"))))

    assert text.replace("\n", "").isprintable()
