"""The plan: the whole answer for one trip, as one frozen value."""
