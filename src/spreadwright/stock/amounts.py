"""How many of a kind, read and shown: whole pieces, or for coils a length with its unit (kept in millimetres)."""

from __future__ import annotations

from spreadwright.faults import Fault, Faults
from spreadwright.quantity import QuantityError, System, quote, read, show_given
from spreadwright.stock.event import MOST
from spreadwright.stock.kinds import Kind


def read_amount(kind: Kind, text: str) -> int:
    """Pieces, or millimetres of a coil. Raises Faults for a text that is no amount of that kind.

    >>> from spreadwright.stock.kinds import kind_of
    >>> read_amount(kind_of("lure"), "3"), read_amount(kind_of("coil"), "20 ft")
    (3, 6096)
    """
    tidy = text.strip()
    if kind.counted == "length":
        try:
            amount = round(1000.0 * read(tidy, "length"))
        except QuantityError as error:
            raise Faults([Fault("amount", error.given, error.rule, error.next_step)]) from None
    elif tidy.isascii() and tidy.isdigit():
        amount = int(tidy)
    else:
        raise Faults([Fault("amount", quote(tidy), f"{kind.plural} are counted in whole pieces", _whole(tidy))])
    if not 0 <= amount <= MOST:
        raise Faults([Fault("amount", quote(tidy), f"an amount lies from 0 to {MOST}", "correct it")])
    return amount


def _whole(given: str) -> str:
    """The next step for an amount that is no whole number: the number that was nearly written, if there is one."""
    try:
        number = abs(round(float(given.replace(",", "."))))
    except (ValueError, OverflowError):
        return "write how many in digits, such as 1 or 12"
    return f"write it as {number}" if 0 < number <= MOST else "write how many in digits, such as 1 or 12"


def show_amount(kind: Kind, amount: int, system: System = "us") -> str:
    """An amount in words: "3", or "20 ft" for coils."""
    return show_given(amount / 1000.0, "length", system) if kind.counted == "length" else str(amount)
