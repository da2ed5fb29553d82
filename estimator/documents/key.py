"""The one table of words and abbreviations that documents explain: names go in, names with their meanings come out.

Every document says which of them it uses, so that someone who holds one sheet of paper need not look for another.
"""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

Key = tuple[tuple[str, str], ...]

ABBREVIATIONS: Key = (
    ("nr", "number, pieces"),
    ("m, mm", "metre, millimetre (1 m = 1,000 mm)"),
    ("m2, mm2", "square metre; square millimetre (size of a conductor)"),
    ("kg", "kilogram"),
    ("A, V, W, kW", "ampere, volt, watt, kilowatt"),
    ("lm, lx", "lumen, lux"),
    ("VAT", "value added tax; ex: without it, inc: with it"),
    ("MCB", "circuit breaker"),
    ("RCBO", "circuit breaker with residual current protection"),
    ("SWA", "steel wire armoured cable"),
    ("IP", "degree of protection of an enclosure (IEC 60529)"),
    ("te, te3", "flat twin and earth, flat three-core and earth; the number is mm2"),
)

WORDS: Mapping[str, str] = MappingProxyType(
    {
        "point, group": "a point is one place where something is fixed; S3 is point 3 of group S",
        "board, way": "where circuits start: a consumer unit or a sub-board; a way is the place of one circuit in it",
        "leg": "one unbroken piece of cable between two neighbours on a circuit",
        "run": "one cable between two places that is no circuit: a supply, a data link, a control cable",
        "tail": "spare cable left at an end, outside the box",
        "radial, ring": "a circuit as one chain of cable from the board; a ring comes back to the board",
        "branching, star": "a circuit as a tree; a star has a cable of its own to each point",
        "spur": "a point that hangs from another by one cable, outside the chain",
        "feed, switched": "what a leg is for: to bring the supply, or to go from a switch to its lights",
        "strap, strapper": "three-core cable between switches that work the same lights",
        "first fix, second fix": "work before the walls are closed, and work after",
        "lane, riser": "lines of a wall that cables of this job follow: a lane along it, a riser up it",
        "cable zone": "a strip of wall where a cable may lie hidden, since what is fixed to the wall, or its edge, shows it",
        "stud, bay": "an upright timber of a wall; a bay is the space between two of them",
        "plate": "the level timber at the head or the foot of a wall",
        "joist, void": "a timber of a ceiling or a floor; the void is the hollow between them",
        "noggin": "a short timber across a bay, to fix a box to",
        "set-back, spacer": "how far a noggin stands behind the face of the studs; the spacer is what fills the rest behind it",
        "lining": "what closes a wall inside, such as plasterboard",
        "soffit": "the underside of an overhang outside a wall",
        "kit": "the parts that one thing needs, such as a point, a metre or a hole",
    }
)
"""One word for one thing; words explained together stand together."""

QUOTE = tuple(name for name in WORDS if name != "kit")
WALL_ZONES = (
    "board, way",
    "leg",
    "run",
    "lane, riser",
    "cable zone",
    "stud, bay",
    "plate",
    "joist, void",
    "point, group",
)
COMPARISON = (
    *(
        "point, group",
        "board, way",
        "leg",
        "run",
        "radial, ring",
        "feed, switched",
        "first fix, second fix",
        "lane, riser",
    ),
    *("cable zone", "stud, bay", "plate", "joist, void", "noggin", "lining", "soffit", "kit"),
)
WORKBOOK = tuple(WORDS)
SET_OUT = ("point, group", "noggin", "set-back, spacer", "stud, bay", "soffit")
DRILLING = ("lane, riser", "leg", "run", "stud, bay", "plate", "joist, void")
CABLES = (
    *("leg", "run", "tail", "radial, ring", "branching, star", "spur", "feed, switched", "strap, strapper"),
    *("board, way", "stud, bay", "plate", "joist, void"),
)
CUTTING = ("leg", "run", "tail", "noggin", "soffit")
FINDINGS = (
    "point, group",
    "board, way",
    "lane, riser",
    "cable zone",
    "noggin",
    "set-back, spacer",
    "stud, bay",
    "plate",
    "joist, void",
)
"""Names of `WORDS` that documents and sheets use."""


def key_of(names: Sequence[str]) -> Key:
    """These words with their meanings, in the order of the table.

    Raises: KeyError for a name that the table does not have.
    """
    wanted = {name: WORDS[name] for name in names}
    return tuple((name, meaning) for name, meaning in WORDS.items() if name in wanted)


def told_alone(key: Key) -> tuple[str, ...]:
    """A key as texts, a word each."""
    return tuple(f"{name}: {meaning}" for name, meaning in key)


def in_a_line(key: Key) -> str:
    """A key as one text, for the foot of a sheet."""
    return ". ".join(told_alone(key)) + "."
