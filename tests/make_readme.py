"""Writes the parts of the README that follow from the code: a finding, commands, rules, sheets.

Run with `python tests/make_readme.py`; a house test holds the README to it.
"""

import re
from importlib import import_module

from helpers.home import HOME

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
    from rigfolio.judgement.trial import tried

    return f"```\n{as_text([tried(check('sanderling.rig', text=rig_of(text)))], colour=False)}```"


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


PARTS = {
    "finding": finding_part,
    "commands": commands_part,
    "rules": rules_part,
    "sheets": sheets_part,
}


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
