"""The tow file: one or more towed lines with nothing else around, read, computed and told.

A one-off beside the plan, for checking the physics: `spreadwright tow FILE.toml`. Reading is here; computing is in
`spreadwright.towfile.compute`, which loads the compiled core and is therefore imported only when it is needed.
"""

from spreadwright.towfile.read_file import read_tow_file, tow_file_from_text
from spreadwright.towfile.result import TowResult, result_from_json
from spreadwright.towfile.values import TowFile

__all__ = ["TowFile", "TowResult", "read_tow_file", "result_from_json", "tow_file_from_text"]
