"""Plain values -> YAML text, laid out as people write a pattern: a line an edge, a notch, a join, a change."""

import json
import re
from collections.abc import Iterator
from typing import Final

from patterns.files.document import Value

INDENT: Final = "  "
_A_LINE_EACH: Final = ("edges", "notches", "joins", "changes")
_PLAIN: Final = re.compile(r"[0-9A-Za-zÀ-ÖØ-öø-ÿ.½¼¾⅛⅜⅝⅞][-0-9A-Za-zÀ-ÖØ-öø-ÿ ./+½¼¾⅛⅜⅝⅞']*|-[0-9][0-9. /]*")


def lines(entries: dict[str, Value]) -> Iterator[str]:
    """The lines of a mapping in block style, not indented."""
    for key, value in entries.items():
        if isinstance(value, dict) and any(_holds_entries(one) for one in value.values()):
            yield f"{scalar(key)}:"
            yield from (f"{INDENT}{line}" for line in lines(value))
        elif isinstance(value, list) and key in _A_LINE_EACH:
            yield f"{scalar(key)}:"
            yield from (f"{INDENT}- {flow(item)}" for item in value)
        else:
            yield f"{scalar(key)}: {flow(value)}"


def flow(value: Value) -> str:
    """The value on one line.

    >>> flow({"name": "neck", "path": [["0", "4"], ["3 1/2 in", "0"]], "allowance": '5/8"'})
    '{name: neck, path: [[0, 4], [3 1/2 in, 0]], allowance: "5/8\\\\""}'
    """
    if isinstance(value, str):
        return scalar(value)
    if isinstance(value, list):
        return f"[{', '.join(flow(item) for item in value)}]"
    return f"{{{', '.join(f'{scalar(key)}: {flow(one)}' for key, one in value.items())}}}"


def scalar(text: str) -> str:
    """The text as YAML: plain where it can stand plain, else in double quotes."""
    return text if _PLAIN.fullmatch(text) and not text.endswith(" ") else json.dumps(text, ensure_ascii=False)


def _holds_entries(value: Value) -> bool:
    return isinstance(value, dict) or (isinstance(value, list) and any(map(_holds_entries, value)))
