"""`demo`: what may be typed."""

from argparse import ArgumentParser
from pathlib import Path

from projector.usage.verb import Verb


def options(verb: ArgumentParser) -> None:
    """Add them."""
    verb.add_argument(
        "--out", type=Path, default=Path("demo-out"), metavar="DIR", help="where pictures and files go"
    )
    verb.add_argument("--json", action="store_true", help="print the measured errors as one JSON object")


DEMO = Verb(
    name="demo",
    does="the whole job on a simulated table, without screen, camera or projector",
    example="  chalkbeam demo --out demo-out",
    options=options,
    runs=lambda _: "projector.demo.demo",
)
