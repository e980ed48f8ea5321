"""The tree of an SVG file that nobody has vouched for: no document type, no depth without end, and its true size."""

import re
from typing import Final, NoReturn
from xml.etree import ElementTree
from xml.parsers import expat

import numpy as np

from patterns.errors import PatternError
from patterns.exchange.svg_shapes import PIXEL_IN, UNITS_IN, Matrix, length, numbers, times

DEEPEST: Final = 100  # groups within groups
MOST_ELEMENTS: Final = 400_000
_LABEL: Final = re.compile(r"\{[^}]*\}label")
_MADE_UP: Final = re.compile(
    r"(path|polygon|polyline|line|rect|circle|ellipse|g|group|layer|svg|use|shape|_)?[-_ 0-9.]*", re.I
)
_SIZE: Final = re.compile(r"\s*([\d.eE+-]+)\s*(\w+)\s*")


def parsed(content: bytes, file: object) -> ElementTree.Element:
    """The root of the tree; PatternError where it is no SVG, has a document type, or is without end."""
    try:
        _check(content, file)
        root = ElementTree.fromstring(content)
    except (
        expat.ExpatError,
        ElementTree.ParseError,
        LookupError,
    ) as wrong:  # the last, of an unknown encoding
        raise PatternError(f"{file}: is no SVG that can be read ({wrong}); export it again") from wrong
    if tag_of(root) != "svg":
        raise PatternError(f"{file}: found <{tag_of(root)}>, where an SVG drawing was needed")
    return root


def _check(content: bytes, file: object) -> None:
    depth = count = 0

    def begins(tag: str, _: dict[str, str]) -> None:
        nonlocal depth, count
        depth, count = depth + 1, count + 1
        if depth > DEEPEST or count > MOST_ELEMENTS:
            raise PatternError(
                f"{file}: more than {MOST_ELEMENTS:,} elements, or groups more than {DEEPEST} deep, are no pattern; "
                "export the pieces alone"
            )

    def ends(_: str) -> None:
        nonlocal depth
        depth -= 1

    def typed(*_: object) -> NoReturn:
        raise PatternError(
            f"{file}: found a document type (<!DOCTYPE ...>), which may open other files; export it again as plain "
            "SVG, or delete that line"
        )

    reader = expat.ParserCreate()
    reader.StartElementHandler, reader.EndElementHandler = begins, ends
    reader.StartDoctypeDeclHandler = typed
    reader.Parse(content, True)


def tag_of(element: ElementTree.Element) -> str:
    """The name of an element, without its namespace; empty for comments."""
    return element.tag.rpartition("}")[2] if isinstance(element.tag, str) else ""


def target_of(element: ElementTree.Element) -> str:
    """What a `use` repeats: "#pocket"."""
    return next((value for key, value in element.attrib.items() if key.rpartition("}")[2] == "href"), "")


def names_of(element: ElementTree.Element) -> tuple[str, ...]:
    """What an element is called: its class, its title, a label, its id; names that a program made up left out."""
    title = next((child.text or "" for child in element if tag_of(child) == "title"), "")
    label = next((value for key, value in element.attrib.items() if _LABEL.fullmatch(key)), "")
    names = (element.get("class", ""), " ".join(title.split()), label, element.get("id", ""))
    return tuple(name for name in names if name and not _MADE_UP.fullmatch(name))


def view(element: ElementTree.Element, width: float, height: float) -> Matrix:
    """From what is within an `svg` element to a box so large: its viewBox fitted in, in the middle of what is left."""
    box = numbers(element.get("viewBox", ""))
    if len(box) != 4 or box[2] <= 0 or box[3] <= 0:
        return np.array([[1.0, 0.0, 0.0], [0.0, 1.0, 0.0]])
    sides = np.array([width / box[2], height / box[3]])
    kept = element.get("preserveAspectRatio", "xMidYMid").split()
    if kept[:1] != ["none"]:
        sides[:] = sides.max() if "slice" in kept else sides.min()
    spare = np.array([width, height]) - sides * box[2:]
    parts = [
        1.0 if f"{axis}Max" in kept[0] else 0.0 if f"{axis}Min" in kept[0] or kept[0] == "none" else 0.5
        for axis in ("x", "Y")
    ]
    shift = spare * parts - sides * box[:2]
    return np.array([[sides[0], 0.0, shift[0]], [0.0, sides[1], shift[1]]])


def true_size(root: ElementTree.Element, file: object) -> Matrix:
    """From the root's user units to inches; PatternError where neither width nor height has a true unit."""
    sides = [_SIZE.fullmatch(root.get(side, "")) for side in ("width", "height")]
    known = [UNITS_IN.get(side[2].lower()) if side else None for side in sides]
    box = numbers(root.get("viewBox", ""))
    inches = [
        float(side[1]) * unit if side and unit else None for side, unit in zip(sides, known, strict=True)
    ]
    if inches == [None, None]:
        found = ", ".join(f'{side} "{root.get(side, "")}"' for side in ("width", "height"))
        raise PatternError(
            f"{file}: says no true size (found {found}, where mm, cm or in were needed); say with --scale how long one "
            "of its units is, such as 1mm, or with --across how wide all its outlines are together"
        )
    if len(box) != 4:
        return np.array([[PIXEL_IN, 0.0, 0.0], [0.0, PIXEL_IN, 0.0]])
    wide, high = inches
    if wide is None or high is None:
        share = (wide or 0.0) / box[2] or (high or 0.0) / box[3]
        wide, high = box[2] * share, box[3] * share
    return view(root, wide, high)


def nested(element: ElementTree.Element) -> Matrix:
    """From what is within an `svg` element that stands in another to that one's user units."""
    x, y = length(element.get("x")), length(element.get("y"))
    shift = np.array([[1.0, 0.0, x], [0.0, 1.0, y]])
    box = numbers(element.get("viewBox", ""))
    if len(box) != 4:
        return shift
    return times(
        shift,
        view(element, length(element.get("width"), box[2]), length(element.get("height"), box[3])),
    )
