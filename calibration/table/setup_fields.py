"""How a set-up stands in a table file."""

from typing import Any

from calibration.errors import AlignmentError
from calibration.table.fields import DamageError, Fields
from calibration.table.saved import alignment_document, alignment_from
from calibration.table.setups import PastAlignment, Setup
from calibration.trust.closed_loop import By, LoopTest
from calibration.trust.drift import DriftTest
from calibration.trust.ruler_test import RulerTest
from calibration.trust.surface import Surface


def setup_from(fields: Fields) -> Setup:
    """The set-up; raises DamageError, naming it and the key, where something is not what it should be."""
    name = fields.text("name")
    fields = Fields(fields.values, f"set-up '{name}': ")
    try:
        return Setup(
            alignment=alignment_from(fields.part("alignment"), name),
            ruler_tests=tuple(_ruler_test(test) for test in fields.parts("ruler tests")),
            loop_tests=tuple(_loop_test(test) for test in fields.parts("loop tests")),
            drift_tests=tuple(_drift_test(test) for test in fields.parts("drift tests")),
            surface=_surface(fields.part("surface")),
            past=tuple(_past(summary) for summary in fields.parts("past")),
        )
    except (AlignmentError, ValueError) as error:
        raise DamageError(f"{fields.of}damaged: {error}") from error


def setup_document(setup: Setup) -> dict[str, Any]:
    """Inverse of `setup_from`."""
    return {
        "name": setup.name,
        "ruler tests": [
            {
                "tested on": test.tested_on.isoformat(timespec="seconds"),
                "lengths": [list(taped) for taped in test.lengths],
                "diagonals": [list(taped) for taped in test.diagonals],
            }
            for test in setup.ruler_tests
        ],
        "loop tests": [
            {
                "looked on": test.looked_on.isoformat(timespec="seconds"),
                "marks": test.marks,
                "rms": test.rms_in,
                "p95": test.p95_in,
                "most": test.most_in,
                "by": test.by,
            }
            for test in setup.loop_tests
        ],
        "drift tests": [
            {
                "looked on": test.looked_on.isoformat(timespec="seconds"),
                "moved by": test.moved_in,
                "what": test.what,
                "moved": test.moved,
                "sure": test.sure,
            }
            for test in setup.drift_tests
        ],
        "surface": {
            "height": setup.surface.height_in,
            "lens": None if setup.surface.lens_in is None else list(setup.surface.lens_in),
            "corrected": setup.surface.corrected,
        },
        "alignment": alignment_document(setup.alignment),
        "past": [
            {
                "aligned on": summary.aligned_on.isoformat(timespec="seconds"),
                "p95": summary.p95_in,
                "verdict": summary.verdict,
                "sheets": summary.sheets,
                "photos": summary.photos,
                "marks": summary.marks,
            }
            for summary in setup.past
        ],
    }


def _ruler_test(fields: Fields) -> RulerTest:
    return RulerTest(
        tested_on=fields.date("tested on"),
        lengths=fields.pairs("lengths"),
        diagonals=fields.pairs("diagonals"),
    )


def _loop_test(fields: Fields) -> LoopTest:
    return LoopTest(
        looked_on=fields.date("looked on"),
        marks=fields.whole("marks"),
        rms_in=fields.number("rms"),
        p95_in=fields.number("p95"),
        most_in=fields.number("most"),
        by=_by(fields),
    )


def _by(fields: Fields) -> By:
    match fields.text("by"):
        case "photo":
            return "photo"
        case "eye":
            return "eye"
        case _:
            raise fields.damaged("by", "photo or eye")


def _drift_test(fields: Fields) -> DriftTest:
    return DriftTest(
        looked_on=fields.date("looked on"),
        moved_in=fields.number("moved by"),
        what=fields.text("what"),
        moved=fields.truth("moved"),
        sure=fields.truth("sure") if fields.holds("sure") else True,
    )


def _surface(fields: Fields) -> Surface:
    return Surface(
        height_in=fields.number("height"),
        lens_in=fields.triple("lens") if fields.holds("lens") else None,
        corrected=fields.truth("corrected"),
    )


def _past(fields: Fields) -> PastAlignment:
    return PastAlignment(
        aligned_on=fields.date("aligned on"),
        p95_in=fields.number("p95"),
        verdict=fields.text("verdict"),
        sheets=fields.whole("sheets"),
        photos=fields.whole("photos"),
        marks=fields.whole("marks"),
    )
