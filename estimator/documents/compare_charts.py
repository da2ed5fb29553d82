"""The price of each next one as bars: rows of a range go in, drawings that fit a page of A4 each come out.

A bar for each value, its price at its end, and beside it what begins there, so that nothing has to be looked up.
"""

from collections.abc import Sequence
from decimal import Decimal

from estimator.documents.compare_steps import StepRow, begins_of, next_one, notes_of
from estimator.documents.compare_words import signed
from estimator.drawings.charts import BAR_GREY, BAR_MM, LEFT_GREY
from estimator.drawings.svg import CABLE, GREY, INK, LIGHT, Drawing, Pen, finished, root, text_width, wrapped_text

WIDTH_MM, HEIGHT_MM = 176.0, 205.0
TEXT_MM, SMALL_MM, LINE_MM = 3.0, 2.7, 3.4
ROW_MM, HEAD_MM = 6.4, 5.6
BARS_MM, WORDS_MM = 16.0, 88.0
"""Where bars, and the words beside them, start."""
MOST_LINES = 12

Laid = tuple[StepRow, tuple[str, ...], str]


def next_charts(rows: Sequence[StepRow], heading: str, currency: str, title: str, prefix: str) -> tuple[Drawing, ...]:
    """One drawing, or as many as the rows need, all with one scale; empty where there is no price to show.

    The next one from the job as it stands is in the accent; where that is not in the range, the dearest is. Where a
    board, drum, pack or length begins the bar is dark; where only single pieces are added it is light.
    """
    prices = [row.price for row in rows if row.price is not None]
    if not prices:
        return ()
    scale = _Scale(prices, currency)
    matters = next_one(tuple(rows)) or next(row for row in rows if row.price == max(prices))
    laid = [(row, _words(row), _fill(row, row is matters)) for row in rows]
    sheets = _sheets(laid)
    return tuple(
        _sheet(sheet, scale, heading, title if number == 1 else f"{title}, continued", f"{prefix}-{number}")
        for number, sheet in enumerate(sheets, 1)
    )


class _Scale:
    """Where a price ends: nought somewhere between the least and the most, room for figures at the right of the bars."""

    def __init__(self, prices: Sequence[Decimal], currency: str) -> None:
        self.currency = currency
        figures = max(text_width(signed(price, currency), TEXT_MM) for price in prices)
        self.least = min(*prices, Decimal(0)) if prices else Decimal(0)
        whole = max(*prices, Decimal(0)) - self.least
        self.room = WORDS_MM - BARS_MM - figures * 1.1 - 4
        self.each = self.room / float(whole) if whole else 0.0

    def at(self, price: Decimal) -> float:
        return BARS_MM + float(price - self.least) * self.each


def _words(row: StepRow) -> tuple[str, ...]:
    """What stands beside a bar, in lines."""
    told = (f"cannot be worked out: {'; '.join(row.why)}",) if row.why else (*notes_of(row), *begins_of(row))
    return wrapped_text("; ".join(told), SMALL_MM, WIDTH_MM - WORDS_MM, MOST_LINES)


def _fill(row: StepRow, matters: bool) -> str:
    return CABLE if matters else BAR_GREY if row.marks else LEFT_GREY


def _sheets(laid: Sequence[Laid]) -> list[list[Laid]]:
    sheets: list[list[Laid]] = [[]]
    for one in laid:
        if sheets[-1] and sum(_height(of) for of in (*sheets[-1], one)) > HEIGHT_MM - HEAD_MM:
            sheets.append([])
        sheets[-1].append(one)
    return sheets


def _height(laid: Laid) -> float:
    return max(ROW_MM, len(laid[1]) * LINE_MM + 1.8)


def _sheet(sheet: Sequence[Laid], scale: _Scale, heading: str, title: str, prefix: str) -> Drawing:
    height = HEAD_MM + sum(_height(one) for one in sheet) + 0.5
    element = root(WIDTH_MM, height, 1, (0, 0), prefix, title, "; ".join(_told(row, scale) for row, _, _ in sheet))
    pen = Pen(element, 1)
    zero = scale.at(Decimal(0))
    for x, words in ((0.0, heading), (BARS_MM, "One more costs, inc VAT"), (WORDS_MM, "What begins there")):
        pen.text((x, -HEAD_MM + 2), words, SMALL_MM, "start", GREY)
    pen.line([(0, -HEAD_MM), (WIDTH_MM, -HEAD_MM)], 0.25)
    top = HEAD_MM
    for laid in sheet:
        _bar(pen, laid, top, scale, zero)
        top += _height(laid)
        pen.line([(0, -top), (WIDTH_MM, -top)], 0.12, LIGHT)
    pen.line([(zero, -HEAD_MM), (zero, -top)], 0.2, GREY)
    return finished(element, WIDTH_MM, height, 1, title)


def _bar(pen: Pen, laid: Laid, top: float, scale: _Scale, zero: float) -> None:
    row, words, fill = laid
    foot = -top - 4.2
    bold = fill == CABLE
    pen.text((0, foot), row.values, TEXT_MM, "start", bold=bold or bool(row.here))
    if row.price is not None:
        start, end = sorted((zero, scale.at(row.price)))
        y = -top - (ROW_MM - BAR_MM) / 2
        corners = [(start, y), (end, y), (end, y - BAR_MM), (start, y - BAR_MM)]
        pen.polygon(corners, 0.15 if fill == LEFT_GREY else 0, fill=fill, colour=GREY)
        pen.text((end + 1.2, foot), signed(row.price, scale.currency), TEXT_MM, "start", bold=bold)
    for number, line in enumerate(words):
        pen.text((WORDS_MM, foot - number * LINE_MM), line, SMALL_MM, "start", INK if row.marks else GREY)


def _told(row: StepRow, scale: _Scale) -> str:
    return f"{row.values}: {signed(row.price, scale.currency) if row.price is not None else 'no price'}"
