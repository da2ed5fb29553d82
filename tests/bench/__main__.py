"""Benchmarks, as ratios within one run: `python -m tests.bench`, or a few of them by name: `python -m tests.bench routes`.

Nothing here is a test with a time limit.
"""

import sys

from tests.bench import buying, cold, growth, house, purchase, routes, sequences, sharing, trees

BENCHES = {
    "cold": cold,
    "growth": growth,
    "sequences": sequences,
    "trees": trees,
    "routes": routes,
    "house": house,
    "buying": buying,
    "purchase": purchase,
    "sharing": sharing,
}


def main(names: list[str]) -> None:
    """Run the benchmarks named, or every one, and print their ratios."""
    for name in names or BENCHES:
        bench = BENCHES[name]
        print(f"== {(bench.__doc__ or name).splitlines()[0]}")
        for line in bench.run():
            print(f"   {line}", flush=True)


main(sys.argv[1:])
