"""A pattern file -> a `Pattern`, or every complaint about the file at once.

The file is YAML, in UTF-8. A piece is drawn as a cutter measures it, on the seam line: x from the centre
line, y down from the high shoulder point.

    pattern: Harbour overtop          # its name
    unit: in                          # of bare numbers: in (default), cm or mm
    allowance: {seam: 1/2 in, hem: 1/4 in + 1/4 in}    # by kind; a sum is a double hem, the hem line's part first
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
                                      # next edge's does), reflected (about the hem's fold line: a hem's default)
        grain: [[3, 20], [3, 8]]
        notches:
          - {edge: side, at: 5 in, from: end, count: 2}   # from start (default) or end; 1 (default) to 3
    joins: [[front/side, back/side]]  # edges sewn to one another
    changes:                          # in this order
      - {neck: v, piece: front, depth: 7 in}
      - {raise neck: 1 1/2 in, piece: back}
      - {facing: front, of: front/neck, depth: 2 1/2 in, below point: 2 in, off: yes}   # off: left out
    versions:
      plain: {without: [0]}           # numbers of changes, from 0
"""

import difflib
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from enum import Enum
from pathlib import Path
from typing import Final, TypeVar

from patterns.changes import Change, EdgeRef, Facing, Join, RaiseNeck, VNeck
from patterns.errors import Complaint, PatternError
from patterns.measures import Length, Unit
from patterns.parts import Allowance, Bend, Corner, CutCount, Edge, End, Grain, Kind, Notch, Point
from patterns.pattern import KindAllowance, Pattern, Version, reference_complaints
from patterns.piece import Piece, part_complaints
from patterns.yaml_tree import Entries, Items, Text, Tree, read_tree

_T = TypeVar("_T")
_E = TypeVar("_E", bound=Enum)

MOST_COMPLAINTS: Final = 50  # more than these are one mistake repeated
_CUT: Final = re.compile(
    r"(?P<count>[0-9]{1,4})(?P<on_fold>\s+on\s+(?:the\s+)?fold)?(?P<mirrored>\s+mirrored)?"
)
_CHANGES: Final[Mapping[str, tuple[str, ...]]] = {
    "neck": ("neck", "piece", "depth", "off"),
    "raise neck": ("raise neck", "piece", "off"),
    "facing": ("facing", "of", "depth", "below point", "off"),
}
_YES: Final = {"yes": True, "true": True, "no": False, "false": False}


def read_pattern(path: str | Path) -> Pattern:
    """The pattern in a file.

    Raises PatternError with a complaint, each with file, line, what stands there and what is wanted, for
    everything that is wrong.
    """
    file = Path(path)
    reading = _Reading(file.name)
    pattern = reading.pattern(read_tree(file))
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


