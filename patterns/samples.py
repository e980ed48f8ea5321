"""The example patterns that come with the program."""

from importlib.resources import files
from pathlib import Path

from patterns.errors import PatternError


def example_names() -> tuple[str, ...]:
    """The names of the examples, in order of the alphabet."""
    return tuple(sorted(path.stem.replace("_", " ") for path in _folder().glob("*.yaml")))


def example(name: str) -> Path:
    """The file of the example so named, "harbour overtop"; PatternError if there is none."""
    if name not in example_names():
        raise PatternError(f'there is no example "{name}"; there are {", ".join(example_names())}')
    return _folder() / f"{name.replace(' ', '_')}.yaml"


def _folder() -> Path:
    return Path(str(files("patterns"))) / "examples"
