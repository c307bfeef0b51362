"""`python -m chauka` is the `chauka` command."""

import sys

from chauka.cli import main

sys.exit(main())
