"""The decision: which rod fishes what, chosen so that lines stay apart in a turn."""
