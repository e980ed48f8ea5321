"""What aligning shows and keeps while it goes on."""
