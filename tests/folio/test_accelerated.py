"""The compiled helpers of the PDF library change the time that a folio takes and no byte of it."""

import subprocess
import sys
from importlib.util import find_spec

import pytest

from helpers.home import EXAMPLES, environment

# The library itself falls back on Python where its helpers cannot be imported.
BLOCKED = "import sys; sys.modules['_rl_accel'] = None; "
RUN = "from rigfolio.cli import main; sys.exit(main(sys.argv[1:]))"


@pytest.mark.skipif(find_spec("_rl_accel") is None, reason="the extra `speed` is not installed")
@pytest.mark.parametrize("name", ["marsh-wren-17", "kittiwake-30"])
def test_the_same_bytes_with_and_without_the_compiled_helpers(name, tmp_path):
    file = str(EXAMPLES / f"{name}.rig")
    made = {}
    for about, first in (("with", "import sys; "), ("without", BLOCKED)):
        told = "sys.stdout.write(str('fp_str' in reportlab.lib.rl_accel._c_funcs))"
        text = f"{first}import reportlab.lib.rl_accel; {told}; {RUN}"
        done = subprocess.run(
            [sys.executable, "-c", text, "folio", file, "-o", str(tmp_path / about)],
            capture_output=True, check=True, env=environment(), text=True,
        )  # fmt: skip
        assert done.stdout.startswith("True" if about == "with" else "False")
        made[about] = {one.name: one.read_bytes() for one in (tmp_path / about).iterdir()}
    assert made["with"] == made["without"]
    assert "folio.pdf" in made["with"]
