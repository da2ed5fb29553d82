"""Words that documents use and explain: whatever stands in the text of one stands in its key, on paper and on screen."""

import html
import re
from collections.abc import Callable, Iterator
from io import BytesIO

import openpyxl
import pytest

from estimator.documents import key
from estimator.documents.key import WORDS, in_a_line, key_of
from estimator.documents.quote import render_quote
from estimator.documents.wall_zones import render_wall_zones
from estimator.documents.workbook import render_workbook
from estimator.result import Estimate
from tests.test_quote import studio
from tests.test_wall_zones import house

SPECIAL = (
    "lane",
    "riser",
    "cable zone",
    "leg",
    "tail",
    "set-back",
    "spacer",
    "noggin",
    "soffit",
    "spur",
    "bay",
    "lining",
)
"""Words of the trade that no one uses for anything else; "run" and "point" may be plain English."""
ESTIMATES = {"the studio": studio, "the house": house}


def plain(page: str) -> str:
    """What someone reads of a page."""
    without = re.sub(r"<(style|title|desc)\b.*?</\1>", " ", page, flags=re.DOTALL)
    return html.unescape(re.sub(r"<[^>]+>", " ", without))


def explained(word: str, names: tuple[str, ...]) -> bool:
    return any(word in name.split(", ") or word in WORDS[name] for name in names)


def used(text: str) -> Iterator[str]:
    return (word for word in SPECIAL if re.search(rf"(?<![\w-]){word}s?(?![\w-])", text, re.IGNORECASE))


@pytest.mark.parametrize("of", ESTIMATES.values(), ids=ESTIMATES)
def test_every_word_of_the_trade_in_a_page_is_in_its_key(of: Callable[[], Estimate]) -> None:
    estimate = of()
    for page, names in ((render_quote(estimate), key.QUOTE), (render_wall_zones(estimate), key.WALL_ZONES)):
        text = plain(page)
        assert [] == [word for word in used(text) if not explained(word, names)]
        assert all(" ".join(meaning.split()) in " ".join(text.split()) for _, meaning in key_of(names))


@pytest.mark.parametrize("of", ESTIMATES.values(), ids=ESTIMATES)
def test_sheets_that_go_to_the_site_alone_explain_their_words_at_their_foot(of: Callable[[], Estimate]) -> None:
    estimate = of()
    book = openpyxl.load_workbook(BytesIO(render_workbook(estimate)))
    feet = {"Set-out": key.SET_OUT, "Drilling": key.DRILLING, "Cable schedule": key.CABLES, "Cutting list": key.CUTTING}
    for title, names in (*feet.items(), ("Findings", key.FINDINGS)):
        cells = [str(value) for row in book[title].iter_rows(values_only=True) for value in row if value is not None]
        assert f"Words. {in_a_line(key_of(names))}" == cells[-1]
        assert [] == [word for word in used(" ".join(cells[:-1])) if not explained(word, names)]
    summary = [value for row in book["Summary"].iter_rows(values_only=True) for value in row]
    every = (*key_of(key.WORKBOOK), *key.ABBREVIATIONS)
    assert [] == [name for name, meaning in every if f"{name}: {meaning}" not in summary]


def test_a_word_that_the_table_does_not_have_is_no_key() -> None:
    with pytest.raises(KeyError):
        key_of(("lane, riser", "nothing"))
    assert (("leg", WORDS["leg"]), ("run", WORDS["run"])) == key_of(("run", "leg"))
