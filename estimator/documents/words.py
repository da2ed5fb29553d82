"""Words and forms of figures that every document shares: cautions, headings of findings, money."""

from collections.abc import Mapping
from decimal import ROUND_HALF_UP, Decimal
from types import MappingProxyType

from estimator.amounts import money as money
from estimator.amounts import symbol as symbol
from estimator.buying.model import Basket
from estimator.checks.model import Level
from estimator.job.model import Job

WHAT_IT_IS = "This is for budgeting and buying. It is no design and no certificate."

CAUTIONS: tuple[str, ...] = (
    WHAT_IT_IS,
    "A qualified electrician designs, inspects, tests and certifies the work. Agree who that is, and by which route, "
    "before anything is bought or covered.",
    "Local codes and the authority for the area decide what may be built, and who may do it.",
    "Before any work on what is or was connected: isolate, lock off, and prove dead.",
    "Findings are questions with numbers, for your electrician to answer. A job without findings is not thereby "
    "approved.",
    "Nothing is to be covered before your electrician has seen it.",
)
"""Every document says these, whole."""

PROVEN = (
    '"Proven" means that no cheaper packs, or no shorter cable, can exist for this job as written. '
    "It says nothing about the wiring being right."
)

LEVEL_TITLES: Mapping[Level, str] = MappingProxyType(
    {
        "stop": "Stop: settle before buying",
        "ask": "Ask your electrician",
        "note": "Note",
        "unchecked": "Not checked",
    }
)
"""Headings of findings, in the order in which they are told."""

MATERIALS_ONLY = "materials only: electrician, fees and hire not in"

STAGE_TITLES: Mapping[str, str] = MappingProxyType(
    {
        "supply": "Supply",
        "first-fix": "First fix",
        "second-fix": "Second fix",
    }
)

BASIS_TITLES: Mapping[str, str] = MappingProxyType({"ex": "ex VAT", "inc": "inc VAT"})

ANY = "any"
"""What a price list or a job says for every merchant."""
NOT_CHOSEN = "merchant not chosen yet"
SECTION_NUMBERS = "Sections keep their numbers from job to job; those without lines are left out."


def rate(amount: Decimal, currency: str = "GBP") -> str:
    """Money for one unit, half up: to the penny where that is all of it, else to at most four places: `£16.80`, `£0.0266`.

    So that the rate that is seen times the quantity gives the amount.
    """
    whole, _, part = f"{_rounded(amount, 4):,.4f}".partition(".")
    return f"{symbol(currency)}{whole}.{part.rstrip('0').ljust(2, '0')}"


def number(value: Decimal | int, places: int = 3) -> str:
    """A quantity with at most so many decimals, half up, and no idle noughts: `121.4`, `40`, `1,250`."""
    text = f"{_rounded(Decimal(value), places):,f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def metres(length_mm: Decimal | int, places: int = 3) -> str:
    """Whole or part millimetres as metres, without the unit: `31.9`."""
    return number(Decimal(length_mm).scaleb(-3), places)


def percent(ratio: Decimal) -> str:
    """A ratio as a percentage: `20 %`, `17.5 %`."""
    return f"{number(ratio * 100, 2)} %"


def stage(name: str) -> str:
    """The stage as a heading has it; a stage that is not known stays as it is."""
    return STAGE_TITLES.get(name, name)


def merchant_words(name: str) -> str:
    """The merchant as a reader is told: a price list that is no one's own names none."""
    return NOT_CHOSEN if name == ANY else name


def till_words(job: Job, basket: Basket) -> str:
    """Where a basket is paid: the merchant, and which trip where the job is bought in two."""
    trip = {1: ", first trip", 2: ", second trip"}[basket.trip] if job.buying.trips == 2 else ""
    return merchant_words(basket.merchant) + trip


def _rounded(value: Decimal, places: int) -> Decimal:
    return value.quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP)
