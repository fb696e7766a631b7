"""What is said of a command that cannot be done as it was given."""

_CHANGED = "it has changed since it was read"


class RefusalError(Exception):
    """A command that cannot be done as it was given: rule name, headline, way out."""

    def __init__(self, rule: str, headline: str, fix: str = "") -> None:
        super().__init__(headline)
        self.rule = rule
        self.headline = headline
        self.fix = fix


class ChangedError(OSError, ValueError):
    """A file no longer holds what was read from it; `filename` says which, where that is known."""

    def __init__(self, name: str = "") -> None:
        super().__init__(0, _CHANGED, name)


ELSEWHERE = "name another place with `-o`"
IN_PLACE = "see whether the file and its folder may be written to, and whether the disk is full"
"""What to do where a file could not be written: as a command has it, or over a text of the user."""


def not_written(problem: Exception, fix: str = IN_PLACE) -> RefusalError:
    """What to say when writing failed, and what to do."""
    name = getattr(problem, "filename", None) or "the documents"
    why = getattr(problem, "strerror", None) or "its name cannot be used"
    if why == _CHANGED:
        return RefusalError(
            "file-changed",
            f"`{name}` was changed by somebody else while it was read; nothing was written",
            "run the command again",
        )
    return RefusalError(
        "file-not-written",
        f"`{name}` cannot be written: {why[0].lower()}{why[1:]}; nothing was changed",
        fix,
    )
