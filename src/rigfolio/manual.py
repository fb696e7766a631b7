"""The manual page of a module, which is its docstring."""

from pathlib import Path
from types import ModuleType


def page_of(module: ModuleType) -> str:
    """The docstring of a module, read from its text where Python was told to leave docstrings out.

    Raises
    ------
    OSError
        Docstrings are left out, and the text of the module is not there.
    """
    if module.__doc__ is not None:
        return module.__doc__
    import ast

    text = Path(module.__file__ or "").read_text(encoding="utf-8")
    return ast.get_docstring(ast.parse(text), clean=False) or ""
