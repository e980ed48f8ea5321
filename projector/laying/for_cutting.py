"""A lay as work at the cutting table: each piece where it lies on its cloth, in the order of cutting."""

from argparse import Namespace
from collections import Counter
from dataclasses import replace

from patterns.cutting.drafted import DraftedPattern
from patterns.laying.lay import Lay
from patterns.laying.rules import violations
from patterns.saying import lengths_said_in
from projector.cloth.cloth_place import ClothPlace
from projector.cloth.ground import BY_LAY, Ground
from projector.cutting.copies import Copies
from projector.cutting.work import CopyWork, CutWork, drawn_words
from projector.errors import ProjectorError
from projector.history import History
from projector.laying.lay_file import is_kept, lay_path, read_lay
from projector.laying.work import in_the_light
from projector.stations.cut import CutStation


def copies_of(lay: Lay, cloth: ClothPlace) -> Copies:
    """What is cut in one go is one copy, through however many layers; nothing is done yet."""
    counts: Counter[str] = Counter()
    copies = []
    for one in lay.placed:
        counts[one.piece.name] += 1
        name = one.piece.name
        copies.append(CopyWork(piece=name, number=counts[name], place=one.placement, gives=one.gives))
    work = CutWork(
        copies=tuple(copies),
        drawn=drawn_words(one.placement.placed(one.piece.cut_line) for one in lay.placed),
        cloth=cloth,
        is_lay=True,
    )
    return Copies(pieces=tuple(one.piece for one in lay.placed), work=work)


def with_lay(kept: CutWork | None, lay: Lay, cloth: ClothPlace) -> CutWork:
    """The work that was kept, its pieces and its cloth where the lay has them; what was ticked off stays so."""
    fresh = copies_of(lay, cloth).work
    if kept is None:
        return fresh
    known = {(copy.piece, copy.number): copy for copy in kept.copies}
    copies = tuple(_as_known(copy, known.get((copy.piece, copy.number))) for copy in fresh.copies)
    same = [(copy.piece, copy.number) for copy in copies] == list(known)
    return replace(kept, copies=copies, cloth=cloth, is_lay=True, at=kept.at if same else 0)


def _as_known(copy: CopyWork, known: CopyWork | None) -> CopyWork:
    return copy if known is None else replace(known, place=copy.place, gives=copy.gives)


def kept_lay(arguments: Namespace, drafted: DraftedPattern) -> Lay | None:
    """The lay that is kept beside the pattern, all of which goes with its cloth; None where there is none.

    ProjectorError where pieces are to be placed by themselves though there is one.
    """
    path = lay_path(arguments.pattern)
    if arguments.without_lay or not is_kept(path, arguments.version):
        return None
    placing = {"at": None, "turn": None, "mirrored": False, "opened": False}
    asked = [name for name, unasked in placing.items() if getattr(arguments, name) is not unasked]
    if asked:
        raise ProjectorError(
            f"--{asked[0]} places a piece by itself, and {path} says how all lie on their cloth; add --without-lay"
        )
    return read_lay(path, arguments.version, drafted)[0]


def resumed_by_lay(ground: Ground, lay: Lay, kept: CutWork | None) -> CutStation:
    """The cut station with the pieces as the lay has them, and what was done of them.

    A rule that the lay breaks, as where the pattern has changed since, is told before what the light is told of.
    """
    placed = kept is not None and kept.is_lay
    cloth = kept.cloth if kept is not None and placed else in_the_light(lay, ground.lit, ground.person(0))
    copies = copies_of(lay, cloth)
    station = CutStation(
        ground=replace(
            ground, pieces=copies.pieces, warnings=(*_broken_words(lay, ground), *ground.warnings)
        ),
        work=replace(copies.work, aligned=ground.aligned),
        history=History(now=copies.work.lies),
    )
    return station if kept is None else station.resumed(with_lay(kept, lay, cloth))


def _broken_words(lay: Lay, ground: Ground) -> tuple[str, ...]:
    with lengths_said_in(ground.unit):
        return tuple(f"{BY_LAY}{broken}" for broken in violations(lay))
