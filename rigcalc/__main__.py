import sys

from rigcalc.cli import main

sys.exit(main())
