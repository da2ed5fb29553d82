"""Lists to be priced, as files: an `Estimate` goes in, for each merchant, or for any, a workbook and a table come out."""

import json

from estimator.documents.list_blank import blank_lines
from estimator.documents.list_columns import ASK, COLUMNS, COUNTER_TITLES, CSV_COLUMNS
from estimator.documents.list_data import data, guarded, table
from estimator.documents.list_model import ListLine
from estimator.documents.list_papers import asked_for, papers, slugs
from estimator.documents.list_sheet import workbook
from estimator.documents.shelves import list_lines, merchants, trip_of
from estimator.result import Estimate

__all__ = [
    "ASK",
    "COLUMNS",
    "COUNTER_TITLES",
    "CSV_COLUMNS",
    "ListLine",
    "asked_for",
    "blank_lines",
    "guarded",
    "list_files",
    "list_lines",
    "lists_data",
    "merchants",
    "render_lists",
    "slugs",
    "trip_of",
]


def render_lists(estimate: Estimate) -> dict[str, bytes]:
    """Both files for every merchant that something is bought from, by file name: shopping-list-MERCHANT.xlsx and .csv.

    Where the job has two trips, a list for each: shopping-list-MERCHANT-trip-1.xlsx.
    """
    return list_files(estimate, blank=False)


def list_files(estimate: Estimate, blank: bool) -> dict[str, bytes]:
    """The lists as files, by name: what we chose to buy where, or where `blank` all that is needed, for any merchant.

    The blank ones are one for each kind of counter (and trip): to-be-priced-electrical.xlsx and .csv.
    """
    files: dict[str, bytes] = {}
    for paper in papers(estimate, blank):
        files[f"{paper.stem}.xlsx"] = workbook(estimate, paper)
        files[f"{paper.stem}.csv"] = table(estimate, paper)
    return files


def lists_data(estimate: Estimate, blank: bool) -> str:
    """The same lists as JSON, for programs."""
    return json.dumps([data(paper) for paper in papers(estimate, blank)], indent=2, ensure_ascii=False) + "\n"
