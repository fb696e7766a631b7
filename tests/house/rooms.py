"""What the plan of the house forbids, each as a function over a tree of sources.

A tree is read once: every file, and every import in it, also those inside functions and those that
only type checkers see. A name that is taken from the face of a package counts as taken from the
file that it comes from. Each function gives one line for every place that breaks the plan.
"""

import ast
import tomllib
from collections import defaultdict
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from house.reading import nodes_of

MOST_FILES = 16
MOST_LINES, MOST_FUNCTION_LINES, MOST_CLASS_LINES = 400, 50, 200


@dataclass(frozen=True)
class Import:
    """One name that a file imports: `name` is empty where a whole module is taken."""

    by: str
    module: str
    name: str
    line: int


@dataclass(frozen=True)
class Face:
    """The two lists of a face: for each name the file that it comes from."""

    typed: Mapping[str, str]
    given: Mapping[str, str]


class Tree:
    """A package with all that is below it, by dotted names from its root."""

    def __init__(self, root: Path) -> None:
        self.root = root
        self.name = root.name
        self.files = {self._dotted(file): file for file in sorted(root.rglob("*.py"))}
        self.code = {name: nodes_of(file.read_text("utf-8")) for name, file in self.files.items()}

    def _dotted(self, file: Path) -> str:
        parts = file.relative_to(self.root.parent).with_suffix("").parts
        return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)

    def is_package(self, name: str) -> bool:
        """Whether a dotted name is a folder."""
        return self.files[name].name == "__init__.py"

    @cached_property
    def packages(self) -> tuple[str, ...]:
        """Every package below the root."""
        return tuple(n for n in self.files if self.is_package(n) and n != self.name)

    @cached_property
    def faces(self) -> Mapping[str, Face]:
        """The packages that have a face."""
        found = {}
        for name in self.packages:
            calls = [
                node
                for node in self.code[name]
                if isinstance(node, ast.Call) and ast.unparse(node.func) == "face"
            ]
            if calls:
                found[name] = Face(dict(self._typed(name)), dict(_given(calls[0])))
        return found

    def _typed(self, package: str) -> Iterator[tuple[str, str]]:
        for node in self.code[package]:
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith(f"{package}."):
                for alias in node.names:
                    yield alias.name, (node.module or "").removeprefix(f"{package}.")

    @cached_property
    def imports(self) -> tuple[Import, ...]:
        """Every import of a part of this tree, by the files in it; those of faces aside."""
        return tuple(
            found
            for by, code in self.code.items()
            if by not in self.faces
            for node in code
            for found in self._taken(by, node)
        )

    def _taken(self, by: str, node: ast.AST) -> Iterator[Import]:
        if isinstance(node, ast.Import):
            for alias in node.names:
                if alias.name.partition(".")[0] == self.name:
                    yield Import(by, alias.name, "", node.lineno)
        elif isinstance(node, ast.ImportFrom) and node.module is not None:
            if node.module.partition(".")[0] != self.name:
                return
            for alias in node.names:
                inner = f"{node.module}.{alias.name}"
                if inner in self.files and not self._gives(node.module, alias.name):
                    yield Import(by, inner, "", node.lineno)
                else:
                    yield Import(by, node.module, alias.name, node.lineno)

    def _gives(self, module: str, name: str) -> bool:
        return module in self.faces and name in self.faces[module].given

    def home(self, taken: Import) -> str:
        """The file that an imported name comes from."""
        home = taken.module
        while home in self.faces and taken.name in self.faces[home].given:
            home = f"{home}.{self.faces[home].given[taken.name]}"
        return home

    def attributes(self, taken: Import) -> frozenset[str]:
        """What a file uses of a module that it has imported whole."""
        word = taken.module.rpartition(".")[2]
        return frozenset(
            node.attr
            for node in self.code[taken.by]
            if isinstance(node, ast.Attribute)
            and isinstance(node.value, ast.Name)
            and node.value.id == word
        )

    def where(self, name: str) -> str:
        """A file as it is written in a message."""
        return str(self.files[name].relative_to(self.root))


def _given(call: ast.Call) -> Iterator[tuple[str, str]]:
    for word in call.keywords:
        for name in str(ast.literal_eval(word.value)).split():
            yield name, str(word.arg)


def crowded(tree: Tree, found_by_folder: Collection[str] = ()) -> Iterator[str]:
    """Packages of more files than one can keep in mind; folders that are found by folder aside."""
    for package in (tree.name, *tree.packages):
        folder = tree.files[package].parent
        count = sum(1 for file in folder.glob("*.py") if file.name != "__init__.py")
        if count > MOST_FILES and package not in found_by_folder:
            yield f"{package}: {count} files"


def past_a_face(tree: Tree) -> Iterator[str]:
    """Imports of a file from outside the package that it belongs to."""
    for taken in tree.imports:
        package = taken.module.rpartition(".")[0]
        if package in tree.faces and not _is_in(taken.by, package):
            yield f"{tree.where(taken.by)}:{taken.line}: {taken.module}"


def _is_in(name: str, package: str) -> bool:
    return name == package or name.startswith(f"{package}.")


