"""The keys of the building: `[frame]` and `[[room]]` with all that stands in it."""

from estimator.job import kinds as k
from estimator.job.shapes import Either, Key, ListOf, TableOf

_LAYERS = Either((ListOf(k.LAYER), k.NO_LAYERS))
PAIR = ListOf(k.LEVEL, 2, 2, '["3 m", "2 m"]')

FRAME = TableOf((
    Key("stud", k.SECTION, "upright timbers, thickness x depth"),
    Key("centres", k.STUD_CENTRES, "from the middle of one stud to the middle of the next"),
    Key("inside", _LAYERS, "what closes the wall inside, from the stud to the room"),
    Key("outside", _LAYERS, "what covers the wall outside, from the stud outwards"),
    Key("insulation", k.INSULATION, 'what fills the frame, or "none"; left out, checks that need it say "unchecked"'),
    Key("vapour_layer", k.SWITCH, "whether a vapour layer lies behind the lining"),
    Key("gap", k.SIZE, "service gap between stud and lining", default="0 mm"),
    Key("noggin", k.NOGGIN, "timber across a bay that carries a box; left out, as the studs, flat"),
    Key("hole", k.HOLE, "where cables pass in the depth of a stud", default="centre"),
    Key("cable_zones", k.words("keep", "protected"), "protected: cables guarded mechanically, zones do not bind",
        default="keep"),
    Key("support", k.words("clip", "groove", "none"), "what holds cables between holes", default="clip"),
))  # fmt: skip

_SPAN = k.words(
    "along x",
    "along y",
    meant={
        "front to back": "along y",
        "back to front": "along y",
        "left to right": "along x",
        "right to left": "along x",
    },
    told="x from left to right, y from front to back",
)
CEILING = TableOf((
    Key("void", k.SWITCH, "whether cables may run above the ceiling", default=True),
    Key("joist", k.SECTION, "thickness x depth"),
    Key("centres", k.JOIST_CENTRES, "from the middle of one joist to the middle of the next"),
    Key("span", _SPAN, 'which way the joists lie: "along x" or "along y"'),
    Key("insulation", k.INSULATION, 'what lies among the joists, or "none"'),
), inline=True)  # fmt: skip
FLOOR = TableOf((
    Key("void", k.SWITCH, "whether cables may run under the floor", default=False),
    *CEILING.keys[1:],
), inline=True)  # fmt: skip

_WALLS = "back, right, front, left; or wall-1, wall-2 ... of an outline"
_WALL = Key("wall", k.TEXT, _WALLS, required=True, example='"back"')
_ALONG = Key("along", k.LENGTH, "its left edge, from the wall's left end seen from inside", required=True,
             example='"0.6 m"')  # fmt: skip
OPENING = TableOf((
    Key("kind", k.words("door", "window", "doorway"), "door, window, or doorway (without a door)", required=True),
    _WALL,
    _ALONG,
    Key("width", k.OPENING_SIZE, "clear width between the studs at its sides", required=True, example='"0.9 m"'),
    Key("sill", k.LENGTH, "its lower edge above the floor; a door or doorway may leave it out"),
    Key("head", k.OPENING_SIZE, "its upper edge above the floor", required=True, example='"2.1 m"'),
))  # fmt: skip
FITTED = TableOf((
    Key("name", k.TEXT, "what it is", required=True),
    _WALL,
    _ALONG,
    Key("width", k.EXTENT, "how far it reaches along the wall", required=True),
    Key("from", k.LENGTH, "its lower edge above the floor", default="0 mm"),
    Key("to", k.EXTENT, "its upper edge above the floor", required=True),
    Key("fixings", k.FIXINGS, "length of its screws, and how high they stand"),
))  # fmt: skip
SOFFIT = TableOf((
    _WALL,
    Key("depth", k.EXTENT, "how far it hangs over", required=True),
))  # fmt: skip
WALL = TableOf((
    Key("name", k.TEXT, _WALLS, required=True, example='"back"'),
    Key("frame", TableOf(FRAME.keys, inline=True), "keys of [frame] that differ on this wall", required=True),
))  # fmt: skip
LIGHTING = TableOf((
    Key("target", k.LUX, "light wanted on the working plane", required=True),
    Key("plane", k.LENGTH, "height of the working plane", default="0 mm"),
    Key("maintenance", k.number(k.NOTHING, k.ONE), "share of the first light that is left with age and dust",
        default=k.USUAL_MAINTENANCE),
), inline=True)  # fmt: skip

ROOM = TableOf((
    Key("name", k.TEXT, "what you call it", required=True),
    Key("size", ListOf(k.ROOM_SIZE, 2, 2, '["6.0 m", "4.0 m"]'), "along x and along y, inside the frame"),
    Key("outline", ListOf(PAIR, 1, 200), "in place of size: the corners, clockwise seen from above"),
    Key("at", PAIR, "plan position of its lowest x and y", default=["0 m", "0 m"]),
    Key("floor_level", k.LEVEL, "its floor above the floor that heights of storeys count from", default="0 m"),
    Key("ground", k.LEVEL, "outside ground above (+) or below (-) the floor"),
    Key("height", k.ROOM_HEIGHT, "from floor to ceiling", required=True, example='"2.4 m"'),
    Key("ceiling", CEILING, "the joists above, and whether cables may run there"),
    Key("floor", FLOOR, "the joists below, and whether cables may run there"),
    Key("lighting", LIGHTING, "how light it should be", later=True),
    Key("frame", FRAME, "keys of [frame] that differ in this room"),
    Key("wall", ListOf(WALL), "walls whose frame differs"),
    Key("opening", ListOf(OPENING), "doors, windows and doorways"),
    Key("fitted", ListOf(FITTED), "what will stand or hang at a wall"),
    Key("soffit", ListOf(SOFFIT), "overhangs outside a wall"),
))  # fmt: skip
