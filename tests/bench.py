"""`python -m tests.bench`: what the program costs and where its light falls, beside reference runs."""

from collections.abc import Callable

from tests.bench_alignment import alignment
from tests.bench_light import Row, line_places, moving_a_piece, starting

MEASURES: tuple[Callable[[], list[Row]], ...] = (moving_a_piece, starting, line_places, alignment)


def main() -> None:
    """Run every measure and print its rows."""
    for measure in MEASURES:
        print(f"\n{measure.__doc__}")
        for what, value, beside in measure():
            print(f"  {what:38} {value:>14}   {beside}", flush=True)


if __name__ == "__main__":
    main()
