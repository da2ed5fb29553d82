"""The keys of the electrics: supply, boards, points, circuits, controls, trenches, runs, and measured lengths."""

from estimator import quantities as q
from estimator.job import kinds as k
from estimator.job.keys_building import PAIR
from estimator.job.model import GROUNDS
from estimator.job.shapes import Either, Key, ListOf, MapOf, TableOf
from estimator.quantities import Family

_BASIS = k.words("measured", "typical", "typical maximum")
_NAME = Key("name", k.TEXT, "what you call it", required=True)
_NAMES = ListOf(k.TEXT)


def _stated(family: Family) -> Either:
    """An electrical value, with or without where it comes from."""
    told = TableOf((
        Key("value", k.stated(family), "number and unit", required=True),
        Key("basis", _BASIS, "where it comes from", required=True),
    ), inline=True)  # fmt: skip
    return Either((told, k.stated(family)))


SUPPLY = TableOf((
    Key("earthing", k.words("TN-C-S", "TN-S", "TT", "IT", meant={"pme": "TN-C-S", "tncs": "TN-C-S", "tns": "TN-S"}), "how the installation is earthed"),
    Key("external_impedance", _stated(q.RESISTANCE), "of the fault loop outside the building, at the origin"),
    Key("voltage", _stated(q.VOLTAGE), "nominal voltage to earth"),
    Key("main_fuse", _stated(q.CURRENT), "rating of the main fuse"),
))  # fmt: skip

WAY = TableOf((
    Key("device", k.TEXT, "a row of devices.csv", required=True, example='"rcbo-b20"'),
    Key("spare", k.SWITCH, "whether that way is free", default=False),
), inline=True)  # fmt: skip
BOARD = TableOf((
    _NAME,
    Key("kind", k.TEXT, "a row of boards.csv"),
    Key("fed_by", k.TEXT, "the run that brings its supply"),
    Key("outside_job", k.SWITCH, "true for a board that is there and stays as it is", default=False),
    Key("way", WAY, "what a board outside the job gives to the run that it feeds"),
    Key("room", k.TEXT, "the room it hangs in"),
    Key("wall", k.TEXT, "the wall it hangs on"),
    Key("along", k.LENGTH, "its middle, from the wall's left end seen from inside"),
    Key("height", k.HEIGHT, "its middle above the floor"),
))  # fmt: skip

WALL_PLACE = TableOf((
    Key("wall", k.TEXT, "the wall", required=True),
    Key("along", k.LENGTH, "from the wall's left end seen from inside", required=True),
    Key("height", k.HEIGHT, "where it differs from the group's"),
), inline=True)  # fmt: skip
POINTS = TableOf((
    Key("name", k.TEXT, "the group's name; its points are this and a number, S1, S2 ...", required=True),
    Key("kind", k.TEXT, "a row of points.csv", required=True, example='"double-socket"'),
    Key("circuit", k.TEXT, 'the circuit that feeds them, or "none" for boxes only'),
    Key("switched_by", _NAMES, "switches, in order: the first is fed, the rest follow in a chain"),
    Key("room", k.TEXT, "the room they are in", required=True),
    Key("surface", k.words("wall", "ceiling", "soffit", "outside", "floor"), "what they are fixed to", default="wall"),
    Key("height", k.HEIGHT, "centre line above the floor, above something fitted, or (outside) above ground"),
    Key("spread", k.COUNT, "so many, evenly round the room, or along the wall of a soffit"),
    Key("on", MapOf(k.COUNT, "{ back = 5, left = 3 }"), "so many on each named wall, evenly"),
    Key("at", ListOf(Either((WALL_PLACE, PAIR, k.ALONG)), 1), "one by one"),
    Key("rows", k.COUNT, "rows on a ceiling; they lie along x"),
    Key("columns", k.COUNT, "points in each row"),
    Key("edge", Either((ListOf(k.LENGTH, 2, 2, '["700 mm", "900 mm"]'), k.LENGTH)),
        "from walls to ends of rows, to outer rows"),
    Key("wall", k.TEXT, "the wall of a soffit"),
    Key("centres", k.EXTENT, "along a soffit, from one to the next"),
    Key("out", k.LENGTH, "along a soffit, how far from the wall; left out, half its depth"),
    Key("avoid", _NAMES, "fitted things to keep clear of"),
    Key("load", k.LOAD, "what one of them takes; left out, the kind's own"),
    Key("priority", k.whole(1, 9), "1 for what to keep longest when money is short; left out, it is always kept"),
))  # fmt: skip

