"""What a package and a module show: names of the one, the manual page of the other; the version.

A face gives its names, each read from its file when first asked for. It costs nothing until a name
is used, so that a command reads only the files that it needs.
"""

import sys
from importlib import import_module

# What follows takes long to read, and this is read before the command listens for Ctrl-C.
TYPE_CHECKING = False
if TYPE_CHECKING:
    from collections.abc import Callable
    from types import ModuleType


def face(package: str, **files: str) -> "tuple[Callable[[str], object], tuple[str, ...]]":
    """What a package has to call `__getattr__` and `__all__`.

    Parameters
    ----------
    package : str
        Its full name.
    files : str
        For each file of the package the names that it gives, apart by spaces.

    Examples
    --------
    >>> find, names = face("rigfolio.calc", drop="drop_v", sparse="solve")
    >>> names
    ('drop_v', 'solve')
    """
    homes = {name: file for file, names in files.items() for name in names.split()}

    def find(name: str) -> object:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        found: object = getattr(import_module(f"{package}.{homes[name]}"), name)
        setattr(sys.modules[package], name, found)
        return found

    return find, tuple(sorted(homes))


def page_of(module: "ModuleType") -> str:
    """The docstring of a module, read from its text where Python was told to leave docstrings out.

    Raises
    ------
    OSError
        Docstrings are left out, and the text of the module is not there.
    """
    if module.__doc__ is not None:
        return module.__doc__
    import ast
    from pathlib import Path

    text = Path(module.__file__ or "").read_text(encoding="utf-8")
    return ast.get_docstring(ast.parse(text), clean=False) or ""


def own_version() -> str:
    """The version of the program as it was installed; empty where it runs from a source tree."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("rigfolio")
    except PackageNotFoundError:
        return ""
