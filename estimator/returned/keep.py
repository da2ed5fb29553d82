"""Prices kept beside the job: the bytes of prices.csv and merchants.csv go in with the returned rows, new bytes come out.

Rows of the same part, merchant and pack are replaced; every other row, its order and columns of the user's own stay, to
the byte.
"""

import csv
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal, InvalidOperation
from io import StringIO

from estimator.catalogue.columns import TABLES
from estimator.catalogue.model import Merchant, Price
from estimator.catalogue.rows import NOT_FOR_SALE, Source, rows_of
from estimator.problems import Problem

PRICES, MERCHANTS = "prices.csv", "merchants.csv"
PRICE_COLUMNS = ("part", "merchant", "pack", "price", "vat", "priced_on", "match", "merchant_code", "source")
MERCHANT_COLUMNS = ("merchant", "delivery", "free_over", "minimum", "currency", "vat", "vat_rate")
MARK = "\ufeff"
Key = tuple[str, str, Decimal]
"""Part, merchant and pack: what tells rows apart."""


@dataclass(frozen=True, slots=True)
class Gone:
    """A price that its merchant gives no more, since that day; `source` says what stood there."""

    row: Price
    day: date
    source: str


def prices_file(before: bytes | None, rows: Sequence[Price], gone: Sequence[Gone] = ()) -> bytes:
    """The file with these prices in it, and without those; `before` is UTF-8, as the catalogue's reader has seen.

    A price that is gone leaves a row without one, which says that the pack is not for sale there.
    """
    text = before.decode("utf-8") if before else ""
    mark, body = (MARK, text[1:]) if text.startswith(MARK) else ("", text)
    records = _records(body)
    ending = "\r\n" if "\r\n" in body else "\n"
    header = _header(records, PRICE_COLUMNS, _filled(rows, gone))
    wanted = {_key_of(row): _price(row) for row in rows} | {_key_of(of.row): _not_for_sale(of) for of in gone}
    out = [_written(header, ending)] if not records or header != records[0][1] else [_ended(records[0][0], ending)]
    for raw, cells in records[1:]:
        values = dict(zip((name.strip() for name in header), cells, strict=False))
        key = _key(values)
        row = wanted.pop(key, None) if key is not None else None
        out.append(_ended(raw, ending) if row is None else _written(_cells(header, cells, row), ending))
    out += [_written(_cells(header, (), row), ending) for row in wanted.values()]
    return (mark + "".join(out)).encode()


def merchants_file(before: bytes | None, new: Sequence[Merchant]) -> bytes:
    """The file with rows for merchants that it has not."""
    text = before.decode("utf-8") if before else ""
    mark, body = (MARK, text[1:]) if text.startswith(MARK) else ("", text)
    records = _records(body)
    ending = "\r\n" if "\r\n" in body else "\n"
    header = _header(records, MERCHANT_COLUMNS, ())
    out = [_written(header, ending)] if not records else []
    out += [_ended(raw, ending) for raw, _ in records]
    out += [_written(_cells(header, (), _merchant(row)), ending) for row in new]
    return (mark + "".join(out)).encode()


def misread(files: Mapping[str, bytes]) -> list[Problem]:
    """What the catalogue's reader would say of the new files: they are looked at before they are written."""
    problems = []
    for table in TABLES:
        if table.file in files:
            problems += rows_of(table, Source(table.file, files[table.file]))[1]
    return problems


def _records(text: str) -> list[tuple[str, list[str]]]:
    """Every record as it stands, with its cells; one may span several lines."""
    lines = list(StringIO(text, newline=""))
    reader = csv.reader(iter(lines), strict=True)
    records, before = [], 0
    for cells in reader:
        records.append(("".join(lines[before : reader.line_num]), cells))
        before = reader.line_num
    return records


def _header(records: Sequence[tuple[str, list[str]]], columns: Sequence[str], filled: Sequence[str]) -> list[str]:
    """The headings: those of the file, and after them what the file has no column for but the new rows fill."""
    if not records:
        return list(columns)
    there = records[0][1]
    names = {name.strip() for name in there}
    return [*there, *(column for column in columns if column in filled and column not in names)]


def _filled(rows: Sequence[Price], gone: Sequence[Gone]) -> list[str]:
    values = [*(_price(row) for row in rows), *(_not_for_sale(of) for of in gone)]
    return [column for column in PRICE_COLUMNS if any(of[column] for of in values)]


def days_out(before: bytes | None) -> dict[Key, date]:
    """The packs that the file says are not for sale, with the days of those rows."""
    records = _records(before.decode("utf-8-sig")) if before else []
    found: dict[Key, date] = {}
    for _, cells in records[1:]:
        values = dict(zip((name.strip() for name in records[0][1]), cells, strict=False))
        key = _key(values)
        if key is not None and values.get("price", "").strip().casefold() in NOT_FOR_SALE:
            try:
                found[key] = date.fromisoformat(values.get("priced_on", "").strip())
            except ValueError:
                continue
    return found


def _key_of(row: Price) -> Key:
    return row.part, row.merchant, row.pack


def _key(values: Mapping[str, str]) -> Key | None:
    try:
        return values["part"].strip(), values["merchant"].strip(), Decimal(values["pack"].strip())
    except (KeyError, InvalidOperation):
        return None


def _cells(header: Sequence[str], before: Sequence[str], values: Mapping[str, str]) -> list[str]:
    """A row under these headings: new values, and what stood in other columns."""
    old = dict(enumerate(before))
    return [values.get(name.strip(), old.get(at, "")) for at, name in enumerate(header)]


def _price(row: Price) -> dict[str, str]:
    return {
        "part": row.part,
        "merchant": row.merchant,
        "pack": _number(row.pack),
        "price": _coins(row.price),
        "vat": row.vat,
        "priced_on": row.priced_on.isoformat(),
        "match": row.match,
        "merchant_code": row.merchant_code,
        "source": row.source,
    }


def _not_for_sale(of: Gone) -> dict[str, str]:
    return _price(of.row) | {"price": "", "priced_on": of.day.isoformat(), "source": of.source}


def _merchant(row: Merchant) -> dict[str, str]:
    return {
        "merchant": row.merchant,
        "delivery": _coins(row.delivery) if row.delivery_known else "",
        "currency": row.currency,
        "vat": row.vat,
        "vat_rate": f"{_number(row.vat_rate * 100)} %",
    }


def _number(value: Decimal) -> str:
    return f"{value.normalize():f}" if value else "0"


def _coins(value: Decimal) -> str:
    short = value.quantize(Decimal("0.01"))
    return f"{short if short == value else value.normalize():f}"


def _written(cells: Sequence[str], ending: str) -> str:
    out = StringIO(newline="")
    csv.writer(out, lineterminator=ending).writerow(cells)
    return out.getvalue()


def _ended(raw: str, ending: str) -> str:
    """The last record of a file may lack its ending."""
    return raw if raw.endswith(("\n", "\r")) else raw + ending
