"""The face of a package: the names that it gives, each read from its file when first asked for.

A face costs nothing until a name is used, so that a command reads only the files that it needs.
"""

import sys
from collections.abc import Callable
from importlib import import_module


def face(package: str, **files: str) -> tuple[Callable[[str], object], tuple[str, ...]]:
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
