"""Makes the documents of all examples anew under `out/`, and the pictures that the README shows.

Run with `python tests/make_out.py`, then look at every page that changed before you commit.
"""

import sys
from pathlib import Path

from helpers.home import HOME

WIDE_PX, NARROW_PX = 1600, 900
PICTURES: dict[str, dict[str, int]] = {"marsh-wren-17": {"at_the_panel": 1, "schematic": 1}}
"""How many pages of which sheets of which examples the README shows."""
SINGLE = ("schematic", "slot-labels", "wire-tags", "panel-directory", "survey")
"""The sheets that lie there by themselves too, by the names of their files."""
STABLE = (".svg", ".pdf")
"""Bytes that are the same on any machine; a PNG depends on the version of pillow."""


def examples() -> list[Path]:
    """The rig files that are printed: those that are not parts of another one."""
    return sorted((HOME / "examples").glob("*.rig"))


def pictures() -> dict[str, bytes]:
    """The pictures that the README shows, by file name."""
    from rigfolio.folio.documents import Documents
    from rigfolio.folio.photographs import taken
    from rigfolio.judgement.result import check, job_of
    from rigfolio.record import replace
    from rigfolio.render.image import write_png

    made = {}
    for stem, shown in PICTURES.items():
        result = check(str(HOME / "examples" / f"{stem}.rig"))
        whole = Documents(replace(job_of(result), pictures=taken(result)))
        for name, count in shown.items():
            for number, page in enumerate(whole.pages(name)[:count], start=1):
                width = WIDE_PX if page.width_mm > page.height_mm else NARROW_PX
                dpi = round(width / page.width_mm * 25.4)
                more = f"-{number}" if number > 1 else ""
                made[f"{stem}-{name.replace('_', '-')}{more}.png"] = write_png(page, dpi)
    return made


def documents(rig: Path) -> dict[str, bytes]:
    """The documents of a rig by file name, those with stable bytes.

    Photographs are left out: how one is read turns on the version of pillow.
    """
    from rigfolio.folio.documents import chosen, folio
    from rigfolio.judgement.result import check, job_of

    job = job_of(check(f"examples/{rig.name}", text=rig.read_text(encoding="utf-8")))
    made = {**folio(job), **chosen(job, SINGLE)}
    return {name: content for name, content in made.items() if name.endswith(STABLE)}


def main() -> None:
    """Write every document, and take away those that are no longer made."""
    for rig in examples():
        folder = HOME / "out" / rig.stem
        folder.mkdir(parents=True, exist_ok=True)
        made = documents(rig)
        for old in folder.iterdir():
            if old.suffix in STABLE and old.name not in made:
                old.unlink()
        for name, content in made.items():
            (folder / name).write_bytes(content)
        sys.stdout.write(f"{folder.relative_to(HOME)}: {', '.join(sorted(made))}\n")
    folder = HOME / "out" / "pictures"
    folder.mkdir(exist_ok=True)
    for name, content in pictures().items():
        (folder / name).write_bytes(content)


if __name__ == "__main__":
    main()
