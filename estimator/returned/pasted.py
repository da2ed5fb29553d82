"""Prices typed line by line: text such as "7 41.50", "7: £41.50 each", "12 n/a" goes in, what is said to each line comes out."""

import re
from dataclasses import dataclass

from estimator.problems import Place, Problem
from estimator.returned.answers import Said
from estimator.returned.asked import AskedLine, AskedList
from estimator.returned.cells import Cell, one_line, shown
from estimator.returned.figures import Figure, Unfit, figure
from estimator.returned.head import Labelled, label_of
from estimator.returned.notes import Note, read_note, without_ours

_LINE = re.compile(r"(?:line )?(?P<number>\d{1,5})(?: ?[:.)=-] | ?[:)=] ?| )(?P<rest>.+)", re.I | re.A)
EXAMPLE = 'write the number of the line and its price, as in "7 41.50", or "12 n/a"'


@dataclass(frozen=True, slots=True)
class Typed:
    """One typed line: the number, and what is written after it."""

    place: Place
    number: int
    text: str


def typed_lines(name: str, text: str) -> tuple[tuple[Typed, ...], tuple[Labelled, ...], tuple[Problem, ...]]:
    """Lines with numbers, lines such as "vat: ex" and "priced on: 2026-11-02", and what is neither; # starts a remark."""
    typed, head, wrong = [], [], []
    for at, raw in enumerate(re.split(r"\r\n|\r|\n", text), 1):
        line, place = one_line(raw.split("#")[0]), Place(name, at)
        if not line:
            continue
        label, _, value = line.partition(":")
        kind = label_of(label)
        found = _LINE.fullmatch(line)
        if found:
            typed.append(Typed(place, int(found["number"]), found["rest"]))
        elif kind is not None and value.strip():
            head.append(Labelled(kind, Cell(place, 1, value.strip()), value.strip()))
        else:
            wrong.append(Problem(place, "", f"{shown(line)} has no line number", EXAMPLE))
    return tuple(typed), tuple(head), tuple(wrong)


def said_to(typed: Typed, line: AskedLine, currency: str) -> Said | Problem:
    """What was typed to a line: the price first; after a semicolon or two blanks the note."""
    before, _, after = typed.text.partition(";")
    read: Figure | Unfit = figure(before.strip(), currency)
    note: Note = read_note(without_ours(after, ""), line)
    if isinstance(read, Unfit):
        return Problem(typed.place, f"line {typed.number}", read.found, read.write)
    return Said(read, None, typed.place, typed.place, None, note, "", "", typed.place, None)


def unknown(typed: Typed, asked: AskedList) -> Problem | None:
    """The problem of a number that the list has not."""
    if asked.line(typed.number) is not None:
        return None
    last = asked.lines[-1].number if asked.lines else 0
    return Problem(typed.place, f"line {typed.number}", f"your list has no such line; its last is {last}", EXAMPLE)
