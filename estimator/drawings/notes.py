"""The words under a plan, so that its sheet can be read alone: what letters and ids on it mean, and what is fitted there."""

from dataclasses import dataclass
from math import ceil

from estimator.drawings.key import kinds
from estimator.drawings.storey import Part
from estimator.drawings.svg import text_width

TEXT_MM, LINE_MM = 2.4, 3.15
"""Size of the words and distance of their lines; the page's style has the same."""
USED = 0.9
"""How much of a line's width words take up, before a word that does not fit."""


@dataclass(frozen=True, slots=True)
class Notes:
    """Letters of cables with their names, groups of points with what they are, things fitted with their heights."""

    cables: tuple[tuple[str, str], ...] = ()
    points: tuple[tuple[str, str], ...] = ()
    fitted: tuple[str, ...] = ()

    def height(self, width: float) -> float:
        """About how high they print at a width, mm, on the high side."""
        texts = (_joined("Cables", self.cables), _joined("Points", self.points), f"Fitted {'; '.join(self.fitted)}")
        lines = (
            max(1, ceil(text_width(text, TEXT_MM) * 0.95 / (width * USED)))
            for text, given in zip(texts, (self.cables, self.points, self.fitted), strict=True)
            if given
        )
        return LINE_MM * sum(lines)


def _joined(head: str, pairs: tuple[tuple[str, str], ...]) -> str:
    return f"{head} {'; '.join(f'{mark} {words}' for mark, words in pairs)}"


def notes(part: Part) -> Notes:
    """What has to be said of those rooms: cables by letter, points by label, fitted things in the order of the job."""
    estimate, names = part.of.estimate, part.of.names
    boards = [(board.name, "Board") for board in estimate.setout.boards if board.room in part.rooms]
    return Notes(
        tuple((names[owner], owner.name) for owner in part.owners),
        (
            *boards,
            *((", ".join(groups), label) for label, _, groups in kinds(estimate, part.rooms)),
        ),
        fitted(part),
    )


def fitted(part: Part) -> tuple[str, ...]:
    """Things fitted in those rooms, each with its heights; with the room where there are several."""
    return tuple(
        f"{thing.name}{f' ({shape.room.name})' if len(part.shapes) > 1 else ''} {thing.from_mm} to {thing.to_mm}"
        for shape in part.shapes
        for thing in shape.room.fitted
    )
