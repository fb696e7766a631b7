"""The house keeps its plan, and each check of it finds the break that it is there for."""

from collections.abc import Mapping
from pathlib import Path
from types import MappingProxyType

import pytest

from helpers.home import HOME
from house import rooms
from house.rooms import Tree

SETTINGS = HOME / "pyproject.toml"
FOUND_BY_FOLDER = tuple(
    f"rigfolio.{folder}" for folder in ("rules", "statements", "sheets", "cli.commands")
)


@pytest.fixture(scope="module")
def house() -> Tree:
    """The package, read when the first test asks for it."""
    return Tree(HOME / "src" / "rigfolio")


def test_no_package_is_crowded(house: Tree) -> None:
    assert list(rooms.crowded(house, FOUND_BY_FOLDER)) == []


def test_no_import_goes_past_a_face(house: Tree) -> None:
    assert len(house.faces) > 20
    assert list(rooms.past_a_face(house)) == []


def test_faces_give_what_others_use(house: Tree) -> None:
    assert list(rooms.wrong_faces(house)) == []


def test_no_files_go_round_in_a_circle(house: Tree) -> None:
    assert len(house.imports) > 1000
    assert list(rooms.circles(house)) == []


def test_imports_go_down_only(house: Tree) -> None:
    assert list(rooms.upward(house, rooms.layers_of(SETTINGS), ("grammar", "__main__"))) == []


def test_nothing_is_larger_than_agreed(house: Tree) -> None:
    assert list(rooms.large(house)) == []


def test_a_class_name_means_one_thing(house: Tree) -> None:
    assert list(rooms.classes_of_one_name(house)) == []


FACE = """
from typing import TYPE_CHECKING
from cabin.faces import face
if TYPE_CHECKING:
    from cabin.bed.frame import long as long
else:
    __getattr__, __all__ = face(__name__, frame="long")
"""
SOUND = {
    "__init__": "",
    "faces": "",
    "door": "from cabin.bed import long",
    "bed/__init__": FACE,
    "bed/frame": "from cabin.bed import slat",
    "bed/slat": "",
}
"""A house of two files and a package with a face, in which all is as it should be."""


def built(folder: Path, changed: Mapping[str, str] = MappingProxyType({})) -> Tree:
    """The sound house with some files put in or changed."""
    root = folder / "cabin"
    for name, text in (SOUND | changed).items():
        file = root / f"{name}.py"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
    return Tree(root)


LAYERS = (("door",), ("bed",), ("faces",))


def test_a_sound_house_passes_every_check(tmp_path: Path) -> None:
    tree = built(tmp_path)
    assert len(tree.imports) == 2
    for check in (
        rooms.crowded, rooms.past_a_face, rooms.wrong_faces, rooms.circles, rooms.large,
        rooms.classes_of_one_name,
    ):  # fmt: skip
        assert list(check(tree)) == []
    assert list(rooms.upward(tree, LAYERS, ())) == []


def test_a_seventeenth_file_is_found(tmp_path: Path) -> None:
    full = {f"bed/slat{number}": "" for number in range(rooms.MOST_FILES - 2)}
    assert list(rooms.crowded(built(tmp_path, full))) == []
    tree = built(tmp_path, {**full, "bed/one_more": ""})
    assert list(rooms.crowded(tree)) == ["cabin.bed: 17 files"]
    assert list(rooms.crowded(tree, ["cabin.bed"])) == []


@pytest.mark.parametrize(
    "text",
    [
        "from cabin.bed.frame import long",
        "from cabin.bed import slat",
        "import cabin.bed.slat",
        "def later():\n    from cabin.bed.frame import long",
        "if TYPE_CHECKING:\n    from cabin.bed.frame import long",
    ],
)
def test_an_import_past_a_face_is_found(tmp_path: Path, text: str) -> None:
    (found,) = rooms.past_a_face(built(tmp_path, {"door": text}))
    assert found.startswith("door.py:")


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"door": ""}, "long is used by nobody"),
        ({"door": "from cabin import bed\nbed.wide"}, "long is used by nobody"),
        ({"bed/__init__": FACE.replace('frame="long"', "")}, "long is in one list only"),
        ({"bed/__init__": FACE.replace("import long as long", "import x as x")}, "x is in one"),
        ({"bed/__init__": FACE.replace("cabin.bed.frame", "cabin.bed.slat")}, "of two files"),
        ({"bed/long": ""}, "long is a file too"),
        ({"bed/__init__": FACE.replace("frame", "leg")}, "leg is no file"),
    ],
)
def test_a_wrong_face_is_found(tmp_path: Path, changed: dict[str, str], said: str) -> None:
    assert any(said in found for found in rooms.wrong_faces(built(tmp_path, changed)))


@pytest.mark.parametrize(
    "text", ["from cabin import bed\nbed.long", "import cabin.bed as bed\nbed.long"]
)
def test_a_name_used_as_an_attribute_is_used(tmp_path: Path, text: str) -> None:
    assert list(rooms.wrong_faces(built(tmp_path, {"door": text}))) == []


@pytest.mark.parametrize(
    "text",
    [
        "from cabin.door import knock",
        "from cabin import door",
        "def later():\n    from cabin.door import knock",
        "if TYPE_CHECKING:\n    from cabin.door import knock",
    ],
)
def test_a_circle_is_found_through_a_face(tmp_path: Path, text: str) -> None:
    tree = built(tmp_path, {"bed/slat": text})
    assert list(rooms.circles(tree)) == ["bed/frame.py <-> bed/slat.py <-> door.py"]


