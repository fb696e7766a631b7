"""What `size` calls the least is no more than what it leaves where it is."""

import pytest

from helpers.home import CORPUS, FAULTY, RIGS
from helpers.studies import checked
from sizing.settle import above_what_stays


@pytest.mark.parametrize("file", [*RIGS, *FAULTY, *CORPUS], ids=lambda file: file.stem)
def test_of_a_fuse_that_stays_the_least_is_no_more(file):
    study = checked(file).study
    if study is not None:
        assert above_what_stays(study) == []
