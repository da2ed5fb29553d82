"""Codes that a job may name, by sort, with the words of each: a catalogue in; hints for a wrong code, and a list, out."""

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby

from estimator.catalogue.model import Catalogue
from estimator.likeness import by_size, like
from estimator.problems import OFFERED, either

LISTED = 40
"""A sort with so many codes or fewer is listed whole in a message."""
CODES = "codes.txt"
"""The list that is written beside a new job."""


@dataclass(frozen=True, slots=True)
class Sort:
    """One sort of codes: its title, where a job names them, the table they are rows of, and the words of each code."""

    title: str
    named: str
    table: str
    words: Mapping[str, str]


def kinds(catalogue: Catalogue) -> Mapping[str, str]:
    """Kinds of points with their labels."""
    return {kind: row.label for kind, row in catalogue.points.items()}


def boards(catalogue: Catalogue) -> Mapping[str, str]:
    """Kinds of boards with their labels."""
    return {kind: row.label for kind, row in catalogue.boards.items()}


def cables(catalogue: Catalogue) -> Mapping[str, str]:
    """Cables with what a shop calls them."""
    return {cable: _shop(catalogue, row.part) for cable, row in catalogue.cables.items()}


def devices(catalogue: Catalogue) -> Mapping[str, str]:
    """Devices with what a shop calls them."""
    return {device: _shop(catalogue, row.part) for device, row in catalogue.devices.items()}


def parts(catalogue: Catalogue) -> Mapping[str, str]:
    """Parts with what a shop calls them."""
    return {part: _shop(catalogue, part) for part in catalogue.parts}


def options(catalogue: Catalogue) -> Mapping[str, str]:
    """Options of scenarios with their titles."""
    return {option: row.title for option, row in catalogue.options.items()}


def _shop(catalogue: Catalogue, name: str) -> str:
    part = catalogue.parts.get(name)
    return "" if part is None else f"{part.trade_name or part.description}"


def offer(word: str, known: Mapping[str, str], listed: bool = True) -> str:
    """What to write for a word that is no code: those most like it, and all there are.

    All are told where they are few, and either wanted (`listed`) or nothing is like the word.
    """
    near = like(word, known)
    told = []
    if near and len(near) <= OFFERED:
        told.append(f"did you mean {either(near)}?")
    elif near and len(near) < len(known):
        told.append(f"did you mean one of {compact(near)}?")
    if (listed or not told) and len(known) <= LISTED:
        told.append(f"{'Known' if told else 'known'}: {compact(known)}" if known else "none is defined yet")
    elif not told:
        told.append(f"{CODES}, which studbay new writes beside a job, has them all")
    return " ".join(told)


def compact(codes: Collection[str]) -> str:
    """Codes in one line; those that differ in a size at the end alone are told once: `te-4 (or 6, 10)`."""
    return ", ".join(_sized(stem, list(of)) for stem, of in groupby(sorted(codes, key=by_size), _stem))


def _stem(code: str) -> str:
    return by_size(code)[0][0]


def _sized(stem: str, codes: list[str]) -> str:
    if len(codes) == 1:
        return codes[0]
    return f"{codes[0]} (or {', '.join(code.removeprefix(stem) for code in codes[1:])})"


def sorts(catalogue: Catalogue) -> tuple[Sort, ...]:
    """Every sort of codes, in the order a job names them; parts by the counter that sells them."""
    return (
        Sort("Kinds of points", "kind of [[points]]", "points.csv", kinds(catalogue)),
        Sort("Cables", "cable of [[circuit]], [[control]] and [[run]]", "cables.csv", cables(catalogue)),
        Sort("Devices", "device of [[circuit]] and [[run]], and of way", "devices.csv", devices(catalogue)),
        Sort("Boards", "kind of [[board]]", "boards.csv", boards(catalogue)),
        Sort("Lights", "the light that a kind of point gives", "lights.csv", _lights(catalogue)),
        Sort("Options", "option of [[scenario]]", "options.csv", options(catalogue)),
        *(
            Sort(f"Parts, {counter}", "part of in_hand under [buying]", "parts.csv", words)
            for counter, words in _by_counter(catalogue)
        ),
    )


def _lights(catalogue: Catalogue) -> Mapping[str, str]:
    return {kind: f"{row.lumens:f} lm, {row.watts:f} W" for kind, row in catalogue.lights.items()}


def _by_counter(catalogue: Catalogue) -> Iterator[tuple[str, Mapping[str, str]]]:
    names = parts(catalogue)
    for counter in dict.fromkeys(part.counter for part in catalogue.parts.values()):
        mine = [part for part in names if catalogue.parts[part].counter == counter]
        yield f"at the {counter} counter", {part: names[part] for part in mine}


HEAD = """\
Codes that a job file may name, with what they mean. This list is for reading: Studbay never reads it.
Rows of your own in points.csv, cables.csv ... beside job.toml add more.
"""


def codes_text(catalogue: Catalogue) -> str:
    """The list of all codes, by sort, for someone who writes a job."""
    return "\n".join((HEAD, *(line for sort in sorts(catalogue) for line in _lines(sort))))


def _lines(sort: Sort) -> Iterable[str]:
    yield f"{sort.title} ({sort.named}; rows of {sort.table})"
    yield ""
    widest = max(map(len, sort.words), default=0)
    for code in sorted(sort.words, key=by_size):
        yield f"  {code:<{widest}}  {sort.words[code]}".rstrip()
    yield ""
