"""Pattern data in DXF: which layer means what, and the words of its text lines.

ASTM D6673, Standard Practice for Sewn Products Pattern Data Interchange: a block a piece, inserted once. The numbers
of the layers, and on which of them the texts stand, were checked against a published summary of its tables. From memory
are the spelling of the text lines, that METRIC means millimetres and ENGLISH inches, and that a half with a mirror line
is what is cut on the fold. The standard goes by DXF release 13; release 12 has all that is used here, and is read by
whatever reads DXF.
"""

from typing import Final

BOUNDARY: Final = "1"
TURN_POINTS: Final = "2"
CURVE_POINTS: Final = "3"
NOTCHES: Final = "4"
MIRROR: Final = "6"
GRAIN: Final = "7"
INTERNAL: Final = "8"
CUTOUTS: Final = "11"
DRILL_HOLES: Final = "13"
SEW_LINES: Final = "14"
ANNOTATION: Final = "15"
LAYERS: Final = (
    BOUNDARY,
    TURN_POINTS,
    CURVE_POINTS,
    NOTCHES,
    MIRROR,
    GRAIN,
    INTERNAL,
    SEW_LINES,
    ANNOTATION,
)  # that we write

PIECE_NAME: Final = "Piece Name"
SIZE: Final = "Size"
QUANTITY: Final = "Quantity"
REMARK: Final = "Annotation"
STYLE_NAME: Final = "Style Name"
UNITS: Final = "Units"
METRIC, ENGLISH = "METRIC", "ENGLISH"
EDGE: Final = "Edge"  # ours, as an annotation where an edge begins: "Edge: side, seam, 0.5 in"


def said(label: str, text: str) -> str:
    """A line of text: "Piece Name: front"."""
    return f"{label}: {text}"


def heard(line: str) -> tuple[str, str]:
    """The label of a line of text, in small letters, and what it says; an empty label where it has none.

    >>> heard("Piece Name: front"), heard("right side up")
    (('piece name', 'front'), ('', 'right side up'))
    """
    label, colon, text = line.partition(":")
    return (label.strip().lower(), text.strip()) if colon else ("", line.strip())
