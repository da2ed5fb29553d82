"""Files that only claim to be lists: packed to burst, damaged, locked, with links, macros and entities; each refused in words."""

import re
import zipfile
from io import BytesIO

import pytest

from estimator.returned import guard, workbook
from estimator.returned.workbook import read_workbook
from tests.test_returned_lists import FILE, LIST_B, PRICES_B, files, filled, messages, of, read

DAMAGED = f"{FILE}: this is no workbook, or it is damaged; save the list as .xlsx or .csv, and give that file"


def packed(members: dict[str, bytes], level: int = 9) -> bytes:
    out = BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=level) as file:
        for name, data in members.items():
            file.writestr(name, data)
    return out.getvalue()


def members(data: bytes) -> dict[str, bytes]:
    with zipfile.ZipFile(BytesIO(data)) as file:
        return {name: file.read(name) for name in file.namelist()}


def good() -> dict[str, bytes]:
    return members(filled(LIST_B, PRICES_B))


def test_a_workbook_that_unpacks_to_too_much_is_refused_unread() -> None:
    # 60 MB of one mark take 60 kB packed.
    bomb = packed({**good(), "xl/worksheets/sheet9.xml": b" " * 60_000_000})

    assert len(bomb) < 200_000
    assert [
        f"{FILE}: the workbook unpacks to 61 MB; at most 50 MB are read; copy the lines into a new workbook, and give that"
    ] == messages(read(bomb))


def test_a_workbook_that_is_packed_far_too_well_is_refused() -> None:
    [found] = messages(read(packed({**good(), "xl/media/image1.png": b"\0" * 20_000_000})))

    assert found.startswith(f"{FILE}: the workbook unpacks to ")
    assert found.endswith(" times its size; no list does; copy the lines into a new workbook, and give that")


def test_a_workbook_of_very_many_files_is_refused() -> None:
    many = {f"xl/media/{number}.png": b"" for number in range(1001)}

    assert [
        f"{FILE}: the workbook holds {len(good()) + 1001:,} files, and a list has fewer than a hundred; copy the lines into a new "
        "workbook, and give that"
    ] == messages(read(packed({**good(), **many})))


def test_a_size_that_is_a_lie_gives_nothing_away() -> None:
    data = bytearray(packed({**good(), "xl/worksheets/sheet1.xml": b" " * 60_000_000}))
    true = (60_000_000).to_bytes(4, "little")
    for at in (index for index in range(len(data) - 4) if data[index : index + 4] == true):
        data[at : at + 4] = (1000).to_bytes(4, "little")

    assert [DAMAGED] == messages(read(bytes(data)))


@pytest.mark.parametrize(
    ("message", "data"),
    [
        (DAMAGED, b"PK\x03\x04 and nothing more"),
        (DAMAGED, b""),
        (DAMAGED, b"not a workbook at all"),
        (
            f"{FILE}: the workbook is locked by a password, or of the old kind .xls; save it as .xlsx without a password",
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 500,
        ),
        (
            f"{FILE}: this is a packed file, but no .xlsx workbook; save the list as .xlsx or .csv, and give that file",
            packed({"a.txt": b"a"}),
        ),
        (
            f"{FILE}: this is a spreadsheet of the kind .ods, and no .xlsx workbook; save the list as .xlsx or .csv, and give that file",
            packed({"mimetype": b"application/vnd.oasis.opendocument.spreadsheet", "content.xml": b"<a/>"}),
        ),
    ],
)
def test_what_is_no_workbook_is_said_to_be_none(message: str, data: bytes) -> None:
    assert [message] == messages(read(data))


@pytest.mark.parametrize(
    "name",
    ["xl/workbook.xml", "xl/worksheets/sheet1.xml", "xl/sharedStrings.xml", "[Content_Types].xml", "xl/styles.xml"],
)
@pytest.mark.parametrize(
    "data", [b"", b"<", b"<a/>", b"\xff\xfe\x00", b"<worksheet><sheetData><row r='x'/></sheetData></worksheet>"]
)
def test_a_damaged_member_is_a_message_and_never_an_error(name: str, data: bytes) -> None:
    for whole in (good(), members(files()[LIST_B])):
        for problem in read(packed({**whole, name: data})).problems:
            assert problem.write


