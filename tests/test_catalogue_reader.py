"""The user's own CSV rows: what they add and replace, and every way in which they can be wrong."""

from decimal import Decimal as D

import pytest

from estimator.catalogue.columns import TABLES
from estimator.catalogue.model import Catalogue
from estimator.catalogue.read import assemble
from estimator.catalogue.rows import Source
from estimator.problems import Refused
from estimator.resources import read_bytes

SHIPPED = {table.name: Source(f"catalogues/{table.file}", read_bytes("catalogues", table.file)) for table in TABLES}
PRICES = "part,merchant,pack,price,vat,priced_on,match,merchant_code,source\n"
KITS = "kit,part,stage,per,quantity,pieces,note,source\n"


def own(**files: str | bytes) -> Catalogue:
    return assemble(
        SHIPPED,
        {
            name: Source(f"{name}.csv", text if isinstance(text, bytes) else text.encode())
            for name, text in files.items()
        },
    )


def refused(**files: str | bytes) -> list[str]:
    with pytest.raises(Refused) as caught:
        own(**files)
    return [str(problem) for problem in caught.value.problems]


def test_the_shipped_tables_are_read_whole() -> None:
    assert len(own().parts) > 200


def test_a_users_row_replaces_the_shipped_one_with_the_same_key() -> None:
    before, after = own(), own(prices=PRICES + "te-2.5,any,100,71.00,inc,2026-11-01,,,mine\n")
    row = next(row for row in after.prices if (row.part, row.pack) == ("te-2.5", D(100)))
    assert (row.price, row.vat, str(row.place)) == (D("71.00"), "inc", "prices.csv:2")
    assert len(before.prices) == len(after.prices)


def test_a_part_may_say_what_one_unit_weighs_and_need_not() -> None:
    head = "part,description,trade_name,section,unit,sold_as,waste,vat_rate,counter"
    row = "hive-rope,Rope,rope,Lights,m,piece,0 %,20 %,ground"
    priced = PRICES + "hive-rope,any,1,0.50,ex,2026-10-01,,,mine\n"
    for weight, column, cell in ((D("0.25"), ",weight_kg", ",0.25"), (None, ",weight_kg", ","), (None, "", "")):
        of = own(parts=f"{head}{column}\n{row}{cell}\n", prices=priced)
        assert weight == of.parts["hive-rope"].weight_kg
    assert [
        'parts.csv:2: weight_kg: "2,5"; write a decimal point: 2.5 (or 25, if the comma marks thousands)'
    ] == refused(parts=f'{head},weight_kg\n{row},"2,5"\n', prices=priced)


def test_a_row_with_quantity_0_takes_a_shipped_part_out() -> None:
    of = own(kits=KITS + "double-socket,label-cable,first-fix,entry,0,1,,mine\n")
    assert [D(0)] == [row.quantity for row in of.kits["double-socket"] if row.part == "label-cable"]


def test_a_new_kind_of_point_needs_rows_only() -> None:
    from tests.shed import sockets, worked

    text = sockets(6).replace("double-socket", "kiln-alarm")
    catalogue = own(
        points="kind,label,kit,symbol,use,width_mm,height_mm,box_depth_mm,plate_width_mm,plate_height_mm,fixing,max_ends,"
        "load,tail,place,height_rule,lit\nkiln-alarm,Kiln alarm,kiln-alarm,alarm-heat,alarm,72,72,35,86,86,noggin,3,1 W,"
        "box,in,,\n",
        parts="part,description,trade_name,section,unit,sold_as,waste,vat_rate,counter\n"
        "alarm-kiln,Alarm for a kiln,kiln alarm,Data and alarms,nr,piece,0 %,20 %,electrical\n",
        prices=PRICES + "alarm-kiln,any,1,21.00,ex,2026-10-01,,,mine\n",
        kits=KITS
        + "kiln-alarm,alarm-kiln,second-fix,point,1,1,,mine\nkiln-alarm,box-metal-1g-35,first-fix,point,1,1,,mine\n",
    )
    bill = {line.part: line.quantity for line in worked(text, catalogue).budget.bill}
    assert (D(6), D(6)) == (bill["alarm-kiln"], bill["box-metal-1g-35"])


