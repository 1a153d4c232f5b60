"""What is printed: cards for each rod and the deck sheet."""
