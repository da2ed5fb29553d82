"""Sentences of a comparison: differences, later costs and plans go in, plain words come out, the same in every document."""

from decimal import ROUND_HALF_UP, Decimal

from estimator.compare.later import Later
from estimator.compare.within import LeftOut, Within
from estimator.costing.model import Range
from estimator.documents.words import money, number, symbol

MINUS = "\u2212"
WHOLE_FROM = 10
LATER_BASIS = (
    "A figure for a decision, no quote: hours and rates are the rows of the kit later in labour.csv (put in your own), "
    "materials are in the smallest packs, and nothing is set aside on either side, so now is a little less than the "
    "difference of the totals. The electrician decides how it can be done then."
)


def signed(amount: Decimal, currency: str) -> str:
    """A difference of money with its sign: `+£8.16`, `−£3.00`, `£0.00`."""
    if not amount:
        return money(amount, currency)
    return f"{'+' if amount > 0 else MINUS}{money(abs(amount), currency)}"


def more_words(amount: Decimal, currency: str) -> str:
    """A difference of money as it is said: `£8.16 more`, `£1.33 less`, `nothing more`."""
    if not amount:
        return "nothing more"
    return f"{money(abs(amount), currency)} {'more' if amount > 0 else 'less'}"


def signed_number(value: Decimal, places: int = 1) -> str:
    """A difference with its sign: `+3.1`, `−2`; `0` where it rounds to none."""
    text = number(abs(value), places)
    return text if text == "0" else f"{'+' if value > 0 else MINUS}{text}"


def about(amount: Decimal, currency: str) -> str:
    """An amount to the whole unit of money: `£293`."""
    return f"{symbol(currency)}{amount.quantize(Decimal(1), rounding=ROUND_HALF_UP):,f}"


def later_words(later: Later, currency: str) -> str:
    """The decision in one line: what it costs now, what later, and the chance from which now is the better choice."""
    span = span_words(later.cost, currency)
    own = f" and {hours_words(later.hours.low, later.hours.high)} of your own" if later.hours.high else ""
    out = out_words(later, currency)
    if later.now <= 0:
        return f"Fitted now it costs nothing more; later, once all is closed, {span}{own}.{out}"
    both = f"Fitted now {money(later.now, currency)}, nothing set aside; later, once all is closed, {span}{own}."
    return f"{both} {_worth(later)}{out}"


def out_words(later: Later, currency: str) -> str:
    """What taking other things out comes to beside what is added, as a sentence to join on; empty where nothing is."""
    if later.netted:
        return " What is taken out is counted in that, as the two cannot be priced apart; later it would save nothing."
    if not later.saved:
        return ""
    saves = (
        f"saves {money(later.saved, currency)}" if later.saved > 0 else f"costs {money(-later.saved, currency)} more"
    )
    return f" What is taken out or cut down {saves} by itself, now; later it would save nothing."


def _worth(later: Later) -> str:
    """From which chance on now is the better choice; hours of one's own have no price, so they are told apart."""
    hours = bool(later.hours.high)
    if later.one_in is None:
        return f"Later costs no more money than now{', but fitting now saves the hours' if hours else ', so there is no hurry'}."
    if later.one_in == 1:
        return f"Worth the money now only if you are sure to want it{'; it saves the hours' if hours else ''}."
    money_alone = " on the money alone" if hours else ""
    likely = f"at least one chance in {chance(later.one_in)}"
    return f"Worth fitting now{money_alone} if you think there is {likely} that you will want it."


def span_words(cost: Range, currency: str) -> str:
    """A range of money to the whole unit: `£362 to £977`, `about £87`."""
    low, high = about(cost.low, currency), about(cost.high, currency)
    return f"about {low}" if low == high else f"{low} to {high}"


def chance(one_in: int) -> str:
    """One in so many, in words up to twelve."""
    small = ("", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
    return small[one_in] if one_in < len(small) else f"{one_in:,}"


def hours_words(low: Decimal, high: Decimal) -> str:
    """A range of hours, from ten on to the whole hour: `2.5 to 6 hours`, `15 to 62 hours`, `1 hour`."""
    least, most = (number(of, 0 if of >= WHOLE_FROM else 1) for of in (low, high))
    if least == most:
        return f"{least} hour{'' if least == '1' else 's'}"
    return f"{least} to {most} hours"


def within_words(found: Within, currency: str) -> tuple[str, ...]:
    """What the limit buys, what it leaves out, and what that would take."""
    limit = money(found.limit, currency)
    if found.plan is None or found.plan.estimate is None:
        least = "" if found.least is None else f" The least it comes to is {money(found.least, currency)}."
        return (f"Nothing that could be left out brings the job within {limit}.{least}",)
    total = money(found.plan.estimate.budget.total, currency)
    if not found.left_out:
        return (f"Within {limit} already: the job comes to {total}. Nothing has to be left out.",)
    head = f"Within {limit}: the job comes to {total}."
    how = (
        "Every better choice was tried."
        if found.proven
        else "The best that was found; choices that hold one already too dear were not tried."
    )
    return (f"{head} {how}", *(_left(one, found.limit, currency) for one in found.left_out))


def not_alone(one: LeftOut) -> str:
    """With what a group that is no job by itself could be had."""
    if not one.needs:
        return "it cannot be had by itself"
    return f"it cannot be had without {' or '.join(one.needs)}, which {'is' if len(one.needs) == 1 else 'are'} left out too"


def why(one: LeftOut) -> str:
    """What stands in the way, and what would mend it."""
    if one.why is None:
        return ""
    # What else to write, such as another name, is no help: the name is right, and what it names is left out.
    mend = f"; to have it alone {one.why.write}" if one.why.write.startswith("write ") else ""
    return f" ({one.why.where}: {one.why.found}{mend})"


def _left(one: LeftOut, limit: Decimal, currency: str) -> str:
    points = f"{one.points} point{'' if one.points == 1 else 's'}"
    head = f"Left out: {one.group} ({points}, priority {one.priority})"
    if one.with_it is None:
        return f"{head}; {not_alone(one)}{why(one)}"
    return f"{head}; with it {money(one.with_it, currency)}, {money(one.with_it - limit, currency)} over the limit"
