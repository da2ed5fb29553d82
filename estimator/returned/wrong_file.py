"""What a file seems to be that is no filled list: its name, bytes or sheets go in, one sentence on it and what to give come out."""

import re
from collections.abc import Iterable

from estimator.catalogue.columns import TABLES
from estimator.returned.cells import Sheet, plain

GIVE = "give the list that the merchant filled in (.xlsx or .csv), or type its lines, as in 7 41.50"
COPY = "ask for the list itself back, or type its lines, as in 7 41.50"
LOOKED_AT = 20_000
"""So many letters of a text are looked at."""
_STARTS: tuple[tuple[bytes, str], ...] = (
    (b"%PDF", "a PDF"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
    (b"GIF8", "a picture"),
    (b"BM", "a picture"),
    (b"II*\0", "a picture"),
    (b"MM\0*", "a picture"),
    (b"{\\rtf", "a text document"),
)
_PACKED: tuple[tuple[str, str], ...] = (
    ("word/", "a text document (.docx)"),
    ("ppt/", "slides (.pptx)"),
    ("Index/", "a spreadsheet of another program"),
)
_MIMES = (("spreadsheet", "a spreadsheet of the kind .ods"), ("text", "a text document (.odt)"))
_BILL = ("bill", "order", "cable schedule", "cutting list", "findings", "price list", "set out", "drilling")
"""Sheets of our bill of quantities; two of them are enough to know it."""


def by_start(data: bytes) -> tuple[str, str] | None:
    """A picture, a PDF and the like, by their first bytes; None for what may be a list."""
    if data[4:8] == b"ftyp" or (data.startswith(b"RIFF") and data[8:12] == b"WEBP"):
        return "this is a picture, and no list", COPY
    if data.startswith(b"BM") and b"\0" not in data[:64]:
        return None
    kind = next((kind for start, kind in _STARTS if data.startswith(start)), None)
    return (f"this is {kind}, and no list", COPY) if kind else None


def by_members(names: Iterable[str], mime: str) -> str | None:
    """A packed file of an office program that is no workbook of the kind .xlsx, in words."""
    for start, kind in _PACKED:
        if any(name.startswith(start) for name in names):
            return kind
    return next((kind for of, kind in _MIMES if of in mime), None)


def by_sheets(sheets: Iterable[Sheet]) -> tuple[str, str] | None:
    """Our own bill or comparison, by the names of its sheets."""
    names = [plain(sheet.name) for sheet in sheets]
    if sum(name in _BILL for name in names) >= 2:
        return "this is your own bill of quantities, and no list that a merchant filled in", GIVE
    if "scenarios" in names or "next one" in names:
        return "this is your own comparison, and no list that a merchant filled in", GIVE
    return None


def by_text(name: str, text: str) -> tuple[str, str] | None:
    """A page, a job file, data for programs or a table of the catalogue, by how the text begins."""
    start = text[:LOOKED_AT].lstrip("\ufeff \t\r\n")
    low = start.casefold()
    if low.startswith(("<!doctype html", "<html", "<?xml", "<svg")):
        return f"this is {'a web page' if 'html' in low[:400] else 'a drawing or data'}, and no list", GIVE
    if start.startswith("{") and re.match(r'\{\s*("|\})', start):
        return "this is data for programs, and no list", GIVE
    if name.casefold().endswith(".toml") or _is_toml(start):
        return "this is a job file, and no list", GIVE
    headings = {of.strip() for of in (start.splitlines() or [""])[0].split(",")}
    for table in sorted(TABLES, key=lambda of: -len(of.key)):
        if (
            set(table.key) <= headings
            and len(headings) > len(table.key)
            and "line" not in {of.casefold() for of in headings}
        ):
            return f"this is a table of the price list ({table.file}), and no list that a merchant filled in", GIVE
    return None


def _is_toml(text: str) -> bool:
    keys = re.findall(r"^(?:title|ruleset|currency|priced_on)\s*=", text, re.M)
    return len(keys) >= 2 or bool(re.search(r"^\[\[(?:room|points|circuit|board|run)\]\]", text, re.M))
