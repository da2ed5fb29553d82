"""What is told beside the order: an `Estimate` goes in, sentences on one counter and on free delivery come out."""

from collections.abc import Iterator, Sequence

from estimator.buying.model import Comparison, NearFree
from estimator.documents import words
from estimator.result import Estimate

ZERO = 0


def beside_the_order(estimate: Estimate) -> tuple[str, ...]:
    """The same from as few counters as can supply it, in one trip; then how near each charge for delivery is to none."""
    return (*_counter(estimate), *(_near(estimate, of) for of in estimate.order.near))


def _counter(estimate: Estimate) -> Iterator[str]:
    """Nothing where only one counter, or none that has a name, sells what is bought."""
    other, currency = estimate.order.counter, estimate.job.currency
    if other is not None:
        about = "" if other.proven else "about "
        cost = words.money(other.cost, currency)
        yield f"{_whose(other.merchants)}, in one trip: {about}{cost} inc VAT, {_dearer(other, currency)}."
        return
    chosen = {line.merchant for line in estimate.order.lines} - {words.ANY}
    if len(chosen) > 1:
        yield f"No fewer than these {len(chosen)} counters sell everything, and it is bought in one trip."


def _whose(merchants: Sequence[str]) -> str:
    named = [name for name in merchants if name != words.ANY]
    rest = ", with what has no merchant yet" if len(named) < len(merchants) else ""
    if len(named) == 1:
        return f"All from one counter ({named[0]}{rest})"
    return f"All from as few counters as sell everything ({' and '.join(named)}{rest})"


def _dearer(other: Comparison, currency: str) -> str:
    if other.dearer_by == ZERO:
        return "which is the same money"
    much = words.money(abs(other.dearer_by), currency)
    return f"{much} {'dearer' if other.dearer_by > ZERO else 'cheaper'}"


def _near(estimate: Estimate, of: NearFree) -> str:
    currency = estimate.job.currency
    trip = {1: " on the first trip", 2: " on the second trip"}[of.trip] if estimate.job.buying.trips == 2 else ""
    return (
        f"{words.money(of.short, currency)} more ({words.BASIS_TITLES[of.basis]}) at {of.merchant}{trip} and delivery "
        f"({words.money(of.saves, currency)} inc VAT) is free."
    )
