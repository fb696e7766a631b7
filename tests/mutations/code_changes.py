"""How many small changes of the code itself the tests notice.

``python tests/mutations/code_changes.py --number 120 --seed 1`` changes one place at a time in a
copy of the tree, runs the tests that lie beside it, then those of all that is printed, and prints
each change that nothing noticed, to be looked at: either it alters no answer, or a test is missing.
``--folders rules calc`` keeps to some folders, ``--whole`` asks the whole suite last.
"""

import argparse
import ast
import random
import resource
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

HOME = Path(__file__).parents[2]
CODE = Path("src/rigfolio")
JUDGES = (
    "rules", "calc", "protection", "operating", "isolation", "sizing", "diagnosis", "network",
    "demand", "shorts",
)  # fmt: skip
"""Where a wrong answer can burn or hurt."""
COMPARED = {
    ast.Lt: "<=", ast.LtE: "<", ast.Gt: ">=", ast.GtE: ">", ast.Eq: "!=", ast.NotEq: "==",
    ast.In: "not in", ast.NotIn: "in", ast.Is: "is not", ast.IsNot: "is",
}  # fmt: skip
COUNTED = {ast.Add: "-", ast.Sub: "+", ast.Mult: "/", ast.Div: "*"}
NAMED = {"max": "min", "min": "max", "any": "all", "all": "any"}
JUDGED_FIRST = ["tests/rules", "tests/messages"]
PATIENCE_S = 900
"""Processor time of a round; a change that makes the tests run on for ever is noticed by it."""


@dataclass(frozen=True, slots=True)
class Change:
    """One place of a file, given by its bytes, and what stands there instead."""

    file: Path
    line: int
    start: int
    end: int
    old: str
    new: str

    def __str__(self) -> str:
        return f"{self.file}:{self.line}: {self.old}  ->  {self.new}"


def changes(file: Path) -> Iterator[Change]:
    """All places of a file where one sign, number or word can be another."""
    text = (HOME / file).read_bytes()
    starts = [0]
    for line in text.splitlines(keepends=True):
        starts.append(starts[-1] + len(line))
    tree = ast.parse(text)
    unseen = set(_unseen(tree))
    for node in ast.walk(tree):
        new = None if id(node) in unseen else _instead(node)
        if new is not None:
            start = starts[node.lineno - 1] + node.col_offset
            end = starts[node.end_lineno - 1] + node.end_col_offset
            old = text[start:end].decode()
            yield Change(file, node.lineno, start, end, old, new)


def _unseen(tree: ast.Module) -> Iterator[int]:
    """What no run of the program sees: the types of names, and what only a checker reads."""
    for node in ast.walk(tree):
        hidden: list[ast.AST | None] = []
        if isinstance(node, ast.AnnAssign | ast.arg):
            hidden = [node.annotation]
        elif isinstance(node, ast.FunctionDef):
            hidden = [node.returns]
        elif isinstance(node, ast.If) and ast.unparse(node.test) == "TYPE_CHECKING":
            hidden = [node]
        for part in hidden:
            if part is not None:
                yield from (id(inner) for inner in ast.walk(part))


def _instead(node: ast.AST) -> str | None:
    match node:
        case ast.Compare(left, [sign], [right]) if type(sign) in COMPARED:
            return f"({ast.unparse(left)} {COMPARED[type(sign)]} {ast.unparse(right)})"
        case ast.BinOp(left, sign, right) if type(sign) in COUNTED:
            return f"(({ast.unparse(left)}) {COUNTED[type(sign)]} ({ast.unparse(right)}))"
        case ast.BoolOp(sign, values):
            word = " or " if isinstance(sign, ast.And) else " and "
            return "(" + word.join(f"({ast.unparse(value)})" for value in values) + ")"
        case ast.UnaryOp(ast.Not(), operand):
            return f"({ast.unparse(operand)})"
        case ast.Name(name, ast.Load()) if name in NAMED:
            return NAMED[name]
        case ast.Constant(bool() as value):
            return str(not value)
        case ast.Constant(int() | float() as value):
            return repr(value * 1.1 or 1.0 if isinstance(value, float) else value + 1)
    return None


def is_noticed(change: Change, tree: Path, *, whole: bool) -> bool:
    """Whether some test fails once the change is made in `tree`, a copy of the project.

    Raises
    ------
    OSError
        The copy cannot be written.
    """
    target = tree / change.file
    before = target.read_bytes()
    target.write_bytes(before[: change.start] + change.new.encode() + before[change.end :])
    try:
        beside = f"tests/{change.file.relative_to(CODE).parts[0]}"
        rounds = [[beside], ["tests/rules", "tests/mutations"], ["tests/printed", "tests/messages"]]
        if whole:
            rounds.append([])
        return any(_fails(tree, paths) for paths in rounds)
    finally:
        target.write_bytes(before)


def _fails(tree: Path, paths: Sequence[str]) -> bool:
    asked = [path for path in paths if (tree / path).exists()]
    if paths and not asked:
        return False
    command = [sys.executable, "-m", "pytest", "-x", "-q", "-n", "0", "-p", "no:cacheprovider"]
    ended = subprocess.run(
        [*command, *asked], cwd=tree, capture_output=True, check=False, preexec_fn=_bounded
    )
    return ended.returncode != 0


def _bounded() -> None:
    resource.setrlimit(resource.RLIMIT_CPU, (PATIENCE_S, PATIENCE_S))


def _chosen(folders: Sequence[str], number: int, seed: int) -> list[Change]:
    """A few places of every folder, as many of each as its share of all places."""
    files = [
        file.relative_to(HOME)
        for folder in folders
        for file in sorted((HOME / CODE / folder).rglob("*.py"))
        if file.name != "__init__.py"
    ]
    every = [change for file in files for change in changes(file)]
    return random.Random(seed).sample(every, min(number, len(every)))


def main() -> None:
    """Print what no test noticed, and the count."""
    given = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    given.add_argument("--folders", nargs="+", default=JUDGES)
    given.add_argument("--number", type=int, default=120)
    given.add_argument("--seed", type=int, default=1)
    given.add_argument("--whole", action="store_true")
    asked = given.parse_args()
    chosen = _chosen(asked.folders, asked.number, asked.seed)
    missed = 0
    with tempfile.TemporaryDirectory() as folder:
        tree = Path(folder) / "tree"
        left_out = shutil.ignore_patterns(".git", ".venv*", "__pycache__", ".*_cache")
        shutil.copytree(HOME, tree, ignore=left_out)
        if _fails(tree, JUDGED_FIRST):
            sys.exit("the tests fail without any change: nothing can be said")
        for change in chosen:
            if not is_noticed(change, tree, whole=asked.whole):
                missed += 1
                sys.stdout.write(f"{change}\n")
                sys.stdout.flush()
    sys.stdout.write(f"{len(chosen) - missed} of {len(chosen)} changes noticed\n")


if __name__ == "__main__":
    main()