CIRCUIT = TableOf((
    _NAME,
    Key("board", k.TEXT, "the board it starts at", required=True, example='"CU"'),
    Key("wiring", k.words("radial", "ring", "branching", "star"), "how the cable goes from point to point",
        required=True),
    Key("cable", k.TEXT, "a row of cables.csv", required=True, example='"te-2.5"'),
    Key("device", k.TEXT, "a row of devices.csv", required=True, example='"rcbo-b20"'),
    Key("sequence", ListOf(k.TEXT, 1), "all its points in order; left out, the shortest is found"),
    Key("first", ListOf(k.TEXT, 1), "the points nearest the board, in order"),
    Key("last", ListOf(k.TEXT, 1), "the points at the far end, in order"),
    Key("legs", ListOf(ListOf(k.TEXT, 2, 2, '["CU", "A1"]')), "pairs of neighbours, which bind a tree"),
    Key("spurs", MapOf(k.TEXT, '{ S9 = "S4" }'), "points that hang from another by one leg, outside the sequence"),
    Key("keep_to", k.words("any", "walls", "ceiling"),
        "which surfaces its cables may use: walls (lanes and risers, no void), ceiling (its voids, and risers to points)",
        default="any"),
    Key("switching", k.words("at-switch", "at-light"), "where the feed of switched lights loops", default="at-switch"),
    Key("switch_cable", k.TEXT, "cable from switch to lights; left out, the circuit's"),
    Key("strap_cable", k.TEXT, "cable between switches; left out, the three-core of the circuit's size"),
))  # fmt: skip

CONTROL = TableOf((
    _NAME,
    Key("drops", ListOf(k.TEXT, 1), "the circuits it switches off", required=True),
    Key("contactor", k.TEXT, "the board that holds its contactor", required=True, example='"CU"'),
    Key("buttons", ListOf(k.TEXT, 1), "points that stop", required=True, example='["ES1"]'),
    Key("start", k.TEXT, "the point that starts", required=True, example='"GO1"'),
    Key("cable", k.TEXT, "a row of cables.csv", required=True, example='"te-2.5"'),
))  # fmt: skip

DIG = TableOf((
    Key("length", k.EXTENT, "how long", required=True),
    Key("depth", k.EXTENT, "how deep", required=True),
    Key("width", k.EXTENT, "how wide", default="300 mm"),
    Key("surface", k.words(*GROUNDS), "what lies on top", default="lawn"),
), inline=True)  # fmt: skip
TRENCH = TableOf((
    _NAME,
    Key("stretches", ListOf(DIG, 1), "its parts, in order", required=True),
    Key("dig", k.words("by hand", "by machine"), "how it is dug, which the hours go by", default="by hand"),
))  # fmt: skip

STRETCH = TableOf((
    Key("in", k.words("building", "trench"), "what it lies in", required=True),
    Key("trench", k.TEXT, "which trench"),
    Key("length", k.EXTENT, "how long; in a trench, left out, the whole of it"),
), inline=True)  # fmt: skip
ENDS = TableOf((
    Key("from", k.TEXT, 'the kit made off at its start, or "none"'),
    Key("to", k.TEXT, 'the kit made off at its end, or "none"'),
), inline=True)  # fmt: skip
RUN = TableOf((
    _NAME,
    Key("cable", k.TEXT, "a row of cables.csv", required=True, example='"te-2.5"'),
    Key("from", k.TEXT, 'a board, a point, or "outside: ..."', required=True, example='"house"'),
    Key("to", k.TEXT, 'a board, a point, or "outside: ..."', required=True, example='"CU"'),
    Key("stretches", ListOf(STRETCH, 1), "its parts, in order; left out, it is led through the rooms"),
    Key("entry", k.LENGTH, "where it enters a building above ground, at each building", default="450 mm"),
    Key("device", k.TEXT, "a row of devices.csv: the way it takes in the board that feeds it"),
    Key("ends", ENDS, "what is made off at its ends; left out, what the cable needs there"),
))  # fmt: skip

AS_BUILT = TableOf((
    Key("from", k.TEXT, "a board, a point, or the end of a run", required=True, example='"S3"'),
    Key("to", k.TEXT, "a board, a point, or the end of a run", required=True, example='"S4"'),
    Key("circuit", k.TEXT, "the circuit or control it is on, where several have such a leg"),
    Key("run", k.TEXT, "the run that it is, where a leg has the same ends"),
    Key("length", k.EXTENT, "as measured, tails and all", required=True, example='"2.7 m"'),
))  # fmt: skip
