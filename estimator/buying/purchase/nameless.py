"""The order in which a search meets merchants, parts and makes: needs and prices in; by what they hold, a place for each out.

Names come last, and only where nothing else tells two apart. So the same question under other names is the same work, and
where work has a limit it ends at the same figures.
"""

from collections import Counter
from collections.abc import Hashable, Iterable, Mapping, Sequence
from typing import Any, TypeVar

from estimator.buying.offers import ANY
from estimator.buying.purchase.needs import STAGES, Need
from estimator.catalogue.model import Catalogue, Price
from estimator.job.model import Job
from estimator.memory import NOTHING, Memory, Same

T = TypeVar("T", bound=Hashable)

Thing = tuple[str, ...]
"""What it is, then its name: `merchant`, `part`, `make` (group and letter), `group`."""
Content = tuple[Any, ...]
"""What sorts things of one sort, without any name."""
Tie = tuple[tuple[Thing, ...], Content]
"""Things that hang together, each of another sort, and how."""


def of_merchant(name: str) -> Thing:
    """A merchant."""
    return "merchant", name


def of_part(name: str) -> Thing:
    """A part."""
    return "part", name


def of_make(group: str, letter: str) -> Thing:
    """A make of a match group."""
    return "make", group, letter


def places_of(
    job: Job,
    catalogue: Catalogue,
    needs: Sequence[Need],
    rows: Mapping[str, Sequence[Price]],
    merchants: tuple[str, ...],
    memory: Memory = NOTHING,
) -> dict[Thing, int]:
    """A place for each merchant, part and make; `rows` are the prices of each part.

    Order: merchants by their terms, then by their whole price list, so that a change of the job seldom puts them in another.
    """
    key = ("contents", Same(catalogue), merchants)
    contents = dict(memory.recall(key, lambda: _merchants(catalogue, merchants)))
    ties: list[Tie] = []
    for need in needs:
        group, own = catalogue.parts[need.part].match_group, of_part(need.part)
        contents[own] = _part(job, catalogue, need)
        if group:
            contents["group", group] = ()
            ties.append(((("group", group), own), ()))
        for row in rows[need.part]:
            things = (of_merchant(row.merchant), own, *([of_make(group, row.match)] if group else []))
            contents.setdefault(things[-1], ())
            ties.append((things, (row.pack, row.price, row.vat)))
    return ranked(contents, ties)


def _merchants(catalogue: Catalogue, merchants: Iterable[str]) -> dict[Thing, Content]:
    lists: dict[str, list[Content]] = {name: [] for name in merchants}
    for row in catalogue.prices:
        if row.merchant in lists:
            lists[row.merchant].append((row.pack, row.price, row.vat, catalogue.parts[row.part].vat_rate))
    return {of_merchant(name): (*_terms(catalogue, name), tuple(sorted(rows))) for name, rows in lists.items()}


def _terms(catalogue: Catalogue, name: str) -> Content:
    """A merchant's terms; prices that no merchant has given are told by their name, which is none."""
    of = catalogue.merchants[name]
    limits = [(limit is not None, limit or 0) for limit in (of.free_over, of.minimum)]
    return name == ANY, of.delivery, of.vat, of.vat_rate, *limits


def _part(job: Job, catalogue: Catalogue, need: Need) -> Content:
    of = catalogue.parts[need.part]
    held = [(row.length_mm or 0, row.count, row.packs or 0) for row in job.buying.in_hand if row.part == need.part]
    pieces = [piece.length_mm for piece in need.pieces]
    return of.sold_as, of.counter, of.vat_rate, STAGES.index(need.stage), need.with_waste, tuple(pieces), tuple(held)


def ranked(contents: Mapping[Thing, Content], ties: Sequence[Tie]) -> dict[Thing, int]:
    """A place for each thing: by its sort and content, then by what hangs together with it, then by name.

    Where a name has to tell two apart, what hangs together with them is looked at again before the next name is.
    """
    places = _numbered({thing: (thing[0], content) for thing, content in contents.items()})
    hows = _numbered(dict(enumerate(how for _, how in ties)))
    hanging: dict[Thing, list[tuple[int, tuple[Thing, ...]]]] = {thing: [] for thing in contents}
    for at, (things, _) in enumerate(ties):
        for thing in things:
            hanging[thing].append((hows[at], things))
    known = 0
    while len(set(places.values())) < len(places):
        if len(set(places.values())) == known:
            places = _one_apart(places)
        known = len(set(places.values()))
        places = _numbered(
            {
                thing: (place, sorted((how, [places[one] for one in things]) for how, things in hanging[thing]))
                for thing, place in places.items()
            }
        )
    return places


def _numbered(contents: Mapping[T, Content]) -> dict[T, int]:
    """Equal numbers for equal contents, rising with them."""
    ordered = sorted(contents, key=lambda of: contents[of])
    numbers: dict[T, int] = {}
    for at, thing in enumerate(ordered):
        like = at > 0 and contents[ordered[at - 1]] == contents[thing]
        numbers[thing] = numbers[ordered[at - 1]] if like else at
    return numbers


def _one_apart(places: Mapping[Thing, int]) -> dict[Thing, int]:
    """The first by name of those that share the first place of several, put before the others."""
    many = Counter(places.values())
    first = min((place, thing) for thing, place in places.items() if many[place] > 1)[1]
    return {thing: 2 * place - (thing == first) for thing, place in places.items()}
