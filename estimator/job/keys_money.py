"""The keys of money and paper: allowances, sums, certificate, buying; and those that later issues will use."""

from estimator.job import kinds as k
from estimator.job.shapes import Either, Key, ListOf, MapOf, TableOf

TAILS = TableOf((
    Key("box", k.SPARE, "at a box", default="200 mm"),
    Key("light", k.SPARE, "at a light", default="500 mm"),
    Key("board", k.SPARE, "at a board", default="1 m"),
    Key("outside", k.SPARE, "at a point outside", default="300 mm"),
    Key("run", k.SPARE, "at either end of a run with stretches", default="1 m"),
), inline=True)  # fmt: skip
ALLOWANCES = TableOf((
    Key("cable_waste", k.PERCENT, "spare on the length of each leg", default="5 %"),
    Key("leg_extra", k.SPARE, "spare on each leg besides: bends, rise to the knock-out", default="300 mm"),
    Key("contingency", k.PERCENT, "set aside for what nobody thought of", default="10 %"),
    Key("vat", k.PERCENT, "VAT on labour, on sums and on contingency", default="20 %"),
    Key("kerf", k.SIZE, "what a saw cut takes", default="3 mm"),
    Key("tails", TAILS, "spare cable at each end, outside the box face", default={}),
))  # fmt: skip

RANGE = TableOf((
    Key("low", k.MONEY, "the least it may come to", required=True),
    Key("likely", k.MONEY, "what counts in the total", required=True),
    Key("high", k.MONEY, "the most it may come to", required=True),
), inline=True)  # fmt: skip
STAGE = k.words("supply", "first-fix", "second-fix")
SUM = TableOf((
    Key("name", k.TEXT, "what it is for", required=True),
    Key("kind", k.words("quote", "fee", "hire", "provisional"), "what sort of money it is", required=True),
    Key("amount", Either((RANGE, k.MONEY)), "how much, or a range", required=True),
    Key("vat", k.words("ex", "inc", "none", meant={"0 %": "none", "0%": "none", "no": "none", "20 %": "ex", "20%": "ex"},
        told="VAT comes on top, is in it, or there is none"), "whether VAT is still to be added, is in it, or there is none",
        required=True),
    Key("stage", STAGE, "when it falls due"),
))  # fmt: skip

CERTIFICATE = TableOf((
    Key("nation", k.TEXT, "whose building rules apply"),
    Key("route", k.words("registered electrician", "building control", "third-party certifier", "not agreed"),
        "how the work will be certified"),
    Key("agreed_on", k.DATE, "when you agreed it with the electrician"),
))  # fmt: skip

IN_HAND = TableOf((
    Key("part", k.TEXT, "a row of parts.csv", required=True),
    Key("length", k.EXTENT, "of what is cut in lengths: how long each is"),
    Key("count", k.whole(1, 10_000), "how many of that length; of everything else how many, in the unit of its part"),
    Key("packs", k.COUNT, "or how many packs, of the smallest size on the price list"),
), inline=True)  # fmt: skip
BUYING = TableOf((
    Key("merchants", ListOf(k.TEXT, 1), 'where you would buy: "any" for every merchant of merchants.csv, or names from it', default=["any"]),
    Key("in_hand", ListOf(IN_HAND), "what you have already", default=[]),
    Key("max_merchants", k.COUNT, "at how many merchants at most; one that is not chosen yet is not counted"),
    Key("trips", k.whole(1, 2), "1: all at once; 2: what second fix needs is bought later", default=1),
    Key("price_age", k.AGE, "how old a price may be on the day of priced_on", default="6 months"),
))  # fmt: skip

LIST = TableOf((
    Key("reference", k.TEXT, "your reference on shopping lists"),
    Key("wanted_by", k.DATE, "when you need the goods"),
    Key("collect", k.SWITCH, "whether you collect them"),
    Key("contact", k.TEXT, "whom to ask"),
))  # fmt: skip
SCENARIO = TableOf((
    Key("name", k.TEXT, "what you call it", required=True),
    Key("option", k.TEXT, "a row of options.csv, done first", example='"spare-duct"'),
    Key("change", MapOf(k.ANYTHING, '{ "points.S.spread" = 16 }'), "addresses and their new values"),
    Key("add", MapOf(k.ANYTHING), "what is added"),
    Key("remove", ListOf(k.TEXT), "addresses of what is taken out"),
))  # fmt: skip
