"""How sure a total is, in sentences: a `Sureness` goes in, lines of text come out. Money in whole pounds (or euros ...).

Figures are those of the comparison; here they are only rounded and put in words: chances as "one chance in twelve".
"""

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal
from fractions import Fraction

from estimator.compare.sure import Mover, Sureness
from estimator.documents import words

TITLE = "How sure"
LEFT_OUT = (
    "Each line is taken to vary by itself. What would push several up at once is not in these figures: a change of plan, "
    "a missed room, a poor year for prices.",
    "More or less cable counts at its price for each metre. Packs and drums come whole, so the true cost goes in steps; "
    "this smooths them, and is an estimate for that reason.",
    "Delivery, timber and sums given as a single amount are taken as they stand.",
)
"""What the reader has to know to trust the figures no further than they go."""
NOTHING = "No figure in this job has a range."

_NUMBERS = (
    *("nought", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"),
    *("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"),
)
_CHANCES = (
    *(Fraction(1, number) for number in (100, 50, 30, 20, 15, 12, *range(10, 1, -1))),
    *(
        Fraction(*pair)
        for pair in ((2, 5), (3, 5), (2, 3), (3, 4), (4, 5), (5, 6), (7, 8), (9, 10), (19, 20), (99, 100))
    ),
)


@dataclass(frozen=True, slots=True)
class MoverRow:
    """One line as printed: what it is, what it comes to, what it moves the total by, and why."""

    label: str
    comes_to: str
    less: str
    more: str
    why: str
    source: str


def sentences(sure: Sureness, currency: str = "GBP") -> tuple[str, ...]:
    """What there is to say, the total first; what is left out stands apart, in `LEFT_OUT`."""
    return tuple(_sentences(sure, currency))


def _sentences(sure: Sureness, currency: str) -> Iterator[str]:
    def told(amount: Decimal) -> str:
        return whole(amount, currency)

    if not sure.movers:
        yield f"With nothing set aside, the job comes to {told(sure.counted)} inc VAT. {NOTHING}"
    else:
        yield (
            f"With nothing set aside, half of all jobs like this come to less than {told(sure.likely)} inc VAT and half "
            "to more."
        )
        yield f"Nine jobs in ten come to less than {told(sure.high)}; one in ten comes to less than {told(sure.low)}."
        yield (
            f"The budget counts every line at its likely figure: {told(sure.counted)}. With every line at its low end it "
            f"would be {told(sure.least)}, with every line at its high end {told(sure.most)}."
        )
        yield f"Most of the doubt is in: {'; '.join(_with_ends(mover, currency) for mover in sure.main)}."
        yield from _set_aside(sure, currency)
        yield _worked_out(sure, currency)
    if sure.unstated:
        yield f"Not in rules.csv, so taken not to vary: {', '.join(sure.unstated)}."


def _set_aside(sure: Sureness, currency: str) -> Iterator[str]:
    if sure.suggested:
        yield (
            f"Set aside {whole(sure.suggested, currency)} ex VAT ({_percent(sure.suggested_share)} of the sum before it), "
            "and the total holds in four jobs of five."
        )
    else:
        yield "With nothing set aside, the total holds in four jobs of five."
    chance = odds(1 - sure.own_holds)
    if sure.own:
        own = f"{whole(sure.own, currency)} ex VAT ({_percent(sure.own_share)})"
        yield f"You have set aside {own}: {chance} that it is not enough."
    else:
        yield f"You have set nothing aside: {chance} that the total is more than the budget counts."


def _worked_out(sure: Sureness, currency: str) -> str:
    if sure.exact:
        return "Only one line varies, so these figures are exact for the range given."
    return (
        f"Worked out from {sure.draws:,} draws (start number {sure.seed}; the same number gives the same figures). "
        f"With endless draws each would come out within {whole(sure.error, currency, up=True)} of this, 19 times in 20."
    )


def mover_rows(sure: Sureness, currency: str = "GBP", most: int = 12) -> tuple[MoverRow, ...]:
    """The lines that move the total most, the largest first."""
    return tuple(
        MoverRow(
            label(mover),
            _ends(mover, currency),
            whole(mover.low, currency),
            f"+{whole(mover.high, currency)}" if mover.high else whole(mover.high, currency),
            mover.why,
            mover.source,
        )
        for mover in sure.movers[:most]
    )


def label(mover: Mover) -> str:
    """What the line is called beside others."""
    if mover.kind == "prices":
        return f"prices, {words.NOT_CHOSEN}" if mover.name == words.ANY else f"prices at {mover.name}"
    return f"cable of {mover.name}" if mover.kind == "cable" else mover.name


def _percent(share: Decimal) -> str:
    """A share of a sum to one decimal."""
    return f"{words.number(share * 100, 1)} %"


def _with_ends(mover: Mover, currency: str) -> str:
    return f"{label(mover)} ({_ends(mover, currency)})"


def _ends(mover: Mover, currency: str) -> str:
    return f"{whole(mover.comes_to.low, currency)} to {whole(mover.comes_to.high, currency)}"


def whole(amount: Decimal, currency: str = "GBP", up: bool = False) -> str:
    """An amount in whole pounds, half up (or `up` to the next): `£1,235`, `-£60`."""
    rounded = amount.quantize(Decimal(1), rounding=ROUND_CEILING if up else ROUND_HALF_UP)
    minus = "-" if rounded < 0 else ""
    return f"{minus}{words.symbol(currency)}{abs(rounded):,f}"


def odds(chance: Decimal) -> str:
    """A chance (0 to 1) as people say it, the nearest of a few: `one chance in twelve`, `three chances in five`.

    Of two equally near, the smaller.
    """
    exact = Fraction(chance)
    if exact < _CHANCES[0]:
        return "less than one chance in a hundred"
    if exact > _CHANCES[-1]:
        return "more than 99 chances in a hundred"
    nearest = min(_CHANCES, key=lambda one: (abs(one - exact), one))
    few = "one chance" if nearest.numerator == 1 else f"{_number(nearest.numerator)} chances"
    return f"about {few} in {_number(nearest.denominator)}"


def _number(number: int) -> str:
    """In words up to twenty, and for a hundred."""
    return _NUMBERS[number] if number < len(_NUMBERS) else "a hundred" if number == 100 else str(number)
