"""Takes a `Job`; gives its `Building`: every room with its walls, studs and joists as geometry."""

from decimal import Decimal

from estimator.building.joists import joists
from estimator.building.model import Building, RoomShape
from estimator.building.openings import with_openings_of_both_faces
from estimator.building.walls import walls
from estimator.job.model import Job, Room


def build(job: Job, back_to_back_mm: Decimal | None = None) -> Building:
    """Build every room of the job.

    Rooms are ordered by floor level, y, x of the plan, then name. An opening that one room names in a wall which lies
    within `back_to_back_mm` of another room's is an opening of that room's face too; without the figure, only where both
    name it. Raises ValueError for a wall without length.
    """
    shapes = (shape_of(room) for room in job.rooms)
    building = Building(tuple(sorted(shapes, key=_order)))
    return building if back_to_back_mm is None else with_openings_of_both_faces(building, back_to_back_mm)


def shape_of(room: Room) -> RoomShape:
    """Build one room: its walls clockwise, the length of them all, and the joists of its two voids."""
    around = walls(room)
    return RoomShape(
        room=room,
        walls=around,
        perimeter_mm=sum(wall.length_mm for wall in around),
        ceiling=joists(room, "ceiling"),
        floor=joists(room, "floor"),
    )


def _order(shape: RoomShape) -> tuple[int, int, int, str]:
    room = shape.room
    return (room.floor_level_mm, room.at[1], room.at[0], room.name)
