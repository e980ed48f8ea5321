"""A lay as work at the cutting table: each piece where it lies on its cloth, in the order of cutting."""

from collections import Counter
from dataclasses import replace

from patterns.laying.lay import Lay
from projector.cutting.cloth_place import ClothPlace
from projector.cutting.copies import Copies
from projector.cutting.work import CopyWork, CutWork, drawn_words


def copies_of(lay: Lay, cloth: ClothPlace) -> Copies:
    """What is cut in one go is one copy, through however many layers; nothing is done yet."""
    counts: Counter[str] = Counter()
    copies = []
    for one in lay.placed:
        counts[one.piece.name] += 1
        copies.append(CopyWork(piece=one.piece.name, number=counts[one.piece.name], place=one.placement))
    work = CutWork(
        copies=tuple(copies),
        drawn=drawn_words(lay.pieces),
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
    copies = tuple(
        replace(known[name], place=copy.place) if (name := (copy.piece, copy.number)) in known else copy
        for copy in fresh.copies
    )
    return replace(kept, copies=copies, drawn=fresh.drawn, cloth=cloth, is_lay=True, at=0)