WRONG: list[tuple[str, dict[str, str | bytes], list[str]]] = [
    (
        "price no number",
        {"prices": PRICES + "te-2.5,any,100,about 60,ex,2026-10-01,,,\n"},
        ['prices.csv:2: price: "about 60"; write the number alone: 60'],
    ),
    (
        "price with a sign",
        {"prices": PRICES + "te-2.5,any,100,£60.00,ex,2026-10-01,,,\n"},
        ['prices.csv:2: price: "£60.00"; write the number alone: 60.00'],
    ),
    (
        "decimal comma",
        {"prices": PRICES + 'te-2.5,any,100,"60,50",ex,2026-10-01,,,\n'},
        ['prices.csv:2: price: "60,50"; write a decimal point: 60.50 (or 6050, if the comma marks thousands)'],
    ),
    (
        "date the other way round",
        {"prices": PRICES + "te-2.5,any,100,60,ex,01/10/2026,,,\n"},
        ['prices.csv:2: priced_on: "01/10/2026"; write the date year first, as in 2026-10-01'],
    ),
    (
        "basis",
        {"prices": PRICES + "te-2.5,any,100,60,incl,2026-10-01,,,\n"},
        ['prices.csv:2: vat: "incl"; did you mean "inc"?'],
    ),
    (
        "semicolons",
        {"prices": PRICES.replace(",", ";") + "te-2.5;any;100;60;ex;2026-10-01;;;\n"},
        ["prices.csv:1: the columns are parted by semicolons; save the file again as CSV with commas"],
    ),
    (
        "another encoding",
        {"prices": (PRICES + "te-2.5,any,100,60,ex,2026-10-01,,,£ each\n").encode("cp1252")},
        ['prices.csv:2: byte 0xA3 is not UTF-8; save the file again as "CSV UTF-8"'],
    ),
    (
        "column missing",
        {"prices": "part,merchant,pack,cost,vat,priced_on\nte-2.5,any,100,60,ex,2026-10-01\n"},
        [
            "prices.csv:1: price: this column is missing; write: part,merchant,pack,price,vat,priced_on,match,merchant_code,source"
        ],
    ),
    (
        "row twice",
        {"prices": PRICES + "te-2.5,any,100,60,ex,2026-10-01,,,\nte-2.5,any,100.0,61,ex,2026-10-01,,,\n"},
        ["prices.csv:3: part, merchant, pack: te-2.5, any, 100 stands in row 2 already; keep one of the two rows"],
    ),
    (
        "unknown part",
        {"prices": PRICES + "te-25,any,100,60,ex,2026-10-01,,,\n"},
        ['prices.csv:2: part: "te-25" is no part; did you mean "te-2.5"? or add it to parts.csv'],
    ),
    (
        "unknown merchant",
        {"prices": PRICES + "te-2.5,Corner,100,60,ex,2026-10-01,,,\n"},
        ['prices.csv:2: merchant: "Corner" is no merchant; known: any or add it to merchants.csv'],
    ),
    (
        "kit with an unpriced part",
        {
            "parts": "part,description,trade_name,section,unit,sold_as,waste,vat_rate,counter\n"
            "gasket,Gasket,gasket,First fix wiring,nr,piece,0 %,20 %,electrical\n",
            "kits": KITS + "double-socket,gasket,first-fix,point,1,1,,mine\n",
        },
        ['kits.csv:2: part: nothing tells the price of "gasket"; add a row for it to prices.csv, or write quantity 0'],
    ),
    (
        "kit nobody uses",
        {"kits": KITS + "duble-socket,grommet-20,first-fix,point,1,1,,mine\n"},
        [
            'kits.csv:2: kit: nothing uses the kit "duble-socket"; did you mean "double-socket"? or name it in points.csv, '
            "boards.csv, cables.csv or devices.csv"
        ],
    ),
    (
        "per that cannot be counted",
        {"kits": KITS + "double-socket,grommet-20,first-fix,trench-metre,1,1,,mine\n"},
        [
            'kits.csv:2: per: "trench-metre" cannot be counted for this kit; write one of: circuit, entry, noggin, point, wall-hole'
        ],
    ),
    (
        "cable from a kit",
        {"kits": KITS + "double-socket,te-2.5,first-fix,point,1,1,,mine\n"},
        ['kits.csv:2: part: "te-2.5" is a cable, which is counted already; write quantity 0'],
    ),
    (
        "code a spreadsheet would spoil",
        {
            "parts": "part,description,section,unit,sold_as,vat_rate,counter\n"
            "2E5,Thing,Lights,nr,piece,20 %,electrical\n"
        },
        ['parts.csv:2: part: "2E5"; write a code that starts with a letter and holds no blanks, as in te-2.5'],
    ),
    (
        "cells without headings",
        {"prices": PRICES + "te-2.5,any,100,60,ex,2026-10-01,,,mine, and more\n"},
        ["prices.csv:2: 10 cells under 9 headings; put a text that holds a comma in quotes"],
    ),
    (
        "empty file",
        {"prices": ""},
        [
            "prices.csv: the file is empty; write a header row: part,merchant,pack,price,vat,priced_on,match,merchant_code,source"
        ],
    ),
]


