"""Table files of earlier versions, brought to the present one before they are read."""

from collections.abc import Callable, Mapping
from typing import Any, Final

FORMAT: Final = "chalkbeam table"
VERSION: Final = 2

Document = Mapping[str, Any]


def migrated(document: Document) -> Document:
    """The same table as the present version would have written it; `document` is of a known version."""
    while document[FORMAT] < VERSION:
        document = _STEPS[document[FORMAT]](document)
    return document


def _from_version_1(document: Document) -> Document:
    """One alignment, without a name to choose it by, tests or a past; the print was not spoken of at first."""
    alignment = {"paper": "", "printed scale": 1.0, "mat": None, **document}
    setup = {
        "name": "table",
        "past": [],
        "ruler tests": [],
        "loop tests": [],
        "drift tests": [],
        "surface": {"height": 0.0, "lens": None, "corrected": False},
        "alignment": alignment,
    }
    return {FORMAT: 2, "set-ups": [setup]}


_STEPS: Final[Mapping[int, Callable[[Document], Document]]] = {1: _from_version_1}
