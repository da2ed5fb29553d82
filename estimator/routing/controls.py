"""Controls: an emergency stop's loop goes in; its legs, in working order, come out."""

from estimator.job.model import Control
from estimator.routing.legs import Setting, Step, write_legs
from estimator.routing.model import ControlRoute
from estimator.routing.sequences import chain
from estimator.routing.solving import costs_from, named


def route_control(setting: Setting, control: Control) -> ControlRoute:
    """The shortest chain from the contactor's board through the start button and every stop button.

    Raises:
        Refused: a button that no lane reaches.
    """
    names = setting.in_order((control.start, *control.buttons))
    nodes = (control.contactor, *names)
    costs = costs_from(setting, control.contactor, names)
    solved = named(nodes, chain(costs.between(nodes), start=0))
    steps = [Step(start, end, control.cable, "control") for start, end in solved.pairs]
    legs = write_legs(setting, control.name, steps)
    return ControlRoute(control.name, control.contactor, control.drops, control.cable, legs, control.place)
