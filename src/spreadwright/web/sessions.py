"""Who is looking: a session a browser, known by a random cookie, with its own token against forged requests.

Sessions live in memory only: a restarted server asks phones to pair again. On this machine a session is handed out
with the first page; another machine gets one by pairing.
"""

from __future__ import annotations

import hmac
import secrets
from collections import OrderedDict
from dataclasses import dataclass, field

from spreadwright.quantity import System

MOST_SESSIONS = 500
# No signs that are easily taken for one another, as the code may be read off a screen and typed.
SIGNS = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"
CODE_LENGTH = 10
MOST_WRONG = 5


@dataclass
class Session:
    """One browser: its cookie, its token for requests that change something, and its units (None: the trip's own)."""

    key: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    token: str = field(default_factory=lambda: secrets.token_urlsafe(32))
    units: System | None = None

    def owns(self, token: str) -> bool:
        """True if the token is this session's."""
        return hmac.compare_digest(self.token.encode(), token.encode())


class Sessions:
    """All sessions, the longest unused forgotten first."""

    def __init__(self) -> None:
        self._held: OrderedDict[str, Session] = OrderedDict()

    def new(self) -> Session:
        """A new session."""
        session = Session()
        self._held[session.key] = session
        while len(self._held) > MOST_SESSIONS:
            self._held.popitem(last=False)
        return session

    def get(self, key: str) -> Session | None:
        """The session of that cookie, or None."""
        session = self._held.get(key)
        if session is not None:
            self._held.move_to_end(key)
        return session


class Pairing:
    """A code that lets one other machine in, once. Used up or guessed at too often, it gives way to a new one."""

    def __init__(self) -> None:
        self.code = ""
        self._wrong = 0
        self.renewed: list[str] = []
        self._renew()

    def _renew(self) -> None:
        self.code = "".join(secrets.choice(SIGNS) for _ in range(CODE_LENGTH))
        self._wrong = 0
        self.renewed.append(self.code)

    def redeem(self, code: str) -> bool:
        """True, once, for the right code; after it, and after too many wrong ones, there is a new code."""
        right = hmac.compare_digest(self.code.encode(), code.strip().upper().encode())
        self._wrong += 0 if right else 1
        if right or self._wrong >= MOST_WRONG:
            self._renew()
        return right
