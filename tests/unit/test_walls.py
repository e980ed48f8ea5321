"""The walls between packages, read from the syntax trees, and what shows at the top of the repository."""

import ast
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

import pytest

HOUSE = Path(__file__).resolve().parents[2]
PACKAGES = ("calibration", "patterns", "projector")
SEEN_AT_THE_TOP = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "projector",
    "calibration",
    "patterns",
    "tests",
}
LEFT_BY_TOOLS = {"build", "dist", "demo-out", "__pycache__"}
TOUCH_THE_SCREEN = {
    "projector/display_name.py",
    "projector/window.py",
    "projector/keys.py",
    "projector/x_server.py",
}
MOST_LINES = 320


def files(package: str) -> list[Path]:
    return sorted((HOUSE / package).rglob("*.py"))


def imports_in(source: str) -> tuple[ast.Import | ast.ImportFrom, ...]:
    """All imports anywhere in the source."""
    return tuple(
        node for node in ast.walk(ast.parse(source)) if isinstance(node, ast.Import | ast.ImportFrom)
    )


@cache
def imports_of(path: Path) -> tuple[ast.Import | ast.ImportFrom, ...]:
    """All imports of a file, read once for all walls."""
    return imports_in(path.read_text(encoding="utf-8"))


def first_names(imports: Iterable[ast.Import | ast.ImportFrom]) -> Iterator[str]:
    for node in imports:
        if isinstance(node, ast.Import):
            yield from (alias.name.split(".")[0] for alias in node.names)
        elif node.module and node.level == 0:
            yield node.module.split(".")[0]


def imports(path: Path) -> set[str]:
    return set(first_names(imports_of(path)))


def test_the_reader_of_imports_sees_those_within_functions() -> None:
    source = "import a.b\ndef f():\n    from c.d import e\nif x:\n    import g as h\nfrom . import i\n"
    assert set(first_names(imports_in(source))) == {"a", "c", "g"}


@pytest.mark.parametrize("package", ["calibration", "patterns"])
def test_the_two_halves_import_none_of_ours_but_themselves(package: str) -> None:
    others = {*PACKAGES, "tests"} - {package}
    assert files(package)
    for path in files(package):
        assert not imports(path) & others, path


def test_the_app_does_not_import_tests() -> None:
    for path in files("projector"):
        assert "tests" not in imports(path), path


def test_only_files_that_touch_the_screen_import_the_window_library() -> None:
    found = {
        path.relative_to(HOUSE).as_posix()
        for package in PACKAGES
        for path in files(package)
        if "pygame" in imports(path)
    }
    assert found == TOUCH_THE_SCREEN


def test_nothing_imports_relatively() -> None:
    for package in PACKAGES:
        for path in files(package):
            relative = [node for node in imports_of(path) if isinstance(node, ast.ImportFrom) and node.level]
            assert not relative, path


def test_the_top_shows_only_what_belongs_there() -> None:
    shown = {
        path.name
        for path in HOUSE.iterdir()
        if not path.name.startswith(".") and path.name not in LEFT_BY_TOOLS and path.suffix != ".egg-info"
    }
    assert shown == SEEN_AT_THE_TOP


def test_files_are_short_enough_for_one_idea() -> None:
    long = {
        str(path.relative_to(HOUSE)): len(path.read_text(encoding="utf-8").splitlines())
        for package in PACKAGES
        for path in files(package)
    }
    assert {name: lines for name, lines in long.items() if lines > MOST_LINES} == {}
