"""Lets `python -m builderlog` do what the `builderlog` command does."""

from builderlog.command.main import run

if __name__ == "__main__":
    run()
