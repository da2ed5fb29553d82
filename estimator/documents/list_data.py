"""Lists to be priced for programs: an `Estimate` and a list go in, a table for spreadsheets or plain data come out."""

import csv
import re
from io import StringIO
from typing import Any

from estimator.documents import data_numbers
from estimator.documents.list_columns import ASK, ASK_OPEN, CSV_COLUMNS
from estimator.documents.list_head import COLLECT, wanted_by
from estimator.documents.list_model import ListLine
from estimator.documents.list_papers import Paper
from estimator.result import Estimate

_STARTS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_PLAIN_NUMBER = re.compile(r"-?\d+(\.\d+)?")


def table(estimate: Estimate, paper: Paper) -> bytes:
    """One header row, then the lines; blank where the merchant writes. UTF-8 with its mark, for spreadsheets."""
    head, out = _head_cells(estimate, paper), StringIO(newline="")
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(CSV_COLUMNS)
    writer.writerows([*_line_cells(line), *head] for line in paper.lines)
    return out.getvalue().encode("utf-8-sig")


def _line_cells(line: ListLine) -> list[str]:
    return [
        str(line.number),
        guarded(line.counter),
        guarded(line.shelf),
        guarded(line.words),
        guarded(line.trade_name),
        guarded(line.size_finish),
        guarded(line.code),
        f"{line.quantity.normalize():f}",
        guarded(line.unit),
        guarded(line.pack),
        str(line.packs) if line.packs else "",
        guarded(line.one_length),
        "Y" if line.same_kind else "N",
        "",
        "",
        "",
        guarded(line.note),
    ]


def _head_cells(estimate: Estimate, paper: Paper) -> list[str]:
    """What the head says, the same in every row; the last two are the merchant's."""
    job, head = estimate.job, estimate.job.list_head
    return [
        guarded(paper.to),
        paper.trip_words,
        guarded(job.title),
        guarded(head.reference or ""),
        paper.mark,
        job.priced_on.isoformat(),
        wanted_by(head),
        "" if head.collect is None else COLLECT[head.collect],
        guarded(head.contact or ""),
        ASK_OPEN if any(not line.packs for line in paper.lines) else ASK,
        "",
        "",
    ]


def guarded(text: str) -> str:
    """Text that no spreadsheet takes as a formula: what might be one gets a quote in front, and so does a quote.

    A plain number stays as it is. Taking off one leading quote gives the text back.
    """
    bare = text.lstrip(" \u00a0\u3000")
    risky = bare.startswith(_STARTS) and not _PLAIN_NUMBER.fullmatch(text)
    return f"'{text}" if risky or text.startswith("'") else text


def data(paper: Paper) -> dict[str, Any]:
    """A list as plain data: its files, its mark, whom it is for (null: any merchant), its trip (null: one only), its lines."""
    return {
        "files": [f"{paper.stem}.xlsx", f"{paper.stem}.csv"],
        "mark": paper.mark,
        "merchant": paper.merchant or None,
        "trip": paper.trip or None,
        "lines": [_line_data(line) for line in paper.lines],
    }


def _line_data(line: ListLine) -> dict[str, Any]:
    return {
        "line": line.number,
        "counter": line.counter,
        "shelf": line.shelf,
        "part": line.part,
        "what": line.words,
        "trade_name": line.trade_name,
        "size_and_finish": line.size_finish,
        "code": line.code,
        "quantity": data_numbers.number(line.quantity),
        "unit": line.unit,
        "pack_wanted": line.pack,
        "pack_size": None if line.pack_size is None else data_numbers.number(line.pack_size),
        "packs": line.packs or None,
        "one_length": line.one_length,
        "same_kind_accepted": line.same_kind,
        "weight_kg": None if line.weight_kg is None else data_numbers.number(line.weight_kg),
        "note": line.note,
    }
