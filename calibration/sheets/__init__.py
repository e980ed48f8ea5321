"""What is printed and what is projected to align by: sheets, markers, targets."""
