"""A list as a whole: answers line by line and what its head says go in, a `Returned` with all that is wrong comes out."""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from estimator.catalogue.model import Basis, Merchant
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.accepted import accepted
from estimator.returned.answers import bare
from estimator.returned.asked import AskedList
from estimator.returned.given import Given, Wishes
from estimator.returned.handed import cannot_be_kept, since
from estimator.returned.head import Labelled
from estimator.returned.headings import Headed
from estimator.returned.lengths import by_length
from estimator.returned.model import Answer, Returned, Told
from estimator.returned.remarks import of_head
from estimator.returned.said import Terms
from estimator.returned.terms import basis_by_sheet, good_until, merchant_of, priced_on, still_to_come

UNFILLED = (
    "give the list that came back, not the one that went out; if the prices stand in a column of another name, call it "
    '"Price of one pack"'
)


@dataclass(frozen=True, slots=True)
class Read:
    """Lines of a file matched with ours, and all that its head says."""

    asked: AskedList
    answers: tuple[Answer, ...]
    head: tuple[tuple[str, Labelled], ...]
    told: tuple[Told, ...]
    problems: tuple[Problem, ...]


def nothing_read(given: Given, told: tuple[Told, ...], problems: tuple[Problem, ...]) -> Returned:
    """A list of which nothing could be taken."""
    return Returned(given.merchant, "", given.file, None, "", None, False, (), told, problems)


def terms_of(
    estimate: Estimate, whose: str, wishes: Wishes, head: tuple[tuple[str, Labelled], ...], sheets: Sequence[Headed]
) -> tuple[Terms, list[Problem]]:
    """What holds for all lines: currency, ex or inc by sheet, VAT rates, and the lines that the user accepts."""
    names = [sheet.sheet.name for sheet in sheets] or [""]
    said = [(name, of) for name, of in head if of.label == "vat"]
    basis, problems = basis_by_sheet(names, said, sheets, wishes.vat)
    rates = {code: part.vat_rate for code, part in estimate.catalogue.parts.items()}
    return Terms(estimate.job.currency, basis, rates, accepted(wishes.accept, whose)), problems


def whose_prices(given: Given, wishes: Wishes, asked: AskedList) -> str:
    """The merchant's name: as the user says, else that of the list; "" where it is nobody's."""
    return given.merchant or wishes.merchant or asked.merchant


def whole_list(estimate: Estimate, given: Given, wishes: Wishes, read: Read) -> Returned:
    """The list with the lines that were taken off, its merchant, and what belongs to it as a whole."""
    answers, lengths = by_length(read.answers, read.asked)
    problems = [*read.problems]
    there = {answer.number for answer in answers}
    for line in read.asked.lines:
        if cannot_be_kept(estimate, line):
            continue
        if line.number not in there and not any(of.where == f"line {line.number}" for of in problems):
            answers.append(bare(line, "not-on-it", Place(given.file)))
    papers = {line.paper for line in read.asked.lines if line.number in there}
    # Trips, and kinds of counter on a list that any merchant may get, have papers of their own: one need not be here.
    off = {line.number for line in read.asked.lines if line.paper not in papers}
    answers = [answer for answer in answers if answer.number not in off]
    unsaid = [answer for answer in answers if answer.status in ("priced", "held") and answer.basis is None]
    if unsaid and not any(of.where == "VAT" for of in problems):
        found = "nothing says whether these prices are ex or inc VAT"
        problems.append(
            Problem(Place(given.file), "VAT", found, 'fill in "Prices ex or inc VAT", or give --vat ex or --vat inc')
        )
    if not problems and all(answer.status in ("no-price", "not-on-it") and not answer.said for answer in answers):
        problems.append(Problem(Place(given.file), "", "no line has a price, or any other answer", UNFILLED))
    merchant, amiss = merchant_of(estimate, given.merchant or wishes.merchant, read.asked)
    problems += [Problem(Place(given.file), "", *of) for of in amiss]
    labelled = [of for _, of in read.head]
    day, wrong = priced_on(labelled, wishes.priced_on, given.file)
    problems += [*wrong, *still_to_come(day, labelled, given.file, estimate.job.priced_on, wishes.today)]
    main = next((answer.basis for answer in answers if answer.basis is not None), None)
    seller, known = seller_of(estimate, merchant, main)
    in_order = tuple(sorted(answers, key=lambda answer: answer.number))
    changed = since(estimate, read.asked, in_order, given.file)
    told = (*read.told, *lengths, *changed, *of_head(labelled, estimate.job.priced_on))
    return Returned(
        merchant,
        read.asked.merchant,
        given.file,
        day,
        good_until(labelled),
        seller,
        known,
        in_order,
        told,
        tuple(dict.fromkeys(problems)),
        read.asked.mark,
    )


def seller_of(estimate: Estimate, merchant: str, basis: Basis | None) -> tuple[Merchant | None, bool]:
    """The row of merchants.csv; a new one has no delivery yet, on the basis of its prices."""
    if not merchant:
        return None, False
    if merchant in estimate.catalogue.merchants:
        return estimate.catalogue.merchants[merchant], True
    job = estimate.job
    vat = job.allowances.vat
    return Merchant(merchant, Decimal(0), None, None, job.currency, basis or "ex", vat, delivery_known=False), False
