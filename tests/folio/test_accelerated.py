"""The compiled helpers of the PDF library change the time that a folio takes and no byte of it."""

import json
import subprocess
import sys
from importlib.util import find_spec

import pytest

from helpers.home import EXAMPLES, environment

NAMES = ("marsh-wren-17", "kittiwake-30")
# Each rig is laid out once, for nothing of that knows the library, and is bound by either.
CODE = """
import hashlib, json, sys
from helpers.studies import job_from
from pathlib import Path
from rigfolio.folio import binding, documents

asked, bind = {}, binding.bind
for file in map(Path, sys.argv[1:]):
    binding.bind = lambda *given: asked.setdefault(file.stem, []).append(given) or b""
    documents.folio(job_from(file))
assert not any(name.partition(".")[0] == "reportlab" for name in sys.modules)

def bound():
    binding.bind = bind
    made = {stem: [hashlib.sha256(bind(*given)).hexdigest() for given in binders]
            for stem, binders in asked.items()}
    return "fp_str" in sys.modules["reportlab.lib.rl_accel"]._c_funcs, made

told = [bound()]
for name in [*sys.modules]:
    if name.startswith(("reportlab", "_rl_accel", "rigfolio.render")):
        del sys.modules[name]
# The library itself falls back on Python where its helpers cannot be imported.
sys.modules["_rl_accel"] = None
told.append(bound())
print(json.dumps(told))
"""


@pytest.fixture(scope="module")
def bound() -> list:
    """With the helpers and without: whether they are there, the digests of what is bound."""
    files = [str(EXAMPLES / f"{name}.rig") for name in NAMES]
    done = subprocess.run(
        [sys.executable, "-c", CODE, *files], capture_output=True, check=True, env=environment(),
        text=True,
    )  # fmt: skip
    return json.loads(done.stdout)


@pytest.mark.skipif(find_spec("_rl_accel") is None, reason="the extra `speed` is not installed")
@pytest.mark.parametrize("name", NAMES)
def test_the_same_bytes_with_and_without_the_compiled_helpers(name, bound):
    (has, accelerated), (has_not, plain) = bound
    assert has
    assert not has_not
    assert accelerated[name] == plain[name]
    # The folio, what is cut, what is filed.
    assert len(set(plain[name])) == 3
