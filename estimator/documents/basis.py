"""What a sum rests on and what it leaves out, in sentences: an `Estimate` goes in, lines of text come out."""

from estimator.documents.words import ANY, MATERIALS_ONLY, PROVEN, percent
from estimator.result import Estimate


def total_heading(estimate: Estimate) -> str:
    """How the total is headed: with a warning where it holds no more than materials."""
    return f"Total inc VAT ({MATERIALS_ONLY})" if estimate.budget.materials_only else "Total inc VAT"


def basis(estimate: Estimate) -> tuple[str, ...]:
    """What the figures rest on: dates, who measured, allowances, rounding, and what "proven" means here."""
    job = estimate.job
    allowed = job.allowances
    trip = "trip, " if job.buying.trips == 2 else ""
    lines = [
        f"Priced on {job.priced_on.isoformat()}, in {job.currency}. {oldest_price(estimate)}",
        "Quantities are measured from the plan in the job file, as fixed; waste is told apart and counted once.",
        f"Cable is cut with {percent(allowed.cable_waste)} and {allowed.leg_extra_mm} mm to spare on every leg, rounded up "
        "to 0.1 m.",
        f"Contingency is {percent(allowed.contingency)} of materials, delivery, labour and sums.",
        "The rate of a part is what its whole packs cost ex VAT, divided by what is in them; what the job does not use is "
        "told as left over.",
        f"VAT is worked once for each merchant, {trip}price basis and rate, half a penny up. A till that rounds every line "
        "may differ by some pence; the merchant's invoice decides.",
    ]
    lines.append(_purchase(estimate))
    return tuple(lines)


def oldest_price(estimate: Estimate) -> str:
    """The oldest price that the order rests on, in a sentence."""
    oldest = estimate.budget.oldest_price
    if oldest is None:
        return "Nothing is bought, so no price is used."
    date, part = oldest
    described = estimate.catalogue.parts[part].description if part in estimate.catalogue.parts else part
    return f"The oldest price in it is of {date} ({described})."


def _purchase(estimate: Estimate) -> str:
    counts = ""
    if ANY in estimate.job.buying.merchants:
        counts = " A price that no merchant has given counts only where none has named one."
    if estimate.order.proven:
        return f"The order is proven the cheapest at the prices that count, delivery included.{counts} {PROVEN}"
    return (
        "The order is the cheapest that was found, delivery included; that nothing cheaper exists is not proven."
        f"{counts} That says nothing about the wiring being right."
    )


def invented_prices(estimate: Estimate) -> str:
    """How many prices of the order are nobody's offer, in a sentence; empty where none is."""
    invented, lines = estimate.budget.invented
    if not invented:
        return ""
    prices = "price" if lines == 1 else "prices"
    are = "is invented or a sample" if invented == 1 else "are invented or samples"
    return f"{invented} of {lines} {prices} in this order {are}: put in your own."


def exclusions(estimate: Estimate) -> tuple[str, ...]:
    """What is not in the total, by what the job gives and leaves out."""
    budget = estimate.budget
    kinds = {line.sum.kind for line in budget.sums}
    told = []
    if not budget.labour_priced:
        told.append("Labour: hours are told, but no rate is given, so none is priced.")
    if "quote" not in kinds:
        told.append("The electrician's charge to design, inspect, test and certify.")
    if "fee" not in kinds:
        told.append("Fees of the authority for the area, and of the network operator.")
    if "hire" not in kinds:
        told.append("Hire of machines and tools.")
    told.append("Tools you own; making good, decoration and finishes; anything that the job file does not name.")
    if any(board.outside_job for board in estimate.job.boards):
        told.append("Devices in a board outside the job: they have to suit that board.")
    return tuple(told)
