"""What `studbay prices` does: an `Estimate`, files as bytes and wishes go in; lists, changes, comparison and files come out.

Nothing is opened or written here.
"""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from estimator.catalogue.model import Basis
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.accept_told import of_nothing
from estimator.returned.accepted import accepted, unreadable
from estimator.returned.asked import AskedList
from estimator.returned.cells import shown
from estimator.returned.changes import far_off, held_far_off, reckoned
from estimator.returned.compare import compare_returned
from estimator.returned.grouped import grouped
from estimator.returned.guard import FILE_BYTES
from estimator.returned.handed import side_by_side
from estimator.returned.joint import held_back, not_to_keep, remarks, twice, unnamed
from estimator.returned.keep import MERCHANTS, PRICES, days_out, merchants_file, misread, prices_file
from estimator.returned.kept import Kept, kept
from estimator.returned.model import Outcome, Returned, Told
from estimator.returned.prices import clashes
from estimator.returned.read import Given, Wishes, read_returned
from estimator.returned.terms import merchant_named, priced_on, still_to_come
from estimator.returned.typed import PLACE, typed_answers
from estimator.returned.whole import seller_of

STDIN, PASTED = "-", "pasted lines"
MOST_BYTES = FILE_BYTES + 1
"""So much of a file is enough to see that it is too large."""


@dataclass(frozen=True, slots=True)
class Options:
    """What stands beside the files: `wishes`, prices typed as PART@PACK=PRICE, lines (or parts) accepted, whether to write."""

    wishes: Wishes = field(default_factory=Wishes)
    typed: tuple[str, ...] = ()
    accept: tuple[str, ...] = ()
    write: bool = False


def parted(argument: str, exists: Callable[[str], bool]) -> tuple[str, str]:
    """Merchant and file of an argument NAME=FILE; the merchant is "" where it is a FILE alone, or a file of that whole name."""
    name, mark, file = argument.partition("=")
    if not mark or exists(argument) or not name.strip() or not file.strip():
        return "", argument
    return name.strip(), file.strip()


def run(
    estimate: Estimate,
    given: Sequence[Given],
    options: Options,
    beside: Mapping[str, bytes],
    issued: Iterable[AskedList] = (),
) -> Outcome:
    """Read the lists, hold them against the price list, compare them where there are several, and where asked say what to write.

    `beside` holds prices.csv and merchants.csv of the job's folder, where they are there; `issued` are lists as they were
    written, the last one last.
    """
    written_lists = tuple(issued)
    options = replace(options, wishes=replace(options.wishes, accept=options.accept))
    files = [read_returned(estimate, _renamed(one), options.wishes, written_lists) for one in given]
    returned = [*files, _typed(estimate, options)] if options.typed else files
    problems = [*_options(options, given), *(problem for of in returned for problem in of.problems)]
    told: list[Told] = []
    for of in returned:
        told += held_far_off(estimate, of)
        problems += [*clashes(of), *far_off(estimate, of, accepted(options.accept, of.merchant))]
    problems += twice(returned)
    if len(files) > 1:
        problems += unnamed(files, "compare")
    keep = kept(estimate, returned, days_out(beside.get(PRICES)), options.write)
    if options.write:
        gone = {of.row.merchant for of in keep.gone}
        problems += [*unnamed(returned, "keep"), *not_to_keep(returned, gone)]
    several = len({of.merchant for of in files}) > 1
    even, uneven = side_by_side(estimate, files)
    comparison = compare_returned(estimate, even) if several and not problems else None
    counts = options.write and not problems and (keep.rows or keep.gone)
    written = _files(returned, keep, beside) if counts else {}
    problems += misread(written)
    return Outcome(
        tuple(reckoned(estimate, of) for of in returned),
        comparison,
        (
            *told,
            *keep.told,
            *of_nothing(returned, options.accept),
            *(uneven if comparison is not None else ()),
            *remarks(estimate, returned),
            *(held_back(returned) if options.write else ()),
        ),
        grouped(problems),
        {} if problems else written,
        len(keep.rows) if written else 0,
        estimate.job.currency,
    )


def _renamed(given: Given) -> Given:
    return replace(given, file=PASTED) if given.file == STDIN else given


def _options(options: Options, given: Sequence[Given]) -> list[Problem]:
    problems = []
    if options.wishes.vat not in ("", "ex", "inc"):
        problems.append(
            Problem(Place("--vat"), "", f"{shown(options.wishes.vat)} says neither ex nor inc", "write ex or inc")
        )
    if not given and not options.typed:
        problems.append(
            Problem(Place("prices"), "", "there is no list to read", "name the file that came back, or give --price")
        )
    return [*problems, *unreadable(options.accept)]


def _typed(estimate: Estimate, options: Options) -> Returned:
    """Prices given with the command, as a list of their own."""
    wishes = options.wishes
    basis: Basis | None = "ex" if wishes.vat == "ex" else "inc" if wishes.vat == "inc" else None
    answers, problems = typed_answers(estimate, options.typed, basis)
    merchant, amiss = merchant_named(estimate, wishes.merchant)
    day, wrong = priced_on((), wishes.priced_on, PLACE.file)
    late = still_to_come(day, (), PLACE.file, estimate.job.priced_on, wishes.today)
    problems += [*(Problem(Place("--merchant"), "", *of) for of in amiss), *wrong, *late]
    seller, known = seller_of(estimate, merchant, answers[0].basis if answers else None)
    return Returned(merchant, "", PLACE.file, day, "", seller, known, tuple(answers), (), tuple(problems))


def _files(returned: Sequence[Returned], keep: Kept, beside: Mapping[str, bytes]) -> dict[str, bytes]:
    files = {PRICES: prices_file(beside.get(PRICES), keep.rows, keep.gone)}
    new = {of.merchant: of.seller for of in returned if of.seller is not None and not of.known}
    if new:
        files[MERCHANTS] = merchants_file(beside.get(MERCHANTS), tuple(new.values()))
    return files
