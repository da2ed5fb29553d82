"""`python -m estimator` is the command `studbay`."""

from estimator.cli import main

main()
