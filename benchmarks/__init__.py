"""Measures how fast the towed-line core is, beside another code, in one run on one machine."""