class _Reading:
    """One pass over one file. Each method gives the value, or None when it has noted what is wrong."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.complaints: list[Complaint] = []

    def pattern(self, tree: Tree) -> Pattern | None:
        allowed = ("pattern", "unit", "allowance", "pieces", "joins", "changes", "versions")
        found = self._entries(tree, "a pattern", allowed, ("pattern", "pieces"))
        if found is None:
            return None
        unit = self._choice(found["unit"], Unit, "a unit") if "unit" in found else Unit.IN
        self.unit = unit or Unit.IN
        name = self._text(found["pattern"], "the pattern's name") if "pattern" in found else None
        allowances = self._allowances(found.get("allowance"))
        pieces = self._named(found.get("pieces"), "pieces", self._piece)
        joins = self._each(found.get("joins"), "a list of joins", self._join)
        changes = self._each(found.get("changes"), "a list of changes", self._change)
        versions = self._named(found.get("versions"), "versions", self._version)
        if self.complaints or name is None:
            edges = self._edge_names(found.get("pieces"))
            self._note(tree, reference_complaints(edges, changes, joins, versions))
            return None
        return self._made(
            tree,
            lambda: Pattern(
                name=name,
                unit=self.unit,
                allowances=allowances,
                pieces=_all(pieces),
                joins=_all(joins),
                changes=_all(changes),
                versions=_all(versions),
            ),
        )

    def _allowances(self, tree: Tree | None) -> tuple[KindAllowance, ...]:
        if tree is None:
            return ()
        found = self._entries(tree, "allowances", tuple(kind.value for kind in Kind), ()) or {}
        made = []
        for key, value in found.items():
            allowance = self._allowance(value)
            if allowance is not None:
                made.append(
                    self._made(value, lambda k=key, a=allowance: KindAllowance(kind=Kind(k), allowance=a))
                )
        return tuple(one for one in made if one is not None)

    def _piece(self, name: str, tree: Tree) -> Piece | None:
        found = self._entries(
            tree, f"the piece {name}", ("cut", "edges", "grain", "notches"), ("cut", "edges")
        )
        if found is None:
            return None
        before = len(self.complaints)
        cut = self._cut(found["cut"]) if "cut" in found else None
        edges = self._each(found.get("edges"), "a list of edges", self._edge)
        grain = self._grain(found["grain"]) if "grain" in found else None
        notches = self._each(found.get("notches"), "a list of notches", self._notch)
        if len(self.complaints) > before or cut is None or "edges" not in found:
            if "edges" in found:
                self._note(tree, part_complaints(name, cut, edges, notches))
            return None
        return self._made(
            tree,
            lambda: Piece(name=name, cut=cut, edges=_all(edges), grain=grain, notches=_all(notches)),
        )

    def _cut(self, tree: Tree) -> CutCount | None:
        text = self._text(tree, "how many to cut")
        if text is None:
            return None
        match = _CUT.fullmatch(text)
        if match is None:
            return self._complain(tree, str(tree), 'a count such as "1", "1 on fold" or "2 mirrored"')
        return self._made(
            tree,
            lambda: CutCount(
                count=int(match["count"]), on_fold=bool(match["on_fold"]), mirrored=bool(match["mirrored"])
            ),
        )

    def _edge(self, tree: Tree) -> Edge | None:
        allowed = ("name", "kind", "path", "curve", "allowance", "corner")
        found = self._entries(tree, "an edge", allowed, ("name", "kind", "path"))
        if found is None:
            return None
        before = len(self.complaints)
        name = self._text(found["name"], "the edge's name") if "name" in found else None
        kind = self._choice(found["kind"], Kind, "a kind of edge") if "kind" in found else None
        path = self._each(found.get("path"), "a list of points [x, y]", self._point)
        bend = self._choice(found["curve"], Bend, "a curve") if "curve" in found else Bend.STRAIGHT
        allowance = self._allowance(found["allowance"]) if "allowance" in found else None
        corner = self._choice(found["corner"], Corner, "a corner") if "corner" in found else None
        if (
            len(self.complaints) > before
            or name is None
            or kind is None
            or bend is None
            or "path" not in found
        ):
            return None
        return self._made(
            tree,
            lambda: Edge(
                name=name, kind=kind, path=_all(path), bend=bend, allowance=allowance, corner=corner
            ),
        )

    def _grain(self, tree: Tree) -> Grain | None:
        ends = self._each(tree, "two points [[x, y], [x, y]]", self._point)
        if len(ends) != 2:
            return self._complain(tree, str(tree), "two points [[x, y], [x, y]]")
        start, end = ends
        if start is None or end is None:
            return None
        return self._made(tree, lambda: Grain(start=start, end=end))

    def _notch(self, tree: Tree) -> Notch | None:
        found = self._entries(tree, "a notch", ("edge", "at", "from", "count"), ("edge", "at"))
        if found is None:
            return None
        before = len(self.complaints)
        edge = self._text(found["edge"], "an edge's name") if "edge" in found else None
        at = self._length(found["at"]) if "at" in found else None
        from_end = self._choice(found["from"], End, "an end") if "from" in found else End.START
        count = self._number(found["count"], "1, 2 or 3") if "count" in found else 1
        if len(self.complaints) > before or edge is None or at is None or from_end is None or count is None:
            return None
        return self._made(tree, lambda: Notch(edge=edge, at=at, from_end=from_end, count=count))

    def _join(self, tree: Tree) -> Join | None:
        refs = self._each(tree, "two edges [piece/edge, piece/edge]", self._edge_ref)
        if len(refs) != 2:
            if isinstance(tree, Items):
                self._complain(tree, str(tree), "two edges [piece/edge, piece/edge]")
            return None
        first, second = refs
        if first is None or second is None:
            return None
        return self._made(tree, lambda: Join(first=first, second=second))

    def _change(self, tree: Tree) -> Change | None:
        keys = [key.value for key, _ in tree.entries] if isinstance(tree, Entries) else []
        kind = next((key for key in keys if key in _CHANGES), None)
        if kind is None:
            found = f"a change with {', '.join(keys)}" if keys else str(tree)
            return self._complain(tree, found, f"a change that begins with {_either(_CHANGES)}")
        needed = tuple(key for key in _CHANGES[kind] if key not in ("off", "below point"))
        values = self._entries(tree, f"a {kind} change", _CHANGES[kind], needed)
        if values is None:
            return None
        before = len(self.complaints)
        change = self._change_of(kind, tree, values)
        return change if len(self.complaints) == before else None

    def _change_of(self, kind: str, tree: Tree, values: Mapping[str, Tree]) -> Change | None:
        off = self._yes(values["off"]) if "off" in values else False
        piece = self._text(values["piece"], "a piece's name") if "piece" in values else None
        depth = self._length(values["depth"]) if "depth" in values else None
        if kind == "neck":
            shape = self._text(values["neck"], "a shape of neck")
            if shape is not None and shape.lower() != "v":
                return self._complain(values["neck"], f'"{shape}"', 'a shape of neck: "v"')
            if piece is None or depth is None or off is None or shape is None:
                return None
            return self._made(tree, lambda: VNeck(piece=piece, depth=depth, off=off))
        if kind == "raise neck":
            by = self._length(values["raise neck"])
            if piece is None or by is None or off is None:
                return None
            return self._made(tree, lambda: RaiseNeck(piece=piece, by=by, off=off))
        garment = self._text(values["facing"], "a piece's name")
        of = self._edge_ref(values["of"]) if "of" in values else None
        below = self._length(values["below point"]) if "below point" in values else None
        if garment is None or of is None or depth is None or off is None:
            return None
        return self._made(
            tree, lambda: Facing(garment=garment, of=of, depth=depth, below_point=below, off=off)
        )

    def _version(self, name: str, tree: Tree) -> Version | None:
        found = self._entries(tree, f"the version {name}", ("without",), ())
        if found is None:
            return None
        before = len(self.complaints)
        wanted = "numbers of changes, [0, 2]"
        without = self._each(
            found.get("without"), wanted, lambda item: self._number(item, "a change's number")
        )
        if len(self.complaints) > before:
            return None
        return self._made(tree, lambda: Version(name=name, without=_all(without)))

    def _edge_ref(self, tree: Tree) -> EdgeRef | None:
        text = self._text(tree, "an edge, piece/edge")
        if text is None:
            return None
        piece, slash, edge = text.partition("/")
        if not slash or not piece.strip() or not edge.strip():
            return self._complain(tree, str(tree), 'an edge, piece/edge, such as "front/side"')
        return EdgeRef(piece=piece.strip(), edge=edge.strip())

    def _point(self, tree: Tree) -> Point | None:
        if not isinstance(tree, Items) or len(tree.items) != 2:
            return self._complain(tree, str(tree), "a point [x, y]")
        x, y = (self._length(item) for item in tree.items)
        return Point(x=x, y=y) if x is not None and y is not None else None

    def _allowance(self, tree: Tree) -> Allowance | None:
        text = self._text(tree, "an allowance")
        if text is None:
            return None
        return self._made(
            tree,
            lambda: Allowance(
                parts=tuple(Length(spelling=part.strip(), unit=self.unit) for part in text.split("+"))
            ),
        )

    def _length(self, tree: Tree) -> Length | None:
        text = self._text(tree, "a length")
        return None if text is None else self._made(tree, lambda: Length(spelling=text, unit=self.unit))

    def _number(self, tree: Tree, wanted: str) -> int | None:
        text = self._text(tree, wanted)
        if text is None:
            return None
        if not re.fullmatch("[0-9]{1,6}", text):
            return self._complain(tree, str(tree), f"a whole number: {wanted}")
        return int(text)

    def _yes(self, tree: Tree) -> bool | None:
        text = self._text(tree, "yes or no")
        if text is not None and text.lower() not in _YES:
            return self._complain(tree, str(tree), "yes or no")
        return None if text is None else _YES[text.lower()]

    def _choice(self, tree: Tree, choices: type[_E], what: str) -> _E | None:
        text = self._text(tree, what)
        values = [choice.value for choice in choices]
        if text is not None and text not in values:
            return self._complain(tree, str(tree), f"{what}: {_either(values)}{_meant(text, values)}")
        return None if text is None else choices(text)

    def _text(self, tree: Tree, wanted: str) -> str | None:
        if not isinstance(tree, Text) or not tree.value.strip():
            return self._complain(tree, str(tree), wanted)
        return tree.value.strip()

    def _each(
        self, tree: Tree | None, wanted: str, read: Callable[[Tree], _T | None]
    ) -> tuple[_T | None, ...]:
        """Each item of a list as read; none for a list that is not there."""
        if tree is None:
            return ()
        if not isinstance(tree, Items):
            self._complain(tree, str(tree), wanted)
            return ()
        return tuple(read(item) for item in tree.items)

    def _named(
        self, tree: Tree | None, what: str, read: Callable[[str, Tree], _T | None]
    ) -> tuple[_T | None, ...]:
        """Each value of a mapping from names, as read."""
        if tree is None:
            return ()
        found = self._entries(tree, what, None, ())
        if found is not None and not found and what == "pieces":
            self._complain(tree, "no pieces", "at least one piece")
        return tuple(read(name, value) for name, value in (found or {}).items())

    def _entries(
        self, tree: Tree, what: str, allowed: tuple[str, ...] | None, needed: tuple[str, ...]
    ) -> dict[str, Tree] | None:
        """The values of a mapping by key; doubled, unknown and missing keys are noted."""
        if not isinstance(tree, Entries):
            keys = _either(allowed) if allowed else "names"
            return self._complain(tree, f"{tree} for {what}", f"key: value, with {keys}")
        found: dict[str, Tree] = {}
        for key, value in tree.entries:
            if key.value in found:
                self._complain(key, f"{key} twice in {what}", "each key once")
            elif allowed is not None and key.value not in allowed:
                self._complain(
                    key, f"{key} in {what}", f"a key: {_either(allowed)}{_meant(key.value, allowed)}"
                )
            else:
                found[key.value] = value
        missing = [key for key in needed if key not in found]
        if missing:
            self._complain(
                tree, f"{what} without {' and '.join(missing)}", f"{what} with {' and '.join(needed)}"
            )
        return found

    def _edge_names(self, tree: Tree | None) -> dict[str, tuple[str, ...]]:
        """Edge names by piece as far as they can be read, so that references can be checked all the same."""
        names: dict[str, tuple[str, ...]] = {}
        for piece, value in tree.entries if isinstance(tree, Entries) else ():
            edges = _value(value, "edges")
            named = [_value(edge, "name") for edge in (edges.items if isinstance(edges, Items) else ())]
            names[piece.value] = tuple(name.value for name in named if isinstance(name, Text))
        return names

    def _made(self, tree: Tree, make: Callable[[], _T]) -> _T | None:
        """The value made, its own rules' complaints noted with the line they speak of."""
        try:
            return make()
        except PatternError as error:
            self._note(tree, error.complaints)
            return None

    def _note(self, tree: Tree, complaints: Iterable[Complaint]) -> None:
        self.complaints += [
            replace(complaint, file=self.file, line=_line(tree, complaint.at)) for complaint in complaints
        ]

    def _complain(self, tree: Tree, found: str, wanted: str) -> None:
        self.complaints.append(Complaint(found=found, wanted=wanted, file=self.file, line=tree.line))


def _all(values: Iterable[_T | None]) -> tuple[_T, ...]:
    """The values, none of which is None once nothing has been complained about."""
    return tuple(value for value in values if value is not None)


def _value(tree: Tree, key: str) -> Tree | None:
    entries = tree.entries if isinstance(tree, Entries) else ()
    return next((value for found, value in entries if found.value == key), None)


def _line(tree: Tree, at: tuple[str | int, ...]) -> int:
    """The line of the value that `at` leads to, or of the last one on the way that is there."""
    for step in at:
        if isinstance(tree, Items) and isinstance(step, int) and step < len(tree.items):
            tree = tree.items[step]
        elif isinstance(tree, Entries) and (value := _value(tree, str(step))) is not None:
            tree = value
        else:
            break
    return tree.line


def _either(words: Iterable[str]) -> str:
    *most, last = words
    return f"{', '.join(most)} or {last}" if most else last


def _meant(found: str, known: Iterable[str]) -> str:
    close = difflib.get_close_matches(found, list(known), n=1)
    return f'; did you mean "{close[0]}"?' if close else ""
