"""Many rigs in one call: the same answers in the same order as one by one."""

import os
import signal
import subprocess
import sys
from functools import partial

import pytest

from helpers.forgotten import cache
from helpers.home import EXAMPLES, environment
from helpers.plover import PLOVER
from rigfolio.judgement import many as app
from rigfolio.judgement.messages.objects import as_json
from rigfolio.judgement.messages.report import as_text
from rigfolio.refusal import RefusalError

EXAMPLES = sorted(str(file) for file in EXAMPLES.rglob("*.rig"))


@cache
def alone(file):
    """What is found in one file by itself."""
    return app.check_tried(file)


@pytest.mark.parametrize("processors", [1, 2, 5])
def test_the_same_as_one_by_one(monkeypatch, processors):
    monkeypatch.setattr(app.os, "cpu_count", lambda: processors)
    files = [*EXAMPLES, "missing.rig", *EXAMPLES[:20]]
    assert len(files) > 32
    # One processor takes one after another, however many there are.
    files = files[:: 1 if processors > 1 else 4]
    one_by_one = [alone(file) for file in files]
    together = app.check_many(files)
    assert as_json(together) == as_json(one_by_one)
    assert as_text(together) == as_text(one_by_one)
    assert [result.exit_code for result in together] == [result.exit_code for result in one_by_one]


def test_under_another_book():
    together = app.check_many(EXAMPLES, "boat")
    assert {result.book for result in together if result.study} == {"boat"}


def test_no_such_book():
    with pytest.raises(KeyError, match="ship"):
        app.check_many(EXAMPLES, "ship")


def test_few_files_start_no_process():
    code = (
        "import sys; from rigfolio.judgement import check_many;"
        f"check_many({EXAMPLES[:3]!r}); print('multiprocessing' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"


PARENT = """
import os, threading
from rigfolio.judgement import many
many.os.cpu_count = lambda: 2
def told(file):
    print(os.getpid(), flush=True)
    threading.Event().wait()
next(many.each_in_turn(told, [str(number) for number in range(100)]))
"""


@pytest.mark.skipif(os.name != "posix", reason="signals of its own")
def test_when_the_first_process_is_gone_the_others_go_too():
    with subprocess.Popen(
        [sys.executable, "-c", PARENT], env=environment(), stdout=subprocess.PIPE, text=True,
        stderr=subprocess.DEVNULL,
    ) as first:  # fmt: skip
        assert first.stdout is not None
        others = {first.stdout.readline() for _ in range(2)}
        first.kill()
        # They hold this end, too: it comes back when both are gone.
        assert first.stdout.read() == ""
    assert len(others) == 2


def _ends(file, last):
    if file == last:
        os._exit(9)
    return file


def test_a_process_that_is_ended_from_outside_is_told_of(monkeypatch):
    monkeypatch.setattr(app.os, "cpu_count", lambda: 2)
    files = [str(number) for number in range(100)]
    with pytest.raises(RefusalError, match="ended from outside"):
        list(app.each_in_turn(partial(_ends, last="60"), files))


@pytest.mark.skipif(os.name != "posix", reason="signals of its own")
def test_ctrl_c_leaves_nobody_at_work(tmp_path):
    for number in range(400):
        (tmp_path / f"{number}.rig").write_text(PLOVER)
    # As of a command that was typed: one started in the background leaves Ctrl-C unheard.
    code = (
        "import signal; signal.signal(signal.SIGINT, signal.default_int_handler);"
        "import rigfolio.judgement.many as many; many.os.cpu_count = lambda: 2;"
        "import rigfolio.__main__ as program; program.run()"
    )
    surroundings = environment(XDG_CACHE_HOME=str(tmp_path / "cache"))
    with subprocess.Popen(
        [sys.executable, "-c", code, "check", ".", "--format", "lines"],
        cwd=tmp_path, env=surroundings, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    ) as process:  # fmt: skip
        assert process.stdout is not None
        assert "fuse-over-wire" in process.stdout.readline()
        process.send_signal(signal.SIGINT)
        # The other processes hold these ends too: this comes back when all of them are gone.
        _, told = process.communicate()
    assert process.returncode == 130
    assert "Traceback" not in told
    assert "bug" not in told
