"""What is said of a command that cannot be done as it was given."""


class RefusalError(Exception):
    """A command that cannot be done as it was given: rule name, headline, way out."""

    def __init__(self, rule: str, headline: str, fix: str = "") -> None:
        super().__init__(headline)
        self.rule = rule
        self.headline = headline
        self.fix = fix


def not_written(problem: Exception) -> RefusalError:
    """What to say when writing failed."""
    name = getattr(problem, "filename", None) or "the documents"
    why = getattr(problem, "strerror", None) or "its name cannot be used"
    return RefusalError(
        "file-not-written",
        f"`{name}` cannot be written: {why[0].lower()}{why[1:]}; nothing was changed",
        "name another place with `-o`",
    )
