"""How a boat moves in given waves over time, so that its rod tips can be moved along.

Size     of heave, roll and pitch to each small wave: `day.boat_motion.response` (closed forms for a box of the boat's
         length, beam and draught; a fast hull differs, by a factor of 0.5 to 1.6).
Phase    that of a boat much shorter than the waves: heave follows the water under the middle of the boat, roll and
         pitch its slope. The closed forms give no phase for all three; this one is ours.
Turning  in a turn each small wave is met at another angle every moment; the answer is taken as if it were steady.
The motion fades in over the first seconds, as the lines start in still water.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from spreadwright.day.boat_motion import Hull, response
from spreadwright.tow.track import Sway, Track
from spreadwright.tow.water.waves import WaveTrain

Floats = NDArray[np.float64]

STEP = 0.1  # [s]
ANGLES = 72  # headings to the waves at which the boat's answer is computed, straight between


def sway_in_waves(waves: WaveTrain, track: Track, hull: Hull, speed: float, fade: float) -> Sway:
    """Heave, roll and pitch about the boat's origin on a track; speed [m/s], fade [s] over which it comes on."""
    times = np.arange(0.0, track.duration + 2.0 * STEP, STEP)
    pose = track.pose(np.minimum(times, track.duration))
    middle_x = pose.x + 0.5 * hull.length * np.cos(pose.heading)
    middle_y = pose.y + 0.5 * hull.length * np.sin(pose.heading)
    amplitude, kx, ky, frequency, phase = (waves.rows[:, i] for i in range(5))
    at = middle_x[:, None] * kx + middle_y[:, None] * ky - times[:, None] * frequency + phase
    angle = np.arctan2(ky, kx)[None, :] - pose.heading[:, None]  # where each wave goes to, from the bow, to port
    heave, roll, pitch = (_looked_up(table, angle) for table in _answers(frequency, hull, speed))
    on = np.sin(0.5 * math.pi * np.minimum(times / fade, 1.0)) ** 2 if fade > 0.0 else np.ones_like(times)
    rise = on * np.sum(amplitude * heave * np.cos(at), axis=1)
    # The deck follows the slope: along the boat it is -a k sin(phase) times the cosine of the angle, and so on.
    bow_down = on * np.sum(amplitude * pitch * np.sign(np.cos(angle)) * np.sin(at), axis=1)
    port_up = -on * np.sum(amplitude * roll * np.sign(np.sin(angle)) * np.sin(at), axis=1)
    return Sway(times, rise + 0.5 * hull.length * bow_down, port_up, bow_down)


def _answers(frequency: Floats, hull: Hull, speed: float) -> tuple[Floats, Floats, Floats]:
    """Heave, roll and pitch per metre of wave amplitude at each angle all round: (angles + 1, waves) each."""
    every = [response(frequency, hull, speed, 2.0 * math.pi * i / ANGLES) for i in range(ANGLES + 1)]
    return (
        np.array([each.heave for each in every]),
        np.array([each.roll for each in every]),
        np.array([each.pitch for each in every]),
    )


def _looked_up(table: Floats, angle: Floats) -> Floats:
    """The table's value for each time and wave (times, waves), straight between its angles."""
    place = np.mod(angle, 2.0 * math.pi) * ANGLES / (2.0 * math.pi)
    low = np.minimum(place.astype(np.int64), ANGLES - 1)
    share = place - low
    waves = np.arange(table.shape[1])[None, :]
    found: Floats = (1.0 - share) * table[low, waves] + share * table[low + 1, waves]
    return found
