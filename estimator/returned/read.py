"""One returned list: a file's bytes and an `Estimate` go in, a `Returned` with every answer and every problem comes out."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from estimator.catalogue.model import Basis, Merchant
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.accepted import accepted
from estimator.returned.answers import Terms, answer_row, answer_said, bare
from estimator.returned.asked import AskedLine, AskedList, asked_lists
from estimator.returned.cells import Sheet, as_text, plain, shown
from estimator.returned.guard import looks_packed
from estimator.returned.head import Labelled, head_of
from estimator.returned.headings import Headed, headed, lacking
from estimator.returned.lengths import by_length
from estimator.returned.match import HAND_OVER, Found, differences, numbered, problems_of
from estimator.returned.match import choose as choose_list
from estimator.returned.model import Answer, Returned, Told
from estimator.returned.named import named_list
from estimator.returned.pasted import EXAMPLE, Typed, said_to, typed_lines, unknown
from estimator.returned.remarks import is_extra, of_columns, of_extras, of_formulas, of_head
from estimator.returned.table import MARKS, read_table, read_text
from estimator.returned.terms import basis_by_sheet, good_until, merchant_of, priced_on, still_to_come
from estimator.returned.workbook import read_workbook
from estimator.returned.wrong_file import by_sheets, by_start, by_text

NO_HEADINGS = "keep the row of headings of our list, with Line, What and Price of one pack"

UNFILLED = (
    "give the list that came back, not the one that went out; if the prices stand in a column of another name, call it "
    '"Price of one pack"'
)


@dataclass(frozen=True, slots=True)
class Given:
    """A file as the caller found it: its name, its bytes, and the merchant that the user named with it ("" for none)."""

    file: str
    data: bytes
    merchant: str = ""


@dataclass(frozen=True, slots=True)
class Wishes:
    """What the user says beside the files; empty where not given.

    `merchant`: whose prices they are; `of`: whose list was answered (to-be-priced: one that any merchant may get);
    `vat`: "ex" or "inc"; `priced_on`: the day, year first; `accept`: lines whose notes or prices are right as they stand;
    `today`: the day it is, for telling a day that is still to come (None: not looked at).
    """

    merchant: str = ""
    of: str = ""
    vat: str = ""
    priced_on: str = ""
    accept: tuple[str, ...] = ()
    today: date | None = None


@dataclass(frozen=True, slots=True)
class _Read:
    """Lines of a file matched with ours, and all that its head says."""

    asked: AskedList
    answers: tuple[Answer, ...]
    head: tuple[tuple[str, Labelled], ...]
    told: tuple[Told, ...]
    problems: tuple[Problem, ...]


def read_returned(estimate: Estimate, given: Given, wishes: Wishes) -> Returned:
    """The list in a file: a workbook, a table of text, or lines that were typed."""
    lists = asked_lists(estimate)
    of = named_list(estimate, lists, wishes.of, given.file)
    if isinstance(of, Problem):
        return _nothing(given, (), (of,))
    wrong = by_start(given.data)
    if wrong is not None:
        return _nothing(given, (), (Problem(Place(given.file), "", *wrong),))
    if looks_packed(given.data) or given.file.lower().endswith((".xlsx", ".xlsm")):
        sheets, told, problems = read_workbook(given.file, given.data)
        return _nothing(given, told, problems) if problems else _of_sheets(estimate, given, of, wishes, sheets, told)
    return _of_text(estimate, given, of, wishes)


def _of_text(estimate: Estimate, given: Given, of: Sequence[AskedList], wishes: Wishes) -> Returned:
    """A table of text, or lines that were typed."""
    text, told, problems = read_text(given.file, given.data)
    wrong = None if problems else by_text(given.file, text)
    if problems or wrong is not None:
        return _nothing(given, told, problems or (Problem(Place(given.file), "", *(wrong or ("", ""))),))
    tables = [read_table(given.file, text, mark) for mark, _ in MARKS]
    sheets = [table for table in tables if not isinstance(table, Problem)]
    with_heads = [found for sheet in sheets if (found := headed(sheet)) is not None]
    if with_heads:
        best = max(with_heads, key=lambda sheet: len(sheet.headings))
        return _of_sheets(estimate, given, of, wishes, [best.sheet], told)
    if given.file.lower().endswith((".csv", ".tsv")):
        broken = next((table for table in tables if isinstance(table, Problem)), None)
        return _nothing(given, told, (broken or _no_headings(given, sheets),))
    return _of_lines(estimate, given, of, wishes, text, told)


def _no_headings(given: Given, sheets: Sequence[Sheet]) -> Problem:
    """The problem of a file without our headings: which one is missing, where a row has all others."""
    near = next((of for sheet in sheets if (of := lacking(sheet)) is not None), None)
    if near is None:
        return Problem(Place(given.file), "", "no row of headings was found", NO_HEADINGS)
    row, missing, odd = near
    _, _, name = missing.partition('"')
    column = missing.partition(' "')[0]
    found = f"no column {column} was found{f'; not understood: {odd}' if odd else ''}"
    return Problem(row.place, "", found, f'call it "{name.rstrip(chr(34))}"')


def _nothing(given: Given, told: tuple[Told, ...], problems: tuple[Problem, ...]) -> Returned:
    return Returned(given.merchant, "", given.file, None, "", None, False, (), told, problems)


def _of_sheets(
    estimate: Estimate,
    given: Given,
    lists: Sequence[AskedList],
    wishes: Wishes,
    sheets: Sequence[Sheet],
    told: tuple[Told, ...],
) -> Returned:
    wrong_file = by_sheets(sheets)
    if wrong_file is not None:
        return _nothing(given, told, (Problem(Place(given.file), "", *wrong_file),))
    known = [found for sheet in sheets if (found := headed(sheet)) is not None]
    if not known:
        return _nothing(given, told, (_no_headings(given, sheets),))
    head = tuple((sheet.sheet.name, labelled) for sheet in known for labelled in head_of(sheet))
    title = estimate.job.title
    found_rows = [found for sheet in known for found in numbered(sheet)]
    to = next((str(of.value) for _, of in head if of.label == "to"), given.merchant or wishes.merchant)
    asked = choose_list(lists, found_rows, to)
    numbers = frozenset(line.number for line in asked.lines)
    found_rows = [found for found in found_rows if not is_extra(found, numbers)]
    other = _other_job(head, title) or _no_line(given, found_rows, asked, title)
    if other is not None:
        return _nothing(given, told, (other,))
    terms, wrong = _terms(estimate, given, wishes, head, known)
    read = _rows(found_rows, asked, terms, title)
    more = (*told, *read.told, *of_formulas(known), *of_columns(known), *of_extras(known, numbers))
    return _whole(estimate, given, wishes, replace(read, head=head, told=more, problems=(*wrong, *read.problems)))


def _other_job(head: tuple[tuple[str, Labelled], ...], title: str) -> Problem | None:
    """The problem of a list that names a job, and never this one."""
    jobs = [of for _, of in head if of.label == "job"]
    if not jobs or any(plain(title) in (plain(of.cell.text), plain(as_text(of.value))) for of in jobs):
        return None
    found = f"this list is for the job {shown(as_text(jobs[0].value))}, and yours is {shown(title)}"
    return Problem(jobs[0].cell.place, "", found, "give the list of this job, or name the other job")


def _no_line(given: Given, found_rows: Sequence[Found], asked: AskedList, title: str) -> Problem | None:
    """The problem of a list without lines, or with none of ours."""
    if not found_rows:
        return Problem(Place(given.file), "", "no row has the number of a line", NO_HEADINGS)
    if any((line := asked.line(one.number)) is not None and not differences(one, line) for one in found_rows):
        return None
    count = f"none of its {len(found_rows)} lines" if len(found_rows) > 1 else "its one line"
    agrees = "is" if len(found_rows) > 1 else "is not"
    return Problem(Place(given.file), "", f"{count} {agrees} on your lists for {title} as they are now", HAND_OVER)


def _rows(found_rows: Sequence[Found], asked: AskedList, terms: Terms, title: str) -> _Read:
    """Every row that answers a line of ours; where some do not, all that differs is told and nothing is taken from those."""
    problems = problems_of(found_rows, asked, title)
    told: list[Told] = []
    taken: dict[int, Answer] = {}
    for found in found_rows:
        line = asked.line(found.number)
        if line is None or problems_of([found], asked, title):
            continue
        answer, wrong, said = answer_row(found, line, terms)
        again = taken.get(found.number)
        if again is not None and (again.price, again.status) != (answer.price, answer.status):
            where = f"stands at {again.place} too, with another answer"
            problems.append(Problem(answer.place, f"line {found.number}", where, "leave one of them"))
            continue
        taken[found.number] = answer
        problems += wrong
        told += said
    return _Read(asked, tuple(taken[number] for number in sorted(taken)), (), tuple(told), tuple(problems))


def _of_lines(
    estimate: Estimate, given: Given, lists: Sequence[AskedList], wishes: Wishes, text: str, told: tuple[Told, ...]
) -> Returned:
    pasted = typed_lines(given.file, text)
    typed, labelled, wrong = pasted.typed, pasted.head, pasted.wrong
    asked = _list_of_typed(given, lists, wishes, typed)
    told = (*told, *pasted.told)
    if not typed:
        return _nothing(given, told, (*wrong, Problem(Place(given.file), "", "there are no prices in it", EXAMPLE)))
    if isinstance(asked, Problem):
        return _nothing(given, told, (*wrong, asked))
    head = tuple(("", of) for of in labelled)
    terms, amiss = _terms(estimate, given, wishes, head, ())
    answers: dict[int, Answer] = {}
    problems, more = [*amiss, *wrong], list(told)
    for one in typed:
        line = asked.line(one.number)
        if line is None:
            problems += [of for of in (unknown(one, asked),) if of is not None]
        elif one.number in answers:
            where = f"stands at {answers[one.number].place} already"
            problems.append(Problem(one.place, f"line {one.number}", where, "leave one of them"))
        else:
            answers[one.number], amiss, said = _typed_answer(one, line, terms)
            problems += amiss
            more += said
    in_order = tuple(answers[number] for number in sorted(answers))
    return _whole(estimate, given, wishes, _Read(asked, in_order, head, tuple(more), tuple(problems)))


def _typed_answer(one: Typed, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    said = said_to(one, line, terms.currency)
    if isinstance(said, Problem):
        return bare(line, "unreadable", one.place), [said], []
    return answer_said(replace(said, basis=terms.basis.get("")), line, terms)


def _list_of_typed(
    given: Given, lists: Sequence[AskedList], wishes: Wishes, typed: Sequence[Typed]
) -> AskedList | Problem:
    """Numbers alone do not tell whose list they are of: that of the merchant, or any if all say the same to these numbers."""
    merchant = plain(given.merchant or wishes.merchant)
    own = [of for of in lists if merchant and plain(of.merchant) == merchant]
    if own:
        return own[0]
    meant = {tuple((line.part, line.pack, line.packs) if line else None for line in _lines(of, typed)) for of in lists}
    if len(meant) == 1:
        return lists[0]
    names = ", ".join(of.name for of in lists)
    found = f"line numbers alone do not tell whose list this is; you have: {names}"
    return Problem(Place(given.file), "", found, "say which with --list NAME")


def _lines(of: AskedList, typed: Sequence[Typed]) -> list[AskedLine | None]:
    return [of.line(one.number) for one in typed]


def _terms(
    estimate: Estimate, given: Given, wishes: Wishes, head: tuple[tuple[str, Labelled], ...], sheets: Sequence[Headed]
) -> tuple[Terms, list[Problem]]:
    names = [sheet.sheet.name for sheet in sheets] or [""]
    said = [(name, of) for name, of in head if of.label == "vat"]
    basis, problems = basis_by_sheet(names, said, sheets, wishes.vat)
    rates = {code: part.vat_rate for code, part in estimate.catalogue.parts.items()}
    return Terms(
        estimate.job.currency, basis, rates, accepted(wishes.accept, given.merchant or wishes.merchant)
    ), problems


def _whole(estimate: Estimate, given: Given, wishes: Wishes, read: _Read) -> Returned:
    """The list with the lines that were taken off, its merchant, and what belongs to it as a whole."""
    answers, lengths = by_length(read.answers, read.asked)
    problems = [*read.problems]
    there = {answer.number for answer in answers}
    for line in read.asked.lines:
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
    told = (*read.told, *lengths, *of_head(labelled, estimate.job.priced_on))
    in_order = tuple(sorted(answers, key=lambda answer: answer.number))
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
    )


def seller_of(estimate: Estimate, merchant: str, basis: Basis | None) -> tuple[Merchant | None, bool]:
    """The row of merchants.csv; a new one has no delivery yet, on the basis of its prices."""
    if not merchant:
        return None, False
    if merchant in estimate.catalogue.merchants:
        return estimate.catalogue.merchants[merchant], True
    job = estimate.job
    return Merchant(merchant, Decimal(0), None, None, job.currency, basis or "ex", job.allowances.vat), False