def wrong_faces(tree: Tree) -> Iterator[str]:
    """Names in one list of a face only, named like a file, not there, or used by nobody outside."""
    used = _used(tree)
    for package, face in tree.faces.items():
        for name in sorted(face.typed.keys() ^ face.given.keys()):
            yield f"{package}: {name} is in one list only"
        for name in sorted(face.typed.keys() & face.given.keys()):
            if face.typed[name] != face.given[name]:
                yield f"{package}: {name} is of two files"
        for name, file in sorted(face.given.items()):
            if f"{package}.{name}" in tree.files:
                yield f"{package}: {name} is a file too"
            if f"{package}.{file}" not in tree.files:
                yield f"{package}: {file} is no file"
            if name not in used[package]:
                yield f"{package}: {name} is used by nobody"


def _used(tree: Tree) -> Mapping[str, set[str]]:
    used: dict[str, set[str]] = defaultdict(set)
    for taken in tree.imports:
        if not _is_in(taken.by, taken.module):
            used[taken.module].update({taken.name} if taken.name else tree.attributes(taken))
    for package in sorted(tree.faces):
        # What is given on from the face of a room within is used of that.
        for name, file in tree.faces[package].given.items():
            if f"{package}.{file}" in tree.faces and name in used[package]:
                used[f"{package}.{file}"].add(name)
    return used


def circles(tree: Tree) -> Iterator[str]:
    """Files that need each other, however far round, now or later."""
    needs: dict[str, set[str]] = {name: set() for name in tree.files}
    for taken in tree.imports:
        needs[taken.by].add(tree.home(taken))
        if not taken.name and taken.module in tree.faces:
            given = tree.faces[taken.module].given
            needs[taken.by].discard(taken.module)
            used = tree.attributes(taken) & given.keys()
            needs[taken.by].update(f"{taken.module}.{given[name]}" for name in used)
    for knot in _knots(needs):
        yield " <-> ".join(tree.where(name) for name in sorted(knot))


def _knots(needs: Mapping[str, Collection[str]]) -> Iterator[set[str]]:
    reach = {name: _reached(needs, name) for name in needs}
    left = set(needs)
    while left:
        name = left.pop()
        knot = {other for other in reach[name] if name in reach.get(other, ())}
        if knot:
            left -= knot
            yield knot | {name}


def _reached(needs: Mapping[str, Collection[str]], start: str) -> set[str]:
    waiting, seen = list(needs[start]), set[str]()
    while waiting:
        name = waiting.pop()
        if name not in seen and name in needs:
            seen.add(name)
            waiting += needs[name]
    return seen


def layers_of(settings: Path) -> tuple[tuple[str, ...], ...]:
    """The layers of a whole tree in a pyproject, from the top; those in one line are strangers."""
    contracts = tomllib.loads(settings.read_text("utf-8"))["tool"]["importlinter"]["contracts"]
    (stated,) = [
        each["layers"] for each in contracts
        if each["type"] == "layers" and "." not in "".join(each["containers"])
    ]  # fmt: skip
    return tuple(tuple(part.strip() for part in line.split("|")) for line in stated)


def upward(tree: Tree, layers: Sequence[Sequence[str]], aside: Collection[str]) -> Iterator[str]:
    """Imports from a line above, or from a stranger in the same one, and what has no line."""
    depth = {part: number for number, line in enumerate(layers) for part in line}
    parts = {name.split(".")[1] for name in tree.files if "." in name}
    for part in sorted(parts - set(aside) - depth.keys()):
        yield f"{part}: has no layer"
    for taken in tree.imports:
        by, of = (name.split(".")[1:2] for name in (taken.by, taken.module))
        if not by or not of or by == of or by[0] not in depth or of[0] not in depth:
            continue
        if depth[of[0]] <= depth[by[0]]:
            yield f"{tree.where(taken.by)}:{taken.line}: {taken.module}"


def large(tree: Tree, aside: Collection[str] = ()) -> Iterator[str]:
    """Files, classes and functions longer than one can keep in mind; some packages aside."""
    for name, code in tree.code.items():
        if any(_is_in(name, package) for package in aside):
            continue
        lines = tree.files[name].read_text("utf-8").count("\n")
        if lines > MOST_LINES:
            yield f"{tree.where(name)}: {lines} lines"
        for node in code:
            if not isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef | ast.ClassDef):
                continue
            most = MOST_CLASS_LINES if isinstance(node, ast.ClassDef) else MOST_FUNCTION_LINES
            lines = (node.end_lineno or node.lineno) - node.lineno + 1
            if lines > most:
                yield f"{tree.where(name)}: {node.name}: {lines} lines"


def classes_of_one_name(tree: Tree, aside: Collection[str] = ()) -> Iterator[str]:
    """Names of classes that mean two things, with an underscore or without; some packages aside."""
    places: dict[str, list[str]] = defaultdict(list)
    for name, code in tree.code.items():
        if any(_is_in(name, package) for package in aside):
            continue
        for node in code:
            if isinstance(node, ast.ClassDef):
                places[node.name.lstrip("_")].append(tree.where(name))
    for word, files in sorted(places.items()):
        if len(files) > 1:
            yield f"{word}: {', '.join(files)}"
