"""`python -m casewright`: the command line."""

from casewright.cli.main import main

if __name__ == "__main__":
    main()
