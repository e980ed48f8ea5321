"""One change or join of a pattern file -> its value, or every complaint about it."""

from collections.abc import Sequence
from enum import Enum
from typing import Any, Final

from patterns.changes import KINDS, Change, EdgeRef, Join, Key, keys_of
from patterns.files.reading import Reading, all_of, either
from patterns.files.yaml_tree import Entries, Items, Tree
from patterns.measures import Length, Unit

_TWO_EDGES: Final = "two edges [piece/edge, piece/edge]"


class ChangeReading(Reading):
    """Reads changes and joins, and the lengths and edges that they speak of; `unit` is that of bare numbers."""

    unit: Unit = Unit.IN

    def change(self, tree: Tree) -> Change | None:
        """A change, known by the key that opens it."""
        kind = self._kind(tree)
        if kind is None:
            return None
        keys = {key.name: key for key in keys_of(kind)}
        needed = tuple(key.name for key in keys.values() if key.is_needed)
        before = len(self.complaints)
        found = self.entries(tree, f"a {kind.opens} change", tuple(keys), needed) or {}
        values = {keys[name].field: self._value(keys[name], value) for name, value in found.items()}
        if len(self.complaints) > before:
            return None
        values.pop("", None)
        return self.made(tree, lambda: kind(**values))

    def _kind(self, tree: Tree) -> type[Change] | None:
        entries = tree.entries if isinstance(tree, Entries) else ()
        for key, value in entries:
            kinds = [kind for kind in KINDS if kind.opens == key.value]
            if kinds:
                return self._told_apart(kinds, value) if kinds[0].says else kinds[0]
        found = f"a change with {', '.join(key.value for key, _ in entries)}" if entries else str(tree)
        openings = dict.fromkeys(kind.opens for kind in KINDS)
        self.complain(tree, found, f"a change that begins with {either(openings)}")
        return None

    def _told_apart(self, kinds: Sequence[type[Change]], tree: Tree) -> type[Change] | None:
        """The one of the kinds, which open alike, whose own word stands there."""
        wanted = f"a shape of {kinds[0].opens}: {either(kind.says for kind in kinds)}"
        text = self.text(tree, wanted)
        chosen = next((kind for kind in kinds if text is not None and kind.says == text.lower()), None)
        if text is not None and chosen is None:
            self.complain(tree, str(tree), wanted)
        return chosen

    def _value(self, key: Key, tree: Tree) -> Any:
        """What stands at a key, a value of the type that it holds; for several, one alone or a list."""
        if not key.several:
            return self._one(key, tree)
        if isinstance(tree, Items):
            return all_of(self.each(tree, "a list", lambda item: self._one(key, item)))
        return (self._one(key, tree),)

    def _one(self, key: Key, tree: Tree) -> Any:
        if not key.field:
            return None
        if key.holds is Length:
            return self.length(tree)
        if key.holds is EdgeRef:
            return self.edge_ref(tree)
        if key.holds is bool:
            return self.yes(tree)
        if issubclass(key.holds, Enum):
            return self.choice(tree, key.holds, f"a {key.holds.__name__.lower()}")
        return self.text(tree, "a piece's name")

    def join(self, tree: Tree) -> Join | None:
        """Two edges that are sewn together, in a list, or as `edges` with an `ease`."""
        before = len(self.complaints)
        with_ease = (
            self.entries(tree, "a join", ("edges", "ease"), ("edges",)) if isinstance(tree, Entries) else None
        )
        ease = self.length(with_ease["ease"]) if with_ease and "ease" in with_ease else None
        edges = tree if with_ease is None else with_ease.get("edges")
        refs = self.each(edges, _TWO_EDGES, self.edge_ref)
        if isinstance(edges, Items) and len(refs) != 2:
            self.complain(edges, str(edges), _TWO_EDGES)
        if len(self.complaints) > before:
            return None
        first, second = all_of(refs)
        return self.made(tree, lambda: Join(first=first, second=second, ease=ease))

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
