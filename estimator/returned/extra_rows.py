"""Rows that are no lines of ours but say something of money: carriage, discount, VAT, totals; text goes in, what to do comes out."""

import re

from estimator.returned.cells import one_line

_KINDS: tuple[tuple[str, str], ...] = (
    (
        r"\b(carriage|delivery|del charge|delivered|postage|p ?& ?p|shipping|freight|courier|transport)\b",
        "what they charge for delivery goes into merchants.csv, under delivery",
    ),
    (
        r"\b(discount|disc|less|rebate|settlement)\b|\d ?% ?off\b",
        "a discount: ask whether the prices above are before or after it, and write those after it",
    ),
    (
        r"\b(minimum|min\.?) (order|charge|spend)\b|\b(cutting|handling|small order|admin|drum|fuel) (charge|fee|surcharge|deposit)\b|\bsurcharge\b",
        "a charge that no line holds: ask what it is for, and mind it when you compare",
    ),
    (r"\bv\.?a\.?t\.?\b|\btax\b", "the VAT is worked out from the lines"),
    (
        r"\b(sub[ -]?totals?|totals?|grand total|goods|net(t)? (amount|value)|amount due|balance|to pay)\b",
        "a total: the lines are counted one by one",
    ),
    (r"\bc(/|arried |ar\.? ?)f(orward|wd)?\b|\bb(/|rought )f(orward|wd)?\b", "a total carried over: the lines are counted one by one"),
)  # fmt: skip


def extra_words(text: str) -> str | None:
    """What to do about a row that is carriage, a discount, VAT or a total with a figure in it; None for any other text."""
    line = one_line(text).casefold()
    if not re.search(r"\d|\bfree\b", line):
        return None
    return next((write for pattern, write in _KINDS if re.search(pattern, line)), None)
