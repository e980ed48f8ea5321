"""A pattern file read, with every complaint at once, and written or edited with its comments kept."""
