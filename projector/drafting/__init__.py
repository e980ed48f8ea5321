"""What drafting at the table shows, says and keeps."""
