"""`python -m guardcone` is the command `guardcone`."""

import sys

from guardcone.commands import main

sys.exit(main())
