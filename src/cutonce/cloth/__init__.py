"""Her cloth: what it is, how much there is of it, and what is wrong with it."""
