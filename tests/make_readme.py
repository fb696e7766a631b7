"""Writes the parts of the README that follow from the code: the finding, the rules, the sheets.

Run with `python tests/make_readme.py`; a house test holds the README to it.
"""

import re
import sys
from importlib import import_module
from pathlib import Path

HOME = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(HOME / "src"))
README = HOME / "README.md"


def rig_of(text: str) -> str:
    """The rig that the README shows."""
    found = re.search(r"```rig\n(.*?)```", text, re.DOTALL)
    if found is None:
        raise ValueError("the README shows no rig")
    return found.group(1)


def finding_part(text: str) -> str:
    """What `rigfolio check` says of the rig that the README shows."""
    from rigfolio.judgement.report import as_text
    from rigfolio.judgement.result import check

    return f"```\n{as_text([check('sanderling.rig', text=rig_of(text))], colour=False)}```"


def _first_sentence(page: str) -> str:
    first = " ".join(page.split("\n\n", maxsplit=1)[0].split()).rstrip(".")
    return first.replace("|", "\\|")


def rules_part(_: str) -> str:
    """A row for every rule: name, severity, books, what it forbids."""
    from rigfolio.rule import rule, rule_names

    rows = ["| rule | severity | books | what it forbids |", "|---|---|---|---|"]
    for name in rule_names():
        one, _check, page = rule(name)
        books = ", ".join(sorted(one.books))
        rows.append(f"| `{name}` | {one.severity.value} | {books} | {_first_sentence(page)} |")
    return "\n".join(rows)


def sheets_part(_: str) -> str:
    """A row for every sheet: file, what it is."""
    rows = ["| file | what it is |", "|---|---|"]
    for file in sorted((HOME / "src" / "rigfolio" / "sheets").glob("[!_]*.py")):
        module = import_module(f"rigfolio.sheets.{file.stem}")
        name = getattr(module, "NAME", file.stem)
        shown = "first pages of `folio.pdf`" if name == "cover" else f"`{name}.pdf`"
        rows.append(f"| {shown} | {_first_sentence(module.__doc__ or '')} |")
    rows.append("| `folio.pdf` | All of them bound, the findings on the first page |")
    return "\n".join(rows)


PARTS = {"finding": finding_part, "rules": rules_part, "sheets": sheets_part}


def renewed(text: str) -> str:
    """The README with every part made anew."""
    for name, make in PARTS.items():
        mark = re.compile(rf"(<!-- {name} -->\n).*?(<!-- /{name} -->)", re.DOTALL)
        body = make(text)
        text = mark.sub(lambda found, body=body: f"{found[1]}{body}\n{found[2]}", text)
    return text


def main() -> None:
    """Write the README."""
    README.write_text(renewed(README.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
