"""`python -m rigfolio` is the command `rigfolio`."""

import sys

from rigfolio.cli import main

sys.exit(main())
