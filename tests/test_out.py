"""The documents under `out/` are those that the examples make today, byte for byte."""

from pathlib import Path

import pytest

from make_out import HOME, STABLE, documents, examples

NAMES = [rig.stem for rig in examples()]


def test_there_are_examples() -> None:
    assert len(NAMES) >= 3


@pytest.mark.parametrize("stem", NAMES)
def test_documents_are_as_committed(stem: str) -> None:
    folder = HOME / "out" / stem
    kept = {
        file.name: file.read_bytes() for file in sorted(folder.iterdir()) if file.suffix in STABLE
    }
    made = documents(HOME / "examples" / f"{stem}.rig")
    assert sorted(made) == sorted(kept)
    differing = [name for name in made if made[name] != kept[name]]
    assert differing == [], "run `python tests/make_out.py`, look at the pages, commit them"


def test_no_folder_without_its_example() -> None:
    folders = {folder.name for folder in Path(HOME / "out").iterdir() if folder.is_dir()}
    assert folders - {"pictures"} == set(NAMES)
