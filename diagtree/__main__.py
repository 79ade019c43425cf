"""Run the program as ``python -m diagtree``."""

import sys

from diagtree.commands.main import main

sys.exit(main())
