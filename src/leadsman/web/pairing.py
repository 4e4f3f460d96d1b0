"""Devices on the local network: a code shown once on the laptop, then a session each."""

from __future__ import annotations

import hashlib
import hmac
import secrets
import threading
import time
from collections.abc import Callable

CODE_LETTERS = "ACDEFGHJKLMNPQRTUVWXY34679"
"""Letters of a code: none that is easily read as another."""
CODE_LENGTH = 8
"""Letters of a code: 26^8 is 2e11 [-]."""
CODE_SECONDS = 15 * 60.0
"""How long a code may be used [s]."""
SESSION_SECONDS = 30 * 24 * 3600.0
"""How long a device stays paired [s]."""
WRONG_TRIES = 10
"""Wrong codes after which the code is changed [-]."""
MAX_SESSIONS = 32
"""Devices that may be paired at once; the oldest goes first [-]."""
SESSION_COOKIE = "leadsman_device"
"""Name of the cookie that holds the session."""


class Pairing:
    """One code at a time, and the sessions of the devices that used one.

    Parameters
    ----------
    on_new_code : callable or None
        Told each new code, so that it can be shown [-].
    clock : callable
        Seconds that only go forward [s].
    """

    def __init__(
        self,
        on_new_code: Callable[[str], None] | None = None,
        clock: Callable[[], float] = time.monotonic,
    ) -> None:
        self._clock = clock
        self._lock = threading.Lock()
        self._on_new_code = on_new_code
        self._sessions: dict[str, float] = {}
        self._wrong = 0
        self._code = ""
        self._code_until = 0.0
        self._new_code()

    @property
    def code(self) -> str:
        """The code that can be used now."""
        with self._lock:
            if self._clock() >= self._code_until:
                self._new_code()
            return self._code

    def pair(self, code: str) -> str | None:
        """Use the code, which then is used up.

        Parameters
        ----------
        code : str
            As typed; case, blanks and dashes do not matter [-].

        Returns
        -------
        str or None
            Secret of the new session; None if the code is wrong or too old.
        """
        typed = "".join(c for c in code.upper() if c in CODE_LETTERS)
        with self._lock:
            if self._clock() >= self._code_until:
                self._new_code()
                return None
            if not hmac.compare_digest(typed.encode(), self._code.encode()):
                self._wrong += 1
                if self._wrong >= WRONG_TRIES:
                    self._new_code()
                return None
            secret = secrets.token_urlsafe(32)
            while len(self._sessions) >= MAX_SESSIONS:
                del self._sessions[min(self._sessions, key=self._sessions.__getitem__)]
            self._sessions[_digest(secret)] = self._clock() + SESSION_SECONDS
            self._new_code()
            return secret

    def knows(self, secret: str | None) -> bool:
        """Whether a session is known and not too old.

        Parameters
        ----------
        secret : str or None
            Secret of the session [-].
        """
        if not secret:
            return False
        with self._lock:
            until = self._sessions.get(_digest(secret))
            return until is not None and self._clock() < until

    def _new_code(self) -> None:
        self._code = "".join(secrets.choice(CODE_LETTERS) for _ in range(CODE_LENGTH))
        self._code_until = self._clock() + CODE_SECONDS
        self._wrong = 0
        if self._on_new_code is not None:
            self._on_new_code(self._code)


def shown(code: str) -> str:
    """A code as it is read aloud, in two halves.

    Parameters
    ----------
    code : str
        The code [-].
    """
    half = len(code) // 2
    return f"{code[:half]}-{code[half:]}"


def _digest(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()
