"""The moving water: current, waves and the propellers' wash, each a small file with the same interface."""

from spreadwright.tow.water.flow import Flow, flow_velocity, make_flow, still, water_level
from spreadwright.tow.water.waves import WaveTrain, jonswap_waves

__all__ = ["Flow", "WaveTrain", "flow_velocity", "jonswap_waves", "make_flow", "still", "water_level"]
