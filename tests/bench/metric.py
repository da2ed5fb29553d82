"""Random places in a two-storey house and what it takes to get between them by right angles, in whole mm.

Storeys of 10.8 x 8.4 m with four lines of wall each way. On one wall at one height straight along; else up to the void
over the lower storey or over the upper, across by right angles, and down again.
"""

import random

ALONG_X, ALONG_Y = (0, 3600, 7200, 10800), (0, 2800, 5600, 8400)
HEIGHTS = (450, 1100, 1400)
CEILING, FLOOR = 2400, 2650
Place = tuple[int, int, int, int]
"""x, y, height above the storey's floor, storey."""


def house_costs(count: int, seed: int) -> list[list[int]]:
    """The matrix of `count` places; number 0 is where the board hangs."""
    pick = random.Random(seed)
    places = [(0, 2000, 1400, 0), *(_place(pick) for _ in range(count - 1))]
    return [[_cost(a, b) for b in places] for a in places]


def _place(pick: random.Random) -> Place:
    storey, height = pick.randrange(2), pick.choice(HEIGHTS)
    if pick.random() < 0.5:
        return pick.choice(ALONG_X), pick.randrange(ALONG_Y[-1] + 1), height, storey
    return pick.randrange(ALONG_X[-1] + 1), pick.choice(ALONG_Y), height, storey


def _cost(a: Place, b: Place) -> int:
    across = abs(a[0] - b[0]) + abs(a[1] - b[1])
    on_one_wall = (a[0] == b[0] and a[0] in ALONG_X) or (a[1] == b[1] and a[1] in ALONG_Y)
    if a[3] == b[3]:
        by_void = min(_up(a) + _up(b), _down(a) + _down(b))
        return across + (abs(a[2] - b[2]) if on_one_wall else by_void)
    low, high = (a, b) if a[3] < b[3] else (b, a)
    return across + _up(low) + FLOOR - CEILING + high[2]


def _up(place: Place) -> int:
    return CEILING - place[2]


def _down(place: Place) -> int:
    """To the void under the storey; the lower one stands on the ground."""
    return place[2] if place[3] else 2 * CEILING
