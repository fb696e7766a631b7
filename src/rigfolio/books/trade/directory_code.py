"""How fine and how full a square code may be that a phone reads off the door of a panel."""

from functools import cache
from pathlib import Path

from rigfolio.books.kept import read_toml
from rigfolio.books.tables import number, source_of, table
from rigfolio.findings import Citation
from rigfolio.record import record

_FILE = Path(__file__).parent / "directory_code.toml"


@record
class CodeLimits:
    """Limits of one code.

    `module_mm` is the side of a module [mm], made to be read from `from_m` away [m], `quiet` the
    clear border [modules], `version` the densest symbol, `most_bytes` what it holds of ASCII text
    and `most_bytes_utf_8` of other text.
    """

    module_mm: float
    from_m: float
    quiet: int
    version: int
    most_bytes: int
    most_bytes_utf_8: int
    sources: tuple[Citation, ...]


@cache
def code_limits() -> CodeLimits:
    """The limits, read once.

    Examples
    --------
    >>> code_limits().version, code_limits().most_bytes, code_limits().most_bytes_utf_8
    (20, 666, 664)
    """
    rows = read_toml(_FILE)
    quiet, module, fullest, utf_8 = (
        table(rows, key) for key in ("quiet", "module", "fullest", "utf_8")
    )
    most = int(number(fullest, "bytes"))
    return CodeLimits(
        number(module, "width_mm"),
        number(module, "from_m"),
        int(number(quiet, "modules")),
        int(number(fullest, "version")),
        most,
        most - int(number(utf_8, "bytes")),
        tuple(source_of(row) for row in (quiet, module, fullest, utf_8)),
    )