def test_entities_in_a_workbook_are_refused() -> None:
    laughs = b'<?xml version="1.0"?><!DOCTYPE a [<!ENTITY b "cccccccccc"><!ENTITY d "&b;&b;&b;&b;">]><sst><si><t>&d;</t></si></sst>'
    sheet = good()["xl/worksheets/sheet1.xml"].replace(
        b"<worksheet", b'<!DOCTYPE worksheet [<!ENTITY b "c">]><worksheet', 1
    )

    ours = members(files()[LIST_B])

    assert "xl/sharedStrings.xml" in ours
    assert [DAMAGED] == messages(read(packed({**ours, "xl/sharedStrings.xml": laughs})))
    assert [DAMAGED] == messages(read(packed({**good(), "xl/worksheets/sheet1.xml": sheet})))


@pytest.mark.parametrize("row", [b"999999999999", b"1048576"])
def test_rows_that_a_sheet_only_claims_cost_nothing(row: bytes) -> None:
    sheet = good()["xl/worksheets/sheet1.xml"]
    far = sheet.replace(b"</sheetData>", b'<row r="' + row + b'"><c r="A' + row + b'"><v>1</v></c></row></sheetData>')
    assert far != sheet

    returned = read(packed({**good(), "xl/worksheets/sheet1.xml": far}))
    assert ([], 7) == (messages(returned), sum(one.status == "priced" for one in returned.lines))


def test_a_sheet_that_claims_to_be_small_is_read_whole() -> None:
    sheet = good()["xl/worksheets/sheet1.xml"]
    small = re.sub(rb'<dimension ref="[^"]+"', b'<dimension ref="A1:B2"', sheet)
    assert small != sheet

    returned = read(packed({**good(), "xl/worksheets/sheet1.xml": small}))
    assert ([], 7) == (messages(returned), sum(one.status == "priced" for one in returned.lines))


def test_links_and_macros_are_told_and_not_followed() -> None:
    data = packed({**good(), "xl/externalLinks/externalLink1.xml": b"<externalLink/>", "xl/vbaProject.bin": b"\0"})
    returned = read(data)

    assert [] == messages(returned)
    assert ["it holds links to other workbooks; none was followed", "it holds macros; none was run"] == [
        told.text for told in returned.told if str(told.place) == FILE
    ]
    assert "priced" == of(returned, 1).status


def test_a_formula_that_looks_into_another_workbook_gives_its_stored_value() -> None:
    sheet = good()["xl/worksheets/sheet1.xml"]
    linked = sheet.replace(b"<v>22.5</v>", b"<f>[1]Prices!$A$1</f><v>22.5</v>")
    assert linked != sheet
    returned = read(packed({**good(), "xl/worksheets/sheet1.xml": linked}))

    assert [] == messages(returned)
    assert 22.5 == of(returned, 6).price
    assert "a formula; the figure saved with it, 22.5, is taken. If it is not right, type the price over it" in [
        told.text for told in returned.told
    ]


def test_a_workbook_of_very_many_cells_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(workbook, "CELLS", 2000)
    sheet = good()["xl/worksheets/sheet1.xml"]
    more = b"".join(b'<row r="%d">%s</row>' % (row, b"<c><v>1</v></c>" * 60) for row in range(500, 540))
    full = packed(
        {**good(), "xl/worksheets/sheet1.xml": sheet.replace(b"</sheetData>", more + b"</sheetData>")}, level=1
    )

    assert [
        f"{FILE}: the workbook has more than 2,000 filled cells, and a list has some thousand; copy the lines into a new workbook, "
        "and give that"
    ] == messages(read(full))


def test_a_very_large_file_is_not_even_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(guard, "FILE_BYTES", 1000)

    assert [
        f"{FILE}: the file has 1 MB, and a list has less than one; save the list as .xlsx or .csv, and give that file"
    ] == messages(read(filled(LIST_B, PRICES_B)))


def test_workbooks_are_not_read_without_the_guard_against_hostile_xml(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("openpyxl.DEFUSEDXML", False)

    with pytest.raises(ImportError, match="defusedxml is missing"):
        read_workbook(FILE, filled(LIST_B, PRICES_B))
