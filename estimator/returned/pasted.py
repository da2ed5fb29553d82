"""Prices typed or pasted line by line: text such as "7 41.50", "line 7: £41.50 each", "12 n/a" goes in, what is said to each
line of ours comes out. After `;`, a tab or two blanks stands a note. Talk is told once; a number that might be a price is
never passed over.
"""

import re
from dataclasses import dataclass

from estimator.problems import Place, Problem
from estimator.returned.asked import AskedLine, AskedList
from estimator.returned.cells import Cell, as_text, one_line, shown
from estimator.returned.extra_rows import extra_words
from estimator.returned.figures import Figure, Unfit, figure
from estimator.returned.head import Labelled, day_of, label_of, said_vat
from estimator.returned.model import Told
from estimator.returned.notes import Note, read_note, without_ours
from estimator.returned.said import Said

_LINE = re.compile(
    r"(?:(?:line|item|no\.?|nr\.?|l|#) ?)?#?(?P<number>\d{1,5})"
    r"(?:(?: ?[:)=@–—]| ?[-.,](?=\s)| ?-(?=[£€$])|,(?=[£€$a-z]|\d{1,2}\.\d\d?(?!\d)))\s*|(?=[£€$])|(?P<gap>\s+))"
    r"(?P<rest>\S.*)",
    re.I | re.A,
)
"""After a number and a comma two figures and a point can only be a price: 7,41.50 is no number."""
_RANGE = re.compile(
    r"(?:lines?|items?|nos?\.?|#)? ?(?P<first>\d{1,5})(?:[-–]| to )(?P<last>\d{1,5})(?: ?[:=@)]\s*|\s+|(?=[£€$]))"
    r"(?P<rest>(?:[£€$] ?)?(?:\d|\.\d).*|n/?a\b.*|poa\b.*|not? .*)",
    re.I | re.A,
)
"""Lines that have the same price: 57-60 16.50 each."""
MOST = 200
"""So many lines may be meant by one range."""
_PLACES = (
    ("write under Note", "write after the price"),
    ("in the note", "after the price"),
    ("under Packs", "after the price"),
    (", and leave the line price empty or mend it", ""),
    ('or add "', 'or type "'),
)
"""Where a message sends somebody who has a table, and where somebody who types."""
_STOP = re.compile(r";|\t|\s{2,}")
"""What parts a price from its note."""
_REMARK = re.compile(r"(?:^|\s)#(?!\d)")
_PRICE = re.compile(r"[£€$]|(?<![\d:])\d+[.,]\d{1,4}(?![\d:]|\s?(?:am|pm)\b)|\b\d+ ?p\b", re.I)
"""What looks like a price in a line of talk."""
_TIME = re.compile(r"\b\d{1,2}[.:]\d\d ?(?:am|pm)\b|\b\d{1,2}[:]\d\d\b", re.I)
EXAMPLE = 'write the number of the line and its price, as in "7 41.50", or "12 n/a"'
TALK_TOLD = 3
"""So many lines of talk are quoted; of more, the rest is counted."""


@dataclass(frozen=True, slots=True)
class Typed:
    """One typed line: the number, what is written after it, and the note after a mark that parts the two."""

    place: Place
    number: int
    text: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class Pasted:
    """Lines with numbers, labelled lines such as "vat: ex", what is neither and may hold a price, and what is only told."""

    typed: tuple[Typed, ...]
    head: tuple[Labelled, ...]
    wrong: tuple[Problem, ...]
    told: tuple[Told, ...]


def typed_lines(name: str, text: str) -> Pasted:
    """The text line by line; after # stands a remark of the user's own."""
    typed: list[Typed] = []
    head: list[Labelled] = []
    wrong: list[Problem] = []
    told: list[Told] = []
    talk: list[tuple[Place, str]] = []
    for at, raw in enumerate(re.split(r"\r\n|\r|\n", text), 1):
        said, place = _REMARK.split(raw, maxsplit=1)[0].strip(), Place(name, at)
        line = one_line(said)
        if not line:
            continue
        several = _several(said, place)
        one = None if several else _typed(said, place)
        label, value = _labelled(line)
        extra, vat = extra_words(line), said_vat(line)
        if several:
            typed += several
        elif one is not None:
            typed.append(one)
        elif label is not None and value:
            head.append(Labelled(label, Cell(place, 1, value), value))
        elif vat is not None:
            head.append(Labelled("vat", Cell(place, 1, line), vat))
        elif extra is not None:
            told.append(Told(place, f"no line of the list, not taken: {shown(line)}; {extra}"))
        elif _PRICE.search(_TIME.sub("", line)):
            wrong.append(Problem(place, "", f"{shown(line)} has no line number", EXAMPLE))
        else:
            talk.append((place, line))
    return Pasted(tuple(typed), tuple(head), tuple(wrong), (*told, *_of_talk(talk)))


