"""A scenario that names an option: what it changes itself and the job's options go in, all its changes come out.

The option comes first; what the scenario says of things that the option adds is said of them there.
"""

from collections.abc import Sequence
from dataclasses import replace

from estimator.compare.address import parts_of
from estimator.compare.changes import Changes, changed
from estimator.compare.options_model import Option
from estimator.job.tree import Tree
from estimator.problems import Problem, Refused
from estimator.quantities import Wrong


def after_option(own: Changes, name: str, options: Sequence[Option]) -> Changes:
    """The changes of an option and then `own`, as one; they stand where `own` does.

    Raises:
        Refused: the option does not apply to this job, or `own` says of what it adds what cannot be.
    """
    option = next(option for option in options if option.name == name)
    if option.changes is None:
        found = f'the option "{name}" does not apply here: {option.reason}'
        others = ", ".join(other.name for other in options if other.changes is not None)
        raise Refused([Problem(own.place, f"{own.where}.option", found, f"take it out, or write one of: {others}")])
    new = Tree(dict(option.changes.add), own.place.file)
    inner = Changes(
        change=tuple(pair for pair in own.change if _names(new, pair[0])),
        remove=tuple(address for address in own.remove if _names(new, address)),
        place=own.place,
        where=own.where,
    )
    new = changed(new, inner)
    return replace(
        own,
        change=(*option.changes.change, *(pair for pair in own.change if pair not in inner.change)),
        remove=(*option.changes.remove, *(address for address in own.remove if address not in inner.remove)),
        add=(*new.data.items(), *own.add),
    )


def _names(new: Tree, address: str) -> bool:
    """Whether an address leads to something that an option adds."""
    parts = parts_of(address)
    if isinstance(parts, Wrong) or len(parts) < 2:
        return False
    things = new.data.get(str(parts[0]), [])
    names = [thing.get("name") for thing in things if isinstance(thing, dict)] if isinstance(things, list) else []
    return parts[1] in names
