"""Options and fixtures of the whole suite; what tests import stands in `helpers/`."""

import atexit
import gc
import os
import sys
import tempfile
from collections.abc import Callable, Generator, Iterator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest
from _pytest.doctest import DoctestModule
from hypothesis import HealthCheck, settings

# Before anything of the package is read.
from helpers.measured import measured  # isort: split

from helpers.cases import give_cases
from helpers.forgotten import forgotten
from helpers.rows import give_rows
from helpers.studies import study_from
from rigfolio.study import Study

# The same examples on every machine, and no limit in seconds on any of them.
settings.register_profile(
    "suite",
    derandomize=True,
    deadline=None,
    database=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.register_profile("study", settings.get_profile("suite"), max_examples=100)
settings.load_profile("suite")

_MOST_IN_A_TEST = 2_000_000
_MOST_BETWEEN_TESTS = 50_000
"""Things made and not thrown away, at which garbage is looked for. In the midst of a test most of
them go by themselves when it ends; to look through them all the same costs a tenth of the suite."""
gc.set_threshold(_MOST_IN_A_TEST, 20, 20)

collect_ignore = ["benchmarks"]


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Run a test that asks for `case` or `row` with every case, or row of a table, beside it."""
    give_rows(metafunc)
    give_cases(metafunc)


def pytest_configure(config: pytest.Config) -> None:
    """Follow the tests if that is asked for; give bytecode a folder of this run where it has none.

    Every process that a test starts would compile the whole package again.
    """
    if measured:
        config.pluginmanager.register(measured)
    if not sys.dont_write_bytecode:
        return
    folder = tempfile.TemporaryDirectory(prefix="rigfolio-bytecode-")
    config.add_cleanup(folder.cleanup)
    # The workers are started later and have it from here.
    os.environ["PYTHONPYCACHEPREFIX"] = folder.name
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


@pytest.hookimpl(tryfirst=True)
def pytest_xdist_auto_num_workers() -> int | None:
    """One more than there are processors, for a sixth of the time tests wait for others.

    What they wait for are a browser, an editor's server and processes of their own.
    """
    if "PYTEST_XDIST_AUTO_NUM_WORKERS" in os.environ or not hasattr(os, "sched_getaffinity"):
        return None
    return len(os.sched_getaffinity(0)) + 1


@pytest.hookimpl(wrapper=True)
def pytest_collect_file(
    file_path: Path,
) -> Generator[None, list[pytest.Collector], list[pytest.Collector]]:
    """Look for examples in docstrings where a file has the sign of one.

    To import and search all of them is half of what each process does before its first test.
    """
    found = yield
    if b">>>" in file_path.read_bytes():
        return found
    return [one for one in found if not isinstance(one, DoctestModule)]


def pytest_addoption(parser: pytest.Parser) -> None:
    """`--bless` writes golden texts anew; a person then reads the diff."""
    parser.addoption("--bless", action="store_true", help="write goldens anew, then read the diff")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """With `--bless` only those that write goldens: others would read what is half written."""
    if not config.getoption("--bless"):
        return
    left_out = [item for item in items if "bless" not in getattr(item, "fixturenames", ())]
    config.hook.pytest_deselected(items=left_out)
    items[:] = [item for item in items if item not in set(left_out)]


def pytest_collection_finish() -> None:
    """Leave what was collected out of every later search for garbage: it stays to the end."""
    gc.freeze()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call() -> Generator[None, None, None]:
    """Let what was worked out of the studies of a test go with it."""
    with forgotten():
        return (yield)


def pytest_runtest_logfinish() -> None:
    """Look for garbage when a test has thrown away what it worked on.

    What is left is kept for other tests, nearly all of it to the end: to look through it again and
    again takes a twentieth of the suite.
    """
    if gc.get_count()[0] > _MOST_BETWEEN_TESTS:
        gc.collect()
        gc.freeze()


def pytest_unconfigure() -> None:
    """Look through everything once more; pytest would do so five times at the end.

    Python does so when it goes: a library that is still there then complains of it.
    """
    gc.collect()
    gc.freeze()
    atexit.register(gc.unfreeze)


@pytest.fixture
def bless(request: pytest.FixtureRequest) -> bool:
    """Whether golden texts are to be written anew."""
    asked = bool(request.config.getoption("--bless"))
    if asked and os.environ.get("CI"):
        pytest.fail("goldens are renewed and read by a person, not in CI")
    return asked


class _Faced(pytest.MonkeyPatch):
    """Puts things in the place of others; what was meant for one test stays with that test.

    The face of a package keeps what it is first asked for: it is asked before anything is put in
    the place of the true one, or it would hand the other to every test that follows.
    """

    def setattr(self, target: Any, *rest: Any, **named: Any) -> None:
        """As pytest has it."""
        place, _, name = (
            target.rpartition(".") if isinstance(target, str) else (target, "", rest[0])
        )
        module = sys.modules.get(place) if isinstance(place, str) else place
        if isinstance(module, ModuleType) and module.__package__ in sys.modules:
            getattr(sys.modules[module.__package__], name, None)
        super().setattr(target, *rest, **named)


@pytest.fixture
def monkeypatch() -> Iterator[pytest.MonkeyPatch]:
    """Put things in the place of others for one test."""
    patch = _Faced()
    yield patch
    patch.undo()


@pytest.fixture(scope="session")
def study_of() -> Callable[..., Study]:
    """Reads a text, under a book where one is named; an error in it fails the test."""
    return study_from


@pytest.fixture
def open_folder(monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    """Work in a folder that any user may enter; the temporary folders of pytest are shut."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        folder.chmod(0o755)
        monkeypatch.chdir(folder)
        yield folder


@contextmanager
def as_somebody() -> Iterator[None]:
    """Run as a user without privileges, where the tests are run as one that may do anything."""
    nobody = 65534
    is_root = hasattr(os, "geteuid") and os.geteuid() == 0
    if is_root:
        os.seteuid(nobody)
    try:
        yield
    finally:
        if is_root:
            os.seteuid(0)


@pytest.fixture
def without_privileges() -> Callable[[], AbstractContextManager[None]]:
    """A context in which files that are shut stay shut."""
    return as_somebody
