"""The whole path on the practice table: no screen, no camera, no projector."""

import json
import sys
from argparse import Namespace
from collections.abc import Iterator
from dataclasses import asdict, dataclass, replace
from pathlib import Path
from typing import Final

import numpy as np

from calibration import Alignment, save_alignment
from calibration.frames import Array, TableInches
from calibration.practice.table import Cloth, Faults, LightFell, PracticeTable
from calibration.sheets.sheet import PAPERS, RULER_IN, Sheet
from calibration.sheets.sheet_pdf import write_sheets
from calibration.sheets.targets import Targets
from calibration.solving.from_photos import solved_from_photos
from patterns import example, read_pattern
from patterns.cutting.drafted import DraftedPattern
from patterns.cutting.marks import LineKind, Marks, marks_of
from patterns.paper.card import card
from projector.cloth.ground import Ground
from projector.demo_lay import PlannedLay, demo_lay
from projector.demo_trace import TraceError, demo_trace
from projector.lighting.canvas import frame
from projector.lighting.light import light
from projector.lighting.lit_area import lit_area
from projector.outputs import made_folder, write_bytes, write_picture
from projector.pictures.alignment_picture import Known, write_alignment_picture
from projector.pictures.card_page import card_page
from projector.pictures.pattern_drawings import write_drawings
from projector.scene import Controls
from projector.stations.cut import CutStation
from projector.verbs.picture import forecast_frame

SCENE: Final = 6
SCREEN_PX: Final = (1920, 1080)
SHEETS: Final = 5
TOP_IN: Final = (76.0, 46.0)  # of the practice table: all of the light lands on it
TAPED: Final = ((2, 4), (3, 5))
TAPE_MARKS_IN: Final = 1 / 32
PAGE_PPI: Final = 150.0
ABOVE_PPI: Final = 16.0
MM_PER_IN: Final = 25.4
CLOTH_ROOM_IN: Final = 1.5  # of cloth beyond the piece, in the pictures


@dataclass(frozen=True, slots=True, kw_only=True)
class _Piece:
    """One piece as it was shown, and where its cut line's light fell."""

    name: str
    fell: LightFell


def demo(arguments: Namespace) -> int:
    """Run the verb; the exit code."""
    out: Path = arguments.out
    made_folder(out)
    paper = PAPERS["letter"]
    say = _say if not arguments.json else _keep_quiet
    write_sheets(out / "sheets.pdf", paper, SHEETS)
    say(f"1  {SHEETS} sheets to print: {out / 'sheets.pdf'}")
    targets = Targets(screen_px=SCREEN_PX, sheets=SHEETS, paper=paper)
    write_picture(out / "targets.png", targets.frame())
    table = PracticeTable.random(
        SCENE, sheets=SHEETS, faults=Faults.usual(), windows=targets.windows, top_in=TOP_IN
    )
    pages = [Sheet(paper=paper, number=number + 1).page(PAGE_PPI) for number in range(SHEETS)]
    write_picture(out / "photo.png", table.photo(targets.frame(), pages, PAGE_PPI))
    say(f"2  the practice table, photographed with the projected marks on it: {out / 'photo.png'}")
    tapes = {pair: table.tape(*pair, to_nearest_in=TAPE_MARKS_IN) for pair in TAPED}
    solved = solved_from_photos(
        [out / "photo.png"], paper, SCREEN_PX, SHEETS, table.printed_length(RULER_IN), tapes
    )
    alignment = solved.alignment
    save_alignment(out / "table.yaml", alignment)
    say(f"3  aligned, {out / 'table.yaml'}: {alignment.verdict}")
    known = Known(alignment=alignment, arrows_in=solved.residual_arrows)
    write_alignment_picture(out / "alignment.png", known)
    write_picture(out / "forecast.jpg", table.photo_standing(forecast_frame(alignment)))
    say(f"   how true it is where: {out / 'alignment.png'}, and on the table: {out / 'forecast.jpg'}")
    pattern = read_pattern(example("harbour overtop"))
    traced = demo_trace(out, pattern, paper)
    say(f"4  a folded garment beside three sheets, photographed: {out / 'garment.jpg'}")
    say(f"   traced into {out / 'traced.yaml'}, as {out / 'traced.jpg'} shows")
    draft = pattern.draft()
    drafted = DraftedPattern.of(pattern.name, draft, pattern.unit)
    write_drawings(out / "pieces", drafted, draft)
    write_bytes(out / "card.pdf", card_page(drafted.name, card(drafted, pattern.finish), paper.name))
    say(
        f"5  {drafted.name} drafted: its pieces at true size in {out / 'pieces'}, its sewing card {out / 'card.pdf'}"
    )
    laid = demo_lay(out, drafted, table, alignment)
    say(f"6  laid on cloth, {out / 'lay.svg'} and {out / 'lay.png'}; in light, {out / 'lay-table.jpg'}")
    say(f"   {laid.words}")
    pieces = tuple(_shown(out, table, alignment, drafted))
    say(f"7  its {len(pieces)} pieces projected and looked at from above: {out}/*-above.jpg")
    _report(table, alignment, pieces, traced, laid, in_json=arguments.json)
    return 0


