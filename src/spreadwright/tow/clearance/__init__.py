"""How near towed lines come to one another: distances, gaps over a manoeuvre, and winding."""
