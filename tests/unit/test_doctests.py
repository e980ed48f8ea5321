"""What docstrings show is what happens."""

import doctest
from importlib import import_module
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
SHOWING = [
    ".".join(path.relative_to(ROOT).with_suffix("").parts)
    for package in ("calibration", "patterns", "projector")
    for path in sorted((ROOT / package).rglob("*.py"))
    if ">>>" in path.read_text(encoding="utf-8")
]


def test_there_are_docstrings_that_show_something() -> None:
    assert len(SHOWING) > 5


@pytest.mark.parametrize("module", SHOWING)
def test_examples_in_docstrings_hold(module: str) -> None:
    told = doctest.testmod(import_module(module))
    assert told.attempted > 0
    assert told.failed == 0
