"""What `size` calls the least is no more than what it leaves where it is."""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked
from rigfolio.judgement.result import check
from rigfolio.sizing.settled import sizes
from sizing.rigs import made


def assert_least_is_least(study):
    for section in sizes(study):
        for fuse in section.fuses:
            if fuse.verdict == "enough" and fuse.least_a is not None:
                assert fuse.least_a <= fuse.fit_a, fuse.name


@pytest.mark.parametrize("file", [*RIGS, *FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_of_a_fuse_that_stays_the_least_is_no_more(file):
    study = checked(file).study
    if study is not None:
        assert_least_is_least(study)


@pytest.mark.parametrize("seed", range(12))
def test_of_rigs_by_chance(seed):
    assert_least_is_least(check("made.rig", text=made(seed).text).study)