def _labelled(line: str) -> tuple[str | None, str]:
    label, _, value = line.partition(":")
    return label_of(label), value.strip()


def _typed(said: str, place: Place) -> Typed | None:
    """A line that begins with a number; None for a date, and for a number that only words of time or of goods follow."""
    found = _LINE.fullmatch(said)
    if found is None or not isinstance(day_of(one_line(said)), Unfit) or label_of(said.partition(":")[0]) is not None:
        return None
    price, note = _parted(found["rest"])
    if found["gap"] and re.match(r"(?:days?|weeks?|wks?|hours?|hrs?|months?|years?|%)\b|%", price, re.I):
        return None
    return Typed(place, int(found["number"]), one_line(price), one_line(note))


def _several(said: str, place: Place) -> list[Typed]:
    """The lines of a range, each with what is written after it; none where there is no range."""
    found = _RANGE.fullmatch(said)
    first, last = (int(found["first"]), int(found["last"])) if found else (0, 0)
    if found is None or not first < last < first + MOST or not isinstance(day_of(one_line(said)), Unfit):
        return []
    price, note = _parted(found["rest"])
    if re.match(r"\d+ ?(?:days?|weeks?|wks?|hours?|hrs?|months?|years?|%)", price, re.I):
        return []
    return [Typed(place, number, one_line(price), one_line(note)) for number in range(first, last + 1)]


def as_typed(problem: Problem, typed: Typed) -> Problem:
    """A problem of a typed line, with whole lines to type, and sending nobody to columns that are not there."""
    write = problem.write
    for column, here in _PLACES:
        write = write.replace(column, here)
    if "after the price" in write and "the price of that" not in write:
        price = re.match(r"(?:\d+ ?(?:for|@) ?)?([£€$]?\d[\d.,]*)", typed.text, re.I)
        start = f"{typed.number} {price[1] if price else '12.40'}"
        write = re.sub(r'"([^"]+)"', lambda found: f'"{start}; {found[1]}"', write)
    return Problem(problem.place, problem.where, problem.found, write)


def _parted(rest: str) -> tuple[str, str]:
    """Price and note; a mark that parts the two is no part of either."""
    pieces = [piece for of in _STOP.split(rest) if (piece := of.strip())]
    return (pieces[0], "; ".join(pieces[1:])) if pieces else ("", "")


def _of_talk(talk: list[tuple[Place, str]]) -> list[Told]:
    if not talk:
        return []
    quoted = ", ".join(shown(line) for _, line in talk[:TALK_TOLD])
    more = f" and {len(talk) - TALK_TOLD} more" if len(talk) > TALK_TOLD else ""
    count = "1 line has" if len(talk) == 1 else f"{len(talk)} lines have"
    return [Told(talk[0][0], f"{count} no line number and no price, passed over: {quoted}{more}")]


def said_to(typed: Typed, line: AskedLine, currency: str) -> Said | Problem:
    """What was typed to a line: the price first, then the note; after a price words may follow without a mark."""
    text, after = typed.text, typed.note
    read: Figure | Unfit = figure(text, currency)
    if isinstance(read, Unfit):
        first, _, rest = text.partition(" ")
        alone = figure(first, currency)
        if isinstance(alone, Figure) and alone.money is not None and re.match(r"[^\W\d(]|\d+ ?[a-z]", rest, re.I):
            read, after = alone, "; ".join(of for of in (rest, after) if of)
    if isinstance(read, Unfit):
        return Problem(typed.place, f"line {typed.number}", read.found, read.write)
    note: Note = read_note(without_ours(after, line.note), line)
    return Said(read, None, typed.place, typed.place, None, note, "", "", typed.place, None)


def unknown(typed: Typed, asked: AskedList) -> Problem | None:
    """The problem of a number that the list has not."""
    if asked.line(typed.number) is not None:
        return None
    last = asked.lines[-1].number if asked.lines else 0
    found = f"your list has no such line; its last is {last}"
    quoted = f"{found} (it reads {shown(as_text(typed.text))})"
    return Problem(typed.place, f"line {typed.number}", quoted, EXAMPLE)
