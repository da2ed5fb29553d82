"""What stands at the head of a list to be priced: an `Estimate` and a list go in, labels with their words come out."""

from collections.abc import Iterable

from estimator.documents.list_columns import EX_OR_INC, GOOD_UNTIL, MARK
from estimator.documents.list_model import ListLine
from estimator.documents.list_papers import Paper, weight_words
from estimator.job.model import ListHead
from estimator.result import Estimate

COLLECT = {True: "Collect", False: "Deliver to site"}
TO_TICK = "[   ] Collect   [   ] Deliver to site"
TO_FILL = ("Priced by (name, telephone)", "Account or cash", GOOD_UNTIL, EX_OR_INC)
"""Left for the merchant."""
Labelled = tuple[str, str]


def ours(estimate: Estimate, paper: Paper) -> tuple[Labelled, ...]:
    """Whom it is for and what it is about, label by label; words that are empty are a line to write on."""
    job, head = estimate.job, estimate.job.list_head
    return (
        ("To", paper.to),
        ("Job", job.title),
        ("Reference", head.reference or ""),
        ("Date", job.priced_on.isoformat()),
        ("Wanted by", wanted_by(head)),
    )


def handing_over(estimate: Estimate, lines: Iterable[ListLine]) -> tuple[Labelled, ...]:
    """How the goods are to come, and to whom, in the same way."""
    head = estimate.job.list_head
    rows = [("Collect or deliver", TO_TICK if head.collect is None else COLLECT[head.collect])]
    if head.collect is not True:
        rows.append(("Access", ""))
    rows.append(("Contact", head.contact or ""))
    weight = weight_words(lines)
    return (*rows, ("Weight", weight)) if weight else tuple(rows)


def theirs(paper: Paper) -> tuple[Labelled, ...]:
    """The mark, then what the merchant fills in."""
    return ((MARK, paper.mark), *((label, "") for label in TO_FILL))


def wanted_by(head: ListHead) -> str:
    """The day, year first; empty where it is left open."""
    return head.wanted_by.isoformat() if head.wanted_by else ""
