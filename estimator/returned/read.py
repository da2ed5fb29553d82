"""One returned list: a file's bytes and an `Estimate` go in, a `Returned` with every answer and every problem comes out."""

from collections.abc import Iterable, Sequence
from dataclasses import replace

from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.answers import answer_row, bare
from estimator.returned.asked import AskedList
from estimator.returned.cells import Sheet, as_text, plain, shown
from estimator.returned.commas import with_points
from estimator.returned.given import Given as Given
from estimator.returned.given import Wishes as Wishes
from estimator.returned.guard import looks_packed
from estimator.returned.handed import NOT_ON_RECORD, Lists, all_lists, by_mark, cannot_be_kept, in_doubt
from estimator.returned.head import Labelled, head_of
from estimator.returned.headings import headed, lacking
from estimator.returned.match import AS_HANDED, HAND_OVER, Found, differences, numbered, problems_of
from estimator.returned.match import choose as choose_list
from estimator.returned.model import Answer, Returned, Told
from estimator.returned.named import named_list
from estimator.returned.read_lines import of_lines
from estimator.returned.remarks import is_extra, of_columns, of_extras, of_formulas
from estimator.returned.said import Terms
from estimator.returned.table import MARKS, read_table, read_text
from estimator.returned.whole import Read, nothing_read, terms_of, whole_list, whose_prices
from estimator.returned.workbook import read_workbook
from estimator.returned.wrong_file import by_sheets, by_start, by_text

NO_HEADINGS = "keep the row of headings of our list, with Line, What and Price of one pack"


def read_returned(estimate: Estimate, given: Given, wishes: Wishes, issued: Iterable[AskedList] = ()) -> Returned:
    """The list in a file: a workbook, a table of text, or lines that were typed.

    `issued` are lists as they were written, the last one last; it is held against that which it is one of.
    """
    lists = all_lists(estimate, issued)
    of = named_list(estimate, lists, wishes.of, given.file)
    if isinstance(of, Problem):
        return nothing_read(given, (), (of,))
    wrong = by_start(given.data)
    if wrong is not None:
        return nothing_read(given, (), (Problem(Place(given.file), "", *wrong),))
    if looks_packed(given.data) or given.file.lower().endswith((".xlsx", ".xlsm")):
        sheets, told, problems = read_workbook(given.file, given.data)
        return (
            nothing_read(given, told, problems)
            if problems
            else _of_sheets(estimate, given, Lists(of, lists), wishes, sheets, told)
        )
    return _of_text(estimate, given, Lists(of, lists), wishes)


def _of_text(estimate: Estimate, given: Given, of: Lists, wishes: Wishes) -> Returned:
    """A table of text, or lines that were typed."""
    text, told, problems = read_text(given.file, given.data)
    wrong = None if problems else by_text(given.file, text)
    if problems or wrong is not None:
        return nothing_read(given, told, problems or (Problem(Place(given.file), "", *(wrong or ("", ""))),))
    tables = [read_table(given.file, text, mark) for mark, _ in MARKS]
    sheets = [table for table in tables if not isinstance(table, Problem)]
    with_heads = [found for sheet in sheets if (found := headed(sheet)) is not None]
    if with_heads:
        best = max(with_heads, key=lambda sheet: len(sheet.headings))
        return _of_sheets(estimate, given, of, wishes, [best.sheet], told)
    if given.file.lower().endswith((".csv", ".tsv")):
        broken = next((table for table in tables if isinstance(table, Problem)), None)
        return nothing_read(given, told, (broken or _no_headings(given, sheets),))
    return of_lines(estimate, given, of, wishes, text, told)


def _no_headings(given: Given, sheets: Sequence[Sheet]) -> Problem:
    """The problem of a file without our headings: which one is missing, where a row has all others."""
    near = next((of for sheet in sheets if (of := lacking(sheet)) is not None), None)
    if near is None:
        return Problem(Place(given.file), "", "no row of headings was found", NO_HEADINGS)
    return near


def _of_sheets(
    estimate: Estimate,
    given: Given,
    of: Lists,
    wishes: Wishes,
    sheets: Sequence[Sheet],
    told: tuple[Told, ...],
) -> Returned:
    wrong_file = by_sheets(sheets)
    if wrong_file is not None:
        return nothing_read(given, told, (Problem(Place(given.file), "", *wrong_file),))
    known = [found for sheet in sheets if (found := headed(sheet)) is not None]
    if not known:
        return nothing_read(given, told, (_no_headings(given, sheets),))
    known, commas = with_points(known)
    told = (*told, *commas)
    head = tuple((sheet.sheet.name, labelled) for sheet in known for labelled in head_of(sheet))
    title = estimate.job.title
    found_rows = [found for sheet in known for found in numbered(sheet)]
    to = next((str(of.value) for _, of in head if of.label == "to"), given.merchant or wishes.merchant)
    lists, unsure, two = by_mark(of.meant, of.every, (one for _, one in head), given.file)
    asked = choose_list(lists, found_rows, to)
    numbers = frozenset(line.number for line in asked.lines)
    found_rows = [found for found in found_rows if not is_extra(found, numbers)]
    other = _other_job(head, title) or two or _no_line(given, found_rows, asked, title)
    if not asked.handed and (other or problems_of(found_rows, asked, title)):
        unsure = unsure or (Told(Place(given.file), NOT_ON_RECORD),)
    if other is not None:
        return nothing_read(given, (*told, *unsure), (other,))
    terms, wrong = terms_of(estimate, whose_prices(given, wishes, asked), wishes, head, known)
    read = _rows(estimate, found_rows, asked, terms, title)
    unsure = (*unsure, *in_doubt(lists, asked, (one.number for one in found_rows), found_rows, given.file))
    more = (*told, *unsure, *read.told, *of_formulas(known), *of_columns(known), *of_extras(known, numbers))
    return whole_list(estimate, given, wishes, replace(read, head=head, told=more, problems=(*wrong, *read.problems)))


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
    on = f"on the list handed out ({asked.mark})" if asked.handed else f"on your lists for {title} as they are now"
    return Problem(Place(given.file), "", f"{count} {agrees} {on}", AS_HANDED if asked.handed else HAND_OVER)


def _rows(estimate: Estimate, found_rows: Sequence[Found], asked: AskedList, terms: Terms, title: str) -> Read:
    """Every row that answers a line of ours; where some do not, all that differs is told and nothing is taken from those."""
    problems = problems_of(found_rows, asked, title)
    told: list[Told] = []
    taken: dict[int, Answer] = {}
    for found in found_rows:
        line = asked.line(found.number)
        if line is None:
            continue
        if problems_of([found], asked, title):
            taken.setdefault(found.number, bare(line, "changed", found.row.place))
            continue
        gone = cannot_be_kept(estimate, line)
        if gone:
            told.append(Told(found.row.place, f"line {found.number}: {gone}"))
            continue
        answer, wrong, said = answer_row(found, line, terms)
        again = taken.get(found.number)
        if (
            again is not None
            and again.status != "changed"
            and (again.price, again.status) != (answer.price, answer.status)
        ):
            where = f"stands at {again.place} too, with another answer"
            problems.append(Problem(answer.place, f"line {found.number}", where, "leave one of them"))
            continue
        taken[found.number] = answer
        problems += wrong
        told += said
    return Read(asked, tuple(taken[number] for number in sorted(taken)), (), tuple(told), tuple(problems))