@pytest.mark.parametrize(
    ("files", "messages"), [(files, messages) for _, files, messages in WRONG], ids=[name for name, _, _ in WRONG]
)
def test_what_is_wrong_with_a_table_is_told_with_its_row_and_what_to_write(
    files: dict[str, str | bytes], messages: list[str]
) -> None:
    assert messages == refused(**files)


def test_a_price_of_absurd_size_is_refused() -> None:
    assert refused(prices=PRICES + f"te-2.5,any,100,{'9' * 26},ex,2026-10-01,,,\n") == [
        f'prices.csv:2: price: "{"9" * 26}"; write a number of at most 12 figures'
    ]


def test_minutes_that_do_not_rise_are_refused() -> None:
    text = "task,who,per,kit,low,likely,high,stage\nDrill studs,self,stud-hole,any,80,15,20,first-fix\n"
    assert refused(labour=text) == [
        "labour.csv:2: low, likely, high: 80, 15 and 20 minutes do not rise; write the least first and the most last"
    ]


def test_every_fault_of_every_file_is_told_at_once() -> None:
    told = refused(
        prices=PRICES + "te-2.5,any,100,x,ex,2026-10-01,,,\nte-4,any,,5,ex,,,,\n",
        merchants="merchant,delivery,currency,vat,vat_rate\nYard,none,GBP,ex,20\n",
    )
    assert [line.split(": ")[0] + " " + line.split(": ")[1] for line in told] == [
        "merchants.csv:2 delivery",
        "merchants.csv:2 vat_rate",
        "prices.csv:2 price",
        "prices.csv:3 pack",
        "prices.csv:3 priced_on",
    ]


def test_a_row_over_several_lines_is_known_by_its_first() -> None:
    text = PRICES + '"te-2.5",any,100,60,ex,2026-10-01,,,"two\nlines"\nte-4,any,100,x,ex,2026-10-01,,,\n'
    assert refused(prices=text)[0].startswith("prices.csv:4: price")


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm() -> None:
    text = b"\xef\xbb\xbf" + (PRICES + "te-2.5,any,100,60,ex,2026-10-01,,,\n").replace("\n", "\r\n").encode()
    assert any(row.price == 60 for row in own(prices=text).prices)


def packs(of: Catalogue, part: str, merchant: str = "any") -> list[str]:
    return [f"{row.pack:f}" for row in of.prices if (row.part, row.merchant) == (part, merchant)]


