"""What a job could have while its walls and ground are open: an `Estimate` goes in, an `Option` for every row of options.csv
comes out, with the changes that make it or the reason why it does not apply.
"""

from collections.abc import Callable, Mapping
from dataclasses import replace

from estimator.catalogue.model import OptionRow
from estimator.compare import options_cables as cables
from estimator.compare import options_ground as ground
from estimator.compare import options_points as points
from estimator.compare import options_rooms as rooms
from estimator.compare.options_corner import corner_cable
from estimator.compare.options_doors import door_light
from estimator.compare.options_here import Here, here_of
from estimator.compare.options_model import Made, Option
from estimator.result import Estimate

Action = Callable[[Here, OptionRow], Made | str]

ACTIONS: Mapping[str, Action] = {
    "box-by-desk": points.box_by_desk,
    "ceiling-alarm": rooms.ceiling_alarm,
    "corner-cable": corner_cable,
    "dig-by-hand": ground.dig_by_hand,
    "dig-by-machine": ground.dig_by_machine,
    "door-light": door_light,
    "duct": ground.duct,
    "fan": rooms.fan,
    "larger-board": cables.larger_board,
    "larger-feed": cables.larger_feed,
    "outside-circuit": points.outside_circuit,
    "second-cable": cables.second_cable,
    "services": ground.services,
    "wall-circuit": points.wall_circuit,
}
"""What each word of the column `action` does."""


def options_for(estimate: Estimate) -> tuple[Option, ...]:
    """Every option of the catalogue for this job, in the order of options.csv, a user's own rows last.

    Names, circuits and places are the first free ones by rules that look at nothing but the job, so that the same job gives
    the same changes.
    """
    here = here_of(estimate)
    return tuple(_option(here, row) for row in estimate.catalogue.options.values())


def _option(here: Here, row: OptionRow) -> Option:
    made = ACTIONS[row.action](here, row)
    if isinstance(made, str):
        return Option(row.option, row.title, row.why, "", None, made)
    changes = replace(made.changes, where=f"option.{row.option}")
    return Option(row.option, row.title, row.why, made.does, changes, "")
