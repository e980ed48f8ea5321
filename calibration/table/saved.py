"""What is saved of one alignment, and how it reads in a table file (`table_file`)."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any

import numpy as np

from calibration.cameras.kept import KeptCamera
from calibration.frames import Array
from calibration.lens import Lens
from calibration.projector_map import ProjectorMap
from calibration.table.fields import Fields


@dataclass(frozen=True, slots=True, kw_only=True)
class Alignment:
    """A map with what is known of it.

    `p95_in` is the claim shown: 95 % of the aligned area lies within it. `trustworthy` says whether cut lines
    may be drawn by it. `turn_deg` (counter-clockwise) and `shift_in` lay the drawing on the table, on top of
    the map's own frame. `sheet_places` are (x inches, y inches, turn degrees), sheet 1 first.

    `paper` is what the sheets were printed on ("" if unknown, or for a mat) and `printed_scale` the true length
    over the drawn one; `mat` is the pitch of a mat's lines with the width and height of its ruled part.
    `cameras` are those of the photos, none if it was made by hand. `screen_name` is what the projector's display
    calls itself, "" if that was not known.
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
    cameras: tuple[KeptCamera, ...] = ()
    screen_name: str = ""


def alignment_from(fields: Fields, name: str) -> Alignment:
    """The alignment of the set-up `name` as it stands in its file; raises DamageError, naming the key."""
    shift_x, shift_y = fields.pair("shift")
    screen = fields.part("screen")
    return Alignment(
        map=_map(fields),
        name=name,
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
        paper=fields.text("paper"),
        printed_scale=fields.more_than_nothing("printed scale"),
        mat=fields.triple("mat") if fields.holds("mat") else None,
        cameras=tuple(_camera(one) for one in fields.parts("cameras")) if fields.holds("cameras") else (),
        screen_name=screen.text("name") if screen.holds("name") else "",
    )


def _map(fields: Fields) -> ProjectorMap:
    screen = fields.part("screen")
    homography = fields.numbers("screen from table", (3, 3))
    if abs(np.linalg.det(homography)) < 1e-12 or homography[2, 2] != 1:
        raise fields.damaged("screen from table", "an invertible matrix whose last number is 1")
    covariance = fields.numbers("covariance", (12, 12))
    if np.linalg.eigvalsh(_unit_diagonal(covariance)).min() < -1e-6:
        raise fields.damaged("covariance", "a covariance")
    (a, b, c), (d, e, f), (g, h, i) = homography.tolist()
    return ProjectorMap(
        screen_px=(screen.whole("width"), screen.whole("height")),
        homography=((a, b, c), (d, e, f), (g, h, i)),
        lens=_lens(fields.part("lens")),
        covariance=tuple(tuple(row) for row in covariance.tolist()),
        floor_in=fields.number("floor"),
    )


def _lens(fields: Fields) -> Lens:
    return Lens(
        k1=fields.number("k1"),
        k2=fields.number("k2"),
        centre_px=fields.pair("centre"),
        unit_px=fields.more_than_nothing("unit"),
    )


def _camera(fields: Fields) -> KeptCamera:
    photo = fields.part("photo")
    return KeptCamera(
        photo_px=(photo.whole("width"), photo.whole("height")),
        focal_px=fields.more_than_nothing("focal length"),
        centre_px=fields.pair("centre"),
        lens=_lens(fields.part("lens")),
        turn=fields.triple("turn"),
        at_in=fields.triple("place"),
    )


def alignment_document(alignment: Alignment) -> dict[str, Any]:
    """Inverse of `alignment_from`; the name is the set-up's."""
    found = alignment.map
    return {
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
        "screen": {
            "width": found.screen_px[0],
            "height": found.screen_px[1],
            "name": alignment.screen_name,
        },
        "screen from table": [list(row) for row in found.homography],
        "lens": _lens_document(found.lens),
        "floor": found.floor_in,
        "covariance": [list(row) for row in found.covariance],
        "cameras": [
            {
                "photo": {"width": camera.photo_px[0], "height": camera.photo_px[1]},
                "focal length": camera.focal_px,
                "centre": list(camera.centre_px),
                "lens": _lens_document(camera.lens),
                "turn": list(camera.turn),
                "place": list(camera.at_in),
            }
            for camera in alignment.cameras
        ],
    }


def _lens_document(lens: Lens) -> dict[str, Any]:
    return {"k1": lens.k1, "k2": lens.k2, "centre": list(lens.centre_px), "unit": lens.unit_px}


def _unit_diagonal(covariance: Array) -> Array:
    spread = np.sqrt(np.maximum(np.diag(covariance), 1e-300))
    unit: Array = covariance / np.outer(spread, spread)
    return unit
