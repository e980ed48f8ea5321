"""What is sewn to what, in which order and how: the steps of the sewing card."""
