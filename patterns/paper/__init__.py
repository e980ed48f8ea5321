"""What is printed: drawings at true size, the joined view, the sewing card."""
