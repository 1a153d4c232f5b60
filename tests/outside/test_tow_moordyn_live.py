"""One small MoorDyn run made on the spot: the stored turns are what the installed MoorDyn gives (two seconds)."""

import pytest
from tests.outside.references import make_moordyn_turns as generator
from tests.outside.test_tow_turn import MOORDYN


def test_other_code_moordyn_still_gives_the_stored_turn():
    stored = MOORDYN["live"]
    assert (stored["circle"], stored["segments"]) == generator.LIVE
    fresh = generator.steady_turn(*generator.LIVE)
    for name in ("radius", "drop", "tension"):
        assert fresh[name] == pytest.approx(stored[name], rel=1e-5)
