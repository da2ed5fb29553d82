"""The columns of the sheets that point at one another, from 0."""

from enum import IntEnum


class Bill(IntEnum):
    """Columns of the sheet Bill."""

    ITEM = 0
    PART = 1
    DESCRIPTION = 2
    STAGE = 3
    QUANTITY = 4
    WASTE = 5
    WITH_WASTE = 6
    UNIT = 7
    RATE = 8
    AMOUNT = 9
    MADE_OF = 10
    SOURCE = 11


class Order(IntEnum):
    """Columns of the sheet Order; those after `PAID` are workings, and not printed."""

    PART = 0
    DESCRIPTION = 1
    SECTION = 2
    STAGE = 3
    NEEDED = 4
    UNIT = 5
    PACK = 6
    PACKS = 7
    UNITS = 8
    PRICE = 9
    LINE = 10
    NET = 11
    VAT = 12
    PAID = 13
    GAP = 14
    SUM_SO_FAR = 15
    NET_SO_FAR = 16
    SPARE = 17


class Prices(IntEnum):
    """Columns of the sheet Price list."""

    PART = 0
    DESCRIPTION = 1
    MERCHANT = 2
    PACK = 3
    UNIT = 4
    PRICE = 5
    BASIS = 6
    VAT = 7
    WASTE = 8
    PRICED_ON = 9
    PACKS = 10
    SOURCE = 11
