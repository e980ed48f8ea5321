"""What tracing shows, says and keeps, at the table and from photos."""