@pytest.mark.parametrize("cell", ["", "n/a", "N/A"])
def test_a_row_without_a_price_takes_the_shipped_one_out(cell: str) -> None:
    assert ["1", "25", "50", "100"] == packs(own(), "te-2.5")
    of = own(prices=PRICES + f"te-2.5,any,50.0,{cell},,,,,not for sale\n")
    assert ["1", "25", "100"] == packs(of, "te-2.5")
    assert len(own().prices) - 1 == len(of.prices)


def test_a_row_without_pack_and_price_takes_out_all_shipped_ones_of_that_part_there_and_none_of_the_users() -> None:
    rows = "te-2.5,any,,,,,,,\nte-2.5,any,75,50.00,ex,2026-11-01,,,mine\n"
    of = own(prices=PRICES + rows)
    assert ["75"] == packs(of, "te-2.5")
    assert packs(own(), "te-1.5") == packs(of, "te-1.5")


def test_a_part_that_the_user_took_off_the_price_list_is_no_problem_until_a_job_needs_it() -> None:
    assert [] == packs(own(prices=PRICES + "alarm-heat,any,,,,,,,\n"), "alarm-heat")


def test_what_is_taken_out_must_be_known_by_name_and_stand_once() -> None:
    rows = "te-25,any,50,,,,,,\nte-2.5,Nobody,50,n/a,,,,,\nte-2.5,any,half,,,,,,\n,any,1,,,,,,\n"
    assert [
        'prices.csv:4: pack: "half"; write a number, as in 12.50',
        "prices.csv:5: part: nothing written; fill in part",
    ] == refused(prices=PRICES + rows)
    assert [
        'prices.csv:2: part: "te-25" is no part; did you mean "te-2.5"? or add it to parts.csv',
        'prices.csv:3: merchant: "Nobody" is no merchant; known: any or add it to merchants.csv',
    ] == refused(prices=PRICES + "".join(rows.splitlines(keepends=True)[:2]))
    twice = refused(prices=PRICES + "te-2.5,any,50,,,,,,\nte-2.5,any,50,33.00,ex,2026-11-01,,,mine\n")
    assert [
        "prices.csv:3: part, merchant, pack: te-2.5, any, 50 stands in row 2 already; keep one of the two rows"
    ] == twice


def test_a_price_that_comes_back_from_a_merchant_takes_the_place_of_a_row_without_one() -> None:
    from datetime import date

    from estimator.catalogue.model import Price
    from estimator.returned.keep import misread, prices_file

    before = (PRICES + "te-2.5,any,50,,,,,,\nte-1.5,any,,n/a,,,,,none\n").encode()
    row = Price("te-2.5", "any", D(50), D("31.00"), "ex", date(2026, 11, 2), "", "", "priced list")
    after = prices_file(before, [row])
    assert (PRICES + "te-2.5,any,50,31.00,ex,2026-11-02,,,priced list\nte-1.5,any,,n/a,,,,,none\n").encode() == after
    assert [] == misread({"prices.csv": after})


@pytest.mark.parametrize(("cell", "expected"), [("", None), ("none", 0), ("0 %", 0), ("20 %", D("0.2"))])
def test_the_vat_of_labour_may_be_left_to_the_job(cell: str, expected: D | None) -> None:
    row = f"Dead and live tests,electrician,circuit,consumer-unit,15,25,40,45,{cell},second-fix,\n"
    rows = own(labour="task,who,per,kit,low,likely,high,rate,vat_rate,stage,source\n" + row).labour
    assert [expected] == [of.vat_rate for of in rows if of.rate == 45 and of.kit == "consumer-unit"]


def test_a_vat_of_labour_that_cannot_be_read_is_told_with_all_that_may_stand_there() -> None:
    row = "Dead and live tests,electrician,circuit,consumer-unit,15,25,40,45,20,second-fix,\n"
    (told,) = refused(labour="task,who,per,kit,low,likely,high,rate,vat_rate,stage,source\n" + row)
    assert 'write a percentage, as in "20 %", or none, or leave it empty for the VAT of the job' in told
