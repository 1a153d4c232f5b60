"""Strikes, tracks and strike rates, and what they teach the next plan."""
