"""A PDF of one page as lines in inches; or the drawing that goes with it, where it is one of ours.

A page counts in points of 1/72 in (ISO 32000, 8.3.2.3). Its lines say nothing of what they are for, so ours carry the
SVG of the same pieces as an attachment, which is read instead, by the same rules as any other.
"""

import ctypes
from collections.abc import Iterator
from pathlib import Path
from typing import Any, Final

import numpy as np

from patterns.errors import PatternError
from patterns.exchange.drawn import MOST_BYTES, Budget, Drawing, DrawnPath, content_of, without_repeats
from patterns.exchange.pdf_out import ATTACHED
from patterns.exchange.svg_in import svg_drawing_of
from patterns.exchange.svg_shapes import Matrix, chords, placed, times

POINT_IN: Final = 1 / 72
DEEPEST: Final = 10  # forms within forms
MOST_ATTACHED: Final = 100


def pdf_drawing(path: Path, scale_in: float | None) -> Drawing:
    """The lines of a file; `scale_in` is how long one of its points is, None for 1/72 in.

    Raises PatternError where it is no PDF that can be read, or has several pages and no drawing with it.
    """
    import pypdfium2  # only here is it needed

    try:
        document = pypdfium2.PdfDocument(content_of(path))
        with document:
            attached = _attached(document)
            if attached is not None and scale_in is None:
                return svg_drawing_of(attached, path, None)
            return Drawing(pieces=(), loose=_page(document, path, scale_in or POINT_IN))
    except pypdfium2.PdfiumError as wrong:
        raise PatternError(f"{path}: is no PDF that can be read ({wrong}); export it again") from wrong


def _attached(document: Any) -> bytes | None:
    """The drawing that goes with one of ours, None where there is none."""
    for number in range(min(document.count_attachments(), MOST_ATTACHED)):
        attachment = document.get_attachment(number)
        if attachment.get_name() == ATTACHED:
            content = bytes(attachment.get_data())
            return content if len(content) <= MOST_BYTES else None
    return None


def _page(document: Any, path: Path, point_in: float) -> tuple[DrawnPath, ...]:
    from pypdfium2 import raw

    if len(document) != 1:
        raise PatternError(
            f"{path}: found {len(document)} pages, where one large page with all the pieces was needed; export it as "
            "one page, or as SVG or DXF"
        )
    page, budget = document[0], Budget()
    size = np.array([[point_in, 0.0, 0.0], [0.0, -point_in, page.get_height() * point_in]])
    paths = []
    for item in page.get_objects(filter=[raw.FPDF_PAGEOBJ_PATH], max_depth=DEEPEST):
        matrix, holder = _matrix(item), item.container
        while holder is not None:
            matrix, holder = times(_matrix(holder), matrix), holder.container
        paths += [budget.took(one) for one in _lines(item.raw, times(size, matrix))]
    return tuple(paths)


def _matrix(item: Any) -> Matrix:
    a, b, c, d, e, f = item.get_matrix().get()
    return np.array([[a, c, e], [b, d, f]])


def _lines(item: Any, matrix: Matrix) -> Iterator[DrawnPath]:
    """Each part of a path object, its cubics in chords."""
    from pypdfium2 import raw

    points: list[Any] = []
    handles: list[Any] = []
    closes = False
    for number in range(raw.FPDFPath_CountSegments(item)):
        segment = raw.FPDFPath_GetPathSegment(item, number)
        x, y = ctypes.c_float(), ctypes.c_float()
        raw.FPDFPathSegment_GetPoint(segment, x, y)
        place = placed(np.array([[x.value, y.value]]), matrix)[0]
        kind = raw.FPDFPathSegment_GetType(segment)
        if kind == raw.FPDF_SEGMENT_MOVETO:
            yield from _line(points, closes)
            points, closes = [place], False
        elif kind == raw.FPDF_SEGMENT_BEZIERTO:
            handles.append(place)
            if len(handles) == 3:
                points.extend(chords(np.stack([points[-1], *handles])))
                handles = []
        else:
            points.append(place)
        closes = closes or bool(raw.FPDFPathSegment_GetClose(segment))
    yield from _line(points, closes)


def _line(points: list[Any], closed: bool) -> Iterator[DrawnPath]:
    if len(points) > 1:
        kept = without_repeats(np.stack(points), closed=closed)
        if len(kept) > 1:
            yield DrawnPath(points=kept, closed=closed)
