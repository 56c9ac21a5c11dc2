"""Her cloth and the pieces on it: what fits, how it lies, how much it takes."""
