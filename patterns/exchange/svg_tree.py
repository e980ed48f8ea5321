"""The tree of an SVG file that nobody has vouched for: no document type, no depth without end, and its true size."""

import re
from collections.abc import Sequence
from typing import Final, NoReturn
from xml.etree import ElementTree
from xml.parsers import expat

import numpy as np

from patterns.errors import PatternError
from patterns.exchange.svg_shapes import NUMBER, PIXEL_IN, UNITS_IN, Matrix, length, numbers, times

DEEPEST: Final = 100  # groups within groups
MOST_ELEMENTS: Final = 400_000
_LABEL: Final = re.compile(r"\{[^}]*\}label")
_MADE_UP: Final = re.compile(
    r"(path|polygon|polyline|line|rect|circle|ellipse|g|group|layer|svg|use|shape|_)?[-_ 0-9.]*", re.I
)
_SIZE: Final = re.compile(rf"\s*({NUMBER})\s*(\w+)\s*")
_UNREADABLE: Final = (
    expat.ExpatError,
    ElementTree.ParseError,
    LookupError,
)  # the last of an unknown encoding


def parsed(content: bytes, file: object) -> ElementTree.Element:
    """The root of the tree; PatternError where it is no SVG, has a document type, or is without end."""
    try:
        _check(content, file)
        root = ElementTree.fromstring(content)
    except _UNREADABLE as wrong:
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


def view(element: ElementTree.Element, box: Sequence[float], width: float, height: float) -> Matrix:
    """From what is within an `svg` element to a box so large: its viewBox fitted in, in the middle of what is left."""
    sides = np.array([width / box[2], height / box[3]])
    kept = element.get("preserveAspectRatio", "").split() or ["xMidYMid"]
    if kept[0] != "none":
        sides[:] = sides.max() if "slice" in kept else sides.min()
    spare = np.array([width, height]) - sides * box[2:]
    parts = [
        1.0 if f"{axis}Max" in kept[0] else 0.0 if f"{axis}Min" in kept[0] or kept[0] == "none" else 0.5
        for axis in ("x", "Y")
    ]
    shift = spare * parts - sides * box[:2]
    return np.array([[sides[0], 0.0, shift[0]], [0.0, sides[1], shift[1]]])


def _view_box(element: ElementTree.Element) -> list[float]:
    """Left, top, width and height of a viewBox; empty where there is none with anything in it."""
    box = numbers(element.get("viewBox", ""))
    return box if len(box) == 4 and box[2] > 0 and box[3] > 0 else []


def true_size(root: ElementTree.Element, file: object) -> Matrix:
    """From the root's user units to inches; PatternError where neither width nor height has a true unit."""
    box = _view_box(root)
    wide, high = (_true_in(root.get(side, "")) for side in ("width", "height"))
    if wide is None and high is None:
        found = ", ".join(f'{side} "{root.get(side, "")}"' for side in ("width", "height"))
        raise PatternError(
            f"{file}: says no true size (found {found}, where mm, cm or in were needed); say with --scale how long one "
            "of its units is, such as 1mm, or with --across how wide all its outlines are together"
        )
    if not box:
        return np.array([[PIXEL_IN, 0.0, 0.0], [0.0, PIXEL_IN, 0.0]])
    unit_in = wide / box[2] if wide is not None else (high or 0.0) / box[3]
    return view(
        root, box, box[2] * unit_in if wide is None else wide, box[3] * unit_in if high is None else high
    )


def _true_in(text: str) -> float | None:
    """Inches of a length in a unit that has a true size, None of any other."""
    match = _SIZE.fullmatch(text)
    unit_in = UNITS_IN.get(match[2].lower()) if match else None
    inches = numbers(match[1])[0] * unit_in if match and unit_in else 0.0
    return inches if inches > 0 else None


def nested(element: ElementTree.Element) -> Matrix:
    """From what is within an `svg` element that stands in another to that one's user units."""
    x, y = length(element.get("x")), length(element.get("y"))
    shift = np.array([[1.0, 0.0, x], [0.0, 1.0, y]])
    box = _view_box(element)
    if not box:
        return shift
    size = length(element.get("width"), box[2]), length(element.get("height"), box[3])
    return times(shift, view(element, box, *size))
