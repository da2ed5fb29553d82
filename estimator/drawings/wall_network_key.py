"""The key to drawings of walls: nothing goes in, one small drawing at 1:1 comes out, with a measure to check the print."""

from collections.abc import Sequence
from dataclasses import replace

from estimator.drawings.dimensions import OVER_MM
from estimator.drawings.shell import HAIR_MM, THICK_MM
from estimator.drawings.svg import CABLE, INK, LIGHT, Drawing, finished, root
from estimator.drawings.wall_network import (
    BEHIND_DASH,
    BOX_MM,
    CABLE_MM,
    CUT_MM,
    HOLE_MM,
    LINE_MM,
    OUTSIDE_DASH,
    STUD,
    TONE,
    WAY_DASH,
)
from estimator.drawings.wall_network_ink import dashes, frame, lettering, mm, ring, slash, stroked, track, words

WIDTH_MM, ROW_MM, PICTURE_MM, TEXT_MM = 104.0, 4.8, 14.0, 2.4
BAR_MM = 100.0


def wall_key() -> Drawing:
    """What the marks mean; the line at its foot is 100 mm long on paper."""
    rows = _rows()
    height = ROW_MM * len(rows) + 9
    title, desc = "Key to the drawings of walls", "; ".join(text for _, text in rows)
    empty = finished(root(WIDTH_MM, height, 1, (-1, 0), "key", title, desc), WIDTH_MM, height, 1, title)
    parts: list[str] = []
    rules: list[str] = []
    texts: list[str] = []
    for index, (picture, text) in enumerate(rows):
        middle = ROW_MM * (index + 0.5)
        parts.append(f'<g transform="translate(0 {mm(middle)})">{picture}</g>')
        rules.append(track([(PICTURE_MM, -middle - ROW_MM / 2), (WIDTH_MM - 2, -middle - ROW_MM / 2)]))
        texts.append(words(text, PICTURE_MM, -middle - 0.36 * TEXT_MM))
    body = (*parts, stroked(rules, HAIR_MM, 1, LIGHT), lettering(texts, TEXT_MM, 1), _measure(-height + 3))
    return replace(empty, svg=f"{empty.svg.removesuffix('</svg>')}{''.join(body)}</svg>")


def _rows() -> Sequence[tuple[str, str]]:
    """Pictures about a middle at nought, 11 mm wide, and what they stand for."""
    level, half = track([(0, 0), (11, 0)]), track([(0, 0), (5.5, 0)])
    box, large = frame(4, 7, -0.9, 0.9), frame(1, 10, -1.4, 1.4)
    way, outside, behind = dashes(WAY_DASH, 1), dashes(OUTSIDE_DASH, 1), dashes(BEHIND_DASH, 1)
    cut = stroked([half], LINE_MM, 1, CABLE, dash=way) + stroked([slash(5.5, 0, 1)], CUT_MM, 1, CABLE)
    return (
        (stroked([large], HAIR_MM, 1, LIGHT, TONE), "cable zone"),
        (stroked([level], LINE_MM, 1, CABLE, dash=way), "lane (level) or riser (upright): where a cable may run"),
        (cut, "an opening cuts it here"),
        (stroked([level], CABLE_MM, 1, CABLE), "one or more cables of this job run here"),
        (
            stroked([level], CABLE_MM, 1, CABLE) + stroked([ring(5.5, 1.2, HOLE_MM)], BOX_MM, 1, CABLE, "#fff"),
            "hole set off from its lane or riser; others are on it",
        ),
        (stroked([frame(5, 6, -1.9, 1.9)], HAIR_MM, 1, STUD), "stud"),
        (stroked([large], THICK_MM, 1, INK, "#fff"), "opening"),
        (stroked([box], BOX_MM, 1, INK, "#fff"), "box or board on this wall, to scale"),
        (stroked([box], BOX_MM, 1, INK, dash=outside), "box on the outside of this wall, reached through it"),
        (
            stroked([level], CABLE_MM, 1, CABLE, dash=behind) + stroked([box], BOX_MM, 1, INK, "#fff", behind),
            "cable, box or board in the wall of the room behind this one",
        ),
    )


def _measure(y: float) -> str:
    """A line to hold a ruler to."""
    line = stroked([track([(0.2 - OVER_MM, y), (BAR_MM + OVER_MM, y)])], HAIR_MM, 1, INK)
    ends = stroked([slash(x, y, 1) for x in (0, BAR_MM)], 0.35, 1, INK)
    text = words("100 mm on paper, when printed at 100 %", BAR_MM / 2, y + 0.8)
    return line + ends + lettering([text], TEXT_MM, 1, "middle")
