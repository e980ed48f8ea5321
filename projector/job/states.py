"""What is done of each step of the job: in a few words for its row, and in a sentence when the step is left."""

from datetime import datetime

from patterns.laying.buying import bought_length_in, said_to_buy
from patterns.laying.lay import Lay
from patterns.laying.rules import violations
from patterns.measures import Unit, said_in
from projector.aligning.crosses import crosses_kept, crosses_path
from projector.cutting.steps import CUT
from projector.cutting.work import CopyWork, CutWork
from projector.errors import ProjectorError
from projector.job.found import PRACTICE, SHEETS, Found
from projector.job.left import TABLE
from projector.laying.lay_file import is_kept, lay_path, read_lay
from projector.sewing.kept import KeptStep, steps_path
from projector.trust import rounded_up

PRACTICE_NAME = "Practice pocket"  # as its file calls it
PRACTICE_MEASURES = "7 in across, and 8 1/32 in along the fold"  # of its cut line, unfolded


def printed(found: Found) -> str:
    """The sheets' file."""
    return SHEETS if found.has(SHEETS) else "not needed any more" if found.setup else ""


def aligned(found: Found) -> str:
    """When, and how true; before that, how far it has come by hand."""
    if found.setup is None:
        placed = crosses_kept(crosses_path(found.left.table_path))
        return f"{placed} cross{'' if placed == 1 else 'es'} placed" if placed else ""
    alignment = found.setup.in_force()
    return f"{_day(alignment.aligned_on)}, good to {rounded_up(alignment.p95_in)}"


def ruled(found: Found) -> str:
    """The last ruler test."""
    tests = () if found.setup is None else found.setup.ruler_tests
    if not tests:
        return ""
    return f"{_day(tests[0].tested_on)}, {'passed' if tests[0].passed else 'FAILED: align again'}"


def ruled_well(found: Found) -> bool:
    """Whether the last ruler test was passed."""
    return found.setup is not None and bool(found.setup.ruler_tests) and found.setup.ruler_tests[0].passed


def practised(found: Found) -> str:
    """Whether the practice piece was laid out, or cut."""
    if not found.has(PRACTICE):
        return ""
    return _cut_of(found.work(PRACTICE_NAME)) or "laid out"


def traced(found: Found) -> str:
    """The pieces that there are, and those that were left in the middle."""
    pieces = () if found.pattern is None else tuple(piece.name for piece in found.pattern.pieces)
    return ", ".join((*pieces, *(f"{piece} begun" for piece in found.begun_traces)))


def drafted(found: Found) -> str:
    """How many changes the pattern has."""
    changes = () if found.pattern is None else found.pattern.changes
    return f"{len(changes)} change{'' if len(changes) == 1 else 's'}" if changes else ""


def laid(found: Found) -> str:
    """How wide the cloth is, and how much of it is to be bought."""
    kept = _kept_lay(found)
    if kept is None:
        return ""
    if isinstance(kept, ProjectorError):
        return "for other pieces: lay anew"
    lay, unit = kept
    sold_by = lay.terms.sold_by
    bought = said_to_buy(bought_length_in(lay.used_in, lay.cloth, sold_by), sold_by)
    return f"{said_in(lay.cloth.bought_width_in, unit)} wide, {bought}"


def cut(found: Found) -> str:
    """How many copies are cut."""
    return "" if found.pattern is None else _cut_of(found.work(found.pattern.name))


def all_cut(found: Found) -> bool:
    """Whether none is left to cut."""
    work = None if found.pattern is None else found.work(found.pattern.name)
    return work is not None and work.begun and all(map(_is_cut, work.copies))


def kept_alignment(found: Found) -> str:
    """Where it is kept."""
    return f"Kept in {TABLE}: {aligned(found)}." if found.setup else ""


def kept_ruler(found: Found) -> str:
    """What to do where the light is not as long as the tape says."""
    failed = ruled(found) and not ruled_well(found)
    return (
        "Align again, 2: on a ruled mat or by a camera if you can. Until then every step says so."
        if failed
        else ""
    )


def sewn(found: Found) -> str:
    """Whether the card was looked at."""
    if found.pattern is None:
        return ""
    version = found.left.pattern_version
    garment = found.pattern.name if version is None else f"{found.pattern.name}, {version}"
    try:
        return "begun" if KeptStep(path=steps_path(found.left.table_path), garment=garment).read() else ""
    except ProjectorError:
        return ""


def kept_pattern(found: Found) -> str:
    """Where the pattern is kept, as it is now."""
    return "" if found.pattern is None else f"Kept in {found.left.pattern}."


def kept_trace(found: Found) -> str:
    """Where the piece is kept, and how another is traced."""
    return "" if found.pattern is None else f"Kept in {found.left.pattern}. Another piece of it: 5 again."


def kept_lay(found: Found) -> str:
    """Where the lay is kept, and what is wrong with it, if it was moved so."""
    kept, path = _kept_lay(found), found.left.pattern_path
    if path is None or not isinstance(kept, tuple):
        return ""
    wrong = violations(kept[0])
    return f"Kept in {lay_path(path).name}{f', but {wrong[0]}' if wrong else ''}."


def kept_practice(found: Found) -> str:
    """What the piece must measure."""
    practised_all = practised(found) == "1 of 1 cut"
    return f"Unfold it: {PRACTICE_MEASURES}? If not, align again." if practised_all else ""


def kept_cut(found: Found) -> str:
    """That nothing ticked off is lost."""
    return f"{cut(found)}; what is ticked off is kept." if cut(found) else "Where the pieces lie is kept."


def kept_lay_of(found: Found) -> Lay | None:
    """The lay of this pattern, if one is kept that can be used."""
    kept = _kept_lay(found)
    return kept[0] if isinstance(kept, tuple) else None


def _kept_lay(found: Found) -> tuple[Lay, Unit] | ProjectorError | None:
    """The lay and the unit it was asked for in; why it cannot be used; None where there is none."""
    path, pieces, version = found.left.pattern_path, found.drafted, found.left.pattern_version
    if path is None or pieces is None:
        return None
    try:
        return read_lay(lay_path(path), version, pieces) if is_kept(lay_path(path), version) else None
    except ProjectorError as error:
        return error


def _day(date: datetime) -> str:
    return f"{date.day} {date:%B}"


def _cut_of(work: CutWork | None) -> str:
    if work is None or not work.begun:
        return ""
    copies = [copy for copy in work.copies if copy.gives]  # the others come with one of them
    return f"{sum(map(_is_cut, copies))} of {len(copies)} cut"


def _is_cut(copy: CopyWork) -> bool:
    """Whether the last cut of it is made, or it comes with another."""
    last = CUT.name if copy.reaches is None else f"{CUT.name} {len(copy.reaches.reaches)}"
    return copy.gives == 0 or last in copy.ticked
