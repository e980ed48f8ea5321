"""What the cut station is made of: the pieces as they lie, the job and how far it has come, what is said of it."""
