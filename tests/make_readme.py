"""Writes what follows from the code on the pages for users: the first hour, commands, rules.

Run with `python tests/make_readme.py`; a house test holds the pages to it.
"""

import os
import re
import shlex
import subprocess
import sys
import tempfile
from importlib import import_module
from pathlib import Path

from helpers.home import HOME

README = HOME / "README.md"


def rig_of(text: str) -> str:
    """The rig that the README shows."""
    found = re.search(r"```rig\n(.*?)```", text, re.DOTALL)
    if found is None:
        raise ValueError("the README shows no rig")
    return found.group(1)


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
        rows.append(f"| `{name}` | {one.severities} | {books} | {_first_sentence(page)} |")
    return "\n".join(rows)


def _whole(page: str) -> str:
    """A docstring as one line of a table."""
    return " ".join(page.split()).rstrip(".").replace("|", "\\|")


def commands_part(_: str) -> str:
    """A table for each step of the job: what is typed, what it does, examples."""
    from rigfolio.cli import registry

    tables = []
    for step, names in registry.by_step():
        rows = ["| command | what it does | for example |", "|---|---|---|"]
        for name in names:
            typed = "<br>".join(f"`{each}`" for each in registry.facts(name).examples)
            page = _whole(registry.page(name))
            rows.append(f"| `rigfolio {registry.usage(name)}` | {page} | {typed} |")
        tables.append(f"**To {step}**\n\n" + "\n".join(rows))
    return "\n\n".join(tables)


def sheets_part(_: str) -> str:
    """A row for every sheet: its files, what it is, what prints it, where it is bound."""
    from rigfolio.sheet import sheet_facts, sheet_names

    rows = ["| file | what it is | printed by | bound in |", "|---|---|---|---|"]
    for name in sheet_names():
        module, facts = import_module(f"rigfolio.sheets.{name}"), sheet_facts(name)
        ends = ["pdf", *(("svg", "png") if facts.is_drawing else ())]
        ends += ["csv"] if hasattr(module, "table") else []
        files = ", ".join(f"`{facts.file}.{end}`" for end in ends)
        typed = [facts.command, *(["--form", facts.form] if facts.form else [])]
        by = f"`{' '.join(typed)}`" if facts.command else f"`folio --sheets {facts.file}`"
        rows.append(
            f"| {files} | {_first_sentence(module.__doc__ or '')} | {by} | {_place(name)} |"
        )
    return "\n".join(rows)


def _place(name: str) -> str:
    """Which binder has a sheet."""
    from rigfolio.sheet import sheet_facts

    facts = sheet_facts(name)
    place = f"`{facts.binder}.pdf`" if facts.bound else "no"
    return f"{place}, where there are photos" if facts.needs_pictures else place


HOUR = (
    ("Judge it. A finding says where, by how much, by which source, and what would serve the wire\n"
     "*and* the load; below `fix` stands only what was tried:",
     "check sanderling.rig", "danger["),
    ("`--fix` shows what it would change, `--fix --write` writes it:",
     "check --fix sanderling.rig", "--- "),
    ("Make the panel dead:",
     "isolate sanderling.rig P1", "In this order"),
    ("Something still does not work: type what the meter shows, as the test sheet has it:",
     "diagnose sanderling.rig 'Fan = 9.8 V, with Fan on' 'P1.2 = 12.4 V, with Fan on'",
     "What explains"),
)  # fmt: skip
"""What the first hour says and types, and how the part of the answer begins that is shown."""


def hour_part(text: str) -> str:
    """What is typed in the first hour, and what is answered, up to the next blank line."""
    shown = []
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "sanderling.rig").write_text(rig_of(text), encoding="utf-8")
        for told, typed, start in HOUR:
            done = subprocess.run(
                [sys.executable, "-m", "rigfolio", *shlex.split(typed)],
                cwd=folder, capture_output=True, text=True, check=False,
                env={**os.environ, "COLUMNS": "100", "PYTHONPATH": str(HOME / "src")},
            )  # fmt: skip
            answer = re.search(rf"^{re.escape(start)}.*?(?=\n\n|\Z)", done.stdout, re.M | re.S)
            if answer is None:
                raise ValueError(f"`{typed}` says nothing that begins with `{start}`")
            shown.append(f"{told}\n\n```\n$ rigfolio {typed}\n{answer[0].rstrip()}\n```")
    return "\n\n".join(shown)


PARTS = {
    "hour": hour_part,
    "commands": commands_part,
    "rules": rules_part,
    "sheets": sheets_part,
}
PAGES = (README, HOME / "grammar" / "COMMANDS.md", HOME / "grammar" / "RULES.md")


def renewed(text: str) -> str:
    """A page with every part made anew that it has a place for."""
    for name, make in PARTS.items():
        mark = re.compile(rf"(<!-- {name} -->\n).*?(<!-- /{name} -->)", re.DOTALL)
        if mark.search(text):
            body = make(text)
            text = mark.sub(lambda found, body=body: f"{found[1]}{body}\n{found[2]}", text)
    return text


def main() -> None:
    """Write the pages."""
    for page in PAGES:
        page.write_text(renewed(page.read_text(encoding="utf-8")), encoding="utf-8")


if __name__ == "__main__":
    main()
