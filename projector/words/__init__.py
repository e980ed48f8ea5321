"""Words on the table: the strip, messages, the page of keys."""
