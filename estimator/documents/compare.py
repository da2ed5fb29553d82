"""The documents of `studbay compare`: a `Comparison` goes in, a table for a terminal, a page and a workbook come out."""

from estimator.compare.model import Comparison
from estimator.documents.compare_text import as_text

__all__ = ["as_text", "render_comparison"]


def render_comparison(comparison: Comparison) -> dict[str, bytes]:
    """compare.html and compare.xlsx; the same comparison gives the same bytes."""
    from estimator.documents.compare_book import render_book
    from estimator.documents.compare_page import render_comparison_page

    return {
        "compare.html": render_comparison_page(comparison).encode(),
        "compare.xlsx": render_book(comparison),
    }
