"""Every file of one estimate: an `Estimate` goes in, names and bytes come out; nothing is written here."""

from estimator.documents.data import render_data
from estimator.documents.shopping import render_lists
from estimator.documents.workbook import render_workbook
from estimator.result import Estimate


def render(estimate: Estimate) -> dict[str, bytes]:
    """Quote, zones of walls, bill, shopping lists in both forms, and the data; the same estimate gives the same bytes."""
    from estimator.documents.quote import render_quote
    from estimator.documents.wall_zones import render_wall_zones

    return {
        "quote.html": render_quote(estimate).encode(),
        "wall-zones.html": render_wall_zones(estimate).encode(),
        "bill-of-quantities.xlsx": render_workbook(estimate),
        **render_lists(estimate),
        "estimate.json": render_data(estimate),
    }
