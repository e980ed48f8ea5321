"""The table file: one alignment on disk, versioned, checked when read and written whole or not at all."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

import numpy as np
import yaml

from calibration.errors import AlignmentError
from calibration.frames import Array
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap
from calibration.whole_files import write_whole

VERSION = 1
_MOST_BYTES = 1_000_000
_FORMAT = "chalkbeam table"


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """A map with what is known of it.

    `p95_in` is the claim shown: 95 % of the aligned area lies within it. `trustworthy` says whether cut lines
    may be drawn by it. `turn_deg` (counter-clockwise) and `shift_in` lay the drawing on the table, on top of
    the map's own frame. `sheet_places` are (x inches, y inches, turn degrees), sheet 1 first.

    `paper` is what the sheets were printed on ("" if unknown, or for a mat) and `printed_scale` the true length
    over the drawn one; `mat` is the pitch of a mat's lines with the width and height of its ruled part.
    """

    map: ProjectorMap
    name: str
    aligned_on: datetime
    rms_in: float
    p95_in: float
    verdict: str
    size_checked: bool
    trustworthy: bool
    sheets: int
    photos: int
    marks: int
    turn_deg: float = 0.0
    shift_in: tuple[float, float] = (0.0, 0.0)
    sheet_places: tuple[tuple[float, float, float], ...] = ()
    paper: str = ""
    printed_scale: float = 1.0
    mat: tuple[float, float, float] | None = None


def save_alignment(path: Path, alignment: Alignment) -> None:
    """Writes the table file atomically; raises AlignmentError where the folder cannot be written."""
    text = yaml.safe_dump(_document(alignment), sort_keys=False, allow_unicode=True, width=110)
    path = Path(path)
    try:
        write_whole(path, text.encode("utf-8"))
    except OSError as error:
        raise AlignmentError(
            f"{path}: cannot be written ({error.strerror}); choose a folder that exists and is yours to write in"
        ) from error


def load_map(path: str | Path) -> ProjectorMap:
    """The projector's map of a table file; raises AlignmentError as `load_alignment` does."""
    return load_alignment(path).map


def load_alignment(path: str | Path) -> Alignment:
    """The alignment in a table file.

    Raises AlignmentError, naming the file and what to do, where it is missing, damaged or of another kind.
    """
    path = Path(path)
    document = _read(path)
    fields = _Fields(path, document)
    if fields.whole(_FORMAT) != VERSION:
        raise AlignmentError(
            f"{path}: table file version {fields.whole(_FORMAT)}; this program reads version {VERSION}: "
            "update the program, or align again"
        )
    screen = fields.part("screen")
    lens = fields.part("lens")
    if lens.number("unit") <= 0:
        raise lens.damaged("unit", "more than 0")
    screen_px = (screen.whole("width"), screen.whole("height"))
    homography = fields.numbers("screen from table", (3, 3))
    if abs(np.linalg.det(homography)) < 1e-12 or homography[2, 2] != 1:
        raise fields.damaged("screen from table", "an invertible matrix whose last number is 1")
    covariance = fields.numbers("covariance", (12, 12))
    if np.linalg.eigvalsh(_unit_diagonal(covariance)).min() < -1e-6:
        raise fields.damaged("covariance", "a covariance")
    centre_u, centre_v = lens.pair("centre")
    (a, b, c), (d, e, f), (g, h, i) = homography.tolist()
    shift_x, shift_y = fields.pair("shift")
    return Alignment(
        map=ProjectorMap(
            screen_px=screen_px,
            homography=((a, b, c), (d, e, f), (g, h, i)),
            lens=Lens(
                k1=lens.number("k1"),
                k2=lens.number("k2"),
                centre_px=(centre_u, centre_v),
                unit_px=lens.number("unit"),
            ),
            covariance=tuple(tuple(row) for row in covariance.tolist()),
            floor_in=fields.number("floor"),
        ),
        name=fields.text("name"),
        aligned_on=fields.date("aligned on"),
        rms_in=fields.number("rms"),
        p95_in=fields.number("p95"),
        verdict=fields.text("verdict"),
        size_checked=fields.truth("size checked"),
        trustworthy=fields.truth("trustworthy"),
        sheets=fields.whole("sheets"),
        photos=fields.whole("photos"),
        marks=fields.whole("marks"),
        turn_deg=fields.number("turn"),
        shift_in=(shift_x, shift_y),
        sheet_places=fields.triples("sheet places"),
        paper=fields.text("paper") if "paper" in document else "",
        printed_scale=fields.number("printed scale") if "printed scale" in document else 1.0,
        mat=fields.triple("mat") if document.get("mat") is not None else None,
    )


