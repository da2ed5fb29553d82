"""Every key of a job file, in one table: where it stands, what it may hold, its default, and what it means.

The checks, the messages about unknown keys and the schema for editors all come from `JOB`.
"""

from functools import lru_cache

from estimator.job import keys_building as building
from estimator.job import keys_electrics as electrics
from estimator.job import keys_money as money
from estimator.job import kinds as k
from estimator.job.shapes import AT_TOP, Home, Key, ListOf, TableOf, homes

CURRENCIES = ("AUD", "CAD", "CHF", "CZK", "DKK", "EUR", "GBP", "NOK", "NZD", "PLN", "SEK", "USD", "ZAR")
"""Currencies with a hundred to the unit (ISO 4217 codes, from memory)."""

SYMBOLS = {"£": ("GBP",), "€": ("EUR",), "$": ("USD", "AUD", "CAD", "NZD")}

JOB = TableOf((
    Key("title", k.TEXT, "what the documents call the job", required=True, example='"Garden room"'),
    Key("ruleset", k.TEXT, "which rows of rules.csv apply", required=True, example='"uk"'),
    Key("currency", k.words(*CURRENCIES, meant={sign.lower(): codes[0] for sign, codes in SYMBOLS.items()}), "what all prices are in", default="GBP"),
    Key("priced_on", k.DATE, "the day of the prices", required=True),
    Key("test_on", k.DATE, "when it will be tested; decides the edition of the rules that is quoted"),
    Key("allowances", money.ALLOWANCES, "spare lengths, waste and percentages", default={}),
    Key("frame", building.FRAME, "studs and what covers them, in all rooms"),
    Key("supply", electrics.SUPPLY, "the supply at the origin"),
    Key("board", ListOf(electrics.BOARD), "where circuits start"),
    Key("room", ListOf(building.ROOM), "rooms"),
    Key("points", ListOf(electrics.POINTS), "groups of points"),
    Key("circuit", ListOf(electrics.CIRCUIT), "circuits"),
    Key("control", ListOf(electrics.CONTROL), "emergency stops: a contactor and a latching control loop"),
    Key("trench", ListOf(electrics.TRENCH), "trenches, which runs may share"),
    Key("run", ListOf(electrics.RUN), "cables between two places that are no circuit"),
    Key("sum", ListOf(money.SUM), "money that is no part: electrician, fee, hire, provisional"),
    Key("certificate", money.CERTIFICATE, "how the work will be certified"),
    Key("as_built", ListOf(electrics.AS_BUILT), "measured lengths of legs and runs"),
    Key("scenario", ListOf(money.SCENARIO), "named changes, priced beside the job"),
    Key("buying", money.BUYING, "where to buy, and what is there already", default={}),
    Key("list", money.LIST, "what shopping lists say at their head"),
))  # fmt: skip


@lru_cache(maxsize=1)
def all_keys() -> tuple[tuple[Home, Key], ...]:
    """Every key with where it belongs, in the order of the table."""
    return tuple(homes(JOB, AT_TOP))
