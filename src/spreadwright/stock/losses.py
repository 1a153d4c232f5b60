"""How often gear is lost: a rate by cause, learnt from the log, with a stated guess where there is no log yet.

Losses of one cause are taken as a Poisson process in line-hours (one line trolled for one hour). Its rate is not known
but has a gamma distribution: Gamma(shape, exposure) has mean shape/exposure. After y losses in x more line-hours it is
Gamma(shape + y, exposure + x): Hoff, A First Course in Bayesian Statistical Methods (2009), section 3.2.1.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from scipy import special


@dataclass(frozen=True, slots=True)
class Rate:
    """A loss rate with its doubt: Gamma(shape [-], exposure [line-hours]), losses per line-hour."""

    shape: float
    exposure: float

    @property
    def mean(self) -> float:
        """Losses per line-hour to expect."""
        return self.shape / self.exposure

    def after(self, losses: int, line_hours: float) -> Rate:
        """The rate once so many losses were seen in so many line-hours.

        >>> Rate(2.0, 1.0).after(217, 111.0)
        Rate(shape=219.0, exposure=112.0)
        """
        if losses < 0 or line_hours < 0.0:
            raise ValueError(f"losses and line-hours are not negative, given {losses} in {line_hours}")
        return Rate(self.shape + losses, self.exposure + line_hours)

    def range(self, share: float = 0.9) -> tuple[float, float]:
        """The range [losses per line-hour] that holds the rate with that chance, as much below as above it."""
        edge = (1.0 - share) / 2.0
        low, high = (float(special.gammaincinv(self.shape, at)) / self.exposure for at in (edge, 1.0 - edge))
        return low, high


@dataclass(frozen=True, slots=True)
class Cause:
    """A way to lose gear: what one such loss takes with it, and the guess at its rate before any log.

    takes   kind of gear -> pieces lost each time
    """

    name: str
    words: str
    takes: Mapping[str, int]
    prior: Rate


# Common practice, no source: about one rig of six lost on an ordinary day of eight hours, several on a hot one; spread
# over the causes by judgement. Worth two days' log (96 line-hours), so a season's log outweighs it.
_GUESS = 96.0
CAUSES: tuple[Cause, ...] = (
    Cause("lure bitten off", "cut off at the bite leader or above it", {"lure": 1, "bite leader": 1},
          Rate(1.0, _GUESS)),
    Cause("weight bitten off", "line cut in front of the weight: all behind it is gone",
          {"trolling weight": 1, "shock leader": 1, "bite leader": 1, "lure": 1, "snap swivel": 1}, Rate(0.5, _GUESS)),
    Cause("broken off", "line or knot parted: the whole rig is gone",
          {"trolling weight": 1, "shock leader": 1, "bite leader": 1, "lure": 1, "snap swivel": 1}, Rate(0.5, _GUESS)),
    Cause("leader damaged", "nicked, curled or kinked by a fish: cut up at the bench",
          {"shock leader": 1, "bite leader": 1}, Rate(1.0, _GUESS)),
    Cause("lure damaged", "skirt chewed, hook bent or dulled", {"lure": 1, "hook": 1}, Rate(0.5, _GUESS)),
)  # fmt: skip
CAUSE_NAMES = tuple(cause.name for cause in CAUSES)


@dataclass(frozen=True, slots=True)
class Seen:
    """What the log has seen of one cause: so many losses in so many line-hours."""

    cause: str
    losses: int
    line_hours: float


def rates(seen: Iterable[Seen] = (), causes: Iterable[Cause] = CAUSES) -> dict[str, Rate]:
    """The rate of every cause: its guess, and after that what the log has seen. KeyError for an unknown cause."""
    found = {cause.name: cause.prior for cause in causes}
    for each in seen:
        found[each.cause] = found[each.cause].after(each.losses, each.line_hours)
    return found