def _shown(
    out: Path, table: PracticeTable, alignment: Alignment, drafted: DraftedPattern
) -> Iterator[_Piece]:
    lit = lit_area(alignment.map)
    ground = Ground(pieces=tuple(drafted.pieces.values()), alignment=alignment, lit=lit)
    begun = CutStation.begun(ground)
    for number, piece in enumerate(ground.pieces):
        station = replace(begun, shown=number)
        picture = frame((layer.draw() for layer in station.scene(Controls())), SCREEN_PX)
        stem = piece.name.replace(" ", "-")
        write_picture(out / f"{stem}-frame.png", picture)
        cloth = Cloth(outline_in=_cloth_round(station.outline_in))
        write_picture(out / f"{stem}-above.jpg", table.photo_from_above(picture, ABOVE_PPI, [cloth]))
        if number == 0:
            write_picture(out / "table.jpg", table.photo_standing(picture, cloths=[cloth]))
        cut = marks_of(piece, station.placement).of_kind(LineKind.CUT)
        alone = frame([light(Marks(lines=cut, labels=()), lit)], SCREEN_PX)
        paths = [np.vstack([line.points, line.points[:1]]) if line.closed else line.points for line in cut]
        yield _Piece(
            name=piece.name, fell=table.where_light_fell(alone, [TableInches(path) for path in paths])
        )


def _cloth_round(outline_in: Array) -> Array:
    """A square-cut length of cloth with the piece on it; outline in table inches."""
    low, high = outline_in.min(axis=0) - CLOTH_ROOM_IN, outline_in.max(axis=0) + CLOTH_ROOM_IN
    return np.array([low, (high[0], low[1]), high, (low[0], high[1])])


def _report(
    table: PracticeTable,
    alignment: Alignment,
    pieces: tuple[_Piece, ...],
    traced: TraceError,
    laid: PlannedLay,
    *,
    in_json: bool,
) -> None:
    errors_in = np.hypot(*table.light_errors_in(alignment.map).T)
    over_table = {
        "rms_in": float(np.sqrt((errors_in**2).mean())),
        "p95_in": float(np.quantile(errors_in, 0.95)),
        "most_in": float(errors_in.max()),
    }
    cut = {piece.name: {"rms_in": piece.fell.rms_in, "most_in": piece.fell.most_in} for piece in pieces}
    if in_json:
        result = {
            "claimed_p95_in": alignment.p95_in,
            "table": over_table,
            "cut_lines": cut,
            "trace": asdict(traced),
            "lay": laid.figures,
        }
        print(json.dumps(result))
        return
    print("8  the traced outline, against the garment's own edge")
    print(f"   mean {_both(traced.mean_in)}   95 % {_both(traced.p95_in)}", end="")
    print(f"   (claimed mean: {_both(traced.expected_in)})")
    print("9  where the light fell, against where it should (inches)")
    print(f"   {'whole table':<16} RMS {over_table['rms_in']:.4f}   95 % {over_table['p95_in']:.4f}", end="")
    print(f"   most {over_table['most_in']:.4f}   (claimed 95 %: {alignment.p95_in:.4f})")
    for name, error in cut.items():
        print(f"   {name:<16} RMS {error['rms_in']:.4f}   most {error['most_in']:.4f}   across the cut line")


def _both(length_in: float) -> str:
    return f"{length_in * MM_PER_IN:.2f} mm ({length_in:.4f} in)"


def _say(words: str) -> None:
    print(words)
    sys.stdout.flush()


def _keep_quiet(words: str) -> None:
    """Nothing, since a JSON result is to stand alone."""
