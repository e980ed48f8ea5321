"""Words that hold together at a line's end: a length is not torn from its fraction or its unit."""

import re
from typing import Final

HELD: Final = "\N{NO-BREAK SPACE}"


def unbroken(text: str) -> str:
    """The words with every length held together, for a line to break elsewhere.

    >>> unbroken("clip 1 1/16 in deep").split(" ") == ["clip", f"1{HELD}1/16{HELD}in", "deep"]
    True
    """
    return re.sub(r"(?<=[0-9]) (?=[0-9]+/|(?:in|cm|mm|degrees)(?![a-z]))", HELD, text)


def spaced(text: str) -> str:
    """Inverse of `unbroken`."""
    return text.replace(HELD, " ")
