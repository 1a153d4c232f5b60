"""What a captain owns: lines, weights, leaders, lures, terminal gear, outfits, the boat and the trip file."""
