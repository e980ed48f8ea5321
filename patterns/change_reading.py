"""One change of a pattern file -> the change, or every complaint about it."""

from collections.abc import Mapping
from typing import Final

from patterns.changes import Change, EdgeRef, Facing, RaiseNeck, ShoulderForward, VNeck
from patterns.measures import Length, Unit
from patterns.reading import Reading, either
from patterns.yaml_tree import Entries, Tree

_CHANGES: Final[Mapping[str, tuple[str, ...]]] = {
    "neck": ("neck", "piece", "depth", "off"),
    "raise neck": ("raise neck", "piece", "off"),
    "facing": ("facing", "of", "depth", "below point", "off"),
    "shoulder forward": ("shoulder forward", "front", "back", "off"),
}
_MAY_BE_LEFT_OUT: Final = ("off", "below point", "front", "back")


class ChangeReading(Reading):
    """Reads changes, and the lengths and edges that they speak of; `unit` is that of bare numbers."""

    unit: Unit = Unit.IN

    def change(self, tree: Tree) -> Change | None:
        """A change, known by the key that it begins with."""
        keys = [key.value for key, _ in tree.entries] if isinstance(tree, Entries) else []
        kind = next((key for key in keys if key in _CHANGES), None)
        if kind is None:
            found = f"a change with {', '.join(keys)}" if keys else str(tree)
            self.complain(tree, found, f"a change that begins with {either(_CHANGES)}")
            return None
        needed = tuple(key for key in _CHANGES[kind] if key not in _MAY_BE_LEFT_OUT)
        values = self.entries(tree, f"a {kind} change", _CHANGES[kind], needed)
        if values is None:
            return None
        before = len(self.complaints)
        change = self._change_of(kind, tree, values)
        return change if len(self.complaints) == before else None

    def _change_of(self, kind: str, tree: Tree, values: Mapping[str, Tree]) -> Change | None:
        off = self.yes(values["off"]) if "off" in values else False
        piece = self.text(values["piece"], "a piece's name") if "piece" in values else None
        depth = self.length(values["depth"]) if "depth" in values else None
        if kind == "neck":
            shape = self.text(values["neck"], "a shape of neck")
            if shape is not None and shape.lower() != "v":
                self.complain(values["neck"], f'"{shape}"', 'a shape of neck: "v"')
                return None
            if piece is None or depth is None or off is None or shape is None:
                return None
            return self.made(tree, lambda: VNeck(piece=piece, depth=depth, off=off))
        if kind == "raise neck":
            by = self.length(values["raise neck"])
            if piece is None or by is None or off is None:
                return None
            return self.made(tree, lambda: RaiseNeck(piece=piece, by=by, off=off))
        if kind == "shoulder forward":
            return self._shoulder_forward(tree, values, off)
        garment = self.text(values["facing"], "a piece's name")
        of = self.edge_ref(values["of"]) if "of" in values else None
        below = self.length(values["below point"]) if "below point" in values else None
        if garment is None or of is None or depth is None or off is None:
            return None
        return self.made(
            tree, lambda: Facing(garment=garment, of=of, depth=depth, below_point=below, off=off)
        )

    def _shoulder_forward(self, tree: Tree, values: Mapping[str, Tree], off: bool | None) -> Change | None:
        by = self.length(values["shoulder forward"])
        front, back = (
            self.text(values[key], "a piece's name") if key in values else key for key in ("front", "back")
        )
        if by is None or front is None or back is None or off is None:
            return None
        return self.made(tree, lambda: ShoulderForward(by=by, front=front, back=back, off=off))

    def edge_ref(self, tree: Tree) -> EdgeRef | None:
        """An edge, "piece/edge"."""
        text = self.text(tree, "an edge, piece/edge")
        if text is None:
            return None
        piece, slash, edge = text.partition("/")
        if not slash or not piece.strip() or not edge.strip():
            self.complain(tree, str(tree), 'an edge, piece/edge, such as "front/side"')
            return None
        return EdgeRef(piece=piece.strip(), edge=edge.strip())

    def length(self, tree: Tree) -> Length | None:
        """A length, a bare number in the file's unit."""
        text = self.text(tree, "a length")
        return None if text is None else self.made(tree, lambda: Length(spelling=text, unit=self.unit))
