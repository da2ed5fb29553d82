"""Rules of money: ranges that rise, signs that fit the currency, stock that says how much there is."""

from collections.abc import Iterator

from estimator.job.keys import SYMBOLS
from estimator.job.known import Known
from estimator.job.table import Table
from estimator.problems import Problem
from estimator.quantities import Money


def check(known: Known) -> Iterator[Problem]:
    """Every rule of sums and of buying."""
    for table in known.job.tables("sum"):
        yield from _amount(table, known.job.get("currency", str))
    buying = known.job.get("buying", Table)
    if buying is not None:
        yield from _merchants(buying)
        for item in buying.tables("in_hand"):
            yield from _in_hand(item)


def _amount(table: Table, currency: str | None) -> Iterator[Problem]:
    amount = table.values.get("amount")
    if isinstance(amount, Money):
        yield from _sign(table, "amount", amount, currency)
    if not isinstance(amount, Table):
        return
    before: Money | None = None
    for key in ("low", "likely", "high"):
        given = amount.get(key, Money)
        if given is None:
            continue
        yield from _sign(amount, key, given, currency)
        if before is not None and given.amount < before.amount:
            found = f"{key} is below the amount before it"
            yield amount.problem(key, found, "write low, likely, high so that they rise")
        before = given


def _sign(table: Table, key: str, given: Money, currency: str | None) -> Iterator[Problem]:
    fitting = SYMBOLS.get(given.symbol)
    if fitting is not None and currency is not None and currency not in fitting:
        found = f'"{given.symbol}" is not the sign of {currency}, which the job is in'
        yield table.problem(key, found, f'write the amount without a sign: "{given.amount}"')


def _merchants(buying: Table) -> Iterator[Problem]:
    names = buying.items("merchants", str)
    if "any" in names and len(names) > 1:
        yield buying.problem("merchants", '"any" already stands for every merchant', 'write ["any"], or names alone')
    for number, name in enumerate(names):
        if name in names[:number]:
            yield buying.problem(("merchants", number), f'"{name}" is named twice', "take one out")


def _in_hand(item: Table) -> Iterator[Problem]:
    """How much there is: lengths with their count, or a count alone, or packs."""
    hint = 'write length = "1.1 m" and count = 4 for what is cut in lengths, else count = 7 or packs = 2'
    if item.has("packs") and (item.has("length") or item.has("count")):
        yield item.problem("packs", "packs are given, and pieces or lengths too", "write one of them")
    elif item.has("length") and not item.has("count"):
        yield item.problem(
            None, "count is missing: how many such lengths", "write count = 1 for one piece of that length"
        )
    elif not item.has("packs") and not item.has("count"):
        yield item.problem(None, "nothing says how much there is", hint)
