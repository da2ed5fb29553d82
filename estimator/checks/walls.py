"""Walls: what is in them has to be known before anyone can say what a cable in them carries."""

from estimator.checks.model import Finding
from estimator.job.model import Job
from estimator.setout.model import SetOut


def insulation(job: Job, placed: SetOut) -> tuple[Finding, ...]:
    """One `unchecked` for each room with points on a wall of which nothing says what fills it."""
    used = {(point.room, point.wall) for point in placed.points if point.wall is not None}
    told = []
    for room in job.rooms:
        silent = [
            name
            for name, frame in zip(room.wall_names, room.frames, strict=True)
            if not frame.insulation_given and (room.name, name) in used
        ]
        if silent:
            told.append(
                Finding(
                    "wall-insulation",
                    "unchecked",
                    room.name,
                    f"Nothing says what fills the walls of {room.name} "
                    f"({', '.join(silent)}). A cable in insulation carries much less: write insulation under [frame], or "
                    '"none".',
                    source="BS 7671 Table 4D5 (reference methods)",
                    edition="BS 7671:2018+A2:2022",
                )
            )
    return tuple(told)
