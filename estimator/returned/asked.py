"""What we asked for: an `Estimate` goes in, the lines of every list that it makes come out, as a reader matches them."""

from estimator.documents.list_asked import CUT as CUT
from estimator.documents.list_asked import OPEN_LIST as OPEN_LIST
from estimator.documents.list_asked import AskedLine as AskedLine
from estimator.documents.list_asked import AskedList as AskedList
from estimator.documents.list_asked import match_of as match_of
from estimator.documents.list_papers import asked_for
from estimator.result import Estimate


def asked_lists(estimate: Estimate) -> tuple[AskedList, ...]:
    """The lists of every merchant that we buy from, by name; last what any merchant may be asked."""
    return (*asked_for(estimate, blank=False), *asked_for(estimate, blank=True))
