"""What cutting at the table shows, asks and keeps: its steps, its tools, how far it has come."""
