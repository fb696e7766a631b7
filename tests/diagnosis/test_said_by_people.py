"""What a person types is heard, or refused with the word that was not understood."""

import tomllib
from pathlib import Path

import pytest

from helpers.home import EXAMPLES
from helpers.studies import studied
from rigfolio.reading.logs.meter import read_log

CASES = tomllib.loads(Path(__file__).with_name("said_by_people.toml").read_text(encoding="utf-8"))
WREN = EXAMPLES / "marsh-wren-17.rig"


@pytest.mark.parametrize("said", CASES["heard"], ids=lambda said: said["line"])
def test_it_is_heard(said: dict[str, object]) -> None:
    log, problems = read_log(str(said["line"]), "said", studied(WREN).rig)
    assert problems == ()
    (one,) = log.readings
    assert (one.symptom, one.part) == (said["symptom"], said["part"])
    assert one.state == said.get("state", "")
    assert list(one.starting) == said.get("starting", [])
    on = None if one.on is None or one.starting else list(one.on)
    assert on == said.get("on")


@pytest.mark.parametrize("said", CASES["refused"], ids=lambda said: said["line"])
def test_it_is_refused_by_the_word_that_was_meant(said: dict[str, str]) -> None:
    log, (problem,) = read_log(said["line"], "said", studied(WREN).rig)
    assert log.readings == ()
    assert problem.headline == said["headline"]
    assert said["fix"] in problem.fix.text


def test_one_of_several_panels_is_asked_for() -> None:
    _, (problem,) = read_log("slot 1 is hot", "said", studied(EXAMPLES / "kittiwake-30.rig").rig)
    assert problem.headline == "2 parts are called `slot 1`"
    assert problem.fix.text == "one of `P2.1` (circuit), `P1.1` (circuit)"
