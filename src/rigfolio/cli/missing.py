"""What is said where a library is not installed: what it is for, and how to get it."""

from collections.abc import Mapping

from rigfolio.refusal import RefusalError

_EXTRAS: Mapping[str, tuple[str, str]] = {
    "pygls": ("talks to editors", "editor"),
    "lsprotocol": ("talks to editors", "editor"),
    "shtab": ("completes in a shell", "completion"),
    "python_calamine": ("reads `.xlsx` and `.ods`", "tables"),
}
"""What a library does that is installed on demand, and what is asked of pip for it."""
_NEEDED: Mapping[str, tuple[str, str]] = {
    "lark": ("reads a line of text", "lark"),
    "pint": ("knows the units", "pint"),
    "graphviz": ("talks to the drawing program", "graphviz"),
    "graphviz_pure": ("lays the diagram out", "graphviz-pure"),
    "reportlab": ("writes PDF", "reportlab"),
    "PIL": ("reads and measures pictures", "pillow"),
    "highspy": ("searches for the best order", "highspy"),
    "pypdf": ("puts texts into a PDF", "pypdf"),
    "segno": ("draws square codes", "segno"),
    "filelock": ("keeps two from writing at once", "filelock"),
    "jinja2": ("makes the page", "jinja2"),
    "tqdm": ("shows how much is done", "tqdm"),
}
"""What a library does that comes with the program, and its name to pip."""


def missing_part(problem: ModuleNotFoundError) -> RefusalError | None:
    """What to say of a module that is not there; None where it is one of ours or nobody's."""
    root = (problem.name or "").partition(".")[0]
    if root in _EXTRAS:
        does, extra = _EXTRAS[root]
        get = f"`python -m pip install 'rigfolio[{extra}]'`"
    elif root in _NEEDED:
        does, name = _NEEDED[root]
        get = f"`python -m pip install {name}`; it comes with `python -m pip install rigfolio`"
    else:
        return None
    return RefusalError("library-missing", f"what {does} is not installed, `{root}`", get)
