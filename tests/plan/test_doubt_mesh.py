"""The samples' long steps and coarse mesh are a small part of the doubt that the samples are there to show."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from tests.plan.trips import BLUE, RED, small_trip

from spreadwright.plan import doubt
from spreadwright.spread.candidates import find_candidates
from spreadwright.spread.motions import SEARCH
from spreadwright.tow.line import Sea
from spreadwright.tow.march import Settings


def test_what_is_coarse_is_a_tenth_of_what_is_unsure(monkeypatch: pytest.MonkeyPatch) -> None:
    trip = small_trip(rods=(RED, BLUE))
    candidates = find_candidates(trip)
    rigs = [candidates.rigs[candidates.of_rod(rod)[-rod]] for rod in range(2)]  # not both at one place
    monkeypatch.setattr(doubt, "MOVED", 0)

    def changes(settings: Settings, nearer: float) -> np.ndarray:
        """How far each sample's gap is from the usual one [m]."""
        monkeypatch.setattr(doubt, "ROUGH", settings)
        monkeypatch.setattr(doubt, "ALONE", replace(settings, workers=1))
        monkeypatch.setattr(doubt, "NEARER", nearer)
        found = doubt.spreads_in_doubt(trip, rigs, Sea(density=trip.water.density), count=64)
        return np.array([run.gaps[0] for run in found.varied]) - found.usual.gaps[0]

    rough, fine = changes(doubt.ROUGH, doubt.NEARER), changes(SEARCH, 0.002)
    low, high = np.quantile(fine, doubt.INSIDE)
    assert high - low > 0.2
    assert np.quantile(np.abs(rough - fine), 0.95) < 0.1 * (high - low)
    assert not np.array_equal(rough, fine)