def test_a_circle_of_two_is_found_beside_another(tmp_path: Path) -> None:
    tree = built(
        tmp_path,
        {
            "bed/slat": "import cabin.bed.frame",
            "one": "import cabin.two",
            "two": "import cabin.one",
        },
    )
    found = set(rooms.circles(tree))
    assert found == {"bed/frame.py <-> bed/slat.py", "one.py <-> two.py"}


def test_an_import_up_or_to_a_stranger_is_found(tmp_path: Path) -> None:
    tree = built(tmp_path)
    assert list(rooms.upward(tree, (("bed",), ("door",), ("faces",)), ())) == [
        "door.py:1: cabin.bed"
    ]
    assert list(rooms.upward(tree, (("bed", "door"), ("faces",)), ())) == ["door.py:1: cabin.bed"]
    assert list(rooms.upward(tree, (("door",), ("bed",)), ())) == ["faces: has no layer"]
    assert list(rooms.upward(tree, (("door",), ("bed",)), ("faces",))) == []


def test_layers_are_read_from_the_settings(tmp_path: Path) -> None:
    file = tmp_path / "pyproject.toml"
    file.write_text(
        '[[tool.importlinter.contracts]]\ntype = "independence"\nmodules = []\n'
        '[[tool.importlinter.contracts]]\ntype = "layers"\ncontainers = ["cabin"]\n'
        'layers = ["door", "bed | faces"]\n'
        '[[tool.importlinter.contracts]]\ntype = "layers"\ncontainers = ["cabin.bed"]\n'
        'layers = ["frame", "slat"]\n',
        encoding="utf-8",
    )
    assert rooms.layers_of(file) == (("door",), ("bed", "faces"))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("\n" * 401, "door.py: 401 lines"),
        ("class Door:\n" + "    x = 1\n" * 200, "door.py: Door: 201 lines"),
        ("def knock():\n" + "    x = 1\n" * 50, "door.py: knock: 51 lines"),
        ("class Door:\n    def knock():\n" + "        x = 1\n" * 50, "door.py: knock: 51 lines"),
        ("async def knock():\n" + "    x = 1\n" * 50, "door.py: knock: 51 lines"),
    ],
)
def test_what_is_too_large_is_found(tmp_path: Path, text: str, said: str) -> None:
    tree = built(tmp_path, {"door": text})
    assert list(rooms.large(tree)) == [said]
    assert list(rooms.large(tree, ["cabin.door"])) == []


def test_a_class_name_of_two_meanings_is_found(tmp_path: Path) -> None:
    inner = "class Panel:\n    class Frame: ..."
    tree = built(tmp_path, {"door": inner, "bed/frame": "class Frame: ..."})
    assert list(rooms.classes_of_one_name(tree)) == ["Frame: bed/frame.py, door.py"]
    assert list(rooms.classes_of_one_name(tree, ["cabin.bed"])) == []


def test_an_underscore_tells_no_two_classes_apart(tmp_path: Path) -> None:
    tree = built(tmp_path, {"door": "class _Frame: ...", "bed/frame": "class Frame: ..."})
    assert list(rooms.classes_of_one_name(tree)) == ["Frame: bed/frame.py, door.py"]
    tree = built(tmp_path, {"door": "class _Post: ...\nclass Post: ...", "bed/frame": ""})
    assert list(rooms.classes_of_one_name(tree)) == ["Post: door.py, door.py"]
    tree = built(tmp_path, {"door": "class _Post: ...", "bed/frame": "class Frame: ..."})
    assert list(rooms.classes_of_one_name(tree)) == []


WITHIN = """
from typing import TYPE_CHECKING
from cabin.faces import face
if TYPE_CHECKING:
    from cabin.bed.drawer import deep as deep
else:
    __getattr__, __all__ = face(__name__, drawer="deep")
"""
DRAWER = FACE.replace("cabin.bed.frame", "cabin.bed.drawer.board").replace("frame", "board")
NESTED = {
    "bed/__init__": WITHIN,
    "bed/drawer/__init__": DRAWER.replace("long", "deep"),
    "bed/drawer/board": "",
    "door": "from cabin.bed import deep",
}
"""The same with a room within, whose name is given on by the outer face."""


def test_a_face_may_give_on_what_a_room_within_it_gives(tmp_path: Path) -> None:
    tree = built(tmp_path, NESTED)
    assert list(rooms.wrong_faces(tree)) == []
    assert list(rooms.past_a_face(tree)) == []
    (taken,) = (one for one in tree.imports if one.by == "cabin.door")
    assert tree.home(taken) == "cabin.bed.drawer.board"


def test_what_a_room_within_gives_is_used_by_somebody(tmp_path: Path) -> None:
    found = list(rooms.wrong_faces(built(tmp_path, NESTED | {"door": ""})))
    assert found == [
        "cabin.bed: deep is used by nobody",
        "cabin.bed.drawer: deep is used by nobody",
    ]


def test_a_circle_through_two_faces_is_found(tmp_path: Path) -> None:
    tree = built(tmp_path, NESTED | {"bed/drawer/board": "from cabin.door import knock"})
    assert list(rooms.circles(tree)) == ["bed/drawer/board.py <-> door.py"]
