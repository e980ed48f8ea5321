"""A pattern file -> a `Pattern`, or every complaint about the file at once.

The file is YAML, in UTF-8. A piece is drawn as a cutter measures it, on the seam line: x from the centre
line, y down from the high shoulder point.

    pattern: Harbour overtop          # its name
    unit: in                          # of bare numbers: in (default), cm or mm
    finish: {seam: overlocked, hem: single}   # or overcast, french, bound; double: allowances follow
                                      # 1/2, or 5/8 of a french seam; in a file in cm or mm 12 and 15 mm
    allowance: {seam: 1/2 in, hem: 1/4 in + 1/4 in}   # by kind; a sum is a double hem, the part
                                      # next to the hem line first
    pieces:
      front:
        cut: 1 on fold                # a count, then "on fold" or "mirrored"
        edges:                        # in order round the piece; each begins where the last ended
          - name: neck
            kind: seam                # seam, hem, fold (straight, on x = 0) or edge (left raw)
            path: [[0, 4], [3.4, 0]]
            curve: smooth             # straight (default), smooth (natural cubic spline), or
                                      # bezier (point, handle, handle, point, ...)
            allowance: 5/8 in         # its own, in place of its kind's
            corner: squared           # at its end: mitre, squared (its seam line runs on), squared next (the
                                      # next edge's does), reflected (at a hem: its default)
        grain: [[3, 20], [3, 8]]
        notches:
          - {edge: side, at: 5 in, from: end, count: 2}   # from start (default) or end; 1 (default) to 3
    joins:                            # edges sewn to one another
      - [front/side, back/side]
      - {edges: [front/armhole, sleeve/cap], ease: 1/2 in}    # the second so much longer
    changes:                          # in this order
      - {neck: v, piece: front, depth: 7 in}     # or round, scoop, square; width: of its half at the shoulder;
                                                 # a square one's corner: so far from the centre line
      - {raise neck: 1 1/2 in, piece: back}      # or lower neck
      - {widen neck: 1/2 in}                     # or narrow neck: along the shoulder seam
      - {lengthen: 2 in, at: 16 in}              # or shorten; at a level, or else at the hem
      - {lengthen sleeve: 1 in}                  # or shorten sleeve: along the overarm
      - {sleeve opening: 6 in}                   # of the sleeve hem of one piece
      - {widen: 1/4 in, at: side}                # or narrow; at: fold; of each half: four times that in the girth
      - {slant hem: 1 in}                        # lower at the side; with a minus sign higher
      - {hem band: 4 in, allowance: 1/2 in}      # shortened by what will show of it
      - {facing: front, of: front/neck, depth: 2 1/2 in, below point: 2 in, off: yes}   # off: left out
                                                 # shoulder: its width there, where that is not its depth
      - {binding: [front/neck, back/neck], width: 1/4 in, doubled: yes}   # thickness: 1 mm, of thick cloth
      - {true up: [front/side, back/side]}    # both as long as their mean, at the hem
      - {notch: [front/side, back/side]}      # in matching pairs, set last of all; walked: alike or against, where
                                              # which ends meet is not plain; notch: front/crotch, with its mirror image
      - {notches: all}                        # of every join that has none; hand-set ones stay
      - {average: [front, front left]}        # front half way to another trace of it, which is a piece of this file
                                              # and is not cut; use: front, or use: front left, the better one alone
      - {shoulder forward: 3/8 in}    # of the traced top: front shorter, back longer (front: and back: name them)
                                      # changes that name no piece are made to front and back, or to pieces: [...]
    versions:
      plain: {without: [0]}           # numbers of changes, from 0
"""

import re
from collections.abc import Iterable
from pathlib import Path
from typing import Final

from patterns.changes import Change
from patterns.cutting.finish import Finish, HemFinish, SeamFinish
from patterns.errors import Complaint, PatternError
from patterns.files.change_reading import ChangeReading
from patterns.files.reading import all_of, value_of
from patterns.files.yaml_tree import Entries, Items, Text, Tree, read_text, tree_of
from patterns.measures import Length, Unit
from patterns.parts import Allowance, Bend, Corner, CutCount, Edge, End, Grain, Kind, Notch, Point
from patterns.pattern import KindAllowance, Pattern, Version, reference_complaints
from patterns.piece import Piece, part_complaints

MOST_COMPLAINTS: Final = 50  # more than these are one mistake repeated
_CUT: Final = re.compile(
    r"(?P<count>[0-9]{1,4})(?P<on_fold>\s+on\s+(?:the\s+)?fold)?(?P<mirrored>\s+mirrored)?"
)


