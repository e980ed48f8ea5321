"""From photos or hand-placed crosses to a map between table inches and projector pixels, with its error."""
