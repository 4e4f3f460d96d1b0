"""`python -m leadsman`."""

from leadsman.cli import main

main()
