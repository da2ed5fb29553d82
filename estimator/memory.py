"""What was worked out before: a key and a way to work something out go in, what it comes to comes out.

Several estimates of one job, each with a small change, share a `Memory` that is handed to them: work that a change does
not touch is then done once. A key must hold everything the result depends on. Values that are equal may have been
written at different places, and places do not count for equality: what a result takes places from stands in its key as
`Same`, the very object.
"""

from collections.abc import Callable, Hashable, Iterable
from typing import Final, TypeVar

T = TypeVar("T")


class Same:
    """An object as part of a key: equal to itself alone, and kept, so that no later object is taken for it."""

    __slots__ = ("thing",)

    def __init__(self, thing: object) -> None:
        self.thing = thing

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Same) and self.thing is other.thing

    def __hash__(self) -> int:
        return id(self.thing)


def same(things: Iterable[object]) -> tuple[Same, ...]:
    """Several objects as part of a key, in their order."""
    return tuple(map(Same, things))


class Memory:
    """Results by key, for as long as someone holds it."""

    __slots__ = ("_kept",)

    def __init__(self) -> None:
        self._kept: dict[Hashable, object] = {}

    @property
    def keeps(self) -> bool:
        """Whether it is worth making a key."""
        return True

    def recall(self, key: Hashable, make: Callable[[], T]) -> T:
        """What `make` gave for the key, asked once; what it raises is not kept.

        The first item of a key names what is kept, and one name goes with one `make`.
        """
        kept = self._kept
        if key not in kept:
            kept[key] = make()
        return kept[key]  # type: ignore[return-value]  # one name goes with one type


class _Nothing(Memory):
    """Keeps nothing: everything is worked out whenever it is asked for."""

    __slots__ = ()

    @property
    def keeps(self) -> bool:
        return False

    def recall(self, key: Hashable, make: Callable[[], T]) -> T:
        return make()


NOTHING: Final[Memory] = _Nothing()
"""For one estimate by itself: nothing is kept, so that it can be shared by all."""