def read_pattern(path: str | Path) -> Pattern:
    """The pattern in a file.

    Raises PatternError with a complaint, each with file, line, what stands there and what is wanted, for
    everything that is wrong.
    """
    file = Path(path)
    return pattern_in(read_text(file), file)


def pattern_in(text: str, file: Path) -> Pattern:
    """The pattern in a file's text; raises PatternError as `read_pattern` does."""
    reading = _Reading(file.name)
    pattern = reading.pattern(tree_of(text, file))
    if pattern is None:
        listed = sorted(reading.complaints, key=lambda complaint: complaint.line)
        raise PatternError.listing(_shortened(listed, file.name))
    return pattern


def _shortened(complaints: list[Complaint], file: str) -> Iterable[Complaint]:
    shown = list(dict.fromkeys(complaints))
    if len(shown) > MOST_COMPLAINTS:
        more = f"{len(shown) - MOST_COMPLAINTS} faults more like these"
        shown[MOST_COMPLAINTS:] = [Complaint(found=more, wanted="these to be mended first", file=file)]
    return shown


class _Reading(ChangeReading):
    """One pass over one file. Each method gives the value, or None when it has noted what is wrong."""

    def pattern(self, tree: Tree) -> Pattern | None:
        allowed = ("pattern", "unit", "finish", "allowance", "pieces", "joins", "changes", "versions")
        found = self.entries(tree, "a pattern", allowed, ("pattern", "pieces"))
        if found is None:
            return None
        unit = self.choice(found["unit"], Unit, "a unit") if "unit" in found else Unit.IN
        self.unit = unit or Unit.IN
        name = self.text(found["pattern"], "the pattern's name") if "pattern" in found else None
        finish = self._finish(found["finish"]) if "finish" in found else None
        allowances = self._allowances(found.get("allowance"))
        pieces = self.named(found.get("pieces"), "pieces", self._piece)
        joins = self.each(found.get("joins"), "a list of joins", self.join)
        changes: tuple[Change | None, ...] = self.each(found.get("changes"), "a list of changes", self.change)
        versions = self.named(found.get("versions"), "versions", self._version)
        if self.complaints or name is None:
            edges = _edge_names(found.get("pieces"))
            self.note(tree, reference_complaints(edges, changes, joins, versions))
            return None
        return self.made(
            tree,
            lambda: Pattern(
                name=name,
                unit=self.unit,
                finish=finish,
                allowances=allowances,
                pieces=all_of(pieces),
                joins=all_of(joins),
                changes=all_of(changes),
                versions=all_of(versions),
            ),
        )

    def _finish(self, tree: Tree) -> Finish | None:
        found = self.entries(tree, "a finish", ("seam", "hem"), ())
        if found is None:
            return None
        seam = self.choice(found["seam"], SeamFinish, "a seam's finish") if "seam" in found else None
        hem = self.choice(found["hem"], HemFinish, "a hem's finish") if "hem" in found else None
        return Finish(seam=seam or SeamFinish.OVERLOCKED, hem=hem or HemFinish.SINGLE)

    def _allowances(self, tree: Tree | None) -> tuple[KindAllowance, ...]:
        if tree is None:
            return ()
        return all_of(
            self.named(tree, "allowances", self._kind_allowance, tuple(kind.value for kind in Kind))
        )

    def _kind_allowance(self, kind: str, tree: Tree) -> KindAllowance | None:
        allowance = self._allowance(tree)
        if allowance is None:
            return None
        return self.made(tree, lambda: KindAllowance(kind=Kind(kind), allowance=allowance))

    def _piece(self, name: str, tree: Tree) -> Piece | None:
        found = self.entries(
            tree, f"the piece {name}", ("cut", "edges", "grain", "notches"), ("cut", "edges")
        )
        if found is None:
            return None
        before = len(self.complaints)
        cut = self._cut(found["cut"]) if "cut" in found else None
        edges = self.each(found.get("edges"), "a list of edges", self._edge)
        grain = self._grain(found["grain"]) if "grain" in found else None
        notches = self.each(found.get("notches"), "a list of notches", self._notch)
        if len(self.complaints) > before or cut is None or "edges" not in found:
            if isinstance(found.get("edges"), Items):
                self.note(tree, part_complaints(name, cut, edges, _names(found["edges"]), notches))
            return None
        return self.made(
            tree,
            lambda: Piece(name=name, cut=cut, edges=all_of(edges), grain=grain, notches=all_of(notches)),
        )

    def _cut(self, tree: Tree) -> CutCount | None:
        text = self.text(tree, "how many to cut")
        if text is None:
            return None
        match = _CUT.fullmatch(text)
        if match is None:
            self.complain(tree, str(tree), 'a count such as "1", "1 on fold" or "2 mirrored"')
            return None
        return self.made(
            tree,
            lambda: CutCount(
                count=int(match["count"]), on_fold=bool(match["on_fold"]), mirrored=bool(match["mirrored"])
            ),
        )

    def _edge(self, tree: Tree) -> Edge | None:
        allowed = ("name", "kind", "path", "curve", "allowance", "corner")
        found = self.entries(tree, "an edge", allowed, ("name", "kind", "path"))
        if found is None:
            return None
        before = len(self.complaints)
        name = self.text(found["name"], "the edge's name") if "name" in found else None
        kind = self.choice(found["kind"], Kind, "a kind of edge") if "kind" in found else None
        path = self.each(found.get("path"), "a list of points [x, y]", self._point)
        bend = self.choice(found["curve"], Bend, "a curve") if "curve" in found else Bend.STRAIGHT
        allowance = self._allowance(found["allowance"]) if "allowance" in found else None
        corner = self.choice(found["corner"], Corner, "a corner") if "corner" in found else None
        if (
            len(self.complaints) > before
            or name is None
            or kind is None
            or bend is None
            or "path" not in found
        ):
            return None
        return self.made(
            tree,
            lambda: Edge(
                name=name, kind=kind, path=all_of(path), bend=bend, allowance=allowance, corner=corner
            ),
        )

    def _grain(self, tree: Tree) -> Grain | None:
        ends = self.each(tree, "two points [[x, y], [x, y]]", self._point)
        if len(ends) != 2:
            self.complain(tree, str(tree), "two points [[x, y], [x, y]]")
            return None
        start, end = ends
        if start is None or end is None:
            return None
        return self.made(tree, lambda: Grain(start=start, end=end))

    def _notch(self, tree: Tree) -> Notch | None:
        found = self.entries(tree, "a notch", ("edge", "at", "from", "count"), ("edge", "at"))
        if found is None:
            return None
        before = len(self.complaints)
        edge = self.text(found["edge"], "an edge's name") if "edge" in found else None
        at = self.length(found["at"]) if "at" in found else None
        from_end = self.choice(found["from"], End, "an end") if "from" in found else End.START
        count = self.number(found["count"], "1, 2 or 3") if "count" in found else 1
        if len(self.complaints) > before or edge is None or at is None or from_end is None or count is None:
            return None
        return self.made(tree, lambda: Notch(edge=edge, at=at, from_end=from_end, count=count))

    def _version(self, name: str, tree: Tree) -> Version | None:
        found = self.entries(tree, f"the version {name}", ("without",), ())
        if found is None:
            return None
        before = len(self.complaints)
        wanted = "numbers of changes, [0, 2]"
        without = self.each(found.get("without"), wanted, lambda item: self.number(item, "a change's number"))
        if len(self.complaints) > before:
            return None
        return self.made(tree, lambda: Version(name=name, without=all_of(without)))

    def _point(self, tree: Tree) -> Point | None:
        if not isinstance(tree, Items) or len(tree.items) != 2:
            self.complain(tree, str(tree), "a point [x, y]")
            return None
        x, y = (self.length(item) for item in tree.items)
        return Point(x=x, y=y) if x is not None and y is not None else None

    def _allowance(self, tree: Tree) -> Allowance | None:
        text = self.text(tree, "an allowance")
        if text is None:
            return None
        return self.made(
            tree,
            lambda: Allowance(
                parts=tuple(Length(spelling=part.strip(), unit=self.unit) for part in text.split("+"))
            ),
        )


def _names(edges: Tree | None) -> tuple[str, ...]:
    """The names in a list of edges as far as they can be read, to check references by."""
    named = [value_of(edge, "name") for edge in (edges.items if isinstance(edges, Items) else ())]
    return tuple(name.value for name in named if isinstance(name, Text))


def _edge_names(pieces: Tree | None) -> dict[str, tuple[str, ...]]:
    entries = pieces.entries if isinstance(pieces, Entries) else ()
    return {piece.value: _names(value_of(tree, "edges")) for piece, tree in entries}
