"""Lines that were typed or pasted: a text and an `Estimate` go in, a `Returned` with every answer and problem comes out."""

from collections.abc import Sequence
from dataclasses import replace

from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.answers import answer_said, bare
from estimator.returned.asked import AskedLine, AskedList
from estimator.returned.cells import plain
from estimator.returned.given import Given, Wishes
from estimator.returned.handed import Lists, by_mark, cannot_be_kept, in_doubt, latest
from estimator.returned.model import Answer, Returned, Told
from estimator.returned.pasted import EXAMPLE, Typed, as_typed, said_to, typed_lines, unknown
from estimator.returned.said import Terms
from estimator.returned.whole import Read, nothing_read, terms_of, whole_list, whose_prices


def of_lines(
    estimate: Estimate, given: Given, of: Lists, wishes: Wishes, text: str, told: tuple[Told, ...]
) -> Returned:
    """The answers of typed lines, of the list that their numbers are of."""
    pasted = typed_lines(given.file, text)
    typed, labelled, wrong = pasted.typed, pasted.head, pasted.wrong
    lists, unsure, two = by_mark(of.meant, of.every, labelled, given.file)
    asked = two or _list_of_typed(given, latest(lists), wishes, typed)
    told = (*told, *pasted.told)
    if not typed:
        return nothing_read(given, told, (*wrong, Problem(Place(given.file), "", "there are no prices in it", EXAMPLE)))
    if isinstance(asked, Problem):
        return nothing_read(given, told, (*wrong, asked))
    head = tuple(("", of) for of in labelled)
    terms, amiss = terms_of(estimate, whose_prices(given, wishes, asked), wishes, head, ())
    answers: dict[int, Answer] = {}
    unsure = (*unsure, *in_doubt(lists, asked, (one.number for one in typed), (), given.file))
    problems, more = [*amiss, *wrong], [*told, *unsure]
    for one in typed:
        line = asked.line(one.number)
        gone = cannot_be_kept(estimate, line) if line is not None else ""
        if line is None:
            problems += [of for of in (unknown(one, asked),) if of is not None]
        elif gone:
            more.append(Told(one.place, f"line {one.number}: {gone}"))
        elif one.number in answers:
            where = f"stands at {answers[one.number].place} already"
            problems.append(Problem(one.place, f"line {one.number}", where, "leave one of them"))
        else:
            answers[one.number], amiss, said = _typed_answer(one, line, terms)
            problems += amiss
            more += said
    in_order = tuple(answers[number] for number in sorted(answers))
    return whole_list(estimate, given, wishes, Read(asked, in_order, head, tuple(more), tuple(problems)))


def _typed_answer(one: Typed, line: AskedLine, terms: Terms) -> tuple[Answer, list[Problem], list[Told]]:
    said = said_to(one, line, terms.currency)
    if isinstance(said, Problem):
        return bare(line, "unreadable", one.place), [as_typed(said, one)], []
    answer, problems, told = answer_said(replace(said, basis=terms.basis.get("")), line, terms)
    return answer, [as_typed(problem, one) for problem in problems], told


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
    names = ", ".join(of.called for of in lists)
    found = f"line numbers alone do not tell whose list this is; you have: {names}"
    return Problem(Place(given.file), "", found, "say which with --list NAME")


def _lines(of: AskedList, typed: Sequence[Typed]) -> list[AskedLine | None]:
    return [of.line(one.number) for one in typed]
