"""Lists as they were written, kept beside them, so that one which comes back days later is held against what it asked.

A folder and lists go in, the record's new bytes come out; a folder goes in, the lists of its record come out, the one
written last at the end. The record is JSON: lines that lists share are kept once. A list whose mark is not the one that
its lines give is not as it was written, and is left out.
"""

import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal, InvalidOperation
from pathlib import Path

from estimator.documents.list_asked import AskedLine, AskedList, body_of, figures_of, mark_of

NAME = ".studbay-handed-out.json"
VERSION = 1
KEPT = 100
"""So many different lists are kept for each merchant, and of those for any; a job is worked out often before one comes back."""
MOST_BYTES = 32_000_000
"""A larger record is none of ours."""


@dataclass(frozen=True, slots=True)
class Issues:
    """The lists of a record, the one written last at the end, and what is wrong with it in a sentence ("" for nothing)."""

    lists: tuple[AskedList, ...] = ()
    amiss: str = ""


def read(folder: Path) -> Issues:
    """The lists written into a folder; none where it has no record.

    What is damaged, or was changed by hand, is left out and told.
    """
    path = folder / NAME
    try:
        with path.open("rb") as stream:
            data = stream.read(MOST_BYTES + 1)
    except (FileNotFoundError, NotADirectoryError):
        return Issues()
    except OSError as error:
        return Issues((), f"{path}: cannot be read ({error.strerror}), so lists are taken as they are now")
    try:
        found, wrong = _parsed(data)
    except (ValueError, TypeError, KeyError, IndexError, InvalidOperation, RecursionError):
        return Issues((), f"{path}: what it says of the lists handed out cannot be read, and it is left out")
    if wrong:
        marks = ", ".join(wrong)
        said = f"the list {marks} is" if len(wrong) == 1 else f"the lists {marks} are"
        return Issues(found, f"{path}: {said} not as written there any more, and left out")
    return Issues(found)


def updated(folder: Path, lists: Sequence[AskedList]) -> bytes:
    """The record with these lists written last, in their order; of each merchant's the last `KEPT` stay."""
    now = {(of.mark, of.merchant) for of in lists}
    every = [*(of for of in read(folder).lists if (of.mark, of.merchant) not in now), *lists]
    kept: list[AskedList] = []
    seen: dict[str, int] = {}
    for of in reversed(every):
        seen[of.merchant] = seen.get(of.merchant, 0) + 1
        if seen[of.merchant] <= KEPT:
            kept.append(of)
    return _written(kept[::-1])


def _written(lists: Iterable[AskedList]) -> bytes:
    bodies: dict[str, int] = {}
    rows = []
    for of in lists:
        lines = []
        for line in of.lines:
            at = bodies.setdefault(json.dumps(body_of(line)), len(bodies))
            lines.append([line.number, line.paper, at, figures_of(line.need)])
        rows.append({"mark": of.mark, "merchant": of.merchant, "title": of.title, "lines": lines})
    said = ",\n".join(json.dumps(row) for row in rows)
    shared = ",\n".join(bodies)
    return f'{{"version": {VERSION}, "lines": [\n{shared}\n], "lists": [\n{said}\n]}}\n'.encode()


def _parsed(data: bytes) -> tuple[tuple[AskedList, ...], list[str]]:
    """The lists that are as they were written, and the marks of those that are not.

    Raises:
        ValueError, TypeError, KeyError, IndexError, InvalidOperation: it is no record of ours.
    """
    if len(data) > MOST_BYTES:
        raise ValueError("too large")
    record = json.loads(data.decode("utf-8"))
    if record["version"] != VERSION:
        raise ValueError("of another version")
    shared = [_body(body) for body in record["lines"]]
    good: list[AskedList] = []
    wrong: list[str] = []
    for row in record["lists"]:
        of = AskedList(
            _text(row["merchant"]),
            tuple(_placed(shared, line) for line in row["lines"]),
            _text(row["title"]),
            _text(row["mark"]),
            handed=True,
        )
        if of.mark == mark_of(of):
            good.append(of)
        else:
            wrong.append(of.mark[:20])
    return tuple(good), wrong


def _placed(shared: Sequence[AskedLine], row: Sequence[object]) -> AskedLine:
    number, paper, at, need = row
    where = _whole(at)
    if where < 0:
        raise IndexError("no such line")
    return replace(shared[where], number=_whole(number), paper=_whole(paper), need=_exact(need))


def _body(body: Sequence[object]) -> AskedLine:
    part, what, trade, size, code, quantity, unit, words, pack, packs, cut, note, match = body
    return AskedLine(
        number=0,
        part=_text(part),
        what=_text(what),
        trade_name=_text(trade),
        size_finish=_text(size),
        code=_text(code),
        quantity=_exact(quantity),
        unit=_text(unit),
        pack_words=_text(words),
        pack=None if pack is None else _exact(pack),
        packs=_whole(packs),
        cut=bool(cut),
        note=_text(note),
        match=_text(match),
        paper=0,
    )


def _text(value: object) -> str:
    if not isinstance(value, str):
        raise TypeError("text is wanted")
    return value


def _whole(value: object) -> int:
    if not isinstance(value, int) or isinstance(value, bool):
        raise TypeError("a whole number is wanted")
    return value


def _exact(value: object) -> Decimal:
    exact = Decimal(_text(value))
    if not exact.is_finite() or exact.adjusted() > 12:
        raise ValueError("a plain number is wanted")
    return exact
