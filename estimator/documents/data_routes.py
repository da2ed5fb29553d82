"""Circuits, controls, runs, legs and drilled holes as estimate.json has them."""

from typing import Any

from estimator.documents.data_numbers import metres, number, place
from estimator.job.model import Run, Stretch
from estimator.routing.model import CircuitRoute, ControlRoute, Drilled, Holes, Leg, Path, RunRoute


def circuit_data(circuit: CircuitRoute) -> dict[str, Any]:
    """One circuit with its legs in working order."""
    return {
        "name": circuit.name,
        "board": circuit.board,
        "wiring": circuit.wiring,
        "cable": circuit.cable,
        "sequence": list(circuit.sequence),
        "route_m": metres(circuit.route_mm),
        "bound_m": metres(circuit.bound_mm),
        "proven": circuit.proven,
        "legs": [leg_data(leg) for leg in circuit.legs],
    }


def control_data(control: ControlRoute) -> dict[str, Any]:
    """One control with the legs of its loop in working order."""
    return {
        "name": control.name,
        "board": control.board,
        "drops": list(control.drops),
        "cable": control.cable,
        "legs": [leg_data(leg) for leg in control.legs],
    }


def leg_data(leg: Leg) -> dict[str, Any]:
    """One leg."""
    return {
        "id": leg.id,
        "from": leg.start,
        "to": leg.end,
        "cable": leg.cable,
        "use": leg.use,
        "route_m": metres(leg.route_mm),
        "length_m": metres(leg.length_mm),
        "cut_m": metres(leg.cut_mm),
        "holes": holes_data(leg.holes),
        "supports": leg.supports,
        "route": _route(leg.path),
        "planned_m": metres(leg.planned_mm),
    }


def run_data(run: RunRoute, given: Run) -> dict[str, Any]:
    """One run, beside what the job says of it; with stretches it has no route, and one in a building has no trench."""
    return {
        "id": run.id,
        "name": run.name,
        "cable": run.cable,
        "from": run.start,
        "to": run.end,
        "route_m": metres(run.route_mm),
        "length_m": metres(run.length_mm),
        "cut_m": metres(run.cut_mm),
        "holes": holes_data(run.holes),
        "supports": run.supports,
        "route": _route(run.path),
        "stretches": [_stretch(stretch) for stretch in given.stretches],
        "planned_m": metres(run.planned_mm),
    }


def _stretch(stretch: Stretch) -> dict[str, Any]:
    return {
        "in": "building" if stretch.trench is None else "trench",
        "trench": stretch.trench,
        "length_m": metres(stretch.length_mm),
    }


def holes_data(holes: Holes) -> dict[str, int]:
    """Passages by kind, all four kinds."""
    return {"stud": holes.stud, "plate": holes.plate, "joist": holes.joist, "wall": holes.wall}


def drilling_data(drilled: Drilled) -> dict[str, Any]:
    """One drilled hole; `at` is its own place, beside that of the first hole where one place takes several."""
    passage = drilled.passage
    return {
        "member": passage.member,
        "kind": passage.kind,
        "room": passage.room or None,
        "wall": passage.wall or None,
        "at": place(drilled.at),
        "legs": list(drilled.legs),
        "bit_mm": None if drilled.bit_mm is None else number(drilled.bit_mm),
        "bound_by": drilled.bound_by or None,
        "on_member_m": metres(drilled.on_member_mm),
        "hole": drilled.set_off.number if drilled.set_off else 1,
        "of_holes": drilled.set_off.of if drilled.set_off else 1,
        "ask_first": drilled.ask_first or None,
    }


def _route(path: Path | None) -> list[list[int | float]]:
    return [place(point) for point in path.points] if path else []
