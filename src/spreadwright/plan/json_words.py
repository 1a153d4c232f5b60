"""What is wrong with a JSON file of this program that cannot be read back, in words that tell what to do."""

from __future__ import annotations

from pydantic import ValidationError

from spreadwright.quantity import quote


def json_words(error: ValidationError) -> str:
    """The first thing that is wrong with the file, as it goes after "given"."""
    first = error.errors()[0]
    where = ".".join(map(str, first["loc"]))
    if first["type"] == "json_invalid":
        whole = first["input"]
        empty = isinstance(whole, str | bytes) and not whole.strip()
        return "an empty file" if empty else "a text that is no JSON, or JSON that breaks off"
    if not where:
        return "JSON of something else"
    if first["type"] == "missing":
        return f"'{where}' is missing"
    if first["type"] == "extra_forbidden":
        return f"'{where}', which such a file does not have"
    return f"'{where}' is {quote(first['input'])}"
