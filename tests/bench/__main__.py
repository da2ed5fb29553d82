"""Benchmarks, as ratios within one run: `python -m tests.bench`. Nothing here is a test with a time limit."""

from tests.bench import cold, growth


def main() -> None:
    """Run every benchmark and print its ratios."""
    for bench in (cold, growth):
        print(f"== {bench.__doc__}")
        for line in bench.run():
            print(f"   {line}", flush=True)


main()
