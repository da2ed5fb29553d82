"""Which list of ours a user names: a name goes in, the lists that may be meant come out, or what would do."""

from collections.abc import Sequence
from dataclasses import replace

from estimator.documents.list_asked import plain_mark
from estimator.documents.list_papers import Paper, papers
from estimator.documents.words import ANY
from estimator.problems import Place, Problem
from estimator.result import Estimate
from estimator.returned.asked import OPEN_LIST, AskedList
from estimator.returned.cells import plain, shown

STARTS = (f"{OPEN_LIST}-", "shopping-list-")
"""How the files of lists begin."""
ENDINGS = (".xlsx", ".csv", ".txt")


def named_list(estimate: Estimate, lists: Sequence[AskedList], name: str, file: str) -> Sequence[AskedList] | Problem:
    """The list of a merchant, or that any may get, or with a mark; of one counter or trip where its file is named.

    All where `name` is "".
    """
    if not name:
        return lists
    wanted = _bare(name)
    whole = (
        [of for of in lists if wanted in (plain(of.name), plain(of.called))]
        or [of for of in lists if plain(of.merchant or ANY) == wanted]
        or [of for of in lists if of.mark == plain_mark(name)][:1]
    )
    if whole:
        return whole
    found = [of for blank in (False, True) for of in _of_papers(estimate, lists, wanted, blank)]
    if found:
        return found
    return Problem(
        Place(file), "--list", f"you have no list {shown(name)}", f"you have: {', '.join(names(estimate, lists))}"
    )


def _bare(name: str) -> str:
    low = name.strip().replace("\\", "/").rsplit("/", 1)[-1]
    ending = next((of for of in ENDINGS if low.casefold().endswith(of)), "")
    return plain(low[: len(low) - len(ending)])


def names(estimate: Estimate, lists: Sequence[AskedList]) -> list[str]:
    """All names that would do, in order: merchants, all that is to be priced, then its lists one by one."""
    blank = papers(estimate, blank=True)
    own = papers(estimate, blank=False)
    trips = [paper.stem for paper in own if paper.trip]
    return list(dict.fromkeys([*(of.called for of in lists), *trips, *(paper.stem for paper in blank)]))


def _of_papers(estimate: Estimate, lists: Sequence[AskedList], wanted: str, blank: bool) -> list[AskedList]:
    """The lists, cut down to the papers whose file, or counter, is meant; whole where they were written some time ago."""
    every = papers(estimate, blank)
    found = []
    for of in lists:
        if bool(of.merchant) == blank:
            continue
        mine = [paper for paper in every if paper.merchant == of.merchant]
        meant = {index for index, paper in enumerate(mine) if wanted in _ways(paper)}
        if meant and of.handed:
            found.append(of)
        elif meant:
            found.append(replace(of, lines=tuple(line for line in of.lines if line.paper in meant)))
    return found


def _ways(paper: Paper) -> tuple[str, ...]:
    """How a user may call a file: its name, without its start, and without its trip."""
    start = next((of for of in STARTS if paper.stem.startswith(of)), "")
    short = paper.stem.removeprefix(start)
    trip = f"-trip-{paper.trip}"
    return tuple(plain(of) for of in (paper.stem, short, paper.stem.removesuffix(trip), short.removesuffix(trip)))
