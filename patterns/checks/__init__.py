"""Will it sew together, go over the head, and agree with a tape."""
