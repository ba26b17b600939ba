#!/usr/bin/env python3
"""The one door to forgesite.

    python3 manage.py start     prepare everything, load the demo once, serve on this machine
    python3 manage.py test      prepare the rest and run every check and test
    python3 manage.py bench     measure what must stay fast
    python3 manage.py help      list the other commands (replay, migrate, ...)

Whatever the command, forgesite/bootstrap.py first makes sure that the project's own virtual
environment is there and up to date; the command then runs inside it.
"""

import sys

# Before any other import, so that an older Python gets this sentence and not a syntax error.
if sys.version_info < (3, 11):
    sys.exit("forgesite needs Python 3.11 or newer; this one is " + sys.version.split()[0] + ".")

from forgesite import bootstrap


def main() -> None:
    bootstrap.enter(sys.argv)  # comes back only inside the virtual environment

    from django.core.management import execute_from_command_line

    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    try:
        main()
    except KeyboardInterrupt:
        sys.exit(130)
