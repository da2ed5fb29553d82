"""Which of several holes one is, and where from the way of the cables: its set-off and passage go in, words come out."""

from estimator.routing.model import Passage, SetOff

SIDES = {
    ("stud", ""): ("above", "below", "lane"),
    ("plate", ""): ("right of", "left of", "riser"),
    ("wall", ""): ("right of", "left of", "cables' line"),
    ("joist", "x"): ("behind", "in front of", "cables' line"),
    ("joist", "y"): ("right of", "left of", "cables' line"),
}
"""On either side of where the cables run, and what that is called, by kind of member and the axis joists are counted on."""


def which_of_several(hole: SetOff, passage: Passage) -> str:
    """`hole 2 of 3, 60 mm above the lane`."""
    further, back, line = SIDES[passage.kind, passage.joist_axis]
    if not hole.by_mm:
        return f"hole {hole.number} of {hole.of}, on the {line}"
    return f"hole {hole.number} of {hole.of}, {abs(hole.by_mm)} mm {further if hole.by_mm > 0 else back} the {line}"
