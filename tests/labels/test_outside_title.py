"""The title above devices is by what is among them: every kind that is, none that is not."""

import re

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked, job_from
from rigfolio.answers.demand import demand_report
from rigfolio.kinds import DEVICES
from rigfolio.labels import device_rows
from rigfolio.reports import ReportTable
from rigfolio.sheets import at_the_panel
from rigfolio.wording import kinds_title, outside_title

NAMED = {
    "fuse": "fuses", "breaker": "breakers", "disconnect": "switches", "selector": "switches",
    "switch": "switches", "combiner": "relays", "relay": "relays", "shunt": "shunts",
    "connector": "plugs",
    "changeover": "switches",
}  # fmt: skip
"""What the trade calls them (common practice): a disconnect is a battery switch."""


def named(title):
    return set(re.findall(r"\w+", title.casefold())) - {"and", "outside", "panels"}


@pytest.mark.parametrize("file", dict.fromkeys((*RIGS, *FAULTY, *CORPUS)), ids=lambda one: one.stem)
def test_a_title_names_what_is_in_its_table(file):
    study = checked(file).study
    if study is None:
        return
    kinds = {one.about.name: one.kind for one in study.rig.devices}
    rows = device_rows(study)
    if rows:
        assert named(outside_title(study.rig, [one.name for one in rows])) == {
            NAMED[kinds[row.name]] for row in rows
        }
    tables = [part for part in demand_report(study).parts if isinstance(part, ReportTable)]
    there = {NAMED[one.kind] for one in study.rig.devices if not one.in_slot}
    if there:
        assert any(named(table.title) == there for table in tables)


def test_every_kind_has_a_name_for_several():
    assert NAMED.keys() == DEVICES.keys()
    assert {kind: named(kinds_title([kind])) for kind in DEVICES} == {
        kind: {many} for kind, many in NAMED.items()
    }
    assert kinds_title(("relay", "fuse", "combiner")) == "Fuses and relays"
    assert kinds_title(()) == ""


def test_the_sheet_bears_that_title():
    (file,) = (one for one in RIGS if one.stem == "kittiwake-30")
    job = job_from(file)
    title = outside_title(job.rig, [one.name for one in device_rows(job.study)])
    text = [mark.text for page in at_the_panel.pages(job) for mark in page.marks
            if hasattr(mark, "text")]  # fmt: skip
    assert title in text
