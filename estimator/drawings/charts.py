"""Charts: names and amounts of money go in, plain bars with their figures come out; greys, the longest in the accent."""

from collections.abc import Sequence
from decimal import Decimal

from estimator.documents.words import money
from estimator.drawings.svg import CABLE, GREY, Drawing, Pen, finished, fitted_text, root, text_width

WIDTH_MM = 104.0
ROW_MM, BAR_MM, TEXT_MM = 9.2, 3.0, 3.2
BAR_GREY, LEFT_GREY = "#8c8c8c", "#d9d9d9"


def money_bars(
    rows: Sequence[tuple[str, Decimal, Decimal]], currency: str, title: str, prefix: str = "bars"
) -> Drawing:
    """A horizontal bar for each row (name, amount used, amount left over), its whole amount printed at its end.

    The bar is as long as the whole amount, what is left over is its lighter end; all start at nought and have one scale.
    The longest (of equal ones the first) is in the accent. Amounts below nought count as nought.
    """
    totals = [max(used, Decimal(0)) + max(left, Decimal(0)) for _, used, left in rows]
    longest = max(totals, default=Decimal(0))
    figures = [money(total, currency) for total in totals]
    room = WIDTH_MM - max((text_width(figure, TEXT_MM) for figure in figures), default=0) - 2
    height = ROW_MM * max(len(rows), 1) + 1
    desc = "; ".join(f"{name} {figure}" for (name, _, _), figure in zip(rows, figures, strict=True))
    element = root(WIDTH_MM, height, 1, (0, 0), prefix, title, desc)
    pen = Pen(element, 1)
    for index, ((name, used, left), total, figure) in enumerate(zip(rows, totals, figures, strict=True)):
        y = -ROW_MM * index
        pen.text((0, y - 3.6), fitted_text(name, TEXT_MM, WIDTH_MM), TEXT_MM, "start")
        main = _long(max(used, Decimal(0)), longest, room)
        whole = _long(total, longest, room)
        fill = CABLE if total == longest and totals.index(total) == index and longest else BAR_GREY
        _bar(pen, 0, main, y - 5, fill)
        if left > 0:
            _bar(pen, main, whole, y - 5, LEFT_GREY)
        pen.text((whole + 1.2, y - 5 - BAR_MM / 2 - 0.36 * TEXT_MM), figure, TEXT_MM, "start")
    pen.line([(0, 0), (0, -height + 1)], 0.2, GREY)
    return finished(element, WIDTH_MM, height, 1, title)


def _long(amount: Decimal, longest: Decimal, room: float) -> float:
    return float(amount / longest) * room if longest else 0.0


def _bar(pen: Pen, start: float, end: float, y: float, fill: str) -> None:
    if end > start:
        pen.polygon([(start, y), (end, y), (end, y - BAR_MM), (start, y - BAR_MM)], 0, fill=fill)
