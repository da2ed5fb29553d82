"""What to write where a key is unknown, missing, or holds the wrong kind of thing: words for messages, no checks."""

from estimator.job.keys import all_keys
from estimator.job.kinds import Kind
from estimator.job.shapes import Either, Home, ListOf, MapOf, Shape, TableOf
from estimator.job.tree import Path
from estimator.problems import choose
from estimator.quantities import Wrong, show


def example(shape: Shape) -> str:
    """A value of that shape as it would stand in the file."""
    match shape:
        case Kind():
            return shape.example
        case TableOf():
            keys = [key for key in shape.keys if key.required] or [shape.keys[0]]
            inside = ", ".join(f"{key.name} = {key.example or example(key.shape)}" for key in keys)
            return f"{{ {inside} }}"
        case ListOf():
            return shape.example or f"[{example(shape.item)}]"
        case MapOf():
            return shape.example
        case Either():
            return example(shape.options[-1])


def no_list(shape: ListOf, value: object, path: Path) -> Wrong:
    """What to say of a value where a list belongs."""
    if isinstance(value, dict) and isinstance(shape.item, TableOf) and not shape.item.inline:
        name = ".".join(part for part in path if isinstance(part, str))
        return Wrong(f"[{name}] makes a single table", f"write [[{name}]], in double brackets, for each one")
    if shape.least == 2:
        return Wrong(f"{show(value)} is not a pair", f"write two in square brackets: {example(shape)}")
    if isinstance(value, dict):
        return Wrong("a table stands alone where a list belongs", "write it in square brackets: [{ ... }]")
    shown = show(value)
    return Wrong(f"{show(value)} is not a list", f"write it in square brackets: [{shown}]")


def wrong_count(shape: ListOf, count: int) -> Wrong:
    """What to say of a list with too few or too many items."""
    if shape.least == shape.most:
        return Wrong(f"the list has {_items(count)}", f"write {shape.least}: {example(shape)}")
    if count == 0:
        return Wrong("the list is empty", "write at least one, or take the line out")
    return Wrong(f"the list has {_items(count)}", f"write from {shape.least} to {shape.most}")


def _items(count: int) -> str:
    return "one item" if count == 1 else f"{count} items"


def belongs(shape: TableOf, tables: tuple[str, ...], name: str) -> str:
    """Where an unknown key belongs, or which known key is like it; `tables` are the names leading to its table."""
    homes = [home for home, key in all_keys() if key.name == name]
    if not homes:
        return choose(name, [key.name for key in shape.keys])
    best = min(_distance(home, tables) for home in homes)
    titles = [home.title for home in homes if _distance(home, tables) == best]
    if best == 0:
        return f"{name} belongs at {titles[0]}"
    if len(titles) > 3:
        return f"{name} belongs in a table of its own kind, such as {titles[0]}"
    return f"{name} belongs in {' or in '.join(titles)}"


def _distance(home: Home, tables: tuple[str, ...]) -> int:
    """How likely it is that a key found in the table `tables` was meant for `home`: 0 is most likely."""
    if not home.tables:
        return 0
    if home.tables[: len(tables)] == tables:
        return 1
    return 2 if tables[: len(home.tables)] == home.tables else 3
