"""No text of a plan stands on another of its own: openings between two rooms are in both of their walls."""

import re
from collections import Counter

from estimator.documents.quote import render_quote
from tests.test_wall_zones import house


def test_the_width_of_an_opening_between_two_rooms_stands_once() -> None:
    for svg in re.findall(r"<svg.*?</svg>", render_quote(house()), re.DOTALL):
        placed = Counter(re.findall(r'<text[^>]*transform="(matrix\([^"]*)"[^>]*>(\d+)</text>', svg))
        assert [] == [words for words, count in placed.items() if count > 1]