def _document(alignment: Alignment) -> dict[str, Any]:
    found = alignment.map
    return {
        _FORMAT: VERSION,
        "name": alignment.name,
        "aligned on": alignment.aligned_on.isoformat(timespec="seconds"),
        "verdict": alignment.verdict,
        "trustworthy": alignment.trustworthy,
        "size checked": alignment.size_checked,
        "rms": alignment.rms_in,
        "p95": alignment.p95_in,
        "photos": alignment.photos,
        "sheets": alignment.sheets,
        "marks": alignment.marks,
        "turn": alignment.turn_deg,
        "shift": list(alignment.shift_in),
        "sheet places": [list(place) for place in alignment.sheet_places],
        "paper": alignment.paper,
        "printed scale": alignment.printed_scale,
        "mat": None if alignment.mat is None else list(alignment.mat),
        "screen": {"width": found.screen_px[0], "height": found.screen_px[1]},
        "screen from table": [list(row) for row in found.homography],
        "lens": {
            "k1": found.lens.k1,
            "k2": found.lens.k2,
            "centre": list(found.lens.centre_px),
            "unit": found.lens.unit_px,
        },
        "floor": found.floor_in,
        "covariance": [list(row) for row in found.covariance],
    }


def _read(path: Path) -> dict[str, Any]:
    try:
        raw = path.read_bytes()
    except OSError as error:
        raise AlignmentError(
            f"{path}: cannot be read ({error.strerror}); align the table first, or name another table file"
        ) from error
    if len(raw) > _MOST_BYTES:
        raise AlignmentError(f"{path}: {len(raw)} bytes is no table file; name the file that align wrote")
    try:
        document = yaml.safe_load(raw.decode("utf-8"))
    except (yaml.YAMLError, UnicodeDecodeError, RecursionError, ValueError) as error:
        raise AlignmentError(
            f"{path}: damaged, it does not read as YAML; align again or restore a copy"
        ) from error
    if not isinstance(document, dict) or _FORMAT not in document:
        raise AlignmentError(f"{path}: not a table file; name the file that align wrote")
    return document


def _unit_diagonal(covariance: Array) -> Array:
    spread = np.sqrt(np.maximum(np.diag(covariance), 1e-300))
    unit: Array = covariance / np.outer(spread, spread)
    return unit


@dataclass(frozen=True, slots=True)
class _Fields:
    """Fields of a table file, each checked as it is taken."""

    path: Path
    values: dict[str, Any]

    def damaged(self, key: str, wanted: str) -> AlignmentError:
        return AlignmentError(f"{self.path}: damaged at '{key}', which should be {wanted}; align again")

    def part(self, key: str) -> "_Fields":
        value = self.values.get(key)
        if not isinstance(value, dict):
            raise self.damaged(key, "a group of fields")
        return _Fields(self.path, value)

    def number(self, key: str) -> float:
        value = self.values.get(key)
        if isinstance(value, bool) or not isinstance(value, int | float) or not np.isfinite(value):
            raise self.damaged(key, "a number")
        return float(value)

    def whole(self, key: str) -> int:
        value = self.values.get(key)
        if isinstance(value, bool) or not isinstance(value, int) or value < 0:
            raise self.damaged(key, "a whole number")
        return value

    def text(self, key: str) -> str:
        value = self.values.get(key)
        if not isinstance(value, str):
            raise self.damaged(key, "text")
        return value

    def truth(self, key: str) -> bool:
        value = self.values.get(key)
        if not isinstance(value, bool):
            raise self.damaged(key, "true or false")
        return value

    def date(self, key: str) -> datetime:
        value = self.values.get(key)
        try:
            return datetime.fromisoformat(str(value))
        except ValueError:
            raise self.damaged(key, "a date and time") from None

    def numbers(self, key: str, shape: tuple[int, ...]) -> Array:
        try:
            array = np.array(self.values.get(key), dtype=np.float64)
        except (TypeError, ValueError):
            raise self.damaged(key, f"{' by '.join(str(n) for n in shape)} numbers") from None
        if array.shape != shape or not np.isfinite(array).all():
            raise self.damaged(key, f"{' by '.join(str(n) for n in shape)} numbers")
        return array

    def pair(self, key: str) -> tuple[float, float]:
        first, second = self.numbers(key, (2,)).tolist()
        return first, second

    def triple(self, key: str) -> tuple[float, float, float]:
        first, second, third = self.numbers(key, (3,)).tolist()
        return first, second, third

    def triples(self, key: str) -> tuple[tuple[float, float, float], ...]:
        value = self.values.get(key)
        if not isinstance(value, list):
            raise self.damaged(key, "a list of places")
        rows = self.numbers(key, (len(value), 3)).tolist() if value else []
        return tuple((x, y, turn) for x, y, turn in rows)
