"""How cells look: our own lines and light greys; formats go by their properties, so that equal ones are one."""

from typing import Any

from estimator.documents.words import symbol

ACCENT = "#6A2B57"
"""Kept for the one figure that matters."""
LINE_GREY = "#BFBFBF"
FILL_GREY = "#EDEDED"
QUIET_GREY = "#595959"

Style = dict[str, Any]

PLAIN: Style = {"valign": "top"}
WRAPPED: Style = {"valign": "top", "text_wrap": True}
QUIET: Style = {**WRAPPED, "font_color": QUIET_GREY}
RULED: Style = {"bottom": 1, "bottom_color": LINE_GREY}
"""A light rule under every line."""
HEAD: Style = {"bold": True, "text_wrap": True, "valign": "bottom", "top": 1, "bottom": 1}
HEAD_RIGHT: Style = {**HEAD, "align": "right"}
GROUP: Style = {"bold": True, "valign": "bottom", "bottom": 1}
SUM: Style = {"bold": True, "valign": "top", "top": 1}
TITLE: Style = {"bold": True, "font_size": 14, "valign": "top", "text_wrap": True}
INPUT: Style = {"bg_color": FILL_GREY, "border": 1, "border_color": "#404040", "locked": False, "valign": "top"}
"""What may be changed: known by its fill and its frame."""
TOTAL: Style = {"bold": True, "font_size": 16, "font_color": ACCENT, "top": 2, "bottom": 6, "valign": "vcenter"}

GENERAL: Style = {"num_format": "General"}
METRES: Style = {"num_format": "#,##0.00#"}
PERCENT: Style = {"num_format": "0.0%"}
HOURS: Style = {"num_format": "#,##0.0"}
DATE: Style = {"num_format": "yyyy-mm-dd", "align": "left"}
MIDDLE: Style = {"valign": "vcenter"}
RIGHT: Style = {"align": "right"}
APART: Style = {"align": "left", "indent": 1}
"""For text that stands right of a figure."""


class Looks:
    """The formats of one workbook, made when they are first wanted."""

    def __init__(self, book: Any, currency: str) -> None:
        self._book = book
        self._made: dict[tuple[tuple[str, Any], ...], Any] = {}
        self._known: dict[tuple[int, ...], tuple[tuple[Style, ...], Any]] = {}
        sign = symbol(currency).replace('"', "")
        self.money: Style = {"num_format": f'"{sign}"#,##0.00;-"{sign}"#,##0.00'}
        self.rate: Style = {"num_format": f'"{sign}"#,##0.0000;-"{sign}"#,##0.0000'}
        self.price: Style = {"num_format": f'"{sign}"#,##0.00##;-"{sign}"#,##0.00##'}

    def format(self, *styles: Style) -> Any:
        """The format of these styles together, the later over the earlier.

        The same styles come again and again, cell by cell, so they are known by what they are before they are known by
        what they hold; kept with their format, so that none can go and another take its number.
        """
        same = tuple(map(id, styles))
        if same not in self._known:
            self._known[same] = styles, self._of(styles)
        return self._known[same][1]

    def _of(self, styles: tuple[Style, ...]) -> Any:
        wanted: Style = {}
        for style in styles:
            wanted.update(style)
        key = tuple(sorted(wanted.items()))
        if key not in self._made:
            self._made[key] = self._book.add_format(wanted)
        return self._made[key]


def quantity(unit: str) -> Style:
    """How a quantity of that unit is shown: pieces as they are, measures with two decimals or what they have."""
    return GENERAL if unit == "nr" else METRES
