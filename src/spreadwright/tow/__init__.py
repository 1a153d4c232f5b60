"""Physics of towed lines on plain numbers and arrays in SI units: no gear, no units, no files."""
