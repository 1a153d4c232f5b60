"""Counts, inspection, spares, and the shopping and packing lists."""
